"""A sewn unit that is cut apart: one step for all of its pieces, where it is cut, how large they are, what is left."""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.panels import Depicted, Panel, Remark, Sentences, lines
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.content.taking import take_panels
from patternkit.booklet.phrases import Listing, Printed, Sentence
from patternkit.document import Figure
from patternkit.lengths import Length
from patternkit.piecing.apart import all_pieces, named_number
from patternkit.piecing.batch import Thing
from patternkit.piecing.making import Making, made_from
from patternkit.plan.counts import Count


def is_apart(making: Making) -> bool:
    """Whether a making is a piece of a unit that is cut apart."""
    return making.recipe.apart is not None


def title(counts: Sequence[Count], ctx: Context) -> str:
    """``Quarters: cut 9 nine blocks apart``."""
    making = counts[0].making
    (whole,) = made_from(making)
    times = [c.batches for c in counts]
    what = ctx.noun(whole, times[0] if len(set(times)) == 1 else " / ".join(map(str, times)))
    return ctx.say("step.apart_title", title=ctx.names.whole(making), what=what)


def panels(count: Count, ctx: Context) -> list[Panel]:
    """Everything that the step says, in order."""
    making = count.making
    unit = ctx.pattern.units.get(making.key.of)
    found: list[Panel] = []
    if unit is not None:
        found += lines("before", *prose_blocks(unit.prose, ("intro", "note", "before"), ctx))
    found += take_panels(count, ctx)
    found += lines("method", Remark(_cut(making, ctx)))
    found.append(_drawn(making, ctx))
    found += lines("measure", Remark(_measured(making, ctx), "checkpoint"))
    found += lines("spare", *_spare(making, ctx))
    if unit is not None:
        found += lines("after", *prose_blocks(unit.prose, ("after", "tip", "caution"), ctx))
    return found


def _cut(making: Making, ctx: Context) -> Sentences:
    """Where to cut: through a middle, or so far from edge to edge."""
    apart = making.recipe.apart
    assert apart is not None
    found = [ctx.state(f"method.{making.recipe.method.phrase}")]
    for key, cuts, halved in zip(("columns", "rows"), (apart.columns, apart.rows), apart.middles, strict=True):
        if halved:
            found.append(ctx.state(f"apart.{key}_middle"))
        elif cuts:
            found.append(ctx.state(f"apart.{key}", at=Listing(tuple(Printed("length", (x,)) for x in cuts))))
    found.append(ctx.state("apart.at_once", n=len(all_pieces(making))))
    return tuple(found)


def _drawn(making: Making, ctx: Context) -> Panel:
    from patternkit.booklet.content.figures import design, slug
    from patternkit.drawing.apart import draw_apart

    apart = making.recipe.apart
    assert apart is not None
    shown = Depicted((design(made_from(making)[0], {}), apart.whole.place, apart.columns, apart.rows))
    key = f"apart-{slug(making.spelled)}"
    return Panel("figure", shown, lambda: (Figure((draw_apart(making, ctx.swatches, ctx.look, key=key),)),))


def _measured(making: Making, ctx: Context) -> Sentences:
    """What the pieces measure, those of one size together."""
    sizes: dict[tuple[Length, Length], list[int]] = {}
    for piece in all_pieces(making):
        sizes.setdefault(ctx.raw(piece), []).append(_number(piece))
    if len(sizes) == 1:
        ((w, h),) = sizes
        return (ctx.state("apart.each", w=w, h=h),)
    return tuple(
        ctx.state("apart.some", numbers=Listing(tuple(sorted(n))), n=len(n), w=w, h=h) for (w, h), n in sizes.items()
    )


def _number(piece: Making) -> int:
    apart = piece.recipe.apart
    assert apart is not None
    return named_number(apart, piece.key.mirrored)


def _spare(making: Making, ctx: Context) -> list[Sentence]:
    """The pieces that no step takes, those of which as many are left together."""
    left: dict[int, list[int]] = {}
    for item, n in ctx.makers[making.thing].leaves:
        if isinstance(item, Thing):
            left.setdefault(n, []).append(_number(ctx.worked.designs[item]))
    return [
        ctx.state("apart.spare", n=n, many=len(numbers), numbers=Listing(tuple(sorted(numbers))))
        for n, numbers in left.items()
    ]
