"""True-size templates and paper foundations: which there are, how many pieces each is for, and where they match."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.booklet.content.taking import template_name
from patternkit.booklet.content.template_parts import drawn_in, on_template, template_parts
from patternkit.document import PrintedTemplate
from patternkit.drawing.templates import draw_foundation, draw_template
from patternkit.lengths import ONE, ZERO
from patternkit.piecing.keys import Thing
from patternkit.piecing.making import Making, Outline, PieceCut, Point
from patternkit.plan.counts import Count


def templates(ctx: Context, only: Mapping[Context, Sequence[Count]] | None = None) -> tuple[PrintedTemplate, ...]:
    """Every template and foundation of the pattern, of each size that differs; one template for all units that have a
    piece of its shape, be it turned or turned over, with the names that it has in each. With `only` those of what is
    counted there, in its numbers."""
    found: dict[object, _Sheet] = {}
    for c in ctx.sizes or (ctx,):
        level = _level(c)
        for count in c.plan.counts if only is None else only.get(c, ()):
            making, recipe = count.making, count.making.recipe
            for user in _users(count, c).values():
                found.setdefault(c.form(user.cuts[0]).shape.outline, _Sheet(_template)).add(c, user)
            cut_out = recipe.numbers.cut_outline
            if cut_out and count.needed:
                piece = _Alone(making, count.needed, making.thing in level)
                found.setdefault((making.thing, cut_out), _Sheet(_strip_template)).add(c, piece)
            if recipe.method.on_paper and count.needed:
                paper = making.thing, making.width, making.height
                found.setdefault(paper, _Sheet(_foundation)).add(c, _Alone(making, count.needed))
    return tuple(sheet.made(sheet, ctx) for sheet in found.values())


def _users(count: Count, c: Context) -> dict[str, _User]:
    """What a unit needs of each template, by the template's own name."""
    found: dict[str, _User] = {}
    cuts = [cut for cut in count.making.recipe.cuts if cut.then == "template" and cut.shape] if count.batches else []
    parts = template_parts(count.making, c) if cuts else None
    for cut in cuts:
        assert parts is not None
        own = [p for p in parts.pieces if p.cut == cut]
        user = found.setdefault(c.form(cut).shape.name, _User(count.making, [], count.batches, [], []))
        user.cuts.append(cut)
        user.lines.append((own[0].sewn, own[0].points) if own else (drawn_in(cut, c), ()))
        user.level.append(bool(own) and all(p.part in parts.level for p in own))
    return found


def _level(c: Context) -> set[Thing]:
    """The pieces cut from strip units whose raw edges meet those beside them, wherever they are sewn in."""
    meet: dict[Thing, bool] = {}
    for count in c.plan.counts:
        inner = {n: p.what for n, p in enumerate(count.making.parts) if isinstance(p.what, Making)}
        pieces = {n: what for n, what in inner.items() if what.kind == "strip-piece"}
        parts = template_parts(count.making, c) if pieces else None
        for n, what in pieces.items():
            meet[what.thing] = meet.get(what.thing, True) and parts is not None and n in parts.level
    return {thing for thing, all_meet in meet.items() if all_meet}


class _User(msgspec.Struct, frozen=True):
    """A unit with the cuts of one template, how many times over they are cut, where each is sewn and met, and whether
    its raw edges are as long as those that they are sewn to."""

    making: Making
    cuts: list[PieceCut]
    batches: int
    lines: list[tuple[Outline, tuple[Point, ...]]]
    level: list[bool]


class _Alone(msgspec.Struct, frozen=True):
    """A piece of a strip unit, or a foundation: how many of it are cut or printed, and whether its raw edges meet."""

    making: Making
    needed: int
    level: bool = False


class _Sheet(msgspec.Struct):
    """What is printed once: how, and for what of each size that it is the same for."""

    made: Callable[[_Sheet, Context], PrintedTemplate]
    sizes: dict[Context, list[Any]] = {}

    def add(self, c: Context, use: _User | _Alone) -> None:
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
    c, first_user = sheet.uses[0]
    cut, sewn = first_user.cuts[0], first_user.lines[0][0]
    first = c.form(cut)
    names = list(dict.fromkeys(template_name(u.making, u.cuts[0], own) for own, u in sheet.uses))
    name = sheet.name(c.listed(names), ctx)
    met = (
        p
        for own, u in sheet.uses
        for x, (_, points) in zip(u.cuts, u.lines, strict=True)
        for p in on_template(points, x, own.form(x))
    )
    whole: dict[Context, int] = {}
    counts: dict[tuple[str, str, bool], dict[Context, int]] = {}
    for own, u in sheet.uses:
        for x in u.cuts:
            at = template_name(u.making, u.cuts[0], own), x.fabric, own.form(x).reversed
            for number in (whole, counts.setdefault(at, {})):
                number[own] = number.get(own, 0) + x.count * u.batches
    drawing = draw_template(
        name,
        on_template(sewn, cut, first),
        first.shape.outline,
        c.swatches,
        c.look,
        fabric=cut.fabric if len({fabric for _, fabric, _ in counts}) == 1 else "",
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
    return PrintedTemplate(drawing, name, (*texts, _lines(c, all(all(u.level) for _, u in sheet.uses))))


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


def _foundation(sheet: _Sheet, ctx: Context) -> PrintedTemplate:
    c, paper = sheet.uses[0]
    n = sheet.number({own: p.needed for own, p in sheet.uses})
    drawing = draw_foundation(paper.making, c.swatches, c.look, key=sheet.key("foundation", paper.making.spelled, ctx))
    return PrintedTemplate(drawing, sheet.name(c.title(paper.making), ctx), (c.say("template.foundation", n=n),))
