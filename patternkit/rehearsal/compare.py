"""What comes out of a batch, held against the design: laid on it in every way in which it fits, patch by patch."""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntEnum

import msgspec

from patternkit.piecing.batch import Item, Piece, Thing
from patternkit.rehearsal.by_seams import SHORT_CHORD, best_shift, box_middle, by_its_seams, seam_pairs
from patternkit.rehearsal.cut_apart import is_cut_from
from patternkit.rehearsal.drawn import Designs, Drawn, Patch
from patternkit.rehearsal.gaps import Number
from patternkit.rehearsal.plane import (
    XY,
    Move,
    Ring,
    along,
    apart,
    area,
    back,
    bearing,
    centroid,
    cross,
    dot,
    face_up,
    holds,
    hull,
    meeting,
    middle,
    minus,
    moved,
    right_of,
    shifted,
    spans,
    swung,
    then,
    turn_between,
    turning,
    unit,
)
from patternkit.rehearsal.table import Facet, OnTable, Sewn, Shape, Sheet, carry_seam, deeper, raw_edges, tips_of, under

OFF = 1 / 32 + 1e-6
SEAMS = 1 / 16
"""Seams lie on each other where they are this near."""


class Level(IntEnum):
    """How near what came out is to a design, the nearest first."""

    EXACT = 0
    PRESS = 1
    VERSION = 2
    SIZE = 3
    MIRRORED = 4
    PATCH = 5


KINDS = {
    Level.PRESS: "press",
    Level.VERSION: "version",
    Level.SIZE: "size",
    Level.MIRRORED: "mirrored",
    Level.PATCH: "patch",
}


class Match(msgspec.Struct, frozen=True):
    """How a hand compares with a design; where it fits, its raw shape as sewn in the design's coordinates."""

    level: Level
    stated: Number | None = None
    out: Number | None = None
    shape: Shape | None = None


BEYOND = 1 / 16  # so far a tip of a template may reach beyond its strip unit, of whose allowance nothing is lost
THREAD = 1 / 256
"""Inches that an edge may lie off without being so: less than the thickness of a thread."""
CHORD = 1 / 64
"""How far the chords of an arc lie from it at most, in inches."""


CURVED = 12
"""An outline of so many edges has arcs, each a chain of short chords."""
BESIDE = 1 / 2
"""Inches from the end of an edge of such an outline within which the middle of a raw edge lies that is part of it."""
SHORT = 1 / 16
"""Inches: shorter raw edges of other outlines are those of tips that are lost in the turn of the cloth."""


class _Side(msgspec.Struct, frozen=True):
    """A raw edge of the hand: its direction in degrees, its length, its middle."""

    turn: float
    length: float
    at: XY


def match(
    hand: OnTable,
    thing: Thing,
    items: Sequence[Item],
    designs: Designs,
    *,
    rough: bool = False,
    cut: int = 0,
) -> Match:
    """How what came out compares with a thing as it is drawn; a `rough` one may be larger. One that is cut out by a
    template of `cut` edges has its tips trimmed."""
    drawn = designs.drawn(thing)
    if drawn is None or len(hand.sheets) > 1:
        return Match(Level.PATCH)
    sides = _sides(hand, SHORT if len(drawn.raw) < CURVED else 1e-3)
    best: Match | None = None
    for move, devs in _layings(sides, hand, drawn, rough, items):
        found = _laid(hand, drawn, move, devs, items, designs, designs.own(thing), rough, thing in designs.entire)
        if cut and found.shape is not None:
            found = msgspec.structs.replace(found, shape=_cut_out(hand, found.shape, move, cut))
        if best is None or found.level < best.level:
            best = found
        if best.level == Level.EXACT:
            return best
    if best is not None and best.level <= Level.SIZE:
        return best
    image = designs.mirrored(thing)
    assert image is not None
    for move, devs in _layings(sides, hand, image):
        if _fits(hand, image, move, items, designs):
            return Match(Level.MIRRORED)
    wrong = _wrong_size(sides, hand, drawn)
    return Match(Level.SIZE, *wrong) if wrong is not None else Match(Level.PATCH)


