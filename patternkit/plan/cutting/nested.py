"""The linear program over strips that are cut into segments and rows, and the length that its prices prove."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import prod

import msgspec

from patternkit.plan.cutting.budget import CELLS, Budget
from patternkit.plan.cutting.master import InForce, Master
from patternkit.plan.cutting.points import CutPoints
from patternkit.plan.cutting.proof import Case, Limit, Prices, value
from patternkit.plan.cutting.tables import LARGEST, Tables
from patternkit.plan.cutting.task import Layout, Task, in_reach, numbers
from patternkit.plan.cutting.unfold import Unfold

FINEST = 1 << 15
"""Prices are rounded to this fraction of the grid, or to a coarser one where a strip's value would grow too large."""
BEST = 12
"""Strips added in one round for each bed."""
MISSED = 4
"""Strips looked at, one after another, that turn out to be worth no more than they cost, before the rest is left."""
STATES = 192
"""Most states of critical kinds."""
QUICK = 3
"""Numbers of the tables handled in the time of one cell."""
PRICINGS = 12
"""Times that tables are filled at least before something comes of it."""
SMOOTH = 0.5
"""How far prices are drawn to those that proved most so far: fewer rounds than with either of them alone."""
ROUNDS = 200
ROUND = CELLS // 2
"""What one round takes beside what its tables take."""


class NestedAnswer(msgspec.Struct):
    """The linear program's answer: cost, how many of each strip, the length proved, and by which prices; whether the
    budget was enough, and whether all rounds were."""

    cost: float
    counts: list[float]
    proved: Fraction
    prices: Prices
    done: bool = True
    closed: bool = True


