"""The strips of a strip unit: all as long as those of its narrowest cloth, or half as long."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.making import PieceCut
from patternkit.piecing.names import HALF_STRIP, SHORT_STRIP, Name

SQUARING = Length(Fraction(1, 4))
"""Inches of a strip unit that squaring up its end takes (chosen here, no source)."""


def shortest(cuts: Sequence[PieceCut], usable: Mapping[str, Length]) -> Length:
    """How long a strip unit is: as long as the strips of its narrowest cloth (`usable` width, by fabric)."""
    return min(usable[c.fabric] for c in cuts)


def to_length(cut: PieceCut, cuts: Sequence[PieceCut], usable: Mapping[str, Length], ruler: Fraction) -> PieceCut:
    """A strip of a unit that is sewn from `cuts`: one across the cloth, or cut to the unit's length where a strip
    across this cloth gives more than one such."""
    long = Length(shortest(cuts, usable).floor_to(ruler))
    return cut if usable[cut.fabric] < long * 2 else _cut(cut, long, SHORT_STRIP)


def half_strip(cut: PieceCut, cuts: Sequence[PieceCut], usable: Mapping[str, Length], ruler: Fraction) -> PieceCut:
    """A strip of a last strip unit that is half as long as the others; two come from a strip across the cloth."""
    return _cut(cut, Length((shortest(cuts, usable) / 2).floor_to(ruler)), HALF_STRIP)


def _cut(cut: PieceCut, long: Length, name: Name) -> PieceCut:
    return msgspec.structs.replace(cut, width=long, exact_width=long, then="", name=name, fixed_grain=True)
