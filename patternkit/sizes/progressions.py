"""Evenly spaced fractions, and where several such sets meet: the mathematics of a ruler."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import gcd, lcm

import msgspec

from patternkit.lengths import ceil_fraction
from patternkit.sizes.affine import Affine


class Progression(msgspec.Struct, frozen=True):
    """All fractions ``first + k * step`` for whole ``k`` of either sign; ``step`` 0 means `first` alone.

    `first` is the smallest one that is not negative when the step is not 0.
    """

    first: Fraction
    step: Fraction

    def meets(self, other: Progression) -> Progression | None:
        """What both have in common (again a progression, or a single value), or None."""
        if not self.step:
            return self if self.first in other else None
        if not other.step:
            return other if other.first in self else None
        bottom = lcm(*(x.denominator for x in (self.first, self.step, other.first, other.step)))
        a, s, b, t = (int(x * bottom) for x in (self.first, self.step, other.first, other.step))
        g = gcd(s, t)
        if (b - a) % g:
            return None
        # Chinese remainder theorem: a + s*k is b modulo t.
        k = (b - a) // g * pow(s // g, -1, t // g) if t != g else 0
        step = s // g * t
        return Progression(Fraction((a + s * k) % step, bottom), Fraction(step, bottom))

    def __contains__(self, value: Fraction) -> bool:
        if not self.step:
            return value == self.first
        return ((value - self.first) / self.step).denominator == 1

    def between(self, low: Fraction, high: Fraction) -> Iterator[Fraction]:
        """Those from `low` to `high`, both included, in order."""
        if not self.step:
            if low <= self.first <= high:
                yield self.first
            return
        value = self.first + ceil_fraction((low - self.first) / self.step) * self.step
        while value <= high:
            yield value
            value += self.step


EVERY = "every"
NEVER = "never"


def landing(value: Affine, name: str, grid: Fraction) -> Progression | str:
    """For which fractions as the parameter `name` the value is a whole multiple of `grid`.

    `EVERY` when it is whatever the parameter, `NEVER` when it can't be. A value with a square root in it is on the grid
    only where its roots cancel: once at most. Raises ValueError when another parameter is left in it.
    """
    if any(other != name for other in value.coefs):
        raise ValueError(f"{value.text()} depends on more than {name}")
    a, b = value.const, value.coefs.get(name)
    if b is None:
        return EVERY if a.on_grid(grid) else NEVER
    if a.is_fraction and b.is_fraction:
        step = abs(grid / b.q)
        return Progression((-a.q / b.q) % step, step)
    mine, its = dict(a.roots), dict(b.roots)
    if set(mine) - set(its):
        return NEVER  # a root that no multiple of the parameter can cancel
    spots = {-mine.get(n, Fraction(0)) / c for n, c in its.items()}
    if len(spots) != 1:
        return NEVER
    spot = spots.pop()
    return Progression(spot, Fraction(0)) if (a + b * spot).on_grid(grid) else NEVER
