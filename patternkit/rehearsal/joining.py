"""Raw edges sewn together: two hands joined and opened flat, seams that close within one hand, mitred corners."""

from __future__ import annotations

from itertools import pairwise

import msgspec

from patternkit.piecing.batch import OPEN, Edge, End, Join
from patternkit.rehearsal.bench import Bench
from patternkit.rehearsal.edges_met import BAND, MEET, PLACE, Side, between_seams, by_seams
from patternkit.rehearsal.gaps import Gap, Slip, slip
from patternkit.rehearsal.joints import count_locks
from patternkit.rehearsal.partly import sewn_partly
from patternkit.rehearsal.plane import (
    CUT,
    SEWN,
    XY,
    Move,
    allowed,
    along,
    apart,
    area,
    bearing,
    bringing,
    centroid,
    clipped,
    common,
    cross,
    dot,
    is_convex,
    joined,
    meeting,
    middle,
    minus,
    right_of,
    spans,
    stretching,
    taken_in,
    turn_between,
    unit,
)
from patternkit.rehearsal.table import Facet, OnTable, Sewn, Sheet, carry, edge_lines, has_arcs

CURVES = 2 * MEET  # the chords of a narrow arc make its seam line a little shorter on one side, longer on the other


def side_of(bench: Bench, hand: OnTable, edges: tuple[Edge, ...], curved: bool) -> Side:
    """The edges of a hand that are to be sewn, in one line or along a curve."""
    lines = [(a, b, e) for e in edges for a, b in edge_lines(hand, e.part, e.n)]
    if not curved:
        p, q = max(lines, key=lambda line: apart(line[0], line[1]))[:2]
        way = unit(minus(q, p))
        lines.sort(key=lambda line: dot(minus(line[0], p), way))
    first, last = lines[0], lines[-1]
    chord = unit(minus(last[1], first[0]))
    begin, begin_angle = _inner_end(bench, hand, first, True, curved)
    stop, stop_angle = _inner_end(bench, hand, last, False, curved)
    lengths = _seam_lines(bench, hand, [e for _, _, e in lines])
    if lengths:
        begin, stop = lengths[0][0], lengths[-1][1]
    if curved:
        length = sum(apart(a, b) for a, b, _ in lines)
        return Side(
            edges, first[0], last[1], chord, begin, stop, (begin_angle, stop_angle), 0.0, length,
            sum(apart(a, b) for a, b in lengths),
        )  # fmt: skip
    p = lines[0][0]
    way = unit(minus(max(lines, key=lambda line: apart(line[0], line[1]))[1], p)) if len(lines) == 1 else chord
    offs = [cross(way, minus(end, p)) for a, b, _ in lines for end in (a, b)]
    stretches = joined(((dot(minus(a, p), way), dot(minus(b, p), way)) for a, b, _ in lines), MEET)
    nick = bench.seam if all(bench.shapes[e.part].tips for e in edges) else 0.0  # in the allowance, where tips meet
    holes = [far for a, b in pairwise(stretches) if (far := b[0] - a[1]) > nick]
    reach = max([max(offs) - min(offs), *holes])
    low, high, base = stretches[0][0], stretches[-1][1], along(p, right_of(way), sum(offs) / len(offs))
    return Side(
        edges, along(base, way, low), along(base, way, high), way, begin, stop, (begin_angle, stop_angle), reach,
        high - low, apart(begin, stop),
    )  # fmt: skip


def _inner_end(
    bench: Bench, hand: OnTable, line: tuple[XY, XY, Edge], at_start: bool, curved: bool
) -> tuple[XY, float]:
    """Where the seam line of an edge begins (or ends), and the angle of the cloth there in degrees. A curve, which may
    touch the edge at its end, begins a seam inside the short edge that is cut there."""
    a, b, edge = line
    way, s = unit(minus(b, a)), bench.seam
    base, tips = along(a, right_of(way), s), () if curved else bench.shapes[edge.part].tips
    for f in hand.facets:
        n = len(f.ring)
        for i in range(n):
            if f.part != edge.part or f.labels[i] != edge.n or apart(f.ring[i], a) > 1e-6:
                continue
            j = (i - 1) % n if at_start else (i + 1) % n
            while f.labels[j] in tips and j != i:  # the point of the seam line is that of the whole shape
                j = (j - 1) % n if at_start else (j + 1) % n
            p, q = f.ring[j], f.ring[(j + 1) % n]
            beside = unit(minus(q, p))
            into = 0.0 if f.labels[j] == SEWN else s
            met = meeting(base, way, along(p, right_of(beside), into), beside)
            angle = 180 - turn_between(bearing(way), bearing(beside))
            if met is not None and abs(cross(way, beside)) > 0.02:
                return met, angle
            return (base if at_start else along(base, way, apart(a, b))), 180.0
    return (base if at_start else along(base, way, apart(a, b))), 90.0


