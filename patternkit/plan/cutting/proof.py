"""Proofs of a least length by prices: no strip's pieces are worth more than the strip's height.

A fork splits on the number of strips in some range of heights, on how many pieces of a kind lie in one of its ways, or
on how many strips hold so many of them; each side is proved on its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil
from typing import TypeAlias

import msgspec

from patternkit.plan.cutting.bounds import Stairs
from patternkit.plan.cutting.task import Layout, Task


class Limit(msgspec.Struct, frozen=True):
    """Strips of the cloth from `height` up to `top` are `count` or more (`least`), or `count` or fewer.

    A `top` of 0 stands for no upper end.
    """

    height: int
    count: int
    least: bool
    top: int = 0

    @property
    def place(self) -> tuple[int, ...]:
        """Give what is counted, without the count."""
        return self.height, self.top

    def counts(self, height: int) -> bool:
        """Say whether a strip of some height is one of those counted."""
        return height >= self.height and (not self.top or height <= self.top)

    def amount(self, row: Layout) -> int:
        """Give how much one strip adds to the count."""
        return int(not row.bed and self.counts(row.height))


def _lying(row: Layout, way: tuple[int, ...]) -> int:
    """Count the pieces of a strip that are of one kind and lie in one way."""
    return sum(part[3] for part in row.parts if part[:3] == way)


class Lie(msgspec.Struct, frozen=True):
    """Pieces of one kind that lie `width` across and `height` along are `count` or more (`least`), or fewer."""

    kind: int
    width: int
    height: int
    count: int
    least: bool

    @property
    def place(self) -> tuple[int, ...]:
        """Give what is counted, without the count."""
        return self.kind, self.width, self.height

    def amount(self, row: Layout) -> int:
        """Give how much one strip adds to the count."""
        return _lying(row, self.place)


class Holds(msgspec.Struct, frozen=True):
    """Strips of the cloth with `number` or more pieces of a kind that lie so are `count` or more, or fewer."""

    kind: int
    width: int
    height: int
    number: int
    count: int
    least: bool

    @property
    def place(self) -> tuple[int, ...]:
        """Give what is counted, without the count."""
        return self.kind, self.width, self.height, self.number

    def amount(self, row: Layout) -> int:
        """Give how much one strip adds to the count."""
        return int(not row.bed and _lying(row, self.place[:3]) >= self.number)


Case: TypeAlias = Limit | Lie | Holds
"""What a proof may split on."""


class Prices(msgspec.Struct, frozen=True):
    """Whole-number prices of each kind's piece, and of the limits that have one."""

    kinds: tuple[int, ...]
    limits: tuple[tuple[Case, int], ...] = ()

    def of_lies(self) -> dict[tuple[int, ...], int]:
        """Give what a piece is worth more (or less) than its kind, for each kind and way of lying priced."""
        worth: dict[tuple[int, ...], int] = {}
        for limit, price in self.limits:
            if isinstance(limit, Lie):
                worth[limit.place] = worth.get(limit.place, 0) + (price if limit.least else -price)
        return worth

    def of_holds(self) -> dict[tuple[int, ...], list[tuple[int, int]]]:
        """Give, for each kind and way of lying, what a strip is worth more (or less) from so many pieces on."""
        worth: dict[tuple[int, ...], list[tuple[int, int]]] = {}
        for limit, price in self.limits:
            if isinstance(limit, Holds):
                gain = limit.number, price if limit.least else -price
                worth.setdefault(limit.place[:3], []).append(gain)
        return worth


class Fork(msgspec.Struct, frozen=True):
    """Either a limit from above holds (`fewer`), or there is at least one strip more (`more`)."""

    limit: Case
    fewer: Prices | Fork
    more: Prices | Fork


class Searched(msgspec.Struct, frozen=True):
    """A proof by cases; `stairs` justifies limits that hold in all of them."""

    stairs: Stairs
    root: Prices | Fork


def value(
    task: Task, prices: Prices, strips: Sequence[tuple[int, int]], beds: Sequence[Sequence[tuple[int, int]]]
) -> Fraction:
    """Give the length proved by prices, from the best values of strips of each height (and in each bed).

    Every price is divided by the largest value of a strip for each unit of its height, so that none is worth more than
    its height (A. A. Farley, Operations Research 38, 1990); a bed's length is priced in the same way by itself.
    """
    worth = sum(price * kind.demand for price, kind in zip(prices.kinds, task.kinds, strict=True))
    worth += sum(price * (limit.count if limit.least else -limit.count) for limit, price in prices.limits)
    total = Fraction(worth)
    for (_, length), best in zip(task.beds, beds, strict=True):
        total -= max((Fraction(v, h) for h, v in best), default=Fraction(0)) * length
    top = Fraction(0)
    strips_priced = [(one, p) for one, p in prices.limits if isinstance(one, Limit)]
    for height, best_value in strips:
        extra = sum(p if one.least else -p for one, p in strips_priced if one.counts(height))
        top = max(top, Fraction(best_value + extra, height))
    return task.more + max(Fraction(0), total / top if top > 0 else Fraction(0))


def whole(length: Fraction) -> int:
    """Round a length up to the grid: every plan's length is whole."""
    return ceil(length)


def beyond(limit: Case) -> Case:
    """Give the other side of a limit from above: at least one strip more."""
    return msgspec.structs.replace(limit, count=limit.count + 1, least=True)
