"""Strip units that are made once for several units: how they are cut, and where a later step takes its segments
from."""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.panels import Listed, Remark
from patternkit.booklet.phrases import Listing, Sentence
from patternkit.lengths import ZERO, Length
from patternkit.piecing.making import Making
from patternkit.plan.counts import Count
from patternkit.plan.shared import Shared

KINDS = 3  # widths of segments that one drawing shows


def made_before(count: Count, ctx: Context) -> bool:
    """Whether the step of another unit makes the strip units that this unit is cut from."""
    return ctx.makers[count.making.thing].thing != count.making.thing


def taken(count: Count, ctx: Context) -> Sentence:
    """Where the segments of a later step come from."""
    assert count.shared is not None
    own = ctx.makers[count.making.thing].thing
    first = next(m for m in count.shared.makings if m.thing == own)
    return ctx.state(
        "step.take_segments",
        n=count.needed,
        w=count.making.recipe.segment,
        batches=count.shared.batches,
        title=ctx.title(count.making),
        first=ctx.title(first),
        step=ctx.numbers.get(id(first), ""),
    )


def cutting(shared: Shared, making: Making, ctx: Context) -> tuple[Listed, Remark]:
    """How the strip units are cut: each way in which it is done, what comes out, what is kept for which step."""
    batches, later = shared.batches, [m for m in _in_order(shared, ctx) if m is not making]
    whole = [way for way in shared.ways if not way.half]
    units = Listing(tuple(_with_step(m, making, ctx) for m in _in_order(shared, ctx)))
    items = [
        ctx.state(
            "method.strips_from",
            times=way.times,
            half=way.half,
            batches=batches,
            lone=len(shared.ways) > 1 and sum(w.times for w in whole) == 1,
            rest=len(whole) > 1 and way is whole[-1] and sum(w.times for w in whole) == batches,
            items=_segments(shared, way.numbers, ctx, widest=True),
        )
        for way in shared.ways
    ]
    lead = ctx.state("method.strips_shared", batches=batches, unit=making.recipe.strip_unit, units=units)
    totals = tuple(shared.segments(m) for m in shared.makings)
    total = ctx.state("method.strips_total", items=_segments(shared, totals, ctx))
    kept = ctx.state(
        "method.strips_kept",
        n=sum(shared.segments(m) for m in later),
        units=Listing(tuple(_with_step(m, making, ctx) for m in later)),
    )
    listed = Listed(lead, tuple(((item,), "") for item in items))
    return listed, Remark((total, kept) if len(shared.ways) > 1 else (kept,))


def _in_order(shared: Shared, ctx: Context) -> list[Making]:
    return sorted(shared.makings, key=lambda m: ctx.numbers.get(id(m), 0))


def _with_step(making: Making, here: Making, ctx: Context) -> Sentence | str:
    if making is here:
        return ctx.title(making)
    return ctx.state("method.strips_unit", title=ctx.title(making), step=ctx.numbers.get(id(making), ""))


def _segments(shared: Shared, numbers: Sequence[int], ctx: Context, widest: bool = False) -> Listing:
    """``12 segments 2 1/2 in wide for Wall and 8 segments 4 in wide for Post``: in the order of the steps, or as they
    are cut, the widest first."""
    order = _in_order(shared, ctx)
    if widest:
        order.sort(key=lambda m: -(m.recipe.segment or ZERO))
    counted = dict(zip(map(id, shared.makings), numbers, strict=True))
    return Listing(
        tuple(
            ctx.state("method.strips_segments", n=counted[id(m)], w=m.recipe.segment, title=ctx.title(m))
            for m in order
            if counted[id(m)]
        )
    )


def drawn(count: Count, ctx: Context) -> tuple[Length, ...]:
    """The widths of the segments to draw on the strip unit: those of the way that has most; one for a unit that has its
    strip units to itself. The widest first, as they are cut."""
    own = count.making.recipe.segment
    assert own is not None
    if count.shared is None:
        return (own,)
    found: list[Length] = []
    for way in count.shared.ways:
        members = [m for m, n in zip(count.shared.makings, way.numbers, strict=True) if n]
        widths = sorted({m.recipe.segment for m in members if m.recipe.segment is not None}, reverse=True)
        found = widths if len(widths) > len(found) else found
    return tuple(found[:KINDS])


__all__ = ["cutting", "drawn", "made_before", "taken"]
