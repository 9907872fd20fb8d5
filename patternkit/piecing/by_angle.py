"""Shapes that a ruler with angle lines cuts from a strip as high as they are, without a template: triangles of equal
sides, and diamonds.

The lower edge of the strip and the line of the ruler give one side; the tip of the triangle before it, or a distance as
large as the strip is high, gives the next. So the strip's height is the only length, and it must lie on the ruler.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from patternkit.lengths import SQRT2, Length
from patternkit.piecing.making import Outline, PieceCut
from patternkit.piecing.offset import bounding_box, cross, dot, edges

TWICE = {60: (Length(1), Length(3)), 45: (Length(1), Length(1))}
"""For an angle of the ruler: the squares of its cosine and its sine, by a common factor."""


@lru_cache(maxsize=512)
def ruler_angle(outline: Outline, grid: Fraction) -> int:
    """The angle, 60 or 45, at which a raw outline is cut by a ruler from a strip as high as it is; 0 where it is no
    such shape as it lies, or that height lies between the ruler's lines."""
    low, high = bounding_box(outline)
    return _angle(outline) if (high[1] - low[1]).on_grid(grid) else 0


def bias_strip(outline: Outline, sewn: Outline) -> tuple[Length, Length] | None:
    """How wide and how long a strip is that lies on the cloth at 45 degrees and is cut as it is told, no template
    needed; None for any other shape."""
    sides = edges(outline)
    if outline != sewn or len(sides) != 4 or any(x * x != y * y or not x for x, y in sides):
        return None
    if any(dot(sides[i - 1], side) for i, side in enumerate(sides)):
        return None
    lengths = sorted(abs(x) * SQRT2 for x, _ in sides[:2])
    return lengths[0], lengths[1]


def cut_angle(cut: PieceCut) -> int:
    """The same of a cut that may lie in a strip as high as its box."""
    return _angle(cut.shape) if cut.then == "template" and cut.exact_height == cut.height else 0


def _angle(outline: Outline) -> int:
    sides = edges(outline)
    equal = len({dot(side, side) for side in sides}) == 1
    level = [side for side in sides if not side[1]]
    if len(sides) not in (3, 4) or not equal or not level:
        return 0
    slanting = [side for side in sides if side[1]]
    for angle, (across, up) in TWICE.items():
        if all(x * x * up == y * y * across for x, y in slanting) and (len(sides) == 4 or angle == 60):
            parallel = len(sides) == 3 or not cross(slanting[0], slanting[1])
            return angle if parallel else 0
    return 0
