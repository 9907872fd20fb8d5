"""A booklet in another system than its pattern is drawn up in is sewn by the numbers that it prints, and says how far
rounding takes what comes out from what it tells."""

from __future__ import annotations

from fractions import Fraction

from patternkit.booklet.content.context import Context
from patternkit.document import Paragraph
from patternkit.lengths import ZERO, Length
from patternkit.units import INCHES_IN
from patternkit.work.printed import in_print

SIZES = frozenset({"told", "size", "edges", "seam lines", "line", "no cloth"})
"""The gaps that rounding makes: lengths that do not meet, or do not measure what is told."""
SEEN = {False: Fraction(1, 16), True: INCHES_IN["mm"]}
"""The least that a ruler shows, in inches; by whether lengths are metric."""


def converted_line(ctx: Context) -> Paragraph:
    """What is said of the conversion."""
    off = max((_off(c) for c in ctx.sizes or (ctx,)), default=ZERO)
    own = ctx.say(f"unit_names.{ctx.pattern.settings.units.name}")
    return Paragraph(ctx.say("before.converted", own=own, metric=ctx.units.decimals, off=off or None))


def _off(ctx: Context) -> Length:
    """How far apart rounding takes what is told and what comes out, in a size, to the next line of a ruler; nothing
    where no ruler shows it."""
    from patternkit.rehearsal.rehearse import rehearsal

    if ctx.rehearsed.gaps:
        return ZERO  # that it does not come out is said elsewhere
    order, seen = in_print(ctx.order, ctx.units), SEEN[ctx.units.decimals]
    apart = [
        abs(float(gap.stated) - float(gap.out))
        for gap in rehearsal(order, ctx.worked.designs).gaps
        if gap.kind in SIZES and gap.stated is not None and gap.out is not None
    ]
    most = Length(Fraction(max(apart, default=0.0)))
    return Length(most.ceil_to(seen)) if most > Length(seen) else ZERO
