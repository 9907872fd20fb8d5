"""Shapes cut by template side by side: laid out as the order tells it, they must not lie over each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, degrees, hypot

from patternkit.piecing.making import reversed_ring
from patternkit.rehearsal.gaps import Gap
from patternkit.rehearsal.plane import TINY, XY, Ring, area, cross, holds, minus, moved, turning
from patternkit.work.model import CutByTemplate, Order

Box = tuple[float, float, float, float]
"""Left, top, right and foot."""

SLACK = 1e-4
"""Inches by which shapes that touch may seem to lie over each other."""
FRONT = 5
"""How many shapes before it one is held against: those before these end further left."""


def laid_shapes(order: Order, cutting: CutByTemplate) -> list[Ring]:
    """The raw outlines that lie side by side in a rectangle, its left upper corner at (0, 0); nothing where each has a
    rectangle of its own, or the template is not known."""
    template = order.templates.get(cutting.piece.template)
    if template is None:
        return []
    ring: Ring = tuple((float(x), float(y)) for x, y in template.outline)
    ring = reversed_ring(ring) if cutting.face == "down" else ring
    found = []
    for x, y, turned in cutting.at:
        own = [moved(turning(turned), p) for p in ring]
        left, top = min(p[0] for p in own), min(p[1] for p in own)
        found.append(tuple((p[0] - left + float(x), p[1] - top + float(y)) for p in own))
    return found


def angle_gaps(order: Order, cutting: CutByTemplate) -> Iterator[Gap]:
    """Shapes that a ruler is said to cut, and that have other angles, unequal sides, or no strip of their own height on
    its lines."""
    template = order.templates.get(cutting.piece.template)
    if template is None or not template.angle:
        return
    high = max(y for _, y in template.outline) - min(y for _, y in template.outline)
    apart = any(y for _, y, _ in cutting.at) or (cutting.lies is not None and high not in cutting.lies)
    if not high.on_grid(order.ruler.fraction) or apart:
        yield Gap("ruler", item=cutting.piece, stated=high)
    ring: Ring = tuple((float(x), float(y)) for x, y in template.outline)
    sides = [minus(q, p) for p, q in pairwise((*ring, ring[0]))]
    slants = {round(degrees(atan2(y, x)) % 180, 6) for x, y in sides}
    long = {round(hypot(x, y), 6) for x, y in sides}
    if len(long) > 1 or not slants <= {0, template.angle, 180 - template.angle}:
        yield Gap("patch", item=cutting.piece)


def side_by_side_gaps(order: Order, cutting: CutByTemplate) -> Iterator[Gap]:
    """Shapes that reach out of their rectangle, or lie over each other; and more or fewer than are told."""
    if not cutting.at:
        return
    rings = laid_shapes(order, cutting)
    if len(rings) != cutting.each or cutting.count % cutting.each:
        yield Gap("laid", item=cutting.piece, stated=cutting.each, out=len(rings))
    if cutting.lies is not None and rings:
        for n in (0, 1):
            reach = max(p[n] for ring in rings for p in ring)
            if reach > float(cutting.lies[n]) + SLACK:
                yield Gap("segments", item=cutting.piece, stated=reach, out=cutting.lies[n])
    for n, ring in enumerate(rings):
        if any(overlap(ring, other) for other in rings[max(0, n - FRONT) : n]):
            yield Gap("over", item=cutting.piece)
            return


def overlap(a: Ring, b: Ring) -> bool:
    """Whether two outlines lie over each other by more than a touch: sides that cross, or one inside the other.

    It has to show both when each is drawn together a little and when they are moved apart a little along their strip:
    of a hollow outline the one may go beyond it, and edges that lie along the strip still touch after the other.
    """
    return _over(_shrunk(a), _shrunk(b)) and _over(*_moved_apart(a, b))


def _moved_apart(a: Ring, b: Ring) -> tuple[Ring, Ring]:
    by = SLACK if _box(a)[0] <= _box(b)[0] else -SLACK
    return a, tuple((x + by, y) for x, y in b)


def _over(a: Ring, b: Ring) -> bool:
    window = _shared(_box(a), _box(b))
    if window is None:
        return False
    first, second = ([s for s in _sides(ring) if _shared(_box(s), window)] for ring in (a, b))
    return any(_crosses(s, t) for s in first for t in second) or holds(b, a[0]) or holds(a, b[0])


def _sides(ring: Ring) -> Iterator[tuple[XY, XY]]:
    yield from pairwise((*ring, ring[0]))


def _box(points: Sequence[XY]) -> Box:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def _shared(a: Box, b: Box) -> Box | None:
    """What two boxes have in common; None where they lie apart."""
    left, top, right, foot = max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3])
    return (left, top, right, foot) if left <= right and top <= foot else None


def _shrunk(ring: Ring) -> Ring:
    """An outline drawn together a little, so that touching ones lie apart."""
    n = len(ring)
    x, y = sum(p[0] for p in ring) / n, sum(p[1] for p in ring) / n
    size = max(abs(area(ring)) ** 0.5, TINY)
    f = 1 - SLACK / size
    return tuple((x + (p[0] - x) * f, y + (p[1] - y) * f) for p in ring)


def _crosses(s: tuple[XY, XY], t: tuple[XY, XY]) -> bool:
    """Whether two stretches cross each other between their ends."""

    def side(line: tuple[XY, XY], p: XY) -> float:
        return cross(minus(line[1], line[0]), minus(p, line[0]))

    return side(s, t[0]) * side(s, t[1]) < -(TINY**2) and side(t, s[0]) * side(t, s[1]) < -(TINY**2)
