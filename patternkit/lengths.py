"""Exact lengths: fractions, and the square roots that angles need.

A `Length` is a sum of fractions times square roots of whole numbers, such as ``3 + 7/8`` or ``12*sqrt(2)``. The square
roots of different square-free whole numbers are independent over the fractions (A. S. Besicovitch, "On the linear
independence of fractional powers of integers", 1940), so a sum is zero only when every coefficient is zero, and the
sign of any other sum can be settled by refining a whole-number estimate. Lengths are inches inside the program; the
writer's own units are applied at the edges (`patternkit.units`).
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import gcd, isqrt, lcm
from typing import Union

Number = Union[int, Fraction, "Length"]

_NONE = Fraction(0)
_LARGEST_TRIED = 100_000  # factors looked for: enough for all numbers up to a million billion
_BITS = 64  # first precision tried when the sign of a sum of roots is asked for


class Length:
    """An exact real number ``q + sum(c * sqrt(n))`` with fractions ``q``, ``c`` and square-free ``n > 1``."""

    # The fraction is kept as two whole numbers in lowest terms: sums of `Fraction` cost four times as much.
    __slots__ = ("_bottom", "_top", "roots")

    _top: int
    _bottom: int  # above zero
    roots: tuple[tuple[int, Fraction], ...]  # sorted by radicand, no zero coefficients

    def __init__(self, value: Number | str = 0) -> None:
        """Take a whole number, a fraction, another length, or a fraction as text (``"7/8"``)."""
        if isinstance(value, int):
            self._top, self._bottom, self.roots = int(value), 1, ()
        elif isinstance(value, Length):
            self._top, self._bottom, self.roots = value._top, value._bottom, value.roots
        else:
            if not isinstance(value, Fraction):
                if not isinstance(value, str):
                    raise TypeError(f"an exact number is needed, not {value!r}")
                value = Fraction(value)
            self._top, self._bottom, self.roots = value.numerator, value.denominator, ()

    @classmethod
    def _make(cls, q: Fraction, roots: tuple[tuple[int, Fraction], ...]) -> Length:
        return _length(q.numerator, q.denominator, roots)

    @property
    def q(self) -> Fraction:
        """The part without square roots."""
        return Fraction(self._top, self._bottom)

    # -- arithmetic ---------------------------------------------------------------------------------------
    def __add__(self, other: Number) -> Length:
        if isinstance(other, Length):
            top, bottom = other._top, other._bottom
            roots = self.roots or other.roots
            if self.roots and other.roots:
                roots = _merge(self.roots, other.roots)
        elif isinstance(other, (int, Fraction)):
            top, bottom, roots = other.numerator, other.denominator, self.roots
        else:
            return NotImplemented
        mine = self._bottom
        if mine == bottom:
            top += self._top
        else:
            top, bottom = top * mine + self._top * bottom, bottom * mine
        if bottom != 1:
            g = gcd(top, bottom)
            if g != 1:
                top, bottom = top // g, bottom // g
        return _length(top, bottom, roots)

    __radd__ = __add__

    def __neg__(self) -> Length:
        return _length(-self._top, self._bottom, tuple((n, -c) for n, c in self.roots) if self.roots else ())

    def __sub__(self, other: Number) -> Length:
        if not isinstance(other, (Length, int, Fraction)):
            return NotImplemented
        return self + (-other)

    def __rsub__(self, other: Number) -> Length:
        return (-self) + other

    def __mul__(self, other: Number) -> Length:
        if isinstance(other, Length):
            if other.roots:
                return _product(self, other) if self.roots else other._scaled(self._top, self._bottom)
            return self._scaled(other._top, other._bottom)
        if isinstance(other, (int, Fraction)):
            return self._scaled(other.numerator, other.denominator)
        return NotImplemented

    __rmul__ = __mul__

    def _scaled(self, top: int, bottom: int) -> Length:
        """This length times a fraction in lowest terms."""
        if not top:
            return ZERO
        roots = self.roots
        if roots:
            f = Fraction(top, bottom)
            roots = tuple((n, c * f) for n, c in roots)
        top, bottom = self._top * top, self._bottom * bottom
        if bottom != 1:
            g = gcd(top, bottom)
            if g != 1:
                top, bottom = top // g, bottom // g
        return _length(top, bottom, roots)

    def __truediv__(self, other: Number) -> Length:
        if isinstance(other, Length):
            return self * other.inverse()
        if isinstance(other, (int, Fraction)):
            f = 1 / Fraction(other)
            return self._scaled(f.numerator, f.denominator)
        return NotImplemented

    def __rtruediv__(self, other: Number) -> Length:
        return self.inverse() * other

    def inverse(self) -> Length:
        """One over this length, by multiplying with conjugates until the bottom is a fraction.

        Raises ZeroDivisionError for zero.
        """
        top, bottom = ONE, self
        while bottom.roots:
            part = _common_part([n for n, _ in bottom.roots])
            turned = _length(
                bottom._top, bottom._bottom, tuple((n, -c if n % part == 0 else c) for n, c in bottom.roots)
            )
            top, bottom = top * turned, bottom * turned
        f = 1 / bottom.q
        return top._scaled(f.numerator, f.denominator)

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
            return (self._top > 0) - (self._top < 0)
        bits = _BITS
        while True:
            low, high, _ = self._bounds(bits)
            if low > 0:
                return 1
            if high < 0:
                return -1
            bits *= 2

    def _bounds(self, bits: int) -> tuple[int, int, int]:
        """Whole numbers around this length times a scale, closer together with more bits, and the scale."""
        bottom = lcm(self._bottom, *(c.denominator for _, c in self.roots))
        low = high = (self._top * (bottom // self._bottom)) << bits
        for n, c in self.roots:
            k = c.numerator * (bottom // c.denominator)
            whole = isqrt(n * k * k << (2 * bits))
            low, high = (low + whole, high + whole + 1) if k > 0 else (low - whole - 1, high - whole)
        return low, high, bottom << bits

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Length):
            return self._top == other._top and self._bottom == other._bottom and self.roots == other.roots
        if isinstance(other, (int, Fraction)):
            return not self.roots and self._top == other.numerator and self._bottom == other.denominator
        return NotImplemented

    def __hash__(self) -> int:
        plain = hash(self._top) if self._bottom == 1 else hash(self.q)  # as an equal whole number or fraction
        return plain if not self.roots else hash((plain, self.roots))

    def __lt__(self, other: Number) -> bool:
        return _order(self, other) < 0

    def __le__(self, other: Number) -> bool:
        return _order(self, other) <= 0

    def __gt__(self, other: Number) -> bool:
        return _order(self, other) > 0

    def __ge__(self, other: Number) -> bool:
        return _order(self, other) >= 0

    def __bool__(self) -> bool:
        return self._top != 0 or bool(self.roots)

    def __abs__(self) -> Length:
        return -self if self.sign() < 0 else self

    def __float__(self) -> float:
        """The nearest float, for drawing only."""
        if not self.roots:
            return self._top / self._bottom
        bits = _BITS
        while True:  # parts may nearly cancel: whole numbers keep the digits that a sum of floats would lose
            low, high, scale = self._bounds(bits)
            if (high - low) << 60 < abs(low):
                return low / scale
            bits *= 2

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
            return (scaled._top // scaled._bottom) * grid
        bits = _BITS
        while True:  # it is no whole number, so the bounds come to lie between the same two
            low, high, scale = scaled._bounds(bits)
            if low // scale == high // scale:
                return (low // scale) * grid
            bits *= 2

    def ceil_to(self, grid: Fraction) -> Fraction:
        """The smallest multiple of `grid` (> 0) that is not below this length: the rule for every cut."""
        down = self.floor_to(grid)
        return down if self == down else down + grid

    def round_to(self, grid: Fraction) -> Fraction:
        """The nearest multiple of `grid`; a half goes up."""
        return (self + grid / 2).floor_to(grid)

    def on_grid(self, grid: Fraction) -> bool:
        """True when this length is a whole multiple of `grid`."""
        return not self.roots and self._top * grid.denominator % (self._bottom * grid.numerator) == 0


def _length(top: int, bottom: int, roots: tuple[tuple[int, Fraction], ...]) -> Length:
    """A length from a fraction in lowest terms and its roots."""
    new = object.__new__(Length)
    new._top, new._bottom, new.roots = top, bottom, roots
    return new


def _order(a: Length, b: Number) -> int:
    """Negative, zero or positive as `a` is below, at or above `b`."""
    if not a.roots:
        if isinstance(b, Length):
            if not b.roots:
                return a._top * b._bottom - b._top * a._bottom
        elif isinstance(b, (int, Fraction)):
            return a._top * b.denominator - b.numerator * a._bottom
    return (a - b).sign()


def _product(a: Length, b: Length) -> Length:
    """The product of two lengths that both have roots."""
    aq, bq = a.q, b.q
    q = aq * bq
    parts: dict[int, Fraction] = {}
    for n, c in a.roots:
        parts[n] = parts.get(n, _NONE) + c * bq
    for n, c in b.roots:
        parts[n] = parts.get(n, _NONE) + c * aq
    for n, c in a.roots:
        for m, d in b.roots:
            g = gcd(n, m)
            k = (n // g) * (m // g)
            if k == 1:
                q += c * d * g
            else:
                parts[k] = parts.get(k, _NONE) + c * d * g
    return Length._make(q, tuple(sorted((n, c) for n, c in parts.items() if c)))


def _merge(
    a: tuple[tuple[int, Fraction], ...], b: tuple[tuple[int, Fraction], ...]
) -> tuple[tuple[int, Fraction], ...]:
    sums = dict(a)
    for n, c in b:
        sums[n] = sums.get(n, _NONE) + c
    return tuple(sorted((n, c) for n, c in sums.items() if c))


def _common_part(numbers: list[int]) -> int:
    """A divisor above 1 of the first of these square-free numbers that divides each of the others or shares nothing
    with it. Turning the sign of its root alone is then a conjugation, as it is for a prime."""
    part = numbers[0]
    while True:
        smaller = next((g for n in numbers if 1 < (g := gcd(part, n)) < part), None)
        if smaller is None:
            return part
        part = smaller


@lru_cache(maxsize=4096)
def _square_part(n: int) -> tuple[int, int]:
    """Split ``n`` into ``k`` and square-free ``m`` with ``n == k*k*m``; ValueError if that takes too long.

    Prime factors are taken out up to the cube root; what is left then is a prime, two primes, or a square.
    """
    whole = isqrt(n)
    if whole * whole == n:
        return whole, 1
    k, m, rest, p = 1, 1, n, 2
    while p * p * p <= rest and p < _LARGEST_TRIED:
        while rest % (p * p) == 0:
            rest //= p * p
            k *= p
        if rest % p == 0:
            rest //= p
            m *= p
        p += 1
    whole = isqrt(rest)
    if whole * whole == rest:
        return k * whole, m
    if p * p * p <= rest:
        raise ValueError(f"the square root of {n} takes too long to work out exactly")
    return k, m * rest


def root(value: int | Fraction) -> Length:
    """The exact square root of a fraction that is not negative.

    Raises ValueError for a negative one, and for one too long for its square part to be found in good time.
    """
    f = Fraction(value)
    if f < 0:
        raise ValueError("no square root of a negative number")
    k, m = _square_part(f.numerator * f.denominator)
    c = Fraction(k, f.denominator)
    return Length._make(c, ()) if m == 1 else _length(0, 1, ((m, c),))


def ceil_fraction(value: Fraction) -> int:
    """The smallest whole number not below `value`."""
    return -(-value.numerator // value.denominator)


ZERO = Length(0)
ONE = Length(1)
SQRT2 = root(2)
SQRT3 = root(3)