def _seam_lines(bench: Bench, hand: OnTable, edges: list[Edge]) -> list[tuple[XY, XY]]:
    """The seam lines of some edges, in their order, of pieces with arcs: what is left of each where all raw edges are
    taken in by a seam. Nothing for other pieces."""
    names = {(e.part, e.n) for e in edges}
    found: dict[tuple[int, int], tuple[XY, XY]] = {}
    for f in hand.facets:
        if any((f.part, label) in names for label in f.labels) and has_arcs(f.ring):
            ring, left = taken_in(f.ring, [bench.seam if label != SEWN else 0.0 for label in f.labels])
            found |= {(f.part, f.labels[i]): (ring[k], ring[(k + 1) % len(ring)]) for k, i in enumerate(left)}
    return [found[e.part, e.n] for e in edges if (e.part, e.n) in found]


# -- joining ----------------------------------------------------------------------------------------------
def join(bench: Bench, action: Join) -> None:
    """Sew two hands together along raw edges, or close a seam within one."""
    if action.curved:
        action = msgspec.structs.replace(action, left=_left_of(bench, action.left), right=_left_of(bench, action.right))
    n, m = bench.with_edges(action.left), bench.with_edges(action.right)
    left = side_of(bench, bench.hands[n], action.left, action.curved)
    right = side_of(bench, bench.hands[m], action.right, action.curved)
    for side in (left, right):
        if side.reach > allowed(MEET, side.length):
            raise slip("line", 0, side.reach)
    if n == m:
        hand = _closed(bench, n, left, right, action)
    else:
        hand = _brought(bench, n, m, left, right, action)
    if action.toward != OPEN and action.toward not in bench.hands[n].parts | bench.hands[m].parts:
        raise slip("missing", item=bench.item(action.toward))
    bench.hands[n] = hand
    if n != m:
        del bench.hands[m]


def _left_of(bench: Bench, edges: tuple[Edge, ...]) -> tuple[Edge, ...]:
    """The edges of an arc of which anything is left: short ones at its ends may have gone in an earlier seam."""
    hands = [hand for hand in bench.hands if not hand.waste]
    return tuple(e for e in edges if any(edge_lines(hand, e.part, e.n) for hand in hands)) or edges


def _brought(bench: Bench, n: int, m: int, left: Side, right: Side, action: Join) -> OnTable:
    """The hand on the right laid against the one on the left, sewn and opened."""
    hand, other = bench.hands[n], bench.hands[m]
    if len(hand.sheets) > 1 or len(other.sheets) > 1:
        raise slip("fold")
    if action.eased or action.fit == "measured":
        if action.fit == "measured" and right.length < left.length - PLACE:
            raise slip("edges", left.length, right.length)
        other, right = _stretched(bench, other, left, right, action)
    _equal(left, right, action)
    if action.fit in ("seams", "across"):
        move = by_seams(bench, n, m, left, right, action.fit == "across")
    elif action.fit == "between":
        move = between_seams(bench, n, left, right)
    else:
        move = _placing(bench, left, right, action)
    laid = carry(move, other)
    if _stops_within(action):
        right = side_of(bench, laid, action.right, False)
    if action.curved:
        return _sewn(bench, hand, laid, (left.inner_first, left.inner_last), left, right, action)
    s = bench.seam
    base = along(left.first, right_of(left.way), s)
    ends = _stitched(hand, laid, base, left, right, action)
    return _sewn(bench, hand, laid, ends, left, right, action)


def _stops_within(action: Join) -> bool:
    """Whether a seam stops, or begins, at a corner of one edge beyond which the other may go on."""
    return action.fit in ("start", "end") and "seam" in (action.start, action.stop)


def _stretched(bench: Bench, other: OnTable, left: Side, right: Side, action: Join) -> tuple[OnTable, Side]:
    """The hand on the right made as long as the edge it is sewn to."""
    by_seam = action.curved or action.fit == "points"
    want, have = (left.inner_length, right.inner_length) if by_seam else (left.length, right.length)
    new = carry(stretching(right.first, right.way, want / have), other)
    return new, side_of(bench, new, action.right, action.curved)


