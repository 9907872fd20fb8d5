"""Strip units: cut across, and shapes cut out of them."""

from __future__ import annotations

from fractions import Fraction
from math import cos, radians, sin

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.batch import Batch, CutAcross, CutBetween, CutOut, Piece
from patternkit.piecing.making import reversed_ring
from patternkit.rehearsal.bench import Bench, Workroom
from patternkit.rehearsal.gaps import slip
from patternkit.rehearsal.plane import XY, Ring, along, dot, minus, moved, right_of, turning, unit
from patternkit.rehearsal.side_by_side import overlap
from patternkit.rehearsal.table import OnTable, bounds, kept

SQUARING = Length(Fraction(1, 4))
"""Inches of a strip unit that squaring up its end takes where nobody has said it."""


def _strip_unit(bench: Bench, part: int) -> tuple[int, XY]:
    """The strip unit that holds a part, and the direction of its strips: what is left of one, else the longest hand."""
    bench.item(part)
    bench.touched.add(part)
    found: list[tuple[bool, float, int, XY]] = []
    for n, hand in enumerate(bench.hands):
        if hand.waste or part not in hand.parts:
            continue
        facet = next(f for f in hand.facets if f.part == part)
        outline = bench.outline(part)
        way = unit(minus(moved(facet.place, outline[1]), moved(facet.place, outline[0])))
        low, high, _, _ = bounds(hand, way)
        found.append((hand.rest, high - low, n, way))
    if not found:
        raise slip("missing", item=bench.item(part))
    _, _, n, way = max(found)
    return n, way


def _squared_up(bench: Bench, hand: OnTable) -> float:
    """Inches that squaring up takes of a strip unit: the most of any of its cloths."""
    items = [bench.item(part) for part in hand.parts]
    return float(max(bench.room.squaring.get(i.fabric, SQUARING) for i in items if isinstance(i, Piece)))


def cut_across(bench: Bench, action: CutAcross) -> None:
    """Cut segments off a strip unit, from its left end, square to its strips or on the slant."""
    n, way = _strip_unit(bench, action.part)
    hand, width = bench.hands[n], float(action.width)
    if len(hand.sheets) > 1:
        raise slip("fold")
    c, s = cos(radians(action.angle)), sin(radians(action.angle))
    square = right_of(way)
    across = way[0] * s + square[0] * c, way[1] * s + square[1] * c  # square to the cuts
    low, high = _reach(hand, way, across)
    start = low if hand.rest else low + _squared_up(bench, hand) * s
    if start + width * action.count > high + 1e-6:
        raise slip("strip", width * action.count + start - low, high - low)
    at = along((0.0, 0.0), across, start)
    cut = kept(hand, at, across)
    segment = kept(cut, along(at, across, width), (-across[0], -across[1])) if cut is not None else None
    rest = kept(hand, along(at, across, width * action.count), across)
    if segment is None:
        raise slip("strip", width, high - low)
    bench.lines.append((n, at, along(at, right_of(across), 1.0)))
    bench.hands[n : n + 1] = [msgspec.structs.replace(segment, rest=False)] * action.count
    if rest is not None:
        bench.hands.append(msgspec.structs.replace(rest, rest=True))


def _reach(hand: OnTable, way: XY, across: XY) -> tuple[float, float]:
    """From where to where all strips of a unit have cloth for cuts square to a direction: the strip that begins last,
    and the one that ends first, say it."""
    lows, highs = [], []
    for f in hand.facets:
        ends = [dot(p, way) for p in f.ring]
        lows.append(max(dot(p, across) for p, x in zip(f.ring, ends, strict=True) if x < min(ends) + 1e-6))
        highs.append(min(dot(p, across) for p, x in zip(f.ring, ends, strict=True) if x > max(ends) - 1e-6))
    low = min(dot(p, across) for f in hand.facets for p in f.ring) if hand.rest else max(lows)
    return low, min(highs)


