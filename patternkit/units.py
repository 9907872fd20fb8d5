"""The writer's units: how lengths are read from and printed to inches, centimetres and millimetres.

The five units of the language are exact by definition (1 in = 25.4 mm since the international yard of 1959) and are
kept here as fractions, so that a check does not load a units library. Any other unit name (``ft``, ``yards``,
``centimetres``) is looked up with pint by `inches_in`.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

import msgspec

from patternkit.lengths import Length

if TYPE_CHECKING:
    import pint

INCHES_IN: dict[str, Fraction] = {
    "in": Fraction(1),
    '"': Fraction(1),
    "yd": Fraction(36),
    "mm": Fraction(10, 254),
    "cm": Fraction(100, 254),
    "m": Fraction(10000, 254),
}


class Units(msgspec.Struct, frozen=True):
    """How a pattern writes lengths: the unit's name, sign and inches, the ruler's grid (inches), printing."""

    name: str
    sign: str
    inches: Fraction
    grid: Fraction
    decimals: bool


IMPERIAL = Units("inches", "in", Fraction(1), Fraction(1, 8), False)
CENTIMETRES = Units("cm", "cm", INCHES_IN["cm"], INCHES_IN["mm"], True)
MILLIMETRES = Units("mm", "mm", INCHES_IN["mm"], INCHES_IN["mm"], True)
SYSTEMS = {"inches": IMPERIAL, "cm": CENTIMETRES, "mm": MILLIMETRES}


def hair(units: Units) -> Length:
    """A difference that a hand can't see: 1/32 in, half a millimetre where lengths are metric."""
    return Length(INCHES_IN["mm"] / 2 if units.decimals else Fraction(1, 32))


@lru_cache(maxsize=64)
def inches_in(name: str) -> Fraction | None:
    """Inches in one of the named unit of length, exactly; None when no such unit of length is known."""
    if name in INCHES_IN:
        return INCHES_IN[name]
    if not name.isalpha():  # pint would read "2 in" or "in/yd" as something, and not as what the writer means
        return None
    try:
        return Fraction(_registry().Quantity(Fraction(1), name).to("inch").magnitude)
    except Exception:  # pint raises many kinds for a word it does not know; all mean "no such unit"
        return None


@lru_cache(maxsize=1)
def _registry() -> pint.UnitRegistry[Fraction]:
    """Units of length alone, exact, with their long names and plurals."""
    import pint  # 0.2 s to load: only for unit names outside the language's own five

    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(None, non_int_type=Fraction)
    for line in (
        "inch = [length] = in = inches",
        "foot = 12 * inch = ft = feet",
        "yard = 36 * inch = yd",
        "millimetre = 10 / 254 * inch = mm = millimeter",
        "centimetre = 10 * mm = cm = centimeter",
        "metre = 1000 * mm = m = meter",
    ):
        registry.define(line)
    return registry


def mixed(value: Fraction) -> str:
    """A fraction the way the trade prints it: ``1 1/4``, ``5/8``, ``3``, ``-1/2``."""
    sign, value = ("-", -value) if value < 0 else ("", value)
    whole, rest = divmod(value.numerator, value.denominator)
    part = f"{rest}/{value.denominator}" if rest else ""
    return sign + (f"{whole} {part}" if whole and part else part or str(whole))


def decimal(value: Fraction, places: int = 2) -> str:
    """A fraction as decimals, the nearest with that many places, without trailing zeros."""
    scaled = value * 10**places
    n = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    sign, n = ("-", -n) if n < 0 else ("", n)
    text = f"{n // 10**places}.{n % 10**places:0{places}d}" if places else str(n)
    return sign + (text.rstrip("0").rstrip(".") if "." in text else text)


WORTH_A_FRACTION = Length(Fraction(1, 8))
"""Inches below which a difference is not told in rounded sixteenths."""


def number(value: Length, units: Units) -> str:
    """A length in the writer's units without the unit's sign, by the one printing rule.

    Exact where the trade can write it (sixty-fourths or coarser; hundredths in metric); otherwise the nearest sixteenth
    (hundredth of a centimetre in metric) with ``about`` before it, so that a rounded number never looks exact.
    """
    own, near = value / units.inches, nearest(value, units)
    printed = decimal(near, 2 if units.sign == "cm" else 1) if units.decimals else mixed(near)
    return printed if own == near else f"about {printed}"


def nearest(value: Length, units: Units) -> Fraction:
    """The number, in the writer's units, that a length is printed as."""
    own = value / units.inches
    if units.decimals:
        return own.round_to(Fraction(1, 100 if units.sign == "cm" else 10))
    exact = own.is_fraction and 64 % own.q.denominator == 0
    return own.q if exact else own.round_to(Fraction(1, 16))


def show(value: Length, units: Units) -> str:
    """A length with its unit: ``1 1/4 in``, ``3.2 cm``."""
    return f"{number(value, units)} {units.sign}"


def finely(value: Length, units: Units) -> str:
    """A length with its unit in decimals, as fine as it takes to tell it from the lines of a ruler: a thousandth of an
    inch, a hundredth of a millimetre."""
    own = value / units.inches
    places = {"cm": 3, "mm": 2}.get(units.sign, 3)
    return f"{decimal(own.round_to(Fraction(1, 10**places)), places)} {units.sign}"


def apart(value: Length, units: Units) -> str:
    """How far two lengths are apart, with its unit: in decimals where the nearest fraction says little of it."""
    near = show(value, units)
    return f"about {finely(value, units)}" if near.startswith("about ") and value < WORTH_A_FRACTION else near


def show_size(width: Length, height: Length, units: Units) -> str:
    """Width before height, the unit once: ``3 1/2 x 6 1/2 in``."""
    return f"{number(width, units)} x {number(height, units)} {units.sign}"


def cloth_length(inches: Fraction, metric: bool) -> str:
    """A length of cloth as it is bought, in messages: ``1 1/4 yd``, ``1.2 m``."""
    return f"{decimal(inches * Fraction(254, 10000))} m" if metric else f"{mixed(inches / 36)} yd"
