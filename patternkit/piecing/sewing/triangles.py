"""Units sewn from triangles, one at a time: seam by seam, as drawn."""

from __future__ import annotations

import msgspec

from patternkit.piecing.batch import Action, Batch
from patternkit.piecing.making import Making
from patternkit.piecing.names import Name
from patternkit.piecing.sewing.desk import Desk
from patternkit.piecing.sewing.squares import cloths_of, cut_named, in_the_end


def from_triangles(making: Making, desk: Desk, names: tuple[Name, ...] = ()) -> list[tuple[Batch, int]]:
    """The pieces lie as drawn and are joined in sewing order; edges that end in tips meet with their middles. `names`
    are the names of their cuts where the pieces have none of their own."""
    cloths = cloths_of(making)
    cuts = [cut_named(making, c, name) for c, name in zip(cloths, names or [c.name for c in cloths], strict=True)]
    parts = [
        desk.lying(desk.piece(cut), placed.place.outline(cloth.outline))
        for cut, cloth, placed in zip(cuts, cloths, making.parts, strict=True)
    ]
    joins = [join for seam in making.seams for join in desk.joins(seam, parts)]
    actions: list[Action] = [msgspec.structs.replace(j, fit="centred") if j.ears else j for j in joins]
    passages = [(making.recipe.method.phrase, actions), *in_the_end(making, desk)]
    return [(desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)]), desk.needed)]