# -- laying the design on the hand ------------------------------------------------------------------------
def _sides(hand: OnTable, least: float) -> list[_Side]:
    """The raw edges that are longer than `least`."""
    found = []
    for a, b in raw_edges(hand):
        length = apart(a, b)
        if length < least:
            continue
        found.append(_Side(bearing(minus(b, a)), length, middle(a, b)))
    return found


def _turns(sides: list[_Side], way: XY) -> list[float]:
    """By which turns an edge of the design comes to lie along a raw edge, those of most edge first. Short stretches lie
    a little aslant beside long ones where tips meet, so the longest of those that are nearly one give the turn."""
    found: list[list[float]] = []
    base = bearing(way)
    for s in sorted(sides, key=lambda s: -s.length):
        turn = (s.turn - base) % 360
        for entry in found:
            if turn_between(entry[0], turn) < 0.5:
                entry[1] += s.length
                break
        else:
            found.append([turn, s.length])
    found.sort(key=lambda e: -e[1])
    return [e[0] for e in found[:12]]


def _layings(
    sides: list[_Side], hand: OnTable, drawn: Drawn, rough: bool = False, items: Sequence[Item] = ()
) -> list[tuple[Move, list[float]]]:
    """The moves that lay the design on the hand, with how far each raw edge of the hand lies outside the design's.

    A rough hand is laid by its seams, and by those raw edges that then fit; the sewn things in it say about where.
    """
    raw = drawn.raw
    n = len(raw)
    longest = max(range(n), key=lambda i: apart(raw[i], raw[(i + 1) % n]))
    points = [p for f in hand.facets for p in f.ring]
    if drawn.lines and apart(raw[longest], raw[(longest + 1) % n]) < SHORT_CHORD:
        return by_its_seams(hand, drawn)
    found = []
    things = _things(hand, drawn, items) if rough else ([], [])
    for turn in _turns(sides, minus(raw[(longest + 1) % n], raw[longest])):
        m = turning(turn)
        ring = tuple(moved(m, p) for p in raw)
        by = minus(box_middle(points), box_middle(ring))
        if all(things):
            by = minus(_mean(things[0]), _mean([moved(m, p) for p in things[1]]))
        pairs = _pairs(sides, ring, by, rough)
        if pairs is None:
            continue
        known = [p for p in pairs if p[3]]
        if rough:  # its slanted ends may reach out; where nothing says how far along it lies, middle on middle
            known = [p for p in known if _square_to_seams(p[0], drawn, m)] or known
            known += [((0.01, 0.0), 0.0, 0.01 * by[0], 0.01), ((0.0, 0.01), 0.0, 0.01 * by[1], 0.01)]
        shift = best_shift([*known, *seam_pairs(hand, drawn, m, by)] if rough else pairs)
        if rough:
            near = [p for p in known if abs(p[2] - p[1] - dot(shift, p[0])) < 2 * OFF]
            shift = best_shift([*near, *seam_pairs(hand, drawn, m, by)])
        devs = [far - (base + dot(shift, outer)) if length else 0.0 for outer, base, far, length in pairs]
        found.append(((m[0], m[1], m[2], m[3], shift[0], shift[1]), devs))
    return found


def _things(hand: OnTable, drawn: Drawn, items: Sequence[Item]) -> tuple[list[XY], list[XY]]:
    """The middles of the sewn things in a hand, and of those that are drawn in it; nothing where they are not as
    many."""
    mine = [centroid(f.ring) for f in hand.facets if isinstance(items[f.part], Thing)]
    its = [centroid(p.ring) for p in drawn.patches if isinstance(p.what, Thing)]
    return (mine, its) if len(mine) == len(its) else ([], [])


def _mean(points: Sequence[XY]) -> XY:
    return sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points)


def _square_to_seams(outer: XY, drawn: Drawn, m: Move) -> bool:
    """Whether an edge runs along some seam of the design, or square to it."""
    ways = [unit(minus(moved(m, line.end), moved(m, line.start))) for line in drawn.lines]
    return any(min(abs(cross(way, outer)), abs(dot(way, outer))) < 0.02 for way in ways)


