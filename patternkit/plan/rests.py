"""Strips that are joined anyway take what is left at the ends of other strips, where that leaves less cloth to buy.

Binding, borders, sashing, sleeves and a strip in the backing are joined end to end, so that an end of another strip
serves them as well as one of their own. Each join has to be sewn: none is told that does not save a step in which the
cloth is sold, and no end is taken that is shorter than a quarter of the usable width.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import TypeAlias

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Pattern
from patternkit.piecing.joined import JoinedStrip
from patternkit.piecing.names import BINDING
from patternkit.plan.cutting import CutPlan, CuttingSettings, Leftover, Strip, to_buy
from patternkit.plan.cutting.proved import figures
from patternkit.plan.finishing import joining
from patternkit.plan.joining import Joining, Rest, whole_strips
from patternkit.plan.model import Binding, CutLine, FabricPlan, LongStrip, Plan, fabric_plan
from patternkit.plan.planned_ends import SHORTEST, Recut, WantedStrips, with_room_for_ends

Joins: TypeAlias = Mapping[tuple[str, Length, str], tuple[JoinedStrip, ...]]
"""How strips are joined, by their fabric, their height and what they are for."""


def with_rests(plan: Plan, pattern: Pattern, settings: Callable[[FabricPlan], CuttingSettings], recut: Recut) -> Plan:
    """The plan with rests joined to strips, wherever a fabric is bought in fewer steps by it.

    `settings` gives what the cutting planner was told of a fabric; `recut` plans it anew, so that ends are left where
    that saves a step.
    """
    fabrics, joins = dict(plan.fabrics), dict[tuple[str, Length, str], tuple[JoinedStrip, ...]]()
    for key, found in plan.fabrics.items():
        wanted = [w for line in found.lines if (w := _wanted(line, plan, pattern)) is not None]
        if found.sheets is None and wanted:
            fabrics[key], own = _with_ends(found, wanted, settings(found), recut)
            joins |= own
    return with_joins(msgspec.structs.replace(plan, fabrics=fabrics), joins)


def with_joins(plan: Plan, joins: Joins) -> Plan:
    """A plan, or the draft of one, whose strips are joined in these ways; `plan.rests` keeps them."""

    def own(joined: LongStrip | Binding) -> tuple[JoinedStrip, ...] | None:
        return next((joins[_key(x)] for x in plan.lines if _key(x) in joins and _is_for(x, joined)), None)

    def line(x: CutLine) -> CutLine:
        found = joins.get(_key(x)) if x.cut.then == "strip" else None
        return x if found is None else msgspec.structs.replace(x, count=whole_strips(found))

    def long(x: LongStrip) -> LongStrip:
        found = own(x)
        return x if found is None else msgspec.structs.replace(x, strips=whole_strips(found), joins=found)

    bound = plan.binding
    if bound is not None and (found := own(bound)) is not None:
        gives = next(_long(one, bound) for one in found if one.cuts)
        bound = msgspec.structs.replace(bound, strips=whole_strips(found), joins=found, gives=gives)
    back = plan.backing
    if back is not None and back.strip is not None:
        back = msgspec.structs.replace(back, strip=long(back.strip))
    return msgspec.structs.replace(
        plan,
        lines=tuple(map(line, plan.lines)),
        backing=back,
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


def _wanted(line: CutLine, plan: Plan, pattern: Pattern) -> WantedStrips | None:
    """What is joined of a line's strips, if anything is."""
    between = plan.backing.strip if plan.backing is not None else None
    for long in (*plan.long_strips, *(x for x in (plan.sleeve, between) if x is not None)):
        if _is_for(line, long):
            way = joining(pattern.fabrics[long.fabric].usable_width, long.join, pattern)
            return WantedStrips(line, [(length, n) for length, n, _ in long.lengths], way, long.strips)
    binding = plan.binding
    if binding is not None and not binding.bias and _is_for(line, binding):
        return WantedStrips(line, [(binding.total, 1)], Joining(binding.usable, binding.join), binding.strips)
    return None


# -- whether it saves cloth -------------------------------------------------------------------------------
def _fewer(
    strips: Sequence[Strip], length: int, scale: Fraction, wanted: Sequence[WantedStrips], settings: CuttingSettings
) -> tuple[Joins, int]:
    """The ways of joining that leave fewest steps to buy, with as few rests as do, and the length they save; none where
    none leaves fewer."""
    rests, saved = rests_of(strips, scale, settings), 0
    least, best = to_buy(length, settings)[1], 0
    chosen: Joins = {}
    now: Joins = {}
    for want in sorted(wanted, key=lambda w: -float(w.line.cut.height)):
        height = want.line.cut.height
        joins = want.joins([rest for rest in rests if rest.of >= height])
        fewer = want.line.count - whole_strips(joins)
        if fewer <= 0:
            continue
        for rest in _taken(joins):
            rests.remove(rest)
        now = {**now, _key(want.line): joins}
        saved += fewer * int((height * scale).ceil_to(Fraction(1)))
        lots = to_buy(length - saved, settings)[1]
        if lots < least:
            chosen, least, best = now, lots, saved
    return chosen, best


