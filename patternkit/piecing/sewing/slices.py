"""Slices: pieces in the reverse order of the lines, by template or cut by the ruler, or on paper."""

from __future__ import annotations

from patternkit.piecing.batch import Batch, TrimBeyond
from patternkit.piecing.kinds.half_rectangle import Tips
from patternkit.piecing.kinds.slices_ruled import RoundCore
from patternkit.piecing.making import Making
from patternkit.piecing.sewing import half_rectangle
from patternkit.piecing.sewing.along_arcs import is_curve
from patternkit.piecing.sewing.desk import Desk
from patternkit.piecing.sewing.paper import on_paper
from patternkit.piecing.sewing.shaped import as_drawn


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """From templates all raw edges meet, unless these keep their points; triangles that a ruler cuts are trimmed."""
    recipe = making.recipe
    if recipe.method.on_paper:
        return on_paper(making, desk)
    if isinstance(recipe.numbers, Tips):
        return half_rectangle.batches(making, desk)
    if isinstance(recipe.numbers, RoundCore):
        return as_drawn(making, desk, ending=[TrimBeyond(recipe.numbers.beyond, of=recipe.numbers.core)])
    if any(is_curve(seam) for seam in making.seams):
        return as_drawn(making, desk)
    return as_drawn(making, desk, trimmed=any(len(c.shape) > len(c.sewn) for c in recipe.cuts))
