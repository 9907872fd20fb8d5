"""The search behind a plan: dives for shorter plans and cases for higher bounds, in turn, until they meet."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from random import Random

from patternkit.plan.cutting.bounds import Stairs, reachable
from patternkit.plan.cutting.budget import CELLS, Budget
from patternkit.plan.cutting.columns import Generator
from patternkit.plan.cutting.dive import dive
from patternkit.plan.cutting.grid import to_buy
from patternkit.plan.cutting.mip import best_of_pool
from patternkit.plan.cutting.model import CuttingSettings
from patternkit.plan.cutting.proof import Searched
from patternkit.plan.cutting.rank import rank
from patternkit.plan.cutting.readable import simpler
from patternkit.plan.cutting.recut import recut, subset
from patternkit.plan.cutting.replan import singles
from patternkit.plan.cutting.task import Layout, Layouts, Task, drop_surplus, length_of, missing, room_left
from patternkit.plan.cutting.tidy import tidied
from patternkit.plan.cutting.tree import ProofTree

READ = 8
"""Most sizes for which a plan of the same length that is easier to cut is searched for."""
POOL = 400
"""Most strips given to the integer program."""
FEW = 30
"""Most sizes for which the integer program is asked."""
NODES = 150
"""Most cases it looks at."""
SIZES = (6, 8, 5, 10, 7, 14)
"""How many strips are planned anew at a time."""
LONG = 24
"""Most sizes of a short list; of longer ones twice as many strips are planned anew at a time."""
BOUNDING = (0.5, 0.12)
"""Share of the budget spent on the bound while plans are still bettered, and the same for long lists with trimming,
whose bound hardly rises."""
ENOUGH = 0.6
"""Share of the budget after which a length to buy that cannot be less is enough."""
TURNS = 400
"""Most turns of planning strips anew."""


class Search:
    """The best plan and the best bound so far, and the ways of bettering either."""

    def __init__(
        self,
        task: Task,
        plans: Sequence[Layouts],
        stairs: Stairs,
        bound: int,
        settings: CuttingSettings,
        budget: Budget,
        lots: int = 0,
    ) -> None:
        """Begin with the shelf plans and the simple bound; plans that take so many `lots` or more are of no use."""
        self.task, self.settings, self.budget = task, settings, budget
        self.best = min(plans, key=self._rank)
        self.bound, self.lots = bound, lots
        self.generator = Generator(task, [row for plan in plans for row in plan], budget, self.length())
        self.tree = ProofTree(self.generator, stairs)
        self._bounding, self._most = 0, BOUNDING[task.trim and len(task.kinds) > LONG]
        self._raise()

    def _rank(self, plan: Layouts) -> tuple[int, ...]:
        return rank(self.task, plan, self.settings)

    def length(self) -> int:
        """Give the length of the best plan."""
        return length_of(self.task, self.best)

    def offer(self, plan: Layouts) -> None:
        """Take a plan if it covers everything and is better than the best."""
        plan = drop_surplus(self.task, plan)
        whole = not any(missing(self.task, plan)) and min(room_left(self.task, plan), default=0) >= 0
        if whole and self._rank(plan) < self._rank(self.best):
            self.best = plan

    def _raise(self) -> None:
        self.bound = max(self.bound, reachable(self.task, self.tree.bound()))

    def met(self) -> bool:
        """Say whether plan and bound agree, or agree on what to buy with a good part of the budget spent."""
        if self.bound >= self.length():
            return True
        if self.lots:
            lots = min(self.lots, to_buy(self.length(), self.settings)[1])
            return to_buy(self.bound, self.settings)[1] >= lots
        lots = to_buy(self.length(), self.settings)[1]
        return lots == to_buy(self.bound, self.settings)[1] and self.budget.spent(ENOUGH)

    def run(self) -> None:
        """Search until plan and bound meet or the budget is spent."""
        for taste in (0, 1, 2):
            if not self.met():
                dive(self.generator, self.offer, self.length, 0.3, taste, (), self.tree.limits)
        self.grow(8)
        if not self.met() and not self.task.trim and len(self.task.kinds) <= FEW:
            self.pool()
        random = Random(len(self.task.kinds))
        turn, turns = 0, min(TURNS, 20 * len(singles(self.best)))
        current = self.best
        times = 1 + (len(self.task.kinds) > LONG)
        while not self.met() and not self.budget.spent() and turn < turns:
            if self.length() < length_of(self.task, current):
                current = self.best
            chosen = subset(self.task, current, random, SIZES[turn % len(SIZES)] * times)
            other = recut(self.task, current, chosen, self.budget, turn % 3)
            if other is not None:
                self.offer(other)
                current = other
            if turn % 6 == 5:
                self.grow(2)
                limits = (*self.tree.limits, *self.tree.weakest()) if turn % 12 > 6 else self.tree.limits
                dive(self.generator, self.offer, self.length, 1.0, turn % 3, (turn % 7, turn // 7), limits)
            turn += 1
        self._most = 1.0
        while not self.met() and not self.budget.spent() and self.grow(20):
            pass

    def grow(self, cases: int) -> bool:
        """Raise the bound by splitting cases; False when its share of the budget or the cases run out."""
        if self.met() or self._bounding > self._most * self.budget.steps * CELLS:
            return False
        before = self.budget.work
        allowed = self._most * self.budget.steps * CELLS - self._bounding
        more = self.tree.grow(self.length, before + allowed, cases)
        self._bounding += self.budget.work - before
        self._raise()
        return more

    def pool(self) -> None:
        """Let the integer program choose among the likeliest strips, if the task is one it can handle."""
        found = best_of_pool(self.task, self.worthy()[:POOL], self.length(), NODES, self.budget)
        if found is not None:
            self.offer(found)

    def simplify(self) -> None:
        """Look for a plan of the same length that is easier to cut, where the task is small enough to try."""
        self.best = tidied(self.task, self.best, self.settings)
        if len(self.task.kinds) <= READ and len(self.best) > 2 and not self.budget.hurried:
            found = simpler(self.task, self.best, self.generator.master.columns, self.budget)
            if found is not None:
                self.offer(tidied(self.task, found, self.settings))

    def worthy(self) -> list[Layout]:
        """Give the strips whose price leaves room below the best plan, best first, as far as they are few."""
        self.generator.limit(())
        self.generator.master.solve(self.budget)
        columns = self.generator.master.columns
        costs = self.generator.master.reduced_costs()
        room = self.length() - self.bound
        ranked = sorted(zip(costs, columns, strict=True), key=lambda pair: pair[0])
        return [column for cost, column in ranked if Fraction(cost) <= room]


def search(
    task: Task, plans: Sequence[Layouts], stairs: Stairs, bound: int, settings: CuttingSettings, budget: Budget
) -> tuple[Layouts, Searched]:
    """Give the best plan found and the proof of the best bound."""
    found = Search(task, plans, stairs, bound, settings, budget)
    found.run()
    found.simplify()
    return found.best, found.tree.proof()


def rival(
    task: Task,
    plans: Sequence[Layouts],
    stairs: Stairs,
    bound: int,
    lots: int,
    settings: CuttingSettings,
    budget: Budget,
) -> Layouts:
    """Give the best plan of strips that are cut straight into pieces; no more is done for it once it is proved that
    such plans take `lots` or more."""
    found = Search(task, plans, stairs, bound, settings, budget, lots)
    found.run()
    return found.best
