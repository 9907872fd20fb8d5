"""The lines of a `slices` unit as they divide it: straight ones drawn in to what is left, arcs, lines turned round the
middle."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from patternkit.lengths import ONE, ZERO, Length
from patternkit.piecing.arcs import Arc, Ring, Rule, UnequalReach, arc_between, chords, meetings, threaded
from patternkit.piecing.division import CannotDivide, edge_at, encloses, touch
from patternkit.piecing.kinds.slices_lines import Slice
from patternkit.piecing.kinds.slices_points import Places, Unread
from patternkit.piecing.making import Outline, Place, Point
from patternkit.piecing.offset import cross, dot, minus, plus, times
from patternkit.piecing.shapes import shown


class SlicePath(msgspec.Struct, frozen=True):
    """A line by its points, and the arc that it is; `new` are points on earlier arcs at which it ends, each with the
    two of the arc's own between which that lies."""

    points: Outline
    arc: Arc | None = None
    new: tuple[tuple[Point, tuple[Point, Point]], ...] = ()


def path_of(s: Slice, shape: Outline, places: Places) -> SlicePath:
    """The line of a slice on the piece that it divides. Raises Unread, or CannotDivide."""
    points = tuple(_turned(places.point(spot), s, places) for spot in s.spots)
    if s.about is not None:
        arc = _arc(s, points, places)
        new = [known for p in points if (known := _known(p, places)) is not None]
        return SlicePath(arc.points, arc, tuple(new))
    new = [known for p in points if (known := _known(p, places)) is not None]
    for p, between in new:
        shape = threaded(shape, p, between)
    if len(points) == 2:
        start, end = points
        one = _drawn_in(shape, start, end, places.arcs.values())
        other = _drawn_in(shape, end, start, places.arcs.values())
        if one == other and start != end:
            raise CannotDivide("it touches it in one point only, and takes nothing off")
        new += [known for p in (one, other) if (known := _known(p, places)) is not None]
        points = one, other
    return SlicePath(points, None, tuple(new))


def _known(p: Point, places: Places) -> tuple[Point, tuple[Point, Point]] | None:
    """A point that lies on an earlier arc and was none of its own, with those between which it lies: the arc has it
    from now on."""
    for number, arc in places.arcs.items():
        ray = minus(p, arc.centre)
        if p in arc.points or abs(float(dot(ray, ray)) ** 0.5 - float(arc.radius)) > 1e-9:
            continue
        first, last = (minus(q, arc.centre) for q in (arc.points[0], arc.points[-1]))
        way = 1 if arc.clockwise else -1
        if float(cross(first, ray)) * way < 0 or float(cross(ray, last)) * way < 0:
            continue
        places.arcs[number], between = arc.with_point(p)
        if between is not None:
            return p, between
    return None


def _turned(p: Point, s: Slice, places: Places) -> Point:
    """A point turned round the middle of the unit."""
    if not s.turn:
        return p
    middle = places.width / 2, places.height / 2
    return plus(middle, Place(turned=s.turn).point(minus(p, middle)))


def _arc(s: Slice, points: Outline, places: Places) -> Arc:
    """The arc from one point to another about a third."""
    assert s.about is not None
    centre = _turned(places.point(s.about), s, places)
    try:
        return arc_between(points[0], points[1], centre)
    except UnequalReach as wrong:
        one, other = (shown(far, places.shop) for far in (wrong.first, wrong.last))
        raise Unread(
            f"it starts {one} from the point that it runs about and ends {other} from there; an arc keeps its distance",
            s.about.span,
        ) from None
    except ValueError:
        raise Unread("an arc runs from one point to another", s.span) from None


def _drawn_in(shape: Outline, p: Point, other: Point, arcs: Iterable[Arc]) -> Point:
    """An end of a straight line, drawn in along it where it lies outside a shape: to where the line enters that."""
    if edge_at(shape, p) is not None or encloses(shape, p):
        return p
    way, rule = minus(other, p), _rule(p, other)
    met: list[tuple[Length, Point]] = []
    known = chords(arcs)
    for i, a in enumerate(shape):
        b = shape[(i + 1) % len(shape)]
        if not touch(p, other, a, b) or not cross(way, minus(b, a)):
            continue
        arc = known.get(frozenset((a, b)))
        line = _rule(a, b) if arc is None else Ring(arc.centre, arc.radius)
        found = meetings(rule, line)
        if found:
            at = min(found, key=lambda q: _off(q, a, b))
            far = dot(minus(at, p), way) / dot(way, way)
            if ZERO <= far <= ONE:
                met.append((far, at))
    if not met:
        raise CannotDivide("it does not reach it")
    return min(met, key=lambda one: one[0])[1]


def _rule(p: Point, q: Point) -> Rule:
    way = minus(q, p)
    normal = (way[1], -way[0])
    return Rule(normal, dot(normal, p))


def _off(q: Point, a: Point, b: Point) -> float:
    """How far a point lies from the middle between two others."""
    x, y = minus(times(plus(a, b), ONE / 2), q)
    return float(x) ** 2 + float(y) ** 2
