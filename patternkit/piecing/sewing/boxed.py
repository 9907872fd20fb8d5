"""Diamonds, hexagons, kites and trapezoids: the shape, and triangles that square it off."""

from __future__ import annotations

from patternkit.piecing.batch import Action, Batch, TrimBeyond
from patternkit.piecing.kinds.boxed import LEVEL, ShapeSides
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.desk import Desk
from patternkit.piecing.sewing.shaped import as_drawn


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """One triangle after the other; where they are cut larger, the unit is trimmed beyond the points of the shape."""
    numbers = making.recipe.numbers
    ending: list[Action] = []
    if isinstance(numbers, ShapeSides) and numbers.beyond:
        ending.append(TrimBeyond(numbers.beyond, of=0))
    return as_drawn(making, desk, trimmed=making.recipe.method.phrase == LEVEL, ending=ending)