def cut_out(bench: Bench, action: CutOut) -> None:
    """Cut shapes out of a strip unit by a template, and others between them."""
    n, way = _strip_unit(bench, action.part)
    hand = bench.hands[n]
    low, high, top, bottom = bounds(hand, way)
    start = low if hand.rest else low + _squared_up(bench, hand)
    wide = _width(_ring(bench, action, action.part))
    pitch = float(action.pitch) or wide
    laid: list[tuple[CutOut | CutBetween, float]] = [(action, 0.0)]
    if action.between is not None:
        laid.append((action.between, float(action.between.after)))
    made: list[OnTable] = []
    rings: list[Ring] = []
    for one, after in laid:
        ring = _ring(bench, one, action.part)
        takes = after + _width(ring) + pitch * (one.count - 1)
        if start + takes > high + 1e-6:
            raise slip("strip", takes, high - start)
        down, deep = float(one.down), max(p[1] for p in ring) - min(p[1] for p in ring)
        if down + deep > bottom - top + 1e-6:
            raise slip("no cloth", down + deep, bottom - top)
        rings += [_set(ring, after + pitch * k, down) for k in range(min(one.count, 2))]
        made += [_shape(hand, _set(ring, start + after, top + down), way)] * one.count
    if any(overlap(rings[i], ring) for j, ring in enumerate(rings) for i in range(j)):
        raise slip("over", item=bench.item(action.part))
    rest = kept(hand, along((0.0, 0.0), way, start + pitch * action.count), way) if action.between is None else None
    bench.hands[n : n + 1] = [msgspec.structs.replace(shape, rest=False) for shape in made]
    if rest is not None:
        bench.hands.append(msgspec.structs.replace(rest, rest=True))


def cut_from(room: Workroom, batch: Batch, action: CutOut) -> list[Ring]:
    """All shapes that are cut out of a strip unit as they lie on it, from its left upper corner once its end is squared
    up; nothing where a template is not known."""
    wide = 0.0
    found: list[tuple[float, Ring]] = []
    for one, after in ((action, 0.0), (action.between, float(action.between.after) if action.between else 0.0)):
        template = room.templates.get(one.template) if one is not None else None
        if one is None or template is None:
            continue
        outline: Ring = tuple((float(x), float(y)) for x, y in template.outline)
        ring = tuple(moved(turning(one.turned), p) for p in (reversed_ring(outline) if one.reversed else outline))
        wide = wide or _width(ring)
        pitch = float(action.pitch) or wide
        found += [(after + pitch * k, _set(ring, after + pitch * k, float(one.down))) for k in range(one.count)]
    fabrics = [use.item.fabric for use in batch.uses if isinstance(use.item, Piece)]
    start = float(max((room.squaring.get(f, SQUARING) for f in fabrics), default=SQUARING))
    return [tuple((x + start, y) for x, y in ring) for _, ring in sorted(found, key=lambda f: f[0])]


def _ring(bench: Bench, action: CutOut | CutBetween, part: int) -> Ring:
    """A template as it lies on the strip unit, before it is set in its place."""
    template = bench.room.templates.get(action.template)
    if template is None:
        raise slip("missing", item=bench.item(part))
    outline: Ring = tuple((float(x), float(y)) for x, y in template.outline)
    return tuple(moved(turning(action.turned), p) for p in (reversed_ring(outline) if action.reversed else outline))


def _width(ring: Ring) -> float:
    return max(p[0] for p in ring) - min(p[0] for p in ring)


def _set(ring: Ring, left: float, top: float) -> Ring:
    """A shape with its box's corner in a place, along the strip unit and down from its upper edge."""
    x, y = min(p[0] for p in ring), min(p[1] for p in ring)
    return tuple((p[0] - x + left, p[1] - y + top) for p in ring)


def _shape(hand: OnTable, ring: Ring, way: XY) -> OnTable:
    """What a strip unit gives within a shape, which lies along the unit and down."""
    square = right_of(way)
    laid = tuple(along(along((0.0, 0.0), way, x), square, y) for x, y in ring)
    shape: OnTable | None = hand
    for i, p in enumerate(laid):
        edge = unit(minus(laid[(i + 1) % len(laid)], p))
        shape = kept(shape, p, right_of(edge)) if shape is not None else None
    if shape is None:
        raise slip("no cloth", 0.0, 0.0)
    return shape
