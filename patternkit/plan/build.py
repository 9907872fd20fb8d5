"""Plan a pattern: the draft of what must be cut, and each fabric's cutting plan with what to buy."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from fractions import Fraction
from functools import lru_cache
from math import gcd

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Fabric, Pattern, Scrap, Stock
from patternkit.piecing.making import Making
from patternkit.plan.buying import as_stated, before_washing
from patternkit.plan.cutting import CutPlan, CuttingError, CuttingSettings, PieceDemand, plan
from patternkit.plan.draft import draft_plan
from patternkit.plan.model import SCRAP, CutLine, FabricPlan, Plan, fabric_plan
from patternkit.plan.one_length import from_one_length
from patternkit.plan.rests import with_rests
from patternkit.plan.true_areas import bounded_by, proved_by_area
from patternkit.problems import Problem, Repair
from patternkit.units import IMPERIAL, INCHES_IN, show, show_size

REACH, METRIC_REACH = Fraction(24), 60 * INCHES_IN["cm"]
"""How far a ruler reaches, in inches: the highest strip that is cut into rows (common practice, no source)."""


def make_plan(
    pattern: Pattern, top: Making | None, roots: Sequence[tuple[Making, int]], *, steps: int = 1000, solver: bool = True
) -> tuple[Plan, list[Problem]]:
    """Plan the cutting of a quilt top (or of loose units: `roots` with how many of each).

    `steps` bounds the search of the cutting planner; `solver` False keeps to the quick plan, which is what a check
    uses. Where some piece can't be cut at all, no fabric is planned: nobody cuts by half a plan, and what does not fit
    on any cloth may well be too much of it.
    """
    draft, problems = draft_plan(pattern, top, roots)
    if problems:
        return draft, problems
    if boxed := _boxed(draft, pattern, top, roots, steps):
        draft, _ = draft_plan(pattern, top, roots, boxed=boxed)

    def given(f: FabricPlan) -> CuttingSettings:
        return planner_settings(f.fabric, pattern, f.scale, steps, solver)

    def cut(drafted: Plan, keys: Collection[str]) -> Plan:
        fabrics = {key: found for key, found in drafted.fabrics.items() if key not in keys}
        for key in pattern.fabrics:
            own = tuple(x for x in drafted.lines if pattern.fabrics[x.fabric].cloth == key)
            if key in keys and own:
                there = cloth_there(pattern.fabrics[key], pattern, drafted)
                done = _planned(pattern.fabrics[key], own, pattern, steps, solver, there, problems)
                if done is not None:
                    fabrics[key] = done
        ordered = {key: fabrics[key] for key in pattern.fabrics if key in fabrics}
        return msgspec.structs.replace(drafted, fabrics=ordered)

    def joined(drafted: Plan) -> Plan:
        def recut(f: FabricPlan, lines: Sequence[CutLine], search: bool) -> FabricPlan | None:
            there = cloth_there(pattern.fabrics[f.fabric.key], pattern, drafted)
            return _planned(f.fabric, tuple(lines), pattern, steps, search, there, [])

        return with_rests(drafted, pattern, given, recut)

    bare = cut(draft, pattern.fabrics.keys())
    found = from_one_length(joined(bare), bare, pattern, lambda x, key: joined(cut(x, (key,))), given)
    return as_stated(found, pattern), problems


def _boxed(
    draft: Plan, pattern: Pattern, top: Making | None, roots: Sequence[tuple[Making, int]], steps: int
) -> frozenset[str]:
    """The fabrics of which fewer steps, or less cloth, are taken where each shape cut by template has a rectangle of
    its own, by the quick plan."""
    keys = frozenset(line.fabric for line in draft.lines if line.run is not None)
    drafts = (draft, draft_plan(pattern, top, roots, boxed=keys)[0]) if keys else ()
    found = set()
    for key in keys:
        costs = []
        for one in drafts:
            own = tuple(line for line in one.lines if line.fabric == key)
            done = _planned(pattern.fabrics[key], own, pattern, steps, False, Fraction(0), [])
            costs.append((1, 0, 0, Length(0)) if done is None else (0, done.sheet_count, done.plan.lots, done.used))
        if costs[1] < costs[0]:
            found.add(key)
    return frozenset(found)


def sold_in(pattern: Pattern, lot: Fraction) -> Pattern:
    """The pattern with all of its cloth sold in another step (inches)."""
    fabrics = {k: msgspec.structs.replace(f, lot=lot) for k, f in pattern.fabrics.items()}
    settings = msgspec.structs.replace(pattern.settings, lot=lot)
    return msgspec.structs.replace(pattern, fabrics=fabrics, settings=settings)


def unsquared(pattern: Pattern) -> Pattern:
    """The pattern with nothing kept of the usable width for squaring up."""
    fabrics = {k: msgspec.structs.replace(f, squaring=Length(0)) for k, f in pattern.fabrics.items()}
    settings = msgspec.structs.replace(pattern.settings, squaring=Length(0))
    return msgspec.structs.replace(pattern, fabrics=fabrics, settings=settings)


def cloth_there(fabric: Fabric, pattern: Pattern, draft: Plan) -> Fraction:
    """The length of a fabric that the writer tells people to buy (inches), as far as the backing leaves it for cuts and
    washing does not take it; 0 where nothing is said. A plan that fits it is preferred."""
    if fabric.buy is None or not (pattern.as_written or fabric.by_size):
        return Fraction(0)
    washed = fabric.buy.value(pattern.parameters) / before_washing(Fraction(1), fabric.shrinkage)
    return max(Fraction(0), (washed - draft.lining(fabric.key)).floor_to(pattern.settings.ruler))


def _planned(
    fabric: Fabric,
    lines: tuple[CutLine, ...],
    pattern: Pattern,
    steps: int,
    solver: bool,
    there: Fraction,
    problems: list[Problem],
) -> FabricPlan | None:
    """A fabric's plan, a group's print by print; None after noting what can't be cut."""
    try:
        if fabric.group is None:
            return _fabric(fabric, lines, pattern, steps, solver, there)
        from patternkit.plan.groups import plan_prints

        zero = Fraction(0)
        return plan_prints(fabric, lines, pattern, lambda f, own: _fabric(f, own, pattern, steps, solver, zero))
    except CuttingError as error:
        line = next((x for x in lines if x.id == error.piece), lines[0])
        problems.append(_no_piece(line, fabric, pattern, error))
        return None


