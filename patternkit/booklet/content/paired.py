"""Strip units that are laid on each other, cut across in pairs, and sewn as the pairs lie."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.booklet.phrases import Sentence
from patternkit.piecing.making import Making
from patternkit.piecing.pairs import joined_pairs, partners


def cut(making: Making, ctx: Context) -> Sentence | None:
    """How a strip unit is cut with another, in the later one of their steps; that it waits, in the first. None for one
    that is cut by itself."""
    key = partners(ctx.pattern).get(making.key.of)
    steps = [step.thing for step in ctx.order.steps]
    other = next((c.making for c in ctx.plan.counts if c.making.key.of == key and c.making.thing in steps), None)
    if other is None or making.thing not in steps:
        return None
    return ctx.state(
        "method.strips_wait" if steps.index(making.thing) < steps.index(other.thing) else "method.strips_paired",
        unit=making.recipe.strip_unit,
        segment=making.recipe.segment,
        title=ctx.title(other),
        step=ctx.number(other.thing),
        batches=ctx.count(making).batches,
    )


def sewn(making: Making, ctx: Context) -> Sentence | None:
    """That pairs which lie in a unit are sewn as they were cut."""
    for one, other in partners(ctx.pattern).items():
        for _, a, b in joined_pairs(making, one, other):
            assert isinstance(a.what, Making) and isinstance(b.what, Making)
            return ctx.state("method.pairs_sewn", one=ctx.title(a.what), other=ctx.title(b.what))
    return None
