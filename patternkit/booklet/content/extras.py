"""What is cut besides by the writer's word: how many of what size, and her words on what is made of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.panels import Panel, lines
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.phrases import Sentence
from patternkit.model.pattern import AlsoCut
from patternkit.piecing.keys import Thing
from patternkit.plan.also import name_of
from patternkit.work.model import Extra


def extra_panels(also: Sequence[AlsoCut], of: Thing | None, ctx: Context) -> list[Panel]:
    """What is cut besides for the quilt, or for each `of` a unit that is made `needed` times; then her words."""
    found: list[Panel] = []
    for n, one in enumerate(also):
        for extra in _of(one, of, ctx):
            found += lines(f"also {n}", _cut(extra, ctx))
        found += lines(f"also {n} words", *prose_blocks(one.prose, ("also",), ctx))
    return found


def _of(one: AlsoCut, of: Thing | None, ctx: Context) -> Iterator[Extra]:
    """What the order has of a line; a title that stands on several lines has pieces of several sizes."""
    wide = one.cut.width.value(ctx.pattern.parameters)
    for extra in ctx.order.finish:
        if isinstance(extra, Extra) and (extra.name, extra.of) == (name_of(one), of):
            piece = extra.piece
            if piece.fabric == one.cut.fabric and wide in (piece.width, piece.height):
                yield extra


def _cut(extra: Extra, ctx: Context) -> Sentence:
    piece, name = extra.piece, extra.name.title
    needed = next((c.needed for c in ctx.plan.counts if c.making.thing == extra.of), 1)
    each = extra.count // needed
    values = {"name": name[:1].upper() + name[1:], "n": each, "fabric": ctx.fabric(piece.fabric)}
    values |= {"w": piece.width, "h": piece.height, "strip": piece.form == "strip"}
    return ctx.state("finish.also", **values, each=extra.of is not None and needed > 1, all=extra.count)
