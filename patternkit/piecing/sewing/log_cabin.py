"""Log cabins on paper; cut to length they are straight joins like any others."""

from __future__ import annotations

from patternkit.piecing.batch import Batch
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.desk import Desk
from patternkit.piecing.sewing.paper import on_paper


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """Piece by piece round the centre."""
    return on_paper(making, desk) if making.recipe.method.on_paper else []
