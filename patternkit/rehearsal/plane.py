"""Plain geometry on a table: points, moves and rings of edges with labels, as floats. x to the right, y down.

Rings run clockwise as seen, so that the inside lies to the right of every edge.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import atan2, cos, hypot, pi, sin

XY = tuple[float, float]
Move = tuple[float, float, float, float, float, float]
"""``(a, b, c, d, x, y)`` takes a point (p, q) to (a p + b q + x, c p + d q + y)."""
Ring = tuple[XY, ...]
Labels = tuple[int, ...]
"""What each edge of a ring is: the number that it had when the piece was cut, or one of these."""

CUT, SEWN = -1, -2
TINY = 1e-7
STAY: Move = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


# -- points -----------------------------------------------------------------------------------------------
def allowed(least: float, length: float) -> float:
    """What a length may be off, by no less than `least`: an eighth of an inch in 100 in, which nobody sees along a row
    or a border, and a sixteenth at most."""
    return max(least, min(length / 800, 1 / 16))


def minus(p: XY, q: XY) -> XY:
    """The vector from `q` to `p`."""
    return p[0] - q[0], p[1] - q[1]


def along(p: XY, way: XY, far: float) -> XY:
    """The point `far` times a vector from a point."""
    return p[0] + way[0] * far, p[1] + way[1] * far


def dot(p: XY, q: XY) -> float:
    """The product of two vectors' lengths and the cosine between them."""
    return p[0] * q[0] + p[1] * q[1]


def cross(p: XY, q: XY) -> float:
    """Positive when `q` turns clockwise from `p`."""
    return p[0] * q[1] - p[1] * q[0]


def apart(p: XY, q: XY) -> float:
    """How far two points are apart."""
    return hypot(p[0] - q[0], p[1] - q[1])


def unit(v: XY) -> XY:
    """The vector of length 1 in a direction; (0, 0) for none."""
    length = hypot(v[0], v[1])
    return (v[0] / length, v[1] / length) if length > 1e-12 else (0.0, 0.0)


def right_of(v: XY) -> XY:
    """The vector turned a quarter clockwise: to the right as walked."""
    return -v[1], v[0]


def middle(p: XY, q: XY) -> XY:
    """Half way between two points."""
    return (p[0] + q[0]) / 2, (p[1] + q[1]) / 2


def meeting(p: XY, v: XY, q: XY, w: XY) -> XY | None:
    """Where the line through `p` along `v` meets that through `q` along `w`; None where they are parallel."""
    bottom = cross(v, w)
    if abs(bottom) < 1e-12:
        return None
    return along(p, v, cross(minus(q, p), w) / bottom)


def bearing(v: XY) -> float:
    """The direction of a vector in degrees, clockwise from the right, from 0 to below 360."""
    return atan2(v[1], v[0]) * 180 / pi % 360


def turn_between(a: float, b: float, whole: float = 360.0) -> float:
    """How far two directions are apart, in degrees, where a turn by `whole` changes nothing."""
    d = abs(a - b) % whole
    return min(d, whole - d)


# -- moves ------------------------------------------------------------------------------------------------
def moved(m: Move, p: XY) -> XY:
    """A point moved."""
    return m[0] * p[0] + m[1] * p[1] + m[4], m[2] * p[0] + m[3] * p[1] + m[5]


def swung(m: Move, v: XY) -> XY:
    """A vector moved."""
    return m[0] * v[0] + m[1] * v[1], m[2] * v[0] + m[3] * v[1]


def then(first: Move, second: Move) -> Move:
    """One move after another."""
    a, b, c, d, x, y = first
    p, q, r, s, u, v = second
    return (
        p * a + q * c,
        p * b + q * d,
        r * a + s * c,
        r * b + s * d,
        p * x + q * y + u,
        r * x + s * y + v,
    )


def back(m: Move) -> Move:
    """The move that undoes another."""
    a, b, c, d, x, y = m
    det = a * d - b * c
    a, b, c, d = d / det, -b / det, -c / det, a / det
    return a, b, c, d, -(a * x + b * y), -(c * x + d * y)


def face_up(m: Move) -> bool:
    """Whether a piece that is moved so lies with its right side up."""
    return m[0] * m[3] - m[1] * m[2] > 0


def turning(degrees: float) -> Move:
    """A turn clockwise about (0, 0)."""
    c, s = cos(degrees * pi / 180), sin(degrees * pi / 180)
    return c, -s, s, c, 0.0, 0.0


