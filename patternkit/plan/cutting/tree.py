"""A higher bound by cases: the number of strips in some range of heights is either this or fewer, or more."""

from __future__ import annotations

from collections.abc import Callable
from math import floor

import msgspec

from patternkit.plan.cutting.bounds import Stairs, reachable
from patternkit.plan.cutting.columns import Generator, Relaxed
from patternkit.plan.cutting.proof import Case, Fork, Holds, Lie, Limit, Prices, Searched, beyond
from patternkit.plan.cutting.verify import stairs_limits

TRIED = (8, 6)
"""Places tried before a case is split, without and with trimming."""


class _Case(msgspec.Struct):
    """One case: its limits, the length proved for it and how, and the cases it was split into."""

    limits: tuple[Case, ...]
    bound: int
    proof: Prices
    counts: list[float]
    split: tuple[Case, _Case, _Case] | None = None

    def written(self) -> Prices | Fork:
        """Give the proof of this case."""
        if self.split is None:
            return self.proof
        limit, fewer, more = self.split
        return Fork(limit, fewer.written(), more.written())


class ProofTree:
    """Cases open and settled; the bound of the whole is that of the weakest case."""

    def __init__(self, generator: Generator, stairs: Stairs) -> None:
        """Solve the case without assumptions, strengthened by the stairs."""
        self.generator, self.stairs = generator, stairs
        task = generator.task
        self.limits = tuple(stairs_limits(task, stairs))
        nothing = Prices((0,) * len(task.kinds))
        self.root = _Case((), task.more, nothing, [])
        self._solve(self.root, None)
        self._open = [self.root]

    def bound(self) -> int:
        """Give the length proved so far."""
        return min(case.bound for case in self._open)

    def weakest(self) -> tuple[Case, ...]:
        """Give the limits of the case that holds the bound down."""
        return min(self._open, key=lambda case: (case.bound, -len(case.limits))).limits

    def proof(self) -> Searched:
        """Give the proof of the bound."""
        return Searched(self.stairs, self.root.written())

    def grow(self, target: Callable[[], int], until: float, cases: int) -> bool:
        """Split the weakest case until the target is proved; False when work or ideas run out first.

        The target is asked for anew each time, since a better plan lowers it.
        """
        for _ in range(cases):
            weakest = min(self._open, key=lambda case: (case.bound, len(case.limits)))
            if weakest.bound >= target():
                return True
            budget = self.generator.budget
            if budget.work > until or budget.spent() or not self._split(weakest, target()):
                return False
        return True

    def _split(self, case: _Case, target: int) -> bool:
        """Split one case in two; False when all its numbers of strips are whole."""
        limit = self._where(case)
        if limit is None:
            return False
        limits = (limit, beyond(limit))
        sides = []
        for one in limits:
            side = _Case((*case.limits, one), case.bound, case.proof, [])
            self._solve(side, target)
            sides.append(side)
        case.split = (limit, sides[0], sides[1])
        self._open.remove(case)
        self._open += sides
        return True

    def _solve(self, case: _Case, target: int | None) -> Relaxed:
        """Solve one case; its bound is never below that of the case it came from."""
        self.generator.limit((*self.limits, *case.limits))
        answer = self.generator.relax(stop=target)
        case.counts = answer.counts
        if answer.proof is not None and answer.proved > case.bound:
            case.bound, case.proof = answer.proved, answer.proof
        if not case.limits:
            case.bound = reachable(self.generator.task, case.bound)
        else:
            case.bound = max(case.bound, reachable(self.generator.task, answer.proved))
        return answer

    def _where(self, case: _Case) -> Case | None:
        """Choose where to split: of the likeliest places, the one where both sides cost most."""
        places = self._places(case)[: TRIED[self.generator.task.trim]]
        if len(places) < 2:
            return places[0] if places else None
        scores = []
        self.generator.limit((*self.limits, *case.limits))
        base = self.generator.master.solve(self.generator.budget)[0]
        for place in places:
            costs = []
            for side in (place, beyond(place)):
                self.generator.limit((*self.limits, *case.limits, side))
                costs.append(self.generator.master.solve(self.generator.budget)[0])
            scores.append(max(costs[0] - base, 0.01) * max(costs[1] - base, 0.01))
        return places[scores.index(max(scores))]

    def _places(self, case: _Case) -> list[Case]:
        """Give ranges of heights whose number of strips is not whole, those first where that weighs most."""
        totals: dict[int, float] = {}
        lying: dict[tuple[int, int, int], float] = {}
        held: dict[tuple[int, int, int, int], float] = {}
        for column, count in zip(self.generator.master.columns, case.counts, strict=False):
            if count > 1e-7 and not column.bed:
                totals[column.height] = totals.get(column.height, 0.0) + count
            if count > 1e-7:
                for kind, width, height, number in column.parts:
                    lying[kind, width, height] = lying.get((kind, width, height), 0.0) + count * number
                    for many in range(1, number + 1) if not column.bed else ():
                        place = kind, width, height, many
                        held[place] = held.get(place, 0.0) + count
        places: list[tuple[float, Case]] = []
        running = 0.0
        for height in sorted(totals, reverse=True):
            running += totals[height]
            for count, top, weight in ((running, 0, 1), (totals[height], height, height)):
                off = min(count % 1, 1 - count % 1)
                if off > 1e-4 and bool(top) != self.generator.task.trim:
                    places.append((off * weight, Limit(height, floor(count), False, top)))
        places.sort(key=lambda p: -p[0])
        return [place for _, place in places] or self._ways(lying) or _holds(held)

    def _ways(self, lying: dict[tuple[int, int, int], float]) -> list[Case]:
        """Give the ways of lying in which the pieces of a kind are no whole number."""
        ways: list[tuple[float, Case]] = []
        for (kind, width, height), count in sorted(lying.items()):
            off = min(count % 1, 1 - count % 1)
            if off > 1e-4 and len(self.generator.task.kinds[kind].sizes) > 1:
                ways.append((off * width * height, Lie(kind, width, height, floor(count), False)))
        return [way for _, way in sorted(ways, key=lambda w: -w[0])]


def _holds(held: dict[tuple[int, int, int, int], float]) -> list[Case]:
    """Give the numbers of a kind in one strip that no whole number of strips holds."""
    found: list[tuple[float, Case]] = []
    for (kind, width, height, number), count in sorted(held.items()):
        off = min(count % 1, 1 - count % 1)
        if off > 1e-4:
            found.append((off * width * height * number, Holds(kind, width, height, number, floor(count), False)))
    return [place for _, place in sorted(found, key=lambda f: -f[0])]
