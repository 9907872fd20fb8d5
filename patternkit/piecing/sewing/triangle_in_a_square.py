"""A triangle in a square: a template between two halves of rectangles."""

from __future__ import annotations

from patternkit.piecing.batch import Batch
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.desk import Desk, trimming
from patternkit.piecing.sewing.shaped import as_drawn


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The sides one after the other, trimmed so that the seams cross a seam inside the upper edge."""
    return as_drawn(making, desk, ending=trimming(making, "point"))
