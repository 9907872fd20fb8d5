"""The most valuable strip for given prices of the pieces: an exact knapsack over the width, by height."""

from __future__ import annotations

from collections.abc import Sequence
from math import gcd
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.proof import Prices
from patternkit.plan.cutting.task import Layout, Part, Size, Task, layout

NONE = -(1 << 60)
"""The value of a strip that cannot be."""
Values: TypeAlias = npt.NDArray[np.int64]


class Pricer:
    """Finds the best strips across one width; prices are whole numbers, so its values are exact.

    A strip of some height holds at least one piece of just that height. With trimming, pieces are entered from the
    lowest upwards and all entered before may lie beside it; without trimming, each height stands alone. A piece that
    lies either way may be entered twice; values are then upper limits, which keeps every bound built on them valid.
    """

    def __init__(self, task: Task, bed: int, caps: Sequence[int]) -> None:
        """Prepare for one bed (0 for the cloth); `caps` limits how many of each kind one strip may hold."""
        width = task.width_of(bed)
        tallest = task.beds[bed - 1][1] if bed else None
        entries = sorted(
            (h, w, i)
            for i, kind in enumerate(task.kinds)
            for w, h in kind.sizes
            if w <= width and (tallest is None or h <= tallest) and caps[i]
        )
        self.bed, self.trim = bed, task.trim
        self._grain = gcd(*(w for _, w, _ in entries)) or 1
        self._width = width // self._grain
        self._rows: list[tuple[int, int, Size, int]] = []  # kind, number, size, width on the grain
        self.groups: list[tuple[int, int, int]] = []  # height, first row, row after the last
        mosts: list[int] = []
        first = 0
        for at, (h, w, i) in enumerate(entries):
            number, left = 1, min(caps[i], width // w)
            most = left
            while left:
                number = min(number, left)
                self._rows.append((i, number, (w, h), number * (w // self._grain)))
                mosts.append(most)
                most = 0
                left -= number
                number *= 2
            if at + 1 == len(entries) or entries[at + 1][0] != h:
                self.groups.append((h, first, len(self._rows)))
                first = len(self._rows)
        shape = (len(self._rows), self._width + 1)
        self._take: npt.NDArray[np.bool_] = np.zeros(shape, dtype=bool)  # better with this row than without
        self._led: npt.NDArray[np.bool_] = np.zeros(shape, dtype=bool)  # a piece of the height was in before
        self._rise: npt.NDArray[np.bool_] = np.zeros((len(self.groups), self._width + 1), dtype=bool)
        self._used = [False] * len(self._rows)
        self._most = mosts  # how many one strip can hold, at the first row of each kind and way
        self._numbers: dict[int, npt.NDArray[np.int16]] = {}  # how many, where the worth of a kind jumps

    def values(self, named: Prices, budget: Budget) -> list[tuple[int, int]]:
        """Give the value of the best strip of each height, lowest first."""
        prices, lies = named.kinds, named.of_lies()
        holds = {} if self.bed else named.of_holds()
        lower = np.zeros(self._width + 1, dtype=np.int64)
        found: list[tuple[int, int]] = []
        self._numbers.clear()
        work = 0
        for group, (height, begin, end) in enumerate(self.groups):
            led = np.full(self._width + 1, NONE, dtype=np.int64)
            for row in range(begin, end):
                kind, number, size, across = self._rows[row]
                price = prices[kind] + lies.get((kind, *size), 0) if lies else prices[kind]
                gains = holds.get((kind, *size), ()) if holds else ()
                self._used[row] = (price > 0 or number == 1) and not gains
                if self._used[row]:
                    np.greater(led, lower, out=self._led[row])
                    tried = np.maximum(led, lower)[: self._width + 1 - across] + price * number
                    np.greater(tried, led[across:], out=self._take[row, across:])
                    np.maximum(led[across:], tried, out=led[across:])
                    work += self._width + 600  # the second part is what a row costs however narrow it is
                elif gains and self._most[row]:
                    self._each(row, led, lower, price, gains)
                    work += (self._width + 600) * self._most[row]
            found.append((height, int(led[-1])))
            if self.trim:
                np.greater(led, lower, out=self._rise[group])
                np.maximum(lower, led, out=lower)
        budget.charge(work // 2)
        return found

    def _each(self, row: int, led: Values, lower: Values, price: int, gains: Sequence[tuple[int, int]]) -> None:
        """Enter a kind whose worth jumps at some numbers: every number is tried from the same start."""
        _, _, _, across = self._rows[row]
        start = np.maximum(led, lower)
        np.greater(led, lower, out=self._led[row])
        number = np.zeros(self._width + 1, dtype=np.int16)
        for many in range(1, self._most[row] + 1):
            worth = price * many + sum(gain for least, gain in gains if many >= least)
            tried = start[: self._width + 1 - across * many] + worth
            better = tried > led[across * many :]
            number[across * many :][better] = many
            np.maximum(led[across * many :], tried, out=led[across * many :])
        self._numbers[row] = number

    def strip(self, index: int) -> Layout:
        """Give the strip behind the value at an index of the last answer."""
        across = self._width
        parts: list[Part] = []
        for group in range(index, -1, -1):
            if group < index and not self._rise[group, across]:
                continue
            _, begin, end = self.groups[group]
            for row in range(end - 1, begin - 1, -1):
                kind, number, (w, h), width = self._rows[row]
                if row in self._numbers and (many := int(self._numbers[row][across])):
                    parts.append((kind, w, h, many))
                    across -= width * many
                    if not self._led[row, across]:
                        break
                elif self._used[row] and self._take[row, across]:
                    parts.append((kind, w, h, number))
                    across -= width
                    if not self._led[row, across]:
                        break
            if not self.trim:
                break
        return layout(self.groups[index][0], parts, self.bed)
