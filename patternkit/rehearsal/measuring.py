"""What is measured while a unit is sewn."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.piecing.batch import Measure
from patternkit.rehearsal.bench import Bench
from patternkit.rehearsal.gaps import Gap, slip
from patternkit.rehearsal.laying import holder
from patternkit.rehearsal.plane import XY, along, apart, centroid, dot, middle, minus, right_of, spans, unit
from patternkit.rehearsal.table import OnTable, bounds, raw_edges
from patternkit.rehearsal.trimming import directions

OFF = 1 / 32 + 1e-6
IN_LINE = 1 / 16
"""Inches within which the middles of raw edges lie in one line."""
LEVEL = 0.999
"""The cosine of how far an edge may run aslant and still be one of two that are measured between."""


def size_beside(hands: Iterable[OnTable], width: float, height: float) -> tuple[float, float] | None:
    """Width and height between raw edges of what lies on the table and comes nearest to a size, laid so that it does;
    None where there are no raw edges."""
    found = []
    for hand in hands:
        for way in directions(hand):
            low, high = _between(hand, way)
            top, bottom = _between(hand, right_of(way))
            found.append((high - low, bottom - top))
    return min(found, key=lambda wh: max(abs(wh[0] - width), abs(wh[1] - height)), default=None)


def measure(bench: Bench, action: Measure) -> None:
    """Compare hands with the size told, and what their pieces show along a line."""
    found = False
    for part in action.parts:
        bench.item(part)
    only = None if action.holding is None else holder(bench, action.holding)
    for n, hand in enumerate(bench.hands):
        if hand.waste or hand.rest or not set(action.parts) <= hand.parts or only not in (None, n):
            continue
        if not action.parts and not any(s.seams for s in hand.sheets):
            continue
        if len(hand.sheets) > 1:
            raise slip("fold")
        found = True
        _measured(bench, hand, action)
    if not found:
        raise slip("missing")


def _measured(bench: Bench, hand: OnTable, action: Measure) -> None:
    w, h = float(action.width), float(action.height)
    laid = []
    for way in directions(hand):
        low, high = _between_middles(hand, way)
        top, bottom = _between_middles(hand, right_of(way))
        worst = max(abs(high - low - w), abs(bottom - top - h)) / OFF
        laid.append((worst, high - low, bottom - top, way))
    if not laid:
        raise slip("missing")
    off, wide, high, _ = min(laid)
    if off > 1:
        stated, out = max(((w, wide), (h, high)), key=lambda pair: abs(pair[0] - pair[1]))
        bench.gaps.append(Gap("told", stated=stated, out=out))
    elif action.shows:  # a square may lie either way
        found = [_shows(hand, action, way) for far, _, _, way in laid if far < off + 1e-6]
        if None not in found:
            bench.gaps += [gap for gap in found[:1] if gap is not None]


def _between(hand: OnTable, way: XY) -> tuple[float, float]:
    """Where the outermost raw edges lie that run square to a direction, as distances along it: tips that reach out
    beyond them are no edges. Where there are none, where the cloth ends."""
    edges = _square_edges(hand, way)
    found = [dot(p, way) for edge in edges for p in edge]
    if len(edges) > 1 and max(found) - min(found) > OFF:
        return min(found), max(found)
    low, high, _, _ = bounds(hand, way)
    return low, high


def _between_middles(hand: OnTable, way: XY) -> tuple[float, float]:
    """The same where a ruler is laid across: of outermost edges in one line, a little aslant as they may be, the
    middle."""
    found = [(dot(middle(a, b), way), apart(a, b)) for a, b in _square_edges(hand, way)]
    if len(found) < 2 or max(found)[0] - min(found)[0] < OFF:
        return _between(hand, way)
    ends = min(found)[0], max(found)[0]
    lines = [[(far, long) for far, long in found if abs(far - end) < IN_LINE] for end in ends]
    low, high = (sum(far * long for far, long in line) / sum(long for _, long in line) for line in lines)
    return low, high


def _square_edges(hand: OnTable, way: XY) -> list[tuple[XY, XY]]:
    """The raw edges that run square to a direction."""
    square = right_of(way)
    return [(a, b) for a, b in raw_edges(hand) if abs(dot(unit(minus(b, a)), square)) > LEVEL]


def _shows(hand: OnTable, action: Measure, way: XY) -> Gap | None:
    """What pieces show along some line across the hand must be what is told, from either end where it is turned."""
    line = right_of(way) if action.down else way
    stated = [float(x) for x in action.shows]
    nearest: tuple[float, float, float] | None = None
    for f in hand.facets:
        centre = centroid(f.ring)
        runs = sorted(t for g in hand.facets for t in spans(g.ring, along(centre, right_of(line), 1e-5), line))
        shown = [b - a for a, b in runs if b - a > 1e-3]
        for row in (shown, shown[::-1]):
            if len(row) != len(stated):
                continue
            off, want, have = max((abs(a - b), a, b) for a, b in zip(stated, row, strict=True))
            if nearest is None or off < nearest[0]:
                nearest = off, want, have
    if nearest is None:
        return Gap("shows", stated=len(stated), out=len(list(hand.facets)))
    return Gap("shows", stated=nearest[1], out=nearest[2]) if nearest[0] > OFF else None
