"""Strips that are joined anyway take what is left at the ends of other strips, where that leaves less cloth to buy.

Binding, borders, sashing and sleeves are joined end to end, so that an end of another strip serves them as well as one
of their own. Each join has to be sewn: none is told that does not save a step in which the cloth is sold, and no end is
taken that is shorter than a quarter of the usable width.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import TypeAlias

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Pattern
from patternkit.piecing.joined import JoinedStrip
from patternkit.piecing.names import BINDING
from patternkit.plan.cutting import CutPlan, CuttingSettings, Strip, to_buy
from patternkit.plan.finishing import joining
from patternkit.plan.joining import Joining, Rest, joined_strips, whole_strips
from patternkit.plan.model import Binding, CutLine, FabricPlan, LongStrip, Plan

SHORTEST = Fraction(1, 4)
"""How much of the usable width an end must have to be joined: common practice, no source."""


class _Wanted(msgspec.Struct, frozen=True):
    """Strips of one line that are joined: the line, the lengths wanted of them, how they are joined, and how many whole
    ones that takes."""

    line: CutLine
    lengths: Sequence[tuple[Length, int]]
    way: Joining
    strips: int

    def joins(self, rests: Sequence[Rest]) -> tuple[JoinedStrip, ...]:
        """How they are joined given what is left of others."""
        return joined_strips(self.lengths, self.way, self.strips, rests)


Joins: TypeAlias = Mapping[tuple[str, Length, str], tuple[JoinedStrip, ...]]
"""How strips are joined, by their fabric, their height and what they are for."""


def with_rests(plan: Plan, pattern: Pattern, settings: Callable[[FabricPlan], CuttingSettings]) -> Plan:
    """The plan with rests joined to strips, wherever a fabric is bought in fewer steps by it.

    `settings` gives what the cutting planner was told of a fabric.
    """
    fabrics, joins = dict(plan.fabrics), dict[tuple[str, Length, str], tuple[JoinedStrip, ...]]()
    for key, found in plan.fabrics.items():
        wanted = [w for line in found.lines if (w := _wanted(line, plan, pattern)) is not None]
        if found.sheets is not None or not wanted:
            continue
        own, wish = _fewer(found, wanted, settings(found)), settings(found)
        joins |= own
        done = _cut_from(found, own, wish) if own else found
        fabrics[key] = _proved(done, _free(found, wanted, _whole(found, wanted)), wish)
    return with_joins(msgspec.structs.replace(plan, fabrics=fabrics), joins)


def with_joins(plan: Plan, joins: Joins) -> Plan:
    """A plan, or the draft of one, whose strips are joined in these ways; `plan.rests` keeps them."""

    def line(x: CutLine) -> CutLine:
        own = joins.get(_key(x))
        return x if own is None or x.cut.then != "strip" else msgspec.structs.replace(x, count=whole_strips(own))

    def long(x: LongStrip) -> LongStrip:
        own = next((joins[_key(i)] for i in plan.lines if _key(i) in joins and _is_for(i, x)), None)
        return x if own is None else msgspec.structs.replace(x, strips=whole_strips(own), joins=own)

    bound = plan.binding
    if bound is not None:
        own = next((joins[_key(i)] for i in plan.lines if _key(i) in joins and _is_for(i, bound)), None)
        if own is not None:
            gives = next(_long(one, bound) for one in own if one.cuts)
            bound = msgspec.structs.replace(bound, strips=whole_strips(own), joins=own, gives=gives)
    return msgspec.structs.replace(
        plan,
        lines=tuple(map(line, plan.lines)),
        long_strips=tuple(map(long, plan.long_strips)),
        sleeve=None if plan.sleeve is None else long(plan.sleeve),
        binding=bound,
        rests=joins,
    )


def _key(line: CutLine) -> tuple[str, Length, str]:
    return line.fabric, line.cut.height, line.called


def _long(one: JoinedStrip, binding: Binding) -> Length:
    ends = sum((length * n for length, n in one.ends), Length(0))
    return binding.usable * one.wholes + ends - binding.join * (one.parts - 1)


def _is_for(line: CutLine, joined: LongStrip | Binding) -> bool:
    """Whether a line is that of strips that are joined."""
    height = joined.height if isinstance(joined, LongStrip) else joined.width
    same = line.cut.then == "strip" and (line.fabric, line.cut.height) == (joined.fabric, height)
    return same and (line.use == joined.use if isinstance(joined, LongStrip) else line.use == (BINDING,))


def _wanted(line: CutLine, plan: Plan, pattern: Pattern) -> _Wanted | None:
    """What is joined of a line's strips, if anything is."""
    longs = (*plan.long_strips, *([plan.sleeve] if plan.sleeve is not None else []))
    for long in longs:
        if _is_for(line, long):
            way = joining(pattern.fabrics[long.fabric].usable_width, long.join, pattern)
            return _Wanted(line, [(length, n) for length, n, _ in long.lengths], way, long.strips)
    binding = plan.binding
    if binding is not None and not binding.bias and _is_for(line, binding):
        return _Wanted(line, [(binding.total, 1)], Joining(binding.usable, binding.join), binding.strips)
    return None


