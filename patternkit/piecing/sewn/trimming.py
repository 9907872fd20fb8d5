"""A unit after it is trimmed to size: the same pieces and seams, half of what is too much cut off each side."""

from __future__ import annotations

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.making import Cloth, Making, Outline, Place, Placed, Point, Seam, rectangle


def trimmed(making: Making, wide: Length, high: Length, seam: Length) -> Making:
    """The making less `wide` of its width and `high` of its height, half from each side. Only plain rectangles may lie
    at the edges that are trimmed. What it measures before and after stands in its recipe."""
    width, height = making.width - wide, making.height - high
    box = (wide / 2, high / 2, making.width - wide / 2, making.height - high / 2)
    allowance = seam * 2
    return msgspec.structs.replace(
        making,
        outline=rectangle(width, height),
        width=width,
        height=height,
        parts=tuple(_part(p, box) for p in making.parts),
        seams=tuple(_seam(s, box) for s in making.seams),
        recipe=msgspec.structs.replace(
            making.recipe,
            sewn=(making.width + allowance, making.height + allowance),
            trim_to=(width + allowance, height + allowance),
        ),
    )


def untrimmed(making: Making, placed: Placed) -> Outline:
    """The finished outline of a plain part, where it lies, before its unit was trimmed to size from each side alike."""
    outline, recipe = placed.place.outline(placed.what.outline), making.recipe
    if recipe.trim_to is None or recipe.sewn is None or not recipe.method.adds_up:
        return outline
    wide, high = ((a - b) / 2 for a, b in zip(recipe.sewn, recipe.trim_to, strict=True))
    return tuple((_outward(x, making.width, wide), _outward(y, making.height, high)) for x, y in outline)


def _outward(at: Length, far: Length, more: Length) -> Length:
    """A coordinate at the edge of a unit, moved out by so much."""
    return at - more if at == 0 else at + more if at == far else at


_Box = tuple[Length, Length, Length, Length]


def _part(placed: Placed, box: _Box) -> Placed:
    """A part where it lies after trimming; plain cloth loses what is cut off."""
    left, top = box[0], box[1]
    place = msgspec.structs.replace(placed.place, dx=placed.place.dx - left, dy=placed.place.dy - top)
    if not isinstance(placed.what, Cloth):
        return Placed(placed.what, place)
    shape = placed.place.outline(placed.what.outline)
    kept = tuple(_clamped(p, box) for p in shape)
    if kept == tuple((x - left, y - top) for x, y in shape):
        return Placed(placed.what, place)
    return Placed(msgspec.structs.replace(placed.what, outline=kept), Place())


def _clamped(p: Point, box: _Box) -> Point:
    return min(max(p[0], box[0]), box[2]) - box[0], min(max(p[1], box[1]), box[3]) - box[1]


def _seam(seam: Seam, box: _Box) -> Seam:
    path: Outline = tuple(_clamped(p, box) for p in seam.path)
    spun = None if seam.spun is None else _clamped(seam.spun, box)
    return msgspec.structs.replace(
        seam, start=_clamped(seam.start, box), end=_clamped(seam.end, box), path=path, spun=spun
    )
