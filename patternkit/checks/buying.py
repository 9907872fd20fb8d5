"""``buy 1 1/4 yd`` against what the cuts take, at the stated usable width."""

from __future__ import annotations

from fractions import Fraction
from typing import Iterable

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Fabric
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.units import decimal, mixed, show

NEEDS_SIZES = True
CODES = ("buy-short", "buy-more")

WIDER = (42, 44, 108)  # usable widths in inches at which a claim that is short here may hold


def check(project: Project) -> Iterable[Problem]:
    """A claim that is short is a problem, one that is far too much is worth knowing."""
    pattern = project.pattern
    claims = {k: f for k, f in pattern.fabrics.items() if f.buy is not None}
    if not claims or not pattern.as_written:
        return
    plan = project.quick_plan[0]
    for key, fabric in claims.items():
        assert fabric.buy is not None and fabric.buy_span is not None
        claim = fabric.buy.value(pattern.parameters)
        found = plan.fabrics.get(key)
        backed = plan.backing_buy if plan.backing is not None and plan.backing.fabric == key else None
        need = (found.used if found else Length(0)) + (backed or Length(0))
        if claim < need:
            better = project.plan()[0].fabrics.get(key)
            need = (better.used if better else Length(0)) + (backed or Length(0))
        if claim < need:
            yield _short(project, key, fabric, claim, need)
        elif found is not None and claim > (found.buy + (backed or Length(0))) * 2 and claim - need > 36:
            yield Problem("buy-more", f"The cuts from {fabric.title} take {show(need, pattern.settings.units)}; "
                          f"{cloth(claim, fabric)} is more than twice that.", fabric.buy_span, advice=True)


def _short(project: Project, key: str, fabric: Fabric, claim: Length, need: Length) -> Problem:
    units = project.pattern.settings.units
    causes = [f"The cuts from {fabric.title} take {show(need, units)} at a usable width of "
              f"{show(fabric.usable_width, units)}; {cloth(claim, fabric)} is {show(claim, units)}."]
    width = _holds_at(project, key, claim)
    if width is not None:
        causes.append(f"The claim holds only at {show(width, units)} usable width.")
    lot = Length(need.ceil_to(fabric.lot))
    causes.append(f"To buy: {cloth(lot, fabric)}.")
    assert fabric.buy_span is not None
    return Problem("buy-short", f"{cloth(claim, fabric)} of {fabric.title} is too little.", fabric.buy_span,
                   causes=tuple(causes))


def _holds_at(project: Project, key: str, claim: Length) -> Length | None:
    """The first usual wider cloth from which the same pieces can be cut with what the claim says."""
    from patternkit.plan.build import make_plan

    pattern = project.pattern
    for inches in WIDER:
        width = Length(Fraction(inches))
        if width <= pattern.fabrics[key].usable_width:
            continue
        wider = {k: msgspec.structs.replace(f, usable_width=width) for k, f in pattern.fabrics.items()}
        plan, _ = make_plan(msgspec.structs.replace(pattern, fabrics=wider), project.top, project.roots, solver=False)
        found = plan.fabrics.get(key)
        backed = plan.backing_buy if plan.backing is not None and plan.backing.fabric == key else None
        if found is not None and found.used + (backed or Length(0)) <= claim:
            return width
    return None


def cloth(length: Length, fabric: Fabric) -> str:
    """A length of cloth in yards or metres."""
    inches = length.ceil_to(Fraction(1, 8))
    if fabric.lot.denominator <= 8:
        return f"{mixed(inches / 36)} yd"
    return f"{decimal(inches * Fraction(254, 10000))} m"
