"""Shapes and strips laid on a ground: their edges turned under, their place measured from the ground's raw edges."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, cos, pi, sin

import msgspec

from patternkit.piecing.batch import LayOn, LayStrip, Piece
from patternkit.piecing.making import reversed_ring
from patternkit.rehearsal.bench import Bench, ring_of
from patternkit.rehearsal.gaps import slip
from patternkit.rehearsal.plane import (
    SEWN,
    XY,
    Ring,
    apart,
    clipped,
    cross,
    dot,
    hull,
    minus,
    moved,
    right_of,
    shifted,
    unit,
)
from patternkit.rehearsal.table import Facet, OnTable, Sheet, bounds

RIGHT: XY = (1.0, 0.0)
NEAR = 1 / 64
"""Inches by which a template's seam line may lie off where its edge comes to lie once it is turned under."""
LONGER = 1 / 4
"""Inches by which a strip may be longer than it need be: what a ruler's lines and the thickness of the fold take."""
STEP = pi / 90


def lay_on(bench: Bench, action: LayOn) -> None:
    """Lay a shape on a hand. What shows of it is its finished outline: of a template its seam line, which must lie just
    so far inside as is turned under; of a sewn unit what lies inside its allowance."""
    facet, onto = _taken(bench, action.part, action.onto)
    own, turned = bench.outline(action.part), float(action.turned)
    if isinstance(bench.item(action.part), Piece):
        own = _seam_line(bench, action.part, own)
        off = sorted(_off(p, bench.outline(action.part)) for p in own)
        if abs(off[0] - turned) > NEAR or off[-1] > 2 * turned + NEAR:  # in a notch there is more
            bench.miss("size", turned, off[0] if abs(off[0] - turned) > NEAR else off[-1])
    elif turned:
        own = shifted(own, [turned] * len(own))
    shows = tuple(moved(facet.place, p) for p in own)
    middle = moved(facet.place, _middle(own))
    left, _, top, _ = bounds(bench.hands[onto], RIGHT)
    by = (left + float(action.across) - middle[0], top + float(action.down) - middle[1])
    ring = tuple((x + by[0], y + by[1]) for x, y in shows)
    a, b, c, d, x, y = facet.place
    _put(bench, action.part, onto, ring, (a, b, c, d, x + by[0], y + by[1]))


def lay_strip(bench: Bench, action: LayStrip) -> None:
    """Lay a strip along a line or an arc; its length is held against that of its middle line."""
    facet, onto = _taken(bench, action.part, action.onto)
    sides = sorted(apart(facet.ring[i - 1], p) for i, p in enumerate(facet.ring))
    if len(sides) != 4:
        raise slip("missing", item=bench.item(action.part))
    wide, long = sides[0], sides[-1]
    left, _, top, _ = bounds(bench.hands[onto], RIGHT)
    points = [(left + float(p[0]), top + float(p[1])) for p in (action.start, action.end)]
    about = (left + float(action.about[0]), top + float(action.about[1])) if action.about is not None else None
    path = _arc(points[0], points[1], about, action.reversed) if about is not None else points
    turned, needs = float(action.turned), _length(path)
    ends = [(path[0], unit(minus(path[0], path[1]))), (path[-1], unit(minus(path[-1], path[-2])))]
    reach = [0.0, 0.0]
    for n, (at, way) in enumerate(ends):
        reach[n] = _to_edge(bench.hands[onto], at, way, wide / 2 - turned) if action.caught[n] else 0.0
    needs += sum(r or turned for r in reach)
    more = LONGER + (wide if any(action.caught) else 0.0)  # in a corner an end runs beyond both edges
    if not needs - NEAR <= long <= needs + more:
        bench.miss("size", needs, long)
    for n, (at, way) in enumerate(ends):
        out = (at[0] + way[0] * reach[n], at[1] + way[1] * reach[n])
        path = ([out, *path] if n == 0 else [*path, out]) if reach[n] else path
    shows = _band(path, wide - 2 * turned)
    if any(action.caught):  # what hangs over the raw edge is cut off
        shows = _within(shows, hull(p for f in bench.hands[onto].facets for p in f.ring))
    _put(bench, action.part, onto, shows, facet.place)


