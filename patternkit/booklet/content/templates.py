"""True-size templates and paper foundations: which there are, how many pieces each is for, and where they match."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.booklet.content.taking import template_name
from patternkit.booklet.content.template_points import met_points, on_template, seam_line
from patternkit.booklet.phrases import Listing
from patternkit.document import PrintedTemplate
from patternkit.drawing.templates import draw_foundation, draw_template
from patternkit.lengths import ONE, ZERO
from patternkit.piecing.batch import Item, Join, Piece, Thing
from patternkit.piecing.kinds.laid_shape import FUSED, TurnedUnder
from patternkit.piecing.making import Making, PieceCut
from patternkit.piecing.sewing.paper import PaperSection, paper_cut, paper_sections
from patternkit.work.runs import RunShare


def templates(ctx: Context, only: Mapping[Context, RunShare] | None = None) -> tuple[PrintedTemplate, ...]:
    """Every template and foundation that the steps of the order use, of each size that differs; one template for all
    units that have a piece of its shape, be it turned or turned over, with the names that it has in each. With `only`
    those that the runs of a release use, in its numbers."""
    found: dict[object, _Sheet] = {}
    for c in ctx.sizes or (ctx,) if only is None else only:
        share, level = None if only is None else only[c], _level(c)
        made = dict(share.sews) if share is not None else {x.making.thing: x.needed for x in c.plan.counts}
        takes = _takes(c, share)
        for making in (x.making for x in c.plan.counts):
            thing, recipe = making.thing, making.recipe
            for use in _cut_outs(making, takes.get(thing if thing in c.makers else None, {}), level, c):
                found.setdefault(c.form(use.cut).shape.outline, _Sheet(_template)).add(c, use)
            if not made.get(thing):
                continue
            alone = _Alone(making, made[thing], (None, thing) in level)
            if recipe.numbers.cut_outline:
                found.setdefault((thing, recipe.numbers.cut_outline), _Sheet(_strip_template)).add(c, alone)
            for section in paper_sections(making) if recipe.method.on_printed_paper else ():
                sheet = found.setdefault((thing, section.letter, section.fields), _Sheet(_foundation))
                sheet.add(c, _Paper(making, made[thing], section))
            if making.is_layered:
                found.setdefault((thing, making.width, making.height), _Sheet(_placement)).add(c, alone)
    return tuple(sheet.made(sheet, ctx) for sheet in found.values())


def _takes(c: Context, share: RunShare | None) -> dict[Thing | None, dict[Item, int]]:
    """What is taken for each thing, in all or for a release; for none what stands for a unit of one piece, which has no
    step of its own."""
    found: dict[Thing | None, dict[Item, int]] = {}
    runs = [(n, b, times) for n, step in enumerate(c.order.steps) for b, (_, times) in enumerate(step.batches)]
    if share is not None:
        runs = [(run.step, b, times) for run in share.runs for b, times in run.batches]
    for n, b, times in runs:
        step = c.order.steps[n]
        own = {c.worked.desk.piece(cut) for cut in c.designs[step.thing].recipe.cuts}
        for use in step.batches[b][0].uses:
            takes = found.setdefault(step.thing if use.item in own else None, {})
            takes[use.item] = takes.get(use.item, 0) + times
    return found


def _cut_outs(
    making: Making, takes: dict[Item, int], level: set[tuple[Thing | None, Item]], c: Context
) -> list[_CutOut]:
    """What a unit takes of each piece that is cut by template."""
    found = []
    for cut in making.recipe.cuts:
        piece = c.worked.desk.piece(cut) if cut.then == "template" else None
        if piece in takes and not c.angle(piece.template):
            known = (making.thing if making.thing in c.makers else None, piece)
            found.append(_CutOut(making, cut, piece, takes.pop(piece), known in level))
    return found


def _level(c: Context) -> set[tuple[Thing | None, Item]]:
    """What is sewn to each thing with raw edges that meet, and (to none) what is wherever it is sewn in."""
    found: dict[tuple[Thing | None, Item], bool] = {}
    for step in c.order.steps:
        for batch, _ in step.batches:
            slid: set[int] = set()
            for action in batch.actions:
                whole = isinstance(action, Join) and (action.start, action.stop) == ("edge", "edge")
                if isinstance(action, Join) and not (whole and action.fit == "level" and not action.curved):
                    slid |= {edge.part for edge in (*action.left, *action.right)}
            for n, use in enumerate(batch.uses):
                for key in ((step.thing, use.item), (None, use.item)):
                    found[key] = found.get(key, True) and n not in slid
    return {key for key, level in found.items() if level}


class _CutOut(msgspec.Struct, frozen=True):
    """A piece of a unit that is cut by template: how many, and whether its raw edges are as long as those that they are
    sewn to."""

    making: Making
    cut: PieceCut
    piece: Piece
    needed: int
    level: bool


class _Paper(msgspec.Struct, frozen=True):
    """A section of a unit that is sewn on paper: how many of it are printed."""

    making: Making
    needed: int
    section: PaperSection


class _Alone(msgspec.Struct, frozen=True):
    """A piece of a strip unit: how many of it are cut, and whether its raw edges meet."""

    making: Making
    needed: int
    level: bool


class _Sheet(msgspec.Struct):
    """What is printed once: how, and for what of each size that it is the same for."""

    made: Callable[[_Sheet, Context], PrintedTemplate]
    sizes: dict[Context, list[Any]] = {}

    def add(self, c: Context, use: _CutOut | _Alone | _Paper) -> None:
        """One more unit of a size that it is for."""
        self.sizes.setdefault(c, []).append(use)

    @property
    def uses(self) -> list[tuple[Context, Any]]:
        """Every unit that it is for, with the size that this stands in."""
        return [(c, use) for c, uses in self.sizes.items() for use in uses]

    def name(self, name: str, ctx: Context) -> str:
        """A name with the sizes that it is for, where these are not all."""
        if len(self.sizes) == len(ctx.sizes or (ctx,)):
            return name
        return ctx.say("template.in_size", name=name, size=ctx.listed([c.size_name for c in self.sizes]))

    def key(self, kind: str, name: str, ctx: Context) -> str:
        """The key of its drawing."""
        sizes = [slug(c.size_name) for c in self.sizes] if len(self.sizes) < len(ctx.sizes) else []
        return "-".join((kind, *sizes, slug(name)))

    def number(self, counts: Mapping[Context, int]) -> int | str:
        """How many, for each size that it is for where these differ."""
        many = [counts.get(c, 0) for c in self.sizes]
        return many[0] if len(set(many)) == 1 else " / ".join(str(n) if n else "–" for n in many)


def _template(sheet: _Sheet, ctx: Context) -> PrintedTemplate:
    """One template for all pieces that have its shape, whatever their fabrics and units."""
    c, use = sheet.uses[0]
    names = list(dict.fromkeys(template_name(u.making, u.cut, own) for own, u in sheet.uses))
    name = sheet.name(c.listed(names), ctx)
    met = (p for own, u in sheet.uses for p in met_points(u.making, u.cut, own))
    whole: dict[Context, int] = {}
    counts: dict[tuple[str, str, bool], dict[Context, int]] = {}
    for own, u in sheet.uses:
        at = template_name(u.making, u.cut, own), u.piece.fabric, u.piece.reversed
        for number in (whole, counts.setdefault(at, {})):
            number[own] = number.get(own, 0) + u.needed
    shape = c.form(use.cut)
    drawing = draw_template(
        name,
        on_template(seam_line(use.cut, c), use.cut, shape),
        shape.shape.outline,
        c.swatches,
        c.look,
        fabric=use.piece.fabric if len({fabric for _, fabric, _ in counts}) == 1 else "",
        count=sheet.number(whole),
        grain=(ONE, ZERO),
        points=tuple(dict.fromkeys(met)),
        key=sheet.key("template", names[0], ctx),
    )
    key = "template.cut_for" if len(names) > 1 else "template.cut"
    texts = [
        c.say(key, n=sheet.number(many), fabric=c.fabric(fabric), name=called, reversed=over)
        for (called, fabric, over), many in counts.items()
    ]
    numbers = use.making.recipe.numbers
    if isinstance(numbers, TurnedUnder):
        way = "fused" if use.making.recipe.method is FUSED else "turned" if numbers.turned else "raw"
        return PrintedTemplate(drawing, name, (*texts, c.say(f"template.{way}", turned=numbers.turned)))
    return PrintedTemplate(drawing, name, (*texts, _lines(c, all(u.level for _, u in sheet.uses))))


def _lines(c: Context, level: bool) -> str:
    """What the lines of a template are; that its corners are trimmed so that raw edges meet only where they do."""
    texts = c.say("template.lines", seam=c.seam)
    return f"{texts} {c.say('template.level')}" if level else texts


def _strip_template(sheet: _Sheet, ctx: Context) -> PrintedTemplate:
    """The template of a piece that is cut from a strip unit; the marks on its edges lie on the seams of the strips."""
    c, piece = sheet.uses[0]
    making, raw = piece.making, piece.making.recipe.numbers.cut_outline
    name, n = sheet.name(c.title(making), ctx), sheet.number({own: p.needed for own, p in sheet.uses})
    low = min(p[0] for p in raw), min(p[1] for p in raw)
    points = tuple((p[0] - low[0], p[1] - low[1]) for s in making.seams for p in (s.start, s.end))
    sewn, cut = (tuple((x - low[0], y - low[1]) for x, y in outline) for outline in (making.outline, raw))
    key = sheet.key("template", making.spelled, ctx)
    drawing = draw_template(name, sewn, cut, c.swatches, c.look, count=n, grain=(ONE, ZERO), points=points, key=key)
    return PrintedTemplate(
        drawing, name, (c.say("template.cut_strips", n=n), _lines(c, all(p.level for _, p in sheet.uses)))
    )


def _placement(sheet: _Sheet, ctx: Context) -> PrintedTemplate:
    """Where all that is laid on a ground lies, at true size."""
    from patternkit.drawing.placement import draw_true_placement  # only shapes laid on a ground need it

    c, ground = sheet.uses[0]
    drawing = draw_true_placement(ground.making, c.look, key=sheet.key("placed", ground.making.spelled, ctx))
    return PrintedTemplate(drawing, sheet.name(c.title(ground.making), ctx), (c.say("template.placement"),))


def _foundation(sheet: _Sheet, ctx: Context) -> PrintedTemplate:
    """A foundation: of a section where there are several; with the size that is cut for each of its fields."""
    c, paper = sheet.uses[0]
    section, spelled, name = paper.section, paper.making.spelled, c.title(paper.making)
    if section.letter:
        name = c.say("template.section", name=name, letter=section.letter)
    key = sheet.key("foundation", f"{spelled}-{section.letter}" if section.letter else spelled, ctx)
    drawing = draw_foundation(paper.making, c.swatches, c.look, section, key=key)
    n, mirrored = sheet.number({own: p.needed for own, p in sheet.uses}), paper.making.key.mirrored
    copies = c.say("template.foundation", n=n, marked=bool(section.marks), mirrored=mirrored)
    fields = c.say("template.fields", items=c.phrases.render(_fields(paper, c)))
    return PrintedTemplate(drawing, sheet.name(name, ctx), (copies, fields))


def _fields(paper: _Paper, c: Context) -> Listing:
    """What lies over each field of a foundation, by its size."""
    found = []
    for n, part in enumerate(paper.section.parts):
        what, label = paper.making.parts[part].what, paper.section.label(n)
        if isinstance(what, Making):
            found.append(c.state("template.field_unit", label=label, what=c.noun(what, 1)))
            continue
        cut = paper_cut(paper.making, what, c.worked.desk)
        found.append(c.state("template.field", label=label, fabric=c.fabric(cut.fabric), w=cut.width, h=cut.height))
    return Listing(tuple(found))
