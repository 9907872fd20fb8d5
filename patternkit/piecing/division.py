"""Polygons divided by lines from edge to edge. Exact."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import hypot

from patternkit.lengths import Length
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.offset import area, clean, cross, dot, is_convex, minus, plus, times

NEAR = 1e-7
"""Inches within which plain numbers do not tell on which side of a line a point lies."""


class CannotDivide(ValueError):
    """A line does not divide the outline; the text says why, in words for the writer."""


def between(a: Point, b: Point, part: Length | Fraction) -> Point:
    """The point that part of the way from `a` to `b`."""
    return plus(a, times(minus(b, a), part))


def on_segment(p: Point, a: Point, b: Point) -> bool:
    """True when `p` lies on the stretch from `a` to `b`, ends included."""
    along, out = minus(b, a), minus(p, a)
    return not cross(along, out) and dot(along, out) >= 0 and dot(along, along) >= dot(along, out)


def edge_at(outline: Outline, p: Point) -> int | None:
    """The number of an edge on which `p` lies (edge i runs from corner i to the next), or None."""
    for i, a in enumerate(outline):
        if on_segment(p, a, outline[(i + 1) % len(outline)]):
            return i
    return None


def encloses(outline: Outline, p: Point) -> bool:
    """True when `p` lies strictly inside an outline; told exactly only where plain numbers can't tell."""
    x, y = float(p[0]), float(p[1])
    inside, near = False, NEAR
    for i, a in enumerate(outline):
        b = outline[(i + 1) % len(outline)]
        (ax, ay), (bx, by) = (float(a[0]), float(a[1])), (float(b[0]), float(b[1]))
        if (ay > y) != (by > y):
            inside = inside != (ax + (y - ay) * (bx - ax) / (by - ay) > x)
        far = abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / hypot(bx - ax, by - ay)
        near = min(near, far)
    return inside if near >= NEAR else _encloses(outline, p)


def _encloses(outline: Outline, p: Point) -> bool:
    """The same by exact numbers, counted by crossings of a level ray."""
    if edge_at(outline, p) is not None:
        return False
    inside = False
    for i, a in enumerate(outline):
        b = outline[(i + 1) % len(outline)]
        if (a[1] > p[1]) != (b[1] > p[1]):
            # the ray to the right crosses the edge where its point at this height lies right of p
            turn = cross(minus(b, a), minus(p, a)).sign()
            if (turn > 0) if b[1] > a[1] else (turn < 0):
                continue
            inside = not inside
    return inside


def is_simple(outline: Outline) -> bool:
    """True when no two edges that aren't neighbours touch; only those whose boxes meet are looked at exactly."""
    n = len(outline)
    boxes = [_box(a, outline[(i + 1) % n]) for i, a in enumerate(outline)]
    for i in range(n):
        left, right, top, bottom = boxes[i]
        for j in range(i + 2, n if i else n - 1):
            low, high, upper, lower = boxes[j]
            if low > right or high < left or upper > bottom or lower < top:
                continue
            if touch(outline[i], outline[i + 1], outline[j], outline[(j + 1) % n]):
                return False
    return True


def _box(a: Point, b: Point) -> tuple[float, float, float, float]:
    """The left, right, top and bottom of the box round a stretch, and a hair more."""
    (ax, ay), (bx, by) = (float(a[0]), float(a[1])), (float(b[0]), float(b[1]))
    return min(ax, bx) - NEAR, max(ax, bx) + NEAR, min(ay, by) - NEAR, max(ay, by) + NEAR


def touch(a: Point, b: Point, c: Point, d: Point) -> bool:
    """True when the stretches a-b and c-d have a point in common."""

    def side(p: Point, q: Point, r: Point) -> int:
        return cross(minus(q, p), minus(r, p)).sign()

    one, two, three, four = side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)
    if not (one or two):
        return on_segment(c, a, b) or on_segment(d, a, b) or on_segment(a, c, d)
    return one * two <= 0 and three * four <= 0


