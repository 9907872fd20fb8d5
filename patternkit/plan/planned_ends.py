"""Ends of strips that are planned for: what strips that are joined anyway take of others, while these are filled.

What other strips happen to leave at their ends is joined wherever that saves cloth (`rests.py`). Here room is made for
such ends: a whole strip or more of those that are joined is left out of the list, and pieces stand in for the ends that
must make up for it. Where the planner lays these into strips of other pieces, they are taken out again, and what they
leave is an end like any other. So nothing of this has to be trusted: the plan without them is joined and proved as any.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import count

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.joined import JoinedStrip
from patternkit.piecing.making import PieceCut
from patternkit.plan.cutting import CutPlan, CuttingSettings, Leftover, Strip, StripRow, StripSegment, to_buy
from patternkit.plan.joining import Joining, Rest, joined_strips, so_few_do
from patternkit.plan.model import CutLine, FabricPlan

SHORTEST = Fraction(1, 4)
"""How much of the usable width an end must have to be joined: common practice, no source."""
MOST = 3
"""Ends that stand for one whole strip, at most: each is joined by a seam."""
STRIPS = 6
"""How many whole strips of one line are left out, at most."""
END = "end of "

Recut = Callable[[FabricPlan, Sequence[CutLine], bool], FabricPlan | None]
"""Plans a fabric anew for other lines, with the full search or quickly; None where something cannot be cut."""


class WantedStrips(msgspec.Struct, frozen=True):
    """Strips of one line that are joined: the line, the lengths wanted of them, how they are joined, and how many whole
    ones that takes."""

    line: CutLine
    lengths: Sequence[tuple[Length, int]]
    way: Joining
    strips: int

    def joins(self, rests: Sequence[Rest]) -> tuple[JoinedStrip, ...]:
        """How they are joined given what is left of others."""
        return joined_strips(self.lengths, self.way, self.strips, rests)


class _Fewer(msgspec.Struct, frozen=True):
    """So many whole strips of a line are left out, and so many ends of a length stand in for them."""

    want: WantedStrips
    strips: int
    ends: int
    long: Length

    @property
    def lines(self) -> Iterator[CutLine]:
        """What is cut in the place of the line."""
        line, cut = self.want.line, self.want.line.cut
        if line.count > self.strips:
            yield msgspec.structs.replace(line, count=line.count - self.strips)
        end = PieceCut(line.fabric, self.long, cut.height, self.long, cut.height, 1, fixed_grain=True)
        yield msgspec.structs.replace(line, id=END + line.id, cut=end, count=self.ends)


class ClosePlan(msgspec.Struct, frozen=True):
    """The strips of a plan with the least cloth, what they take, and where it is the plan that is printed, what they
    leave."""

    strips: tuple[Strip, ...]
    length: int
    leftovers: tuple[Leftover, ...] = ()


def close_plan(plan: CutPlan, settings: CuttingSettings) -> ClosePlan:
    """The way with the least cloth: the plan itself, or the other way beside one with each size in its own strips."""
    if settings.simple:
        return ClosePlan(plan.other.strips, plan.other.length)
    return ClosePlan(plan.strips, plan.length, plan.leftovers)


def with_room_for_ends(
    found: FabricPlan, lots: int, wanted: Sequence[WantedStrips], settings: CuttingSettings, recut: Recut
) -> ClosePlan | None:
    """The fabric planned so that its strips leave ends for those that are joined, of which all whole ones are still
    there; None where nothing shows that it could take fewer steps of cloth than `lots`, which it takes with the ends
    that are left anyway."""
    if not settings.solver or to_buy(_area(found, wanted), settings)[1] >= lots:
        return None
    quick = recut(found, found.lines, False)
    if quick is None:
        return None
    before, length = close_plan(quick.plan, settings).length, close_plan(found.plan, settings).length
    chosen, after = _chosen(found, before, wanted, settings, recut)
    if not chosen or to_buy(length - (before - after), settings)[1] >= lots:
        return None
    again = recut(found, _lines(found.lines, chosen), True)
    if again is None or again.scale != found.scale:
        return None
    close = close_plan(again.plan, settings)
    if any(strip.source and _has_end(strip) for strip in close.strips):
        return None  # what lies beside a long piece is an end of no strip
    return _cleared(close, [s for s in close_plan(found.plan, settings).strips if s.kind == "full"])


def _chosen(
    found: FabricPlan, length: int, wanted: Sequence[WantedStrips], settings: CuttingSettings, recut: Recut
) -> tuple[list[_Fewer], int]:
    """Whole strips left out one after another, those of the highest first, as long as a quick plan grows shorter by it;
    with the length of the last of these."""
    chosen: list[_Fewer] = []
    for want in sorted(wanted, key=lambda w: -float(w.line.cut.height)):
        now: _Fewer | None = None
        for _ in range(min(STRIPS, want.line.count)):
            tried = []
            for way in _ways(want, now, found, settings):
                again = recut(found, _lines(found.lines, [*chosen, way]), False)
                if again is not None:
                    tried.append((close_plan(again.plan, settings).length, way.ends, way))
            best = min(tried, key=lambda x: x[:2], default=None)
            if best is None or best[0] >= length:
                break
            length, _, now = best
        chosen += [now] if now is not None else []
    return chosen, length


def _area(found: FabricPlan, wanted: Sequence[WantedStrips]) -> int:
    """How long the cloth is if nothing of it falls away but what squaring up takes of other pieces' strips."""
    own = {want.line.id for want in wanted}
    usable, long = found.fabric.usable_width, Length(0)
    room = usable - found.fabric.squaring
    for line in found.lines:
        if line.id not in own and line.cut.then not in ("strip", "template"):
            across = usable if line.cut.along or line.cut.width > room else room
            long += line.cut.width * line.cut.height * line.count / across
    for want in wanted:
        long += sum((length * n for length, n in want.lengths), Length(0)) * want.line.cut.height / usable
    return int((long * found.scale).ceil_to(Fraction(1)))


