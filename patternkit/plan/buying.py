"""From a length that is cut up to a length to buy: what is spare, what washing takes, and how cloth is sold."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Fabric, Pattern
from patternkit.plan.model import Backing, FabricPlan, Plan


def before_washing(length: Fraction, shrinkage: Fraction) -> Fraction:
    """How long cloth must be before it loses `shrinkage` percent of its length, so that `length` is left of it."""
    return length * 100 / (100 - shrinkage)


def unwashed(length: Length, fabric: Fabric) -> Length:
    """A length of a fabric before it is washed."""
    return length * before_washing(Fraction(1), fabric.shrinkage)


def backing_to_buy(back: Backing, pattern: Pattern) -> Length:
    """The length to buy for a backing: its panels and what is spare, before washing, rounded up to the way the cloth is
    sold. Where it names no fabric, it is bought by the pattern's settings."""
    cloth = pattern.fabrics[back.fabric] if back.fabric else pattern.settings
    spare = cloth.spare.ceil_to(pattern.settings.ruler)
    whole = (back.length * back.panels).fraction + spare
    return Length(Length(before_washing(whole, cloth.shrinkage)).ceil_to(cloth.lot))


def otherwise(found: FabricPlan) -> Length | None:
    """What would be bought with strips filled the other way, each size for itself or as well as can be; None where that
    is nothing else, or where the writer's amount is enough for it. A backing that this amount covers is counted in."""
    plan, beside = found.plan, ZERO
    simple, close = (Length(Fraction(x) / found.scale) for x in (plan.simple_buy, plan.close_buy))
    if simple <= close:
        return None
    if found.planned is not None:
        beside = found.planned - Length(Fraction(plan.buy) / found.scale)
        if plan.method != "simple" and simple + beside <= found.buy:
            return None
    return (close if plan.method == "simple" else simple) + beside


class Bolt(NamedTuple):
    """What so many makers take of a fabric that is cut by length: what `each` is given, the sum of that, and the
    `least` that would do if the sum alone were rounded up."""

    each: Length
    whole: Length
    least: Length


def bolt_of(found: FabricPlan, plan: Plan, pattern: Pattern, makers: int) -> Bolt:
    """The bolt for a number of makers, each of whom cuts the printed list. Where the writer's amount covers the backing
    as well, so does the bolt."""
    fabric, lining = found.fabric, plan.lining(found.fabric.key)
    covers = found.planned is not None and lining > 0 and plan.backing_buy == ZERO
    parts = [found.used, lining] if covers else [found.used]
    spare = fabric.spare.ceil_to(pattern.settings.ruler)
    wanted = sum((part.fraction + spare for part in parts if part > 0), Fraction(0)) * makers
    least = Length(before_washing(wanted, fabric.shrinkage)).ceil_to(fabric.lot)
    return Bolt(found.buy, found.buy * makers, min(Length(least), found.buy * makers))


def as_stated(plan: Plan, pattern: Pattern) -> Plan:
    """The plan with what the writer tells people to buy, wherever that is enough: it covers all that is cut from a
    fabric, so that a backing of it is bought with the rest."""
    fabrics, lining = dict(plan.fabrics), plan.backing_buy
    for key, fabric in pattern.fabrics.items():
        if fabric.buy_span is None or not (pattern.as_written or fabric.by_size):
            continue
        found, own = fabrics.get(key), plan.lining(key)
        if found is not None and found.each is not None:
            stated = fabric.buy.value(pattern.parameters) if fabric.buy is not None and fabric.buy_each else ZERO
            if stated > found.each:
                fabrics[key] = msgspec.structs.replace(found, each=stated, planned=found.each)
            continue
        if fabric.buy is None:
            if found is not None and found.sheets is not None:
                fabrics[key] = _in_packs(found, fabric)
            continue
        claim = fabric.buy.value(pattern.parameters)
        taken = (found.used if found is not None else ZERO) + own
        if claim < unwashed(taken, fabric) or (found is not None and found.sheets is not None):
            continue
        if found is not None:
            planned = found.buy + (lining if own > 0 and lining is not None else ZERO)
            fabrics[key] = msgspec.structs.replace(found, buy=claim, planned=planned)
        if own > 0:
            lining = ZERO if found is not None else claim
    return msgspec.structs.replace(plan, fabrics=fabrics, backing_buy=lining)


def _in_packs(found: FabricPlan, fabric: Fabric) -> FabricPlan:
    """Packs (or sheets, where one makes a pack) that are stated."""
    pack = fabric.stock.pack if fabric.stock is not None else 1
    stated = fabric.buy_packs if fabric.buy_packs is not None else -(-(fabric.buy_sheets or 0) // pack)
    return msgspec.structs.replace(found, packs_stated=stated)
