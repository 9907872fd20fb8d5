"""Equal shares: plain patches whose size nobody gave share what is left of their row equally.

``rows`` of nine fabrics with ``finished 9`` is a nine-patch of 3 in squares, and three strips in 9 in are 3 in wide
each: a writer does not say so, and no reader doubts it. The rule is a default. It is used only for sizes that nothing
else settles, and never where it would contradict a statement.

Before rows are shared, columns of rows of as many pieces line up (`alike_patches`): a nine-patch of which one row has
sizes has them all. Plain blocks of a quilt are alike: ``lantern | stone`` over ``stone | lantern`` has stones as large
as the lanterns.
"""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable, Sequence
from typing import TYPE_CHECKING

from patternkit.model.pattern import Component, Quilt, Unit
from patternkit.piecing.alike_patches import column_ties, patch_ties
from patternkit.piecing.setting.grid import grid_of
from patternkit.piecing.unknowns import Unknown, of_row
from patternkit.sizes import Affine, Solution, structure
from patternkit.source import Span

if TYPE_CHECKING:
    from patternkit.piecing.sizing import Sizing

ROUNDS = 8
"""Columns first, then rows, plain blocks, what a layout leaves, patches that are alike; and what each of them frees."""

Found = tuple[Unknown, Unknown, str, Span, Unit | None]
"""Two sizes that are taken to be equal, why, where, and the unit they stand in; None: the quilt."""


def solve_with_shares(sizing: Sizing) -> Solution:
    """Solve; where sizes stay open, take pieces to be alike or to share equally, and solve again."""
    solution = sizing.system.solve()
    made: set[tuple[Unknown, Unknown]] = set()
    for _ in range(ROUNDS):
        open_sizes = solution.open_sizes()
        if not open_sizes:
            return solution
        known = solution.number_of_conflicts
        for way in (_columns, _rows, _blocks, _leftovers, _patches):
            found = [tie for tie in way(sizing, solution, open_sizes) if tie[:2] not in made]
            if not found:
                continue
            made.update(tie[:2] for tie in found)
            solution, holds = _tried(sizing, found, known)
            if holds:
                break
        else:
            return solution
    return solution


def _tried(sizing: Sizing, found: Iterable[Found], known: int) -> tuple[Solution, bool]:
    """The solution with some sizes taken to be equal, and whether they hold: where they would contradict something that
    was said, they do not."""
    before = len(sizing.system.equations)
    for a, b, text, span, unit in found:
        sizing.shared[sizing.system.add([(a, 1), (b, -1)], Affine(0), structure(span, text))] = unit
    solution = sizing.system.go_on()
    if solution.number_of_conflicts <= known:
        return solution, True
    sizing.by_value = True
    for number in range(before, len(sizing.system.equations)):
        del sizing.shared[number]
    del sizing.system.equations[before:]
    return sizing.system.solve(), False


def _with_open_pieces(sizing: Sizing, open_sizes: Collection[object]) -> list[Unit]:
    """The units that have a plain piece of which a size is open: no others share anything."""
    owners = {var.owner for var in open_sizes if isinstance(var, Unknown) and var.sort == "piece"}
    return [unit for key, unit in sizing.pattern.units.items() if key in owners]


def _columns(sizing: Sizing, solution: Solution, open_sizes: Collection[object]) -> list[Found]:
    units = _with_open_pieces(sizing, open_sizes)
    return [(*tie, u.kind_span, u) for u in units for tie in column_ties(u, sizing, open_sizes)]


def _rows(sizing: Sizing, solution: Solution, open_sizes: Collection[object]) -> list[Found]:
    units = _with_open_pieces(sizing, open_sizes)
    return [(*tie, u.kind_span, u) for u in units for tie in _shares(u, sizing, open_sizes)]


def _quilts(sizing: Sizing) -> list[tuple[Quilt | None, Unit | None]]:
    """Whatever is set like a quilt: units, and the quilt itself, which is no unit."""
    units = [(u.quilt, u) for u in sizing.pattern.units.values() if u.quilt is not None]
    return [*units, (sizing.pattern.quilt, None)]


