"""Strip units sewn to a tube, and rings of a tube that are opened at a seam.

On the table a tube lies flat, as if it were still open where it was closed last; `OnTable.tube` says which edges are
sewn there. A ring that is opened elsewhere has what lay before that seam moved on behind its last strip.
"""

from __future__ import annotations

import msgspec

from patternkit.piecing.batch import CloseTube, Edge, OpenRing
from patternkit.rehearsal.bench import Bench
from patternkit.rehearsal.gaps import slip
from patternkit.rehearsal.plane import SEWN, XY, Move, along, centroid, clipped, dot, minus, moved, right_of, then, unit
from patternkit.rehearsal.table import Facet, OnTable, Sewn, Sheet, edge_lines

NEAR = 1e-5


def close_tube(bench: Bench, action: CloseTube) -> None:
    """Sew the last strip of a strip unit to its first."""
    n = bench.with_edges((action.left, action.right))
    hand = bench.hands[n]
    if len(hand.sheets) > 1:
        raise slip("fold")
    longs = [sum(abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in edge_lines(hand, e.part, e.n))
             for e in (action.left, action.right)]  # fmt: skip
    if abs(longs[0] - longs[1]) > NEAR:
        raise slip("edges", longs[0], longs[1])
    bench.hands[n] = msgspec.structs.replace(hand, tube=(action.left, action.right))


def open_ring(bench: Bench, action: OpenRing) -> None:
    """Open every closed ring at a seam."""
    found = False
    for n, hand in enumerate(bench.hands):
        if hand.tube is None or hand.rest or hand.waste:
            continue
        found = True
        bench.touched |= {action.left.part, action.right.part}
        down = right_of(_along(bench, hand, hand.tube[1]))
        flat = _opened(bench, hand, hand.tube, action, down)
        bench.hands[n] = _pressed(flat, action.toward, down)
    if not found:
        raise slip("missing", item=bench.item(action.left.part))


def _opened(bench: Bench, hand: OnTable, tube: tuple[Edge, Edge], action: OpenRing, down: XY) -> OnTable:
    """A ring laid flat, open where it is told; `down` runs from strip to strip."""
    left, right = action.left, action.right
    if (left, right) == tube:
        return msgspec.structs.replace(hand, tube=None)
    s, way = bench.seam, (down[1], -down[0])

    def depth(p: XY) -> float:
        return dot(p, down)

    by_part = {f.part: f for f in hand.facets}
    if left.part not in by_part or right.part not in by_part:
        raise slip("missing", item=bench.item(left.part))
    at = max(depth(p) for p in by_part[left.part].ring)
    if abs(min(depth(p) for p in by_part[right.part].ring) - at) > NEAR:
        raise slip("missing", item=bench.item(right.part))
    foot, top = (pick(depth(p) for f in hand.facets for p in f.ring) for pick in (max, min))
    shift: Move = (1.0, 0.0, 0.0, 1.0, down[0] * (foot - top - 2 * s), down[1] * (foot - top - 2 * s))
    line, begin = along((0.0, 0.0), down, foot - s), along((0.0, 0.0), down, top + s)
    facets, seams = list[Facet](), list[Sewn]()
    for f in hand.facets:
        if depth(centroid(f.ring)) < at:  # lay before the seam that is undone
            ring, labels = clipped(f.ring, f.labels, begin, down, SEWN)
            ring, labels = _raw_again(ring, labels, down, at, s, left.n)
            facets.append(Facet(f.part, tuple(moved(shift, p) for p in ring), labels, then(f.place, shift)))
        else:
            ring, labels = clipped(f.ring, f.labels, line, (-down[0], -down[1]), SEWN)
            ring, labels = _raw_again(ring, labels, down, at, -s, right.n)
            facets.append(Facet(f.part, ring, labels, f.place))
    for seam in hand.sheets[0].seams:
        deep = depth(seam.start)
        if abs(deep - at) > NEAR:
            move = shift if deep < at else (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
            seams.append(msgspec.structs.replace(seam, start=moved(move, seam.start), end=moved(move, seam.end)))
    ends = [dot(p, way) for p in by_part[tube[0].part].ring]
    start, end = along(line, way, min(ends)), along(line, way, max(ends))
    seams.append(Sewn(start, end, by=bench.now))
    return OnTable((Sheet(tuple(facets), tuple(seams)),))


def _pressed(hand: OnTable, toward: tuple[int, ...], down: XY) -> OnTable:
    """A segment with its seams pressed anew, from the first to the last."""
    seams = sorted(hand.sheets[0].seams, key=lambda s: dot(s.start, down))
    parts = [f.part for f in sorted(hand.facets, key=lambda f: dot(centroid(f.ring), down))]
    if len(toward) != len(seams):
        raise slip("missing")
    found = []
    for n, (seam, part) in enumerate(zip(seams, toward, strict=True)):
        walked = dot(right_of(minus(seam.end, seam.start)), down) > 0  # the lower part lies to the right as walked
        lower = {parts[n]: False, parts[n + 1]: True}.get(part)
        side = 0 if lower is None else 1 if lower == walked else -1
        found.append(msgspec.structs.replace(seam, side=side))
    return OnTable((Sheet(hand.sheets[0].facets, tuple(found)),))


def _along(bench: Bench, hand: OnTable, first: Edge) -> XY:
    """The direction of the strips, along the raw edge of the first."""
    facet = next(f for f in hand.facets if f.part == first.part)
    outline = bench.outline(first.part)
    a, b = outline[first.n], outline[(first.n + 1) % len(outline)]
    return unit(minus(moved(facet.place, b), moved(facet.place, a)))


def _raw_again(
    ring: tuple[XY, ...], labels: tuple[int, ...], down: XY, at: float, by: float, label: int
) -> tuple[tuple[XY, ...], tuple[int, ...]]:
    """A facet with the allowance that was sewn in along a line: it shows again, and its edge is raw."""
    on = [abs(dot(p, down) - at) < NEAR for p in ring]
    out = tuple(along(p, down, by) if there else p for p, there in zip(ring, on, strict=True))
    n = len(ring)
    names = tuple(label if on[i] and on[(i + 1) % n] else labels[i] for i in range(n))
    return out, names