def _equal(left: Side, right: Side, action: Join) -> None:
    """Refuse edges that are not as long as each other where they have to be."""
    if _stops_within(action):
        return
    if action.curved or action.fit == "points" or ("seam" in (action.start, action.stop) and not action.ears):
        both_seams = action.start == action.stop == "seam"
        if action.curved or action.fit == "points" or both_seams:
            slack = CURVES if action.curved else MEET
            if abs(left.inner_length - right.inner_length) > allowed(slack, left.inner_length):
                raise slip("seam lines", left.inner_length, right.inner_length)
            return
    if action.ears or action.partial == "begun":
        return
    if abs(left.length - right.length) > allowed(MEET, left.length):
        raise slip("edges", left.length, right.length)


def _placing(bench: Bench, left: Side, right: Side, action: Join) -> Move:
    """The move that brings the hand on the right against the one on the left, seam line on seam line."""
    s, way, back = bench.seam, left.way, (-left.way[0], -left.way[1])
    line = along(left.first, right_of(way), s)
    own = along(right.first, right_of(right.way), s)
    lows = (0.0, left.length, 0.0, right.length)  # along each side's own way: the ends of left, of right
    p0, p1, q0, q1 = lows
    if _stops_within(action):  # the ends of the seam lines meet at one end
        last = action.fit == "end"
        mine, its = (left.inner_last, right.inner_first) if last else (left.inner_first, right.inner_last)
        return bringing(along(own, right.way, dot(minus(its, own), right.way)), right.way,
                        along(line, way, dot(minus(mine, line), way)), back)  # fmt: skip
    if action.curved or action.fit in ("points", "crossed") or action.start == action.stop == "seam":
        mine, its = middle(left.inner_first, left.inner_last), middle(right.inner_first, right.inner_last)
        if action.curved:
            return bringing(its, minus(right.inner_last, right.inner_first), mine,
                            minus(left.inner_first, left.inner_last))  # fmt: skip
        return bringing(along(own, right.way, dot(minus(its, own), right.way)), right.way,
                        along(line, way, dot(minus(mine, line), way)), back)  # fmt: skip
    fit = action.fit
    if fit == "level" and action.start == "seam":  # where a seam stops before the edge its other end is level
        fit = "end" if not action.ears else fit
    if fit == "level" and action.stop == "seam":
        fit = "start" if not action.ears else fit
    if fit == "start":
        return bringing(along(own, right.way, q1), right.way, line, back)
    if fit == "end":
        return bringing(own, right.way, along(line, way, p1), back)
    to = (p0 + p1) / 2
    if fit == "slid":
        sharper = left.angles[0] < right.angles[1] - 1e-6  # at the first end of left: its tip reaches out
        to += float(action.slide) * (1 if sharper else -1)
    return bringing(along(own, right.way, (q0 + q1) / 2), right.way, along(line, way, to), back)


def _stitched(hand: OnTable, laid: OnTable, base: XY, left: Side, right: Side, action: Join) -> tuple[XY, XY]:
    """The ends of the line of stitches: where both hands have cloth, or at the corners of the seam lines."""
    covers = [joined(t for f in h.facets for t in spans(f.ring, base, left.way)) for h in (hand, laid)]
    runs = [r for r in common(*covers) if r[1] > 1e-4 and r[0] < left.length - 1e-4]
    if not runs:
        raise slip("loose")
    low, high = min(r[0] for r in runs), max(r[1] for r in runs)
    if action.start == "seam":
        low = dot(minus(left.inner_first, base), left.way)
    if action.stop == "seam":
        high = dot(minus(left.inner_last, base), left.way)
    if _stops_within(action):  # at the corner that comes first
        low = max(low, dot(minus(right.inner_last, base), left.way)) if action.start == "seam" else low
        high = min(high, dot(minus(right.inner_first, base), left.way)) if action.stop == "seam" else high
    if action.partial == "begun" and action.fit == "end":
        low = (low + high) / 2
    elif action.partial == "begun":
        high = (low + high) / 2
    return along(base, left.way, low), along(base, left.way, high)


def _sewn(
    bench: Bench, hand: OnTable, laid: OnTable, ends: tuple[XY, XY], left: Side, right: Side, action: Join
) -> OnTable:
    """Both hands opened flat along a line of stitches."""
    start, end = ends
    if "seam" in (action.start, action.stop):
        _through(bench, hand, laid, ends, action)
    side = _side(action, hand, laid, start, end)
    count_locks(bench, hand, laid, start, end, action)
    if action.partial == "begun":
        bench.begun.append((hand.parts, laid.parts))
    else:
        hand = _allowance_in(bench, hand, left, start, end, action, (action.start, action.stop))
        laid = _allowance_in(bench, laid, right, end, start, action, (action.stop, action.start))
    seam = Sewn(start, end, side, action.spun, 0, action.curved, action.partial == "begun", bench.now)
    a, b = hand.sheets[0], laid.sheets[0]
    bench.lines.append((0, start, end))
    return OnTable((Sheet((*a.facets, *b.facets), (*a.seams, *b.seams, seam)),))