def bringing(p: XY, v: XY, q: XY, w: XY, *, over: bool = False) -> Move:
    """The move that brings point `p` to `q` and direction `v` to `w`, turned over where `over` says so."""
    v, w = unit(v), unit(w)
    if over:
        c, s = v[0] * w[0] - v[1] * w[1], v[0] * w[1] + v[1] * w[0]
        m: Move = (c, s, s, -c, 0.0, 0.0)
    else:
        c, s = dot(v, w), cross(v, w)
        m = (c, -s, s, c, 0.0, 0.0)
    to = moved(m, p)
    return m[0], m[1], m[2], m[3], q[0] - to[0], q[1] - to[1]


def folding(p: XY, way: XY) -> Move:
    """Turning over about the line through `p` along `way`."""
    return bringing(p, way, p, way, over=True)


def stretching(p: XY, way: XY, factor: float) -> Move:
    """Made `factor` times as long along a direction, `p` staying where it is."""
    u, f = unit(way), factor - 1
    a, b, d = 1 + f * u[0] * u[0], f * u[0] * u[1], 1 + f * u[1] * u[1]
    return a, b, b, d, p[0] - a * p[0] - b * p[1], p[1] - b * p[0] - d * p[1]


# -- rings ------------------------------------------------------------------------------------------------
def hull(points: Iterable[XY]) -> Ring:
    """The convex hull of some points, clockwise as seen, without points on its edges."""
    ordered = sorted({(round(x, 7), round(y, 7)) for x, y in points})
    found: list[XY] = []
    for walk in (ordered, ordered[::-1]):
        chain: list[XY] = []
        for p in walk:
            while len(chain) > 1 and cross(unit(minus(chain[-1], chain[-2])), minus(p, chain[-1])) < 1e-6:
                chain.pop()
            chain.append(p)
        found += chain[:-1]

    def off(i: int) -> float:
        before, behind = found[i - 1], found[(i + 1) % len(found)]
        return abs(cross(unit(minus(behind, before)), minus(found[i], before)))

    return tuple(p for i, p in enumerate(found) if off(i) > 1e-5)


def area(ring: Sequence[XY]) -> float:
    """The area inside a clockwise ring."""
    total = 0.0
    x, y = ring[-1]
    for p, q in ring:
        total += x * q - p * y
        x, y = p, q
    return total / 2


def centroid(ring: Sequence[XY]) -> XY:
    """The middle of a ring's corners."""
    return sum(p[0] for p in ring) / len(ring), sum(p[1] for p in ring) / len(ring)


def is_convex(ring: Sequence[XY]) -> bool:
    """Whether every corner turns clockwise (or not at all)."""
    n = len(ring)
    for i in range(n):
        p, q, r = ring[i - 2], ring[i - 1], ring[i]
        if (q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0]) < -1e-9:
            return False
    return True


def carried(m: Move, ring: Ring, labels: Labels) -> tuple[Ring, Labels]:
    """A ring moved, and clockwise again."""
    new = tuple(moved(m, p) for p in ring)
    if face_up(m):
        return new, labels
    return new[::-1], labels[-2::-1] + labels[-1:]


def holds(ring: Sequence[XY], p: XY, slack: float = TINY) -> bool:
    """Whether a point lies inside a ring, or not farther than `slack` from its edges."""
    x, y = p
    inside, near = False, slack * slack
    px, py = ring[-1]
    for qx, qy in ring:
        if (py > y) != (qy > y) and x < (qx - px) * (y - py) / (qy - py) + px:
            inside = not inside
        vx, vy = qx - px, qy - py
        square = vx * vx + vy * vy
        t = 0.0 if square < 1e-18 else max(0.0, min(1.0, ((x - px) * vx + (y - py) * vy) / square))
        dx, dy = px + t * vx - x, py + t * vy - y
        if dx * dx + dy * dy <= near:
            return True
        px, py = qx, qy
    return inside


def clipped(ring: Ring, labels: Labels, p: XY, inner: XY, label: int) -> tuple[Ring, Labels]:
    """What lies on one side of the line through `p`: the side that the vector `inner` (square to it, of length 1)
    points to. The new edge is called `label`. Empty rings where nothing is left."""
    far = [(q[0] - p[0]) * inner[0] + (q[1] - p[1]) * inner[1] for q in ring]
    if min(far) >= -TINY:
        return ring, labels
    if max(far) <= TINY:
        return (), ()
    points: list[XY] = []
    names: list[int] = []
    n = len(ring)
    for i in range(n):
        j = i + 1 if i + 1 < n else 0
        a, b = far[i], far[j]
        if a >= 0:
            points.append(ring[i])
            names.append(labels[i])
        if (a >= 0) != (b >= 0):
            t = a / (a - b)
            points.append((ring[i][0] + (ring[j][0] - ring[i][0]) * t, ring[i][1] + (ring[j][1] - ring[i][1]) * t))
            names.append(label if a >= 0 else labels[i])
    return tidy(points, names)


