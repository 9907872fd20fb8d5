"""The last picture of most methods: the unit as it comes out, with what to trim."""

from __future__ import annotations

from collections.abc import Mapping

from patternkit.drawing.geometry import clipped
from patternkit.drawing.layout import Picture, picture, titled
from patternkit.drawing.look import Look
from patternkit.drawing.making import making_picture
from patternkit.drawing.method_pictures import MethodPicture
from patternkit.drawing.pieces import DrawnPatch, Leaves, label_on, paint
from patternkit.drawing.scene import INK, PAPER, SMALL_DASH, Path
from patternkit.drawing.sheets import (
    SIDE,
    square,
)
from patternkit.drawing.swatches import Swatch, swatch_for
from patternkit.lengths import Length
from patternkit.piecing.making import Making

_LEAST = 44.0  # no unit is drawn smaller than this


def off_by(look: Look, scale: float) -> float:
    """How far stitching is drawn from its edge, in points: the seam allowance to scale, wide enough to be seen."""
    return max(float(look.seam) * scale, 3.6)


def unit_panel(
    making: Making, swatches: Mapping[str, Swatch], look: Look, scale: float, key: str = "panel.open"
) -> MethodPicture:
    """The unit as it comes out, to trim where the method makes it larger, with how many one batch gives."""
    recipe = making.recipe
    side = float(max(making.width, making.height))
    scale = min(max(scale, _LEAST / side), SIDE / side)
    words = look.render(key)
    if recipe.trim_to and recipe.sewn:
        pic = _to_trim(making, recipe.sewn, recipe.trim_to, swatches, scale)
        words += ", " + look.render("trim", size=look.size(*recipe.trim_to))
    else:
        pic = making_picture(making, swatches, scale)[0]
        words += ", " + look.render("measures", size=look.raw(making.width, making.height))
    return MethodPicture(
        titled(pic, look.render("yield", n=recipe.yields) if recipe.yields > 1 else "", room=60.0), words
    )


def _to_trim(
    making: Making,
    sewn: tuple[Length, Length],
    trimmed: tuple[Length, Length],
    swatches: Mapping[str, Swatch],
    scale: float,
) -> Picture:
    """The unit larger than it must be, and the rectangle to trim it to (drawn clear of the edge)."""
    wide, high = float(sewn[0]) * scale, float(sewn[1]) * scale
    kx, ky = wide / float(making.width), high / float(making.height)
    leaves = [DrawnPatch(leaf.fabric, tuple((x * kx, y * ky) for x, y in leaf.points)) for leaf in Leaves().of(making)]
    mx, my = (max(3.0, (have - float(want) * scale) / 2) for have, want in zip((wide, high), trimmed, strict=True))
    inner = square(wide - 2 * mx, mx, my, high - 2 * my)
    shapes = paint(leaves, 1.0, swatches)
    shapes += [
        Path((square(wide, high=high),), width=1.1),
        Path((inner,), stroke=PAPER, width=2.4),
        Path((inner,), stroke=INK, width=1.0, dash=SMALL_DASH),
    ]
    free = square(wide - 2 * mx - 3, mx + 1.5, my + 1.5, high - 2 * my - 3)
    for leaf in leaves:
        s, points = swatch_for(swatches, leaf.fabric), leaf.points
        for a, b in zip(free, [*free[1:], free[0]], strict=True):
            points = clipped(points, a, b)
        text = label_on(points, s.letter, s.colour) if len(points) > 2 else None
        shapes += [text] if text else []
    return picture(shapes)
