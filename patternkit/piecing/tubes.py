"""Strip units sewn to a tube: the last strip is sewn to the first, rings are cut across, and each ring is opened at a
seam, so that segments of one tube begin with one strip or another.

Segments come from one tube where their strips are the same but for where they begin. They are pressed once they are
open, each as its place in the quilt wants it.
"""

from __future__ import annotations

from typing import Literal

from patternkit.lengths import Length
from patternkit.piecing.making import Making, Seam

Pressed = Literal["low", "high", "open", "free"]


def lies(seam: Seam) -> Pressed:
    """To which side of the strip unit a seam is pressed: that of the smaller x or of the larger, whichever way it is
    sewn."""
    if seam.pressed in ("open", "free"):
        return seam.pressed
    up = seam.end[1] - seam.start[1] < 0  # walking up, with y down, the smaller x is on the left
    return "low" if (seam.pressed == "left") == up else "high"


def strips_of(making: Making) -> list[tuple[str, Length]]:
    """Fabric and width of each strip, from the first to the last."""
    found = []
    for part in making.parts:
        along = [p[0] for p in part.place.outline(part.what.outline)]
        low = min(along)
        found.append((low, getattr(part.what, "fabric", ""), max(along) - low))
    return [(fabric, width) for _, fabric, width in sorted(found)]


def pressings(making: Making) -> list[Pressed]:
    """To which side each seam is pressed, from the first to the last."""
    return [lies(s) for s in sorted(making.seams, key=lambda s: s.start[0])]


def tube_key(making: Making) -> object:
    """What the tube of a segment is, wherever it is opened."""
    strips = strips_of(making)
    return min(tuple(strips[i:] + strips[:i]) for i in range(len(strips)))


def begins_at(first: Making, other: Making) -> int:
    """The strip of a segment `first`, by its number from 0, with which another segment of the same tube begins."""
    strips, own = strips_of(first), strips_of(other)
    return next((by for by in range(len(strips)) if own == strips[by:] + strips[:by]), 0)


def pressed_to(making: Making, begins: int) -> tuple[int, ...]:
    """For each seam of a segment that begins with a strip of its tube the strip of that to whose side it is pressed, by
    its number; -1 where it is pressed open."""
    n = len(making.parts)
    sides = {"low": 0, "high": 1}
    return tuple((i + sides[way] + begins) % n if way in sides else -1 for i, way in enumerate(pressings(making)))
