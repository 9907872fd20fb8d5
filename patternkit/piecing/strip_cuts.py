"""How long strips across the cloth are, and what pieces and strip units may take of them once an end is squared up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.piecing.making import PieceCut
from patternkit.piecing.names import HALF_STRIP, SHORT_STRIP, Name


class Widths(msgspec.Struct, frozen=True):
    """By fabric the `usable` width, and what is kept of it for `squaring` up; `ruler` is the ruler's step. Inches.

    A strip unit is as long as the strips of its narrowest cloth, less the most that squaring up takes of any.
    """

    usable: Mapping[str, Length] = {}
    squaring: Mapping[str, Length] = {}
    ruler: Fraction = Fraction(1, 8)

    def across(self, fabric: str) -> Length:
        """What pieces cut from one strip may take of it."""
        return self.usable[fabric] - self.squaring.get(fabric, ZERO)

    def trimmed(self, cuts: Sequence[PieceCut]) -> Length:
        """What squaring up takes of a strip unit sewn from `cuts`."""
        return max(self.squaring.get(c.fabric, ZERO) for c in cuts)

    def whole(self, cuts: Sequence[PieceCut]) -> Length:
        """How long the strips of a strip unit are."""
        long = min(self.usable[c.fabric] for c in cuts)
        short = Length(long.floor_to(self.ruler))
        return short if any(self.across(c.fabric) >= short * 2 for c in cuts) else long

    def half(self, cuts: Sequence[PieceCut]) -> Length:
        """How long half strips are: two of them, cut from each of the strips."""
        return Length((min(self.across(c.fabric) for c in cuts) / 2).floor_to(self.ruler))

    def room(self, cuts: Sequence[PieceCut], half: bool = False) -> Length:
        """What is cut out of a strip unit may take of its length; with `half` of one that is sewn from half strips."""
        return (self.half(cuts) if half else self.whole(cuts)) - self.trimmed(cuts)


def to_length(cut: PieceCut, cuts: Sequence[PieceCut], widths: Widths, taken: Length | None = None) -> PieceCut:
    """A strip of a unit that is sewn from `cuts`: one across the cloth, or cut to the unit's length where a strip
    across this cloth gives more than one such. That is what is `taken` of it once its end is squared up, where no more
    is in any."""
    long = Length(widths.whole(cuts).floor_to(widths.ruler))
    if taken is not None:
        long = min(long, Length((taken + widths.trimmed(cuts)).ceil_to(widths.ruler)))
    return cut if widths.across(cut.fabric) < long * 2 else _cut(cut, long, SHORT_STRIP)


def half_strip(cut: PieceCut, cuts: Sequence[PieceCut], widths: Widths) -> PieceCut:
    """A strip of a last strip unit that is half as long as the others; two come from a strip across the cloth."""
    return _cut(cut, widths.half(cuts), HALF_STRIP)


def _cut(cut: PieceCut, long: Length, name: Name) -> PieceCut:
    return msgspec.structs.replace(cut, width=long, exact_width=long, then="", name=name, fixed_grain=True)
