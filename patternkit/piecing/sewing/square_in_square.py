"""A square in a square: by stitch and flip, or rings of triangles, each trimmed beyond its points before the next."""

from __future__ import annotations

from patternkit.piecing.batch import Action, Batch, Join, TrimBeyond
from patternkit.piecing.kinds.square_in_square import FLIPPED, Rings
from patternkit.piecing.making import Making, Outline, Placed, Point
from patternkit.piecing.sewing.desk import Desk, Part
from patternkit.piecing.sewing.flips import flips
from patternkit.piecing.sewing.squares import cut_named, in_the_end

RING = 4


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """One at a time; opposite corners of a ring come one after the other."""
    if making.recipe.method is FLIPPED:
        return flips(making, desk)
    parts = [_part(making, p, desk) for p in making.parts]
    rings = making.recipe.numbers
    beyond = rings.beyond if isinstance(rings, Rings) else desk.seam
    actions: list[Action] = []
    for n, seam in enumerate(making.seams, 1):
        (join,) = desk.joins(seam, parts)
        actions.append(Join(join.right, join.left, join.toward, "centred", ears=True))
        if n % RING == 0 and (n < len(making.seams) or not _on_ruler(making, desk)):
            actions.append(TrimBeyond(beyond if n == len(making.seams) else desk.seam))
    last = in_the_end(making, desk) if _on_ruler(making, desk) else []
    passages = [(making.recipe.method.phrase, actions), *last]
    return [(desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)]), desk.times)]


def _part(making: Making, placed: Placed, desk: Desk) -> Part:
    """A part as it is taken. Of triangles whose ends are cut off by later seams the whole outline counts."""
    if isinstance(placed.what, Making):
        return desk.part(making, placed)
    outline = placed.place.outline(placed.what.outline)
    if id(placed.what) in desk.recipes:  # a unit of one piece
        return desk.lying(desk.piece(desk.cut_for(making, placed.what)), outline)
    if len(outline) > RING:
        before, _, (x, y), _, after = outline
        outline = _uncut(before, (x, y), after)
    return desk.lying(desk.piece(cut_named(making, placed.what)), outline)


def _uncut(before: Point, corner: Point, after: Point) -> Outline:
    """The triangle with its right angle at a corner of which the long edge runs through two points."""
    (x, y), leg = corner, abs(before[0] - corner[0]) + abs(before[1] - corner[1])
    along = [(x + (leg if p[0] > x else -leg), y) for p in (before, after) if p[0] != x][:1]
    down = [(x, y + (leg if p[1] > y else -leg)) for p in (before, after) if p[1] != y][:1]
    first = down[0] if (along[0][0] > x) == (down[0][1] > y) else along[0]
    second = along[0] if first == down[0] else down[0]
    return first, corner, second


def _on_ruler(making: Making, desk: Desk) -> bool:
    """Whether the ruler has the size to which it is trimmed; otherwise its points say where."""
    return all(side.on_grid(desk.ruler) for side in making.recipe.trim_to or ())
