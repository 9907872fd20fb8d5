"""Designs laid on a hand by the seams in both: where raw edges are only the chords of arcs, or reach out unevenly."""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.rehearsal.drawn import Drawn
from patternkit.rehearsal.plane import XY, Move, bearing, cross, dot, minus, moved, turn_between, turning, unit
from patternkit.rehearsal.table import OnTable

SHORT_CHORD = 1 / 4
"""Inches: an outline of which every edge is shorter has chords of arcs alone, which tell nothing of how it lies."""


def by_its_seams(hand: OnTable, drawn: Drawn) -> list[tuple[Move, list[float]]]:
    """The moves that lay seams of a design on those of a hand; its edges are looked at patch by patch afterwards."""
    base = bearing(minus(drawn.lines[0].end, drawn.lines[0].start))
    turns: list[float] = []
    for s in hand.sheets[0].seams:
        for turn in ((bearing(minus(s.end, s.start)) - base) % 360, (bearing(minus(s.start, s.end)) - base) % 360):
            if not s.inner and all(turn_between(turn, t) > 0.5 for t in turns):
                turns.append(turn)
    points = [p for f in hand.facets for p in f.ring]
    found = []
    for turn in turns:
        m = turning(turn)
        by = minus(box_middle(points), box_middle([moved(m, p) for p in drawn.raw]))
        shift = best_shift(seam_pairs(hand, drawn, m, by))
        found.append(((m[0], m[1], m[2], m[3], shift[0], shift[1]), [0.0] * len(drawn.raw)))
    return found


def box_middle(points: Sequence[XY]) -> XY:
    """The middle of the upright rectangle round some points."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def seam_pairs(hand: OnTable, drawn: Drawn, m: Move, by: XY) -> list[tuple[XY, float, float, float]]:
    """For each seam of a design: its vector to the left, how far that way it lies, how far the nearest seam of the hand
    does that runs alike, and a weight."""
    found = []
    for line in drawn.lines:
        a, b = moved(m, line.start), moved(m, line.end)
        way = unit(minus(b, a))
        outer = (way[1], -way[0])
        base = dot(a, outer)
        fars = [
            dot(s.start, outer)
            for s in hand.sheets[0].seams
            if not s.inner and not s.curve and abs(cross(way, unit(minus(s.end, s.start)))) < 0.02
        ]
        if fars and not line.curve:
            far = min(fars, key=lambda f: abs(f - base - dot(by, outer)))
            found += [(outer, base, far, 1.0)] * 20
    return found


def best_shift(pairs: list[tuple[XY, float, float, float]]) -> XY:
    """The shift that leaves the raw edges least apart (least squares)."""
    a = b = c = p = q = 0.0
    for (x, y), base, far, _ in pairs:
        a, b, c = a + x * x, b + x * y, c + y * y
        p, q = p + x * (far - base), q + y * (far - base)
    det = a * c - b * b
    if abs(det) < 1e-9:
        return 0.0, 0.0
    return (c * p - b * q) / det, (a * q - b * p) / det
