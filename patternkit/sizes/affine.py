"""Exact values that may still depend on a pattern's named lengths: ``side/3 + 1/2``."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Union

from patternkit.lengths import ONE, ZERO, Length, Number

AffineLike = Union["Affine", int, Fraction, Length]


class NotLinear(ValueError):
    """Raised when two values that depend on named lengths are multiplied, or one divides by such a value."""


class Affine:
    """A length in inches plus fixed multiples of named lengths (the pattern's parameters).

    Values are immutable and exact. Two are equal when they are the same length for every value of the parameters.
    """

    __slots__ = ("coefs", "const")

    const: Length
    coefs: dict[str, Length]  # no zero coefficients; never changed after it is made

    def __init__(self, const: Number = 0, coefs: Mapping[str, Number] | None = None) -> None:
        self.const = const if isinstance(const, Length) else Length(const)
        self.coefs = (
            {} if not coefs else {name: c if isinstance(c, Length) else Length(c) for name, c in coefs.items() if c}
        )

    @classmethod
    def parameter(cls, name: str) -> Affine:
        """The value of one named length, whatever it is."""
        return cls(ZERO, {name: ONE})

    @classmethod
    def of(cls, value: AffineLike) -> Affine:
        """A plain number as such a value; one that already is comes back unchanged."""
        return value if isinstance(value, Affine) else cls(value)

    # -- arithmetic ---------------------------------------------------------------------------------------
    def __add__(self, other: AffineLike) -> Affine:
        other = Affine.of(other)
        if not other.coefs:
            return _made(self.const + other.const, self.coefs)
        coefs = dict(self.coefs)
        for name, c in other.coefs.items():
            total = coefs.pop(name, ZERO) + c
            if total:
                coefs[name] = total
        return _made(self.const + other.const, coefs)

    __radd__ = __add__

    def __neg__(self) -> Affine:
        return _made(-self.const, {name: -c for name, c in self.coefs.items()})

    def __sub__(self, other: AffineLike) -> Affine:
        return self + (-Affine.of(other))

    def __rsub__(self, other: AffineLike) -> Affine:
        return (-self) + other

    def __mul__(self, other: AffineLike) -> Affine:
        other = Affine.of(other)
        if other.coefs:
            if self.coefs:
                raise NotLinear(f"({self.text()}) times ({other.text()})")
            self, other = other, self
        factor = other.const
        if not factor:
            return _made(ZERO, {})
        return _made(self.const * factor, {name: c * factor for name, c in self.coefs.items()})

    __rmul__ = __mul__

    def __truediv__(self, other: AffineLike) -> Affine:
        """Divide by a plain number; raises NotLinear for one with parameters, ZeroDivisionError for zero."""
        other = Affine.of(other)
        if other.coefs:
            raise NotLinear(f"({self.text()}) divided by ({other.text()})")
        return self * other.const.inverse()

    def __rtruediv__(self, other: AffineLike) -> Affine:
        return Affine.of(other) / self

    # -- asking -------------------------------------------------------------------------------------------
    @property
    def is_constant(self) -> bool:
        """True when no parameter is left in it."""
        return not self.coefs

    def value(self, env: Mapping[str, Length]) -> Length:
        """The length when the parameters have these values; raises KeyError naming a parameter not given."""
        total = self.const
        for name, c in self.coefs.items():
            total = total + c * env[name]
        return total

    def at(self, env: Mapping[str, Length]) -> Affine:
        """The same with those parameters that `env` knows put in, the others left open."""
        const, left = self.const, {}
        for name, c in self.coefs.items():
            if name in env:
                const = const + c * env[name]
            else:
                left[name] = c
        return _made(const, left)

    def text(self, show: Callable[[Length], str] | None = None) -> str:
        """In words of the language: ``side/3 + 1/2``; `show` prints the plain length."""
        show = show or _plain
        out = ""
        for name, c in self.coefs.items():
            sign = c.sign()
            out += (" - " if sign < 0 else " + ") if out else ("-" if sign < 0 else "")
            out += _multiple(name, abs(c))
        if not self.coefs:
            return show(self.const)
        if self.const:
            out += (" - " if self.const.sign() < 0 else " + ") + show(abs(self.const))
        return out

    def __bool__(self) -> bool:
        return bool(self.const) or bool(self.coefs)

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Affine):
            return self.const == other.const and self.coefs == other.coefs
        if isinstance(other, (int, Fraction, Length)):
            return not self.coefs and self.const == other
        return NotImplemented

    def __hash__(self) -> int:
        return hash(self.const) if not self.coefs else hash((self.const, frozenset(self.coefs.items())))

    def __repr__(self) -> str:
        return f"Affine({self.text()})"


def _made(const: Length, coefs: dict[str, Length]) -> Affine:
    new = object.__new__(Affine)
    new.const, new.coefs = const, coefs
    return new


def _plain(value: Length) -> str:
    from patternkit.units import IMPERIAL, number

    return number(value, IMPERIAL)


def _multiple(name: str, c: Length) -> str:
    if not c.is_fraction:
        near = c.round_to(Fraction(1, 1000))
        return f"{near.numerator / near.denominator:.3f}*{name} (about)"
    top, bottom = c.q.numerator, c.q.denominator
    return (f"{top}*" if top != 1 else "") + name + (f"/{bottom}" if bottom != 1 else "")
