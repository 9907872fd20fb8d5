"""A proof by cases that strips cut up further need some length: the number of strips of some height or more is split
until every case needs it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil, floor
from typing import TypeAlias

import msgspec

from patternkit.plan.cutting.budget import CELLS, Budget
from patternkit.plan.cutting.counted import Counted
from patternkit.plan.cutting.few import Few
from patternkit.plan.cutting.nested import QUICK, NestedAnswer, NestedProgram
from patternkit.plan.cutting.nested_dive import exactly, nested_dive, taken
from patternkit.plan.cutting.panels import longest_sum
from patternkit.plan.cutting.points import points
from patternkit.plan.cutting.proof import Case, Fork, Lie, Limit, Prices, beyond
from patternkit.plan.cutting.task import Layout, Layouts, Task, numbers

COUNTING = 2.0
"""Share of the budget up to which the pieces of short lists are counted out in every way: more than all of it, as
nothing is left to do then."""
CASES = 300
"""Most cases of one proof."""
SHORT = 10
"""Most kinds of a list for which the integer program looks at more than a few cases."""
POOL = 200
"""Most strips given to the integer program."""
TRIED = 5
"""Places tried before a case is split."""
NODES = 60
"""Most cases that looks at."""
CHECKING = 20
"""Times that tables could be filled while the proof for a long list is checked."""


Look: TypeAlias = Callable[[Sequence[int]], Layouts | None]
"""Looks for a shorter plan by prices of the kinds."""


class NestedProof(msgspec.Struct, frozen=True):
    """A length of `longest` is not enough: prices, or a fork.

    No strip is given more of a `critical` kind than there are. Strips of the cloth are priced up to `tallest`, or as
    far as `longest` leaves room beside what is cut in any case.
    """

    longest: int
    critical: tuple[int, ...]
    root: Prices | Fork
    tallest: int = 0


class NestedBound(msgspec.Struct):
    """What came of the search: a proof, or a shorter plan, or neither, with what is proved of less (`partly`); and the
    strips found on the way."""

    proof: NestedProof | Counted | None
    strips: list[Layout]
    plan: Layouts | None = None
    partly: NestedProof | None = None


def nested_bound(
    task: Task,
    layouts: Sequence[Layout],
    goal: int,
    budget: Budget,
    counting: float = COUNTING,
    look: Look | None = None,
) -> NestedBound:
    """Try to prove that every plan needs `goal`, or find a plan that does with less; plans known are given as their
    strips. `counting` is the share of the budget up to which pieces are shared out in every way; `look` is asked for a
    plan by the first prices."""
    enough = _longest_below(task, goal)
    if enough < task.more or (enough == task.more and not task.beds and task.kinds):
        return NestedBound(NestedProof(enough, (), Prices((0,) * len(task.kinds))), [])
    few = Few(task, enough)
    if few.affordable(budget, counting):
        if few.solve() > enough:
            return NestedBound(Counted(enough), list(layouts))
        return NestedBound(None, list(layouts), few.plan())
    places = points(task, enough - task.more)
    critical: list[int] = []
    strips = list(layouts)
    partly: NestedProof | None = None
    while True:
        program = NestedProgram(task, places, strips, critical, enough + 1 - task.more, budget)
        cases = _Cases(program, enough, look)
        outcome = cases.run(tried=bool(critical))
        strips = program.master.columns
        less = _partly(cases)
        if less is not None and (partly is None or less.longest > partly.longest):
            partly = less
        if isinstance(outcome, int):
            critical.append(outcome)
        elif isinstance(outcome, dict):
            return NestedBound(None, strips, outcome, partly)
        else:
            break
    if outcome is not None:
        return NestedBound(NestedProof(enough, tuple(critical), outcome), strips, None, partly)
    return NestedBound(None, strips, None, partly)


def relaxed(task: Task, layouts: Sequence[Layout], goal: int, budget: Budget) -> NestedProof | None:
    """Give the best proof by prices alone that a length is too short, up to that below `goal`; None where half of the
    budget has no room for it. The other half is for checking it."""
    enough, part = _longest_below(task, goal), budget.part(1, 2)
    if enough <= task.more:
        return None
    program = NestedProgram(task, points(task, enough - task.more), layouts, (), enough + 1 - task.more, part)
    if program.tables.work_below() * CHECKING // QUICK > part.steps * CELLS:
        return None
    answer = program.relax(enough, whole=True)
    longest = min(_longest_below(task, ceil(answer.proved)), enough)
    return NestedProof(longest, (), answer.prices, program.points.tallest) if longest > task.more else None


def _partly(cases: _Cases) -> NestedProof | None:
    """Give the proof of what the first case shows, if that is anything: it is quick to check."""
    program, answer = cases.program, cases.root.answer
    longest = min(_longest_below(program.task, ceil(answer.proved)), cases.enough)
    if longest <= program.task.more:
        return None
    return NestedProof(longest, program.critical, answer.prices, program.points.tallest)


def _longest_below(task: Task, goal: int) -> int:
    """Give the longest length below a goal that strips can add up to; less than nothing if even the goal is cut in any
    case."""
    rest = goal - 1 - task.more
    return task.more + longest_sum(task.heights(), rest) if rest > 0 else goal - 1


def _overused(program: NestedProgram, answer: NestedAnswer) -> int | None:
    """Give the kind of which strips hold most beyond what there is, if its states are few enough."""
    task = program.task
    over = [0.0] * len(task.kinds)
    for column, count in zip(program.master.columns, answer.counts, strict=False):
        if count > 1e-7:
            for kind, number in numbers(column).items():
                over[kind] += count * max(0, number - task.kinds[kind].demand) / task.kinds[kind].demand
    for kind in sorted(range(len(over)), key=lambda kind: -over[kind]):
        if over[kind] > 1e-6 and program.affords_states((*program.critical, kind)):
            return kind
    return None


class _Node(msgspec.Struct):
    """One case, and the cases it was split into."""

    limits: tuple[Case, ...]
    answer: NestedAnswer
    split: tuple[Case, _Node, _Node] | None = None

    def written(self) -> Prices | Fork:
        """Give the proof of this case."""
        if self.split is None:
            return self.answer.prices
        limit, fewer, more = self.split
        return Fork(limit, fewer.written(), more.written())


class _Cases:
    """The cases of one proof; each is split until it is proved, or shows what else to try."""

    def __init__(self, program: NestedProgram, enough: int, look: Look | None) -> None:
        """Begin with the case without assumptions."""
        self.program, self.enough, self.look = program, enough, look
        self.root = _Node((), program.relax(enough, whole=not program.critical))

    def run(self, tried: bool) -> Prices | Fork | Layouts | int | None:
        """Give the proof, a shorter plan, a kind that is critical, or None where work or ideas run out.

        Unless they were `tried`, plans from the strips of the first case are looked for first.
        """
        if self._proved(self.root):
            return self.root.answer.prices
        if not tried and (plan := self._plan()) is not None:
            return plan
        waiting = [self.root]
        for _ in range(CASES):
            if not waiting:
                return self.root.written()
            node = waiting.pop()
            if not node.answer.done:
                return None
            if (more := _overused(self.program, node.answer)) is not None:
                return more
            limit = self._where(node)
            if limit is None:
                return self._dive(node.answer.counts)
            node.split = limit, self._side(node, limit), self._side(node, beyond(limit))
            waiting += [side for side in node.split[1:] if not self._proved(side)]
        return None

    def _proved(self, node: _Node) -> bool:
        return node.answer.proved > self.enough

    def _side(self, node: _Node, limit: Case) -> _Node:
        limits = (*node.limits, limit)
        self.program.limit(limits)
        return _Node(limits, self.program.relax(self.enough))

    def _where(self, node: _Node) -> Case | None:
        """Choose where to split: of the likeliest places, the one where both sides cost most with the strips known."""
        places = _places(self.program, node.answer)[:TRIED]
        if len(places) < 2:
            return places[0] if places else None
        scores = []
        for place in places:
            costs = []
            for side in (place, beyond(place)):
                self.program.limit((*node.limits, side))
                costs.append(self.program.master.solve(self.program.budget)[0] + self.program.task.more)
            rises = [max(min(cost, self.enough + 1) - node.answer.cost, 0.01) for cost in costs]
            scores.append(rises[0] * rises[1])
        return places[scores.index(max(scores))]

    def _plan(self) -> Layouts | None:
        """Look for a shorter plan among the strips known, and by prices."""
        from patternkit.plan.cutting.mip import best_of_pool

        program, budget = self.program, self.program.budget
        room = self.enough - self.root.answer.cost + 1e-6
        costs = zip(program.master.reduced_costs(), program.master.columns, strict=False)
        pool = [row for cost, row in sorted(costs, key=lambda pair: pair[0]) if cost <= room][:POOL]
        nodes = NODES if len(program.task.kinds) <= SHORT else NODES // 6
        plan = exactly(program.task, best_of_pool(program.task, pool, self.enough + 1, nodes, budget), self.enough)
        if plan is None and self.look is not None:
            plan = self.look(self.root.answer.prices.kinds)
        return plan

    def _dive(self, counts: Sequence[float]) -> Layouts | None:
        """Look for a plan that has the strips that are whole."""
        program = self.program
        begun = taken(program.task, counts, program.master.columns)
        part = program.budget.part(1, 6)
        return nested_dive(program.task, program.master.columns, self.enough, part, begun)


def _places(program: NestedProgram, answer: NestedAnswer) -> list[Case]:
    """Give what is least whole: strips of some height or more; else strips of a height; else pieces lying one way."""
    totals: dict[int, float] = {}
    lying: dict[tuple[int, int, int], float] = {}
    for column, count in zip(program.master.columns, answer.counts, strict=False):
        if count > 1e-7:
            if not column.bed:
                totals[column.height] = totals.get(column.height, 0.0) + count
            for kind, width, height, number in column.parts:
                lying[kind, width, height] = lying.get((kind, width, height), 0.0) + count * number
    running, taller, alone, ways = 0.0, [], [], []
    for height in sorted(totals, reverse=True):
        running += totals[height]
        taller.append((_off(running), Limit(height, floor(running), False)))
        alone.append((_off(totals[height]), Limit(height, floor(totals[height]), False, height)))
    for (kind, width, height), count in sorted(lying.items()):
        if len(program.task.kinds[kind].sizes) > 1:
            ways.append((_off(count), Lie(kind, width, height, floor(count), False)))
    for places in (taller, alone, ways):
        found = [(off, case) for off, case in places if off > 1e-4]
        if found:
            return [case for _, case in sorted(found, key=lambda pair: -pair[0])]
    return []


def _off(number: float) -> float:
    """Give how far a number is from a whole one."""
    return min(number % 1, 1 - number % 1)
