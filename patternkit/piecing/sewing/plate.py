"""Plates: blades sewn side by side, from the raw edge of the hole to the corner where their outer ends begin."""

from __future__ import annotations

import msgspec

from patternkit.piecing.batch import Action, Batch
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.cloths import parts_of
from patternkit.piecing.sewing.desk import Desk


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """One seam after the other; of a plate the last one closes the ring. Each stops at the outer corner, so that what
    is turned under there stays free."""
    parts, joins = parts_of(making, desk), list[Action]()
    for seam in making.seams:
        joins += [
            msgspec.structs.replace(join, start="seam", fit="points", ears=True) for join in desk.joins(seam, parts)
        ]
    found = desk.batch([p.use for p in parts], [(making.recipe.method.phrase, joins)], [(desk.thing(making), 1)])
    return [(found, desk.times)]
