"""Raw outlines of pieces that arcs bound: every raw edge lies a seam outside its finished one, arcs as arcs.

Where two raw edges meet is worked out from their lines and circles. A tip sharper than a right angle is cut off a seam
beyond its finished point: along the raw edges of the unit where the point lies on its outline, else square to the line
that halves the tip. So a tip without any width, where an arc runs out along an edge, ends too, and next to the raw edge
of every seam lies another one just a seam beyond the seam's end.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, pi

from patternkit.lengths import Length
from patternkit.piecing.arcs import (
    STEPS,
    Arc,
    Ring,
    Rule,
    bearing_of,
    extremes,
    is_plainly_simple,
    meetings,
    offset_rule,
    plain_unit,
    runs,
    turned_by,
)
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.offset import CannotOffset, cross, dot, length_of, minus, plus, times, unit_vector

SHARP = 1e-6
"""Radians by which a corner may miss a right angle and still be none that is sharper."""
FAR = 2.2
"""Seams beyond its finished point that the raw edges of a unit may leave of a tip; else it is cut off square."""
STEP = pi / 2 / STEPS


class _Side:
    """A side of an outline with its raw line, and its directions at both ends in radians."""

    def __init__(self, arc: Arc | None, points: Outline, seam: Length) -> None:
        self.arc, self.points = arc, points
        self.line: Ring | Rule
        if arc is None:
            self.line = offset_rule(points[0], points[-1], seam)
            self.first = self.last = minus(points[-1], points[0])
            self.bulges = False
            return
        rays = minus(points[0], arc.centre), minus(points[1], arc.centre)
        self.bulges = cross(*rays).sign() > 0  # the middle of a clockwise arc lies inside a clockwise outline
        if not self.bulges and arc.radius <= seam * 2:
            raise CannotOffset("the arc is too tight for its seam: its radius is no more than two seam allowances")
        self.line = Ring(arc.centre, arc.radius + seam if self.bulges else arc.radius - seam)
        self.first, self.last = (self._tangent(p) for p in (points[0], points[-1]))

    def _tangent(self, p: Point) -> Point:
        assert self.arc is not None
        x, y = minus(p, self.arc.centre)
        return (-y, x) if self.bulges else (y, -x)


def round_outline(outline: Outline, arcs: Sequence[Arc], seam: Length, around: Outline = ()) -> Outline:
    """The raw outline of a clockwise outline with arcs, its tips trimmed. `around` is the finished outline of the unit.

    Raises CannotOffset where it has none.
    """
    sides = [_Side(arc, points, seam) for arc, points in runs(outline, arcs)]
    walls = [(a, b, offset_rule(a, b, seam)) for a, b in zip(around, (*around[1:], *around[:1]), strict=True)]
    tips = [_tip(sides[i - 1], side, seam, walls) for i, side in enumerate(sides)]
    found: list[Point] = []
    for i, side in enumerate(sides):
        start, end = tips[i], tips[(i + 1) % len(sides)][0]
        found += [*start, *_between(side, start[-1], end)]
    turned_back = any(
        side.arc is None and dot(side.first, minus(tips[(i + 1) % len(sides)][0], tips[i][-1])).sign() <= 0
        for i, side in enumerate(sides)
    )
    if turned_back or not is_plainly_simple(tuple(found)):
        raise CannotOffset("it is narrower somewhere than two seam allowances")
    return tuple(found)


def _tip(before: _Side, behind: _Side, seam: Length, walls: Sequence[tuple[Point, Point, Rule]]) -> list[Point]:
    """The raw corner between two sides: one point, or two or three where its tip is cut off."""
    at = behind.points[0]
    turn = (bearing_of(behind.first) - bearing_of(before.last) + pi) % (2 * pi) - pi
    if abs(turn) < SHARP:
        return [_outward(at, before, behind, seam)]
    found = meetings(before.line, behind.line)
    natural = min(found, key=lambda p: _apart(p, at), default=None)
    sharp = turn > pi / 2 + SHARP or abs(abs(turn) - pi) < SHARP
    if not sharp:
        if natural is None:
            raise CannotOffset("two of its raw edges do not meet")
        return [natural]
    way = minus(unit_vector(before.last), unit_vector(behind.first))
    if not way[0] and not way[1]:
        way = before.last
    cuts = [
        rule
        for a, b, rule in walls
        if not cross(minus(b, a), minus(at, a)) and _on(at, a, b) and dot(rule.normal, way).sign() > 0
    ]
    cuts = [c for c in cuts if all(_leaves(c, side) for side in (before, behind))]
    kept = _trimmed(before, behind, at, natural, cuts)
    if kept is None or max(_along(p, at, way) for p in kept) > FAR * float(seam):
        cuts.append(Rule(way, dot(way, at) + length_of(way) * seam))
        kept = _trimmed(before, behind, at, natural, cuts)
    if kept is None:
        raise CannotOffset("a tip of it can't be trimmed")
    return kept


def _leaves(cut: Rule, side: _Side) -> bool:
    """Whether a cut is another line than a side's own raw edge."""
    return isinstance(side.line, Ring) or bool(cross(cut.normal, side.line.normal))


