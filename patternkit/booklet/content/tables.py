"""The tables: what to buy, what to cut, sizes at a glance, index of checkpoints."""

from __future__ import annotations

from fractions import Fraction

from patternkit.booklet.content.context import Context
from patternkit.booklet.document import Block, Paragraph, Table
from patternkit.lengths import Length
from patternkit.plan.cutting.model import Strip
from patternkit.plan.model import CutLine, FabricPlan
from patternkit.units import number


def buying(ctx: Context) -> list[Block]:
    """Fabric to buy, with a column for each size when there are several."""
    settings = ctx.pattern.settings
    first = next(iter(ctx.pattern.fabrics.values()), None)
    blocks: list[Block] = [Paragraph(ctx.say("buy.intro", usable=settings.usable_width, spare=settings.spare,
                                             lot=Length(first.lot if first else settings.lot),
                                             shrinkage=settings.shrinkage))]
    across = ctx.sizes or (ctx,)
    heads = ("Fabric",) if ctx.sizes else ()
    keys = [k for k in ctx.pattern.fabrics if any(k in c.plan.fabrics for c in across)]
    rows = []
    for key in keys:
        if ctx.sizes:
            rows.append((ctx.fabric(key), *(_buy(c, key) for c in across)))
        else:
            plan = ctx.plan.fabrics[key]
            uses = list(dict.fromkeys(x.use for x in plan.lines))
            rows.append((ctx.fabric(key), ctx.listed(uses), ctx.phrases.length(plan.used), _buy(ctx, key)))
    rows += _linings(ctx, across)
    if ctx.sizes:
        heads = (*ctx.phrases.list("buy.heads_sizes"), *(c.size_name for c in across))
    else:
        heads = ctx.phrases.list("buy.heads")
    blocks.append(Table(ctx.say("buy.caption"), heads, tuple(rows), "l" + "l" * (len(heads) - 1)))
    for fabric in ctx.pattern.fabrics.values():
        if fabric.usable_width != settings.usable_width and fabric.key in keys:
            blocks.append(Paragraph(ctx.say("buy.width", fabric=ctx.fabric(fabric.key), width=fabric.usable_width)))
    return blocks


def _buy(ctx: Context, key: str) -> str:
    plan = ctx.plan.fabrics.get(key)
    return ctx.phrases.yardage(plan.buy) if plan is not None else "–"


def _linings(ctx: Context, across: tuple[Context, ...]) -> list[tuple[str, ...]]:
    """Backing and batting rows, shaped like the others."""
    rows: list[tuple[str, ...]] = []
    if ctx.plan.backing is not None:
        name = ctx.say("buy.backing") + (f": {ctx.fabric(ctx.plan.backing.fabric)}" if ctx.plan.backing.fabric else "")
        bought = [c.phrases.yardage(c.plan.backing_buy) if c.plan.backing_buy is not None else "–" for c in across]
        size = ctx.phrases.by(ctx.plan.backing.width, ctx.plan.backing.height)
        rows.append((name, *bought) if ctx.sizes else (name, ctx.say("buy.backing").lower(), size, bought[0]))
    if ctx.plan.batting is not None:
        sizes = [c.phrases.by(*c.plan.batting) if c.plan.batting else "–" for c in across]
        rows.append((ctx.say("buy.batting"), *sizes) if ctx.sizes
                    else (ctx.say("buy.batting"), ctx.say("buy.batting").lower(), "–", sizes[0]))
    return rows


def cutting(plan: FabricPlan, ctx: Context) -> Table:
    """One fabric's cuts in order: the strips, what comes from each, how many pieces in all, for what."""
    by_id = {line.id: line for line in plan.lines}
    rows: list[tuple[str, ...]] = []
    for strip in plan.plan.strips:
        rows.append(_strip_row(strip, by_id, plan, ctx))
    return Table(ctx.say("cutting.caption", fabric=ctx.fabric(plan.fabric.key)), ctx.phrases.list("cutting.heads"),
                 tuple(rows), "llll")


