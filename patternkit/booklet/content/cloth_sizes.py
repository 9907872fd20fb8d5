"""How each fabric is cut in several sizes of a quilt: one table of strips with a column for each size where the sizes
share rows of it, a table for each size where they do not; the drawings to scale by size."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import msgspec

from patternkit.booklet.content.cloth import (
    NONE,
    AlikeStrips,
    alike_strips,
    cutting_table,
    fabric_drawings,
    fabric_takes,
)
from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.booklet.content.joined import in_one, joined_items, joins, kept_for_finishing
from patternkit.booklet.content.merged import groups, named
from patternkit.booklet.content.sheet_cuts import sheet_blocks
from patternkit.booklet.content.uses import for_what, in_any_size
from patternkit.document import Block, Figure, Paragraph, Section, Table
from patternkit.drawing.cuts import WIDE
from patternkit.lengths import Length

SHARED = Fraction(4, 5)  # one table is short enough from so many of the sizes' rows downward
SMALLER = 0.5  # how much of the page's width a cloth takes that stands with those of other sizes


class ClothRow(msgspec.Struct, frozen=True):
    """One row of a size's cuts: strips alike (`key`: what is the same in every size that has the row, `words` that in
    words), how many of them, and how many pieces of each kind in all."""

    key: object
    words: tuple[str, ...]
    strips: int
    pieces: tuple[int, ...]
    order: tuple[int, Length]  # cut along the cloth first, leftovers last, high strips before low


def fabrics_by_size(ctx: Context) -> list[Section]:
    """Every fabric that some size is cut from, in the order in which the pattern names them."""
    by_fabric = {key: [c for c in ctx.sizes if key in c.plan.fabrics] for key in ctx.pattern.fabrics}
    return [_fabric(key, sizes, ctx) for key, sizes in by_fabric.items() if sizes]


def _fabric(key: str, sizes: Sequence[Context], ctx: Context) -> Section:
    blocks: list[Block] = []
    sheets = any(c.order.layout[key].sheets for c in sizes)
    listed = [rows_of(key, c) for c in sizes]
    shared = in_order(listed)
    one = len(shared) <= sum(map(len, listed)) * SHARED and not sheets
    if one:
        blocks.append(_table(shared, listed, sizes, ctx))
    intros: list[Block] = []
    for c in sizes:
        intro, *found = sheet_blocks(key, c) or [Paragraph("")]
        if found and intro not in intros:  # how each piece of cloth is cut: once
            intros.append(intro)
            blocks.append(intro)
        blocks += [Paragraph("", ctx.say("sizes.lead", sizes=c.size_name)), *found] if found else []
        if not one and c.order.layout[key].strips:
            blocks.append(msgspec.structs.replace(cutting_table(key, c), caption=c.size_name))
    blocks += _joined(key, sizes, ctx)
    for c in sizes:
        if c.order.layout[key].strips:
            caption = f"{ctx.say('sizes.lead', sizes=c.size_name)} {fabric_takes(key, c)}"
            blocks.append(Figure(fabric_drawings(key, c, SMALLER if one else WIDE), caption))
    return Section(f"cut-{slug(key)}", ctx.fabric(key), tuple(blocks))


def _joined(key: str, sizes: Sequence[Context], ctx: Context) -> list[Block]:
    """The strips joined end to end, by their height: how many in each size, and what is cut from them."""
    found = [(c, join) for c in sizes for join in joins(key, c)]
    blocks: list[Block] = []
    for height in dict.fromkeys(join.strip.height for _, join in found):
        each = [(c, (join.count, joined_items(join, c))) for c, join in found if join.strip.height == height]
        rows = tuple((named(own, ctx), str(n), ctx.phrases.render(cut)) for own, (n, cut) in groups(each))
        alike = all(in_one(join) for _, join in found if join.strip.height == height)
        phrase = "cutting.long_sizes" if alike else "cutting.long_sizes_by_ends"
        blocks.append(Paragraph(ctx.say(phrase, fabric=ctx.fabric(key), h=height)))
        blocks.append(Table("", ctx.phrases.list("cutting.long_heads"), rows, "lrl"))
    kept = [(c, tuple(kept_for_finishing(key, c))) for c in sizes]
    for own, words in groups([pair for pair in kept if pair[1]]):
        blocks += [Paragraph(one, ctx.say("sizes.lead", sizes=named(own, ctx))) for one in words]
    return blocks


def rows_of(key: str, ctx: Context) -> list[ClothRow]:
    """The cuts of one size in the order in which they are made, alike ones together."""
    found: dict[object, ClothRow] = {}
    for strips in alike_strips(key, ctx):
        row = _row(strips, ctx)
        known = found.get(row.key)
        if known is not None:
            pieces = tuple(a + b for a, b in zip(known.pieces, row.pieces, strict=True))
            row = msgspec.structs.replace(known, strips=known.strips + row.strips, pieces=pieces)
        found[row.key] = row
    return list(found.values())


def _row(alike: AlikeStrips, ctx: Context) -> ClothRow:
    strip = alike.strip
    uses = [[use for use, _ in p.uses] for p in alike.pieces] or [[use for use, _ in alike.uses]]
    each = alike.cut(ctx, then=True) + alike.kept(ctx)
    if alike.uses:
        each = ctx.say("cutting.keep_whole")
    whys = dict.fromkeys(", ".join(dict.fromkeys(for_what(use, ctx) for use in own)) for own in uses)
    pieces = tuple((p.size, p.trimmed, p.becomes, p.leans, p.run, p.code, p.number) for p in alike.pieces)
    heights = tuple((width, tuple((row.height, row.count) for row in rows)) for width, rows in alike.segments)
    purposes = tuple(tuple(in_any_size(use, ctx) for use in own) for own in uses)
    return ClothRow(
        (strip.kind, strip.height, strip.source, strip.keeps, pieces, heights, purposes),
        (alike.first(ctx, "_each"), each, "; ".join(whys)),
        strip.count,
        tuple(p.number * strip.count for p in alike.pieces),
        (0 if strip.kind == "along" else 2 if strip.source else 1, -strip.height),
    )


def in_order(listed: Sequence[Sequence[ClothRow]]) -> list[ClothRow]:
    """The rows of all sizes, each once, in the order in which they are cut."""
    found: dict[object, ClothRow] = {}
    for row in (row for rows in listed for row in rows):
        found.setdefault(row.key, row)
    return sorted(found.values(), key=lambda row: row.order)  # stable: as first met among equals


def _table(
    shared: Sequence[ClothRow], listed: Sequence[Sequence[ClothRow]], sizes: Sequence[Context], ctx: Context
) -> Table:
    cells = {(row.key, c): _cell(row, ctx) for rows, c in zip(listed, sizes, strict=True) for row in rows}
    return Table(
        "",
        (*ctx.phrases.list("cutting.heads_sizes"), *(c.size_name for c in ctx.sizes)),
        tuple((*row.words, *(cells.get((row.key, c), NONE) for c in ctx.sizes)) for row in shared),
        "lll" + "r" * len(ctx.sizes),
    )


def _cell(row: ClothRow, ctx: Context) -> str:
    if not row.pieces:
        return str(row.strips)
    return ctx.say("cutting.strips_pieces", strips=row.strips, pieces="; ".join(map(str, row.pieces)))
