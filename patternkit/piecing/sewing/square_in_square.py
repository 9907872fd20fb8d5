"""A square in a square: by stitch and flip, or rings of triangles, each trimmed beyond its points before the next."""

from __future__ import annotations

from patternkit.piecing.batch import Action, Batch, Join, TrimBeyond
from patternkit.piecing.kinds.square_in_square import FLIPPED
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.desk import Desk
from patternkit.piecing.sewing.flips import flips
from patternkit.piecing.sewing.squares import cloths_of, cut_named, in_the_end

RING = 4


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """One at a time; opposite corners of a ring come one after the other."""
    if making.recipe.method is FLIPPED:
        return flips(making, desk)
    parts = [
        desk.lying(desk.piece(cut_named(making, c)), p.place.outline(c.outline))
        for c, p in zip(cloths_of(making), making.parts, strict=True)
    ]
    actions: list[Action] = []
    for n, seam in enumerate(making.seams, 1):
        (join,) = desk.joins(seam, parts)
        actions.append(Join(join.right, join.left, join.toward, "centred", ears=True))
        if n % RING == 0 and (n < len(making.seams) or not _on_ruler(making, desk)):
            actions.append(TrimBeyond(desk.seam))
    last = in_the_end(making, desk) if _on_ruler(making, desk) else []
    passages = [(making.recipe.method.phrase, actions), *last]
    return [(desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)]), desk.times)]


def _on_ruler(making: Making, desk: Desk) -> bool:
    """Whether the ruler has the size to which it is trimmed; otherwise its points say where."""
    return all(side.on_grid(desk.ruler) for side in making.recipe.trim_to or ())
