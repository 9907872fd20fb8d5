"""Mitred corners: two strips that cross at a corner, sewn from where their seams end to the outer corner."""

from __future__ import annotations

from patternkit.piecing.batch import OPEN, Mitre
from patternkit.rehearsal.bench import Bench
from patternkit.rehearsal.gaps import slip
from patternkit.rehearsal.plane import SEWN, XY, apart, centroid, clipped, cross, dot, meeting, minus, right_of, unit
from patternkit.rehearsal.table import Facet, OnTable, Sewn, Sheet


def mitre(bench: Bench, action: Mitre) -> None:
    """Sew two strips that cross at a corner along the line from where their seams end to the outer corner."""
    bench.item(action.left)
    bench.item(action.right)
    bench.touched |= {action.left, action.right}
    n = next((i for i, h in enumerate(bench.hands) if {action.left, action.right} <= h.parts), None)
    if n is None:
        raise slip("missing", item=bench.item(action.left))
    sheet = bench.hands[n].sheets[0]
    first = next(f for f in sheet.facets if f.part == action.left)
    second = next(f for f in sheet.facets if f.part == action.right)
    seams = [_seam_of(f) for f in (first, second)]
    if seams[0] is None or seams[1] is None:
        raise slip("loose")
    (p, v), (q, w) = seams[0], seams[1]
    inside = meeting(p, v, q, w)
    if inside is None:
        raise slip("loose")
    outs = [_far_line(f, p, v) for f, (p, v) in ((first, (p, v)), (second, (q, w)))]
    outside = meeting(outs[0][0], outs[0][1], outs[1][0], outs[1][1])
    if outside is None:
        raise slip("loose")
    way = unit(minus(outside, inside))
    s = bench.seam
    facets = list(sheet.facets)
    for f in (first, second):  # the outer raw edge must reach a seam beyond the mitre
        body = centroid(f.ring)
        inner = right_of(way) if dot(minus(body, inside), right_of(way)) > 0 else right_of((-way[0], -way[1]))
        far = _far_line(f, *((p, v) if f is first else (q, w)))
        edge = [r for r in f.ring if abs(cross(far[1], minus(r, far[0]))) < 1e-4]
        have = min(dot(minus(r, inside), inner) for r in edge)
        if have > -s + 1e-3:
            raise slip("edges", s, -have)
        ring, labels = clipped(f.ring, f.labels, inside, inner, SEWN)
        facets[facets.index(f)] = Facet(f.part, ring, labels, f.place)
    side = 0
    if action.toward != OPEN:
        f = first if action.toward == action.left else second
        side = 1 if dot(minus(centroid(f.ring), inside), right_of(way)) > 0 else -1
    bench.lines.append((n, inside, outside))
    bench.hands[n] = OnTable((Sheet(tuple(facets), (*sheet.seams, Sewn(inside, outside, side))),))


def _seam_of(f: Facet) -> tuple[XY, XY] | None:
    """A point and the direction of the seam that joins a strip to what it goes round: its longest sewn edge of those
    that run as its outer raw edge does, not the mitre at its other end."""
    edges = [(label == SEWN, f.ring[i], f.ring[(i + 1) % len(f.ring)]) for i, label in enumerate(f.labels)]
    raw = max((minus(b, a) for sewn, a, b in edges if not sewn), key=lambda way: dot(way, way), default=None)
    if raw is None:
        return None
    found = [(apart(a, b), a, b) for sewn, a, b in edges if sewn and abs(cross(unit(raw), unit(minus(b, a)))) < 1e-3]
    if not found:
        return None
    _, a, b = max(found)
    return a, unit(minus(b, a))


def _far_line(f: Facet, p: XY, way: XY) -> tuple[XY, XY]:
    """The outer raw edge of a strip, parallel to its seam."""
    return max(f.ring, key=lambda r: abs(cross(way, minus(r, p)))), way
