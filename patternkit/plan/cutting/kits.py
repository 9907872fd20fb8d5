"""A shop's bolt for many makers, each of whom still cuts the printed list."""

from __future__ import annotations

import msgspec

from patternkit.plan.cutting.grid import to_buy
from patternkit.plan.cutting.model import CutPlan, CuttingError, CuttingSettings, Exact


class Kits(msgspec.Struct, frozen=True):
    """The bolt for `makers` kits.

    `each` is what one maker is given, the printed length to buy; `bolt` is the plain sum of that. `least` is what the
    bolt would be if every maker were given the length used with the spare and shrinkage but without rounding, the sum
    alone being rounded up to `lot`: the difference is what rounding costs the shop.
    """

    makers: int
    each: Exact
    bolt: Exact
    least: Exact
    lot: Exact


def kits(plan: CutPlan, makers: int, settings: CuttingSettings) -> Kits:
    """Add up the bolt for a number of makers; the plan is the one printed for one maker.

    Raises `CuttingError` when there are no makers.
    """
    if makers < 1:
        raise CuttingError(f"a bolt is planned for one maker or more, not for {makers}")
    many = msgspec.structs.replace(settings, spare=settings.spare * makers)
    least = to_buy(plan.length * makers, many)[0] if plan.length else 0
    return Kits(makers, plan.buy, plan.buy * makers, least, settings.lot)
