"""Plans of short lists one strip after another, with dice: each time the strip that is worth most for its height, with
no more pieces than are left. What pieces are worth is thrown anew for each plan.

Worths are a power of the area, or nearer to the prices of the linear program, by which a piece is dear that is hard to
place (residual problems filled by prices: G. Scheithauer and J. Terno, Operations Research Letters 20, 1997; from
memory). The dice are always thrown alike, so that a list always has the same plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from random import Random

from patternkit.plan.cutting.budget import CELLS, Budget
from patternkit.plan.cutting.series import TALL, Series, areas, scaled
from patternkit.plan.cutting.task import Layout, Layouts, Task, drop_surplus, length_of, numbers

POWERS = (0.95, 1.3)
"""Areas are raised to a power between these."""
STRETCH = (0.0, 0.1, 0.3, 0.6)
"""How far worths are changed by the dice, thrown once for each plan."""
SPREAD = (0.0, 0.05)
"""How much more a strip may seem worth, likewise."""
TRIES = (1, 2, 4)
"""Heights tried for each strip, likewise."""
SHARES = (1.0, 0.9, 0.7, 0.5, 0.2)
"""How near worths are to the prices of the linear program, where there are any, likewise."""
SLACK = 50
"""A plan that is too long by less than this part of its length is gone on with: its strips may do in others."""
WORK = CELLS // 4
"""What a strip takes beside what its tables take."""


class ByWorth:
    """Plans of one task, and the strips met on the way."""

    def __init__(self, task: Task, budget: Budget) -> None:
        """Throw the first dice for this task."""
        self.task, self.budget = task, budget
        self.series = Series(task, budget)
        self.area = areas(task)
        self.dice = Random(1)
        self.thrown = 0
        self.prices: list[float] = []
        self.met: dict[Layout, None] = {}

    def price(self, prices: Sequence[float]) -> None:
        """Take prices of the linear program for what pieces may be worth; all together are worth their area."""
        demands = [kind.demand for kind in self.task.kinds]
        worth = sum(p * n for p, n in zip(prices, demands, strict=True))
        whole = sum(a * n for a, n in zip(self.area, demands, strict=True))
        self.prices = [p * whole / worth for p in prices] if worth else []

    def plan(self, longest: int, steps: int) -> Layouts | None:
        """Give the first plan no longer than `longest`, if one is met before so many steps are taken."""
        end = self.budget.work + steps * CELLS
        found: Layouts | None = None
        while found is None and self.budget.work < end and not self.budget.spent():
            self.budget.charge(WORK // 100)  # a throw that is given up at once is not for nothing
            found = self._try(longest, self._worths())
            self.thrown += 1
        return found

    def _worths(self) -> list[int]:
        dice, first = self.dice, not self.thrown
        self.spread, self.tries = dice.choice(SPREAD), dice.choice(TRIES)
        stretch = 0.0 if first else dice.choice(STRETCH)
        if self.prices and self.thrown % 2 == 0:
            share = dice.choice(SHARES)
            rough = [share * p + (1 - share) * a for p, a in zip(self.prices, self.area, strict=True)]
        else:
            power = 1.0 if first else dice.uniform(*POWERS)
            rough = [a**power for a in self.area]
        return scaled(self.task, [r * (1 + stretch * (dice.random() - 0.5)) for r in rough])

    def _try(self, longest: int, worths: Sequence[int]) -> Layouts | None:
        """Give one plan, or None once it must come out too long: the beds are filled first."""
        left = [kind.demand for kind in self.task.kinds]
        plan: Layouts = {}
        for bed, room in self._cloths(longest):
            while any(left) and not self.budget.spent():
                if not bed and self._area_of(left) > room * self.task.width:
                    return None
                row = self._next(left, worths, bed, room)
                if row is None:
                    break
                gives = numbers(row)
                copies = min(room // row.height, *(left[kind] // number for kind, number in gives.items()))
                copies = self.dice.choice((1, copies, copies, copies)) if self.spread else copies
                plan[row] = plan.get(row, 0) + copies
                room -= row.height * copies
                for kind, number in gives.items():
                    left[kind] -= number * copies
        if any(left):
            return None
        plan = drop_surplus(self.task, plan)
        return plan if length_of(self.task, plan) <= longest else None

    def _cloths(self, longest: int) -> Iterator[tuple[int, int]]:
        """Give the beds and how long they are, then the cloth, and how much of it a plan may take."""
        for bed, (_, length) in enumerate(self.task.beds, 1):
            yield bed, length
        yield 0, longest + max(1, longest // SLACK) - self.task.more

    def _area_of(self, left: Sequence[int]) -> int:
        return sum(n * a for n, a in zip(left, self.area, strict=True))

    def _next(self, left: Sequence[int], worths: Sequence[int], bed: int, room: int) -> Layout | None:
        """Give the strip that is worth most for its height, as the dice fall."""
        self.budget.charge(WORK)
        tallest = max(way.height for way in self.series.ways if left[way.kind])
        most = min(self.task.tallest(TALL), TALL * tallest, room)
        best: tuple[float, Layout] | None = None
        for value, row in self.series.candidates(left, worths, self.tries, most, bed, self.spread):
            value *= 1 + self.spread * self.dice.random()
            if best is None or value > best[0]:
                best = value, row
        if best is None:
            return None
        self.met[best[1]] = None
        return best[1]
