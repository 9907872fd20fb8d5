"""How to lay the ruler when a unit is trimmed: which of its lines lies on which seam, from the unit's
own geometry."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.piecing.making import Making

# By the beginning of the recipe's phrase: the phrase that tells how the ruler is laid.
_WAYS = (
    ("half-square", "diagonal"),
    ("quarter-square", "cross"),
    ("three-patch", "cross"),
    ("geese", "geese"),
    ("square-in-square", "points"),
    ("corners-flip", "corners"),
    ("half-rectangle", "leaning"),
)


def ruler_sentence(making: Making, ctx: Context) -> str:
    """The sentence for trimming this unit.

    A half-square's seam runs into two corners, so the 45 degree line lies on it. An hourglass's seams
    cross in the middle, half the trimmed size from two sides. A goose's point lies one seam below the
    edge in the middle of the width. The points of a square in a square lie one seam inside the middles
    of the sides. The seam of a half-rectangle passes one seam inside two corners, not through them.
    """
    way = next((w for start, w in _WAYS if making.recipe.phrase.startswith(start)), "plain")
    w, h = making.recipe.trim_to or ctx.raw(making)
    return ctx.say(f"ruler.{way}", w=w, h=h, half_w=w / 2, half_h=h / 2, seam=ctx.seam)
