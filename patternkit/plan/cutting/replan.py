"""Bettering a plan piecemeal: some strips are given up, and their pieces planned anew one strip after another."""

from __future__ import annotations

from random import Random

from patternkit.plan.cutting.budget import CELLS, Budget
from patternkit.plan.cutting.series import Series, worths_by_area
from patternkit.plan.cutting.task import Layout, Layouts, Task, numbers

POWERS = (1.0, 1.02, 1.04, 1.06, 1.1)
"""Powers of their area by which pieces are priced."""
STRETCH = (0.0, 0.03, 0.08)
"""How far prices are changed at random."""
SIZES, EXACT_SIZES = (2, 3, 4, 5), (3, 4, 5, 6)
"""How many strips are given up at a time, with trimming and without it."""
TRIES, EXACT_TRIES = 1, 2
"""Heights tried for each strip, likewise: with trimming more turns are better than a second try."""
ALIKE = 2
"""Most strips that are alike among those given up."""


def singles(layouts: Layouts, alike: int = 1 << 30) -> list[Layout]:
    """Give every strip of the cloth by itself, tallest first, of each sort as many as `alike`; strips of beds are left
    out."""
    rows = [(row, min(copies, alike)) for row, copies in layouts.items() if not row.bed]
    return [row for row, copies in sorted(rows, key=lambda r: (-r[0].height, r[0].parts)) for _ in range(copies)]


def waste(task: Task, row: Layout) -> int:
    """Give the cloth that a strip does not use."""
    return task.width * row.height - sum(w * h * n for _, w, h, n in row.parts)


class Replanning:
    """A plan that is bettered turn by turn; plans of equal length are taken too, so that it goes on to change."""

    def __init__(self, task: Task, layouts: Layouts, budget: Budget) -> None:
        """Begin with a plan without surplus."""
        self.task, self.layouts = task, dict(layouts)
        self.series = Series(task, budget)
        self.random = Random(len(task.kinds))

    def turn(self) -> int:
        """Plan some strips anew; give the length saved."""
        self.series.budget.charge(CELLS // 4)
        chosen = self._given_up()
        kept = dict(self.layouts)
        wanted = [0] * len(self.task.kinds)
        for row in chosen:
            kept[row] -= 1
            for kind, number in numbers(row).items():
                wanted[kind] += number
        length = sum(row.height for row in chosen)
        found = self.series.plan(wanted, self._worths(), length, TRIES if self.task.trim else EXACT_TRIES)
        if found is None:
            return 0
        plan = {row: copies for row, copies in kept.items() if copies}
        for row, copies in found.items():
            plan[row] = plan.get(row, 0) + copies
        self.layouts = plan
        return length - sum(row.height * copies for row, copies in found.items())

    def _worths(self) -> list[int]:
        stretch = self.random.choice(STRETCH)
        stretched = [1 + stretch * (self.random.random() - 0.5) for _ in self.task.kinds]
        return worths_by_area(self.task, self.random.choice(POWERS), stretched)

    def _given_up(self) -> list[Layout]:
        """Give neighbours in height, or the most wasteful strips with some others."""
        strips = singles(self.layouts, ALIKE)
        size = self.random.choice(SIZES if self.task.trim else EXACT_SIZES)
        if len(strips) <= size:
            return strips
        if self.random.random() < 0.4:
            start = self.random.randrange(len(strips) - size + 1)
            return strips[start : start + size]
        lost = {row: waste(self.task, row) for row in self.layouts}
        order = sorted(range(len(strips)), key=lambda i: -lost[strips[i]] * (0.3 + self.random.random()))
        chosen = set(order[: size // 2])
        while len(chosen) < size:
            chosen.add(self.random.randrange(len(strips)))
        return [strips[i] for i in sorted(chosen)]