def _pairs(sides: list[_Side], ring: Ring, by: XY, rough: bool) -> list[tuple[XY, float, float, float]] | None:
    """For each raw edge of the design: its outward vector, how far out it lies, how far the hand's edge does, and the
    length of that. None where the hand has no such edge; of a rough hand, which gets it later, it has no length
    then."""
    found = []
    n = len(ring)
    for i, p in enumerate(ring):
        q = ring[(i + 1) % n]
        way = unit(minus(q, p))
        outer = (way[1], -way[0])
        turn, base = bearing(way), dot(p, outer)
        want = base + dot(by, outer)
        close = 1.0 if n < CURVED else 3.0
        beside = [s for s in sides if turn_between(s.turn, turn) < close]
        if n >= CURVED:  # chords of several arcs run one way
            at, reach = middle(p, q), apart(p, q) / 2 + BESIDE
            beside = [s for s in beside if apart(s.at, (at[0] + by[0], at[1] + by[1])) < reach]
        alike = [(dot(s.at, outer), s.length) for s in beside]
        near = [(far, length) for far, length in alike if abs(far - want) < 1.5]
        if not near and rough:
            found.append((outer, base, base, 0.0))
            continue
        if not near:
            return None
        closest = min(abs(far - want) for far, _ in near)
        if n > 4:
            near = [(far, length) for far, length in near if abs(far - want) < closest + 0.2]
        total = sum(length for _, length in near)
        found.append((outer, base, sum(far * length for far, length in near) / total, total))
    return found


# -- one laying -------------------------------------------------------------------------------------------
def _laid(
    hand: OnTable,
    drawn: Drawn,
    move: Move,
    devs: list[float],
    items: Sequence[Item],
    designs: Designs,
    own: bool,
    rough: bool,
    entire: bool = False,
) -> Match:
    """How the hand compares with the design where that is laid so."""
    shows = _fits(hand, drawn, move, items, designs) if drawn.cut is None else is_cut_from(hand, drawn, move, items)
    if not shows:
        return Match(Level.PATCH)
    size = _size(drawn, [min(d, 0.0) for d in devs] if rough else devs)
    if size is not None:
        return Match(Level.SIZE, *size)
    seams = [s for s in hand.sheets[0].seams if not s.inner or drawn.cut is not None]
    pressed = _seams(drawn, move, seams, own)
    if pressed is None:
        return Match(Level.VERSION)
    shape = _shape(hand, drawn, move, devs, entire)
    return Match(Level.EXACT if pressed else Level.PRESS, shape=shape)


def _fits(hand: OnTable, drawn: Drawn, move: Move, items: Sequence[Item], designs: Designs) -> bool:
    """Whether every patch shows where it is drawn, right side up, turned as drawn, and nothing else does."""
    sheet = hand.sheets[0]
    met: list[Facet] = []
    for patch in drawn.patches:
        f = _shows(sheet, patch, move)
        if f is None or f in met or not _same_part(f, patch, move, items, designs):
            return False
        met.append(f)
    outline = tuple(moved(move, p) for p in drawn.outline)
    return all(f in met or area(f.ring) < 1e-2 or not holds(outline, centroid(f.ring)) for f in sheet.facets)


def _shows(sheet: Sheet, patch: Patch, move: Move) -> Facet | None:
    """The one facet that shows at all points of a patch."""
    found: Facet | None = None
    for look in patch.looks:
        f = under(sheet, moved(move, look), 1e-3)
        if f is None or (found is not None and f is not found):
            return None
        found = f
    return found


def _same_part(f: Facet, patch: Patch, move: Move, items: Sequence[Item], designs: Designs) -> bool:
    item = items[f.part]
    if isinstance(patch.what, str):
        return isinstance(item, Piece) and item.fabric == patch.what and f.up
    if not isinstance(item, Thing) or item != patch.what:
        return False
    want = then(patch.place, move)
    if face_up(want) != f.up:
        return False
    turn = bearing(swung(f.place, (1.0, 0.0))) - bearing(swung(want, (1.0, 0.0)))
    return designs.alike(item, turn % 360) or turn_between(turn, 0) < 1


