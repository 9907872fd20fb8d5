"""True-size templates and paper foundations: which there are, how many pieces each is for, and where they match."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

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
    found: dict[object, PrintedTemplate | _Shared] = {}
    taken: set[object] = set()  # once each, though several sizes may have it
    for c in ctx.sizes or (ctx,):
        level = _level(c)
        for count in c.plan.counts if only is None else only.get(c, ()):
            making, recipe = count.making, count.making.recipe
            for name, user in _users(count, c).items():
                if (making.thing, user.cuts[0].shape) not in taken:
                    taken.add((making.thing, user.cuts[0].shape))
                    at = (c.size_name, name)
                    shared = found.setdefault(at, _Shared(c, []))
                    if isinstance(shared, _Shared):
                        shared.users.append(user)
            cut_out = making.thing, recipe.numbers.cut_outline
            if cut_out[1] and count.needed and cut_out not in found:
                found[cut_out] = _strip_template(making, count.needed, making.thing in level, c, ctx)
            if recipe.method.on_paper and count.needed:
                foundation = (making.thing, making.width, making.height)
                if foundation not in found:
                    found[foundation] = _foundation(making, count.needed, c, ctx)
    return tuple(_template(one, ctx) if isinstance(one, _Shared) else one for one in found.values())


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


class _Shared(msgspec.Struct, frozen=True):
    """All units that have pieces of one shape, in one size."""

    size: Context
    users: list[_User]


def _name(name: str, c: Context, ctx: Context) -> str:
    return ctx.say("template.in_size", name=name, size=c.size_name) if ctx.sizes else name


def _template(shared: _Shared, ctx: Context) -> PrintedTemplate:
    """One template for all pieces that have its shape, whatever their fabrics and units."""
    c, users = shared.size, shared.users
    cuts = [(x, u.batches) for u in users for x in u.cuts]
    cut, sewn = cuts[0][0], users[0].lines[0][0]
    first = c.form(cut)
    names = list(dict.fromkeys(template_name(u.making, u.cuts[0], c) for u in users))
    name = _name(c.listed(names), c, ctx)
    shape, sewn = first.shape.outline, on_template(sewn, cut, first)
    met = (p for u in users for x, (_, own) in zip(u.cuts, u.lines, strict=True) for p in _points(own, x, c))
    drawing = draw_template(
        name,
        sewn,
        shape,
        c.swatches,
        c.look,
        fabric=cut.fabric if len({x.fabric for x, _ in cuts}) == 1 else "",
        count=sum(x.count * batches for x, batches in cuts),
        grain=(ONE, ZERO),
        points=tuple(dict.fromkeys(met)),
        key=f"template-{slug(c.size_name) + '-' if ctx.sizes else ''}{slug(names[0])}",
    )
    told = []
    for u, own in zip(users, (template_name(u.making, u.cuts[0], c) for u in users), strict=True):
        counts: dict[tuple[str, bool], int] = {}
        for x in u.cuts:
            at = x.fabric, c.form(x).reversed
            counts[at] = counts.get(at, 0) + x.count * u.batches
        key = "template.cut_for" if len(names) > 1 else "template.cut"
        told += [
            c.say(key, n=k, fabric=c.fabric(fabric), name=own, reversed=over) for (fabric, over), k in counts.items()
        ]
    return PrintedTemplate(drawing, name, (*told, _lines(c, all(all(u.level) for u in users))))


def _points(points: Sequence[Point], cut: PieceCut, c: Context) -> tuple[Point, ...]:
    return on_template(points, cut, c.form(cut))


def _lines(c: Context, level: bool) -> str:
    """What the lines of a template are; that its corners are trimmed so that raw edges meet only where they do."""
    told = c.say("template.lines", seam=c.seam)
    return f"{told} {c.say('template.level')}" if level else told


def _strip_template(making: Making, n: int, level: bool, c: Context, ctx: Context) -> PrintedTemplate:
    """The template of a piece that is cut from a strip unit; the marks on its edges lie on the seams of the strips."""
    name = c.title(making)
    raw = making.recipe.numbers.cut_outline
    low = min(p[0] for p in raw), min(p[1] for p in raw)
    points = tuple((p[0] - low[0], p[1] - low[1]) for s in making.seams for p in (s.start, s.end))
    sewn, cut = (tuple((x - low[0], y - low[1]) for x, y in outline) for outline in (making.outline, raw))
    drawing = draw_template(
        _name(name, c, ctx),
        sewn,
        cut,
        c.swatches,
        c.look,
        count=n,
        grain=(ONE, ZERO),
        points=points,
        key=f"template-{slug(c.size_name) + '-' if ctx.sizes else ''}{slug(making.spelled)}",
    )
    return PrintedTemplate(drawing, _name(name, c, ctx), (c.say("template.cut_strips", n=n), _lines(c, level)))


def _foundation(making: Making, n: int, c: Context, ctx: Context) -> PrintedTemplate:
    name = _name(c.title(making), c, ctx)
    drawing = draw_foundation(
        making,
        c.swatches,
        c.look,
        key=f"foundation-{slug(c.size_name) + '-' if ctx.sizes else ''}{slug(making.spelled)}",
    )
    return PrintedTemplate(drawing, name, (c.say("template.foundation", n=n),))
