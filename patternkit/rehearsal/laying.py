"""Pieces face to face: laid, stitched along lines, cut through all layers, opened."""

from __future__ import annotations

import msgspec

from patternkit.piecing.batch import OPEN, Corner, Cut, Discard, Lay, Line, Open, Sew, Snip, Spot
from patternkit.rehearsal.bench import Bench
from patternkit.rehearsal.gaps import slip
from patternkit.rehearsal.plane import (
    SEWN,
    XY,
    along,
    apart,
    area,
    bringing,
    centroid,
    cross,
    dot,
    folding,
    holds,
    middle,
    minus,
    moved,
    right_of,
    unit,
)
from patternkit.rehearsal.table import (
    Facet,
    OnTable,
    Sewn,
    Sheet,
    carry,
    carry_sheet,
    corner_at,
    edge_lines,
    held,
    kept,
    kept_line,
    kept_sheet,
    under,
)


# -- spots ------------------------------------------------------------------------------------------------
def spot_in(bench: Bench, hand: OnTable, spot: Spot) -> tuple[XY, Facet] | None:
    """Where a spot lies in a hand, and the facet that carries it; None where the hand does not hold it."""
    outline = bench.outline(spot.part)
    if not 0 <= spot.n < len(outline):
        raise slip("missing", item=bench.item(spot.part))
    if isinstance(spot, Corner):
        return corner_at(hand, spot.part, spot.n, outline)
    a, b = outline[spot.n], outline[(spot.n + 1) % len(outline)]
    for f in hand.facets:
        if f.part == spot.part:
            at = moved(f.place, middle(a, b))
            if holds(f.ring, at, 1e-4):
                return at, f
    for start, end in edge_lines(hand, spot.part, spot.n):
        for f in hand.facets:
            if f.part == spot.part and holds(f.ring, middle(start, end), 1e-4):
                return middle(start, end), f
    return None


def hand_with(bench: Bench, *spots: Spot) -> int:
    """The number of the hand that holds all of some spots; raises `Slip` where none does."""
    for spot in spots:
        bench.item(spot.part)
        bench.touched.add(spot.part)
    for n, hand in enumerate(bench.hands):
        if not hand.waste and all(spot_in(bench, hand, s) is not None for s in spots):
            return n
    raise slip("missing", item=bench.item(spots[0].part))


def line_in(bench: Bench, hand: OnTable, line: Line, beside: float = 0.0) -> tuple[XY, XY] | None:
    """A point and the direction of a line in a hand, moved sideways by `beside` seams; None where it is not there."""
    first, last = spot_in(bench, hand, line.start), spot_in(bench, hand, line.end)
    if first is None or last is None or apart(first[0], last[0]) < 1e-6:
        return None
    way = unit(minus(last[0], first[0]))
    square = right_of(way) if first[1].up else right_of((-way[0], -way[1]))
    return along(first[0], square, (line.beside + beside) * bench.seam), way


# -- actions ----------------------------------------------------------------------------------------------
def lay(bench: Bench, action: Lay) -> None:
    """Turn one hand over and lay it on another."""
    (u0, o0), (u1, o1) = action.at
    upper, onto = hand_with(bench, u0), hand_with(bench, o0)
    bench.item(u1.part)
    bench.item(o1.part)
    if upper == onto:
        raise slip("missing", item=bench.item(u0.part))
    top, base = bench.hands[upper], bench.hands[onto]
    p0, p1, q0, q1 = (s for h, a, b in ((top, u0, u1), (base, o0, o1)) for s in _points(bench, h, a, b))
    over = carry(bringing(p0, minus(p1, p0), q0, minus(q1, q0), over=True), top)
    both = OnTable((*base.sheets, *over.sheets), (*base.stitches, *over.stitches))
    bench.hands[onto] = both
    del bench.hands[upper]


def _points(bench: Bench, hand: OnTable, a: Spot, b: Spot) -> tuple[XY, XY]:
    """A spot, and one that says the direction only: that may be a corner which is cut off by now."""
    first, last = spot_in(bench, hand, a), spot_in(bench, hand, b)
    if last is None and first is not None and isinstance(b, Corner) and a.part == b.part:
        last = moved(first[1].place, bench.outline(b.part)[b.n]), first[1]
    if first is None or last is None or apart(first[0], last[0]) < 1e-6:
        raise slip("missing", item=bench.item(a.part))
    return first[0], last[0]


