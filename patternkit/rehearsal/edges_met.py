"""Hands laid against each other by the seams that end on their edges, and what is known of an edge that is sewn."""

from __future__ import annotations

from typing import NamedTuple

from patternkit.piecing.batch import Edge
from patternkit.rehearsal.bench import Bench
from patternkit.rehearsal.gaps import slip
from patternkit.rehearsal.plane import XY, Move, along, bringing, cross, dot, minus, right_of, unit
from patternkit.rehearsal.table import OnTable, joints

MEET = 1 / 64 + 1e-6
"""Raw edges that meet may differ by this much."""
PLACE = 1 / 32 + 1e-6
"""What closes may lie this far from where it should."""
BAND = 3.0  # seams: so far from a set-in corner nothing else's allowance reaches


class Side(NamedTuple):
    """The edges of one hand that are sewn: where they begin and end (clockwise), as raw edges and as seam lines."""

    edges: tuple[Edge, ...]
    first: XY
    last: XY
    way: XY  # from first to last, of length 1
    inner_first: XY  # the ends of the seam lines
    inner_last: XY
    angles: tuple[float, float]  # of the cloth at either end
    reach: float  # how far the edges lie out of one line
    length: float
    inner_length: float


def by_seams(bench: Bench, n: int, m: int, left: Side, right: Side, across: bool) -> Move:
    """The move that brings most joints that end on the one edge onto those that end on the other, the edges lying about
    middle to middle. `across`: onto the lines of those beyond the strip that lies along the left one."""
    beyond = _strip_along(bench.hands[n], left) if across else 0.0
    mine = _crossings(bench, bench.hands[n], left, beyond)
    its = _crossings(bench, bench.hands[m], right)
    shifts = [a + b for a in mine for b in its]  # walked from the far end, the right side's crossings lie at -b
    if not shifts:
        raise slip("missing")
    level = (left.length + right.length) / 2
    band = BAND * bench.seam + PLACE + beyond  # a strip that was laid on by its middle may reach out unevenly
    near = [x for x in shifts if abs(x - level) < band] or shifts
    best = min(near, key=lambda x: (-sum(abs(x - y) < MEET for y in near), abs(x - level)))
    line = along(left.first, right_of(left.way), bench.seam)
    own = along(right.first, right_of(right.way), bench.seam)
    return bringing(own, right.way, along(line, left.way, best), (-left.way[0], -left.way[1]))


def between_seams(bench: Bench, n: int, left: Side, right: Side) -> Move:
    """The move that brings the middle of the right side midway between the outer seams that end on the left one."""
    ends = _crossings(bench, bench.hands[n], left)
    if len(ends) < 2:
        raise slip("missing")
    line = along(left.first, right_of(left.way), bench.seam)
    own = along(right.first, right_of(right.way), bench.seam)
    back = (-left.way[0], -left.way[1])
    to = (min(ends) + max(ends)) / 2
    return bringing(along(own, right.way, right.length / 2), right.way, along(line, left.way, to), back)


def _strip_along(hand: OnTable, side: Side) -> float:
    """How far inside an edge the nearest seam runs beside it: the other side of a plain strip."""
    inner, low = right_of(side.way), MEET
    deep = [
        dot(minus(s.start, side.first), inner)
        for s in hand.sheets[0].seams
        if not s.inner and not s.curve and abs(cross(side.way, unit(minus(s.end, s.start)))) < 0.02
    ]
    return min((d for d in deep if d > low), default=0.0)


def _crossings(bench: Bench, hand: OnTable, side: Side, beyond: float = 0.0) -> list[float]:
    """How far along an edge the joints of a hand's parts cross its seam line, or would if those that end so far
    `beyond` it ran on."""
    inner, s = right_of(side.way), bench.seam
    low = beyond - s - MEET if beyond else -MEET
    found = []
    for seam in joints(hand.sheets[0].seams):
        for p, q in ((seam.start, seam.end), (seam.end, seam.start)):
            deep = dot(minus(p, side.first), inner)
            way = unit(minus(q, p))
            rise = dot(way, inner)
            if seam.curve or rise < 0.1 or not low < deep < beyond + s + MEET:
                continue
            found.append(dot(minus(along(p, way, (s - deep) / rise), side.first), side.way))
    return [t for t in found if -MEET < t < side.length + MEET]