def _fabric(
    fabric: Fabric, lines: tuple[CutLine, ...], pattern: Pattern, steps: int, solver: bool, there: Fraction
) -> FabricPlan:
    """The plan of one fabric, or of one print; raises `CuttingError` where a piece can't be cut."""
    settings = pattern.settings
    width = fabric.usable_width.floor_to(settings.ruler)
    flat = [x for x in lines if x.cut.then != "strip" and not takes_whole_width(x, fabric, settings.ruler)]
    sizes = [x.cut.width for x in flat] + [x.cut.height for x in lines]
    sizes += [x.motifs.length for x in lines if x.motifs is not None]
    sizes += [side for x in (fabric.stock, *fabric.scraps) if x is not None for side in (x.width, x.height)]
    sizes += [Length(side.ceil_to(settings.ruler)) for x in lines if x.run for side in (x.run.width, x.run.height)]
    room = room_of(fabric, settings.ruler)
    scale = 1 / common_measure(
        [width, room, *(s.fraction if s.is_fraction else s.ceil_to(settings.ruler) for s in sizes)]
    )
    own = (pattern.fabrics[line.fabric].directional for line in lines)
    pieces = [_piece(line, fabric, scale, settings.ruler, d) for line, d in zip(lines, own, strict=True)]
    wish = planner_settings(fabric, pattern, scale, steps, solver)
    wish = msgspec.structs.replace(wish, within=there * scale)
    if fabric.in_sheets:
        return _from_sheets(fabric, lines, pieces, wish, scale)
    return fabric_plan(fabric, lines, proved_by_area(_cut(tuple(pieces), wish), pieces, lines, wish, scale), scale)


@lru_cache(maxsize=128)
def _cut(pieces: tuple[PieceDemand, ...], wish: CuttingSettings) -> CutPlan:
    """How one fabric is cut. Sizes and colourways of a pattern often cut the same pieces, and so do the ways of leaving
    ends of strips."""
    return plan(pieces, wish)


def common_measure(lengths: Iterable[Fraction]) -> Fraction:
    """The largest length of which all these are whole multiples (none of them 0): an eighth of an inch, a
    millimetre."""
    top, bottom = 0, 1
    for length in lengths:
        top = gcd(top * length.denominator, length.numerator * bottom)
        bottom *= length.denominator
        shared = gcd(top, bottom)
        top, bottom = top // shared, bottom // shared
    return Fraction(top, bottom)


