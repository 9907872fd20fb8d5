"""Tips of templates: trimmed so that raw edges that are sewn together are equally long, and end level at both ends.

At an end C of a seam lie, on either side of it, the piece or what has been sewn of it so far, between the seam and a
*far edge*: one takes an angle p, the other q. Left alone, the raw edge of the one runs s cot(p / 2) beyond C along the
seam, that of the other s cot(q / 2). Laid face to face they are level where both run equally far beyond it, so that
the longer is cut. Three things hold how far that is:

- Neither can run farther than its own point.
- Where the two together make a corner that points outward (p + q less than a half turn), each reaches over the raw
  edge of the other there, and is cut along it: so the corner of the two has the raw corner of one piece of that angle,
  which is what later seams need. The one then runs s tan(q / 2) beyond C, the other s tan(p / 2).
- Nothing is lost of that corner, nothing that shows and nothing that is sewn: the cut runs from the end of the raw
  edge to the point on the line of the seam where the raw edge of the corner crosses it.

Seams are taken in sewing order. A corner that points inward (p or q of a half turn or more) is sewn to a point and
keeps its cloth, and so does what is not cut by template.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from math import atan2, pi
from typing import NamedTuple

from patternkit.lengths import ZERO, Length
from patternkit.piecing.alike_tips import trimmed_alike
from patternkit.piecing.division import on_segment
from patternkit.piecing.making import Making, Outline, Point, Seam
from patternkit.piecing.offset import HalfPlane, cross, dot, length_of, minus, plus, times

Trims = Mapping[int, tuple[HalfPlane, ...]]
"""How the corners of a piece are trimmed, by their numbers: each by some cuts, all of which hold."""

HALF_TURN = 1e-9  # how near to a half turn an angle is one
NEARBY = 1e-8  # how near points lie that are one, in inches


class _Side(NamedTuple):
    """One side of a seam at its end: its pieces with their corners there, its far edge and its angle."""

    corners: tuple[tuple[int, int], ...]  # piece, corner
    far: Point
    angle: float
    free: bool  # whether its tips can be cut


def dog_ears(
    outlines: Sequence[Outline], seams: Sequence[Seam], allowance: Length, fixed: Collection[int] = ()
) -> list[Trims]:
    """How the corners of each part are trimmed, given the seams in sewing order. Those of `fixed` keep their points.

    Parts of one shape are trimmed alike where raw edges meet as well then.
    """
    found = _in_order(outlines, seams, allowance, fixed)

    def even(raws: list[Outline], seam: Seam) -> list[tuple[int, int, HalfPlane]]:
        return _evened(raws, seam, outlines, allowance, fixed)

    return trimmed_alike(outlines, seams, allowance, found, even) or found


@lru_cache(maxsize=256)
def trims_of(making: Making, allowance: Length) -> tuple[Trims, ...]:
    """How the corners of each part of a unit are trimmed. What is sewn already, and not cut out by a template, keeps
    its points."""
    outlines = [p.place.outline(p.what.outline) for p in making.parts]
    whole = [
        n for n, p in enumerate(making.parts)
        if isinstance(p.what, Making) and not p.what.recipe.numbers.cut_outline
    ]  # fmt: skip
    return tuple(dog_ears(outlines, making.seams, allowance, whole))


def _in_order(
    outlines: Sequence[Outline], seams: Sequence[Seam], allowance: Length, fixed: Collection[int]
) -> list[Trims]:
    """The least that is cut off every part, seam by seam."""
    found: list[dict[int, tuple[HalfPlane, ...]]] = [{} for _ in outlines]
    for seam in seams:
        path = seam.path or (seam.start, seam.end)
        for corner, toward, hands in ((path[0], path[1], (-1, 1)), (path[-1], path[-2], (1, -1))):
            into = minus(toward, corner)
            left = _side(corner, into, hands[0], seam.left, outlines, fixed)
            right = _side(corner, into, hands[1], seam.right, outlines, fixed)
            if left is None or right is None:
                continue
            for own, other in ((left, right), (right, left)):
                planes = _cuts(corner, into, own, other, allowance)
                for part, i in own.corners if planes else ():
                    if part not in fixed:
                        found[part][i] = (*found[part].get(i, ()), *planes)
    return list(found)


def _side(
    corner: Point, into: Point, hand: int, parts: Sequence[int], outlines: Sequence[Outline], fixed: Collection[int]
) -> _Side | None:
    """What lies on one side of a seam at its end; None where nothing does, or where it points inward there."""
    x, y, (u, v) = float(corner[0]), float(corner[1]), (float(into[0]), float(into[1]))
    best, far = 0.0, None
    corners: list[tuple[int, int]] = []
    for part in parts:
        outline = outlines[part]
        away = [(float(p[0]) - x, float(p[1]) - y) for p in outline]
        for i, (a, b) in enumerate(zip(away, (*away[1:], away[0]), strict=True)):
            if abs(a[0]) + abs(a[1]) < NEARBY:
                corners.append((part, i))
            if abs(a[0] * b[1] - a[1] * b[0]) > NEARBY or a[0] * b[0] + a[1] * b[1] > NEARBY:
                continue  # the corner lies beside this edge
            for k, (c, d) in ((i, a), ((i + 1) % len(outline), b)):
                angle = atan2(hand * (u * d - v * c), u * c + v * d) % (2 * pi)
                if abs(c) + abs(d) > NEARBY and best < angle < 2 * pi - HALF_TURN:
                    best, far = angle, minus(outline[k], corner)
    if far is None or not HALF_TURN < best < pi - HALF_TURN:
        return None
    return _Side(tuple(corners), far, best, not any(part in fixed for part, _ in corners))


def _evened(
    raws: Sequence[Outline], seam: Seam, outlines: Sequence[Outline], allowance: Length, fixed: Collection[int]
) -> list[tuple[int, int, HalfPlane]]:
    """The cuts by which the longer of the two raw edges of a seam becomes as long as the shorter, at either end."""
    path = seam.path or (seam.start, seam.end)
    found: list[tuple[int, int, HalfPlane]] = []
    for corner, toward, hands in ((path[0], path[1], (-1, 1)), (path[-1], path[-2], (1, -1))):
        into = minus(toward, corner)
        left = _side(corner, into, hands[0], seam.left, outlines, fixed)
        right = _side(corner, into, hands[1], seam.right, outlines, fixed)
        if left is None or right is None or not (left.free and right.free):
            continue
        out = times(into, -1)
        ends = [
            _end(raws, own, _raw(corner, into, other.far, allowance), corner, out)
            for own, other in ((left, right), (right, left))
        ]
        if ends[0] is None or ends[1] is None:
            continue
        by = float(dot(minus(ends[0], ends[1]), out)) / float(length_of(out))
        if abs(by) > HALF_TURN:
            long, short = (left, ends[1]) if by > 0 else (right, ends[0])
            crossing = _meet(_axis(corner, into), _raw(corner, long.far, out, allowance))
            plane = _between(_mirrored(short, corner, into), crossing, corner)
            found += [(part, i, plane) for part, i in long.corners]
    return found


def _end(raws: Sequence[Outline], side: _Side, edge: _Line, corner: Point, out: Point) -> Point | None:
    """Where the raw edge of one side of a seam ends beyond a corner."""
    scale = float(length_of(edge.normal))
    points = [
        p
        for part, _ in side.corners
        for p in raws[part]
        if abs(float(dot(edge.normal, p) - edge.reach)) < HALF_TURN * scale and dot(minus(p, corner), out) > 0
    ]
    return max(points, key=lambda p: dot(minus(p, corner), out), default=None)


def _axis(corner: Point, into: Point) -> _Line:
    """The line of a seam."""
    return _Line((into[1], -into[0]), cross(corner, into))


class _Line(NamedTuple):
    """The points p with ``normal . p == reach``."""

    normal: Point
    reach: Length


def _raw(corner: Point, edge: Point, outward: Point, seam: Length) -> _Line:
    """The raw edge one seam outside an edge that leaves a corner, on the side to which `outward` points."""
    normal = (edge[1], -edge[0])
    if dot(normal, outward) < 0:
        normal = times(normal, -1)
    return _Line(normal, dot(normal, corner) + length_of(normal) * seam)


def _meet(a: _Line, b: _Line) -> Point:
    turn = cross(a.normal, b.normal)
    return (
        (a.reach * b.normal[1] - b.reach * a.normal[1]) / turn,
        (a.normal[0] * b.reach - b.normal[0] * a.reach) / turn,
    )


def _cuts(corner: Point, into: Point, own: _Side, other: _Side, seam: Length) -> tuple[HalfPlane, ...]:
    """How one side of a seam is cut at its end."""
    outward = own.angle + other.angle < pi - HALF_TURN and own.free and other.free
    planes = _cuts_at(into, own.far, other.far, outward, seam)
    return tuple(HalfPlane(p.normal, p.reach + dot(p.normal, corner)) for p in planes)


@lru_cache(maxsize=1024)
def _cuts_at(into: Point, far: Point, beside_far: Point, outward: bool, seam: Length) -> tuple[HalfPlane, ...]:
    """The cuts of a side with its far edge, beside another one, at a corner that lies at (0, 0)."""
    corner, out = (ZERO, ZERO), times(into, -1)
    edge, beside = _raw(corner, into, beside_far, seam), _raw(corner, into, far, seam)
    mine, theirs = _raw(corner, far, out, seam), _raw(corner, beside_far, out, seam)
    axis = _axis(corner, into)
    natural = _meet(edge, mine)
    ends = [natural, _mirrored(_meet(beside, theirs), corner, into)]
    if outward:
        ends += [_meet(edge, theirs), _mirrored(_meet(beside, mine), corner, into)]

    def beyond(p: Point) -> Length:
        return dot(minus(p, corner), out)

    end, crossing = min(ends, key=beyond), min(_meet(axis, mine), _meet(axis, theirs), key=beyond)
    planes = [HalfPlane(theirs.normal, theirs.reach)] if outward else []
    if end != natural and not (outward and dot(theirs.normal, end) == theirs.reach):
        planes.append(_between(end, crossing if outward else _meet(axis, mine), corner))
    return tuple(planes)


def _mirrored(p: Point, corner: Point, along: Point) -> Point:
    """A point mirrored about the line through a corner."""
    way = minus(p, corner)
    run = times(along, dot(way, along) * 2 / dot(along, along))
    return plus(corner, minus(run, way))


def _between(a: Point, b: Point, inside: Point) -> HalfPlane:
    """The cut through two points that keeps a third."""
    way = minus(b, a)
    normal = (way[1], -way[0])
    if dot(normal, minus(inside, a)) > 0:
        normal = times(normal, -1)
    return HalfPlane(normal, dot(normal, a))


# -- measured afterwards ------------------------------------------------------------------------------------
NEAR = 1 / 64
"""Raw edges that differ by no more are equally long, in inches: less than a ruler shows."""


def meeting(
    outlines: Sequence[Outline], raws: Sequence[Outline | None], seams: Sequence[Seam], allowance: Length
) -> frozenset[int]:
    """The parts all of whose raw edges are as long as those that they are sewn to, and end level with them.

    `raws` has the raw outline of each part where it lies, None for what is not cut by template: what is sewn to that is
    not in the answer. Measured in plain numbers, without regard to how the tips were found.
    """
    wrong = {i for i, raw in enumerate(raws) if raw is None}
    for seam in seams:
        path = seam.path or (seam.start, seam.end)
        beside = _along((*seam.left, *seam.right), outlines, path)
        if len(path) > 2 or any(raws[i] is None for i in beside):
            wrong |= beside
            continue
        left = _extent([raws[i] for i in seam.left], path, float(allowance))
        right = _extent([raws[i] for i in seam.right], path, -float(allowance))
        if any(abs(a - b) > NEAR for a, b in zip(left, right, strict=True)):
            wrong |= beside
    return frozenset(range(len(outlines))) - wrong


def _along(parts: Collection[int], outlines: Sequence[Outline], path: Sequence[Point]) -> set[int]:
    """Those parts that have an edge on a seam."""
    found = set()
    for part in parts:
        outline = outlines[part]
        for p, q in zip(outline, (*outline[1:], outline[0]), strict=True):
            if any(on_segment(p, a, b) and on_segment(q, a, b) for a, b in pairwise(path)):
                found.add(part)
    return found


def _extent(raws: Sequence[Outline | None], path: Sequence[Point], beyond: float) -> tuple[float, float]:
    """From where to where the raw edges run that lie `beyond` a seam to its right, along it."""
    (x1, y1), (x2, y2) = ((float(x), float(y)) for x, y in (path[0], path[-1]))
    far = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    ux, uy = (x2 - x1) / far, (y2 - y1) / far
    found = []
    for raw in raws:
        for x, y in ((float(x) - x1, float(y) - y1) for x, y in raw or ()):
            if abs(-x * uy + y * ux - beyond) < 1e-6:
                found.append(x * ux + y * uy)
    return (min(found), max(found)) if found else (0.0, 0.0)
