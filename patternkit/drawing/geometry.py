"""Geometry of drawing, in floats: placements, areas, a place for a label, outlines of joined pieces."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from math import cos, hypot, radians, sin

from patternkit.drawing.scene import Box, Pt
from patternkit.piecing.making import Outline, Place

Frame = tuple[float, float, float, float, float, float]  # x' = a*x + c*y + e, y' = b*x + d*y + f
SAME: Frame = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
NEAR = 1e-5


def frame_of(place: Place) -> Frame:
    """A placement as a frame."""
    t = radians(place.turned)
    c, s = round(cos(t), 15), round(sin(t), 15)
    m = -1.0 if place.mirrored else 1.0
    return m * c, m * s, -s, c, float(place.dx), float(place.dy)


def after(inner: Frame, outer: Frame) -> Frame:
    """The frame that applies `inner` first, then `outer`."""
    a, b, c, d, e, f = inner
    g, h, i, j, k, m = outer
    return g * a + i * b, h * a + j * b, g * c + i * d, h * c + j * d, g * e + i * f + k, h * e + j * f + m


def apply(frame: Frame, points: Iterable[Pt]) -> tuple[Pt, ...]:
    """Points moved into the frame's coordinates."""
    a, b, c, d, e, f = frame
    return tuple((a * x + c * y + e, b * x + d * y + f) for x, y in points)


def floats(outline: Outline) -> tuple[Pt, ...]:
    """An exact outline in floats."""
    return tuple((float(x), float(y)) for x, y in outline)


def area(points: Sequence[Pt]) -> float:
    """Signed area; positive for an outline that runs clockwise as seen (y down)."""
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, [*points[1:], points[0]], strict=False)) / 2


def centre_of(points: Sequence[Pt]) -> Pt:
    """The centre of gravity of an outline."""
    whole = area(points)
    if abs(whole) < 1e-12:
        return sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points)
    x = y = 0.0
    for (x0, y0), (x1, y1) in zip(points, [*points[1:], points[0]], strict=False):
        cross = x0 * y1 - x1 * y0
        x, y = x + (x0 + x1) * cross, y + (y0 + y1) * cross
    return x / (6 * whole), y / (6 * whole)


def box_of(points: Iterable[Pt]) -> Box:
    """The box around points."""
    xs, ys = zip(*points, strict=False)
    return min(xs), min(ys), max(xs), max(ys)


def inside(point: Pt, points: Sequence[Pt]) -> bool:
    """True when the point lies within the outline (the edge counts by chance)."""
    x, y = point
    odd = False
    for (x0, y0), (x1, y1) in zip(points, [*points[1:], points[0]], strict=False):
        if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
            odd = not odd
    return odd


def crosses_box(a: Pt, b: Pt, box: Box) -> bool:
    """True when the line from a to b enters the box (clipping its parameter by the four sides)."""
    low, high = 0.0, 1.0
    for p, d, near, far in ((a[0], b[0] - a[0], box[0], box[2]), (a[1], b[1] - a[1], box[1], box[3])):
        if abs(d) < 1e-12:
            if p <= near or p >= far:
                return False
            continue
        t0, t1 = sorted(((near - p) / d, (far - p) / d))
        low, high = max(low, t0), min(high, t1)
        if low >= high:
            return False
    return True


def box_fits(points: Sequence[Pt], box: Box) -> bool:
    """True when the box lies wholly within the outline."""
    x0, y0, x1, y1 = box
    if not inside(((x0 + x1) / 2, (y0 + y1) / 2), points):
        return False
    return not any(crosses_box(a, b, box) for a, b in zip(points, [*points[1:], points[0]], strict=False))


