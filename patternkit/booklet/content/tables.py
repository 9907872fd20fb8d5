"""The tables: what to buy, sizes at a glance, index of checkpoints."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from patternkit.booklet.content.context import Context, is_box
from patternkit.booklet.content.diagonal import alike, is_diagonal
from patternkit.booklet.content.merged import groups, named
from patternkit.booklet.content.sheet_cuts import sheet_buying, sheet_taking
from patternkit.booklet.content.uses import uses
from patternkit.booklet.phrases import Printed, Sentence
from patternkit.document import Block, Paragraph, Table
from patternkit.lengths import Length
from patternkit.piecing.making import Making
from patternkit.plan.counts import Count
from patternkit.units import decimal

NONE = "–"
Line = tuple[str, int, Sentence | Printed | str, Printed | str]
"""A line of the index: what is made, how many, what it measures and finishes."""


def buying(ctx: Context) -> list[Block]:
    """Fabric to buy, with a column for each size when there are several."""
    settings = ctx.pattern.settings
    first = next(iter(ctx.plan.fabrics.values()), None)
    lot = Length(first.fabric.lot if first else settings.lot)
    blocks: list[Block] = [
        Paragraph(
            ctx.say(
                "buy.intro",
                usable=settings.usable_width,
                spare=settings.spare,
                lot=lot,
                shrinkage=percent(settings.shrinkage, ctx),
            )
        )
    ]
    across = ctx.sizes or (ctx,)
    keys = [k for k in ctx.pattern.fabrics if any(k in c.plan.fabrics for c in across)]
    if ctx.sizes:
        heads = (*ctx.phrases.list("buy.heads_sizes"), *(c.size_name for c in across))
        rows = [(ctx.fabric(key), *(to_buy(c, key) for c in across)) for key in keys]
    else:
        heads = ctx.phrases.list("buy.heads")
        rows = [
            (
                ctx.fabric(key),
                uses(key, ctx),
                taking(ctx, key),
                to_buy(ctx, key),
            )
            for key in keys
        ]
    rows += _linings(ctx, across)
    if any(c.plan.web is not None for c in across):
        rows.append(_web(ctx, across))
    blocks.append(Table(ctx.say("buy.caption"), heads, tuple(rows), "l" * len(heads)))
    for fabric in ctx.pattern.fabrics.values():
        if fabric.usable_width != settings.usable_width and fabric.key in keys and fabric.stock is None:
            blocks.append(Paragraph(ctx.say("buy.width", fabric=ctx.fabric(fabric.key), width=fabric.usable_width)))
    for fabric in ctx.pattern.fabrics.values():
        if fabric.squaring != settings.squaring and fabric.key in keys:
            named = ctx.fabric(fabric.key)
            blocks.append(Paragraph(ctx.say("buy.squaring", fabric=named, squaring=fabric.squaring)))
    usual, linings = (settings.spare, settings.shrinkage), {c.plan.backing.fabric for c in across if c.plan.backing}
    for fabric in ctx.pattern.fabrics.values():
        if (fabric.spare, fabric.shrinkage) != usual and (fabric.key in keys or fabric.key in linings):
            lost = percent(fabric.shrinkage, ctx)
            losses = ctx.say("buy.losses", fabric=ctx.fabric(fabric.key), spare=fabric.spare, shrinkage=lost)
            blocks.append(Paragraph(losses))
    return blocks


def percent(value: Fraction, ctx: Context) -> str:
    """A number of percent as it is printed; empty for none."""
    return ctx.phrases.mark(decimal(value)) if value else ""


def to_buy(ctx: Context, key: str) -> str:
    """How much of a fabric to buy, in words; a dash where it is not used."""
    plan = ctx.plan.fabrics.get(key)
    if plan is None:
        return "–"
    return ctx.phrases.yardage(plan.buy) if plan.sheets is None else sheet_buying(plan, ctx)


def taking(ctx: Context, key: str) -> str:
    """What the cuts of a fabric take."""
    plan = ctx.plan.fabrics[key]
    return ctx.phrases.length(plan.used) if plan.sheets is None else sheet_taking(plan, ctx)


def _linings(ctx: Context, across: Sequence[Context]) -> list[tuple[str, ...]]:
    """Backing and batting rows, shaped like the others."""
    rows: list[tuple[str, ...]] = []
    back = ctx.plan.backing
    if back is not None:
        name = ctx.say("buy.backing_of", fabric=ctx.fabric(back.fabric)) if back.fabric else ctx.say("buy.backing")
        bought = [_backing_bought(c) for c in across]
        rows.append(
            (name, *bought)
            if ctx.sizes
            else (name, ctx.say("buy.backing_use"), ctx.phrases.by(back.width, back.height), bought[0])
        )
    if ctx.plan.batting is not None:
        sizes = [c.phrases.by(*c.plan.batting) if c.plan.batting else "–" for c in across]
        sold = [_packet(c) for c in across]
        name = ctx.say("buy.batting")
        if ctx.sizes:
            rows.append((name, *(f"{size}: {one}" if one else size for size, one in zip(sizes, sold, strict=True))))
        else:
            rows.append((name, "–", sizes[0], sold[0]) if sold[0] else (name, "–", "–", sizes[0]))
    return rows


def _web(ctx: Context, across: Sequence[Context]) -> tuple[str, ...]:
    """The row of the web for fused shapes."""
    webs = [c.plan.web for c in across]
    sizes = ["–" if web is None else ctx.phrases.by(web.width, web.length) for web in webs]
    name, shapes = ctx.say("buy.web"), sum(web.shapes for web in webs[:1] if web is not None)
    return (name, *sizes) if ctx.sizes else (name, ctx.say("buy.web_use", n=shapes), "–", sizes[0])


def _backing_bought(ctx: Context) -> str:
    """What is bought for the backing, where that is not in the amount of its fabric."""
    back, bought = ctx.plan.backing, ctx.plan.backing_buy
    if back is None or bought is None:
        return "–"
    return ctx.phrases.yardage(bought) if bought else ctx.say("buy.within", fabric=ctx.fabric(back.fabric))


def _packet(ctx: Context) -> str:
    """The batting to buy: ``72 x 90 in (twin size)``; that none sold is large enough, or nothing where none is
    known."""
    if not ctx.pattern.settings.packets:
        return ""
    one = ctx.plan.packet
    if one is None:
        return ctx.say("buy.no_packet")
    name = ctx.say(f"buy.packet_{one.name}") if one.name else ""
    return ctx.say("buy.packet", size=ctx.phrases.by(one.width, one.height), name=name)


def sizes(ctx: Context) -> Table:
    """Sizes at a glance."""
    rows = []
    for c in ctx.sizes:
        quilt, top = c.pattern.quilt, c.top
        if quilt is None or top is None:
            continue
        blocks = f"{quilt.across} x {quilt.down}" if quilt.across and quilt.down else "–"
        rows.append((c.size_name, blocks, c.phrases.by(top.width, top.height), c.measures(top)))
    return Table(ctx.say("sizes.caption"), ctx.phrases.list("sizes.heads"), tuple(rows), "lrrr")


def checkpoints(ctx: Context, steps: Sequence[tuple[int, Sequence[tuple[Context, Count]]]]) -> Table:
    """Every unit with its step, how many, and what it measures; a line for each size where they differ."""
    rows: list[tuple[str, ...]] = []
    for number, copies in steps:
        for own, data in groups(_diagonal_lines(copies) or [(c, _line(x.making, x.needed, c)) for c, x in copies]):
            name, *cells = (str(ctx.phrases.render(cell)) or NONE for cell in data)
            size = ctx.say("words.all") if len(own) == len(ctx.sizes) else named(own, ctx)
            rows.append((str(number), name, *([size] if ctx.sizes else []), *cells))
    heads = ctx.phrases.list("check.heads")
    if ctx.sizes:
        heads = (*heads[:2], ctx.phrases.list("sizes.heads")[0], *heads[2:])
    return Table(ctx.say("check.caption"), heads, tuple(rows), "rl" + ("l" if ctx.sizes else "") + "rrr")


def _line(making: Making, needed: int, c: Context) -> Line:
    finished = Printed("by", (making.width, making.height)) if is_box(making) else ""
    return c.title(making), needed, c.size(making), finished


def _diagonal_lines(copies: Sequence[tuple[Context, Count]]) -> list[tuple[Context, Line]]:
    """The lines of diagonal rows, those that are alike in one: a row's ends are slanted, so what can be measured is the
    way from triangle to triangle. Nothing of other steps."""
    if not is_diagonal(copies[0][1].making):
        return []
    return [
        (
            c,
            (
                row.name(c),
                len(row.numbers) * row.each,
                c.state(f"check.{row.sort}", length=row.length, blocks=row.blocks),
                "",
            ),
        )
        for c in dict.fromkeys(c for c, _ in copies)
        for row in alike([x.making for other, x in copies if other is c], c)
    ]
