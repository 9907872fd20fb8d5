"""The pieces of a unit that are cut by template, as they lie in it: their raw outlines, seam lines, and whether the raw
edges meet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.lengths import ZERO
from patternkit.piecing.division import on_segment
from patternkit.piecing.making import Cloth, Making, Outline, PieceCut, Place, Point, reversed_ring
from patternkit.piecing.offset import CannotOffset, bounding_box, minus, moved, raw_outline, trimmed_outline
from patternkit.piecing.sewing.templates import Found
from patternkit.piecing.templates import turned
from patternkit.piecing.tips import Trims, meeting, trims_of


class TemplatePiece(msgspec.Struct, frozen=True):
    """A piece of cloth by template: its number among the parts, its cut, the seam line and the points that other pieces
    meet it at as the template of that cut lies."""

    part: int
    cut: PieceCut
    sewn: Outline
    points: tuple[Point, ...]


class TemplateParts(msgspec.Struct, frozen=True):
    """The pieces of a unit that are cut by template, and the numbers of the parts whose raw edges all meet."""

    pieces: tuple[TemplatePiece, ...]
    level: frozenset[int]


def template_parts(making: Making, ctx: Context) -> TemplateParts:
    """What of a unit is cut by template."""
    outlines = [p.place.outline(p.what.outline) for p in making.parts]
    trims = trims_of(making, ctx.seam)
    raws: list[Outline | None] = []
    pieces: list[TemplatePiece] = []
    for n, part in enumerate(making.parts):
        found = _as_cut(n, making, outlines, trims[n], ctx) if isinstance(part.what, Cloth) else None
        cut_out = part.what.recipe.numbers.cut_outline if isinstance(part.what, Making) else ()
        raws.append(part.place.outline(cut_out) if cut_out else None if found is None else found[1])
        if found is not None:
            pieces.append(found[0])
    return TemplateParts(tuple(pieces), meeting(outlines, raws, making.seams, ctx.seam))


def _as_cut(
    n: int, making: Making, outlines: Sequence[Outline], trims: Trims, ctx: Context
) -> tuple[TemplatePiece, Outline] | None:
    """A piece of cloth with its raw outline in the unit: the one, of those that it may have, that a cut is for."""
    placed = making.parts[n]
    cloth = placed.what
    assert isinstance(cloth, Cloth)
    own = [c for c in making.recipe.cuts if c.then == "template" and c.shape and c.fabric == cloth.fabric]
    grain = minus(placed.place.point(cloth.grain), placed.place.point((ZERO, ZERO)))
    for raw in _raws(outlines[n], trims, ctx) if own else ():
        for way in (grain, (-grain[0], -grain[1])):  # a mirrored cloth lies turned round
            rings = [turned(ring, way) for ring in (raw, outlines[n], tuple(_met(n, making, outlines)))]
            home = minus((ZERO, ZERO), bounding_box(rings[0])[0])
            shape, sewn, points = (moved(ring, home) for ring in rings)
            for cut in own:
                if set(cut.shape) == set(shape):
                    return TemplatePiece(n, cut, sewn, points), raw
    return None


def _raws(outline: Outline, trims: Trims, ctx: Context) -> Iterator[Outline]:
    for ways in (trims, {}, None):
        try:
            yield trimmed_outline(outline, ctx.seam, ways)
        except (CannotOffset, ValueError):
            continue


def _met(n: int, making: Making, outlines: Sequence[Outline]) -> list[Point]:
    """Corners of other pieces inside the edges of a piece, and the middle of a curve."""
    own = outlines[n]
    edges = list(zip(own, (*own[1:], own[0]), strict=True))
    found: list[Point] = []
    for other, outline in enumerate(outlines):
        for p in outline if other != n else ():
            if p not in own and p not in found and any(on_segment(p, a, b) for a, b in edges):
                found.append(p)
    for seam in making.seams:
        if len(seam.path) > 2 and seam.path[len(seam.path) // 2] in own:
            found.append(seam.path[len(seam.path) // 2])
    return found


def drawn_in(cut: PieceCut, ctx: Context) -> Outline:
    """The seam line of a cut for which no piece of a unit is known."""
    if cut.sewn:
        return cut.sewn
    try:
        return raw_outline(cut.shape, -ctx.seam)
    except (CannotOffset, ValueError):
        return cut.shape


def on_template(points: Sequence[Point], cut: PieceCut, found: Found) -> tuple[Point, ...]:
    """Points on a cut's shape as they lie on its template; none where that is turned by no quarter."""
    if found.turned % 90:
        return ()
    back = Place(turned=-int(found.turned) % 360)
    shape, there = back.outline(cut.shape), back.outline(tuple(points))
    if found.reversed:
        shape, there = reversed_ring(shape), tuple((-x, y) for x, y in there)
    home = minus(bounding_box(found.shape.outline)[0], bounding_box(shape)[0])
    return moved(there, home)
