"""Blocks on point seen in a mirror: rows are sewn from their lower left end again.

Seen in a mirror (left to right) diagonal rows run down instead of up. A quarter turn back they run up again: that is
the setting mirrored about its diagonal from the upper left to the lower right. Each row then keeps its place among the
rows, and is mirrored along itself, its pieces in reverse order.
"""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.making import Making, Outline, Placed, Point, Recipe, Seam, Side

TURN = 90
"""How far the making below has to be turned to be the mirror image."""
CENTRE = "on-point"
_OTHER: dict[Side, Side] = {"left": "right", "right": "left", "open": "open", "free": "free"}

MirrorPart = Callable[[Placed, Length], Placed]
"""A part of a whole so wide, seen in a mirror."""


def image(making: Making, part: MirrorPart, recipe: Recipe) -> tuple[Making, int]:
    """A setting on point, or a row of one, seen in a mirror, and the turn to lay it with."""
    if making.kind == CENTRE:
        return _centre(making, part, recipe), TURN
    return _row(making, part, recipe), 0


def _row(row: Making, part: MirrorPart, recipe: Recipe) -> Making:
    """A diagonal row, or one of sashing, mirrored left to right, and sewn from its left end."""
    width, last = row.width, len(row.parts) - 1
    seams = []
    for n, seam in enumerate(reversed(row.seams)):
        a, b = ((width - x, y) for x, y in (seam.start, seam.end))
        left, right = tuple(range(n + 1)), (n + 1,)
        seams.append(
            msgspec.structs.replace(seam, start=a, end=b, left=left, right=right, pressed=_OTHER[seam.pressed])
        )
    return msgspec.structs.replace(
        row,
        key=row.key.image,
        outline=tuple((width - x, y) for x, y in reversed(row.outline)),
        parts=tuple(part(row.parts[last - n], width) for n in range(last + 1)),
        seams=tuple(seams),
        recipe=recipe,
    )


def _centre(making: Making, part: MirrorPart, recipe: Recipe) -> Making:
    """A setting on point mirrored about its diagonal: laid with a quarter turn it is the mirror image."""
    parts = []
    for placed in making.parts:
        mirrored = part(placed, making.width)  # seen in the mirror; a quarter turn back it lies as it is to lie here
        place = mirrored.place
        turned = (place.turned - TURN) % 360
        x, y = _back((place.dx, place.dy), making.width)
        lies = msgspec.structs.replace(place, dx=x, dy=y, turned=turned)
        parts.append(Placed(mirrored.what, lies, _flipped(placed.shown)))
    return msgspec.structs.replace(
        making,
        key=making.key.image,
        outline=_flipped(making.outline),
        width=making.height,
        height=making.width,
        parts=tuple(parts),
        seams=tuple(_seam(seam) for seam in making.seams),
        recipe=recipe,
    )


def _back(p: Point, width: Length) -> Point:
    """A point of the mirror image, as it lies before that is turned by a quarter: the point that comes to lie there."""
    return p[1], width - p[0]


def _flipped(points: Outline) -> Outline:
    return tuple((y, x) for x, y in reversed(points))


def _seam(seam: Seam) -> Seam:
    """A seam between two rows, walked the other way, so that what lay on its left still does."""
    path = _flipped(seam.path)
    spun = None if seam.spun is None else (seam.spun[1], seam.spun[0])
    start, end = (seam.end[1], seam.end[0]), (seam.start[1], seam.start[0])
    return msgspec.structs.replace(seam, start=start, end=end, path=path, spun=spun)
