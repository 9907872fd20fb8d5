"""Seams along arcs as joins: the raw edges that lie on the two raw arcs, in order."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from math import hypot

from patternkit.piecing.batch import Edge, Join
from patternkit.piecing.making import Outline, Point, Seam
from patternkit.piecing.sewing.desk import XY, Part, toward, xy

CURVE = 4
"""A path of more points is an arc; others have a corner or two."""
NEAR = 1e-5
"""Inches by which a raw edge may miss the raw arc on which it lies, in plain numbers."""

STRAIGHT = 0.9976
"""The cosine of four degrees: the chords of an arc turn by less."""
CHORD = 0.05
"""Radii: the chords of arcs are shorter."""


def is_curve(seam: Seam) -> bool:
    """Whether a seam is an arc."""
    return len(seam.path) > CURVE and not seam.set_in


@lru_cache(maxsize=1024)
def corners_of(outline: Outline) -> tuple[Point, ...]:
    """The corners of an outline: of its points those at which it turns by more than the chords of an arc do."""
    if len(outline) <= CURVE:
        return outline
    ring = [xy(p) for p in outline]
    found = []
    for i, (x, y) in enumerate(ring):
        (ax, ay), (bx, by) = ring[i - 1], ring[(i + 1) % len(ring)]
        u, v, p, q = x - ax, y - ay, bx - x, by - y
        if u * p + v * q < STRAIGHT * hypot(u, v) * hypot(p, q):
            found.append(outline[i])
    return tuple(found)


def curved(seam: Seam, parts: Sequence[Part]) -> Join:
    """The join along an arc. Its left side lies clockwise: it begins where the line ends."""
    path = [xy(p) for p in seam.path]
    left, right = _chords(path[::-1], seam.left, parts), _chords(path, seam.right, parts)
    centre = centre_of(path)
    return Join(
        _edges(left, parts, centre),
        _edges(right, parts, centre),
        toward(seam, left[::-1], right, parts),
        curved=True,
        spun=seam.spun is not None,
    )


def _chords(path: Sequence[XY], numbers: Sequence[int], parts: Sequence[Part]) -> list[tuple[int, int]]:
    """The drawn edges of some parts that are chords of a path, which runs clockwise round them: part and edge."""
    known = {}
    for n in numbers:
        ring = parts[n].outline
        for j, (p, q) in enumerate(zip(ring, (*ring[1:], ring[0]), strict=True)):
            known[_near(p), _near(q)] = n, j
    pairs = ((_near(a), _near(b)) for a, b in pairwise(path))
    return [known[pair] for pair in pairs if pair in known]


def _near(p: XY) -> XY:
    return round(p[0], 6) + 0.0, round(p[1], 6) + 0.0


def _edges(chords: Sequence[tuple[int, int]], parts: Sequence[Part], centre: XY) -> tuple[Edge, ...]:
    """The raw edges of one side: those of each part in the order in which they come, with what of its raw arc runs on
    beyond its own corners."""
    found: list[Edge] = []
    for n in dict.fromkeys(n for n, _ in chords):
        known = list(dict.fromkeys(parts[n].edges[j] for m, j in chords if m == n))
        found += [Edge(n, k) for k in _run(parts[n], known, centre)]
    return tuple(found)


def _run(part: Part, known: list[int], centre: XY) -> list[int]:
    """The numbers of all raw edges of a part on the raw arc of some."""
    raw = part.raw
    if not raw:
        return known
    middle = known[len(known) // 2]
    far = hypot(raw[middle][0] - centre[0], raw[middle][1] - centre[1])

    def lies(k: int) -> bool:
        (ax, ay), (bx, by) = raw[k % len(raw)], raw[(k + 1) % len(raw)]
        on = all(abs(hypot(x - centre[0], y - centre[1]) - far) < NEAR for x, y in ((ax, ay), (bx, by)))
        return on and hypot(bx - ax, by - ay) < far * CHORD

    first = last = middle
    while lies(first - 1) and middle - first < len(raw) - 1:
        first -= 1
    while lies(last + 1) and last - first < len(raw) - 1:
        last += 1
    return [k % len(raw) for k in range(first, last + 1)]


def centre_of(path: Sequence[XY]) -> XY:
    """The middle of the circle through the two ends of an arc and a point about half way."""
    (ax, ay), (bx, by), (cx, cy) = path[0], path[len(path) // 2], path[-1]
    d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by))
    a, b, c = ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy
    return (a * (by - cy) + b * (cy - ay) + c * (ay - by)) / d, (a * (cx - bx) + b * (ax - cx) + c * (bx - ax)) / d
