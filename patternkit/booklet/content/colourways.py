"""Colourways: one pattern in several assignments of fabric, each with its shopping list and its drawing."""

from __future__ import annotations

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.content.tables import to_buy
from patternkit.document import Block, Figure, Section, Table
from patternkit.drawing.making import draw_making

BEFORE, AFTER = ("intro", "note", "before"), ("tip", "caution", "after", "finishing")


def colourways_section(ctx: Context, others: tuple[Context, ...]) -> Section | None:
    """Each colourway of `others` (the same pattern in that colourway, planned)."""
    inner = tuple(_colourway(c) for c in others)
    return Section("colourways", ctx.say("heads.colourways"), inner) if inner else None


def way_title(ctx: Context) -> str:
    """What a context's colourway is called; empty without one."""
    return next((w.title for w in ctx.pattern.colourways if w.name == ctx.pattern.colourway), "")


def _colourway(ctx: Context) -> Section:
    key = slug(ctx.pattern.colourway)
    rows = [(ctx.fabric(k), to_buy(ctx, k)) for k in ctx.plan.fabrics]
    back = ctx.plan.backing
    if back is not None and ctx.plan.backing_buy:
        name = ctx.say("buy.backing_of", fabric=ctx.fabric(back.fabric)) if back.fabric else ctx.say("buy.backing")
        rows.append((name, ctx.phrases.yardage(ctx.plan.backing_buy)))
    heads = ctx.phrases.list("buy.heads")
    blocks: list[Block] = [Table("", (heads[0], heads[-1]), tuple(rows), "ll")]
    if ctx.top is not None:
        look = msgspec.structs.replace(ctx.look, title=way_title(ctx))
        blocks.append(
            Figure(
                (
                    draw_making(
                        ctx.as_shown(ctx.top),
                        ctx.swatches,
                        look,
                        key=f"colourway-{key}",
                        wide=260.0,
                        rounded=float(ctx.plan.rounded),
                    ),
                )
            )
        )
    return Section(f"colourway-{key}", way_title(ctx), (*way_prose(ctx, BEFORE), *blocks, *way_prose(ctx, AFTER)))


def way_prose(ctx: Context, words: tuple[str, ...]) -> list[Block]:
    """What the writer says of a context's colourway, by the words that her texts begin with."""
    own = [w.prose for w in ctx.pattern.colourways if w.name == ctx.pattern.colourway]
    return prose_blocks(own[0], words, ctx) if own else []
