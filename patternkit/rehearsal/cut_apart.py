"""A sewn unit cut apart by straight lines, all of them before anything moves."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from patternkit.piecing.batch import CutApart, Item
from patternkit.rehearsal.bench import Bench
from patternkit.rehearsal.drawn import Drawn
from patternkit.rehearsal.gaps import slip
from patternkit.rehearsal.plane import XY, Move, apart, moved, then
from patternkit.rehearsal.table import OnTable, bounds, kept

RIGHT: XY = (1.0, 0.0)
DOWN: XY = (0.0, 1.0)
NEAR = 1 / 16
"""Inches by which a piece may be cut from another place than it is drawn at."""


def cut_apart(bench: Bench, action: CutApart) -> None:
    """Cut a hand apart, along lines measured from its left and its upper raw edge as it lies."""
    bench.item(action.part)
    bench.touched.add(action.part)
    number = next((n for n, h in enumerate(bench.hands) if not h.waste and action.part in h.parts), None)
    if number is None:
        raise slip("missing", item=bench.item(action.part))
    hand = bench.hands[number]
    if len(hand.sheets) > 1:
        raise slip("fold")
    left, right, top, bottom = bounds(hand, RIGHT)
    columns = _lines(left, right, [float(x) for x in action.columns], action.middles[0])
    rows = _lines(top, bottom, [float(y) for y in action.rows], action.middles[1])
    bench.lines += [(number, (x, top), (x, bottom)) for x in columns[1:-1]]
    bench.lines += [(number, (left, y), (right, y)) for y in rows[1:-1]]
    pieces = []
    for upper, lower in pairwise(rows):
        for near, far in pairwise(columns):
            piece: OnTable | None = hand
            for at, way in (
                ((near, upper), RIGHT),
                ((near, upper), DOWN),
                ((far, lower), (-1.0, 0.0)),
                ((far, lower), (0.0, -1.0)),
            ):
                piece = kept(piece, at, way) if piece is not None else None
            if piece is None:
                raise slip("missing", item=bench.item(action.part))
            pieces.append(piece)
    bench.hands[number : number + 1] = pieces


def _lines(start: float, end: float, inside: Sequence[float], halved: bool) -> list[float]:
    """Where the lines run, the two edges among them; raises Slip where they do not lie between these."""
    lines = [start, (start + end) / 2, end] if halved else [start, *(start + x for x in inside), end]
    if any(b - a < 1e-6 for a, b in pairwise(lines)):
        raise slip("strip", inside[-1] if inside else 0.0, end - start)
    return lines


def is_cut_from(hand: OnTable, drawn: Drawn, move: Move, items: Sequence[Item]) -> bool:
    """Whether a piece is cut from the thing that it is drawn on, and at its place there."""
    facets = list(hand.facets)
    if drawn.cut is None or len(facets) != 1 or items[facets[0].part] != drawn.cut.what:
        return False
    want = then(drawn.cut.place, move)
    return all(apart(moved(want, p), moved(facets[0].place, p)) < NEAR for p in ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)))
