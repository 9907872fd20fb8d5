"""Equal shares: plain patches whose size nobody gave share what is left of their row equally.

``rows`` of nine fabrics with ``finished 9`` is a nine-patch of 3 in squares, and three strips in 9 in are 3 in wide
each: a writer does not say so, and no reader doubts it. The rule is a default. It is used only for sizes that nothing
else settles, and never where it would contradict a statement.

Plain blocks of a quilt are alike: ``lantern | stone`` over ``stone | lantern`` has stones as large as the lanterns.
"""

from __future__ import annotations

from collections.abc import Container
from typing import TYPE_CHECKING

from patternkit.model.pattern import Unit
from patternkit.piecing.setting.grid import grid_of
from patternkit.piecing.setting.on_point import is_on_point
from patternkit.piecing.unknowns import Unknown
from patternkit.sizes import Affine, Solution, structure
from patternkit.source import Span

if TYPE_CHECKING:
    from patternkit.piecing.sizing import Sizing

ROUNDS = 3  # rows first, then what they free


def solve_with_shares(sizing: Sizing) -> Solution:
    """Solve; where sizes stay open, let plain patches share equally and solve again."""
    solution = sizing.system.solve()
    for _ in range(ROUNDS):
        open_sizes = {v for group in solution.free() for v in group.sizes}
        if not open_sizes:
            return solution
        before, known = len(sizing.system.equations), solution.number_of_conflicts
        for unit in sizing.pattern.units.values():
            for a, b, text in _shares(unit, sizing, open_sizes):
                number = sizing.system.add([(a, 1), (b, -1)], Affine(0), structure(unit.kind_span, text))
                sizing.shared[number] = unit
        for a, b, text, span in _plain_blocks(sizing, open_sizes):
            number = sizing.system.add([(a, 1), (b, -1)], Affine(0), structure(span, text))
            sizing.shared[number] = None
        if len(sizing.system.equations) == before:
            return solution
        again = sizing.system.go_on()
        if again.number_of_conflicts > known:  # an equal share would contradict something that was said
            del sizing.system.equations[before:]
            return sizing.system.solve()
        solution = again
    return solution


def _plain_blocks(sizing: Sizing, open_sizes: Container[object]) -> list[tuple[Unknown, Unknown, str, Span]]:
    """Plain blocks of a straight setting: as wide as what lies above or below them in the tile and as high as what lies
    beside them; where no sized block lies there, as the one sort of block that the quilt has."""
    quilt = sizing.pattern.quilt
    grid = grid_of(quilt)[0] if quilt is not None and not is_on_point(quilt) else None
    if grid is None or len({len(row) for row in grid.tile}) > 1:
        return []
    cells = [(r, c, piece) for r, row in enumerate(grid.tile) for c, piece in enumerate(row)]
    sized = [
        (r, c, piece)
        for r, c, piece in cells
        if piece.unit and not any(v in open_sizes for v in sizing.size_in_quilt(piece))
    ]
    alike = len({(piece.unit, piece.turned % 180) for _, _, piece in sized}) == 1
    found = []
    for r, c, piece in cells:
        if piece.unit:
            continue
        for side, word in enumerate(("wide", "high")):
            own = sizing.size_in_quilt(piece)[side]
            beside = [p for i, j, p in sized if (j == c if side == 0 else i == r)] or [p for _, _, p in sized if alike]
            if own in open_sizes and beside:
                found.append(
                    (
                        own,
                        sizing.size_in_quilt(beside[0])[side],
                        f"the plain blocks of the quilt are as {word} as its other blocks",
                        piece.span,
                    )
                )
    return found


def _shares(unit: Unit, sizing: Sizing, open_sizes: Container[object]) -> list[tuple[Unknown, Unknown, str]]:
    found: list[tuple[Unknown, Unknown, str]] = []
    if unit.kind not in ("row", "rows", "column", "strips"):
        return found
    column = unit.kind == "column" and len(unit.rows) == 1
    for row in unit.rows:
        sides = [sizing.size_of(unit, p)[1 if column else 0] for p in row.pieces if p.fabric]
        loose = [v for v in sides if v in open_sizes]
        found += [
            (
                loose[0],
                v,
                f"the plain patches of {unit.role} {unit.key} without a size of their own share their "
                f"{'column' if column else 'row'} equally",
            )
            for v in loose[1:]
        ]
    if len(unit.rows) > 1:
        heights = [sizing.size_of(unit, row.pieces[0])[1] for row in unit.rows if all(p.fabric for p in row.pieces)]
        loose = [v for v in heights if v in open_sizes]
        found += [
            (loose[0], v, f"the plain rows of {unit.role} {unit.key} without a height of their own are equally high")
            for v in loose[1:]
        ]
    return found
