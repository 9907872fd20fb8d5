"""What is proved of a length of cloth that is cut up, and of the length to buy for it."""

from __future__ import annotations

from fractions import Fraction
from typing import TypedDict

from patternkit.plan.cutting.grid import to_buy
from patternkit.plan.cutting.model import CuttingSettings, Exact


class Figures(TypedDict):
    """The fields of a `CutPlan` that follow from its length and what is proved of it."""

    length: int
    buy: Exact
    lots: int
    bound: int
    bound_buy: Exact
    free: int
    free_buy: Exact
    gap: Fraction
    gap_buy: Fraction
    status: str


def figures(length: int, bound: int, free: int, settings: CuttingSettings) -> Figures:
    """Give what follows from a length, the `bound` of plans of its sort and the length needed however cloth is cut
    (`free`). Neither says more than what is used."""
    free = min(free, length)
    bound = max(min(bound, length), free)
    buy, lots = to_buy(length, settings)
    least, any_way = to_buy(bound, settings)[0], to_buy(free, settings)[0]
    return Figures(
        length=length,
        buy=buy,
        lots=lots,
        bound=bound,
        bound_buy=least,
        free=free,
        free_buy=any_way,
        gap=_excess(length, bound),
        gap_buy=_excess(buy, least),
        status="proved" if buy == any_way else "proved for strips" if buy == least else "bounded",
    )


def _excess(value: Exact, bound: Exact) -> Fraction:
    """Give how much more a value is than its bound, as a fraction of the bound; 0 where both are nothing."""
    return Fraction(value) / Fraction(bound) - 1 if bound else Fraction(0)
