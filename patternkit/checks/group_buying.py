"""``buy`` of a group of prints against what is cut from each; and prints of which nothing is cut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from patternkit.checks.buying import form_named
from patternkit.lengths import Length
from patternkit.model.pattern import Fabric
from patternkit.plan.model import FabricPlan
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.units import cloth_length

NEEDS_SIZES = True
COUNTS_ALL = True
CODES = ("prints-over",)


def check(project: Project) -> Iterable[Problem]:
    """Too little of some print is a problem; more than needed, and prints that nothing is cut from, are worth
    knowing."""
    pattern = project.pattern
    groups = [f for f in pattern.fabrics.values() if f.group is not None]
    if not groups:
        return
    plans = project.quick_plan[0].fabrics
    for fabric in groups:
        plan = plans.get(fabric.cloth)
        if plan is None or not plan.prints:
            continue
        if fabric.buy_span is not None and (pattern.as_written or fabric.by_size):
            yield from _bought(fabric, plan)
        if pattern.as_written and not project.colourway and pattern.quilt is not None:
            yield from _over(fabric, plan, pattern.fabrics.values())


def _bought(fabric: Fabric, plan: FabricPlan) -> Iterator[Problem]:
    count = plan.print_count
    if fabric.buy is not None and plan.each is not None:
        length = fabric.buy.const if fabric.buy_each else fabric.buy.const / count
        yield from _lengths(fabric, plan.planned or plan.each, length, count)
        return
    stock = plan.fabric.stock
    if stock is None or plan.each is not None:
        return
    form, most = stock.form, max(one.sheets for one in plan.prints)
    packs = fabric.buy_packs is not None and stock.pack > 1
    claim = fabric.buy_packs if fabric.buy_packs is not None else fabric.buy_sheets or 0
    need = plan.packs_planned if packs else most if fabric.buy_each else plan.sheet_count
    if claim == need:
        return
    what = form_named(form, 2 if packs else claim)
    if packs:
        what = f"{'pack' if claim == 1 else 'packs'} of {stock.pack} {what}"
    each = " of each print" if fabric.buy_each else ""
    cut: dict[int, int] = {}
    for one in plan.prints:
        cut[one.sheets] = cut.get(one.sheets, 0) + len(one.numbers)
    causes = [
        f"{n} {form_named(form, n)} {'is' if n == 1 else 'are'} cut of "
        f"{'one print' if m == 1 else f'each of {m} prints'}."
        for n, m in sorted(cut.items(), reverse=True)
    ]
    yield from _differs(fabric, f"{claim} {what}{each}", claim < need, claim - need, str(need), causes)


def _lengths(fabric: Fabric, each: Length, claim: Length, count: int) -> Iterator[Problem]:
    if each <= claim < each + fabric.lot:
        return
    amount = _cloth(each, fabric)
    causes = [f"The print of which most is cut takes {amount}.", f"To buy: {amount} from each of {count} prints."]
    assert fabric.buy is not None
    stated = f"{_cloth(fabric.buy.const, fabric)}{' of each print' if fabric.buy_each else ' in all'}"
    yield from _differs(fabric, stated, claim < each, 0, f"{amount} from each", causes)


def _cloth(length: Length, fabric: Fabric) -> str:
    return cloth_length(length.fraction, metric=fabric.lot.denominator > 8)


def _differs(
    fabric: Fabric, stated: str, short: bool, more: int, instead: str, causes: Iterable[str]
) -> Iterator[Problem]:
    span = fabric.buy_span
    assert span is not None
    head = fabric.key if fabric.by_size else "buy"
    repairs = (Repair(f"write {head} {instead}", span, f"{head} {instead}"),)
    message = f"{stated} of {fabric.title} {'is too little' if short else 'is more than needed'}."
    if more > 0:
        message = f"{stated} of {fabric.title} {'is' if more == 1 else 'are'} {more} more than needed."
    yield Problem(
        "buy-short" if short else "buy-more", message, span, causes=tuple(causes), repairs=repairs, advice=not short
    )


def _over(fabric: Fabric, plan: FabricPlan, fabrics: Iterable[Fabric]) -> Iterator[Problem]:
    """Prints of a group that nothing is cut from, unless they come in a pack with the others, or some are named."""
    group, stock = fabric.group, plan.fabric.stock
    assert group is not None
    if group.count is None or (stock is not None and stock.pack > 1):
        return
    if any(f.print is not None and f.print.group == fabric.key and f.print.number for f in fabrics):
        return  # the writer chooses among them
    used = {n for one in plan.prints for n in one.numbers if n in group.numbers}
    if used and len(used) < group.count:
        yield Problem(
            "prints-over",
            f"{fabric.title} has {group.count} prints, and something is cut from {len(used)} of them.",
            fabric.span,
            advice=True,
            causes=("Each copy of a unit gets one print, and there are fewer copies, or fewer pieces, than prints.",),
        )
