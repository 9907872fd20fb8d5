"""True-size templates and paper foundations: which there are, how many pieces each is for, and where
they match."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.booklet.content.taking import template_name
from patternkit.document import PrintedTemplate
from patternkit.drawing.templates import draw_foundation, draw_template
from patternkit.lengths import ONE, ZERO
from patternkit.piecing.division import on_segment
from patternkit.piecing.making import Cloth, Making, Outline, PieceCut, Placed, Point
from patternkit.piecing.offset import CannotOffset, HalfPlane, raw_outline, trimmed_outline, unit_vector
from patternkit.piecing.templates import dog_ears
from patternkit.plan.counts import Count
from patternkit.pressing.touching import inside


def templates(ctx: Context, only: Mapping[Context, Sequence[Count]] | None = None) -> tuple[PrintedTemplate, ...]:
    """Every template and foundation of the pattern, of each size that differs; one template for all units that have a
    piece of its shape, with the names that it has in each. With `only` those of what is counted there, in its numbers.
    """
    found: dict[object, PrintedTemplate | _Shared] = {}
    taken: set[object] = set()  # once each, though several sizes may have it
    for c in ctx.sizes or (ctx,):
        for count in c.plan.counts if only is None else only.get(c, ()):
            making, recipe = count.making, count.making.recipe
            alike: dict[Outline, list[PieceCut]] = {}
            for cut in recipe.cuts if count.batches else ():
                if cut.then == "template" and cut.shape:
                    alike.setdefault(cut.shape, []).append(cut)
            for shape, cuts in alike.items():
                if (making.thing, shape) not in taken:
                    taken.add((making.thing, shape))
                    lines = [seam_line(making, x, c) for x in cuts]
                    at = (c.size_name, shape, lines[0][0])
                    shared = found.setdefault(at, _Shared(c, []))
                    if isinstance(shared, _Shared):
                        shared.users.append(_User(making, cuts, count.batches, lines))
            if making.kind == "strip-piece" and count.needed and making.thing not in found:
                found[making.thing] = _strip_template(making, count.needed, c, ctx)
            if recipe.method.on_paper and count.needed:
                foundation = (making.thing, making.width, making.height)
                if foundation not in found:
                    found[foundation] = _foundation(making, count.needed, c, ctx)
    return tuple(_template(one, ctx) if isinstance(one, _Shared) else one for one in found.values())


class _User(msgspec.Struct, frozen=True):
    """A unit with the cuts of one shape, how many times over they are cut, and where each is sewn and met."""

    making: Making
    cuts: Sequence[PieceCut]
    batches: int
    lines: Sequence[tuple[Outline, tuple[Point, ...]]]


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
    cut = cuts[0][0]
    names = list(dict.fromkeys(template_name(u.making, u.cuts[0], c) for u in users))
    name = _name(c.listed(names), c, ctx)
    points = tuple(dict.fromkeys(p for u in users for _, met in u.lines for p in met))
    drawing = draw_template(
        name,
        users[0].lines[0][0],
        cut.shape,
        c.swatches,
        c.look,
        fabric=cut.fabric if len({x.fabric for x, _ in cuts}) == 1 else "",
        count=sum(x.count * batches for x, batches in cuts),
        grain=(ONE, ZERO),
        points=points,
        key=f"template-{slug(c.size_name) + '-' if ctx.sizes else ''}{slug(names[0])}",
    )
    told = []
    for u, own in zip(users, (template_name(u.making, u.cuts[0], c) for u in users), strict=True):
        counts: dict[str, int] = {}
        for x in u.cuts:
            counts[x.fabric] = counts.get(x.fabric, 0) + x.count * u.batches
        key = "template.cut_for" if len(names) > 1 else "template.cut"
        told += [c.say(key, n=k, fabric=c.fabric(fabric), name=own) for fabric, k in counts.items()]
    return PrintedTemplate(drawing, name, (*told, c.say("template.lines", seam=c.seam)))


def _strip_template(making: Making, n: int, c: Context, ctx: Context) -> PrintedTemplate:
    """The template of a piece that is cut from a strip unit; the marks on its edges lie on the seams of
    the strips."""
    name = c.title(making)
    raw = raw_outline(making.outline, c.seam)
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
    lines = (c.say("template.cut_strips", n=n), c.say("template.lines", seam=c.seam))
    return PrintedTemplate(drawing, _name(name, c, ctx), lines)


def _foundation(making: Making, n: int, c: Context, ctx: Context) -> PrintedTemplate:
    name = _name(c.title(making), c, ctx)
    drawing = draw_foundation(
        making,
        c.swatches,
        c.look,
        key=f"foundation-{slug(c.size_name) + '-' if ctx.sizes else ''}{slug(making.spelled)}",
    )
    return PrintedTemplate(drawing, name, (c.say("template.foundation", n=n),))


def seam_line(making: Making, cut: PieceCut, ctx: Context) -> tuple[Outline, tuple[Point, ...]]:
    """The seam line inside a template's raw outline, as the template lies, and the points where other
    pieces' corners meet its edges.

    The piece is found by its fabric, its name and its shape; where none fits, the seam line is the raw
    outline drawn in by the seam.
    """
    trims = dog_ears([p.place.outline(p.what.outline) for p in making.parts], making.seams, ctx.seam)
    for placed, own in zip(making.parts, trims, strict=True):
        cloth = placed.what
        if isinstance(cloth, Cloth) and cloth.fabric == cut.fabric:
            for raw in _raws(cloth, own, ctx):
                moved = _laid(raw, cloth.outline, cloth.grain)
                if set(moved[0]) == set(cut.shape):
                    inner = tuple(moved[2](p) for p in _meeting(placed, making))
                    return moved[1], inner
    if cut.sewn:
        return cut.sewn, ()
    try:
        return raw_outline(cut.shape, -ctx.seam), ()
    except (CannotOffset, ValueError):
        return cut.shape, ()


def _raws(cloth: Cloth, own: Mapping[int, HalfPlane], ctx: Context) -> Iterator[Outline]:
    for trims in (own, None):
        try:
            yield trimmed_outline(cloth.outline, ctx.seam, trims)
        except (CannotOffset, ValueError):
            continue
    try:
        yield raw_outline(cloth.outline, ctx.seam)
    except (CannotOffset, ValueError):
        return


def _laid(raw: Outline, sewn: Outline, grain: Point) -> tuple[Outline, Outline, Callable[[Point], Point]]:
    """Raw and finished outline turned so that the grain runs to the right and moved to the corner of the
    raw one's box; and the same movement for a point."""

    def turned(p: Point) -> Point:
        x, y = p
        if grain[0] and grain[1]:
            c, s = unit_vector(grain)
            return x * c + y * s, y * c - x * s
        if grain[1]:
            return (y, -x) if grain[1] > 0 else (-y, x)
        return (-x, -y) if grain[0] and grain[0] < 0 else (x, y)

    points = [turned(p) for p in raw]
    left, top = min(p[0] for p in points), min(p[1] for p in points)

    def moved(p: Point) -> Point:
        x, y = turned(p)
        return x - left, y - top

    return tuple(moved(p) for p in raw), tuple(moved(p) for p in sewn), moved


def _meeting(placed: Placed, making: Making) -> list[Point]:
    """Corners of other pieces inside this piece's edges, and the middle of a curve, in the piece's own
    coordinates."""
    cloth = placed.what
    assert isinstance(cloth, Cloth)
    own = placed.place.outline(cloth.outline)
    edges = list(zip(own, (*own[1:], own[0]), strict=True))
    found: list[Point] = []
    for other in making.parts:
        if other is not placed:
            for p in other.place.outline(other.what.outline):
                if p not in own and p not in found and any(on_segment(p, a, b) for a, b in edges):
                    found.append(p)
    for seam in making.seams:
        if len(seam.path) > 2 and seam.path[len(seam.path) // 2] in own:
            found.append(seam.path[len(seam.path) // 2])
    return [inside(placed.place, p) for p in found]
