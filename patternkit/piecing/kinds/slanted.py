"""Strip units that are cut across on the slant: the segment is a parallelogram, its upper left corner sharp.

On the table the strips lie one below the other and the cuts run from lower left to upper right (from upper left to
lower right for a mirror image). So that little is lost at the ends, the strips are staggered when they are sewn: each
begins further out than the one above it by what the cut leans over that strip.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

import msgspec

from patternkit.lengths import ONE, SQRT2, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import option
from patternkit.piecing.making import Numbers, Outline
from patternkit.piecing.shapes import SLOPES, called
from patternkit.piecing.unknowns import Unknown, of_unit
from patternkit.problems import Problem, Repair
from patternkit.syntax.statements import Num

if TYPE_CHECKING:
    from patternkit.piecing.forms import Form

STRAIGHT = 90
"""The angle between strips and cuts of a strip unit that is cut straight across."""
SINES: dict[int, Length] = {30: ONE / 2, 45: SQRT2 / 2, 60: SLOPES[60] / 2}
ANGLES = (45, 60, 30)
"""The angles that a ruler has a line for, the usual one first."""


class Slant(Numbers, frozen=True):
    """How a strip unit is cut on the slant: the `angle` between its strips and the cuts, how far apart these are square
    to each other (`width`, raw), how long the segment's `edge` along an outer strip finishes, and how far each strip
    but the first begins beyond the one above it (`steps`, on the ruler's lines). Its cuts run from lower left to upper
    right, unless it is a mirror image (`falls`). `lost` is what the slanted ends take of the unit's length in all."""

    angle: int
    width: Length
    edge: Length
    steps: tuple[Length, ...]
    lost: Length
    falls: bool = False

    @property
    def segment_width(self) -> Length:
        """How wide a segment is cut."""
        return self.width

    @property
    def takes(self) -> Length:
        """What each segment takes of the strip unit's length."""
        return self.width / SINES[self.angle]

    def mirrored(self, width: Length) -> Slant:
        """It is cut, and its strips are staggered, the other way."""
        return msgspec.structs.replace(self, falls=not self.falls)


def slant_of(unit: Unit) -> int | Problem:
    """The angle of a unit's line ``slant``, `STRAIGHT` where it has none, or the problem with it."""
    stated = option(unit, "slant")
    if stated is None:
        return STRAIGHT
    words = [word for clause in stated.clauses for word in clause]
    if len(words) == 1 and isinstance(words[0], Num) and words[0].unit is None and words[0].value in ANGLES:
        return int(words[0].value)
    return Problem(
        "not-understood",
        f"In {called(unit)}, slant is followed by the angle between the strips and the cuts: 30, 45 or 60.",
        stated.span,
        causes=("For cuts straight across, no slant is written.",),
        repairs=(Repair("write slant 45", stated.span, "slant 45"),),
    )


def angle_of(unit: Unit) -> int:
    """The angle of a unit's cuts, `STRAIGHT` where it is not understood."""
    found = slant_of(unit)
    return STRAIGHT if isinstance(found, Problem) else found


def segment_of(unit: Unit) -> Unknown:
    """The finished width of a slanted segment, square to its cuts."""
    return of_unit(unit.key, "segment")


def lean(angle: int) -> Length:
    """How far a cut leans along the strips for each inch across them."""
    return ONE / SLOPES[angle]


def height_terms(angle: int) -> tuple[Length, Length]:
    """What a segment's box is high: so many times its width square to the cuts, and so many times that across its
    strips."""
    return ONE / SINES[angle], lean(angle)


def form(unit: Unit, width: Unknown) -> Form:
    """The outline of a segment in terms of its width and how wide it is square to its cuts."""
    from patternkit.piecing.forms import NOTHING, size  # only cuts on the slant need it

    across, (per_segment, per_width) = size(width, 4.0), height_terms(angle_of(unit))
    edge = size(segment_of(unit), 2.0) * per_segment
    fall = across * per_width
    return (NOTHING, NOTHING), (across, fall), (across, fall + edge), (NOTHING, edge)


def outline(angle: int, left: Length, right: Length, edge: Length) -> Outline:
    """What lies between two lines along the strips, as it is drawn with them upright."""
    k = lean(angle)
    return (left, left * k), (right, right * k), (right, right * k + edge), (left, left * k + edge)


def staggered(heights: Sequence[Length], seam: Length, angle: int, grid: Fraction) -> tuple[tuple[Length, ...], Length]:
    """How far each strip but the first is moved out against the one above it, and what the ends take of the length of
    strips that are equally long; `heights` are raw.

    A strip begins where the line of a cut, drawn through the upper raw corner of the first, meets its own upper raw
    edge, as near as the ruler has a line. What is left is between the cut that clears the lower corner of every strip
    at the one end, and the one that clears the upper corners at the other.
    """
    k, at, tops = lean(angle), ZERO, list[Length]()
    for high in heights:
        tops.append(at)
        at = at + high - seam * 2
    begins = [Length(((top * k) / grid + Fraction(1, 2)).floor_to(Fraction(1)) * grid) for top in tops]
    low = max((top + high) * k - out for top, high, out in zip(tops, heights, begins, strict=True))
    high = min(top * k - out for top, out in zip(tops, begins, strict=True))
    return tuple(b - a for a, b in pairwise(begins)), low - high
