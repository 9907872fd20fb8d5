"""How each fabric is cut in several sizes of a quilt: one table of strips with a column for each size where the sizes
share rows of it, a table for each size where they do not; the drawings to scale by size."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import msgspec

from patternkit.booklet.content.cloth import (
    as_told,
    cutting_table,
    fabric_drawing,
    fabric_takes,
    long_items,
    strip_pieces,
    use_of,
    whole_uses,
)
from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.booklet.content.merged import groups, named
from patternkit.booklet.content.sheet_cuts import sheet_blocks
from patternkit.document import Block, Figure, Paragraph, Section, Table
from patternkit.drawing.cuts import WIDE
from patternkit.lengths import Length
from patternkit.plan.cutting.model import Strip
from patternkit.plan.model import FabricPlan

SHARED = Fraction(4, 5)  # one table is short enough from so many of the sizes' rows downward
SMALLER = 0.62  # how much of the page's width a cloth takes that stands with those of other sizes
NONE = "–"
_Key = tuple[str, str, str]  # the strip, what comes from each, what for


class ClothRow(msgspec.Struct, frozen=True):
    """One row of a size's cuts: strips alike, how many of them, and how many pieces of each kind in all."""

    key: _Key
    strips: int
    pieces: tuple[int, ...] = ()
    order: tuple[int, Fraction] = (0, Fraction(0))  # cut along the cloth first, leftovers last, high strips before low


def fabrics_by_size(ctx: Context) -> list[Section]:
    """Every fabric that some size is cut from, in the order in which the pattern names them."""
    return [
        _fabric(key, [c for c in ctx.sizes if key in c.plan.fabrics], ctx)
        for key in ctx.pattern.fabrics
        if any(key in c.plan.fabrics for c in ctx.sizes)
    ]


def _fabric(key: str, sizes: Sequence[Context], ctx: Context) -> Section:
    plans = [c.plan.fabrics[key] for c in sizes]
    blocks: list[Block] = []
    sheets = any(plan.sheets is not None for plan in plans)
    listed = [rows_of(plan, c) for plan, c in zip(plans, sizes, strict=True)]
    merged = together(listed)
    one = len(merged) <= sum(map(len, listed)) * SHARED and not sheets
    if one:
        blocks.append(_table(merged, listed, sizes, ctx))
    told: list[Block] = []
    for c, plan in zip(sizes, plans, strict=True):
        if sheets:
            prefix = f"{slug(c.size_name)}-"
            uses = {line.id: use_of(line, c) for line in plan.lines}
            intro, *found = sheet_blocks(plan, c, prefix, uses) or [Paragraph("")]
            if found and intro not in told:  # how each piece of cloth is cut: once
                told.append(intro)
                blocks.append(intro)
            blocks += [Paragraph("", ctx.say("sizes.lead", sizes=c.size_name)), *found] if found else []
        if not one and plan.plan.strips:
            table = cutting_table(plan, c)
            blocks.append(Table(c.size_name, table.heads, table.rows, table.align))
    blocks += _joined(key, sizes, ctx)
    for c, plan in zip(sizes, plans, strict=True):
        if plan.plan.strips:
            caption = f"{ctx.say('sizes.lead', sizes=c.size_name)} {fabric_takes(plan, c)}"
            blocks.append(Figure((fabric_drawing(plan, c, SMALLER if one else WIDE),), caption))
    return Section(f"cut-{slug(key)}", ctx.fabric(key), tuple(blocks))


def _joined(key: str, sizes: Sequence[Context], ctx: Context) -> list[Block]:
    """The strips joined end to end, by their height: how many in each size, and what is cut from them."""
    longs = [(c, long) for c in sizes for long in c.plan.long_strips if long.fabric == key]
    blocks: list[Block] = []
    for height in dict.fromkeys(long.height for _, long in longs):
        each = [(c, (long.strips, long_items(long, c))) for c, long in longs if long.height == height]
        rows = tuple((named(sizes, ctx), str(n), ctx.phrases.render(cut)) for sizes, (n, cut) in groups(each))
        blocks.append(Paragraph(ctx.say("cutting.long_sizes", fabric=ctx.fabric(key), h=height)))
        blocks.append(Table("", ctx.phrases.list("cutting.long_heads"), rows, "lrl"))
    return blocks


