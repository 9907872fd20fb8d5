"""Units of which half come out of their batches as mirror images, or with their seams the other way round: which step
makes them, and where a later step takes them from."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.booklet.phrases import Sentence
from patternkit.piecing.making import Cloth, Making
from patternkit.piecing.reflect import OTHER_SEAMS
from patternkit.plan.counts import Count


def made_before(count: Count) -> bool:
    """Whether the step of another unit makes this one too."""
    return count.image_of is not None


def taken(count: Count, ctx: Context) -> Sentence:
    """Where what came out of another step is taken from."""
    first = count.image_of
    assert first is not None
    step, long = ctx.number(first.thing), _long(first)
    key = "step.take_seams" if _same_look(count.making) else "step.take_images"
    return ctx.state(key, n=count.needed, title=ctx.title(first), step=step, long=long)


def beside(count: Count, ctx: Context) -> Sentence:
    """What comes out of a step besides the unit, and for which step it is kept."""
    recipe = count.making.recipe
    other = next((c for c in ctx.plan.counts if c.image_of is count.making), None)
    if other is None:
        return ctx.state("method.mirror_images", n=recipe.mirrored, makes=recipe.yields)
    key = "method.seams_kept" if _same_look(other.making) else "method.images_kept"
    step, long = ctx.number(other.making.thing), _long(other.making)
    return ctx.state(key, n=other.needed, title=ctx.title(other.making), step=step, long=long)


def of_waste(count: Count, ctx: Context) -> list[Sentence]:
    """How half-squares are sewn of the corners that a step cuts off, and for which step they are kept."""
    found = []
    for other in ctx.plan.counts:
        waste = other.making.recipe.waste
        if waste is None or waste.key != count.making.key.plain:
            continue
        side = other.making.seams[0].pressed
        toward = {"left": other.making.parts[0].what, "right": other.making.parts[1].what}.get(side)
        way = ctx.say("words.waste_open")
        if isinstance(toward, Cloth):
            way = ctx.say("words.waste_toward", fabric=ctx.fabric(toward.fabric))
        size, _ = ctx.raw(other.making)
        values = {"two": ctx.seam * 2, "seam": ctx.seam, "what": ctx.noun(other.making, waste.each)}
        spare = {"given": other.given, "needed": other.needed, "way": way, "size": size}
        found.append(ctx.state("method.of_waste", **values, **spare))
    return found


def _same_look(making: Making) -> bool:
    """Whether it is a unit's other version, with its seams the other way round."""
    return bool(making.version & OTHER_SEAMS)


def _long(making: Making) -> bool:
    """Whether the seam that differs is a long one, from corner to corner of the unit."""
    return making.kind == "quarter-square"


__all__ = ["beside", "made_before", "of_waste", "taken"]
