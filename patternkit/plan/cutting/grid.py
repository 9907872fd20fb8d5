"""From exact fractions to the ruler grid, and from a length used to a length to buy."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import lcm

from patternkit.plan.buying import before_washing
from patternkit.plan.cutting.model import CuttingSettings, Exact


def grid(lengths: Iterable[Exact]) -> int:
    """Give the smallest whole factor that makes every length a whole number (1 for no lengths)."""
    return lcm(*(Fraction(length).denominator for length in lengths))


def to_buy(length: Exact, settings: CuttingSettings) -> tuple[Exact, int]:
    """Give the length to buy for a length used, and how many lots that is.

    The spare is added first, then the loss by shrinkage is made good, so that after washing the length and the spare
    are still there; the sum is rounded up once, to the lot.
    """
    if not length:
        return 0, 0
    needed = before_washing(Fraction(length) + Fraction(settings.spare), Fraction(settings.shrinkage) / 10)
    lot = Fraction(settings.lot)
    lots = -(-needed // lot)
    bought = lots * lot
    return (int(bought) if bought.denominator == 1 else bought), int(lots)