def rows_of(plan: FabricPlan, ctx: Context) -> list[ClothRow]:
    """The cuts of one size in the order in which they are made, alike ones together."""
    by_id = {line.id: line for line in plan.lines}
    found: dict[_Key, ClothRow] = {}

    def add(row: ClothRow) -> None:
        known = found.get(row.key)
        if known is not None:
            pieces = tuple(a + b for a, b in zip(known.pieces, row.pieces, strict=True))
            row = ClothRow(row.key, known.strips + row.strips, pieces, known.order)
        found[row.key] = row

    for strip in as_told(plan, ctx).strips:
        first, order = _first(strip, plan, ctx), _order(strip, plan)
        shapes = [by_id[cut.piece] for cut in strip.cuts if by_id[cut.piece].per_strip]
        if strip.kind == "full" and shapes:
            each = ctx.say("cutting.shapes", n=shapes[0].per_strip)
            add(ClothRow((first, each, use_of(shapes[0], ctx)), strip.copies, (shapes[0].count,), order))
        elif strip.kind == "full":
            same = [s for s in plan.plan.strips if s.kind == "full" and s.height == strip.height]
            uses = whole_uses([s for s in same if not any(by_id[x.piece].per_strip for x in s.cuts)], by_id, ctx)
            add(ClothRow((first, ctx.say("cutting.keep_whole"), ", ".join(uses)), strip.copies, (), order))
        else:
            pieces = strip_pieces(strip, by_id, ctx)
            each = "; ".join(f"{p.each}{p.then(p.number, ctx)}" for p in pieces)
            whys = list(dict.fromkeys(", ".join(p.uses) for p in pieces))
            numbers = tuple(p.number * strip.copies for p in pieces)
            add(ClothRow((first, each, "; ".join(whys)), strip.copies, numbers, order))
    return list(found.values())


def _first(strip: Strip, plan: FabricPlan, ctx: Context) -> str:
    key = "along" if strip.kind == "along" else "leftover" if strip.source else "strip"
    height = Length(Fraction(strip.height, plan.scale))
    return ctx.say(f"cutting.{key}_each", h=height, label=strip.source)


def _order(strip: Strip, plan: FabricPlan) -> tuple[int, Fraction]:
    rank = 0 if strip.kind == "along" else 2 if strip.source else 1
    return rank, -Fraction(strip.height, plan.scale)


def together(listed: Sequence[Sequence[ClothRow]]) -> list[_Key]:
    """The rows of all sizes, each once, in the order in which they are cut."""
    found = {row.key: row.order for rows in listed for row in rows}
    return sorted(found, key=lambda key: found[key])  # stable: as first met among equals


def _table(keys: Sequence[_Key], listed: Sequence[Sequence[ClothRow]], sizes: Sequence[Context], ctx: Context) -> Table:
    cells = {(row.key, c.size_name): _cell(row, ctx) for rows, c in zip(listed, sizes, strict=True) for row in rows}
    names = [c.size_name for c in ctx.sizes]
    return Table(
        "",
        (*ctx.phrases.list("cutting.heads_sizes"), *names),
        tuple((*key, *(cells.get((key, name), NONE) for name in names)) for key in keys),
        "lll" + "r" * len(names),
    )


def _cell(row: ClothRow, ctx: Context) -> str:
    if not row.pieces:
        return str(row.strips)
    return ctx.say("cutting.strips_pieces", strips=row.strips, pieces="; ".join(map(str, row.pieces)))
