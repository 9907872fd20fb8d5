"""Exact lengths: fractions, and the square roots that angles need.

A `Length` is a sum of fractions times square roots of whole numbers, such as ``3 + 7/8`` or ``12*sqrt(2)``.
The square roots of different square-free whole numbers are independent over the fractions (A. S. Besicovitch,
"On the linear independence of fractional powers of integers", 1940), so a sum is zero only when every
coefficient is zero, and the sign of any other sum can be settled by refining a whole-number estimate.
Lengths are inches inside the program; the writer's own units are applied at the edges (`patternkit.units`).
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import gcd, isqrt
from typing import Union

Number = Union[int, Fraction, "Length"]

_BITS = 64  # first precision tried when the sign of a sum of roots is asked for


class Length:
    """An exact real number ``q + sum(c * sqrt(n))`` with fractions ``q``, ``c`` and square-free ``n > 1``."""

    __slots__ = ("q", "roots")

    q: Fraction
    roots: tuple[tuple[int, Fraction], ...]  # sorted by radicand, no zero coefficients

    def __init__(self, value: Number | str = 0) -> None:
        """Take a whole number, a fraction, another length, or a fraction as text (``"7/8"``)."""
        if isinstance(value, Length):
            self.q, self.roots = value.q, value.roots
        else:
            self.q, self.roots = Fraction(value), ()

    @classmethod
    def _make(cls, q: Fraction, roots: tuple[tuple[int, Fraction], ...]) -> Length:
        new = object.__new__(cls)
        new.q, new.roots = q, roots
        return new

    # -- arithmetic ---------------------------------------------------------------------------------------
    def __add__(self, other: Number) -> Length:
        if not isinstance(other, Length):
            return Length._make(self.q + other, self.roots)
        if not other.roots:
            return Length._make(self.q + other.q, self.roots)
        if not self.roots:
            return Length._make(self.q + other.q, other.roots)
        return Length._make(self.q + other.q, _merge(self.roots, other.roots))

    __radd__ = __add__

    def __neg__(self) -> Length:
        return Length._make(-self.q, tuple((n, -c) for n, c in self.roots))

    def __sub__(self, other: Number) -> Length:
        return self + (-other)

    def __rsub__(self, other: Number) -> Length:
        return (-self) + other

    def __mul__(self, other: Number) -> Length:
        if not isinstance(other, Length):
            other = Length(other)
        if not other.roots:
            return self._scaled(other.q)
        if not self.roots:
            return other._scaled(self.q)
        q = self.q * other.q
        parts: dict[int, Fraction] = {}
        for n, c in self.roots:
            parts[n] = parts.get(n, Fraction(0)) + c * other.q
        for n, c in other.roots:
            parts[n] = parts.get(n, Fraction(0)) + c * self.q
        for n, c in self.roots:
            for m, d in other.roots:
                g = gcd(n, m)
                k = (n // g) * (m // g)
                if k == 1:
                    q += c * d * g
                else:
                    parts[k] = parts.get(k, Fraction(0)) + c * d * g
        return Length._make(q, tuple(sorted((n, c) for n, c in parts.items() if c)))

    __rmul__ = __mul__

    def _scaled(self, f: Fraction) -> Length:
        if not f:
            return ZERO
        return Length._make(self.q * f, tuple((n, c * f) for n, c in self.roots))

    def __truediv__(self, other: Number) -> Length:
        if not isinstance(other, Length):
            return self._scaled(1 / Fraction(other))
        return self * other.inverse()

    def __rtruediv__(self, other: Number) -> Length:
        return self.inverse() * other

    def inverse(self) -> Length:
        """One over this length, by multiplying with conjugates until the bottom is a fraction.

        Raises ZeroDivisionError for zero.
        """
        top, bottom = ONE, self
        while bottom.roots:
            prime = _a_prime_of(bottom.roots[0][0])
            turned = Length._make(
                bottom.q, tuple((n, -c if n % prime == 0 else c) for n, c in bottom.roots))
            top, bottom = top * turned, bottom * turned
        return top._scaled(1 / bottom.q)

    def sqrt(self) -> Length:
        """The exact square root, where it is again a length; raises ValueError where it is not.

        Fractions always work; a sum ``a + b*sqrt(n)`` works when it is the square of such a sum.
        """
        if not self.roots:
            return root(self.q)
        if len(self.roots) == 1:
            n, b = self.roots[0]
            inner = self.q * self.q - b * b * n
            if inner >= 0:
                half = root(inner)
                if not half.roots:
                    x, y = (self.q + half.q) / 2, (self.q - half.q) / 2
                    if x >= 0 and y >= 0:
                        return root(x) + root(y) if b > 0 else root(x) - root(y)
        raise ValueError(f"no exact square root of {self!r}")

    # -- order --------------------------------------------------------------------------------------------
    def sign(self) -> int:
        """-1, 0 or 1, exactly."""
        if not self.roots:
            return (self.q > 0) - (self.q < 0)
        bits = _BITS
        while True:
            low, high = self._bounds(bits)
            if low > 0:
                return 1
            if high < 0:
                return -1
            bits *= 2

    def _bounds(self, bits: int) -> tuple[int, int]:
        """Whole numbers around this length times a common positive scale, closer together with more bits."""
        bottom = self.q.denominator
        for _, c in self.roots:
            bottom = bottom * c.denominator // gcd(bottom, c.denominator)
        low = high = (self.q.numerator * (bottom // self.q.denominator)) << bits
        for n, c in self.roots:
            k = c.numerator * (bottom // c.denominator)
            whole = isqrt(n * k * k << (2 * bits))
            low, high = (low + whole, high + whole + 1) if k > 0 else (low - whole - 1, high - whole)
        return low, high

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Length):
            return self.q == other.q and self.roots == other.roots
        if isinstance(other, (int, Fraction)):
            return not self.roots and self.q == other
        return NotImplemented

    def __hash__(self) -> int:
        return hash(self.q) if not self.roots else hash((self.q, self.roots))

    def __lt__(self, other: Number) -> bool:
        return (self - other).sign() < 0

    def __le__(self, other: Number) -> bool:
        return (self - other).sign() <= 0

    def __gt__(self, other: Number) -> bool:
        return (self - other).sign() > 0

    def __ge__(self, other: Number) -> bool:
        return (self - other).sign() >= 0

    def __bool__(self) -> bool:
        return bool(self.q) or bool(self.roots)

    def __abs__(self) -> Length:
        return -self if self.sign() < 0 else self

    def __float__(self) -> float:
        """The nearest float, for drawing only."""
        if not self.roots:
            return float(self.q)
        return float(self.q) + sum(float(c) * float(n) ** 0.5 for n, c in self.roots)

    def __repr__(self) -> str:
        parts = [str(self.q)] if self.q or not self.roots else []
        parts += [f"{c}*sqrt({n})" for n, c in self.roots]
        return f"Length({' + '.join(parts)})"

    # -- rounding -----------------------------------------------------------------------------------------
    @property
    def is_fraction(self) -> bool:
        """True when no square root is left in it."""
        return not self.roots

    @property
    def fraction(self) -> Fraction:
        """The value as a fraction; raises ValueError when a root is left."""
        if self.roots:
            raise ValueError(f"{self!r} is not a fraction")
        return self.q

    def floor_to(self, grid: Fraction) -> Fraction:
        """The largest multiple of `grid` (> 0) that is not above this length."""
        scaled = self / grid
        if not scaled.roots:
            return (scaled.q.numerator // scaled.q.denominator) * grid
        guess = int(float(scaled))  # a float is a first guess only; the exact order settles it
        while scaled < guess:
            guess -= 1
        while scaled >= guess + 1:
            guess += 1
        return guess * grid

    def ceil_to(self, grid: Fraction) -> Fraction:
        """The smallest multiple of `grid` (> 0) that is not below this length: the rule for every cut."""
        down = self.floor_to(grid)
        return down if self == down else down + grid

    def round_to(self, grid: Fraction) -> Fraction:
        """The nearest multiple of `grid`; a half goes up."""
        return (self + grid / 2).floor_to(grid)

    def on_grid(self, grid: Fraction) -> bool:
        """True when this length is a whole multiple of `grid`."""
        return not self.roots and (self.q / grid).denominator == 1


def _merge(a: tuple[tuple[int, Fraction], ...],
           b: tuple[tuple[int, Fraction], ...]) -> tuple[tuple[int, Fraction], ...]:
    sums = dict(a)
    for n, c in b:
        sums[n] = sums.get(n, Fraction(0)) + c
    return tuple(sorted((n, c) for n, c in sums.items() if c))


@lru_cache(maxsize=4096)
def _a_prime_of(n: int) -> int:
    p = 2
    while p * p <= n:
        if n % p == 0:
            return p
        p += 1
    return n


@lru_cache(maxsize=4096)
def _square_part(n: int) -> tuple[int, int]:
    """Split ``n`` into ``k`` and square-free ``m`` with ``n == k*k*m``."""
    whole = isqrt(n)
    if whole * whole == n:
        return whole, 1
    k, m, p = 1, n, 2
    while p * p <= m:
        while m % (p * p) == 0:
            m //= p * p
            k *= p
        p += 1
    return k, m


def root(value: int | Fraction) -> Length:
    """The exact square root of a fraction that is not negative (raises ValueError for a negative one)."""
    f = Fraction(value)
    if f < 0:
        raise ValueError("no square root of a negative number")
    k, m = _square_part(f.numerator * f.denominator)
    c = Fraction(k, f.denominator)
    return Length._make(c, ()) if m == 1 else Length._make(Fraction(0), ((m, c),))


def ceil_fraction(value: Fraction) -> int:
    """The smallest whole number not below `value`."""
    return -(-value.numerator // value.denominator)


ZERO = Length(0)
ONE = Length(1)
SQRT2 = root(2)
SQRT3 = root(3)