def _blocks(sizing: Sizing, solution: Solution, open_sizes: Collection[object]) -> list[Found]:
    quilts = _quilts(sizing)
    return [(*tie, unit) for quilt, unit in quilts for tie in _plain_blocks(quilt, sizing, solution, open_sizes)]


def _leftovers(sizing: Sizing, solution: Solution, open_sizes: Collection[object]) -> list[Found]:
    return [(*tie, unit) for quilt, unit in _quilts(sizing) for tie in _fillers(quilt, sizing, open_sizes)]


def _patches(sizing: Sizing, solution: Solution, open_sizes: Container[object]) -> list[Found]:
    units = sizing.pattern.units.values()
    return [(*tie, u.kind_span, u) for u in units for tie in patch_ties(u, sizing, open_sizes)]


def _plain_blocks(
    quilt: Quilt | None, sizing: Sizing, solution: Solution, open_sizes: Container[object]
) -> list[tuple[Unknown, Unknown, str, Span]]:
    """Plain blocks of a straight setting: as wide as what lies above or below them in the tile and as high as what lies
    beside them; where no sized block lies there, as the other blocks, if these are all of one size."""
    grid = grid_of(quilt)[0] if quilt is not None and not quilt.on_point else None
    if quilt is None or grid is None or len({len(row) for row in grid.tile}) > 1:
        return []
    cells = [(r, c, piece) for r, row in enumerate(grid.tile) for c, piece in enumerate(row)]
    sized = [
        (r, c, piece)
        for r, c, piece in cells
        if piece.unit and not any(v in open_sizes for v in sizing.size_in_quilt(piece, quilt.of))
    ]
    found = []
    for r, c, piece in cells:
        if piece.unit:
            continue
        for side, word in enumerate(("wide", "high")):
            own = sizing.size_in_quilt(piece, quilt.of)[side]
            if own not in open_sizes:
                continue
            near = [p for i, j, p in sized if (j == c if side == 0 else i == r)]
            beside = near or _alike(sizing, solution, [p for _, _, p in sized])
            if beside:
                found.append(
                    (
                        own,
                        sizing.size_in_quilt(beside[0], quilt.of)[side],
                        f"the plain blocks of {quilt.called} are as {word} as its other blocks",
                        piece.span,
                    )
                )
    return found


def _fillers(
    quilt: Quilt | None, sizing: Sizing, open_sizes: Container[object]
) -> list[tuple[Unknown, Unknown, str, Span]]:
    """Plain pieces of one row of a layout, without a width: they share what the row leaves of the quilt's width. Rows
    of nothing but plain pieces, without a height, share what the others leave of its height."""
    if quilt is None or not quilt.layout:
        return []
    found, of = [], quilt.of
    for row in quilt.rows:
        widths = [(sizing.size_in_quilt(p, of)[0], p.span) for p in row.pieces if p.fabric]
        loose = [(v, span) for v, span in widths if v in open_sizes]
        text = "the plain pieces in a row of the layout without a width of their own share what it leaves equally"
        found += [(loose[0][0], v, text, span) for v, span in loose[1:]]
    rows = [(of_row(r, of), row.span) for r, row in enumerate(quilt.rows, 1) if all(p.fabric for p in row.pieces)]
    low = [(v, span) for v, span in rows if v in open_sizes]
    text = "the plain rows of the layout without a height of their own share what the others leave equally"
    return [*found, *((low[0][0], v, text, span) for v, span in low[1:])]


def _alike(sizing: Sizing, solution: Solution, blocks: Sequence[Component]) -> Sequence[Component]:
    """All blocks where they are of one size, none where they are not. Where that is seen from their sizes only, it is
    noted: with other numbers it may come out otherwise."""
    if len({(piece.unit, piece.turned % 180) for piece in blocks}) <= 1:
        return blocks
    sizing.by_value = True
    sizes = [tuple(solution.value(v) for v in sizing.size_in_quilt(piece)) for piece in blocks]
    return blocks if all(size == sizes[0] for size in sizes) else ()


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