def _side(action: Join, hand: OnTable, laid: OnTable, start: XY, end: XY) -> int:
    """To which side the allowances go: the hand on the left lies to the right of its edge, as walked."""
    if action.toward == OPEN:
        return 0
    side = 1 if action.toward in hand.parts else -1
    if not action.spun:
        return side
    facets = [f for h in (hand, laid) for f in h.facets if f.part == action.toward]
    if not facets:
        return side
    late = dot(minus(centroid(facets[0].ring), middle(start, end)), minus(end, start)) > 0
    return side if late else -side


def _allowance_in(
    bench: Bench, hand: OnTable, side: Side, start: XY, end: XY, action: Join, ends: tuple[End, End] | None = None
) -> OnTable:
    """A hand without what lies beyond the stitches: that is allowance, and shows no more.

    `start` to `end` runs clockwise round this hand, from the first of `ends` to the second. Without those the seam is
    closing: the other side lies beyond the stitches already.
    """
    names = {(e.part, e.n) for e in side.edges}
    way = unit(minus(end, start))
    far = apart(start, end)
    low, high = 0.0, far
    if ends is not None:
        low += BAND * bench.seam if ends[0] == "seam" else 0.0
        high -= BAND * bench.seam if ends[1] == "seam" else 0.0
    else:
        low, high = 1.0, 0.0
    inner = right_of(way)
    rest = _left_raw(side, start, end, way, action)
    mine = {e.part for e in side.edges}
    away = {p for pair in bench.begun for group in pair if not group & mine for p in group}  # folded out of the way
    facets = []
    for f in hand.sheets[0].facets:
        own = any((f.part, label) in names for label in f.labels)
        if own and (action.curved or not is_convex(f.ring)):
            ring, kept = taken_in(f.ring, [bench.seam if (f.part, label) in names else 0.0 for label in f.labels])
            labels = tuple(SEWN if (f.part, f.labels[i]) in names else f.labels[i] for i in kept)
            facets.append(Facet(f.part, ring, labels, f.place))
            continue
        if own and any(rest):
            facets.append(sewn_partly(f, *rest, start, way))
            continue
        if own or (
            not action.curved and f.part not in away and high > low and _reaches(f, start, way, low, high, bench.seam)
        ):
            ring, labels = clipped(f.ring, f.labels, start, inner, SEWN)
            if ring:
                facets.append(Facet(f.part, ring, labels, f.place))
            continue
        facets.append(f)
    sheet = hand.sheets[0]
    seams = sheet.seams if action.curved else tuple(_cropped(s, start, inner, low, high) for s in sheet.seams)
    return OnTable((Sheet(tuple(facets), seams),))


def _left_raw(side: Side, start: XY, end: XY, way: XY, action: Join) -> tuple[XY | None, XY | None]:
    """Where a line of stitches begins and stops, if the edge goes on there and stays raw."""
    if not _stops_within(action):
        return None, None
    before, behind = dot(minus(start, side.inner_first), way), dot(minus(side.inner_last, end), way)
    return start if before > PLACE else None, end if behind > PLACE else None


def _cropped(s: Sewn, p: XY, inner: XY, low: float, high: float) -> Sewn:
    """A seam without what lies beyond a line of stitches that crosses it."""
    da, db = dot(minus(s.start, p), inner), dot(minus(s.end, p), inner)
    if (da < -1e-6) == (db < -1e-6):
        return s
    at = along(s.start, minus(s.end, s.start), da / (da - db))
    t = -cross(inner, minus(at, p))
    if not low - 1e-6 <= t <= high + 1e-6:
        return s
    return msgspec.structs.replace(s, start=at) if da < 0 else msgspec.structs.replace(s, end=at)


