"""The plan of one fabric as a maker cuts it: ends of strips used up, the fewest lots, and of such plans the easiest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from patternkit.plan.cutting.bounds import Stairs, proofs, reachable
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.ease import Ease, awkward, ease, long, preference
from patternkit.plan.cutting.easiest import Pool, longest
from patternkit.plan.cutting.grid import to_buy
from patternkit.plan.cutting.hand import hand_pool
from patternkit.plan.cutting.least import FreeBound
from patternkit.plan.cutting.model import CuttingSettings
from patternkit.plan.cutting.ready import solver_ready
from patternkit.plan.cutting.shelf import shelf_plans, stacked_plans
from patternkit.plan.cutting.simple import own_strips
from patternkit.plan.cutting.straight import search_straight
from patternkit.plan.cutting.task import (
    Layout,
    Layouts,
    Task,
    drop_surplus,
    filled,
    in_reach,
    length_of,
    missing,
    room_left,
)
from patternkit.plan.cutting.tidy import tidied
from patternkit.plan.cutting.tries import Tries
from patternkit.plan.cutting.verify import bound_of

if TYPE_CHECKING:
    from patternkit.plan.cutting.by_worth import ByWorth

PLANNING = 75
"""Hundredths of the budget that go into the plan of a long list; the rest is for the bound."""
ENOUGH = 0.5
"""Share of them after which a length to buy that cannot be less is enough."""
PROVING = 0.7
"""Share of the budget after which no other proof is begun."""
HARD = 4
"""Different cuts for each kind from which an easier plan is asked of the integer program."""
FEW_LOOKS, LOOKS = 40_000, 160_000
"""How much is looked at in plans by rule of thumb: before proofs are begun, and once they have come to nothing."""
FEW_STEPS, STEPS = 60, 150
"""Steps in which plans are laid strip after strip: before proofs are begun, and by the prices met there."""
MANY = 24
"""Most kinds for which a pool of strips is looked through for the easiest plan."""


def search_wide(
    task: Task, settings: CuttingSettings, free: FreeBound, rival: int | None, budget: Budget
) -> tuple[Layouts, int, str]:
    """Give the plan, a bound and how it was found. A task that cannot take fewer lots than a `rival` is only
    bounded."""
    found = WideSearch(task, settings, budget)
    bound = reachable(task, max(bound_of(task, proof) for proof in proofs(task) if not isinstance(proof, Stairs)))
    if rival is not None and to_buy(bound, settings)[1] >= to_buy(rival, settings)[1]:
        return found.best, bound, found.method
    found.save(free)
    if settings.solver:  # a quick plan is only to be short
        found.ease()
    return found.best, max(bound, found.bound, min(free.length, length_of(task, found.best))), found.method


class WideSearch:
    """The best plan so far, and the ways of bettering it in turn: shelves, the hand's pool, strips cut straight."""

    def __init__(self, task: Task, settings: CuttingSettings, budget: Budget) -> None:
        """Begin with the shelf plans."""
        self.task, self.settings, self.budget = task, settings, budget
        self.straight = list(shelf_plans(task))
        self.plans = [*self.straight, own_strips(task)]
        self.best: Layouts = min(self.plans, key=self._preference)
        self.method, self.bound = "shelf", 0
        self.ready = settings.solver and solver_ready()
        self.tries = Tries(task, budget)

    def _ease(self, layouts: Layouts) -> Ease:
        return ease(self.task, layouts, self.settings)

    def _preference(self, layouts: Layouts) -> tuple[int, ...]:
        return preference(self.task, layouts, self.settings)

    def lots(self) -> int:
        """Give how many lots the best plan takes."""
        return to_buy(length_of(self.task, self.best), self.settings)[1]

    def offer(self, plan: Layouts | None) -> None:
        """Take a plan if it covers everything, fits the beds and is better than the best."""
        if plan is None:
            return
        plan = drop_surplus(self.task, plan)
        whole = not any(missing(self.task, plan)) and min(room_left(self.task, plan), default=0) >= 0
        whole = whole and (self.task.trim or all(map(filled, plan))) and all(in_reach(self.task, row) for row in plan)
        if whole and self._preference(plan) < self._preference(self.best):
            self.best = plan

    def least(self) -> int:
        """Give the shortest length that would be no better: what fits what is there, or saves a lot, is below it."""
        within, length = self.settings.within, length_of(self.task, self.best)
        if within and length > within:
            return int(within) + 1
        return longest(self.lots() - 1, self.settings) + 1

    def room(self) -> int:
        """Give the length that a plan may take which is to be easier than the best."""
        within, room = self.settings.within, longest(self.lots(), self.settings)
        return min(room, int(within)) if within and length_of(self.task, self.best) <= within else room

    def save(self, free: FreeBound) -> None:
        """Look for plans with fewer lots, as long as it is not proved that no way of cutting has fewer."""
        if free.length >= self.least() and not (self.ready and long(self.task)):
            return
        for plan in stacked_plans(self.task) if self.task.trim else ():
            self.plans.append(plan)
            self.offer(plan)
        if not self.ready:
            return
        if long(self.task):
            self._long(free)
            return
        if free.reach(self.least(), self.budget):
            return
        if len(self.task.kinds) <= MANY:
            self.method = "hand"
            pool = Pool(self.task, self._pool(), self.budget, solver=True)
            self.offer(pool.shortest(self.least()))
            if free.reach(self.least(), self.budget) or self._tried(free, FEW_LOOKS) or self._laid(free, FEW_STEPS):
                return
            self.method = "columns"
            if self._proved() or self._laid(free, STEPS) or self._tried(free, LOOKS):
                return
        self.method = "columns"
        before = self.least()
        self.offer(self._straight())
        if self.least() < before and len(self.task.kinds) <= MANY and self._proved():
            return

    def _tried(self, free: FreeBound, looks: int) -> bool:
        """Look for shorter plans by rule of thumb; say whether it is proved that one that was found is the best."""
        while self.task.trim and (plan := self.tries.plan(self.least() - 1, looks)) is not None:
            before = self.least()
            self.offer(plan)
            if free.reach(self.least(), self.budget) or self.least() >= before:
                return self.least() < before
        return False

    @cached_property
    def by_worth(self) -> ByWorth:
        """Plans strip after strip, begun when they are first asked for: arrays take long to load."""
        from patternkit.plan.cutting.by_worth import ByWorth

        return ByWorth(self.task, self.budget)

    def _laid(self, free: FreeBound, steps: int) -> bool:
        """Look for shorter plans strip after strip, by worths; say as `_tried` does."""
        while (plan := self.by_worth.plan(self.least() - 1, steps)) is not None:
            before = self.least()
            self.offer(plan)
            if free.reach(self.least(), self.budget) or self.least() >= before:
                return self.least() < before
        return False

    def _priced(self, prices: Sequence[int]) -> Layouts | None:
        """Look for a shorter plan strip after strip, by prices of the linear program."""
        self.by_worth.price(prices)
        return self.by_worth.plan(self.least() - 1, STEPS)

    def _long(self, free: FreeBound) -> None:
        """Look for the shortest plan of a long list, then for a bound that proves it, or comes near."""
        from patternkit.plan.cutting.long_lists import long_plan
        from patternkit.plan.cutting.nested_tree import relaxed
        from patternkit.plan.cutting.verify_nested import check_nested

        self.method = "columns"
        budget = self.budget.part(PLANNING, 100)

        def enough(length: int) -> bool:
            """Say whether less is not worth more work: none can do, or nothing less could be bought."""
            lots = to_buy(length, self.settings)[1]
            return free.length >= length or (budget.spent(ENOUGH) and to_buy(free.length, self.settings)[1] >= lots)

        self.offer(long_plan(self.task, self.best, budget, enough))
        if free.reach(self.least(), self.budget):
            return
        if len(self.task.kinds) <= MANY and self._tried(free, LOOKS):
            return
        strips = list(dict.fromkeys([*self.best, *(row for plan in self.plans for row in plan)]))
        proof = relaxed(self.task, strips, self.least(), self.budget)
        if proof is not None and proof.longest >= free.length:
            check_nested(self.task, proof)
            self.bound = max(self.bound, proof.longest + 1)

    def _straight(self) -> Layouts:
        """Give the best plan of strips that are cut straight into pieces, as far as it may be better; that search has a
        budget of its own, so that this plan is never the worse for what was tried before."""
        budget = Budget(self.settings.steps, self.settings.seconds)
        if not self.task.trim:
            return search_straight(self.task, self.settings, budget)[0]
        from patternkit.plan.cutting.improve import rival

        tried = list(proofs(self.task))
        stairs = next((proof for proof in tried if isinstance(proof, Stairs)), Stairs(()))
        bound = reachable(self.task, max(bound_of(self.task, proof) for proof in tried))
        return rival(self.task, self.straight, stairs, bound, self.lots(), self.settings, budget)

    def _proved(self) -> bool:
        """Say whether it is proved that plans of this sort cannot be better; plans met on the way are taken."""
        from patternkit.plan.cutting.nested_tree import nested_bound
        from patternkit.plan.cutting.verify_nested import check_nested

        strips = [*(row for plan in self.plans for row in plan), *self.by_worth.met]
        while not self.budget.spent(PROVING):
            goal = self.least()
            found = nested_bound(self.task, [*self.best, *strips], goal, self.budget.part(1, 3), look=self._priced)
            if found.proof is not None:
                check_nested(self.task, found.proof)
                self.bound = max(self.bound, goal)
                return True
            if found.partly is not None:
                check_nested(self.task, found.partly)
                self.bound = max(self.bound, found.partly.longest + 1)
            self.offer(found.plan)
            if self.least() >= goal:
                return False
            strips = found.strips
        return False

    def ease(self) -> None:
        """Look for an easier plan of the same lots: first among strips that each hold one height."""
        if self._plain():
            return
        self.offer(tidied(self.task, self.best, self.settings))
        if len(self.task.kinds) > MANY or (self.ready and long(self.task)):
            return
        pool = self._pool(self.best)
        room = self.room()
        single = [row for row in pool if not awkward(self.task, row)]
        found = Pool(self.task, single, self.budget).easiest(room) if self._covered(single) else None
        if found is None and (mixed := self._ease(self.best))[2]:
            whole = Pool(self.task, pool, self.budget, solver=self.method != "shelf")
            found = whole.easiest(room, list(self.best), mixed[3])
            if found is None and self.ready and mixed[3] > HARD * len(self.task.kinds):
                found = whole.simplest(room, list(self.best))
        self.offer(found)

    def _pool(self, known: Iterable[Layout] = ()) -> list[Layout]:
        return hand_pool(self.task, dict.fromkeys([*known, *(row for plan in self.plans for row in plan)]))

    def _covered(self, rows: Iterable[Layout]) -> bool:
        return {part[0] for row in rows for part in row.parts} == set(range(len(self.task.kinds)))

    def _plain(self) -> bool:
        """Say whether no plan can be easier: each size has one strip of its own height, and no two can share one."""
        heights = Counter(h for kind in self.task.kinds for h in {h for _, h in kind.sizes})
        alone = max(heights.values(), default=0) <= 1
        return alone and self._ease(self.best)[2:4] == (0, 2 * len(self.task.kinds))
