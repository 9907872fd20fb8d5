"""Slices: pieces by template in the reverse order of the lines, or on paper."""

from __future__ import annotations

from patternkit.piecing.batch import Batch
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.desk import Desk
from patternkit.piecing.sewing.paper import on_paper
from patternkit.piecing.sewing.shaped import as_drawn


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """From templates all raw edges meet, unless these keep their points."""
    if making.recipe.method.on_paper:
        return on_paper(making, desk)
    return as_drawn(making, desk, trimmed=any(len(c.shape) > len(c.sewn) for c in making.recipe.cuts))
