"""What lies on the table while a batch is sewn: hands of sheets of facets, their stitches, and the state after each
action. All numbers are floats in inches, x to the right, y down, in coordinates of each hand's own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from patternkit.piecing.batch import Edge
from patternkit.rehearsal.plane import (
    CUT,
    SEWN,
    XY,
    Labels,
    Move,
    Ring,
    along,
    area,
    bearing,
    carried,
    clipped,
    common,
    cross,
    dot,
    face_up,
    holds,
    joined,
    minus,
    moved,
    right_of,
    spans,
    then,
    turn_between,
    unit,
)

NEAR = 1e-4
CHORDS, FEW = 4, 6  # degrees that the chords of an arc turn at most, and corners in which an arc turns at least
"""Two points this near are one."""


class Facet(msgspec.Struct, frozen=True):
    """What shows of a part: its ring (clockwise as it lies), what each edge is (its number as it was cut, `CUT` or
    `SEWN`), and the move from the coordinates in which the part was cut, right side up, to where it lies."""

    part: int
    ring: Ring
    labels: Labels
    place: Move

    @property
    def up(self) -> bool:
        """Whether the right side shows."""
        return face_up(self.place)


class Sewn(msgspec.Struct, frozen=True):
    """A seam that is sewn and opened, from `start` to `end`. Its allowances lie to the right as walked (`side` 1), to
    the left (-1), or open (0); where it is `spun` they do so on its second half, and to the other side on its first.
    `inner` says how many levels down a seam was sewn: 0 in this batch, 1 the joints of a part that is a sewn thing
    itself, 2 those of the parts of that. A `curve` has its ends here only. One that is `begun` is sewn half way. `by`
    is the action that sewed it: its passage, its number there."""

    start: XY
    end: XY
    side: int = 0
    spun: bool = False
    inner: int = 0
    curve: bool = False
    begun: bool = False
    by: tuple[int, int] | None = None


class Sheet(msgspec.Struct, frozen=True):
    """One layer of a hand: facets that are sewn together and opened, later ones lying over earlier ones."""

    facets: tuple[Facet, ...]
    seams: tuple[Sewn, ...] = ()


class OnTable(msgspec.Struct, frozen=True):
    """What one hand would lift: sheets from the bottom up, and the stitches that hold them. `waste` is what was cut off
    and is of no use; `rest` is what is left of a strip unit. A strip unit that is sewn to a `tube`, or a ring of one,
    lies as if it were open between two edges."""

    sheets: tuple[Sheet, ...]
    stitches: tuple[tuple[XY, XY], ...] = ()
    waste: bool = False
    rest: bool = False
    tube: tuple[Edge, Edge] | None = None

    @property
    def facets(self) -> Iterator[Facet]:
        """All facets, from the bottom up."""
        for sheet in self.sheets:
            yield from sheet.facets

    @property
    def parts(self) -> frozenset[int]:
        """The numbers of the parts that it holds something of."""
        return frozenset(f.part for f in self.facets)


class State(msgspec.Struct, frozen=True):
    """The table after an action: its passage and its number there (-1 before the first), what lies there, the lines
    that were drawn, stitched or cut in it (with the hand of the state before in which they lie)."""

    passage: int
    action: int
    hands: tuple[OnTable, ...]
    lines: tuple[tuple[int, XY, XY], ...] = ()


class Shape(msgspec.Struct, frozen=True):
    """A part before it is sewn: its raw outline, clockwise from the upper left, and the seams that run into its edges
    where it is a sewn thing. The `tips` are those edges at which the points of a template are trimmed."""

    outline: Ring
    seams: tuple[Sewn, ...] = ()
    tips: frozenset[int] = frozenset()


def tips_of(ring: Ring, full: Ring) -> frozenset[int]:
    """The edges of a raw outline that lie on no edge of the one with all its points."""
    lines = [(p, unit(minus(full[(i + 1) % len(full)], p))) for i, p in enumerate(full)]
    found = []
    for i, p in enumerate(ring):
        ends = p, ring[(i + 1) % len(ring)]
        if not any(all(abs(cross(way, minus(e, at))) < 1e-5 for e in ends) for at, way in lines):
            found.append(i)
    return frozenset(found)


def has_arcs(ring: Ring) -> bool:
    """Whether some edges of an outline in a row turn so little, one after the other, that they are chords of an arc."""
    ways = [bearing(minus(ring[(i + 1) % len(ring)], p)) for i, p in enumerate(ring)]
    return sum(turn_between(way, ways[i - 1]) < CHORDS for i, way in enumerate(ways)) >= FEW


def carry_seam(m: Move, s: Sewn) -> Sewn:
    """A seam moved; turned over, its allowances lie on the other side as walked."""
    side = s.side if face_up(m) else -s.side
    return msgspec.structs.replace(s, start=moved(m, s.start), end=moved(m, s.end), side=side)


def deeper(s: Sewn) -> Sewn:
    """A seam of a thing that is now a part of another."""
    return msgspec.structs.replace(s, inner=s.inner + 1)


def joints(seams: Iterable[Sewn]) -> list[Sewn]:
    """The seams that parts are joined by, here or in a part: none from inside the units that these are joined of."""
    return [s for s in seams if s.inner < 2]


def carry_sheet(m: Move, sheet: Sheet) -> Sheet:
    """A sheet moved, or turned over."""
    facets = []
    for f in sheet.facets:
        ring, labels = carried(m, f.ring, f.labels)
        facets.append(Facet(f.part, ring, labels, then(f.place, m)))
    if not face_up(m):
        facets.reverse()
    return Sheet(tuple(facets), tuple(carry_seam(m, s) for s in sheet.seams))


def carry(m: Move, hand: OnTable) -> OnTable:
    """A hand moved; turned over, its sheets lie the other way round."""
    sheets = [carry_sheet(m, s) for s in hand.sheets]
    if not face_up(m):
        sheets.reverse()
    stitches = tuple((moved(m, a), moved(m, b)) for a, b in hand.stitches)
    return msgspec.structs.replace(hand, sheets=tuple(sheets), stitches=stitches)


def kept_facet(f: Facet, p: XY, inner: XY, label: int) -> Facet | None:
    """What is left of a facet on the side of a line to which `inner` points."""
    ring, labels = clipped(f.ring, f.labels, p, inner, label)
    if ring is f.ring:
        return f
    return Facet(f.part, ring, labels, f.place) if ring else None


def kept_line(a: XY, b: XY, p: XY, inner: XY) -> tuple[XY, XY] | None:
    """What is left of a line on that side."""
    da, db = dot(minus(a, p), inner), dot(minus(b, p), inner)
    if da <= 1e-6 and db <= 1e-6:
        return None
    if da >= 0 and db >= 0:
        return a, b
    at = along(a, minus(b, a), da / (da - db))
    return (at, b) if da < 0 else (a, at)


def kept_sheet(sheet: Sheet, p: XY, inner: XY, label: int = CUT) -> Sheet | None:
    """What is left of a sheet on that side."""
    facets = tuple(g for f in sheet.facets if (g := kept_facet(f, p, inner, label)) is not None)
    if not facets:
        return None
    seams = []
    for s in sheet.seams:
        line = kept_line(s.start, s.end, p, inner)
        if line is not None:
            seams.append(msgspec.structs.replace(s, start=line[0], end=line[1]) if line != (s.start, s.end) else s)
    return Sheet(facets, tuple(seams))


def kept(hand: OnTable, p: XY, inner: XY, label: int = CUT) -> OnTable | None:
    """What is left of a hand on that side; None when that is nothing."""
    sheets = tuple(g for s in hand.sheets if (g := kept_sheet(s, p, inner, label)) is not None)
    if not sheets:
        return None
    stitches = tuple(line for a, b in hand.stitches if (line := kept_line(a, b, p, inner)) is not None)
    return msgspec.structs.replace(hand, sheets=sheets, stitches=stitches)


def under(sheet: Sheet, p: XY, slack: float = NEAR) -> Facet | None:
    """The facet that shows at a point; None where there is no cloth."""
    for f in reversed(sheet.facets):
        if holds(f.ring, p, slack):
            return f
    return None


def stretches(sheet: Sheet, p: XY, way: XY) -> list[tuple[float, float]]:
    """Where a line runs over a sheet, as distances from `p`."""
    return joined(t for f in sheet.facets for t in spans(f.ring, p, way))


def held(sheets: Sequence[Sheet], p: XY, way: XY) -> list[tuple[float, float]]:
    """Where a line runs over at least two of the sheets."""
    covers = [stretches(s, p, way) for s in sheets]
    found: list[tuple[float, float]] = []
    for i, a in enumerate(covers):
        for b in covers[:i]:
            found += common(a, b)
    return joined(found)


def edge_lines(hand: OnTable, part: int, n: int) -> list[tuple[XY, XY]]:
    """What is left of an edge of a part, as it lies, clockwise."""
    found = []
    for f in hand.facets:
        if f.part == part:
            for i, label in enumerate(f.labels):
                if label == n:
                    found.append((f.ring[i], f.ring[(i + 1) % len(f.ring)]))
    return found


def corner_at(hand: OnTable, part: int, n: int, outline: Ring) -> tuple[XY, Facet] | None:
    """Where a corner of a part lies: where its two edges meet, or where it lay when the part was cut."""
    before = (n - 1) % len(outline)
    for f in hand.facets:
        if f.part == part:
            ends = (before, n) if f.up else (n, before)
            for i, label in enumerate(f.labels):
                if (f.labels[i - 1], label) == ends:
                    return f.ring[i], f
    for f in hand.facets:
        if f.part == part:
            at = moved(f.place, outline[n])
            if holds(f.ring, at, NEAR):
                return at, f
    return None


def raw_edges(hand: OnTable) -> Iterator[tuple[XY, XY]]:
    """Every edge of the cloth that shows and is no seam."""
    for f in hand.facets:
        n = len(f.ring)
        for i, label in enumerate(f.labels):
            if label != SEWN:
                yield f.ring[i], f.ring[(i + 1) % n]


def bounds(hand: OnTable, way: XY) -> tuple[float, float, float, float]:
    """The least and greatest distance along a direction, then square to it (to its right)."""
    square = right_of(way)
    xs, ys = [], []
    for f in hand.facets:
        for p in f.ring:
            xs.append(dot(p, way))
            ys.append(dot(p, square))
    return min(xs), max(xs), min(ys), max(ys)


def size_of(hand: OnTable) -> float:
    """How much cloth shows."""
    return sum(area(f.ring) for f in hand.facets)
