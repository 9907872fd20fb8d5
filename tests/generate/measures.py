"""Units, seams, rulers and numbers of a made pattern, as a writer types them. Plain fractions in the file's unit."""

from __future__ import annotations

import math
from fractions import Fraction
from random import Random

import msgspec

SEAMS = {
    "inches": ("1/4", "1/8", "3/16", "3/8", "1/2", "5/8"),
    "cm": ("0.75", "0.4", "0.5", "0.7", "1", "1.5"),
    "mm": ("7", "4", "6", "6.5", "10", "15"),
}
RULERS = {
    "inches": ("1/8", "1/16", "1/4", "1/2"),
    "cm": ("0.1", "0.25", "0.5"),
    "mm": ("1", "2.5", "5"),
}
FINE = {"inches": "1/16", "cm": "0.1", "mm": "1"}
WIDTHS = {"inches": ("40", "42", "43 1/4", "36"), "cm": ("105", "110", "112.5"), "mm": ("1050", "1100", "1480")}
SOLD = {"inches": ("1/8 yd", "1/4 yd", "1 in", "1/2 m"), "cm": ("10 cm", "5 cm", "1/4 m"), "mm": ("100 mm", "50 mm")}
SIGNS = {"inches": "in", "cm": "cm", "mm": "mm"}
GLYPHS = {Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾"}
INCH = {"inches": Fraction(1), "cm": Fraction(254, 100), "mm": Fraction(254, 10)}


def number(text: str) -> Fraction:
    """A number of one of the tables above."""
    return sum((Fraction(part) for part in text.split()), Fraction(0))


class Measures(msgspec.Struct, frozen=True):
    """What the numbers of one pattern are made of."""

    units: str
    seam: Fraction
    ruler: Fraction
    usable: Fraction

    @property
    def inch(self) -> Fraction:
        """One inch in the file's unit."""
        return INCH[self.units]

    @property
    def least(self) -> Fraction:
        """A side that a small piece may well have: enough beside two seams, on the ruler."""
        return self.up(max(self.seam * 3, self.inch * 3 / 4))

    def down(self, value: Fraction) -> Fraction:
        """The line of the ruler at a length or before it."""
        return math.floor(value / self.ruler) * self.ruler

    def lies(self, value: Fraction) -> bool:
        """Whether a length is on the ruler."""
        return not value % self.ruler

    def up(self, value: Fraction | float) -> Fraction:
        """The next line of the ruler."""
        return math.ceil(value / self.ruler) * self.ruler

    def raw(self, value: Fraction) -> Fraction:
        """Raw edge to raw edge."""
        return value + self.seam * 2


def measures(shape: Random, plain: bool) -> Measures:
    """The measures of a pattern: the trade's usual ones when it is to be plain."""
    units = "inches" if plain else shape.choice(("inches", "inches", "cm", "mm"))
    pick = (lambda texts: texts[0]) if plain else shape.choice
    seam, usable = number(pick(SEAMS[units])), number(pick(WIDTHS[units]))
    fine = [r for r in RULERS[units] if not (seam * 2) % number(r)]  # raw sizes lie on these where finished ones do
    return Measures(units, seam, number(pick(fine if shape.random() < 0.95 else RULERS[units])), usable)


def typed(value: Fraction) -> str:
    """A number as most writers type it: mixed, or with a point where it ends soon and is no eighth."""
    whole, rest = divmod(value, 1)
    if rest.denominator in (5, 10, 20, 25, 40, 50, 100, 200):
        return f"{float(value):.4f}".rstrip("0").rstrip(".")
    return f"{whole} {rest}" if whole and rest else str(rest or whole)


def spelled(value: Fraction, m: Measures, numbers: Random, pair: bool = False) -> str:
    """A number in one of its spellings; a unit stands behind it now and then, but not where it is one of a pair."""
    whole, rest = divmod(value, 1)
    ways = [typed(value)] * 12
    if whole and rest:
        ways += [f"{whole}-{rest}", f"{value}"]
    if (value * 1000).denominator == 1:
        ways.append(f"{float(value):.3f}".rstrip("0").rstrip("."))
    if m.units == "inches" and not pair:
        ways += [f'{typed(value)}"', f"{typed(value)} in"]
    if m.units == "inches" and rest in GLYPHS:
        ways.append(f"{whole or ''}{GLYPHS[rest]}")
    if m.units == "cm" and not pair:
        ways.append(f"{typed(value * 10)} mm")
    return numbers.choice(ways)


def split(numbers: Random, whole: Fraction, count: int, m: Measures, even: bool) -> list[Fraction]:
    """A length in so many parts of whole ruler lines, equal ones where that can be; of equal parts between the lines
    where there is no room for others."""
    lines = int(whole / m.ruler)
    least = int(m.least / m.ruler)
    if (even and not (whole / count) % m.ruler) or lines < count * least + count or whole % m.ruler:
        return [whole / count] * count
    spare = lines - count * least
    cuts = sorted(numbers.randint(0, spare) for _ in range(count - 1))
    return [(b - a + least) * m.ruler for a, b in zip([0, *cuts], [*cuts, spare], strict=True)]
