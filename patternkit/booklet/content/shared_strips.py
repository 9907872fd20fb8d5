"""Strip units that are made once for several units: how they are cut, and where a later step takes its segments
from."""

from __future__ import annotations

from collections.abc import Mapping

from patternkit.booklet.content import tubes
from patternkit.booklet.content.context import Context
from patternkit.booklet.content.panels import Listed, Remark
from patternkit.booklet.phrases import Listing, Sentence
from patternkit.lengths import Length
from patternkit.piecing.batch import Batch, CutAcross, Item, Piece, Thing
from patternkit.piecing.making import Making
from patternkit.plan.counts import Count
from patternkit.work.model import Step

KINDS = 3  # widths of segments that one drawing shows


def is_shared(making: Making, ctx: Context) -> bool:
    """Whether a unit is cut from strip units from which others are cut too."""
    return making.recipe.method.in_strips and len(ctx.makers[making.thing].gives) > 1


def made_before(making: Making, ctx: Context) -> bool:
    """Whether the step of another unit makes the strip units that this unit is cut from."""
    return ctx.makers[making.thing].thing != making.thing


def sewn_in_all(step: Step) -> int:
    """How many strip units a step sews."""
    return sum(times for _, times in step.batches)


def has_half(step: Step, ctx: Context) -> bool:
    """Whether the last strip unit of a step is of half strips."""
    return any(_is_half(batch, ctx) for batch, _ in step.batches)


def _is_half(batch: Batch, ctx: Context) -> bool:
    """Whether no strip is as long as its cloth is wide: of whole strips that of the narrowest is."""
    strips = [use.item for use in batch.uses if isinstance(use.item, Piece)]
    return all(strip.width < ctx.order.usable[strip.fabric] for strip in strips)


def taken(making: Making, needed: int, ctx: Context) -> Sentence:
    """Where the segments of a later step come from."""
    step = ctx.makers[making.thing]
    if not making.recipe.method.in_strips:
        return ctx.state(
            "step.take_shapes",
            n=needed,
            title=ctx.title(making),
            first=ctx.title(ctx.designs[step.thing]),
            step=ctx.number(step.thing),
        )
    return ctx.state(
        "step.take_segments",
        n=needed,
        pressed=not tubes.from_rings(making, ctx),
        w=making.recipe.segment,
        batches=sewn_in_all(step),
        title=ctx.title(making),
        first=ctx.title(ctx.designs[step.thing]),
        step=ctx.number(step.thing),
    )


def by_turns(count: Count, ctx: Context) -> Sentence | None:
    """How many shapes are cut from each strip unit, where these lie nearer than side by side: of one sort, or of two by
    turns, and what is kept for which step."""
    making, step = count.making, ctx.makers[count.making.thing]
    recipe = making.recipe
    if recipe.pitch is None or recipe.segment is None or recipe.method.in_strips:
        return None
    other = next((thing for thing in step.gives if isinstance(thing, Thing) and thing != making.thing), None)
    if other is None:
        near = recipe.pitch < recipe.segment and count.batches > 1
        return ctx.state("method.shapes_near", n=count.yields) if near else None
    second = ctx.title(ctx.designs[other])
    ways = [
        ctx.state(
            "method.shapes_way",
            times=times,
            batches=sewn_in_all(step),
            a=dict(batch.gives).get(making.thing, 0),
            b=dict(batch.gives).get(other, 0),
            title=ctx.title(making),
            other=second,
        )
        for batch, times in step.batches
    ]
    return ctx.state("method.shapes_between", ways=Listing(tuple(ways)), other=second, step=ctx.number(other))


def cutting(making: Making, ctx: Context) -> tuple[Listed, Remark]:
    """How the strip units are cut: each way in which it is done, what comes out, what is kept for which step."""
    step = ctx.makers[making.thing]
    later = [thing for thing in step.gives if thing != making.thing]
    batches, whole = sewn_in_all(step), [b for b, _ in step.batches if not _is_half(b, ctx)]
    own = sum(times for batch, times in step.batches if batch in whole)
    items = [
        ctx.state(
            "method.strips_from",
            times=times,
            half=_is_half(batch, ctx),
            batches=batches,
            lone=len(step.batches) > 1 and own == 1,
            rest=len(whole) > 1 and batch is whole[-1] and own == batches,
            items=_segments(dict(batch.gives), ctx, widest=True),
        )
        for batch, times in step.batches
    ]
    units = Listing(tuple(_with_step(thing, making, ctx) for thing in _in_order(step.gives, ctx)))
    rings = tubes.from_rings(making, ctx)
    lead = ctx.state("method.strips_shared", batches=batches, unit=making.recipe.strip_unit, units=units, rings=rings)
    total = ctx.state("method.strips_total", items=_segments(step.gives, ctx))
    kept = ctx.state(
        "method.strips_kept",
        n=sum(step.gives[thing] for thing in later),
        units=Listing(tuple(_with_step(thing, making, ctx) for thing in _in_order(step.gives, ctx) if thing in later)),
    )
    listed = Listed(lead, tuple(((item,), "") for item in items))
    return listed, Remark((total, kept) if len(step.batches) > 1 else (kept,))


def _in_order(things: Mapping[Item, int], ctx: Context) -> list[Thing]:
    return sorted((thing for thing in things if isinstance(thing, Thing)), key=lambda thing: ctx.number(thing) or 0)


def _with_step(thing: Thing, here: Making, ctx: Context) -> Sentence | str:
    title = ctx.title(ctx.designs[thing])
    return title if thing == here.thing else ctx.state("method.strips_unit", title=title, step=ctx.number(thing))


def _segments(gives: Mapping[Item, int], ctx: Context, widest: bool = False) -> Listing:
    """``12 segments 2 1/2 in wide for Wall and 8 segments 4 in wide for Post``: in the order of the steps, or as they
    are cut, the widest first."""
    made = [(ctx.designs[thing], gives[thing]) for thing in _in_order(gives, ctx)]
    if widest:
        made.sort(key=lambda one: -(one[0].recipe.segment or ctx.seam))
    return Listing(
        tuple(
            ctx.state("method.strips_segments", n=n, w=design.recipe.segment, title=ctx.title(design))
            for design, n in made
        )
    )


def drawn(making: Making, ctx: Context) -> tuple[Length, ...]:
    """The widths of the segments to draw on the strip unit: those of the batch that has most; the widest first, as they
    are cut."""
    found: list[Length] = []
    for batch, _ in ctx.makers[making.thing].batches:
        cuts = {a.width for a in batch.actions if isinstance(a, CutAcross)}
        found = sorted(cuts, reverse=True) if len(cuts) > len(found) else found
    return tuple(found[:KINDS])