def sew(bench: Bench, action: Sew) -> None:
    """Stitch where at least two layers lie on each other."""
    n = hand_with(bench, action.line.start, action.line.end)
    hand = bench.hands[n]
    for side in action.sides:
        line = line_in(bench, hand, action.line, side)
        if line is None:
            raise slip("missing", item=bench.item(action.line.start.part))
        runs = held(hand.sheets, *line)
        if not runs:
            raise slip("loose")
        p, way = line
        found = []
        for i, (low, high) in enumerate(runs):
            if action.start == "seam" and i == 0:
                low += _before_edge(hand, along(p, way, low), way, bench.seam)
            if action.stop == "seam" and i == len(runs) - 1:
                high -= _before_edge(hand, along(p, way, high), way, bench.seam)
            found.append((along(p, way, low), along(p, way, high)))
        bench.lines += [(n, a, b) for a, b in found]
        hand = msgspec.structs.replace(hand, stitches=(*hand.stitches, *found))
    bench.hands[n] = hand


def _before_edge(hand: OnTable, at: XY, way: XY, seam: float) -> float:
    """How far along a line a point lies that is a seam inside the raw edge at which the line ends."""
    for f in hand.facets:
        for i, a in enumerate(f.ring):
            b = f.ring[(i + 1) % len(f.ring)]
            edge = unit(minus(b, a))
            if abs(cross(minus(at, a), edge)) < 1e-4 and -1e-4 < dot(minus(at, a), edge) < apart(a, b) + 1e-4:
                slant = abs(cross(way, edge))
                if slant > 0.05:
                    return seam / slant
    return seam


def cut(bench: Bench, action: Cut) -> None:
    """Cut every hand that holds the spots of a line along it, all lines before anything moves."""
    done = [False] * len(action.lines)
    hands: list[OnTable] = []
    for n, hand in enumerate(bench.hands):
        pieces = [hand]
        for i, stated in enumerate(action.lines):
            line = None if hand.waste else line_in(bench, hand, stated)
            if line is None:
                continue
            done[i] = True
            p, way = line
            bench.lines.append((n, p, along(p, way, 1.0)))
            inner = right_of(way)
            halves = [(kept(h, p, inner), kept(h, p, (-inner[0], -inner[1]))) for h in pieces]
            pieces = [h for pair in halves for h in pair if h is not None]
        hands += pieces
    for stated, found in zip(action.lines, done, strict=True):
        bench.touched.add(stated.start.part)
        if not found:
            raise slip("missing", item=bench.item(stated.start.part))
    bench.hands = hands


def snip(bench: Bench, action: Snip) -> None:
    """Cut some of the layers of a hand along a line, and keep of each what is larger."""
    n = hand_with(bench, action.line.start, action.line.end)
    hand, parts = bench.hands[n], set(action.parts)
    line = line_in(bench, hand, action.line)
    if line is None:
        raise slip("missing", item=bench.item(action.line.start.part))
    inner, sheets = right_of(line[1]), []
    for sheet in hand.sheets:
        if not {f.part for f in sheet.facets} <= parts:
            sheets.append(sheet)
            continue
        sides = [kept_sheet(sheet, line[0], way) for way in (inner, (-inner[0], -inner[1]))]
        sheets.append(max((s for s in sides if s is not None), key=lambda s: sum(area(f.ring) for f in s.facets)))
        parts -= {f.part for f in sheet.facets}
    if parts:
        raise slip("missing", item=bench.item(min(parts)))
    bench.lines.append((n, line[0], along(line[0], line[1], 1.0)))
    bench.hands[n] = msgspec.structs.replace(hand, sheets=tuple(sheets))


def holder(bench: Bench, corner: Spot) -> int:
    """The number of the hand that holds a corner: of several that do, the smallest. Raises Slip for none."""
    first = hand_with(bench, corner)
    found = [n for n, h in enumerate(bench.hands) if not h.waste and spot_in(bench, h, corner) is not None]
    assert first in found
    return min(found, key=lambda n: max(sum(area(f.ring) for f in s.facets) for s in bench.hands[n].sheets))


def discard(bench: Bench, action: Discard) -> None:
    """Put aside what holds a corner: of several hands that do, the smallest."""
    least = holder(bench, action.corner)
    bench.hands[least] = msgspec.structs.replace(bench.hands[least], waste=True)


