"""Arcs of circles: points on them, and the raw outlines of pieces that they bound.

An arc stands in outlines as a chain of short chords, `STEPS` to a quarter turn: no chord lies further than 0.00014 of
the radius from the arc. Its points come from its ends by turns whose sine and cosine are fractions, so that they lie
exactly on the circle; the one in the middle lies on the line that mirrors the arc, so that mirror images are exact, and
within a billionth of the radius of it. Raw arcs have the radius of the finished one and a seam more, or less.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import atan2, ceil, cos, pi, sin, tan

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.offset import cross, dot, length_of, minus, plus, square_root, times

STEPS = 48
"""Chords that stand for a quarter of a circle."""
FEWEST = 12
"""Chords that stand for any arc: more than a bent seam has."""


class UnequalReach(ValueError):
    """The two ends of an arc lie at different distances from its middle: `first` and `last`."""

    def __init__(self, first: Length, last: Length) -> None:
        super().__init__("the two ends of an arc lie at different distances from its middle")
        self.first, self.last = first, last


class Arc(msgspec.Struct, frozen=True):
    """An arc by the middle of its circle, its radius and the points that stand for it, from its start to its end."""

    centre: Point
    radius: Length
    points: Outline

    @property
    def clockwise(self) -> bool:
        """Whether it runs clockwise as seen."""
        a, b = (minus(p, self.centre) for p in self.points[:2])
        return cross(a, b).sign() > 0

    @property
    def angle(self) -> float:
        """The angle that it takes up, in radians."""
        return _angle(*(minus(p, self.centre) for p in (self.points[0], self.points[-1])))

    def at(self, part: float) -> Point:
        """The point that part of the way along, on the circle; one of the arc's own where that is as near as can be
        seen."""
        steps = len(self.points) - 1
        for i, p in enumerate(self.points):
            if abs(_angle(minus(self.points[0], self.centre), minus(p, self.centre)) / self.angle - part) < 1e-7:
                return self.points[i]
        turn = self.angle * (1 if self.clockwise else -1)
        end, by = (0, part) if part <= 0.5 else (steps, part - 1)
        return plus(self.centre, turned_by(minus(self.points[end], self.centre), turn * by))

    def with_point(self, p: Point) -> tuple[Arc, tuple[Point, Point] | None]:
        """The arc with one more of its points, and the two between which that lies; None where it was one already."""
        if p in self.points:
            return self, None
        start = minus(self.points[0], self.centre)
        far = _angle(start, minus(p, self.centre))
        i = sum(1 for q in self.points if _angle(start, minus(q, self.centre)) < far)
        points = (*self.points[:i], p, *self.points[i:])
        return msgspec.structs.replace(self, points=points), (self.points[i - 1], self.points[i])


def threaded(outline: Outline, p: Point, between: tuple[Point, Point], closed: bool = True) -> Outline:
    """An outline (or a path) in which a point stands between two that follow each other, where these do."""
    found: list[Point] = []
    for i, a in enumerate(outline):
        found.append(a)
        b = outline[(i + 1) % len(outline)]
        if (a, b) in (between, between[::-1]) and (closed or i + 1 < len(outline)):
            found.append(p)
    return tuple(found)


def arc_between(start: Point, end: Point, centre: Point) -> Arc:
    """The arc about a point from one point to another, the shorter way; a half circle clockwise as seen.

    Raises UnequalReach where the ends are not equally far from the middle, ValueError where start and end are one.
    """
    a, b = minus(start, centre), minus(end, centre)
    if dot(a, a) != dot(b, b):
        raise UnequalReach(length_of(a), length_of(b))
    if start == end or not dot(a, a):
        raise ValueError("an arc needs two ends")
    way = cross(a, b).sign() or 1
    angle = round(_angle(a, b), 12)
    steps = max(FEWEST, 4 * ceil(round(angle / (pi / 2) * STEPS / 4, 6)))
    one = [turned_by(a, way * angle * i / steps) for i in range(1, steps // 2)]
    other = [turned_by(b, -way * angle * i / steps) for i in range(1, steps // 2)]
    rays = (a, *one, _middle(a, b, angle, way), *reversed(other), b)
    points = (start, *(plus(centre, ray) for ray in rays[1:-1]), end)
    return Arc(centre, length_of(a), points)


def turned_by(ray: Point, angle: float) -> Point:
    """A ray turned by an angle (clockwise as seen for one above 0), near enough, and by one whose sine and cosine are
    fractions, so that it is as long as before: ``((1 - t^2), 2 t) / (1 + t^2)``."""
    t = Fraction(tan(angle / 2)).limit_denominator(10_000)
    c, s = (1 - t * t) / (1 + t * t), 2 * t / (1 + t * t)
    return ray[0] * c - ray[1] * s, ray[0] * s + ray[1] * c


def _middle(a: Point, b: Point, angle: float, way: int) -> Point:
    """The ray to the middle of an arc between two rays, on the line that mirrors it."""
    if abs(angle - pi) < 1e-12:
        return (-a[1], a[0]) if way > 0 else (a[1], -a[0])
    return times(plus(a, b), Fraction(1 / (2 * cos(angle / 2))).limit_denominator(10**9))


def _angle(a: Point, b: Point) -> float:
    """The angle between two rays, in radians, up to a half turn."""
    return atan2(abs(float(cross(a, b))), float(dot(a, b)))


class Ring(msgspec.Struct, frozen=True):
    """A raw arc or any circle: its middle and radius."""

    centre: Point
    radius: Length


class Rule(msgspec.Struct, frozen=True):
    """A straight line: the points p with ``normal . p == reach``; a cut along it keeps what is not beyond `reach`."""

    normal: Point
    reach: Length

    def beyond(self, p: Point) -> float:
        """How far a point lies beyond it, in inches."""
        return float(dot(self.normal, p) - self.reach) / float(length_of(self.normal))


def offset_rule(a: Point, b: Point, seam: Length) -> Rule:
    """The line a seam to the left of the edge from `a` to `b`: outside a clockwise outline."""
    way = minus(b, a)
    normal = (way[1], -way[0])
    return Rule(normal, dot(normal, a) + length_of(way) * seam)


def meetings(one: Ring | Rule, other: Ring | Rule) -> list[Point]:
    """The points in which two lines, straight or round, meet; none where they touch, or lie apart.

    Where a root is no `Length` a value above it by less than 2**-60 of it is used.
    """
    if isinstance(one, Rule) and isinstance(other, Rule):
        turn = cross(one.normal, other.normal)
        if not turn:
            return []
        return [
            (
                (one.reach * other.normal[1] - other.reach * one.normal[1]) / turn,
                (one.normal[0] * other.reach - other.normal[0] * one.reach) / turn,
            )
        ]
    if isinstance(one, Rule):
        return meetings(other, one)
    if isinstance(other, Rule):
        square = dot(other.normal, other.normal)
        far = (other.reach - dot(other.normal, one.centre)) / square
        rest = one.radius * one.radius / square - far * far
        foot, along = plus(one.centre, times(other.normal, far)), (-other.normal[1], other.normal[0])
    else:
        way = minus(other.centre, one.centre)
        square = dot(way, way)
        if not square:
            return []
        far = (square + one.radius * one.radius - other.radius * other.radius) / (square * 2)
        rest = one.radius * one.radius / square - far * far
        foot, along = plus(one.centre, times(way, far)), (-way[1], way[0])
    if rest.sign() <= 0:
        return []
    half = square_root(rest)
    return [plus(foot, times(along, half)), plus(foot, times(along, -half))]


def extremes(arc_centre: Point, radius: Length, start: float, sweep: float) -> list[tuple[float, Point]]:
    """The outermost points of a circle to the four sides that lie on an arc of it, each with how far it lies along:
    `start` is the direction of the arc's first ray, `sweep` its angle, in radians, above 0 clockwise."""
    found = []
    for quarter, (x, y) in enumerate(((1, 0), (0, 1), (-1, 0), (0, -1))):
        turn = (quarter * pi / 2 - start) % (2 * pi) if sweep > 0 else (start - quarter * pi / 2) % (2 * pi)
        if 1e-4 < turn < abs(sweep) - 1e-4:
            found.append((turn, (arc_centre[0] + radius * x, arc_centre[1] + radius * y)))
    return found


