"""The writer's own words: notes, tips, cautions and step texts, with the numbers they ask for filled in.

``{lantern.measures}``, ``{lantern.count}``, ``{night.buy}``, ``{quilt.finished}`` and the like take their numbers from the
model; `patternkit.model.facts` says which exist.
"""

from __future__ import annotations

from typing import Iterable, Sequence

from patternkit.booklet.content.context import Context
from patternkit.booklet.document import Block, Callout, Rich
from patternkit.model.facts import ASKED
from patternkit.syntax.statements import Prose

CALLOUTS = ("note", "tip", "caution")


def prose_blocks(prose: Sequence[Prose], words: Iterable[str], ctx: Context) -> list[Block]:
    """The texts of these kinds, in order, as blocks."""
    wanted = tuple(words)
    found: list[Block] = []
    for p in prose:
        if p.word in wanted:
            text = filled(p.text, ctx)
            found.append(Callout(p.word, text, rich=True) if p.word in CALLOUTS else Rich(text))  # type: ignore[arg-type]
    return found


def filled(text: str, ctx: Context) -> str:
    """A text with its numbers; what can't be filled in is left as it stands (a check reports it)."""
    return ASKED.sub(lambda m: answer(m.group(1), m.group(2), ctx) or m.group(0), text)


def answer(name: str, fact: str, ctx: Context) -> str | None:
    """One number the writer asks for, or None when there is no such thing."""
    if name == "quilt":
        return _of_quilt(fact, ctx)
    if name in ctx.pattern.fabrics:
        return _of_fabric(name, fact, ctx)
    count = next((c for c in ctx.plan.counts if c.making.key == name), None)
    if count is None:
        return None
    making = count.making
    w, h = ctx.raw(making)
    return {"measures": ctx.phrases.by(w, h), "finished": ctx.phrases.by(making.width, making.height),
            "count": str(count.needed), "width": ctx.phrases.length(w), "height": ctx.phrases.length(h)}.get(fact)


def _of_quilt(fact: str, ctx: Context) -> str | None:
    top, quilt = ctx.top, ctx.pattern.quilt
    if top is None or quilt is None:
        return None
    w, h = ctx.raw(top)
    return {"measures": ctx.phrases.by(w, h), "finished": ctx.phrases.by(top.width, top.height),
            "across": str(quilt.across or ""), "down": str(quilt.down or "")}.get(fact)


def _of_fabric(name: str, fact: str, ctx: Context) -> str | None:
    plan, swatch = ctx.plan.fabrics.get(name), ctx.swatches[name]
    if fact == "buy":
        return ctx.phrases.yardage(plan.buy) if plan is not None else None
    return {"name": swatch.title, "letter": swatch.letter}.get(fact)
