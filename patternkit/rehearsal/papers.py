"""Foundations: cloth laid over printed fields, sewn on their lines, folded over, trimmed to the paper's edge."""

from __future__ import annotations

import msgspec

from patternkit.piecing.batch import Field, Piece, TearAway
from patternkit.rehearsal.bench import Bench
from patternkit.rehearsal.gaps import slip
from patternkit.rehearsal.plane import (
    CUT,
    SEWN,
    STAY,
    XY,
    Labels,
    Ring,
    along,
    apart,
    bringing,
    centroid,
    clipped,
    cross,
    dot,
    holds,
    minus,
    moved,
    right_of,
    shifted,
    then,
    unit,
)
from patternkit.rehearsal.table import Facet, OnTable, Sewn, Sheet

CLOSE = 1e-4
MEET = 1 / 64
"""Inches by which a unit may come out smaller than it is drawn, and still be sewn in."""


def field(bench: Bench, action: Field) -> None:
    """Cover a field with a piece, which must reach a seam beyond it, and sew it to what lies on the paper."""
    item = bench.item(action.part)
    bench.touched.add(action.part)
    paper = bench.room.papers.get(action.paper)
    done = bench.covered.setdefault(action.paper, [])
    if paper is None or not 0 <= action.field < len(paper.fields):
        raise slip("missing", item=item)
    own = next((n for n, h in enumerate(bench.hands) if action.part in h.parts), None)
    if own is None or action.part in done:
        raise slip("missing", item=item)
    fields = [tuple((float(x), float(y)) for x, y in f) for f in paper.fields]
    outline = tuple((float(x), float(y)) for x, y in paper.outline)
    _covers(bench, action.part, fields[action.field])
    on_paper = next((n for n, h in enumerate(bench.hands) if done and done[0] in h.parts), None)
    if (action.field > 0) == (on_paper is None) or action.field != len(done):
        raise slip("field")
    facet = _facet(action.part, fields[action.field], outline, bench.seam)
    laid = next(f for f in bench.hands[own].facets if f.part == action.part)
    by = minus(centroid(facet.ring), centroid(laid.ring))
    facet = msgspec.structs.replace(facet, place=then(laid.place, (1.0, 0.0, 0.0, 1.0, *by)))  # turned as it was taken
    if on_paper is None:
        bench.hands[own] = OnTable((Sheet((facet,)),))
    else:
        seam = _line(fields[action.field], fields[: action.field])
        sheet = bench.hands[on_paper].sheets[0]
        bench.hands[on_paper] = OnTable((Sheet((*sheet.facets, facet), (*sheet.seams, seam)),))
        del bench.hands[own]
    done.append(action.part)


def _covers(bench: Bench, part: int, ring: Ring) -> None:
    """Refuse a piece that can't be laid so that it reaches a seam beyond the field all round, however it is turned."""
    grown = shifted(ring, [-bench.seam] * len(ring))
    outline = bench.outline(part)
    slack = CLOSE if isinstance(bench.item(part), Piece) else MEET
    nearest = (0.0, 0.0)
    for i, a in enumerate(grown):
        way = unit(minus(grown[(i + 1) % len(grown)], a))
        box = _box(grown, way)
        for j, p in enumerate(outline):
            have = _box(outline, unit(minus(outline[(j + 1) % len(outline)], p)))
            if len(outline) == 4 and box[0] <= have[0] + slack and box[1] <= have[1] + slack:
                return
            if len(outline) != 4 and _fits(grown, outline, way, j):
                return
            lack = max(box[0] - have[0], box[1] - have[1])
            if nearest == (0.0, 0.0) or lack < nearest[0] - nearest[1]:
                nearest = max(((box[0], have[0]), (box[1], have[1])), key=lambda pair: pair[0] - pair[1])
    raise slip("cover", nearest[0], nearest[1], bench.item(part))


def _box(ring: Ring, way: XY) -> tuple[float, float]:
    xs, ys = [dot(p, way) for p in ring], [dot(p, right_of(way)) for p in ring]
    return max(xs) - min(xs), max(ys) - min(ys)


def _fits(ring: Ring, outline: Ring, way: XY, edge: int) -> bool:
    """Whether a field fits into a piece that is no rectangle, one edge along one of its edges."""
    a, b = outline[edge], outline[(edge + 1) % len(outline)]
    start = min(ring, key=lambda p: (round(cross(way, p), 6), dot(p, way)))
    for slide in (0.0, apart(a, b) - _box(ring, way)[0]):
        move = bringing(start, way, along(a, unit(minus(b, a)), slide), minus(b, a))
        if all(holds(outline, moved(move, p), CLOSE) for p in ring):
            return True
    return False


def _facet(part: int, ring: Ring, outline: Ring, seam: float) -> Facet:
    """What shows of a field, with a seam allowance where it lies along the paper's edge: trimmed to that, the piece has
    the edges of its field."""
    n = len(ring)
    outer = [_on(outline, ring[i], ring[(i + 1) % n]) for i in range(n)]
    grown = shifted(ring, [-seam if o else 0.0 for o in outer])
    labels: Labels = tuple(i if o else SEWN for i, o in enumerate(outer))
    for i, p in enumerate(outline):  # where a line ends in a corner of the paper both its edges are cut
        way = unit(minus(outline[(i + 1) % len(outline)], p))
        inner = right_of(way)
        grown, labels = clipped(grown, labels, along(p, inner, -seam), inner, CUT)
    return Facet(part, grown, labels, STAY)


def _on(outline: Ring, a: XY, b: XY) -> bool:
    """Whether an edge lies along one of an outline."""
    for i, p in enumerate(outline):
        q = outline[(i + 1) % len(outline)]
        way = unit(minus(q, p))
        if all(abs(cross(way, minus(r, p))) < CLOSE for r in (a, b)) and all(
            -CLOSE < dot(minus(r, p), way) < apart(p, q) + CLOSE for r in (a, b)
        ):
            return True
    return False


def _line(ring: Ring, before: list[Ring]) -> Sewn:
    """The printed line between a field and those before it, which must be one straight line."""
    points: list[XY] = []
    for i, a in enumerate(ring):
        b = ring[(i + 1) % len(ring)]
        way = unit(minus(b, a))
        for other in before:
            for j, p in enumerate(other):
                q = other[(j + 1) % len(other)]
                if max(abs(cross(way, minus(p, a))), abs(cross(way, minus(q, a)))) > CLOSE:
                    continue
                low, high = sorted((dot(minus(p, a), way), dot(minus(q, a), way)))
                low, high = max(low, 0.0), min(high, apart(a, b))
                if high - low > CLOSE:
                    points += [(a[0] + way[0] * t, a[1] + way[1] * t) for t in (low, high)]
    if not points:
        raise slip("field")
    way = unit(minus(max(points, key=lambda p: apart(p, points[0])), points[0]))
    if any(abs(cross(way, minus(p, points[0]))) > CLOSE for p in points):
        raise slip("field")
    points.sort(key=lambda p: dot(p, way))
    start, end = points[0], points[-1]
    side = 1 if dot(minus(centroid(ring), start), right_of(minus(end, start))) > 0 else -1
    return Sewn(start, end, side)


def tear_away(bench: Bench, action: TearAway) -> None:
    """The unit is trimmed to the paper's outer line: every field must be covered by then."""
    paper, done = bench.room.papers.get(action.paper), bench.covered.get(action.paper, [])
    if paper is None or len(done) != len(paper.fields):
        raise slip("missing")
    bench.trimmed.add(action.paper)
