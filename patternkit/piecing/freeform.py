"""Outlines that are no straight-sided shapes: circles, petals, hearts, strips along an arc, what a drawing holds.

A curve is a chain of chords whose corners lie on it as near as the `GRID` allows, and so many that none lies further
than `CHORD` from it, up to `MOST`. Ends and outermost points stay exact, so that a shape measures what the writer says.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from math import acos, atan2, ceil, cos, hypot, pi, sin

from patternkit.lengths import Length
from patternkit.piecing.making import Outline, Point

XY = tuple[float, float]
GRID = 4096
"""Parts of an inch on which the corners of a curve lie."""
CHORD = 1 / 500
"""Inches by which a chord may lie off its curve: half of what a pencil line is wide."""
MOST = 200  # chords of a quarter of a circle: enough up to 250 in from its middle, and no quilt is larger
FEWEST = 26  # chords of a quarter of a circle: each turns by less than four degrees, which no one takes for a corner


def near(p: XY) -> Point:
    """The point of the grid next to one in plain numbers."""
    return Length(Fraction(round(p[0] * GRID), GRID)), Length(Fraction(round(p[1] * GRID), GRID))


def plain(p: Point) -> XY:
    """A point as plain numbers."""
    return float(p[0]), float(p[1])


def chords(radius: float, angle: float) -> int:
    """Into how many chords an arc of `angle` (in radians) is divided, so that none lies off it by more than allowed."""
    least = max(1, ceil(FEWEST * angle / (pi / 2) - 1e-9))
    if radius <= CHORD:
        return least
    most = max(1, ceil(MOST * angle / (pi / 2) - 1e-9))
    return min(max(least, ceil(angle / (2 * acos(1 - CHORD / radius)))), most)


def swept(centre: XY, start: XY, angle: float, radius: float = 0.0) -> list[XY]:
    """Points on an arc from a start, ends included, clockwise as seen (against that where the angle is negative). Given
    a larger `radius` it has as many as an arc of that."""
    x, y = start[0] - centre[0], start[1] - centre[1]
    n = chords(max(radius, hypot(x, y)), abs(angle))
    turns = [angle * i / n for i in range(n + 1)]
    return [(centre[0] + x * cos(t) - y * sin(t), centre[1] + x * sin(t) + y * cos(t)) for t in turns]


def angle_between(centre: XY, start: XY, end: XY) -> float:
    """The angle of the shorter arc from a start to an end, clockwise positive; a half circle is clockwise."""
    a, b = (atan2(p[1] - centre[1], p[0] - centre[0]) for p in (start, end))
    turn = (b - a) % (2 * pi)
    return turn - 2 * pi if turn > pi + 1e-9 else turn


def grown(outline: Outline, by: Length) -> Outline:
    """An outline with every edge so far outside, its corners on the grid; loops where it is too narrow are cut off.

    Raises ValueError where the outline crosses itself, or a wide part of it would.
    """
    ring, far = [plain(p) for p in outline], float(by)
    found: list[XY] = []
    for i, p in enumerate(ring):
        a, b = _way(ring[i - 1], p), _way(p, ring[(i + 1) % len(ring)])
        lean = 1 + a[0] * b[0] + a[1] * b[1]
        if lean < 1e-6:
            raise ValueError("it has a corner with no width")
        found.append((p[0] + (a[1] + b[1]) * far / lean, p[1] - (a[0] + b[0]) * far / lean))
    raw = tuple(near(p) for p in without_loops(found, lambda p: -abs(_off(p, ring) - far)))
    return tuple(p for i, p in enumerate(raw) if p != raw[i - 1])


def _way(p: XY, q: XY) -> XY:
    far = hypot(q[0] - p[0], q[1] - p[1])
    return (q[0] - p[0]) / far, (q[1] - p[1]) / far


MOST_LOOPS = 40
SMALL_LOOP = 1 / 4
"""The part of an outline's corners that a loop may have which is cut off."""


def without_loops(ring: Sequence[XY], off: Callable[[XY], float] = lambda _: 0.0) -> list[XY]:
    """A ring with its small loops cut off where they cross, of those within each other the outermost; raises ValueError
    where a large part crosses another. Of two loops as large the one is cut off at whose crossing `off` is more."""
    points = list(ring)
    for _ in range(MOST_LOOPS):
        found = max(_crossings(points), key=lambda c: (_loop(c, points), off(c[2])), default=None)
        if found is None:
            return points
        i, j, at = found
        if _loop(found, points) > max(3, len(points) * SMALL_LOOP):
            raise ValueError("its outline crosses itself")
        whole = [*points[: i + 1], at, *points[j + 1 :]] if j - i <= len(points) / 2 else [at, *points[i + 1 : j + 1]]
        points = whole
    raise ValueError("its outline crosses itself many times")


def _loop(crossing: tuple[int, int, XY], ring: Sequence[XY]) -> int:
    """How many corners lie in the smaller of the two loops of a ring that crosses itself."""
    i, j, _ = crossing
    return min(j - i, len(ring) - (j - i))


def _crossings(ring: Sequence[XY]) -> Iterator[tuple[int, int, XY]]:
    """Every two edges of a ring that cross, with where they do."""
    n = len(ring)
    boxes = [_box(ring[i], ring[(i + 1) % n]) for i in range(n)]
    for i in range(n):
        left, top, right, bottom = boxes[i]
        for j in range(i + 2, n if i else n - 1):
            x0, y0, x1, y1 = boxes[j]
            if x0 > right or x1 < left or y0 > bottom or y1 < top:
                continue
            at = _meet(ring[i], ring[(i + 1) % n], ring[j], ring[(j + 1) % n])
            if at is not None:
                yield i, j, at


def _off(p: XY, ring: Sequence[XY]) -> float:
    """How far a point lies from a ring."""
    least = float("inf")
    for i, b in enumerate(ring):
        a = ring[i - 1]
        x, y = b[0] - a[0], b[1] - a[1]
        t = max(0.0, min(1.0, ((p[0] - a[0]) * x + (p[1] - a[1]) * y) / (x * x + y * y)))
        least = min(least, hypot(p[0] - a[0] - x * t, p[1] - a[1] - y * t))
    return least


def _box(p: XY, q: XY) -> tuple[float, float, float, float]:
    return min(p[0], q[0]), min(p[1], q[1]), max(p[0], q[0]), max(p[1], q[1])


def _meet(a: XY, b: XY, c: XY, d: XY) -> XY | None:
    """Where two stretches cross; None where they do not."""
    r, s = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    cross = r[0] * s[1] - r[1] * s[0]
    if abs(cross) < 1e-15:
        return None
    t = ((c[0] - a[0]) * s[1] - (c[1] - a[1]) * s[0]) / cross
    u = ((c[0] - a[0]) * r[1] - (c[1] - a[1]) * r[0]) / cross
    return (a[0] + r[0] * t, a[1] + r[1] * t) if 0 <= t <= 1 and 0 <= u <= 1 else None
