"""Strip units that are sewn to tubes: how they are closed, and at which seam the rings of each segment are opened."""

from __future__ import annotations

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.panels import Listed, Remark
from patternkit.booklet.phrases import Sentence
from patternkit.piecing.batch import CloseTube, OpenRing, Piece
from patternkit.piecing.making import Making
from patternkit.work.model import Step


def from_rings(making: Making, ctx: Context) -> bool:
    """Whether the segments of a unit are rings of a tube."""
    if not making.recipe.method.tube:
        return False
    step = ctx.makers[making.thing]
    return any(isinstance(action, CloseTube) for batch, _ in step.batches for action in batch.actions)


def closed(making: Making, ctx: Context) -> Sentence:
    """How the strip unit is sewn to a tube."""
    step = ctx.makers[making.thing]
    n = len(making.parts)
    return ctx.state("method.strips_tube", last=_strip(step, n - 1, ctx), first=_strip(step, 0, ctx))


def opened(making: Making, ctx: Context) -> tuple[Listed, Remark]:
    """At which seam the rings of each segment are opened, and when they are pressed."""
    step = ctx.makers[making.thing]
    where: dict[object, OpenRing] = {}
    for batch, _ in step.batches:
        given = iter(batch.gives)
        for action in batch.actions:
            if isinstance(action, OpenRing):
                where.setdefault(next(given)[0], action)
    items = []
    for thing, action in sorted(where.items(), key=lambda one: ctx.number(one[0]) or 0):  # type: ignore[arg-type]
        last, first = (_strip(step, edge.part, ctx) for edge in (action.left, action.right))
        title = ctx.title(ctx.designs[thing])  # type: ignore[index]
        items.append(((ctx.state("method.strips_ring", title=title, last=last, first=first),), ""))
    listed = Listed(ctx.state("method.strips_rings"), tuple(items))
    return listed, Remark((ctx.state("method.strips_press"),))


def _strip(step: Step, part: int, ctx: Context) -> str:
    """What a strip is called: by its fabric, and by its number where others are of that fabric too."""
    fabrics = [use.item.fabric for use in step.batches[0][0].uses if isinstance(use.item, Piece)]
    what = ctx.fabric(fabrics[part])
    return what if fabrics.count(fabrics[part]) == 1 else ctx.say("action.part", n=part + 1, what=what)
