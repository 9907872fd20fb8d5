"""From a length that is cut up to a length to buy: what is spare, what washing takes, and how cloth is sold."""

from __future__ import annotations

from fractions import Fraction

from patternkit.lengths import Length
from patternkit.model.pattern import Fabric, Pattern
from patternkit.plan.model import Backing


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
