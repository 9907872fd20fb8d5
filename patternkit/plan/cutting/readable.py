"""Among plans of the same length, the one easiest to cut: few heights, few strips, few different sub-cuts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.master import INF
from patternkit.plan.cutting.mip import Program
from patternkit.plan.cutting.task import Layout, Layouts, Part, Task, layout, length_of, numbers

MOST = 120
"""Most strips to choose among."""
NODES = 6
COSTS = (300.0, 20.0, 4.0, 1.0)
"""Price of a height, a strip, a different strip and a sub-cut; their order is what counts."""


def simpler(task: Task, layouts: Layouts, known: Iterable[Layout], budget: Budget) -> Layouts | None:
    """Propose a plan no longer than this one and easier to cut, from its own strips and plain ones."""
    own = list(layouts)
    heights = {(row.bed, row.height) for row in own}
    others = [row for row in known if (row.bed, row.height) in heights]
    pool = list(dict.fromkeys([*own, *plain(task, heights), *others]))[:MOST]
    program = Program(task, pool, length_of(task, layouts))
    for index, row in enumerate(pool):
        program.solver.changeColCost(index, COSTS[1])
        most = max(-(-task.kinds[kind].demand // number) for kind, number in numbers(row).items())
        chosen = program.column(COSTS[2] + COSTS[3] * len(row.parts), 1.0, {})
        program.solver.addRow(-INF, 0.0, 2, [index, chosen], [1.0, -float(most)])
    for bed, height in sorted(heights):
        rows = [i for i, row in enumerate(pool) if (row.bed, row.height) == (bed, height)]
        chosen = program.column(COSTS[0], 1.0, {})
        most = sum(copies for row, copies in layouts.items()) * 2
        program.solver.addRow(-INF, 0.0, len(rows) + 1, [*rows, chosen], [1.0] * len(rows) + [-float(most)])
    return program.solve(NODES, 0.9, budget)


def plain(task: Task, heights: Iterable[tuple[int, int]]) -> list[Layout]:
    """Give the strips a person would think of first: one kind, or one kind and then another."""
    out = []
    for bed, height in sorted(heights, key=lambda h: (h[0], -h[1])):
        width = task.width_of(bed)
        low = [
            (i, w, h)
            for i, kind in enumerate(task.kinds)
            for w, h in kind.sizes
            if w <= width and (h == height or (task.trim and h < height))
        ]
        for i, w, h in low:
            first = min(task.kinds[i].demand, width // w)
            if h == height:
                out.append(layout(height, [(i, w, h, first)], bed))
            out += _pairs(task, width, height, bed, (i, w, h, first), low)
    return sorted(out, key=lambda row: len(row.parts))


def _pairs(
    task: Task, width: int, height: int, bed: int, part: Part, low: Sequence[tuple[int, int, int]]
) -> list[Layout]:
    """Fill what one kind leaves of a strip with another, the first as often as it goes or is left over."""
    kind, w, h, full = part
    out = []
    for number in {full, task.kinds[kind].demand % full} - {0}:
        for j, wide, tall in low:
            rest = min((width - number * w) // wide, task.kinds[j].demand)
            if j != kind and rest and height in (h, tall):
                out.append(layout(height, [(kind, w, h, number), (j, wide, tall, rest)], bed))
    return out
