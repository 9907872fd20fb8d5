"""Lines that go on from one row to the next: where seams meet in the design they must meet as sewn.

No equation of a pattern says so, since sizes that were stated make it true; once some of them give way it must be said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from math import lcm

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Quilt, Unit
from patternkit.piecing.setting.grid import grid_of
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.unknowns import Unknown

Terms = list[tuple[Unknown, int]]
Sizes = Callable[[Unknown], Length | None]


def lines_of_unit(unit: Unit, sizing: Sizing, size: Sizes) -> Iterator[Terms]:
    """Sums of widths that are equal wherever a line of one row of a unit goes on in the next; each sum is nought."""
    if unit.kind == "rows":
        widths = [[sizing.size_of(unit, p)[0] for p in row.pieces] for row in unit.rows]
        for upper, lower in pairwise(widths):
            yield from _common(upper, lower, size)
    if unit.quilt is not None:
        yield from lines_of_quilt(unit.quilt, sizing, size)


def lines_of_quilt(quilt: Quilt | None, sizing: Sizing, size: Sizes) -> Iterator[Terms]:
    """The same for the rows of a quilt's blocks, with sashing between them or without; and of a unit set like one."""
    grid = grid_of(quilt)[0] if quilt is not None and not quilt.on_point else None
    if quilt is None or grid is None:
        return
    rows = range(len(grid.tile))
    for r in rows:
        below = (r + 1) % len(grid.tile)
        if below == r or (grid.layout and below < r):
            continue
        period = lcm(len(grid.tile[r]), len(grid.tile[below]))
        upper, lower = (
            [sizing.size_in_quilt(grid.cell(n, c), quilt.of)[0] for c in range(min(grid.columns(n), period))]
            for n in (r, below)
        )
        if quilt.sashing is not None and len(upper) != len(lower):
            continue  # the sashing strips do not cancel out
        yield from _common(upper, lower, size)


def _common(upper: Sequence[Unknown], lower: Sequence[Unknown], size: Sizes) -> Iterator[Terms]:
    """One sum for each stretch between two lines that both rows have."""
    starts: dict[Length, int] = {}
    x = ZERO
    for i, var in enumerate(lower):
        x = x + (size(var) or ZERO)
        starts[x] = i + 1
    x, last_up, last_low = ZERO, 0, 0
    for i, var in enumerate(upper):
        x = x + (size(var) or ZERO)
        if x in starts:
            above, below = upper[last_up : i + 1], lower[last_low : starts[x]]
            last_up, last_low = i + 1, starts[x]
            if list(above) != list(below):
                yield [*((v, 1) for v in above), *((v, -1) for v in below)]
