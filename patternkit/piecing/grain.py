"""Bias edges that come to the outside of a unit, where they stretch before the next seam holds them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from patternkit.lengths import ZERO
from patternkit.piecing.making import Cloth, Making, Outline, Part, Place, Point
from patternkit.piecing.offset import bias_edges, cross, dot, minus

NEAR = 1e-6
"""What two plain numbers may differ by that are one exactly: inches times inches."""


class BiasEdge(msgspec.Struct, frozen=True):
    """A stretch of a unit's outside that is a bias edge of one piece."""

    start: Point
    end: Point
    cloth: Cloth


def bias_outside(making: Making, known: dict[Making, bool] | None = None) -> tuple[BiasEdge, ...]:
    """The bias edges of pieces that lie on the outside of a making, in the making's coordinates.

    `known` keeps for makings asked about together which of them have such an edge: an edge that lies inside a part lies
    inside the whole. What is sewn on paper has none: the paper holds it until all sides are sewn on.
    """
    if making.recipe.method.on_paper:
        return ()
    known = {} if known is None else known
    found: list[BiasEdge] = []
    around = [(float(x), float(y)) for x, y in making.outline]
    for cloth, place in _cloths(making, Place(), known):
        outline = place.outline(cloth.outline)
        grain = minus(place.point(cloth.grain), place.point((ZERO, ZERO)))
        for i in bias_edges(outline, grain):
            a, b = outline[i], outline[(i + 1) % len(outline)]
            if _outside(a, b, making.outline, around):
                found.append(BiasEdge(a, b, cloth))
    return tuple(found)


def _cloths(part: Part, place: Place, known: dict[Making, bool]) -> Iterator[tuple[Cloth, Place]]:
    """The pieces that may have a bias edge outside."""
    if isinstance(part, Cloth):
        if bias_edges(part.outline, part.grain):
            yield part, place
        return
    for inner in part.parts:
        what = inner.what
        if isinstance(what, Making):
            if what not in known:
                known[what] = bool(bias_outside(what, known))
            if not known[what]:
                continue
        yield from _cloths(what, inner.place.then(place), known)


def _outside(a: Point, b: Point, outline: Outline, around: Sequence[tuple[float, float]]) -> bool:
    """True when the stretch a-b lies along an edge of the outline, of which the same corners are known `around` in
    plain numbers: only edges near the stretch's line are held against it exactly."""
    edge = minus(b, a)
    (ax, ay), (ex, ey) = (float(a[0]), float(a[1])), (float(edge[0]), float(edge[1]))
    for i, p in enumerate(outline):
        q = outline[(i + 1) % len(outline)]
        (px, py), (qx, qy) = around[i], around[(i + 1) % len(outline)]
        if abs(ex * (py - ay) - ey * (px - ax)) > NEAR or abs(ex * (qy - ay) - ey * (qx - ax)) > NEAR:
            continue
        along = minus(q, p)
        if not cross(along, edge) and not cross(along, minus(a, p)):
            whole = dot(along, along)
            low, high = sorted((dot(along, minus(a, p)), dot(along, minus(b, p))))
            if low < whole and high > 0:
                return True
    return False