def _size(drawn: Drawn, devs: list[float]) -> tuple[float, float] | None:
    """What is told and what comes out, between raw edges, where they are too far apart."""
    n = len(drawn.raw)
    ways = [unit(minus(drawn.raw[(i + 1) % n], p)) for i, p in enumerate(drawn.raw)]
    worst: tuple[float, float, float] | None = None
    for i in range(n):
        opposite = [j for j in range(n) if dot(ways[i], ways[j]) < -0.9999]
        if not opposite:
            if abs(devs[i]) > OFF and (worst is None or abs(devs[i]) > worst[0]):
                worst = abs(devs[i]), 0.0, devs[i]
            continue
        p = drawn.raw[i]
        j = max(opposite, key=lambda k: dot(minus(drawn.raw[k], p), right_of(ways[i])))
        stated = dot(minus(drawn.raw[j], p), right_of(ways[i]))
        off = devs[i] + devs[j]
        if abs(off) > OFF and (worst is None or abs(off) > worst[0]):
            worst = abs(off), stated, stated + off
    return None if worst is None else (worst[1], worst[2])


def _wrong_size(sides: list[_Side], hand: OnTable, drawn: Drawn) -> tuple[float, float] | None:
    """The size that is most wrong, in the laying in which it is least."""
    found = [size for _, devs in _layings(sides, hand, drawn) if (size := _size(drawn, devs)) is not None]
    all_wrong = len(found) == len(_layings(sides, hand, drawn))
    return min(found, key=lambda s: abs(s[0] - s[1])) if found and all_wrong else None


def _seams(drawn: Drawn, move: Move, seams: list[Sewn], own: bool) -> bool | None:
    """None where the seams are others than those drawn; else whether they are pressed as planned."""
    left, pressed = list(seams), True
    outline = tuple(moved(move, p) for p in drawn.outline)
    for line in drawn.lines:
        a, b = moved(move, line.start), moved(move, line.end)
        found = next((s for s in left if _lies_on(s, a, b, line.curve, outline)), None)
        if found is None:
            if own:
                return None
            continue
        left.remove(found)
        if line.side is None:
            continue
        along_it = dot(minus(b, a), minus(found.end, found.start)) > 0
        side = line.side if face_up(move) else -line.side
        # walked the other way both the half and the side of a spun seam change
        have = found.side if along_it or found.spun else -found.side
        pressed = pressed and have == side and found.spun == line.spun
    if own and any(_within(s, outline) > SEAMS for s in left):
        return None
    return pressed


def _within(s: Sewn, outline: Ring) -> float:
    """How much of a seam runs well inside a finished outline: in the allowance or along the edge it is no seam of the
    thing."""
    outline = shifted(outline, [SEAMS] * len(outline))
    way, far = unit(minus(s.end, s.start)), apart(s.start, s.end)
    return sum(max(0.0, min(b, far) - max(a, 0.0)) for a, b in spans(outline, s.start, way))


def _lies_on(s: Sewn, a: XY, b: XY, curve: bool, outline: Ring) -> bool:
    """Whether a seam that is sewn is the line from `a` to `b` that is drawn, within the finished outline."""
    if curve or s.curve:
        return curve == s.curve and (
            max(apart(s.start, a), apart(s.end, b)) < SEAMS or max(apart(s.start, b), apart(s.end, a)) < SEAMS
        )
    way = unit(minus(b, a))
    if max(abs(cross(way, minus(p, a))) for p in (s.start, s.end)) > SEAMS:
        return False
    t = sorted((dot(minus(s.start, a), way), dot(minus(s.end, a), way)))
    far = apart(a, b)
    if t[0] > SEAMS or t[1] < far - SEAMS:
        return False
    # what reaches farther must do so in an allowance only: outside the outline, or less than half an inch
    ends = ((-t[0], along(a, way, t[0])), (t[1] - far, along(a, way, t[1])))
    return all(over < 0.75 or not holds(outline, end) for over, end in ends)


