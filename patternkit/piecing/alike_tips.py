"""Pieces of one shape in a unit get one template: what is cut off the tips of one of them is cut off all, and what is
sewn to them is cut as far.

A piece that is its own mirror image is trimmed alike on both sides, so that it may lie either way.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from math import atan2, hypot
from typing import NamedTuple

from patternkit.lengths import Length
from patternkit.piecing.making import Outline, Seam
from patternkit.piecing.offset import HalfPlane, cross, dot, minus, trimmed_outline

Planes = Mapping[int, tuple[HalfPlane, ...]]
Even = Callable[[list[Outline], Seam], list[tuple[int, int, HalfPlane]]]
"""For a seam and the raw outlines as they are: which corners of which parts are to be cut further, and how."""

XY = tuple[float, float]
NEAR = 1e-9
ROUNDS = 8
MANY = 16
"""Of how many pieces a unit is looked through for shapes that could be trimmed alike: a check stays instant."""
SHOWN = 1 / 64
"""Inches by which raw edges that are sewn together may differ: less than a ruler shows."""
CLEAR = 0.6  # of a seam that is left at least between a finished corner and a cut


class _Match(NamedTuple):
    """How one part lies on another: the corner of the other for each of its own; `over` where it is turned over."""

    one: int
    other: int
    corners: tuple[int, ...]
    over: bool


def trimmed_alike(
    outlines: Sequence[Outline], seams: Sequence[Seam], seam: Length, found: Sequence[Planes], even: Even
) -> list[Planes] | None:
    """The trims of `found`, the same for all parts of one shape; None where no two are alike or that can not be."""
    trimmed = {n for n, planes in enumerate(found) if planes}
    if len(trimmed) > MANY:
        return None
    matches = _matches(outlines, trimmed)
    nicked: list[Planes] | None = None
    before = len(matches) + 1
    for some in (matches, [m for m in matches if m.one != m.other], [m for m in matches if not m.over]):
        if some and len(some) < before:
            before = len(some)
            alike, whole = _alike(outlines, seams, seam, found, even, some, nicked is None)
            if alike is not None and whole:
                return alike
            nicked = nicked or alike
    return nicked


def _alike(
    outlines: Sequence[Outline],
    seams: Sequence[Seam],
    seam: Length,
    found: Sequence[Planes],
    even: Even,
    matches: Sequence[_Match],
    nick: bool,
) -> tuple[list[Planes] | None, bool]:
    """The trims that are the same for all that match, and whether nothing is lost by them; None where more would be
    lost than a nick in the allowance of the whole, where that is allowed."""
    planes = [dict(own) for own in found]
    for _ in range(ROUNDS):
        _share(planes, matches, outlines)
        raws = [trimmed_outline(o, seam, p) for o, p in zip(outlines, planes, strict=True)]
        more = [cut for s in seams for cut in even(raws, s)]
        if not more:
            clear = all(_clear(o, r, seam) for o, r in zip(outlines, raws, strict=True))
            least = [trimmed_outline(o, seam, p) for o, p in zip(outlines, found, strict=True)]
            if not clear or nothing_lost(outlines, seams, seam, least, raws):
                return (list(planes) if clear else None), True
            return (list(planes) if nick and _level(raws, outlines, seams, seam) else None), False
        for part, corner, plane in more:
            planes[part][corner] = (*planes[part].get(corner, ()), plane)
    return None, False


def _share(
    planes: list[dict[int, tuple[HalfPlane, ...]]], matches: Collection[_Match], outlines: Sequence[Outline]
) -> None:
    """Give every part the cuts of those that are like it. Plain numbers tell which of them it has already."""
    before = [dict(own) for own in planes]
    plain = [[(float(x), float(y)) for x, y in outline] for outline in outlines]
    known = {
        (n, i): [_seen(cut, plain[n][i]) for cut in cuts] for n, own in enumerate(planes) for i, cuts in own.items()
    }
    for m in matches:
        for i, cuts in before[m.one].items():
            there = m.corners[i]
            for cut in cuts:
                seen = _seen_there(cut, plain[m.one], i, plain[m.other], there, m.over)
                had = known.setdefault((m.other, there), [])
                if not any(abs(seen[0] - x) + abs(seen[1] - y) + abs(seen[2] - z) < NEAR for x, y, z in had):
                    had.append(seen)
                    new = _carried(cut, outlines[m.one], i, outlines[m.other], there, m.over)
                    planes[m.other][there] = (*planes[m.other].get(there, ()), new)


def _seen(cut: HalfPlane, corner: XY) -> tuple[float, float, float]:
    """The direction of a cut as a unit vector, and how far it lies from the corner."""
    x, y = float(cut.normal[0]), float(cut.normal[1])
    far = hypot(x, y)
    return x / far, y / far, (float(cut.reach) - x * corner[0] - y * corner[1]) / far


def _seen_there(
    cut: HalfPlane, one: Sequence[XY], i: int, other: Sequence[XY], j: int, over: bool
) -> tuple[float, float, float]:
    """The same of a cut as it lies at the corner that is like its own."""
    x, y, far = _seen(cut, one[i])

    def side(ring: Sequence[XY], at: int, to: int) -> XY:
        return ring[to % len(ring)][0] - ring[at][0], ring[to % len(ring)][1] - ring[at][1]

    a, b = (x * u + y * v for u, v in (side(one, i, i - 1), side(one, i, i + 1)))
    u, v = (side(other, j, j + 1), side(other, j, j - 1)) if over else (side(other, j, j - 1), side(other, j, j + 1))
    turn = u[0] * v[1] - u[1] * v[0]
    return (a * v[1] - b * u[1]) / turn, (u[0] * b - v[0] * a) / turn, far


def _carried(cut: HalfPlane, one: Outline, i: int, other: Outline, j: int, over: bool) -> HalfPlane:
    """A cut at a corner as it lies at the corner that is like it."""
    sides = [minus(one[i - 1], one[i]), minus(one[(i + 1) % len(one)], one[i])]
    there = [minus(other[j - 1], other[j]), minus(other[(j + 1) % len(other)], other[j])]
    a, b = (dot(cut.normal, side) for side in sides)
    u, v = reversed(there) if over else there
    turn = cross(u, v)
    normal = (a * v[1] - b * u[1]) / turn, (u[0] * b - v[0] * a) / turn
    return HalfPlane(normal, cut.reach - dot(cut.normal, one[i]) + dot(normal, other[j]))


def _matches(outlines: Sequence[Outline], parts: Collection[int]) -> list[_Match]:
    """Every way in which a part lies on another one, or on itself as a mirror image or turned."""
    found = []
    walks = {n: _walk(outlines[n]) for n in parts}
    for one in parts:
        for other in parts:
            n = len(outlines[one])
            if n != len(outlines[other]):
                continue
            for over in (False, True):
                for shift in range(n):
                    corners = tuple((shift - i if over else shift + i) % n for i in range(n))
                    if one == other and not over and not shift:
                        continue
                    if _fits(walks[one], walks[other], corners, over):
                        found.append(_Match(one, other, corners, over))
    return found


def _walk(outline: Outline) -> list[tuple[float, float, float]]:
    """Of each corner the lengths of the edges before and behind it, and the turn there."""
    points = [(float(x), float(y)) for x, y in outline]
    found = []
    for i, (x, y) in enumerate(points):
        (ax, ay), (bx, by) = points[i - 1], points[(i + 1) % len(points)]
        u, v = (x - ax, y - ay), (bx - x, by - y)
        found.append((hypot(*u), hypot(*v), atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])))
    return found


def _fits(
    one: list[tuple[float, float, float]], other: list[tuple[float, float, float]], corners: tuple[int, ...], over: bool
) -> bool:
    for (before, behind, turn), j in zip(one, corners, strict=True):
        near, far, there = other[j]
        if over:
            near, far = far, near
        if abs(before - near) > NEAR or abs(behind - far) > NEAR or abs(turn - there) > NEAR:
            return False
    return True


def _clear(outline: Outline, raw: Outline, seam: Length) -> bool:
    """Whether a raw outline leaves room beyond every finished corner."""
    points = [(float(x), float(y)) for x, y in raw]
    for x, y in ((float(x), float(y)) for x, y in outline):
        for (ax, ay), (bx, by) in zip(points, (*points[1:], points[0]), strict=True):
            far = hypot(bx - ax, by - ay)
            if far > NEAR and ((by - ay) * (x - ax) - (bx - ax) * (y - ay)) / far > -CLEAR * float(seam):
                return False
    return True


# -- what shows ---------------------------------------------------------------------------------------------
def nothing_lost(
    outlines: Sequence[Outline], seams: Sequence[Seam], seam: Length, least: Sequence[Outline], raws: Sequence[Outline]
) -> bool:
    """Whether every part shows as much of its cloth, up to the raw edges of the whole, by `raws` as by `least`."""
    points = [[(float(x), float(y)) for x, y in o] for o in outlines]
    hull = _hull([p for outline in points for p in outline])
    around = [_outside(a, b, float(seam)) for a, b in zip(hull, (*hull[1:], hull[0]), strict=True)]
    for n, outline in enumerate(points):
        lines = list(around)
        for s in seams:
            if n in s.left or n in s.right:
                lines.append(_own_side(s, outline))
        shown = [_area(_within([(float(x), float(y)) for x, y in raw[n]], lines)) for raw in (least, raws)]
        if shown[1] < shown[0] - 1e-7:
            return False
    return True


def _level(raws: Sequence[Outline], outlines: Sequence[Outline], seams: Sequence[Seam], seam: Length) -> bool:
    """Whether the raw edges of every seam are equally long and end level, as far as they show once the seams before it
    are sewn."""
    plain, finished = ([[(float(x), float(y)) for x, y in o] for o in rings] for rings in (raws, outlines))
    for n, s in enumerate(seams):
        ends = []
        for parts, side in ((s.left, 1), (s.right, -1)):
            edge: list[float] = []
            for part in parts:
                lines = [_own_side(t, finished[part]) for t in seams[:n] if part in (*t.left, *t.right)]
                edge += _along(_within(plain[part], lines), s, side * float(seam))
            ends.append((min(edge, default=0.0), max(edge, default=0.0)))
        if any(abs(a - b) > SHOWN for a, b in zip(*ends, strict=True)):
            return False
    return True


def _own_side(s: Seam, outline: Sequence[XY]) -> tuple[float, float, float]:
    """The half-plane of a seam on whose side a part lies."""
    start, end = ((float(x), float(y)) for x, y in (s.start, s.end))
    line = _outside(start, end, 0.0)
    mine = max((line[0] * x + line[1] * y - line[2] for x, y in outline), key=abs)
    return line if mine < 0 else (-line[0], -line[1], -line[2])


def _along(ring: Sequence[XY], s: Seam, beyond: float) -> list[float]:
    """Where along a seam the corners of a ring lie that are so far beyond it, to its right."""
    (x1, y1), (x2, y2) = ((float(x), float(y)) for x, y in (s.start, s.end))
    far = hypot(x2 - x1, y2 - y1)
    u, v = (x2 - x1) / far, (y2 - y1) / far
    return [(x - x1) * u + (y - y1) * v for x, y in ring if abs((y - y1) * u - (x - x1) * v - beyond) < 1e-6]


def _outside(a: XY, b: XY, by: float) -> tuple[float, float, float]:
    """The half-plane right of a line, moved outward to its left by so much: ``x * p + y * q <= r``."""
    far = hypot(b[0] - a[0], b[1] - a[1])
    p, q = (b[1] - a[1]) / far, -(b[0] - a[0]) / far
    return p, q, p * a[0] + q * a[1] + by


def _within(polygon: list[XY], lines: Sequence[tuple[float, float, float]]) -> list[XY]:
    for p, q, r in lines:
        kept: list[XY] = []
        for a, b in zip(polygon, (*polygon[1:], *polygon[:1]), strict=True):
            over, then = p * a[0] + q * a[1] - r, p * b[0] + q * b[1] - r
            if over <= 0:
                kept.append(a)
            if (over < 0) != (then < 0) and over != then:
                t = over / (over - then)
                kept.append((a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t))
        polygon = kept
    return polygon


def _area(polygon: Sequence[XY]) -> float:
    pairs = zip(polygon, (*polygon[1:], *polygon[:1]), strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2


def _hull(points: Sequence[XY]) -> list[XY]:
    """The corners of the convex hull, clockwise as seen."""
    found: list[XY] = []
    for ordered in (sorted(set(points)), sorted(set(points), reverse=True)):
        chain: list[XY] = []
        for p in ordered:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= NEAR:
                chain.pop()
            chain.append(p)
        found += chain[:-1]
    return found


def _turn(a: XY, b: XY, c: XY) -> float:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