class NestedProgram:
    """Prices strips for one task and adds them to its linear program until nothing better is left."""

    def __init__(
        self,
        task: Task,
        points: CutPoints,
        layouts: Sequence[Layout],
        critical: Sequence[int],
        dear: int,
        budget: Budget,
    ) -> None:
        """Begin with the strips of the plans known, without those that hold too many of a critical kind; `dear` is the
        price of leaving one piece uncut."""
        self.task, self.points, self.budget = task, points, budget
        self.critical = tuple(critical)
        self.tables = Tables(task, points, critical)
        kept = [row for row in layouts if self._allowed(row)]
        self.master = Master(task, kept, dear)
        self._rows: list[InForce] = []

    def _allowed(self, row: Layout) -> bool:
        counts = numbers(row)
        few = all(counts.get(kind, 0) <= self.task.kinds[kind].demand for kind in self.critical)
        known = row.height in self.points.heights and in_reach(self.task, row)
        return few and known and (row.bed > 0 or row.height <= self.points.tallest)

    def affords_states(self, critical: Sequence[int]) -> bool:
        """Say whether the budget has room for pricing with other critical kinds, as often as that takes."""
        shape = [self.task.kinds[kind].demand + 1 for kind in critical]
        if prod(shape) > STATES:
            return False
        return self.budget.work + self.tables.work_with(shape) * PRICINGS // QUICK < self.budget.steps * CELLS

    def limit(self, limits: Sequence[Case]) -> None:
        """Put limits in force; all others are lifted."""
        self._rows = self.master.restrict(limits)

    def relax(self, enough: int, whole: bool = False, rounds: int = ROUNDS) -> NestedAnswer:
        """Solve the linear program under the limits in force; ends early once more than `enough` is proved, or, unless
        it is `whole`, once that can't be, or after some rounds."""
        nothing = Prices((0,) * len(self.task.kinds))
        best, kept, centre = Fraction(0), nothing, self._by_area()
        for left in range(rounds, -1, -1):
            cost, counts, duals = self.master.solve(self.budget)
            cost += self.task.more
            for smooth in (SMOOTH, 0.0):
                drawn = [smooth * c + (1 - smooth) * d for c, d in zip(centre, self._row_prices(duals), strict=True)]
                if (priced := self._price(drawn)) is None:
                    return NestedAnswer(cost, counts, best, kept, False)
                named, proved = priced
                if proved > best:
                    best, kept, centre = proved, named, drawn
                fresh = self._better(named, duals)
                if best > enough or fresh:
                    break
            ended = best > enough or not fresh or (cost <= enough and not whole)
            if ended or not left or not self.master.add(fresh):
                return NestedAnswer(cost, counts, best, kept, True, bool(left))
        raise AssertionError("the last round ends")

    def _row_prices(self, duals: Sequence[float]) -> list[float]:
        """Give the prices of kinds and of the limits in force."""
        kinds = [max(0.0, dual) for dual in duals[: len(self.task.kinds)]]
        return [*kinds, *(duals[row] for row, _, _ in self._rows)]

    def _by_area(self) -> list[float]:
        """Give each kind the length that its area takes, and limits nothing."""
        areas = [min(w * h for w, h in kind.sizes) / self.task.width for kind in self.task.kinds]
        return [*areas, *(0.0 for _ in self._rows)]

    def _price(self, drawn: Sequence[float]) -> tuple[Prices, Fraction] | None:
        """Fill the tables for prices, and give the length that these prove; None where the budget has no room."""
        count = len(self.task.kinds)
        dearest = max((drawn[kind] / (w * h) for h, w, kind in self.points.ways), default=0.0)
        most = dearest * self.task.width * self.points.heights[-1] + sum(map(abs, drawn[count:])) * len(
            self.points.widths
        )
        scale = min(FINEST, (LARGEST - 1) / most if most else FINEST)
        limits = []
        for price, (_, low, high) in zip(drawn[count:], self._rows, strict=True):
            limit, amount = (low if price > 0 else high), round(abs(price) * scale)
            if limit is not None and amount:
                limits.append((limit, amount))
        named = Prices(tuple(int(price * scale) for price in drawn[:count]), tuple(limits))
        if not self._charge(self.tables.work_below()):
            return None
        self.budget.charge(ROUND)
        self.tables.fill(named)
        found = self.tables.best(self._charge, extra_of(named))
        if found is None:
            return None
        self.found = found
        return named, value(self.task, named, self.found[0], self.found[1:])

    def _charge(self, work: int) -> bool:
        """Count work before it is done; False where there is no room for it."""
        work //= QUICK
        if self.budget.work + work > self.budget.steps * CELLS:
            return False
        self.budget.charge(work)
        return True

    def _better(self, named: Prices, duals: Sequence[float]) -> list[Layout]:
        """Give the strips that are worth more than they cost by the linear program's own prices."""
        out: list[Layout] = []
        count, extra = len(self.task.kinds), extra_of(named)
        unfold = Unfold(self.tables)
        for bed in range(len(self.task.beds) + 1):
            gains = []
            for height, worth in self.found[bed]:
                gain = worth + (0 if bed else extra(height))
                if worth and gain > 0:
                    gains.append((gain / height, height))
            cost = -duals[count + bed - 1] if bed else 1.0
            good, missed = [], 0
            for _, height in sorted(gains, reverse=True)[: 2 * BEST]:
                row = unfold.strip(self.task.width_of(bed), height, bed)
                saved = sum(duals[kind] * number for kind, number in numbers(row).items())
                for at, low, high in self._rows:
                    case = low or high
                    saved += duals[at] * case.amount(row) if case else 0.0
                if saved > cost * row.height + 1e-6:
                    good.append(row)
                    missed = 0
                missed += 1
                if len(good) == BEST or missed > MISSED:
                    break
            out += good
        return out


def extra_of(named: Prices) -> Callable[[int], int]:
    """Give what a strip of the cloth is worth by its height alone, from the limits that count strips."""
    strips = [(limit, price) for limit, price in named.limits if isinstance(limit, Limit)]
    return lambda height: sum(p if limit.least else -p for limit, p in strips if limit.counts(height))