def _from_sheets(
    fabric: Fabric, lines: tuple[CutLine, ...], pieces: list[PieceDemand], wish: CuttingSettings, scale: Fraction
) -> FabricPlan:
    """Cut a fabric that comes in sheets: the scraps at hand first, the smallest before the larger; with a length bought
    besides, the sheets at hand next."""
    from patternkit.plan.cutting.stock import plan_stock
    from patternkit.plan.cutting.stock_model import StockCloth as Sheets

    def size(of: Stock | Scrap) -> tuple[int, int]:
        return int(of.width.floor_to(1 / scale) * scale), int(of.height.floor_to(1 / scale) * scale)

    stock, own = fabric.stock, enumerate(fabric.scraps, 1)
    there = [Sheets(f"{SCRAP} {n}", *size(x), x.count) for n, x in own if x.count]
    there.sort(key=lambda x: x.width * x.height)
    mixed = stock is None or (fabric.by_length and (stock.have > 0 or bool(there)))
    if stock is not None and (stock.have or not mixed):
        squared = 0 if stock.form == "squares" else wish.squaring  # a ready-cut square has no end to square up
        there.append(Sheets(stock.form, *size(stock), stock.have if mixed else None, squared))
    if stock is not None and not mixed:
        width, height = size(stock)
        pieces = [
            msgspec.structs.replace(p, width=width, full=False, may_turn=False) if p.full and p.height != height else p
            for p in pieces
        ]
    found = plan_stock(pieces, there, wish, mixed)
    rest = plan([], wish) if found.rest is None else bounded_by(found.rest, found.rest_bound, wish)
    return fabric_plan(fabric, lines, rest, scale, found)


def planner_settings(
    fabric: Fabric, pattern: Pattern, scale: Fraction, steps: int = 1000, solver: bool = True
) -> CuttingSettings:
    """What the cutting planner is told of a fabric and the pattern's settings, in whole numbers of `scale` to the
    inch."""
    settings = pattern.settings
    spare = fabric.spare.ceil_to(settings.ruler)
    width = fabric.usable_width.floor_to(settings.ruler)
    return CuttingSettings(
        width=int(width * scale),
        squaring=int((width - room_of(fabric, settings.ruler)) * scale),
        reach=int((REACH if settings.units is IMPERIAL else METRIC_REACH) * scale),
        simple=settings.simple,
        lot=fabric.lot * scale,
        spare=spare * scale,
        shrinkage=fabric.shrinkage * 10,
        steps=steps,
        solver=solver,
    )


def room_of(fabric: Fabric, ruler: Fraction) -> Fraction:
    """What pieces cut from a strip may take of it, on the ruler."""
    return (fabric.usable_width - fabric.squaring).floor_to(ruler)


def _piece(line: CutLine, fabric: Fabric, scale: Fraction, ruler: Fraction, directional: bool) -> PieceDemand:
    def whole(size: Length) -> int:
        exact = size.fraction if size.is_fraction else size.ceil_to(ruler)
        return int(exact * scale)

    if line.run is not None:
        width, height = (whole(Length(x.ceil_to(ruler))) for x in (line.run.width, line.run.height))
        return PieceDemand(line.id, width, height, line.runs, may_turn=False)
    if line.cut.then == "strip":
        return PieceDemand(line.id, 0, whole(line.cut.height), line.count, full=True)
    if line.motifs is not None:
        return PieceDemand(line.id, 0, whole(line.motifs.length), 1, full=True)
    if line.cut.along:
        return PieceDemand(
            line.id, whole(line.cut.width), whole(line.cut.height), line.count, may_turn=False, along=True
        )
    turn = not line.cut.fixed_grain and not directional
    width, height = whole(line.cut.width), whole(line.cut.height)
    if takes_whole_width(line, fabric, ruler):  # the ruler's lines end before the cloth does, and so does the plan
        width, turn = int(fabric.usable_width.floor_to(ruler) * scale), False
    return PieceDemand(line.id, width, height, line.count, may_turn=turn)


def takes_whole_width(line: CutLine, fabric: Fabric, ruler: Fraction) -> bool:
    """Whether a piece is as wide as cloth whose usable width lies on no line of the ruler (110 cm in a pattern in
    inches): nothing can lie beside it."""
    usable = fabric.usable_width
    return not fabric.in_sheets and not line.cut.along and usable.floor_to(ruler) < line.cut.width <= usable


def _no_piece(line: CutLine, fabric: Fabric, pattern: Pattern, error: CuttingError) -> Problem:
    units, stock = pattern.settings.units, fabric.stock
    size = show_size(line.cut.width, line.cut.height, units)
    if stock is None or not error.piece:
        why = (
            f"has {show(fabric.usable_width, units)} of usable width" if error.piece else f"can't be planned ({error})"
        )
        return Problem(
            "too-long",
            f"A piece of {fabric.title} for {line.called}, {size}, cannot be cut: the cloth {why}.",
            line.cut.stated or fabric.span,
        )
    sheet = show_size(stock.width, stock.height, units)
    return Problem(
        "too-long",
        f"A piece of {fabric.title} for {line.called}, {size}, does not fit on the {stock.form} of {sheet} that "
        f"{fabric.title} is sold as.",
        line.cut.stated or fabric.span,
        repairs=(
            Repair(
                f"write sold by a length under fabric {fabric.key}, with have and the number of {stock.form} at hand"
            ),
            Repair("take another fabric here"),
        ),
    )