def _on(p: Point, a: Point, b: Point) -> bool:
    way = minus(b, a)
    return dot(way, minus(p, a)).sign() >= 0 and dot(way, minus(p, b)).sign() <= 0


def _trimmed(
    before: _Side, behind: _Side, at: Point, natural: Point | None, cuts: Sequence[Rule]
) -> list[Point] | None:
    """A tip with its cuts; None where they do not close it."""
    if natural is not None and all(c.beyond(natural) <= 1e-9 for c in cuts):
        return [natural]
    ends = []
    for side in (before, behind):
        met = [(p, c) for c in cuts for p in _nearest(side, c, at) if all(o.beyond(p) <= 1e-9 for o in cuts)]
        if not met:
            return None
        ends.append(min(met, key=lambda one: _apart(one[0], at)))
    (p, first), (q, last) = ends
    if first is last:
        return [p, q]
    corner = meetings(first, last)
    return [p, *corner, q]


def _nearest(side: _Side, cut: Rule, at: Point) -> list[Point]:
    found = meetings(side.line, cut)
    return sorted(found, key=lambda p: _apart(p, at))[:1]


def _outward(at: Point, before: _Side, behind: _Side, seam: Length) -> Point:
    """The raw point outside one at which an outline runs on without a corner."""
    for side in (before, behind):
        if side.arc is not None and isinstance(side.line, Ring):
            return plus(side.arc.centre, times(minus(at, side.arc.centre), side.line.radius / side.arc.radius))
    way = unit_vector(behind.first)
    return at[0] + way[1] * seam, at[1] - way[0] * seam


def _between(side: _Side, start: Point, end: Point) -> list[Point]:
    """The points of a raw arc between its two ends."""
    if side.arc is None or not isinstance(side.line, Ring):
        return []
    centre, hand = side.arc.centre, 1 if side.bulges else -1
    first = bearing_of(minus(side.points[0], centre))

    def along(p: Point) -> float:
        """How far a point lies along the arc from the first of the finished one, in radians."""
        return (hand * (bearing_of(minus(p, centre)) - first) + pi) % (2 * pi) - pi

    factor = side.line.radius / side.arc.radius
    rays = [times(minus(p, centre), factor) for p in side.points]
    known = [(hand * (bearing_of(ray) - first)) % (2 * pi) if i else 0.0 for i, ray in enumerate(rays)]
    low, high = along(start), known[-1]
    last = (hand * (bearing_of(minus(end, centre)) - first) - high + pi) % (2 * pi) - pi + high
    if last <= low:
        raise CannotOffset("an arc of it is shorter than its seam allowances need")
    spots = list(zip(known, rays, strict=True))
    while spots[0][0] > low + STEP:
        spots.insert(0, (spots[0][0] - STEP, turned_by(spots[0][1], -hand * STEP)))
    while spots[-1][0] < last - STEP:
        spots.append((spots[-1][0] + STEP, turned_by(spots[-1][1], hand * STEP)))
    outermost = [
        (low + t, p)
        for t, p in extremes(centre, side.line.radius, bearing_of(minus(start, centre)), hand * (last - low))
    ]
    nick = STEP / 20
    rest = [(t, plus(centre, ray)) for t, ray in spots if low + nick < t < last - nick]
    rest = [(t, p) for t, p in rest if all(abs(t - o) > nick for o, _ in outermost)]
    return [p for _, p in sorted((*outermost, *rest), key=lambda one: one[0])]


def _apart(p: Point, q: Point) -> float:
    x, y = minus(p, q)
    return hypot(float(x), float(y))


def _along(p: Point, at: Point, way: Point) -> float:
    u, v = plain_unit(bearing_of(way))
    x, y = minus(p, at)
    return float(x) * u + float(y) * v
