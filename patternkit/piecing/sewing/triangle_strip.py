"""Strips of triangles: side by side, one after the other."""

from __future__ import annotations

from patternkit.piecing.batch import Batch
from patternkit.piecing.kinds.triangle_strip import TEMPLATES
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.desk import Desk
from patternkit.piecing.sewing.shaped import as_drawn


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """Cut from strips the triangles keep their points, and the tips reach out; templates meet raw edge to raw edge."""
    return as_drawn(making, desk, trimmed=making.recipe.method is TEMPLATES)
