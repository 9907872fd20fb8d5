"""The search behind a plan: dives for shorter plans and cases for higher bounds, in turn, until they meet."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from patternkit.plan.cutting.bounds import Stairs, reachable
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.columns import Generator
from patternkit.plan.cutting.dive import dive
from patternkit.plan.cutting.mip import best_of_pool
from patternkit.plan.cutting.model import Settings
from patternkit.plan.cutting.proof import Searched
from patternkit.plan.cutting.rank import rank
from patternkit.plan.cutting.task import Layout, Layouts, Task, length_of, missing, room_left, settle
from patternkit.plan.cutting.tree import Tree

POOL = 400
"""Most strips given to the integer program."""


class Search:
    """The best plan and the best bound so far, and the ways of bettering either."""

    def __init__(
        self,
        task: Task,
        plans: Sequence[Layouts],
        stairs: Stairs,
        bound: int,
        settings: Settings,
        budget: Budget,
    ) -> None:
        """Begin with the shelf plans and the simple bound."""
        self.task, self.settings, self.budget = task, settings, budget
        self.best = min(plans, key=self._rank)
        self.bound = bound
        self.generator = Generator(task, [row for plan in plans for row in plan], budget, self.length())
        self.tree = Tree(self.generator, stairs)
        self._raise()

    def _rank(self, plan: Layouts) -> tuple[int, ...]:
        return rank(self.task, plan, self.settings)

    def length(self) -> int:
        """Give the length of the best plan."""
        return length_of(self.task, self.best)

    def offer(self, plan: Layouts) -> None:
        """Take a plan if it covers everything and is better than the best."""
        plan = settle(self.task, plan)
        whole = not any(missing(self.task, plan)) and min(room_left(self.task, plan), default=0) >= 0
        if whole and self._rank(plan) < self._rank(self.best):
            self.best = plan

    def _raise(self) -> None:
        self.bound = max(self.bound, reachable(self.task, self.tree.bound()))

    def met(self) -> bool:
        """Say whether plan and bound agree."""
        return self.bound >= self.length()

    def run(self) -> None:
        """Search until plan and bound meet or the budget is spent."""
        for share, second in ((0.15, ()), (0.25, ()), (0.35, ())):
            if not self.met():
                taste = round(share * 10) - 1
                dive(self.generator, self.offer, self.length, share, taste, second)
        if not self.met():
            self.grow(0.5, 30)
        if not self.met():
            self.pool()
        turn = 0
        while not self.met() and not self.budget.spent():
            limits = self.tree.weakest() if turn % 2 else ()
            dive(self.generator, self.offer, self.length, 1.0, turn % 3, (turn % 7, turn // 7), limits)
            more = self.grow(1.0, 6)
            turn += 1
            if turn > 60 and not more:
                break

    def grow(self, share: float, cases: int) -> bool:
        """Raise the bound by splitting cases."""
        more = self.tree.grow(self.length, share, cases)
        self._raise()
        return more

    def pool(self) -> None:
        """Let the integer program choose among the strips that could be in a shorter plan, if few."""
        pool = self.worthy()
        if len(pool) <= POOL and len(self.task.kinds) <= 60:
            found, _ = best_of_pool(self.task, pool, self.length(), 40, self.budget)
            if found is not None:
                self.offer(found)

    def worthy(self) -> list[Layout]:
        """Give the strips whose price leaves room below the best plan, best first, as far as they are few."""
        self.generator.limit(())
        self.generator.master.solve(self.budget)
        columns = self.generator.master.columns
        costs = self.generator.master.reduced_costs()
        room = self.length() - self.bound
        ranked = sorted(zip(costs, columns, strict=True), key=lambda pair: pair[0])
        return [column for cost, column in ranked if Fraction(cost) <= room][:POOL]


def search(
    task: Task, plans: Sequence[Layouts], stairs: Stairs, bound: int, settings: Settings, budget: Budget
) -> tuple[Layouts, Searched]:
    """Give the best plan found and the proof of the best bound."""
    found = Search(task, plans, stairs, bound, settings, budget)
    found.run()
    return found.best, found.tree.proof()