def _lines(lines: Sequence[CutLine], ways: Sequence[_Fewer]) -> list[CutLine]:
    """The lines with ends in the place of the whole strips that are left out."""
    instead = {way.want.line.id: way for way in ways}
    return [own for line in lines for own in (instead[line.id].lines if line.id in instead else (line,))]


def _ways(want: WantedStrips, now: _Fewer | None, found: FabricPlan, settings: CuttingSettings) -> Iterator[_Fewer]:
    """One whole strip less than now, with each number of ends that make up for it, as short as they may be."""
    strips, before = (now.strips + 1, now.ends) if now is not None else (1, 0)
    shortest = int(-(-settings.width * SHORTEST // 1))
    for ends in range(before + 1, before + MOST + 1):
        least = _least(want, strips, ends) * found.scale
        low, high, first = max(shortest, int(least.ceil_to(Fraction(1)))), settings.room, True
        if low > high or not _make_up(want, strips, ends, high / found.scale):
            continue
        while low < high:
            middle, first = (low if first else (low + high) // 2), False
            if _make_up(want, strips, ends, middle / found.scale):
                high = middle
            else:
                low = middle + 1
        yield _Fewer(want, strips, ends, Length(low / found.scale))
        if low <= settings.room // 2:
            return  # shorter ends hardly lie better, and are more to join


def _least(want: WantedStrips, strips: int, ends: int) -> Length:
    """How long each of so many ends must be at least: a single joined strip takes all of them, and so all joins."""
    whole, way = want.line.count - strips, want.way
    long = sum((length * n for length, n in want.lengths), Length(0))
    lone = len(want.lengths) == 1 and want.lengths[0][1] == 1
    joins = way.join * (whole + ends - 1) if lone else Length(0)
    return (long + joins - way.usable * whole) / ends


def _make_up(want: WantedStrips, strips: int, ends: int, long: Fraction) -> bool:
    """Whether so many ends of a length make up for so many whole strips."""
    rests = (Rest(Length(long), want.line.cut.height),) * ends
    return so_few_do(tuple(want.lengths), want.way, want.strips, rests, want.line.count - strips)


# -- what stands in is taken out again --------------------------------------------------------------------
def _cleared(again: ClosePlan, whole: Sequence[Strip]) -> ClosePlan:
    """A plan without the pieces that stand in for ends, and with all `whole` strips."""
    kept: list[tuple[int | None, Strip]] = []
    for at, strip in enumerate(again.strips):
        segments = tuple(x for x in map(_without_ends, strip.segments) if x is not None)
        if strip.kind != "full" and segments:
            kept.append((at, msgspec.structs.replace(strip, segments=segments)))
    first = [x for x in kept if x[1].kind == "along" or x[1].source]
    rest = [x for x in kept if x not in first] + [(None, strip) for strip in whole]
    laid = first + sorted(rest, key=lambda x: (-x[1].height, x[1].kind == "cut"))
    strips = tuple(strip for _, strip in laid)
    places = {at: new for new, (at, _) in enumerate(laid) if at is not None}
    length = sum(strip.height * strip.copies for strip in strips if not strip.source)
    return ClosePlan(strips, length, _left(again, strips, places))


def _has_end(strip: Strip) -> bool:
    return any(cut.piece.startswith(END) for cut in strip.cuts)


def _without_ends(segment: StripSegment) -> StripSegment | None:
    """A segment without what stands in for ends: a shorter one where it is a single row; None where nothing stays."""
    rows = [(row.height, tuple(c for c in row.cuts if not c.piece.startswith(END))) for row in segment.rows]
    left = tuple(StripRow(height, cuts) for height, cuts in rows if cuts)
    if not left:
        return None
    if len(segment.rows) > 1 or left == segment.rows:
        return StripSegment(segment.width, left)
    return StripSegment(sum(cut.width * cut.number for cut in left[0].cuts), left)


def _left(again: ClosePlan, strips: Sequence[Strip], places: dict[int, int]) -> tuple[Leftover, ...]:
    """What remains of the strips, with the ends that pieces stood in for."""
    freed = {
        at: sum(x.width for x in again.strips[at].segments) - sum(x.width for x in strips[new].segments)
        for at, new in places.items()
    }
    serving = [left for left in again.leftovers if left.serves]
    others = [(x.width, x.height, x.number, x.strip) for x in again.leftovers if not x.serves and x.strip in places]
    over = [(wide + freed.pop(at, 0), high, n, places[at]) for wide, high, n, at in others]
    over += [(wide, strips[places[at]].height, strips[places[at]].copies, places[at]) for at, wide in freed.items()]
    labels = map(str, count(len(serving) + 1))
    real = sorted((x for x in over if x[0] > 0), key=lambda x: (-x[0] * x[1], x[3]))
    return (
        *(msgspec.structs.replace(x, strip=places[x.strip]) for x in serving),
        *(Leftover(next(labels), *x) for x in real),
    )
