"""Seams that stop where one of the two edges goes on: what is sewn of that edge shows no more, the rest stays raw."""

from __future__ import annotations

from patternkit.rehearsal.plane import CUT, SEWN, XY, Labels, Ring, apart, clipped, dot, minus, right_of
from patternkit.rehearsal.table import Facet

NEAR = 1e-6


def sewn_partly(f: Facet, begins: XY | None, stops: XY | None, at: XY, way: XY) -> Facet:
    """A convex facet without the allowance beyond a line of stitches through `at`, which runs along `way`, clockwise
    round it.

    Where `begins` is a point the edge stays raw before it, where `stops` is one the edge stays raw behind it.
    """
    inner = right_of(way)
    ring, labels = clipped(f.ring, f.labels, at, inner, SEWN)
    outside = clipped(f.ring, f.labels, at, (-inner[0], -inner[1]), CUT)
    n = len(ring)
    line = [i for i in range(n) if max(abs(dot(minus(ring[k % n], at), inner)) for k in (i, i + 1)) < NEAR]
    if not line or not outside[0]:
        return f
    ring, labels = _from(ring, labels, ring[(line[0] + 1) % n])  # from where the line leaves the facet on
    points, marks = list(ring), list(labels)  # the last edge is the line
    if begins is not None:
        before = clipped(*outside, begins, (-way[0], -way[1]), SEWN)
        flap, own = _from(*before, ring[-1])  # its last edge is the line
        points, marks = [*points[:-1], *flap], [*marks[:-1], *own[:-1], SEWN]
    if stops is not None:
        behind = clipped(*outside, stops, way, SEWN)
        flap, own = _from(*behind, stops)  # its last edge is the line
        points, marks = [*points, *flap[:-1]], [*marks, *own[:-1]]
    return Facet(f.part, *_straightened(points, marks), f.place)


def _from(ring: Ring, labels: Labels, p: XY) -> tuple[Ring, Labels]:
    """A ring that begins at the corner nearest to a point."""
    i = min(range(len(ring)), key=lambda k: apart(ring[k], p))
    return (*ring[i:], *ring[:i]), (*labels[i:], *labels[:i])


def _straightened(points: list[XY], marks: list[int]) -> tuple[Ring, Labels]:
    """A ring without corners within one edge."""
    keep = [i for i, mark in enumerate(marks) if mark == SEWN or mark != marks[i - 1]]
    return tuple(points[i] for i in keep), tuple(marks[i] for i in keep)
