"""Half-rectangles: two triangles of rectangles cut corner to corner, whose tips pass each other."""

from __future__ import annotations

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.batch import Action, Batch, TrimTo
from patternkit.piecing.kinds.half_rectangle import Tips
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.desk import Desk, Part
from patternkit.piecing.sewing.squares import cloths_of, cut_named


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """A triangle of either fabric at a time."""
    recipe = making.recipe
    parts = [
        desk.lying(desk.piece(cut_named(making, c)), p.place.outline(c.outline))
        for c, p in zip(cloths_of(making), making.parts, strict=True)
    ]
    (join,) = desk.joins(making.seams[0], parts)
    slide = recipe.numbers.slide if isinstance(recipe.numbers, Tips) else Length(0)
    if recipe.cuts[0].width == recipe.cuts[0].height and not _first_is_wide(parts[join.left[0].part], join.left[0].n):
        slide = -slide
    level = msgspec.structs.replace(join, fit="slid" if slide else "level", slide=slide, ears=False)
    size = desk.measure(making)
    trim = TrimTo(size.width, size.height, "diagonal")  # exact cuts too leave the tips that reach past the edge
    passages: list[tuple[str, list[Action]]] = [(recipe.method.phrase, [level]), ("trim", [trim])]
    found = desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)])
    return [(found, desk.needed)]


def _first_is_wide(part: Part, edge: int) -> bool:
    """Whether the edge of a triangle begins where its side along the width ends."""
    i = part.edges.index(edge)
    return part.outline[i - 1][1] == part.outline[i][1]