def _taken(bench: Bench, part: int, onto: int) -> tuple[Facet, int]:
    """The one facet of what is laid on, and the number of the hand that it is laid on."""
    for n in (part, onto):
        bench.item(n)
        bench.touched.add(n)
    hands = [h for h in bench.hands if not h.waste and part in h.parts]
    below = next((n for n, h in enumerate(bench.hands) if not h.waste and onto in h.parts), None)
    if below is None or not hands or onto in hands[0].parts or len(hands[0].sheets) > 1:
        raise slip("missing", item=bench.item(part))
    facets = list(hands[0].facets)
    if len(facets) != 1 or len(bench.hands[below].sheets) > 1 or not facets[0].up:
        raise slip("fold")
    return facets[0], below


def _seam_line(bench: Bench, part: int, outline: Ring) -> Ring:
    """The line of a template along which its edge is turned under; its outline for any other piece."""
    item = bench.item(part)
    template = bench.room.templates.get(item.template) if isinstance(item, Piece) else None
    if template is None or not template.sewn:
        return outline
    ring = ring_of(template.sewn)
    return reversed_ring(ring) if isinstance(item, Piece) and item.reversed else ring


def _off(p: XY, ring: Ring) -> float:
    """How far a point lies from a ring."""
    return min(_from_stretch(p, ring[i - 1], q) for i, q in enumerate(ring))


def _from_stretch(p: XY, a: XY, b: XY) -> float:
    way = minus(b, a)
    t = max(0.0, min(1.0, dot(minus(p, a), way) / max(dot(way, way), 1e-18)))
    return apart(p, (a[0] + way[0] * t, a[1] + way[1] * t))


def _middle(ring: Ring) -> XY:
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _put(bench: Bench, part: int, onto: int, ring: Ring, place: tuple[float, ...]) -> None:
    """The hand below with a facet more, over all others."""
    facet = Facet(part, ring, (SEWN,) * len(ring), place)  # type: ignore[arg-type]
    below = bench.hands[onto]
    sheet = below.sheets[0]
    bench.hands[onto] = msgspec.structs.replace(below, sheets=(Sheet((*sheet.facets, facet), sheet.seams),))
    bench.lines += [(onto, ring[i - 1], p) for i, p in enumerate(ring)]
    bench.hands[:] = [h for n, h in enumerate(bench.hands) if n == onto or part not in h.parts]


# -- strips -----------------------------------------------------------------------------------------------
def _arc(a: XY, b: XY, about: XY, other_way: bool) -> list[XY]:
    """Points of the shorter arc from one point to another; of a half circle clockwise, or the other way."""
    radius, start = apart(a, about), atan2(a[1] - about[1], a[0] - about[0])
    turn = (atan2(b[1] - about[1], b[0] - about[0]) - start) % (2 * pi)
    half = abs(turn - pi) < 1e-6
    if (turn > pi and not half) or (half and other_way):
        turn -= 2 * pi
    n = max(8, int(abs(turn) / STEP) + 1)
    return [
        (about[0] + radius * cos(start + turn * i / n), about[1] + radius * sin(start + turn * i / n))
        for i in range(n + 1)
    ]


def _within(ring: Ring, window: Ring) -> Ring:
    """What of a ring lies in a convex one."""
    labels = (SEWN,) * len(ring)
    for i, p in enumerate(window):
        way = unit(minus(window[(i + 1) % len(window)], p))
        ring, labels = clipped(ring, labels, p, right_of(way), SEWN)
    return ring


def _length(path: Sequence[XY]) -> float:
    return sum(apart(a, b) for a, b in pairwise(path))


def _to_edge(hand: OnTable, at: XY, way: XY, half: float) -> float:
    """How far a strip runs on from a point until both of its corners lie on or outside the raw edge."""
    far = 0.0
    for side in (half, -half):
        p = (at[0] - way[1] * side, at[1] + way[0] * side)
        for f in hand.facets:
            for i, q in enumerate(f.ring):
                if f.labels[i] == SEWN:
                    continue
                edge = minus(f.ring[(i + 1) % len(f.ring)], q)
                lean = cross(way, edge)
                if abs(lean) < 1e-9:
                    continue
                t, u = cross(minus(q, p), edge) / lean, cross(minus(q, p), way) / lean
                if t > 0 and -0.05 <= u <= 1.05:
                    far = max(far, t)
    return far


def _band(path: Sequence[XY], wide: float) -> Ring:
    """The outline of a strip so wide along a path, clockwise as it lies."""
    left: list[XY] = []
    right: list[XY] = []
    for n, p in enumerate(path):
        before, after = path[max(0, n - 1)], path[min(len(path) - 1, n + 1)]
        x, y = unit(minus(after, before))
        left.append((p[0] + y * wide / 2, p[1] - x * wide / 2))
        right.append((p[0] - y * wide / 2, p[1] + x * wide / 2))
    return (*left, *reversed(right))
