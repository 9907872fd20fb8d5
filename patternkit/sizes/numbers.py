"""Small exact arithmetic for the solver: whole numbers while that is enough, then fractions, then lengths.

Whole numbers are some ten times quicker than fractions, and nearly every coefficient of a pattern is 1 or -1. Mixed
sums and products of the three kinds work by themselves; only division must not fall back on floats.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from patternkit.lengths import Length, Number

Exact = Any  # int, Fraction or Length; mixed operators between them defeat a static type


def lower(value: Number) -> Exact:
    """The same number as the simplest of the three kinds."""
    if type(value) is int:
        return value
    if isinstance(value, Length):
        if value.roots:
            return value
        value = value.q
    return value.numerator if value.denominator == 1 else value


def divided(a: Exact, b: Exact) -> Exact:
    """``a / b`` exactly, as simple as possible; raises ZeroDivisionError."""
    if type(b) is int:
        if b == 1:
            return a
        if b == -1:
            return -a
        if type(a) is int:
            return a // b if a % b == 0 else Fraction(a, b)
    return lower(a / b)


def bits(value: Exact) -> int:
    """How large a number has grown: the binary digits of its largest part."""
    if type(value) is int:
        return value.bit_length()
    if isinstance(value, Length):
        return max(bits(x) for x in (value.q, *(c for _, c in value.roots)))
    fraction: Fraction = value
    return max(fraction.numerator.bit_length(), fraction.denominator.bit_length())
