"""Column generation: better and better strips for the linear program, and the length its prices prove."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import msgspec

from patternkit.plan.cutting.bounds import reachable
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.master import InForce, Master
from patternkit.plan.cutting.price import Pricer
from patternkit.plan.cutting.proof import Case, Limit, Prices, value, whole
from patternkit.plan.cutting.task import Layout, Task

SCALE = 1 << 20
"""Prices are rounded to this fraction of the grid; the tables hold 64-bit numbers, far from their limit."""
MOST = 60
"""Strips added in one round for each bed."""


class Relaxed(msgspec.Struct):
    """The linear program's answer: cost, how many of each strip, and the best length proved on the way."""

    cost: float
    counts: list[float]
    proved: int
    proof: Prices | None
    done: bool


class Generator:
    """Prices strips for one task and adds them to its linear program until nothing better is left."""

    def __init__(self, task: Task, layouts: Sequence[Layout], budget: Budget, dear: int) -> None:
        """Begin with the strips of the plans known."""
        self.task, self.budget, self.dear = task, budget, dear
        self.master = Master(task, layouts, dear)
        self._rows: list[InForce] = []
        self.pricers = self.pricers_for([kind.demand for kind in task.kinds])

    def pricers_for(self, caps: Sequence[int]) -> list[Pricer]:
        """Give a pricer for the cloth and one for each bed, with a limit on each kind."""
        return [Pricer(self.task, bed, caps) for bed in range(len(self.task.beds) + 1)]

    def limit(self, limits: Sequence[Case]) -> None:
        """Put limits in force on numbers of strips and on pieces that lie in one way; all others are lifted."""
        self._rows = self.master.restrict(limits)

    def _signed(self, duals: Sequence[float]) -> tuple[tuple[Case, int], ...]:
        """Give each limit in force that has a price, with that price; its sign tells which side it is."""
        out = []
        for row, low, high in self._rows:
            price = round(duals[row] * SCALE)
            limit = low if price > 0 else high
            if price and limit:
                out.append((limit, abs(price)))
        return tuple(out)

    def relax(self, stop: int | None = None, rounds: int = 400, prove: bool = True) -> Relaxed:
        """Solve the linear program under the limits in force, adding strips as long as they help.

        The search ends early once the length proved reaches `stop`, or once it equals the linear program's cost on the
        ruler.
        """
        best, proof = 0, None
        while True:
            cost, counts, duals = self.master.solve(self.budget)
            prices = [max(0, round(dual * SCALE)) for dual in duals[: len(self.task.kinds)]]
            signed = self._signed(duals)
            named = Prices(tuple(prices), signed)
            found = [pricer.values(named, self.budget) for pricer in self.pricers]
            if prove:
                length = whole(value(self.task, named, found[0], found[1:]))
                if length > best:
                    best, proof = length, named
            fresh = self.better(found, signed, duals)
            rounds -= 1
            closed = prove and reachable(self.task, best) >= reachable(self.task, self._ceil(cost))
            if closed or not fresh or (stop is not None and best >= stop):
                return Relaxed(cost, counts, best, proof, True)
            if rounds <= 0 or self.budget.spent() or not self.master.add(fresh):
                return Relaxed(cost, counts, best, proof, False)

    def _ceil(self, cost: float) -> int:
        """Round the linear program's cost up to the grid, forgiving the solver's last digits."""
        return self.task.more + whole(Fraction(cost) - Fraction(1, 10**5))

    def better(
        self, found: list[list[tuple[int, int]]], signed: Sequence[tuple[Case, int]], duals: Sequence[float]
    ) -> list[Layout]:
        """Give the strips worth more than they cost, the worthiest of each bed."""
        out: list[Layout] = []
        strips = [(limit, price) for limit, price in signed if isinstance(limit, Limit)]
        for bed, values in enumerate(found):
            price = SCALE if not bed else max(0, round(-duals[len(self.task.kinds) + bed - 1] * SCALE))
            gains: list[tuple[Fraction, int]] = []
            for index, (height, worth) in enumerate(values):
                gain = worth - price * height
                if not bed:
                    gain += sum(p if limit.least else -p for limit, p in strips if limit.counts(height))
                if gain > 64:
                    gains.append((Fraction(gain, height), index))
            gains.sort(key=lambda g: (-g[0], g[1]))
            out += [self.pricers[bed].strip(index) for _, index in gains[:MOST]]
        return out