def divide(outline: Outline, path: Sequence[Point]) -> tuple[Outline, Outline]:
    """The parts left and right of a line, walking along it (left of one to the right is above it).

    `path` runs from a point on the edge of a clockwise outline to another, straight or with bends on its way. Raises
    CannotDivide when an end is not on the edge, or the line does not run through the inside from end to end.
    """
    start, end = path[0], path[-1]
    first, last = edge_at(outline, start), edge_at(outline, end)
    if first is None or last is None:
        raise CannotDivide(_off_edge(outline, start if first is None else end, "starts" if first is None else "ends"))
    if start == end:
        raise CannotDivide("it starts and ends at the same point")
    left = clean((*_walk(outline, start, first, end, last), *reversed(path[1:-1])))
    right = clean((*_walk(outline, end, last, start, first), *path[1:-1]))
    if len(left) < 3 or len(right) < 3 or area(left) <= 0 or area(right) <= 0:
        raise CannotDivide("it runs along the edge and takes nothing off")
    if len(path) > 2 or not is_convex(outline):
        inside = all(encloses(outline, p) for p in path[1:-1]) and is_simple(left) and is_simple(right)
        if not inside or area(left) + area(right) != area(outline):
            raise CannotDivide("it leaves the piece on its way, or touches its edge")
    return left, right


def inside_of(outline: Outline, path: Sequence[Point]) -> tuple[Point, ...]:
    """A line that divides an outline without what of it, at its two ends, runs along the outline's edge."""
    start = _leaves_edge(outline, path[0], path[1])
    end = _leaves_edge(outline, path[-1], path[-2])
    return (start, *path[1:-1], end)


def _leaves_edge(outline: Outline, p: Point, toward: Point) -> Point:
    """Where a line from a point on an outline's edge to another point comes off that edge."""
    way = minus(toward, p)
    for i, a in enumerate(outline):
        b = outline[(i + 1) % len(outline)]
        if on_segment(p, a, b) and not cross(way, minus(b, a)):
            far = b if dot(way, minus(b, a)) > 0 else a
            if far != p and on_segment(far, p, toward):
                return _leaves_edge(outline, far, toward)
    return p


def _off_edge(outline: Outline, p: Point, verb: str) -> str:
    where = "inside it" if encloses(outline, p) else "outside it"
    return f"it {verb} {where}, and not on its edge"


def _walk(outline: Outline, a: Point, edge_a: int, b: Point, edge_b: int) -> list[Point]:
    """The outline's points clockwise from `a` on edge `edge_a` to `b` on edge `edge_b`."""
    n, points = len(outline), [a]
    if edge_a == edge_b and dot(minus(b, a), minus(outline[(edge_a + 1) % n], outline[edge_a])) > 0:
        return [a, b]
    i = edge_a
    while True:
        i = (i + 1) % n
        points.append(outline[i])
        if i == edge_b:
            break
    return [*points, b]


def band(outline: Outline, low: Length | None, high: Length | None) -> Outline:
    """The part of a convex outline between two upright lines; empty when nothing lies there."""
    for x, keep in ((low, 1), (high, -1)):
        if x is None:
            continue
        kept: list[Point] = []
        for i, a in enumerate(outline):
            b = outline[(i + 1) % len(outline)]
            here, there = (a[0] - x).sign() * keep, (b[0] - x).sign() * keep
            if here >= 0:
                kept.append(a)
            if here * there < 0:
                kept.append((x, a[1] + (b[1] - a[1]) * ((x - a[0]) / (b[0] - a[0]))))
        outline = clean(kept) if len(kept) > 2 else ()
    return outline


def within(outline: Outline, window: Outline) -> Outline:
    """The part of an outline that lies in a convex window, clockwise; empty where nothing does."""
    for p, q in zip(window, (*window[1:], window[0]), strict=True):
        way = minus(q, p)
        kept: list[Point] = []
        for i, a in enumerate(outline):
            b = outline[(i + 1) % len(outline)]
            here, there = cross(way, minus(a, p)), cross(way, minus(b, p))
            if here.sign() >= 0:
                kept.append(a)
            if here.sign() * there.sign() < 0:
                kept.append(plus(a, times(minus(b, a), here / (here - there))))
        outline = clean(kept) if len(kept) > 2 else ()
        if not outline:
            return ()
    return outline if area(outline).sign() > 0 else ()


def stretch_within(path: Outline, window: Outline) -> Outline:
    """The stretch of a straight line that lies in a convex window; a bent one is left as it is; empty where nothing
    does."""
    if len(path) != 2:
        return path
    a, b = path
    for p, q in zip(window, (*window[1:], window[0]), strict=True):
        way = minus(q, p)
        here, there = cross(way, minus(a, p)), cross(way, minus(b, p))
        if here.sign() <= 0 and there.sign() <= 0:
            return ()
        if here.sign() * there.sign() < 0:
            at = plus(a, times(minus(b, a), here / (here - there)))
            a, b = (at, b) if here.sign() < 0 else (a, at)
    return a, b
