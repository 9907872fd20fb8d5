"""Rulers: pieces cut to measure, hands trimmed to a size or beyond their points."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, copysign, cos, degrees, radians, sin

import msgspec

from patternkit.piecing.batch import CutMeasured, Edge, TrimBeyond, TrimTo
from patternkit.rehearsal.bench import Bench
from patternkit.rehearsal.gaps import slip
from patternkit.rehearsal.laying import holder
from patternkit.rehearsal.plane import (
    CUT,
    SEWN,
    XY,
    Labels,
    Ring,
    along,
    apart,
    bearing,
    cross,
    dot,
    meeting,
    middle,
    minus,
    moved,
    right_of,
    shifted,
    turn_between,
    turning,
    unit,
)
from patternkit.rehearsal.table import (
    Facet,
    OnTable,
    Sewn,
    Sheet,
    bounds,
    edge_lines,
    joints,
    kept_line,
    raw_edges,
    stretches,
    under,
)

OFF = 1 / 32 + 1e-6
EVENED = 1 / 32
"""Inches within which points are said to lie in one line."""
EIGHTH = 22.5
"""Degrees halfway between level and a corner to corner line."""
LEANING = 0.5
"""Degrees from the direction of the raw edges within which a line through two points is the one they should have."""
ASLANT = 5
"""Degrees that a raw edge may run beside the one along which a width lies."""
SQUARE = 2
"""Degrees from 45 within which a square is laid by its raw edges: farther off it was cut from rectangles on purpose."""
TURNED = 35
"""Degrees by which a ruler is turned from raw edges at most, so that a seam lies where it should."""


def cut_measured(bench: Bench, action: CutMeasured) -> None:
    """Cut a plain piece that lies by itself to the length that was measured."""
    about = float(action.about)
    n = next((i for i, h in enumerate(bench.hands) if h.parts == {action.part}), None)
    if n is None or len(bench.outline(action.part)) != 4:
        raise slip("missing", item=bench.item(action.part))
    (facet,) = bench.hands[n].facets
    (wide, high), edge = (apart(facet.ring[k], facet.ring[k + 1]) for k in (0, 1)), action.edge
    along_x = wide > high if edge is None else edge % 2 == 0
    long = wide if along_x else high
    if long < about - OFF:
        raise slip("no cloth", about, long)
    bench.touched.add(action.part)
    x, y = (about, high) if along_x else (wide, about)
    ring = tuple(moved(facet.place, p) for p in ((0.0, 0.0), (x, 0.0), (x, y), (0.0, y)))
    bench.hands[n] = OnTable((Sheet((Facet(action.part, ring, facet.labels, facet.place),)),))


# -- trimming to a size -----------------------------------------------------------------------------------
def trim_to(bench: Bench, action: TrimTo) -> None:
    """Trim hands to a rectangle."""
    for part in action.parts:
        bench.item(part)
    found, only = False, None if action.holding is None else holder(bench, action.holding)
    for n, hand in enumerate(bench.hands):
        if hand.waste or hand.rest or not set(action.parts) <= hand.parts or not _worked(hand):
            continue
        if only not in (None, n):
            continue
        if len(hand.sheets) > 1:
            raise slip("fold")
        bench.hands[n], found = _trimmed(bench, hand, action), True
    if not found:
        raise slip("missing")


def _worked(hand: OnTable) -> bool:
    """Whether something was sewn in it: what still lies as it was taken is not trimmed."""
    return any(not s.inner for sheet in hand.sheets for s in sheet.seams) or len(hand.parts) > 1


Frame = tuple[XY, XY]  # the middle of a rectangle, the direction of its width


def _trimmed(bench: Bench, hand: OnTable, action: TrimTo) -> OnTable:
    """A hand trimmed to the rectangle of the right size that lies best, as `way` says."""
    w, h = float(action.width), float(action.height)
    best: tuple[float, Frame] | None = None
    for frame in _frames(bench, hand, action, w, h):
        lacks = _lacks(hand, frame, w, h)
        if best is None or lacks < best[0] - 1e-6:
            best = lacks, frame
    if best is None:
        raise slip("point", bench.seam, 0.0)
    lacks, (centre, way) = best
    if lacks > OFF:
        low, high, top, bottom = bounds(hand, way)
        stated, have = min(((w, high - low), (h, bottom - top)), key=lambda pair: pair[1] - pair[0])
        raise slip("no cloth", stated, min(have, stated - lacks))
    low, high, top, bottom = bounds(hand, way)
    for side, stated, have in (("width", w, high - low), ("height", h, bottom - top)):
        if action.kept == side and abs(have - stated) > OFF:
            raise slip("told", stated, have)
    wide, tall = (high - low if action.kept == "width" else w), (bottom - top if action.kept == "height" else h)
    return rectangle_of(hand, centre, way, wide, tall)


def rectangle_of(hand: OnTable, centre: XY, way: XY, w: float, h: float) -> OnTable:
    """A hand cut to a rectangle; edges that are trimmed keep their numbers."""
    square = right_of(way)
    for inner, far in ((way, w), ((-way[0], -way[1]), w), (square, h), ((-square[0], -square[1]), h)):
        hand = cut_edge(hand, along(centre, inner, -far / 2), inner)
    return hand


def cut_edge(hand: OnTable, p: XY, inner: XY) -> OnTable:
    """A hand trimmed along a line; the new edges keep the numbers of those that they replace."""
    sheets = []
    for sheet in hand.sheets:
        facets = []
        for f in sheet.facets:
            label = _replaced(f, p, inner)
            ring, labels = _kept_ring(f, p, inner, label)
            if ring:
                facets.append(f if ring is f.ring else Facet(f.part, ring, labels, f.place))
        seams: list[Sewn] = []
        for s in sheet.seams:
            line = kept_line(s.start, s.end, p, inner)
            if line is not None:
                seams.append(msgspec.structs.replace(s, start=line[0], end=line[1]))
        sheets.append(Sheet(tuple(facets), tuple(seams)))
    return msgspec.structs.replace(hand, sheets=tuple(sheets))


def _kept_ring(f: Facet, p: XY, inner: XY, label: int) -> tuple[Ring, Labels]:
    from patternkit.rehearsal.plane import clipped

    return clipped(f.ring, f.labels, p, inner, label)


def _replaced(f: Facet, p: XY, inner: XY) -> int:
    """The number of the raw edge that a trimming line takes away and runs along."""
    n = len(f.ring)
    for i, label in enumerate(f.labels):
        a, b = f.ring[i], f.ring[(i + 1) % n]
        way = unit(minus(b, a))
        if label != SEWN and dot(right_of(way), inner) > 0.999 and dot(minus(a, p), inner) < 1e-6:
            return label
    return CUT


def _frames(bench: Bench, hand: OnTable, action: TrimTo, w: float, h: float) -> Iterator[Frame]:
    """Where the rectangle may lie, the likeliest first."""
    ways = directions(hand)
    if action.along is not None:
        runs = _runs(bench, hand, action.along)
        ways = [way for way in ways if turn_between(bearing(way), runs, 180) < ASLANT]
    if action.way == "even":
        for way in ways:
            low, high, top, bottom = bounds(hand, way)
            yield _spot(way, (low + high) / 2, (top + bottom) / 2), way
        return
    seams = [s for s in hand.sheets[0].seams if not s.curve]
    own = [s for s in seams if not s.inner] or seams
    if not own:
        raise slip("missing")
    if action.way == "diagonal":
        long = max(own, key=lambda s: apart(s.start, s.end))
        slope, runs = bearing((w - 2 * bench.seam, h - 2 * bench.seam)), bearing(minus(long.end, long.start))
        # raw edges of a halved rectangle do not run as the trimmed ones do: the ruler is laid to the seam
        turns = [((runs - lean - bearing(way) + 90) % 180 - 90, way) for way in ways for lean in (slope, -slope)]
        least = min((abs(off) for off, _ in turns), default=TURNED)
        for off, way in turns:
            if abs(off) < min(least + 2, TURNED):
                yield middle(long.start, long.end), moved(turning(off if w != h or abs(off) > SQUARE else 0.0), way)
        return
    points = crossings(own)
    if not points:
        raise slip("missing")
    if action.way == "cross":
        for way in ways:
            low, high, top, bottom = bounds(hand, way)
            about = _spot(way, (low + high) / 2, (top + bottom) / 2)
            yield min(points, key=lambda p: apart(p, about)), way
    elif action.way == "point":
        for way in [*_symmetric(points, own), *ways]:
            for p in points:
                yield along(p, right_of(way), h / 2 - bench.seam), way
    else:
        for way in ways:
            xs, ys = [dot(p, way) for p in points], [dot(p, right_of(way)) for p in points]
            wide, high = max(xs) - min(xs), max(ys) - min(ys)
            if max(wide + 2 * bench.seam - w, high + 2 * bench.seam - h) < 2 * OFF:
                yield _spot(way, (max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2), way


def _runs(bench: Bench, hand: OnTable, edge: Edge) -> float:
    """The direction of an edge of a part as it was cut, where the part lies now."""
    outline = bench.outline(edge.part)
    facet = next((f for f in hand.facets if f.part == edge.part), None)
    if facet is None:
        raise slip("missing", item=bench.item(edge.part))
    bench.touched.add(edge.part)
    a, b = (moved(facet.place, outline[k % len(outline)]) for k in (edge.n, edge.n + 1))
    return bearing(minus(b, a))


def _symmetric(points: list[XY], seams: list[Sewn]) -> Iterator[XY]:
    """The directions in which two seams that meet in a point run into both lower corners alike."""
    for p in points:
        met = [s for s in seams if _near(p, s)]
        if len(met) == 2:
            down = [unit(minus(max((s.start, s.end), key=lambda q: apart(p, q)), p)) for s in met]
            middle_way = unit((down[0][0] + down[1][0], down[0][1] + down[1][1]))
            yield middle_way[1], -middle_way[0]


def _spot(way: XY, x: float, y: float) -> XY:
    return along(along((0.0, 0.0), way, x), right_of(way), y)


def directions(hand: OnTable) -> list[XY]:
    """The directions of raw edges, those of most edge first, each with its three quarter turns, level ones before
    others."""
    found: list[list[float]] = []
    for a, b in raw_edges(hand):
        at, long = bearing(minus(b, a)) % 90, apart(a, b)
        for entry in found:
            if turn_between(entry[0], at, 90) < 0.2:
                entry[1] += long
                break
        else:
            found.append([at, long])
    found.sort(key=lambda e: -e[1])
    ways = []
    for at, _ in found[:6]:
        at = at if at < 89.9 else 0.0
        quarter = [moved(turning(at + q), (1.0, 0.0)) for q in (0, 90, 180, 270)]
        ways += sorted(quarter, key=lambda v: -v[0])
    return ways


_GAP = 1e-3  # inches: ends of seams that lie closer meet


def crossings(seams: list[Sewn]) -> list[XY]:
    """Where seams meet or cross. Seams are met from the left, and each is held against those that reach so far only."""
    found: dict[tuple[int, int], XY] = {}
    begun: list[Sewn] = []
    for s in sorted(seams, key=lambda x: (min(x.start[0], x.end[0]), x.start, x.end)):
        left, (low, high) = min(s.start[0], s.end[0]) - _GAP, sorted((s.start[1], s.end[1]))
        begun = [t for t in begun if max(t.start[0], t.end[0]) >= left]
        v = minus(s.end, s.start)
        for t in begun:
            if max(t.start[1], t.end[1]) < low - _GAP or min(t.start[1], t.end[1]) > high + _GAP:
                continue
            w = minus(t.end, t.start)
            at = meeting(s.start, v, t.start, w)
            if at is None or abs(cross(unit(v), unit(w))) < 0.05 or not (_near(at, s) and _near(at, t)):
                continue
            cell = round(at[0] / _GAP), round(at[1] / _GAP)
            beside = [(cell[0] + x, cell[1] + y) for x in (-1, 0, 1) for y in (-1, 0, 1)]
            if all(c not in found or apart(at, found[c]) > _GAP for c in beside):
                found[cell] = at
        begun.append(s)
    return list(found.values())


def _near(p: XY, s: Sewn) -> bool:
    way, far = unit(minus(s.end, s.start)), apart(s.start, s.end)
    return -_GAP < dot(minus(p, s.start), way) < far + _GAP


def _on_seam(p: XY, s: Sewn) -> bool:
    way = unit(minus(s.end, s.start))
    return _near(p, s) and abs(cross(way, minus(p, s.start))) < _GAP


def _lacks(hand: OnTable, frame: Frame, w: float, h: float) -> float:
    """How far the rectangle reaches beyond the cloth, at its corners and along its edges."""
    centre, way = frame
    square, sheet, worst = right_of(way), hand.sheets[0], 0.0
    for x, y in ((a, b) for a in (-1, -0.5, 0, 0.5, 1) for b in (-1, -0.5, 0, 0.5, 1) if max(abs(a), abs(b)) == 1):
        p = along(along(centre, way, x * w / 2), square, y * h / 2)
        if under(sheet, p, 1e-3) is not None:
            continue
        inside = unit(minus(centre, p))
        runs = stretches(sheet, p, inside)
        near = min((r[0] for r in runs if r[0] > 0), default=max(w, h))
        worst = max(worst, near * max(abs(dot(inside, way)), abs(dot(inside, square))))
    return worst


# -- trimming beyond points -------------------------------------------------------------------------------
def trim_beyond(bench: Bench, action: TrimBeyond) -> None:
    """Trim raw edges so far outside the points where seams meet."""
    n = next((i for i, h in enumerate(bench.hands) if not h.waste and not h.rest and _worked(h)), None)
    if action.edges:
        for e in action.edges:
            bench.item(e.part)
        n = bench.with_edges(action.edges[:1])
    elif action.of is not None:
        n = next((i for i, h in enumerate(bench.hands) if action.of in h.parts), None)
    if n is None:
        raise slip("missing")
    hand = bench.hands[n]
    if len(hand.sheets) > 1:
        raise slip("fold")
    points = crossings(joints(hand.sheets[0].seams)) if action.of is None else _points_of(bench, hand, action.of)
    if action.through:  # what is sewn in whole at the edge has joints of its own, beyond the cut
        own = [s for s in hand.sheets[0].seams if not s.inner]
        points = [p for p in points if any(_on_seam(p, s) for s in own)]
    if not points:
        raise slip("missing")
    outers: list[XY] = []
    if action.edges:
        for e in action.edges:
            for a, b in edge_lines(hand, e.part, e.n):
                way = right_of(unit(minus(b, a)))
                outers.append((-way[0], -way[1]))
    else:
        level = _level(hand, action.of, points if action.of is not None else [], aslant=action.through > 0)
        outers = [moved(turning(q), level) for q in (0, 90, 180, 270)]
    done: list[XY] = []
    for outer in outers:
        if any(dot(outer, d) > 0.9999 for d in done):
            continue
        done.append(outer)
        beyond = float(action.beyond if action.ends is None or abs(outer[1]) < abs(outer[0]) else action.ends)
        line = _outermost([dot(p, outer) for p in points]) + beyond
        edge = max(dot(p, outer) for f in hand.facets for p in f.ring)
        if edge < line - OFF:
            raise slip("no cloth", beyond, edge - line + beyond)
        hand = cut_edge(hand, along((0.0, 0.0), outer, line), (-outer[0], -outer[1]))
    bench.hands[n] = hand


def _outermost(far: list[float]) -> float:
    """Where the ruler is laid: along the outermost points, evened out where some reach a hair farther than others."""
    most = max(far)
    along_it = [f for f in far if f > most - EVENED]
    return sum(along_it) / len(along_it)


def _points_of(bench: Bench, hand: OnTable, part: int) -> list[XY]:
    """The corners of a part, a seam inside those edges that are raw."""
    bench.item(part)
    bench.touched.add(part)
    facet = next((f for f in hand.facets if f.part == part), None)
    if facet is None:
        raise slip("missing", item=bench.item(part))
    shape = bench.shapes[part]
    if not shape.tips and len(facet.ring) < len(shape.outline):  # nothing shows of an edge between two seams
        return [moved(facet.place, p) for p in shifted(shape.outline, [bench.seam] * len(shape.outline))]
    return list(shifted(facet.ring, [0.0 if label == SEWN else bench.seam for label in facet.labels]))


def _level(hand: OnTable, part: int | None, points: list[XY], *, aslant: bool = False) -> XY:
    """The direction of the longest raw edge of a part, where it has one: the ruler is laid along it. Else that along
    which raw edges run, or square to which they do, those a little aslant evened out: triangles that were cut by the
    ruler lie so around a kite; level or upright, where they run `aslant`. Two points of the part that lie in that
    direction are what the ruler is squared to."""
    own = [
        (apart(f.ring[i], f.ring[(i + 1) % len(f.ring)]), minus(f.ring[(i + 1) % len(f.ring)], f.ring[i]))
        for f in hand.facets
        if f.part == part
        for i, label in enumerate(f.labels)
        if label >= 0
    ]
    if own:
        return unit(max(own)[1])
    x = y = 0.0
    for a, b in raw_edges(hand):
        turn = 4 * radians(bearing(minus(b, a)))  # a quarter turn changes nothing
        x, y = x + apart(a, b) * cos(turn), y + apart(a, b) * sin(turn)
    found = degrees(atan2(y, x)) / 4
    if aslant and abs(found) > EIGHTH:
        found -= copysign(2 * EIGHTH, found)
    turns = [(bearing(minus(q, p)) - found + 45) % 90 - 45 for i, p in enumerate(points) for q in points[:i]]
    nearest = min(turns, key=abs, default=LEANING)
    return moved(turning(found + (nearest if abs(nearest) < LEANING else 0.0)), (1.0, 0.0))
