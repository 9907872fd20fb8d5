"""Joints: seams that run into a seam from both sides, and whether their allowances lie opposite each other."""

from __future__ import annotations

from patternkit.piecing.batch import Join
from patternkit.rehearsal.bench import Bench
from patternkit.rehearsal.plane import XY, along, apart, dot, minus, right_of, unit
from patternkit.rehearsal.table import OnTable

PLACE = 1 / 32 + 1e-6


def count_locks(bench: Bench, hand: OnTable, laid: OnTable, start: XY, end: XY, action: Join) -> None:
    """Count the seams that end here on both sides with their allowances on opposite sides."""
    if action.locks is None:
        return
    way = unit(minus(end, start))
    here, there = (_crossings(h, start, way, apart(start, end)) for h in (hand, laid))
    found = 0
    for t, side in here:
        for u, other in there:
            if abs(t - u) < PLACE and side * other < 0:
                found += 1
                break
    if found != action.locks:
        bench.miss("locks", action.locks, found)


def _crossings(hand: OnTable, start: XY, way: XY, far: float) -> list[tuple[float, int]]:
    """Where seams run into a line of stitches, and to which way along it their allowances lie (0: open)."""
    found = []
    for s in hand.sheets[0].seams:
        square = right_of(way)
        da, db = dot(minus(s.start, start), square), dot(minus(s.end, start), square)
        if (da < 1e-3) == (db < 1e-3) and min(abs(da), abs(db)) > 1e-3:
            continue
        if abs(da - db) < 1e-6:
            continue
        t = dot(minus(along(s.start, minus(s.end, s.start), da / (da - db)), start), way)
        if 1e-3 < t < far - 1e-3:
            lies = right_of(unit(minus(s.end, s.start)))
            side = s.side * (1 if dot(lies, way) > 0 else -1)
            if s.spun and apart(s.start, along(start, way, t)) < apart(s.end, along(start, way, t)):
                side = -side
            found.append((t, side))
    return found
