"""Strip units that are cut on the slant: how their strips are staggered, how the ruler lies, and a drawing of both."""

from __future__ import annotations

from itertools import accumulate
from math import radians, tan
from typing import TYPE_CHECKING

from patternkit.booklet.content.context import Context
from patternkit.booklet.phrases import Printed, Sentence
from patternkit.lengths import ZERO
from patternkit.piecing.batch import CutAcross, Piece
from patternkit.piecing.kinds.slanted import Slant
from patternkit.piecing.making import Making

if TYPE_CHECKING:
    from patternkit.document import Drawing


def staggered(slant: Slant, ctx: Context) -> Sentence:
    """How far each strip begins beyond the one above it."""
    alike = len(set(slant.steps)) == 1
    steps = Printed("length", slant.steps[:1]) if alike else Printed("row", slant.steps)
    return ctx.state("method.strips_staggered", steps=steps, alike=alike, falls=slant.falls)


def cut(making: Making, slant: Slant, ctx: Context) -> Sentence:
    """How the strip unit is cut on the slant."""
    return ctx.state(
        "method.strips_slanted",
        unit=making.recipe.strip_unit,
        angle=slant.angle,
        width=slant.width,
        falls=slant.falls,
    )


def picture(making: Making, slant: Slant, key: str, ctx: Context) -> Drawing:
    """The staggered strips with the segments that come from the first strip unit, as they lie on it."""
    from patternkit.drawing.cut_out import draw_cut_out

    batch = ctx.makers[making.thing].batches[0][0]
    items = [use.item for use in batch.uses if isinstance(use.item, Piece)]
    across = next(a for a in batch.actions if isinstance(a, CutAcross))
    seam, k = float(ctx.seam), 1 / tan(radians(slant.angle))
    raw = [float(i.height) for i in items]
    out = [float(x) for x in accumulate(slant.steps, initial=ZERO)]
    tops = list(accumulate((h - 2 * seam for h in raw[:-1]), initial=0.0))
    foot = tops[-1] + raw[-1]
    first = max((top + h) * k - o for top, h, o in zip(tops, raw, out, strict=True))
    squaring = float(max(ctx.order.squaring.get(i.fabric, ZERO) for i in items))
    takes = float(slant.takes)
    long = float(min(i.width for i in items))
    rings: list[tuple[tuple[float, float], ...]] = []
    for n in range(across.count):
        a, b = first + squaring + takes * n, first + squaring + takes * (n + 1)
        rings.append(((a, 0.0), (b, 0.0), (b - foot * k, foot), (a - foot * k, foot)))
    begins = [-x for x in out]
    if slant.falls:  # a mirror image: the same from the other end
        begins = [0.0 - b for b in begins]
        rings = [tuple((long - x, y) for x, y in reversed(ring)) for ring in rings]
    shown = [h - seam * (1 if n in (0, len(raw) - 1) else 2) for n, h in enumerate(raw)]
    strips = [(i.fabric, h) for i, h in zip(items, shown, strict=True)]
    return draw_cut_out(
        ctx.title(making),
        strips,
        long,
        rings,
        ctx.swatches,
        ctx.look,
        key=f"slanted-{key}",
        begins=begins,
        words="slanted",
    )
