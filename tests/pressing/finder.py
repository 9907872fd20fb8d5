"""An independent way to find joints, in floats, over all placed seams: it shares no code with the program's
finder.

Every copy of every seam is put into the quilt. When a seam is sewn, another one that was sewn before it,
wholly on one of its sides, and that ends on it, arrives there. The two sides are compared by the angle
between seam and line, and an allowance lies ahead when the vector from the seam to its allowance points along
the line.
"""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, pi, sin
from typing import NamedTuple

from patternkit.piecing.making import Making, Placed

NEAR = 1e-6


class Stitch(NamedTuple):
    key: tuple[str, int]
    a: tuple[float, float]
    b: tuple[float, float]
    left_of: tuple[float, float]  # unit vector to the side called "left" in the making
    leaves_left: frozenset[int]
    leaves_right: frozenset[int]
    bent: bool = False  # set in from corner to corner: its stitches stop there, and cross nothing


class Found(NamedTuple):
    x: float
    y: float
    kind: str
    first: tuple[tuple[str, int], int]  # seam, and 1 when "left" lies ahead
    second: tuple[tuple[str, int], int]


def stitches(top: Making) -> list[Stitch]:
    """Every seam of the quilt, inner ones first, in sewing order."""
    out: list[Stitch] = []
    count = [0]

    def walk(making: Making, matrix: tuple[float, ...]) -> frozenset[int]:
        leaves = []
        for part in making.parts:
            inner = _compose(matrix, part)
            if isinstance(part.what, Making):
                leaves.append(walk(part.what, inner))
            else:
                count[0] += 1
                leaves.append(frozenset([count[0]]))
        for j, seam in enumerate(making.seams):
            s, e = ((float(p[0]), float(p[1])) for p in (seam.start, seam.end))
            dx, dy = e[0] - s[0], e[1] - s[1]
            size = hypot(dx, dy)
            a, b = _apply(matrix, *s), _apply(matrix, *e)
            tip = _apply(matrix, s[0] + dy / size, s[1] - dx / size)
            out.append(
                Stitch(
                    (making.spelled, j),
                    a,
                    b,
                    (tip[0] - a[0], tip[1] - a[1]),
                    frozenset().union(*(leaves[i] for i in seam.left)),
                    frozenset().union(*(leaves[i] for i in seam.right)),
                    seam.set_in and len(seam.path) > 3,
                )
            )
        return frozenset().union(*leaves)

    walk(top, (1, 0, 0, 1, 0, 0))
    return out


def _compose(m: tuple[float, ...], part: Placed) -> tuple[float, ...]:
    t = part.place.turned * pi / 180
    flip = -1.0 if part.place.mirrored else 1.0
    n = (cos(t) * flip, sin(t) * flip, -sin(t), cos(t), float(part.place.dx), float(part.place.dy))
    ox, oy = _apply(m, n[4], n[5])
    return (
        m[0] * n[0] + m[2] * n[1],
        m[1] * n[0] + m[3] * n[1],
        m[0] * n[2] + m[2] * n[3],
        m[1] * n[2] + m[3] * n[3],
        ox,
        oy,
    )


def _apply(m: tuple[float, ...], x: float, y: float) -> tuple[float, float]:
    return m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]


def find(top: Making) -> list[Found]:
    """All joints of the quilt, each copy by itself."""
    out: list[Found] = []
    done: list[Stitch] = []
    for line in stitches(top):
        out += [] if line.bent else _on(line, done)
        done.append(line)
    return out


def _on(line: Stitch, done: list[Stitch]) -> list[Found]:
    dx, dy = line.b[0] - line.a[0], line.b[1] - line.a[1]
    size = hypot(dx, dy)
    ux, uy = dx / size, dy / size
    points: dict[int, tuple[float, list[tuple[float, Stitch, int]], list[tuple[float, Stitch, int]]]] = {}
    for other in done:
        whole = other.leaves_left | other.leaves_right
        side = 0 if whole <= line.leaves_left else 1 if whole <= line.leaves_right else -1
        if side < 0:
            continue
        for p, q in ((other.a, other.b), (other.b, other.a)):
            px, py = p[0] - line.a[0], p[1] - line.a[1]
            along, off = px * ux + py * uy, px * uy - py * ux
            if abs(off) > NEAR or not -NEAR <= along <= size + NEAR:
                continue
            rx, ry = q[0] - p[0], q[1] - p[1]
            angle = degrees(atan2(abs(ux * ry - uy * rx), ux * rx + uy * ry))
            ahead = 1 if other.left_of[0] * ux + other.left_of[1] * uy > 0 else -1
            points.setdefault(round(along / NEAR / 10), (along, [], []))[1 + side].append((angle, other, ahead))
    out = []
    for along, one, two in points.values():
        x, y = line.a[0] + ux * along, line.a[1] + uy * along
        for kind, want in (("lock", lambda v: v), ("through", lambda v: 180 - v)):
            for end in list(one):
                match = [m for m in two if abs(m[0] - want(end[0])) < 1e-4]
                if match:
                    out.append(_found(x, y, kind, end, match[0]))
                    one.remove(end)
                    two.remove(match[0])
        if len(one) == len(two) == 1:
            out.append(_found(x, y, "point", one[0], two[0]))
    return out


def _found(x: float, y: float, kind: str, a: tuple[float, Stitch, int], b: tuple[float, Stitch, int]) -> Found:
    first, second = sorted([(a[1].key, a[2]), (b[1].key, b[2])])
    if first[1] < 0:  # which way the line runs does not matter: only whether the two agree
        first, second = (first[0], 1), (second[0], -second[1])
    return Found(round(x, 4), round(y, 4), kind, first, second)