def label_spot(points: Sequence[Pt], wide: float, high: float, taken: Sequence[Box] = ()) -> Pt | None:
    """The middle of a box of that size within the outline, as near to its centre as may be; None when none fits."""
    left, top, right, bottom = box_of(points)
    if wide > right - left or high > bottom - top:
        return None
    cx, cy = centre_of(points)
    steps = [i / 12 for i in range(1, 12)]
    grid = [(left + (right - left) * i, top + (bottom - top) * j) for i in steps for j in steps]
    grid.sort(key=lambda p: (round(hypot(p[0] - cx, p[1] - cy), 3), p))
    for x, y in [(cx, cy), *grid]:
        box = (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
        if box_fits(points, box) and not any(overlap(box, other) for other in taken):
            return x, y
    return None


def overlap(one: Box, other: Box, slack: float = 0.0) -> bool:
    """True when two boxes share more than `slack` in both directions."""
    return (
        min(one[2], other[2]) - max(one[0], other[0]) > slack and min(one[3], other[3]) - max(one[1], other[1]) > slack
    )


def merged(outlines: Iterable[Sequence[Pt]]) -> list[tuple[Pt, ...]]:
    """The outlines of clockwise pieces that lie against each other, joined: the edges that two share are gone.

    Edges are first split where another piece's corner stands on them.
    """
    pieces = [tuple((round(x, 5), round(y, 5)) for x, y in points) for points in outlines]
    corners = sorted({p for piece in pieces for p in piece})
    edges: dict[tuple[Pt, Pt], int] = defaultdict(int)
    for piece in pieces:
        for a, b in zip(piece, [*piece[1:], piece[0]], strict=False):
            stops = [p for p in corners if p not in (a, b) and between(p, a, b)] if len(pieces) > 1 else []
            stops.sort(key=lambda p: hypot(p[0] - a[0], p[1] - a[1]))
            for c, d in zip([a, *stops], [*stops, b], strict=False):
                if c == d:
                    continue
                if edges.get((d, c)):
                    edges[d, c] -= 1
                else:
                    edges[c, d] += 1
    return _loops([edge for edge, count in edges.items() if count > 0])


def between(p: Pt, a: Pt, b: Pt) -> bool:
    """True when p stands on the line from a to b, between its ends."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = hypot(dx, dy)
    if long < NEAR:
        return False
    along = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / long
    off = ((p[0] - a[0]) * dy - (p[1] - a[1]) * dx) / long
    return -1e-4 < along < long + 1e-4 and abs(off) < 1e-4


def _loops(edges: list[tuple[Pt, Pt]]) -> list[tuple[Pt, ...]]:
    following: dict[Pt, list[Pt]] = defaultdict(list)
    for a, b in edges:
        following[a].append(b)
    loops = []
    while following:
        start = next(iter(following))
        loop, at = [start], start
        while True:
            nexts = following.get(at)
            if not nexts:
                break
            to = nexts.pop()
            if not nexts:
                del following[at]
            if to == start:
                break
            loop.append(to)
            at = to
        loops.append(_straightened(loop))
    return [loop for loop in loops if len(loop) > 2]


def _straightened(loop: list[Pt]) -> tuple[Pt, ...]:
    """The loop without corners that lie on a straight line."""
    kept = []
    for i, p in enumerate(loop):
        a, b = loop[i - 1], loop[(i + 1) % len(loop)]
        cross = (p[0] - a[0]) * (b[1] - p[1]) - (p[1] - a[1]) * (b[0] - p[0])
        if abs(cross) > 1e-4 * (hypot(p[0] - a[0], p[1] - a[1]) + hypot(b[0] - p[0], b[1] - p[1])):
            kept.append(p)
    return tuple(kept)


def grown(points: Sequence[Pt], by: float) -> tuple[Pt, ...]:
    """A clockwise outline with every edge moved outward by `by` and the corners run out to meet (inward when below
    0)."""
    out = []
    n = len(points)
    for i, (x, y) in enumerate(points):
        (ax, ay), (bx, by_) = points[i - 1], points[(i + 1) % n]
        ux, uy = x - ax, y - ay
        vx, vy = bx - x, by_ - y
        lu, lv = hypot(ux, uy) or 1.0, hypot(vx, vy) or 1.0
        n1, n2 = (uy / lu, -ux / lu), (vy / lv, -vx / lv)  # outward for clockwise with y down
        k = 1 + n1[0] * n2[0] + n1[1] * n2[1]
        k = k if k > 1e-9 else 1e-9
        out.append((x + by * (n1[0] + n2[0]) / k, y + by * (n1[1] + n2[1]) / k))
    return tuple(out)


def clipped(points: Sequence[Pt], a: Pt, b: Pt) -> tuple[Pt, ...]:
    """The part of a convex outline that lies to the right of the line from a to b as one walks it (y down); empty where
    none does, or where nothing is left to clip."""

    def side(p: Pt) -> float:
        return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])

    out: list[Pt] = []
    for p, q in zip(points, [*points[1:], *points[:1]], strict=True):
        s, t = side(p), side(q)
        if s >= -1e-9:
            out.append(p)
        if (s > 1e-9 and t < -1e-9) or (s < -1e-9 and t > 1e-9):
            k = s / (s - t)
            out.append((p[0] + (q[0] - p[0]) * k, p[1] + (q[1] - p[1]) * k))
    return tuple(out)
