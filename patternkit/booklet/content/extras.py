"""What is cut besides by the writer's word: how many of what size, and her words on what is made of it."""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.panels import Panel, lines
from patternkit.booklet.content.prose import prose_blocks
from patternkit.booklet.phrases import Sentence
from patternkit.model.cut_lines import AlsoCut
from patternkit.piecing.keys import Thing
from patternkit.plan.also import name_of
from patternkit.work.model import Extra


def extra_panels(also: Sequence[AlsoCut], of: Thing | None, ctx: Context) -> list[Panel]:
    """What is cut besides for the quilt, or for each `of` a unit that is made; then her words. Pieces of several sizes
    under one title are told together, before the words of its first line."""
    extras = [x for x in ctx.order.finish if isinstance(x, Extra) and x.of == of]
    found: list[Panel] = []
    for n, one in enumerate(also):
        known = any(earlier.title == one.title for earlier in also[:n])
        for extra in extras if not known else ():
            found += lines(f"also {n}", _cut(extra, ctx)) if extra.name == name_of(one) else []
        found += lines(f"also {n} words", *prose_blocks(one.prose, ("also",), ctx))
    return found


def _cut(extra: Extra, ctx: Context) -> Sentence:
    piece, name = extra.piece, extra.name.title
    needed = next((c.needed for c in ctx.plan.counts if c.making.thing == extra.of), 1)
    each = extra.count // needed
    values = {"name": name[:1].upper() + name[1:], "n": each, "fabric": ctx.fabric(piece.fabric)}
    values |= {"w": piece.width, "h": piece.height, "strip": piece.form == "strip"}
    values["code"] = ctx.codes.get(piece, "")
    return ctx.state("finish.also", **values, each=extra.of is not None and needed > 1, all=extra.count)
