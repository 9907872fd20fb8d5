"""A backing whose fabric is cut for the top as well, with all of it from one length where the writer wants that.

What is spare is wanted once then, and the sum alone is rounded up. The last panel may be cut only as wide as is
missing: what is left beside it is as long as the backing, and serves for other cuts of the fabric, or for the sleeve in
one piece.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Fabric, Pattern
from patternkit.piecing.making import PieceCut
from patternkit.piecing.names import BACKING_PANEL, SLEEVE, Name
from patternkit.plan.buying import backing_to_buy, unwashed
from patternkit.plan.cutting import CuttingSettings
from patternkit.plan.cutting.proved import figures
from patternkit.plan.finishing import NARROWEST, backing_ways, measure
from patternkit.plan.lines import strip_line
from patternkit.plan.model import Backing, CutLine, FabricPlan, LongStrip, Plan, fabric_plan

ONE_LENGTH = "from one length"
"""The phrase by which a backing is cut so."""


class _Way(NamedTuple):
    """A backing, whether the sleeve lies beside its last panel, and the fewest steps to buy that it may take."""

    back: Backing
    sleeve: bool
    least: int


def from_one_length(
    found: Plan,
    bare: Plan,
    pattern: Pattern,
    planned: Callable[[Plan, str], Plan],
    settings: Callable[[FabricPlan], CuttingSettings],
) -> Plan:
    """The plan with the backing's panels among the cuts of its fabric, where that is wanted and can be: never in more
    steps to buy than each for itself.

    `bare` is the same plan before ends of strips were joined, `planned` cuts a fabric anew, and `settings` gives what
    the cutting planner was told of one.
    """
    back = found.backing
    own = found.fabrics.get(back.fabric) if back is not None else None
    if back is None or own is None or not _can_be(back, own.fabric) or not _is_wanted(pattern):
        return found
    apart = own.plan.lots + int((backing_to_buy(back, pattern) / own.fabric.lot).fraction)
    best, fewest, least = found, apart + 1, list[FabricPlan]()
    for way in sorted(_ways(found, own, pattern), key=lambda way: (way.back.last is not None, way.sleeve)):
        if way.least >= fewest:
            continue  # the simplest comes first, and only fewer steps are a reason for another
        tried = planned(with_panels(bare, way.back, way.sleeve, pattern), back.fabric)
        new = tried.fabrics.get(back.fabric)
        least += [new] if new is not None else []
        if new is not None and new.plan.lots < fewest:
            best, fewest = tried, new.plan.lots
    return best if best is found else _proved(best, back.fabric, least, settings)


def _can_be(back: Backing, fabric: Fabric) -> bool:
    """Whether a backing may be cut from one length with the rest of its fabric: both are by length, as wide."""
    return fabric.key == back.fabric and not fabric.in_sheets and fabric.usable_width == back.usable


def _is_wanted(pattern: Pattern) -> bool:
    lines = pattern.quilt.finishing if pattern.quilt is not None else ()
    return any(f.word == "backing" and ONE_LENGTH in f.words for f in lines)


def _proved(
    best: Plan, key: str, tried: Sequence[FabricPlan], settings: Callable[[FabricPlan], CuttingSettings]
) -> Plan:
    """The plan with what is proved of all ways of laying the panels that could have taken fewer steps."""
    own = best.fabrics[key]
    bound = min(x.plan.bound * own.scale / x.scale for x in tried)
    free = min(x.plan.free * own.scale / x.scale for x in tried)
    sure = figures(own.plan.length, int(bound), int(free), settings(own))
    plan = msgspec.structs.replace(own.plan, **sure)
    made = msgspec.structs.replace(fabric_plan(own.fabric, own.lines, plan, own.scale), joins=own.joins)
    return msgspec.structs.replace(best, fabrics={**best.fabrics, key: made})


def _ways(found: Plan, own: FabricPlan, pattern: Pattern) -> Iterator[_Way]:
    """Each way of laying the backing: all panels whole, the last one narrow, the sleeve beside that."""
    assert found.backing is not None and found.top is not None and pattern.quilt is not None
    line = next(f for f in pattern.quilt.finishing if f.word == "backing")
    stated = any(f.word == "sleeve" and "strips" in f.extras for f in pattern.quilt.finishing)
    for back in backing_ways(line, *measure(found.top, pattern), pattern):
        if back.panels != found.backing.panels:
            continue  # however much cloth it saves: how many panels there are may be stated
        if found.backing.strip == back.strip:
            yield _Way(back, False, _steps(_area(own) + back.length * back.panels, own, pattern))
        narrow = _last(back, pattern)
        if narrow is None:
            continue
        panels = back.length * (back.panels - 1) + back.length * narrow / back.usable
        steps = _steps(_area(own) + panels, own, pattern)
        narrowed = msgspec.structs.replace(back, last=narrow)
        yield _Way(narrowed, False, steps)
        if found.sleeve is not None and not stated and _lies_beside(found.sleeve, back, back.usable - narrow):
            yield _Way(narrowed, True, steps)


def _area(own: FabricPlan) -> Length:
    """How long the cloth must be for the area alone of what is cut from it, templates left out."""
    area = ZERO
    for line in own.lines:
        if line.cut.then == "strip":
            area += own.fabric.usable_width * line.cut.height * line.count
        elif line.cut.then != "template":
            area += line.cut.width * line.cut.height * line.count
    return area / own.fabric.usable_width


def _steps(length: Length, own: FabricPlan, pattern: Pattern) -> int:
    """In how many steps so much of a fabric is bought."""
    whole = unwashed(length + own.fabric.spare.ceil_to(pattern.settings.ruler), own.fabric)
    return int((whole / own.fabric.lot).ceil_to(Fraction(1)))


def _last(back: Backing, pattern: Pattern) -> Length | None:
    """How wide the last panel must be, if less than the cloth is; a backing with a strip has none to spare."""
    if back.strip is not None:
        return None
    across = back.width if back.length == back.height else back.height
    whole = back.usable * (back.panels - 1) - back.seam * 2 * (back.panels - 1)
    wide = Length(max(across - whole, back.seam * 2 + NARROWEST).ceil_to(pattern.settings.ruler))
    return wide if wide < back.usable else None


def _lies_beside(sleeve: LongStrip, back: Backing, beside: Length) -> bool:
    """Whether a sleeve is of the backing's fabric, and fits in one piece beside its last panel."""
    return sleeve.fabric == back.fabric and sleeve.height <= beside and sleeve.lengths[0][0] <= back.length


