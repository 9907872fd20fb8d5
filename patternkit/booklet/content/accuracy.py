"""How far small errors at the seams move a size, and which plain pieces can take them up.

An error t at each of n seams along one line moves the size by n t when all errors lie the same way (a foot set wrong),
and by about root n times t when they lie either way by chance (the usual sum of independent errors). Both are printed.
"""

from __future__ import annotations

from fractions import Fraction

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.diagonal import is_diagonal, number, rows_of, sort_of
from patternkit.booklet.content.rounds import has_logs
from patternkit.booklet.content.taking import called
from patternkit.booklet.phrases import Sentence
from patternkit.document import Block, Paragraph, Section, Table
from patternkit.lengths import ZERO, Length, root
from patternkit.piecing.making import Making
from patternkit.work.drift import MANY, most_seams
from patternkit.work.model import Mend


class Drift(msgspec.Struct, frozen=True):
    """A unit's seams along one line: how many, which way the line runs ("w" or "h"), how far the size moves."""

    seams: int
    way: str
    in_all: Length
    by_chance: Length


def drift(making: Making, ctx: Context) -> Drift:
    """The drift along the line with most seams, at the file's thread."""
    (n, axis), thread = most_seams(making, ctx.crossed), ctx.pattern.settings.thread
    return Drift(n, ("w", "h")[axis], thread * n, root(Fraction(n)) * thread if n else ZERO)


# -- in words ------------------------------------------------------------------------------------------------
def remedies(making: Making, ctx: Context) -> tuple[Sentence, ...]:
    """What a step says about a unit with many seams; nothing for others."""
    if making.role not in ("unit", "block") or making.recipe.method.on_paper:
        return ()  # the lines of a paper keep every piece in its place
    off = drift(making, ctx)
    if off.seams < MANY:
        return ()
    thread = ctx.pattern.settings.thread
    key = "remedy.many_logs" if has_logs(making) else "remedy.many"
    texts = [ctx.state(key, seams=off.seams, thread=thread, off=off.in_all)]
    step = ctx.makers[making.thing]
    texts += [_mended(mend, making, ctx) for mend in step.remedies if mend.of == making.thing]
    return tuple(texts)


def _mended(mend: Mend, making: Making, ctx: Context) -> Sentence:
    """A remedy: which pieces are cut how much larger for how much that is missing."""
    each = mend.changes[0][2]
    if mend.within == mend.of:
        return ctx.state("remedy.ends", missing=mend.error, each=each)
    within = next(c.making for c in ctx.plan.counts if c.making.thing == mend.within)
    units, pieces = mend.line
    taken = {mend.of, *(piece for piece, _, _ in mend.changes)}
    return ctx.state(
        "remedy.beside",
        parent=ctx.listed([ctx.title(ctx.designs[s.thing]) for s in ctx.order.steps if taken <= s.takes.keys()]),
        names=ctx.listed(called([piece for piece, _, _ in mend.changes], within, ctx)),
        title=ctx.title(making),
        n=pieces,
        copies=units,
        missing=mend.missing,
        each=each,
        way=mend.axis,
    )


def accuracy_section(ctx: Context) -> Section | None:
    """The drift of every unit with two seams or more along a line."""
    found: dict[tuple[str, ...], list[Making]] = {}
    for count in ctx.steps:
        off = drift(count.making, ctx)
        if off.seams >= 2:
            cells = (
                ctx.say(f"accuracy.{off.way}", n=off.seams),
                ctx.phrases.fine(off.in_all),
                ctx.phrases.fine(off.by_chance),
            )
            making = count.making
            same = f"{sort_of(making)} {rows_of(making)}" if is_diagonal(making) else ctx.title(making)
            found.setdefault((same, *cells), []).append(count.making)
    rows = []
    for (name, *numbers), makings in found.items():
        diagonal = is_diagonal(makings[0])
        numbers_of = [number(m) for m in makings] if diagonal else []
        called = ctx.names.diagonal(numbers_of, sort_of(makings[0]) == "sashes") if diagonal else name
        if diagonal and rows_of(makings[0]):
            called = f"{ctx.names.whole(makings[0])}, {called}"
        rows.append((called, *numbers))
    if not rows:
        return None
    thread = ctx.phrases.fine(ctx.pattern.settings.thread)
    blocks: list[Block] = [
        Paragraph(ctx.say("accuracy.intro", thread=thread)),
        Table("", ctx.phrases.list("accuracy.heads"), tuple(rows), "llrr"),
        Paragraph(ctx.say("accuracy.help", many=MANY)),
    ]
    return Section("accuracy", ctx.say("heads.accuracy"), tuple(blocks))