def _shape(hand: OnTable, drawn: Drawn, move: Move, devs: list[float], entire: bool = False) -> Shape:
    """The raw outline as sewn, and the seams that run into it (or every seam), in the coordinates of the design."""
    # arcs are chains of chords, which lie so far from them
    least = CHORD if any(s.curve for s in hand.sheets[0].seams) else THREAD
    devs = [0.0 if abs(d) < least else d for d in devs]
    raw = drawn.raw if max(map(abs, devs)) < 1e-7 else shifted(drawn.raw, [-d for d in devs])
    home = back(move)
    seams = []
    for s in hand.sheets[0].seams:
        at = carry_seam(home, s)
        if s.curve or s.begun:
            continue
        if entire or any(_at_edge(raw, p) for p in (at.start, at.end)):
            seams.append(deeper(at) if drawn.cut is None else at)
    return Shape(raw, tuple(seams))


def _cut_out(hand: OnTable, shape: Shape, move: Move, edges: int) -> Shape:
    """The shape with its tips trimmed as they are, numbered from the raw edge of the first edge that is drawn."""
    home = back(move)
    ring = hull(moved(home, p) for f in hand.facets for p in f.ring)
    if len(ring) > edges:
        ring = _with_tips(ring, hand, home, shape.outline)
    a, b = shape.outline[:2]
    way = unit(minus(b, a))
    first = min(
        range(len(ring)),
        key=lambda i: max(abs(cross(way, minus(p, a))) for p in (ring[i], ring[(i + 1) % len(ring)])),
    )
    ring = (*ring[first:], *ring[:first])
    return msgspec.structs.replace(shape, outline=ring, tips=tips_of(ring, shape.outline))


def _with_tips(ring: Ring, hand: OnTable, home: Move, outline: Ring) -> Ring:
    """The ring as the template is: where its tip reaches a hair beyond the strip unit, the edge of the strip ends it
    sooner, which is no edge of the template's."""
    strips = [
        (moved(home, p), moved(home, f.ring[(k + 1) % len(f.ring)]))
        for f in hand.facets
        for k, p in enumerate(f.ring)
        if f.labels[k] >= 0
    ]
    n = len(ring)
    for i in sorted(tips_of(ring, outline)):
        before, a, b, after = (ring[(i + k) % n] for k in (-1, 0, 1, 2))
        if not any(all(abs(cross(unit(minus(q, p)), minus(e, p))) < 1e-5 for e in (a, b)) for p, q in strips):
            continue
        tip = meeting(before, minus(a, before), b, minus(after, b))
        if tip is not None and abs(cross(unit(minus(b, a)), minus(tip, a))) < BEYOND:
            return tuple(tip if k == i else p for k, p in enumerate(ring) if k != (i + 1) % n)
    return ring


def _at_edge(ring: Ring, p: XY) -> bool:
    n = len(ring)
    for i, a in enumerate(ring):
        way = minus(ring[(i + 1) % n], a)
        t = dot(minus(p, a), way) / max(dot(way, way), 1e-12)
        if -0.01 <= t <= 1.01 and abs(cross(unit(way), minus(p, a))) < SEAMS:
            return True
    return False


def match_piece(hand: OnTable, piece: Piece, shape: Shape, items: Sequence[Item]) -> Match:
    """How what came out compares with a cut piece: one facet of its fabric, of its size."""
    facets = list(hand.facets)
    if len(facets) != 1 or not facets[0].up:
        return Match(Level.PATCH)
    item = items[facets[0].part]
    if not isinstance(item, Piece) or item.fabric != piece.fabric:
        return Match(Level.PATCH)
    ring = shape.outline
    mine = sorted(apart(facets[0].ring[i - 1], p) for i, p in enumerate(facets[0].ring))
    its = sorted(apart(ring[i - 1], p) for i, p in enumerate(ring))
    if len(mine) != len(its):
        return Match(Level.PATCH)
    off, out, stated = max((abs(a - b), a, b) for a, b in zip(mine, its, strict=True))
    return Match(Level.EXACT) if off < OFF else Match(Level.SIZE, stated, out)
