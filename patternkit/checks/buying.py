"""``buy 1 1/4 yd`` against what the cuts take, at the stated usable width."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Fabric, Pattern, Stock
from patternkit.plan.buying import backing_to_buy, unwashed
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.units import cloth_length, decimal, show, show_size

if TYPE_CHECKING:
    from patternkit.plan.model import CutLine, FabricPlan, Plan

NEEDS_SIZES = True
COUNTS_ALL = True
CODES = ("buy-short", "buy-more", "buy-exact", "every-thread")

EXTRA_WIDE = 108  # cloth that is sold for backings alone
WIDER = (42, 44, EXTRA_WIDE)  # usable widths in inches at which a claim that is short here may hold


def check(project: Project) -> Iterable[Problem]:
    """A claim that is short is a problem, one that is far too much is worth knowing."""
    pattern = project.pattern
    held = pattern.as_written
    claims = [(k, f) for k, f in pattern.fabrics.items() if f.buy_span is not None and (held or f.by_size)]
    if not claims:
        return
    plan = project.quick_plan[0]
    for key, fabric in claims:
        if (own := plan.fabrics.get(key)) is not None and own.prints:
            continue  # print by print
        if fabric.buy is None:
            yield from _sheets(project, key, fabric)
            continue
        assert fabric.buy_span is not None
        claim = fabric.buy.value(pattern.parameters)
        need = takes(plan, key)
        if claim < unwashed(need, fabric):
            need = takes(project.plan()[0], key)
        if claim < unwashed(need, fabric):
            loose = takes(without_squaring(project), key)
            scant = claim >= unwashed(loose, fabric)
            yield _every_thread(project, key, fabric, claim) if scant else _short(project, key, fabric, claim, need)
        elif need:
            yield from _enough(project, key, fabric, claim, need)


def _enough(project: Project, key: str, fabric: Fabric, claim: Length, need: Length) -> Iterator[Problem]:
    """What is worth knowing of an amount that is enough: that it is so to the thread, or how much is over."""
    plan = project.quick_plan[0]
    amount, units = to_buy(plan, key, project.pattern), project.pattern.settings.units
    assert fabric.buy_span is not None
    takes_all = f"The cuts from {fabric.title} take {show(need, units)}."
    if claim == unwashed(need, fabric) and fabric.spare > 0:
        yield Problem(
            "buy-exact",
            f"{cloth(claim, fabric)} of {fabric.title} is exactly what the cuts take, with no room for a slip.",
            fabric.buy_span,
            causes=(takes_all, f"With {show(fabric.spare, units)} spare, to buy: {cloth(amount, fabric)}."),
            repairs=(_instead(fabric, cloth(amount, fabric)),),
            advice=True,
        )
    elif claim - amount >= fabric.lot:
        yield Problem(
            "buy-more",
            f"{cloth(claim, fabric)} of {fabric.title} is {cloth(claim - amount, fabric)} more than needed.",
            fabric.buy_span,
            causes=(takes_all, f"To buy: {cloth(amount, fabric)}."),
            repairs=(_instead(fabric, cloth(amount, fabric)),),
            advice=True,
        )


def _instead(fabric: Fabric, amount: str) -> Repair:
    """Another amount in the place of the one that is stated."""
    text = f"{fabric.key if fabric.by_size else 'buy'} {amount}"
    return Repair(f"write {text}", fabric.buy_span, text)


def to_buy(plan: Plan, key: str, pattern: Pattern) -> Length:
    """What is bought of a fabric by its plan, its share of the backing included, whatever the writer says."""
    found = plan.fabrics.get(key)
    if found is not None and found.planned is not None:
        return found.planned
    own = found.buy if found is not None else Length(0)
    back = plan.backing
    return own + (backing_to_buy(back, pattern) if back is not None and plan.lining(key) > 0 else Length(0))


def takes(plan: Plan, key: str) -> Length:
    """The length that all cuts of a fabric take, its share of the backing included."""
    found = plan.fabrics.get(key)
    return (Length(0) if found is None else found.used) + plan.lining(key)


def without_squaring(project: Project) -> Plan:
    """The quick plan with nothing kept of the usable width for squaring up."""
    from patternkit.plan.build import make_plan, unsquared

    top = project.planned_top
    roots = project.roots if top is None else [(top, 1)]
    return make_plan(unsquared(project.pattern), top, roots, solver=False)[0]


def _every_thread(project: Project, key: str, fabric: Fabric, claim: Length) -> Problem:
    """What is told where a claim holds only with nothing lost to squaring up."""
    units = project.pattern.settings.units
    need = Length(unwashed(takes(project.quick_plan[0], key), fabric).ceil_to(fabric.lot))
    assert fabric.buy_span is not None
    return Problem(
        "every-thread",
        f"{cloth(claim, fabric)} of {fabric.title} is enough only if every thread of its width is used.",
        fabric.buy_span,
        causes=(
            f"{show(fabric.squaring, units)} of each strip that is cut across is kept for squaring up; without it the "
            "cuts fit.",
            f"With it, to buy: {cloth(need, fabric)}.",
        ),
        advice=True,
    )


def _short(project: Project, key: str, fabric: Fabric, claim: Length, need: Length) -> Problem:
    units = project.pattern.settings.units
    causes = [
        f"The cuts from {fabric.title} take {show(need, units)} at a usable width of "
        f"{show(fabric.usable_width, units)}; {cloth(claim, fabric)} is {show(claim, units)}."
    ]
    causes += _finish(project, key)
    if fabric.shrinkage:
        longer = show(Length(unwashed(need, fabric).ceil_to(units.grid)), units)
        causes.append(f"Washing takes {decimal(fabric.shrinkage)} %, so {longer} are wanted before it.")
    width = _holds_at(project, key, claim)
    if width is not None:
        causes.append(f"The claim holds only at {show(width, units)} usable width.")
    lot = cloth(max(to_buy(project.quick_plan[0], key, project.pattern), unwashed(need, fabric)), fabric)
    causes.append(f"To buy: {lot}.")
    assert fabric.buy_span is not None
    return Problem(
        "buy-short",
        f"{cloth(claim, fabric)} of {fabric.title} is too little.",
        fabric.buy_span,
        causes=tuple(causes),
        repairs=(_instead(fabric, lot),),
    )


def _finish(project: Project, key: str) -> list[str]:
    """What binding and backing have to do with it."""
    from patternkit.checks.finish_words import backing_causes, binding_cause

    plan, units = project.quick_plan[0], project.pattern.settings.units
    causes = []
    if plan.binding is not None and plan.binding.fabric == key:
        if plan.binding.square is None and plan.binding.length is None:
            taken = show(plan.binding.width * plan.binding.strips, units)
            causes.append(
                f"The binding takes {plan.binding.strips} strips of {show(plan.binding.width, units)}, "
                f"{taken} of cloth."
            )
        causes.append(binding_cause(project, plan.binding))
    if plan.backing is not None and plan.backing.fabric == key:
        causes += backing_causes(project, plan.backing)
    return causes


def _sheets(project: Project, key: str, fabric: Fabric) -> Iterable[Problem]:
    """A number of sheets, or packs of them, beside what is at hand."""
    stock, plan = fabric.stock, project.quick_plan[0].fabrics.get(key)
    if stock is None or plan is None or plan.sheets is None:
        return
    assert fabric.buy_span is not None
    wanted = max(0, plan.sheet_count - stock.have)
    claim = fabric.buy_sheets if fabric.buy_packs is None else fabric.buy_packs * stock.pack
    assert claim is not None
    units = project.pattern.settings.units
    takes = (
        f"The cuts take {plan.sheet_count} {form_named(stock.form, plan.sheet_count)} of "
        f"{show_size(stock.width, stock.height, units)}" + (f", and {stock.have} are at hand." if stock.have else ".")
    )
    buy = (
        f"{plan.packs_planned} {'pack' if plan.packs_planned == 1 else 'packs'} of {stock.pack}"
        if stock.pack > 1
        else plan.packs_planned
    )
    if claim < wanted and claim + stock.have >= _scant(project, key):
        yield _scant_sheets(fabric, stock, project, (takes, f"With it, to buy: {buy}."))
    elif claim < wanted:
        n = claim if fabric.buy_packs is None else fabric.buy_packs
        yield Problem(
            "buy-short",
            f"{_claimed(fabric, stock)} of {fabric.title} {'is' if n == 1 else 'are'} too little.",
            fabric.buy_span,
            causes=(takes, *_pieces(plan, fabric, project), f"To buy: {buy}."),
        )
    elif claim > max(wanted, plan.packs_planned * stock.pack):
        yield Problem(
            "buy-more",
            f"{_claimed(fabric, stock)} of {fabric.title} {_in_all(fabric, stock)}{claim - wanted:,} more than needed.",
            fabric.buy_span,
            causes=(takes, f"To buy: {buy}."),
            repairs=_repairs(fabric, stock, plan, wanted),
            advice=True,
        )


def _scant(project: Project, key: str) -> int:
    """Sheets that are cut where nothing is kept for squaring up."""
    found = without_squaring(project).fabrics.get(key)
    return found.sheet_count if found is not None else 0


def _scant_sheets(fabric: Fabric, stock: Stock, project: Project, causes: tuple[str, str]) -> Problem:
    assert fabric.buy_span is not None
    kept = show(fabric.squaring, project.pattern.settings.units)
    n = fabric.buy_sheets if fabric.buy_packs is None else fabric.buy_packs
    return Problem(
        "every-thread",
        f"{_claimed(fabric, stock)} of {fabric.title} {'is' if n == 1 else 'are'} enough only if every thread is used.",
        fabric.buy_span,
        causes=(f"{kept} of each strip cut off one is kept for squaring up; without it the cuts fit.", *causes),
        advice=True,
    )


def _claimed(fabric: Fabric, stock: Stock) -> str:
    """A stated number in words: ``2 packs of 40 strips``, ``29 strips``."""
    n = fabric.buy_packs if fabric.buy_packs is not None else fabric.buy_sheets or 0
    if fabric.buy_packs is None or stock.pack == 1:
        return f"{n} {form_named(stock.form, n)}"
    return f"{n} {'pack' if n == 1 else 'packs'} of {stock.pack} {form_named(stock.form, 2)}"


def _in_all(fabric: Fabric, stock: Stock) -> str:
    """How many sheets a number of packs comes to."""
    if fabric.buy_packs is None or stock.pack == 1:
        return "are "
    return f"are {fabric.buy_packs * stock.pack:,} in all, "


def _repairs(fabric: Fabric, stock: Stock, plan: FabricPlan, wanted: int) -> tuple[Repair, ...]:
    """A bare number is one of packs; where it was meant as one of sheets, that can be said."""
    span, form = fabric.buy_span, form_named(stock.form, 2)
    head = fabric.key if fabric.by_size else "buy"
    if fabric.buy_packs is None or stock.pack == 1:
        return (Repair(f"write {head} {wanted} {form}", span, f"{head} {wanted} {form_named(stock.form, wanted)}"),)
    packs = Repair(f"write {head} {plan.packs_planned}, a number of packs", span, f"{head} {plan.packs_planned}")
    if not fabric.buy_bare:
        return (packs,)
    n = max(wanted, fabric.buy_packs)
    return packs, Repair(f"write {head} {n} {form}, if {form} are meant", span, f"{head} {n} {form}")


def _pieces(plan: FabricPlan, fabric: Fabric, project: Project) -> list[str]:
    """How many of each piece alone one sheet gives."""
    units, causes = project.pattern.settings.units, []
    for line in plan.lines:
        if line.cut.then != "strip":
            many = _on_one(line, fabric, project)
            causes.append(
                f"One gives {many} of {show_size(line.cut.width, line.cut.height, units)} at most; "
                f"{line.count} are cut for {line.called}."
            )
    return causes


def _on_one(line: CutLine, fabric: Fabric, project: Project) -> int:
    """How many of one piece alone a sheet gives in rows, the way that gives more."""
    assert fabric.stock is not None
    w, h = fabric.stock.width, fabric.stock.height
    turn = not line.cut.fixed_grain and not fabric.directional
    ways = [(line.cut.width, line.cut.height)] + ([(line.cut.height, line.cut.width)] if turn else [])
    return max(int((w / a).floor_to(Fraction(1))) * int((h / b).floor_to(Fraction(1))) for a, b in ways)


def form_named(form: str, n: int) -> str:
    """The name of the form in which cloth is sold, for so many: ``fat quarter``, ``fat quarters``."""
    words = {"fat-quarters": "fat quarters", "fat-eighths": "fat eighths"}.get(form, form)
    return words.removesuffix("s") if n == 1 else words


def _holds_at(project: Project, key: str, claim: Length) -> Length | None:
    """The first usual wider cloth from which the same pieces can be cut with what the claim says."""
    from patternkit.plan.build import make_plan

    pattern, plan = project.pattern, project.quick_plan[0]
    for inches in WIDER:
        width = Length(Fraction(inches))
        if width <= pattern.fabrics[key].usable_width or (width == EXTRA_WIDE and key in plan.fabrics):
            continue
        wider = {k: msgspec.structs.replace(f, usable_width=width) for k, f in pattern.fabrics.items()}
        top = project.planned_top
        roots = project.roots if top is None else [(top, 1)]
        other, _ = make_plan(msgspec.structs.replace(pattern, fabrics=wider), top, roots, solver=False)
        if takes(other, key) and unwashed(takes(other, key), pattern.fabrics[key]) <= claim:
            return width
    return None


def cloth(length: Length, fabric: Fabric) -> str:
    """A length of cloth in yards or metres."""
    return cloth_length(length.ceil_to(Fraction(1, 8)), metric=fabric.lot.denominator > 8)