def _strip_row(strip: Strip, by_id: dict[str, CutLine], plan: FabricPlan, ctx: Context) -> tuple[str, ...]:
    height = Length(Fraction(strip.height, plan.scale))
    if strip.kind == "full":
        key = "cutting.full"
    elif strip.kind == "along":
        key = "cutting.along"
    else:
        key = "cutting.leftover" if strip.source else "cutting.strip"
    first = ctx.say(key, n=strip.copies, h=height, label=strip.source)
    pieces, totals, uses = [], [], []
    for cut in strip.cuts:
        line = by_id[cut.piece]
        if strip.kind == "full":
            pieces.append(ctx.say("cutting.keep_whole"))
        else:
            # width before height as the piece is named in its unit, however it lies on the strip
            size = {"w": line.cut.width, "h": line.cut.height}
            text = ctx.say("cutting.piece", n=cut.number, **size)
            pieces.append(ctx.say("cutting.trimmed", n=cut.number, **size)
                          if cut.trimmed_to is not None else text)
        number_of = cut.number * strip.copies
        totals.append(str(number_of) + (f", {_then(line, number_of, ctx)}" if line.cut.then in ("half", "quarter", "template")
                                        else ""))
        uses.append(line.use)
    if not strip.cuts:
        pieces.append(ctx.say("cutting.keep_whole"))
        totals.append(str(strip.copies))
    return first, "; ".join(pieces), "; ".join(totals), "; ".join(uses)


def _then(line: CutLine, n: int, ctx: Context) -> str:
    if line.cut.then == "template":
        return ctx.say("cutting.template")
    return ctx.say(f"cutting.{line.cut.then}", n=n * (2 if line.cut.then == "half" else 4))


def pieces_by_size(ctx: Context) -> Table:
    """All pieces to cut with a column of counts for each size."""
    rows: dict[tuple[str, str, str], list[str]] = {}
    for i, c in enumerate(ctx.sizes):
        for line in c.plan.lines:
            what = f"{ctx.say('words.strip')} {ctx.phrases.length(line.cut.height)}" if line.cut.then == "strip" else \
                f"{number(line.cut.width, ctx.units)} x {ctx.phrases.length(line.cut.height)}"
            key = (ctx.fabric(line.fabric), what, line.use)
            row = rows.setdefault(key, ["–"] * len(ctx.sizes))
            row[i] = str(line.count + (int(row[i]) if row[i] != "–" else 0))
    heads = (*ctx.phrases.list("cutting.pieces_heads"), *(c.size_name for c in ctx.sizes))
    ordered = sorted(rows.items(), key=lambda item: item[0][0])
    return Table(ctx.say("cutting.pieces_caption"), heads, tuple((*k, *v) for k, v in ordered),
                 "lll" + "r" * len(ctx.sizes))


def sizes(ctx: Context) -> Table:
    """Sizes at a glance."""
    rows = []
    for c in ctx.sizes:
        quilt, top = c.pattern.quilt, c.top
        if quilt is None or top is None:
            continue
        w, h = c.raw(top)
        blocks = f"{quilt.across} x {quilt.down}" if quilt.across and quilt.down else "–"
        rows.append((c.size_name, blocks, c.phrases.by(top.width, top.height), c.phrases.by(w, h)))
    return Table(ctx.say("sizes.caption"), ctx.phrases.list("sizes.heads"), tuple(rows), "lrrr")


def checkpoints(ctx: Context, numbers: dict[int, int]) -> Table:
    """Every unit with its step, how many, and what it measures. `numbers` gives the step of a making's id."""
    rows = []
    for count in ctx.steps:
        m = count.making
        w, h = ctx.raw(m)
        rows.append((str(numbers[id(m)]), m.title or m.key, str(count.needed), ctx.phrases.by(w, h),
                     ctx.phrases.by(m.width, m.height)))
    return Table(ctx.say("check.caption"), ctx.phrases.list("check.heads"), tuple(rows), "rlrrr")