def bearing_of(ray: Point) -> float:
    """The direction of a ray in radians, clockwise from the right as seen."""
    return atan2(float(ray[1]), float(ray[0]))


def chords(arcs: Iterable[Arc]) -> dict[frozenset[Point], Arc]:
    """The arc of each chord, by its two ends."""
    return {frozenset(pair): arc for arc in arcs for pair in zip(arc.points, arc.points[1:], strict=False)}


def plain_unit(angle: float) -> tuple[float, float]:
    """A direction as plain numbers."""
    return cos(angle), sin(angle)


def runs(outline: Outline, arcs: Iterable[Arc]) -> list[tuple[Arc | None, Outline]]:
    """The sides of an outline in order, each from corner to corner: a straight edge, or all chords of one arc."""
    known = chords(arcs)
    n = len(outline)
    of = [known.get(frozenset((p, outline[(i + 1) % n]))) for i, p in enumerate(outline)]
    first = next((i for i in range(n) if of[i] is None or of[i] is not of[i - 1]), 0)
    found: list[tuple[Arc | None, list[Point]]] = []
    for k in range(n):
        i = (first + k) % n
        end = outline[(i + 1) % n]
        if found and of[i] is not None and found[-1][0] is of[i]:
            found[-1][1].append(end)
        else:
            found.append((of[i], [outline[i], end]))
    return [(arc, tuple(points)) for arc, points in found]


def is_plainly_simple(outline: Outline) -> bool:
    """Whether no two edges of an outline that are not neighbours cross, told by plain numbers."""
    ring = [(float(x), float(y)) for x, y in outline]
    n = len(ring)

    def side(p: tuple[float, float], q: tuple[float, float], r: tuple[float, float]) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    for i in range(n):
        a, b = ring[i], ring[(i + 1) % n]
        for j in range(i + 2, n if i else n - 1):
            c, d = ring[j], ring[(j + 1) % n]
            if side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0:
                return False
    return True
