"""The writer's own words: notes, tips, cautions and step texts, with the numbers they ask for filled in.

``{lantern.measures}``, ``{lantern.count}``, ``{night.buy}``, ``{quilt.finished}`` and the like take their numbers from
the model; `patternkit.booklet.content.facts` says which exist.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.facts import ASKED
from patternkit.booklet.content.sheet_cuts import sheet_buying, sheet_taking
from patternkit.document import Block, Callout, Rich
from patternkit.lengths import Length
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
    return ASKED.sub(lambda m: answer(m.group(1), m.group(2).lower(), ctx) or m.group(0), text)


def answer(name: str, fact: str, ctx: Context) -> str | None:
    """One number the writer asks for, or None when there is no such thing. In a booklet of several sizes that differ,
    one for each size, as in its tables."""
    contexts = ctx.sizes or (ctx,)
    answers = [_one(name, fact, c) for c in contexts]
    known = [t for t in answers if t is not None]
    if not known:
        return None
    return known[0] if len(set(answers)) == 1 else " / ".join("–" if t is None else t for t in answers)


def _one(name: str, fact: str, ctx: Context) -> str | None:
    if name == "quilt":
        return _of_quilt(fact, ctx)
    if name == "pattern":
        s = ctx.pattern.settings
        return {
            "seam": ctx.phrases.length(s.seam),
            "title": s.title,
            "usable width": ctx.phrases.length(s.usable_width),
        }.get(fact)
    if name in ctx.pattern.fabrics:
        return _of_fabric(name, fact, ctx)
    found = [
        c for c in ctx.plan.counts if c.making.key.of == name or (c.making.unit == name and c.making.key.part is None)
    ]
    if not found:
        return None
    making = found[0].making
    if fact == "step":
        return next((str(i) for i, c in enumerate(ctx.steps, 1) if c.making is making), None)
    w, h = ctx.raw(making)
    return {
        "measures": ctx.phrases.by(w, h),
        "finished": ctx.phrases.by(making.width, making.height),
        "count": str(sum(c.needed for c in found)),
        "width": ctx.phrases.length(w),
        "height": ctx.phrases.length(h),
        "name": ctx.title(making),
    }.get(fact)


def _of_quilt(fact: str, ctx: Context) -> str | None:
    top, quilt = ctx.top, ctx.pattern.quilt
    if top is None or quilt is None:
        return None
    blocks = sum(c.needed for c in ctx.plan.counts if c.making.role == "block" and c.making.key.part is None)
    return {
        "measures": ctx.measures(top),
        "finished": ctx.phrases.by(top.width, top.height),
        "across": str(quilt.across or ""),
        "down": str(quilt.down or ""),
        "width": ctx.phrases.length(top.width),
        "height": ctx.phrases.length(top.height),
        "blocks": str(blocks),
    }.get(fact)


def _of_fabric(name: str, fact: str, ctx: Context) -> str | None:
    plan, swatch = ctx.plan.fabrics.get(ctx.pattern.fabrics[name].cloth), ctx.swatches.get(name)
    if fact in ("buy", "used"):
        if plan is None:
            return None
        if plan.sheets is not None:
            return sheet_buying(plan, ctx) if fact == "buy" else sheet_taking(plan, ctx)
        amount: Length = plan.buy if fact == "buy" else plan.used
        return ctx.phrases.yardage(amount) if fact == "buy" else ctx.phrases.length(amount)
    if swatch is None:
        return ctx.pattern.fabrics[name].title if fact == "name" else None
    return {"name": swatch.title, "letter": swatch.letter}.get(fact)