def open_up(bench: Bench, action: Open) -> None:
    """Open the hands that hold pieces face to face."""
    for part in action.parts:
        bench.item(part)
    wanted, opened, picked = set(action.parts), False, False
    for n, hand in enumerate(bench.hands):
        if hand.waste or len(hand.sheets) < 2 or not wanted <= hand.parts:
            continue
        while len(hand.sheets) > 1:
            hand, more = _opened(bench, hand, action)
            picked = picked or more
        bench.hands[n], opened = hand, True
    if not opened:
        raise slip("loose")
    if picked and not action.picked:
        raise slip("shut")
    if action.picked and not picked:
        bench.miss("picked")


def _opened(bench: Bench, hand: OnTable, action: Open) -> tuple[OnTable, bool]:
    """A hand with the sheets folded over that its longest line of stitches holds, and whether others were in the
    way."""
    if not hand.stitches:
        raise slip("loose")
    groups = _in_lines(hand.stitches)
    longest = max(groups, key=lambda g: sum(apart(a, b) for a, b in g))
    start, end = _ends(longest)
    way = unit(minus(end, start))
    base, uppers = hand.sheets[0], list(hand.sheets[1:])
    held_here = [s for s in uppers if any(under(s, middle(a, b)) is not None for a, b in longest)]
    if not held_here or all(under(base, middle(a, b)) is None for a, b in longest):
        raise slip("loose")
    rest = [s for s in uppers if s not in held_here]
    others = [s for g in groups if g is not longest for s in g]
    in_way = [s for s in others if any(under(u, middle(*s)) is not None for u in held_here)]
    inner = right_of(way)
    parts = [kept(OnTable((base, *held_here)), start, v) for v in (inner, (-inner[0], -inner[1]))]
    if _cloth(parts[1]) > _cloth(parts[0]):
        inner = (-inner[0], -inner[1])
    side = _pressed(bench, base, held_here, start, end, inner, action)
    lower = kept_sheet(base, start, inner, SEWN)
    fold = folding(start, way)
    folded = [carry_sheet(fold, s) for u in held_here if (s := kept_sheet(u, start, inner, SEWN)) is not None]
    if lower is None or not folded:
        raise slip("loose")
    seam = Sewn(start, end, side, action.spun, by=bench.now)
    new = Sheet(
        tuple(f for s in (lower, *folded) for f in s.facets), (*(q for s in (lower, *folded) for q in s.seams), seam)
    )
    stitches = tuple(s for s in others if s not in in_way)
    stitches = tuple(line for a, b in stitches if (line := kept_line(a, b, start, inner)) is not None)
    return OnTable((new, *rest), stitches), bool(in_way)


def _cloth(hand: OnTable | None) -> float:
    return 0.0 if hand is None else sum(area(f.ring) for f in hand.facets)


def _in_lines(stitches: tuple[tuple[XY, XY], ...]) -> list[list[tuple[XY, XY]]]:
    """Stitches put together that lie in one line."""
    groups: list[list[tuple[XY, XY]]] = []
    for a, b in stitches:
        for group in groups:
            p, q = group[0]
            way = unit(minus(q, p))
            if abs(cross(minus(a, p), way)) < 1e-3 and abs(cross(minus(b, p), way)) < 1e-3:
                group.append((a, b))
                break
        else:
            groups.append([(a, b)])
    return groups


def _ends(group: list[tuple[XY, XY]]) -> tuple[XY, XY]:
    p, q = group[0]
    way = unit(minus(q, p))
    points = sorted((end for line in group for end in line), key=lambda r: dot(minus(r, p), way))
    return points[0], points[-1]


def _pressed(bench: Bench, base: Sheet, uppers: list[Sheet], start: XY, end: XY, inner: XY, action: Open) -> int:
    """To which side of the line from `start` to `end` the allowances go: 1 right, -1 left, 0 open.

    The base stays on the side to which `inner` points, the others are folded to the other.
    """
    if action.toward == OPEN:
        return 0
    there = 1 if dot(inner, right_of(minus(end, start))) > 0 else -1
    spot = action.toward
    for sheets, side in (((base,), there), (tuple(uppers), -there)):
        hand = OnTable(tuple(sheets))
        if isinstance(spot, int):
            facets = [f for f in hand.facets if f.part == spot]
        else:
            found = spot_in(bench, hand, spot)
            facets = [found[1]] if found is not None else []
        if facets:
            if not action.spun:
                return side
            late = dot(minus(centroid(facets[0].ring), middle(start, end)), minus(end, start)) > 0
            return side if late else -side
    part = spot if isinstance(spot, int) else spot.part
    raise slip("missing", item=bench.item(part))