def _reaches(f: Facet, start: XY, way: XY, low: float, high: float, seam: float) -> bool:
    """Whether a facet reaches over a line of stitches, between two distances along it; not one across a notch, beyond
    but for an allowance at most and deeper than allowances are, which is folded out of the way."""
    outer = right_of(way)
    deep = [-dot(minus(p, start), outer) for p in f.ring]
    if min(deep) > -seam and max(deep) > 3 * seam:
        return False
    ring, labels = clipped(f.ring, f.labels, start, (-outer[0], -outer[1]), CUT)
    if ring:
        ring, labels = clipped(ring, labels, along(start, way, low), way, CUT)
    if ring:
        ring, labels = clipped(ring, labels, along(start, way, high), (-way[0], -way[1]), CUT)
    return bool(ring) and area(ring) > 1e-5 and is_convex(f.ring)


# -- seams that close -------------------------------------------------------------------------------------
def _closed(bench: Bench, n: int, left: Side, right: Side, action: Join) -> OnTable:
    """A seam between edges of one hand, which must lie where they meet."""
    hand = bench.hands[n]
    _equal(left, right, action)
    if action.partial == "closed":
        s = bench.seam
        start, end = along(left.first, right_of(left.way), s), along(left.last, right_of(left.way), s)
        off = max(
            abs(cross(left.way, minus(along(p, right_of(right.way), s), start))) for p in (right.first, right.last)
        )
        off = max(off, abs(dot(minus(right.last, left.first), left.way)))
    else:
        start, end = left.inner_first, left.inner_last
        off = max(apart(start, right.inner_last), apart(end, right.inner_first))
        if _stops_within(action):
            start, end, off = _within(left, right, action)
        # to the raw edge, which an earlier seam may have reached already
        if action.start == "edge":
            start = along(start, left.way, -max(0.0, dot(minus(start, left.first), left.way)))
        if action.stop == "edge":
            end = along(end, left.way, max(0.0, dot(minus(left.last, end), left.way)))
    if off > PLACE:
        raise slip("closes", 0, off)
    _through(bench, hand, hand, (start, end), action)
    side = 0
    if action.toward != OPEN:
        side = 1 if any(e.part == action.toward for e in action.left) else -1
    if action.partial == "closed":
        ends = {e.part for e in action.left} | {e.part for e in action.right}
        bench.begun = [pair for pair in bench.begun if not (pair[0] & ends and pair[1] & ends)]
    old = tuple(s for s in hand.sheets[0].seams if not (s.begun and _same_line(s, start, end)))
    hand = OnTable((Sheet(hand.sheets[0].facets, old),))
    hand = _allowance_in(bench, hand, left, start, end, action)
    hand = _allowance_in(bench, hand, right, end, start, action)
    bench.lines.append((n, start, end))
    sheet = hand.sheets[0]
    seam = Sewn(start, end, side, action.spun, curve=action.curved, by=bench.now)
    return OnTable((Sheet(sheet.facets, (*sheet.seams, seam)),))


def _within(left: Side, right: Side, action: Join) -> tuple[XY, XY, float]:
    """Where a closing seam begins and stops, one of whose edges goes on, and how far the edges are apart."""
    start, end = left.inner_first, left.inner_last
    if action.stop == "seam" and dot(minus(right.inner_first, end), left.way) < 0:
        end = right.inner_first
    if action.start == "seam" and dot(minus(right.inner_last, start), left.way) > 0:
        start = right.inner_last
    met = (end, right.inner_first) if action.fit == "end" else (start, right.inner_last)
    aslant = max(abs(cross(left.way, minus(p, left.inner_first))) for p in (right.inner_first, right.inner_last))
    return start, end, max(apart(*met), aslant)


def _same_line(s: Sewn, start: XY, end: XY) -> bool:
    way = unit(minus(end, start))
    return max(abs(cross(way, minus(p, start))) for p in (s.start, s.end)) < PLACE


def _through(bench: Bench, hand: OnTable, laid: OnTable, ends: tuple[XY, XY], action: Join) -> None:
    """Refuse a set-in corner whose allowance an earlier seam has stitched shut."""
    for stated, at in ((action.start, ends[0]), (action.stop, ends[1])):
        if stated == "edge":
            continue
        for h in (hand, laid):
            for s in h.sheets[0].seams:
                if s.inner or s.curve:
                    continue
                for near, far in ((s.start, s.end), (s.end, s.start)):
                    way = unit(minus(far, near))
                    t = dot(minus(at, near), way)
                    if (
                        abs(cross(way, minus(at, near))) < PLACE
                        and bench.seam / 2 < t < 4 * bench.seam
                        and t < apart(near, far) - bench.seam
                    ):
                        first = s.by or bench.now  # where the stitches went too far
                        raise Slip(Gap("through", passage=first[0], action=first[1], stated=0, out=t))