# -- whether it saves cloth -------------------------------------------------------------------------------
def _fewer(found: FabricPlan, wanted: Sequence[_Wanted], settings: CuttingSettings) -> Joins:
    """The ways of joining that leave fewest steps to buy, with as few rests as do; empty where none leaves fewer."""
    rests, saved = rests_of(found, settings), 0
    least = to_buy(found.plan.length, settings)[1]
    best: Joins = {}
    now: Joins = {}
    for want in sorted(wanted, key=lambda w: -float(w.line.cut.height)):
        height = want.line.cut.height
        joins = want.joins([rest for rest in rests if rest.of >= height])
        fewer = want.line.count - whole_strips(joins)
        if fewer <= 0:
            continue
        for one in joins:
            for _ in range(one.count):
                if one.of is not None and one.left is not None:
                    rests.remove(Rest(one.left, one.of))
        now = {**now, _key(want.line): joins}
        saved += fewer * int((height * found.scale).ceil_to(Fraction(1)))
        lots = to_buy(found.plan.length - saved, settings)[1]
        if lots < least:
            best, least = now, lots
    return best


def rests_of(found: FabricPlan, settings: CuttingSettings) -> list[Rest]:
    """What is left at the ends of a fabric's strips that are long enough to be joined, the longest first."""
    rests = []
    for strip in found.plan.strips:
        if strip.kind == "cut" and not strip.source:
            left = settings.room - sum(segment.width for segment in strip.segments)
            if left >= settings.width * SHORTEST:
                one = Rest(Length(Fraction(left) / found.scale), Length(Fraction(strip.height) / found.scale))
                rests += [one] * strip.copies
    return sorted(rests, key=lambda rest: -float(rest.long))


def _whole(found: FabricPlan, wanted: Sequence[_Wanted]) -> int:
    """How much of the length the whole strips take that are joined."""
    own = {want.line.id for want in wanted}
    return sum(s.height * s.copies for s in found.plan.strips if s.kind == "full" and s.cuts[0].piece in own)


def _cut_from(found: FabricPlan, joins: Joins, settings: CuttingSettings) -> FabricPlan:
    """A fabric's plan with fewer whole strips."""
    fewer = {x.id: whole_strips(joins[_key(x)]) for x in found.lines if _key(x) in joins and x.cut.then == "strip"}
    strips = list[Strip]()
    for strip in found.plan.strips:
        own = strip.cuts[0].piece if strip.kind == "full" else ""
        copies = fewer.get(own, strip.copies)
        strips += [msgspec.structs.replace(strip, copies=copies)] if copies else []
    lines = tuple(msgspec.structs.replace(x, count=fewer.get(x.id, x.count)) for x in found.lines)
    saved = sum(s.height * s.copies for s in found.plan.strips) - sum(s.height * s.copies for s in strips)
    done = _shorter(found.plan, tuple(strips), found.plan.length - saved, settings)
    used, buy = (Length(Fraction(x) / found.scale) for x in (done.length, done.buy))
    least = Length(Fraction(done.bound_buy) / found.scale)
    return msgspec.structs.replace(found, lines=lines, plan=done, used=used, buy=buy, least=least)


def _shorter(done: CutPlan, strips: tuple[Strip, ...], length: int, settings: CuttingSettings) -> CutPlan:
    saved = done.length - length
    bought, lots = to_buy(length, settings)
    bound = done.bound - saved
    return msgspec.structs.replace(
        done, strips=strips, length=length, buy=bought, lots=lots, bound=bound, bound_buy=to_buy(bound, settings)[0]
    )


# -- what can be proved of it -----------------------------------------------------------------------------
def _free(found: FabricPlan, wanted: Sequence[_Wanted], whole: int) -> int:
    """How long the cloth must be however it is cut, so that strips that are joined may come from anywhere: as long as
    everything else wants it, and as the area of all pieces does. `whole` is what whole strips to join took of the
    planner's own bound. A single joined strip has a join for each whole strip beyond the first."""
    own = {want.line.id for want in wanted}
    area = Length(0)
    for line in found.lines:
        if line.id not in own and line.cut.then not in ("strip", "template"):
            area += line.cut.width * line.cut.height * line.count
    for want in wanted:
        long = sum((length * n for length, n in want.lengths), Length(0))
        lone = len(want.lengths) == 1 and want.lengths[0][1] == 1
        seams = int((long / want.way.usable).ceil_to(Fraction(1))) - 1 if lone else 0
        area += (long + want.way.join * seams) * want.line.cut.height
    by_area = (area / found.fabric.usable_width * found.scale).ceil_to(Fraction(1))
    return max(found.plan.free - whole, int(by_area))


def _proved(found: FabricPlan, free: int, settings: CuttingSettings) -> FabricPlan:
    """A fabric's plan with what is proved of it once strips that are joined may be cut anywhere; beyond that the proof
    holds for as many whole strips as are told."""
    done = found.plan
    free = min(free, done.length)
    any_way = to_buy(free, settings)[0]
    bound = max(done.bound, free)
    least = to_buy(bound, settings)[0]
    plan = msgspec.structs.replace(
        done,
        free=free,
        free_buy=any_way,
        bound=bound,
        bound_buy=least,
        status="proved" if done.buy == any_way else "proved for strips" if done.buy == least else "bounded",
        gap=Fraction(done.length, bound) - 1 if bound else Fraction(0),
        gap_buy=Fraction(done.buy) / Fraction(least) - 1 if least else Fraction(0),
    )
    return msgspec.structs.replace(found, plan=plan, least=Length(Fraction(least) / found.scale), joins=True)
