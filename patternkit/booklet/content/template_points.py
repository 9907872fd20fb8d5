"""Where a template has its seam line, and the points at which other pieces meet it."""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.booklet.content.context import Context
from patternkit.lengths import ZERO
from patternkit.piecing.division import on_segment
from patternkit.piecing.making import Cloth, Making, Outline, PieceCut, Place, Point, Seam, reversed_ring
from patternkit.piecing.offset import CannotOffset, bounding_box, minus, moved, raw_outline
from patternkit.piecing.sewing.along_arcs import corners_of, is_curve
from patternkit.piecing.sewing.templates import Found
from patternkit.piecing.templates import turned


def seam_line(cut: PieceCut, ctx: Context) -> Outline:
    """The seam line of a cut, as its shape lies."""
    if cut.sewn:
        return cut.sewn
    try:
        return raw_outline(cut.shape, -ctx.seam)
    except (CannotOffset, ValueError):
        return cut.shape


def met_points(making: Making, cut: PieceCut, ctx: Context) -> tuple[Point, ...]:
    """The points at which other pieces of a unit meet the first that is cut so, as they lie on its template."""
    outlines, sewn = [p.place.outline(p.what.outline) for p in making.parts], seam_line(cut, ctx)
    low = bounding_box(sewn)[0]
    for n, part in enumerate(making.parts):
        if not isinstance(part.what, Cloth) or part.what.fabric != cut.fabric:
            continue
        grain = minus(part.place.point(part.what.grain), part.place.point((ZERO, ZERO)))
        for way in (grain, (-grain[0], -grain[1])):  # a mirrored cloth lies turned round
            own, points = (turned(ring, way) for ring in (outlines[n], tuple(_met(n, making, outlines))))
            home = minus(low, bounding_box(own)[0])
            if set(moved(own, home)) == set(sewn):
                return on_template(moved(points, home), cut, ctx.form(cut))
    return ()


def _met(n: int, making: Making, outlines: Sequence[Outline]) -> list[Point]:
    """Corners of other pieces inside the edges of a piece, and the quarters and the middle of a curve."""
    own = outlines[n]
    corners = [p for other, outline in enumerate(outlines) if other != n for p in corners_of(outline)]
    edges, kept = list(zip(own, (*own[1:], own[0]), strict=True)), set(corners_of(own))
    found: list[Point] = []
    for p in dict.fromkeys(corners):
        if p not in kept and (p in own or any(on_segment(p, a, b) for a, b in edges)):
            found.append(p)
    for seam in making.seams:
        found += [p for p in _marks(seam, outlines) if p in own and p not in found]
    return found


def _marks(seam: Seam, outlines: Sequence[Outline]) -> list[Point]:
    """The points of a curve at which both sides are marked: its quarters and its middle, unless corners of pieces that
    meet on it show the way."""
    steps = len(seam.path) - 1
    if steps < 2 or not is_curve(seam):
        return [seam.path[steps // 2]] if steps > 1 else []
    inside = set(seam.path[1:-1])
    if any(p in inside for outline in outlines for p in corners_of(outline)):
        return []
    return [seam.path[round(steps * part / 4)] for part in (1, 2, 3)]


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
