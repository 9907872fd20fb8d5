"""How to lay the ruler when a unit is trimmed: which of its lines lies on which seam, from the unit's own geometry."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.piecing.making import Making


def ruler_sentence(making: Making, ctx: Context) -> str:
    """The sentence for trimming this unit.

    A half-square's seam runs into two corners, so the 45 degree line lies on it. An hourglass's seams cross in the
    middle, half the trimmed size from two sides. A goose's point lies one seam below the edge in the middle of the
    width. The points of a square in a square lie one seam inside the middles of the sides. The seam of a half-rectangle
    passes one seam inside two corners, not through them.
    """
    w, h = making.recipe.trim_to or ctx.raw(making)
    return ctx.say(f"ruler.{making.recipe.method.ruler}", w=w, h=h, half_w=w / 2, half_h=h / 2, seam=ctx.seam)