def _taken(joins: Sequence[JoinedStrip]) -> list[Rest]:
    """The rests that are joined, each as often as it is."""
    return [
        Rest(one.left, one.of) for one in joins for _ in range(one.count) if one.of is not None and one.left is not None
    ]


def rests_of(strips: Sequence[Strip], scale: Fraction, settings: CuttingSettings) -> list[Rest]:
    """What is left at the ends of strips that are long enough to be joined, the longest first."""
    rests = []
    for strip in strips:
        if strip.kind == "cut" and not strip.source:
            left = settings.room - sum(segment.width for segment in strip.segments)
            if left >= settings.width * SHORTEST:
                one = Rest(Length(Fraction(left) / scale), Length(Fraction(strip.height) / scale))
                rests += [one] * strip.copies
    return sorted(rests, key=lambda rest: -float(rest.long))


def _with_ends(
    found: FabricPlan, wanted: Sequence[WantedStrips], settings: CuttingSettings, recut: Recut
) -> tuple[FabricPlan, Joins]:
    """A fabric's plan with the ends that it leaves anyway joined, or with those that are planned for where it takes
    fewer steps so."""
    done, joins = _joined(found, wanted, settings)
    lots = to_buy(done.plan.length, settings)[1]
    if settings.simple:
        lots = int(done.plan.close_buy / settings.lot)
    again = with_room_for_ends(found, lots, wanted, settings, recut)
    if again is None:
        return done, joins
    if settings.simple:
        close = to_buy(again.length - _fewer(again.strips, again.length, found.scale, wanted, settings)[1], settings)[0]
        plan = msgspec.structs.replace(done.plan, close_buy=min(close, done.plan.close_buy))
        return msgspec.structs.replace(done, plan=plan), joins
    sure = figures(again.length, found.plan.bound, found.plan.free, settings)
    plan = msgspec.structs.replace(found.plan, strips=again.strips, leftovers=again.leftovers, **sure)
    other, own = _joined(fabric_plan(found.fabric, found.lines, plan, found.scale), wanted, settings)
    return (other, own) if other.plan.lots < done.plan.lots else (done, joins)


def _joined(found: FabricPlan, wanted: Sequence[WantedStrips], settings: CuttingSettings) -> tuple[FabricPlan, Joins]:
    """A fabric's plan with the rests that it joins, and with what is proved of it then: strips that are joined may be
    cut anywhere, and beyond that the proof holds for as many whole ones as are told."""
    done, scale = found.plan, found.scale
    joins, saved = _fewer(done.strips, done.length, scale, wanted, settings)
    _, other = _fewer(done.other.strips, done.other.length, scale, wanted, settings)
    fewer = {x.line.id: whole_strips(joins[_key(x.line)]) for x in wanted if _key(x.line) in joins}
    sure = figures(done.length - saved, done.bound - saved, _free(found, wanted), settings)
    otherwise = to_buy(done.other.length - other, settings)[0]
    simple = done.method == "simple"
    taken = Counter(rest for own in joins.values() for rest in _taken(own))
    strips, leftovers = _cut_fewer(done, fewer, taken, scale)
    plan = msgspec.structs.replace(
        done,
        strips=strips,
        leftovers=leftovers,
        simple_buy=sure["buy"] if simple else otherwise,
        close_buy=otherwise if simple else sure["buy"],
        **sure,
    )
    lines = tuple(msgspec.structs.replace(x, count=fewer.get(x.id, x.count)) for x in found.lines)
    return msgspec.structs.replace(fabric_plan(found.fabric, lines, plan, scale), joins=True), joins


def _cut_fewer(
    done: CutPlan, fewer: Mapping[str, int], taken: Counter[Rest], scale: Fraction
) -> tuple[tuple[Strip, ...], tuple[Leftover, ...]]:
    """The strips of a plan with only so many whole ones, by the piece they are, and what remains once rests are
    taken."""
    strips, places = list[Strip](), dict[int, int]()
    for at, strip in enumerate(done.strips):
        copies = fewer.get(strip.cuts[0].piece, strip.copies) if strip.kind == "full" else strip.copies
        if copies:
            places[at] = len(strips)
            strips.append(msgspec.structs.replace(strip, copies=copies))
    leftovers = []
    for left in done.leftovers:
        rest = Rest(Length(Fraction(left.width) / scale), Length(Fraction(left.height) / scale))
        used = min(left.number, taken[rest])
        taken[rest] -= used
        if left.number > used:
            leftovers.append(msgspec.structs.replace(left, number=left.number - used, strip=places[left.strip]))
    return tuple(strips), tuple(leftovers)


# -- what can be proved of it -----------------------------------------------------------------------------
def _free(found: FabricPlan, wanted: Sequence[WantedStrips]) -> int:
    """How long the cloth must be however it is cut, so that strips that are joined may come from anywhere: as long as
    everything else wants it, and as the area of all pieces does. A single joined strip has a join for each whole strip
    beyond the first."""
    own = {want.line.id for want in wanted}
    whole = sum(s.height * s.copies for s in found.plan.strips if s.kind == "full" and s.cuts[0].piece in own)
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