def tidy(points: Sequence[XY], names: Sequence[int]) -> tuple[Ring, Labels]:
    """A ring without edges of no length; empty when it has no area."""
    keep = [i for i in range(len(points)) if apart(points[i], points[(i + 1) % len(points)]) > TINY]
    ring = tuple(points[i] for i in keep)
    if len(ring) < 3 or area(ring) < 1e-6:
        return (), ()
    return ring, tuple(names[i] for i in keep)


def spans(ring: Sequence[XY], p: XY, way: XY) -> list[tuple[float, float]]:
    """The stretches of the line through `p` along `way` (of length 1) that lie inside a ring, as distances from `p`."""
    square = right_of(way)
    hits: list[float] = []
    a = ring[-1]
    da = dot(minus(a, p), square)
    for b in ring:
        db = dot(minus(b, p), square)
        if (da >= 0) != (db >= 0):
            t = da / (da - db)
            hits.append(dot(minus(along(a, minus(b, a), t), p), way))
        a, da = b, db
    hits.sort()
    return [(hits[i], hits[i + 1]) for i in range(0, len(hits) - 1, 2) if hits[i + 1] - hits[i] > TINY]


def joined(stretches: Iterable[tuple[float, float]], slack: float = 1e-5) -> list[tuple[float, float]]:
    """Stretches put together where they overlap or touch."""
    found: list[tuple[float, float]] = []
    for low, high in sorted(stretches):
        if found and low <= found[-1][1] + slack:
            found[-1] = found[-1][0], max(found[-1][1], high)
        else:
            found.append((low, high))
    return found


def common(a: Iterable[tuple[float, float]], b: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """What two sets of stretches both cover."""
    found = []
    for low, high in a:
        for left, right in b:
            x, y = max(low, left), min(high, right)
            if y - x > TINY:
                found.append((x, y))
    return found


def shifted(ring: Ring, by: Sequence[float]) -> Ring:
    """A ring with every edge moved inward by its own distance (outward where that is negative), corners following."""
    n = len(ring)
    ways = [unit(minus(ring[(i + 1) % n], ring[i])) for i in range(n)]
    bases = [along(ring[i], right_of(ways[i]), by[i]) for i in range(n)]
    corners: list[XY] = []
    for i in range(n):
        before = i - 1
        if abs(cross(ways[before], ways[i])) < 0.02 and dot(ways[before], ways[i]) > 0:
            corners.append(along(ring[i], right_of(unit(along(ways[i], ways[before], 1.0))), (by[before] + by[i]) / 2))
            continue
        met = meeting(bases[before], ways[before], bases[i], ways[i])
        corners.append(bases[i] if met is None else met)
    return tuple(corners)


SPECK = 1e-5
"""Inches: what is left of an edge that is shorter is none."""


def taken_in(ring: Ring, by: Sequence[float]) -> tuple[Ring, tuple[int, ...]]:
    """A ring with edges moved inward, as `shifted`, without those of which nothing is left then (they would run back);
    and the numbers of the edges that are left."""
    lines = list(range(len(ring)))
    ways = [unit(minus(ring[(i + 1) % len(ring)], p)) for i, p in enumerate(ring)]
    bases = [along(p, right_of(ways[i]), by[i]) for i, p in enumerate(ring)]
    while True:
        corners = []
        for k, i in enumerate(lines):
            before = lines[k - 1]
            met = meeting(bases[before], ways[before], bases[i], ways[i])
            straight = abs(cross(ways[before], ways[i])) < 0.02 and dot(ways[before], ways[i]) > 0
            corners.append(bases[i] if met is None or (straight and by[before] == by[i]) else met)
        runs = [dot(minus(corners[(k + 1) % len(lines)], p), ways[lines[k]]) for k, p in enumerate(corners)]
        size = [apart(ring[i], ring[(i + 1) % len(ring)]) for i in lines]
        worst = min(range(len(lines)), key=lambda k: (runs[k] >= SPECK, size[k]))
        if runs[worst] >= SPECK or len(lines) < 4:
            return tuple(corners), tuple(lines)
        del lines[worst]
