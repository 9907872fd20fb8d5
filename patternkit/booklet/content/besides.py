"""What a booklet tells besides the quilt: blocks that may be made if one wishes, and other ways of making a unit.

Each is a pattern of that unit alone, planned and sewn as any other; its amounts are in none of the quilt's.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import structs

from patternkit.booklet.content.cloth import fabric_cuts
from patternkit.booklet.content.cloth_sizes import fabrics_by_size
from patternkit.booklet.content.context import Context, MadeBesides, beside
from patternkit.booklet.content.merged import Copies, making_of, step, steps_of
from patternkit.booklet.content.tables import buying
from patternkit.booklet.content.templates import templates
from patternkit.document import Block, NumberedStep, Paragraph, PrintedTemplate, Section, Table
from patternkit.model.pattern import Unit
from patternkit.syntax.statements import MethodStatement


def besides_of(ctx: Context) -> Sequence[MadeBesides]:
    """All of them, in the order of the file."""
    if ctx.besides is None:
        ctx.besides = _besides(ctx)
    return ctx.besides


def _besides(ctx: Context) -> list[MadeBesides]:
    found = []
    for unit in ctx.pattern.units.values():
        if unit.middle_of:
            continue  # told of the unit round it
        ways: tuple[MethodStatement | None, ...] = (None,) if unit.optional is not None else unit.other_methods
        for way in ways:
            if (own := _alone(unit, way, ctx)) is not None:
                found.append(MadeBesides(unit, way, own))
    return found


def _alone(unit: Unit, way: MethodStatement | None, ctx: Context) -> Context | None:
    """The unit alone, in every size that needs it."""
    made = []
    for c in ctx.family:
        own = [x.needed for x in c.plan.counts if x.making.key.of == unit.key]
        n = sum(own) if way is not None else c.pattern.units[unit.key].make or 1
        if n:
            made.append(c.project.alone(unit.key, n, way))
    return beside(made, ctx) if made else None


def sections(ctx: Context, last: int) -> list[Section]:
    """A section for each, its steps numbered on from the last of the quilt."""
    found = []
    for number, one in enumerate(besides_of(ctx), 1):
        own, blocks = one.ctx, list[Block]()
        blocks.append(Paragraph(_intro(one, ctx)))
        blocks += [block for block in buying(own) if isinstance(block, Table)]
        cutting = fabrics_by_size(own) if own.sizes else [fabric_cuts(own, key) for key in own.plan.fabrics]
        blocks += [structs.replace(b, key=f"beside-{number}-{b.key}") if isinstance(b, Section) else b for b in cutting]
        steps = steps_of(own)
        for c in own.family:
            c.numbers = {thing: n + last for thing, n in c.numbers.items()}
        blocks += [_named(step(n, copies, own), one, copies, ctx) for n, copies in enumerate(steps, last + 1)]
        last += len(steps)
        found.append(Section(f"beside-{number}", _head(one, ctx), tuple(blocks)))
    return found


def _named(done: NumberedStep, one: MadeBesides, copies: Copies, ctx: Context) -> NumberedStep:
    """A step by a name that no step of the quilt has."""
    if one.method is None and making_of(copies).key.of == one.unit.key:
        return done
    what = one.unit.title if one.method is None else ctx.look.method(one.method.words)
    return structs.replace(done, title=ctx.say("besides.step", what=what, title=done.title))


def _head(one: MadeBesides, ctx: Context) -> str:
    if one.method is None:
        return ctx.say("besides.optional", title=one.unit.title)
    return ctx.say("besides.way", title=one.unit.title, method=ctx.look.method(one.method.words))


def _intro(one: MadeBesides, ctx: Context) -> str:
    if one.method is None:
        n = " / ".join(dict.fromkeys(str(c.pattern.units[one.unit.key].make or 1) for c in one.ctx.family))
        made = next(x.making for x in one.ctx.plan.counts if x.making.key.of == one.unit.key)
        return ctx.say("besides.optional_intro", n=n, what=one.ctx.noun(made, n))
    steps = sorted({n for c in ctx.family for thing, n in c.numbers.items() if thing.key.within == one.unit.key})
    middle = (u for u in ctx.pattern.units.values() if u.middle_of == one.unit.key)
    usual_method = next(middle, one.unit).method
    usual = ctx.look.method(usual_method.words) if usual_method is not None else ""
    listed = ctx.listed([str(n) for n in steps])
    values = {"title": one.unit.title, "method": ctx.look.method(one.method.words), "usual": usual}
    return ctx.say("besides.way_intro", n=len(steps), steps=listed, **values)


def printed(ctx: Context) -> tuple[PrintedTemplate, ...]:
    """The templates of the booklet, and those that only its besides use."""
    found = list(templates(ctx))
    for one in besides_of(ctx):
        known = {sheet.drawing.key for sheet in found}
        found += [sheet for sheet in templates(one.ctx) if sheet.drawing.key not in known]
    return tuple(found)
