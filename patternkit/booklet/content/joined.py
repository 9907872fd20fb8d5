"""Strips joined end to end: which of them are joined, and what is cut from which, as the order has it."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.uses import called
from patternkit.booklet.phrases import Listing, Printed
from patternkit.document import Block, Bullets, Paragraph
from patternkit.lengths import Length
from patternkit.piecing.joined import JoinedStrip
from patternkit.piecing.keys import Thing
from patternkit.piecing.names import BACKING_STRIP, BINDING, SLEEVE, Name
from patternkit.work.model import Between, Bind, JoinEnds, Panels, Sleeve


def joins(key: str, ctx: Context) -> list[JoinEnds]:
    """The strips of a fabric that are joined end to end."""
    return [x for x in ctx.order.cutting if isinstance(x, JoinEnds) and x.strip.fabric == key]


def joined_blocks(join: JoinEnds, ctx: Context) -> list[Block]:
    """The strips joined end to end, and what is cut from them: in one sentence, or joined strip by joined strip."""
    values = {"n": join.count, "h": join.strip.height, "fabric": ctx.fabric(join.strip.fabric)}
    items = joined_items(join, ctx)
    if in_one(join):
        return [Paragraph(ctx.say("cutting.long", **values, items=ctx.phrases.render(items)))]
    each = tuple(f"{ctx.phrases.render(item)}." for item in items.items)
    return [Paragraph(ctx.say("cutting.long_by_ends", **values)), Bullets(each)]


def in_one(join: JoinEnds) -> bool:
    """Whether all strips are joined to one, from which everything is cut."""
    return len(join.joins) < 2 and all(one.count == 1 for one in join.joins)


def joined_items(join: JoinEnds, ctx: Context) -> Listing:
    """What is cut from strips joined end to end: from which of them, where they are not all joined to one."""
    if in_one(join):
        cuts = [cut for one in join.joins for cut in one.cuts]
        return _cuts(cuts or [(i, n) for i, (_, n, _) in enumerate(join.lengths)], join, ctx)
    several = len({length for one in join.joins for length, _ in one.ends}) > 1
    each = [
        ctx.state(
            "cutting.long_join",
            cuts=_cuts(one.cuts, join, ctx) if one.cuts else "",
            **end_facts(one, join.strip.height, several, ctx),
        )
        for one in join.joins
    ]
    return Listing(tuple(each), "cutting.then")


def end_facts(one: JoinedStrip, height: Length, several: bool, ctx: Context) -> dict[str, object]:
    """What phrases ask for of one joined strip of that height: of what it is joined, and which ends are kept of it; how
    long they are where ends of `several` lengths are."""
    keeps = [ctx.state("cutting.long_end", n=n, length=length) for length, n in one.keeps]
    which = [ctx.state("cutting.long_kept", n=n, length=length) for length, n in one.ends]
    return {
        "n": one.count,
        "wholes": one.wholes,
        "ends": sum(n for _, n in one.ends),
        "which": Listing(tuple(which)) if several else "",
        "keeps": Listing(tuple(keeps)) if keeps else "",
        "of": one.of,
        "to": height if one.of != height else None,
    }


def _cuts(cuts: Iterable[tuple[int, int]], join: JoinEnds, ctx: Context) -> Listing:
    """Pieces that are cut, those of one length for one thing together."""
    found: dict[tuple[Length, Name | Thing], int] = {}
    for i, n in cuts:
        length, _, use = join.lengths[i]
        found[length, use] = found.get((length, use), 0) + n
    codes = {max(piece.width, piece.height): ctx.codes.get(piece, "") for piece, _ in join.gives}
    items = (
        (Printed("length", (length,)), n, ", ".join(filter(None, (codes.get(length), called(use, ctx)))))
        for (length, use), n in found.items()
    )
    return Listing(tuple(ctx.state("cutting.long_item", n=n, length=size, name=name) for size, n, name in items))


def rest_facts(done: Bind | Sleeve | Between, ctx: Context) -> dict[str, object]:
    """The ends of other strips that a finish joins as well: the words that say where they come from, and how many."""
    rests = [one for one in done.joins if one.of is not None]
    keeps = [ctx.state("finish.rest", **end_facts(one, done.strip, False, ctx), length=one.left) for one in rests]
    return {"rests": Listing(tuple(keeps), "cutting.then") if keeps else "", "ends": sum(one.count for one in rests)}


def kept_for_finishing(key: str, ctx: Context) -> list[str]:
    """The ends of a fabric's strips that are kept for the binding, the sleeve and a strip in the backing, told where
    they are cut."""
    found = []
    for done in ctx.order.finish:
        taker = done.between if isinstance(done, Panels) else done
        if isinstance(taker, (Bind, Sleeve, Between)) and taker.fabric == key:
            facts = rest_facts(taker, ctx)
            kinds = {Bind: BINDING, Sleeve: SLEEVE, Between: BACKING_STRIP}
            name = ctx.names.of(kinds[type(taker)])
            words = ctx.state("cutting.kept_for", name=name, **facts)
            found += [ctx.phrases.render(words)] if facts["ends"] else []
    return found