def with_panels(plan: Plan, back: Backing, along: bool, pattern: Pattern) -> Plan:
    """A plan, or the draft of one, with the panels of a backing among what is cut, and the sleeve `along` beside
    them."""
    sleeve, lines = plan.sleeve, list(plan.lines)
    if sleeve is not None and along:
        at = next(i for i, line in enumerate(lines) if line.use == (SLEEVE,))
        long = Length(sleeve.lengths[0][0].ceil_to(pattern.settings.ruler))
        lines[at] = _along(lines[at].id, SLEEVE, sleeve.fabric, sleeve.height, long)
        sleeve = msgspec.structs.replace(sleeve, strips=1, joins=(), along=True)
    whole = back.panels - (back.last is not None)
    usable = {back.fabric: back.usable}
    if whole:
        lines.append(strip_line(len(lines), back.fabric, back.length, whole, (BACKING_PANEL,), usable))
    if back.last is not None:
        lines.append(_along(f"{len(lines)}", BACKING_PANEL, back.fabric, back.last, back.length))
    return msgspec.structs.replace(
        plan, lines=tuple(lines), backing=back, backing_buy=ZERO, sleeve=sleeve, one_length=True
    )


def _along(number: str, name: Name, fabric: str, wide: Length, long: Length) -> CutLine:
    """One piece cut along the length of the cloth."""
    cut = PieceCut(fabric, wide, long, wide, long, 1, name=name, fixed_grain=True, along=True)
    return CutLine(number, fabric, cut, 1, (name,), 1)
