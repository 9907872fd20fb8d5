"""Quarter-squares: squares sewn in pairs, then those across the seam; or from triangles."""

from __future__ import annotations

from patternkit.piecing.batch import Action, Batch, Corner, Lay, Line, Open
from patternkit.piecing.kinds.quarter_square import HOURGLASS_TRIANGLES
from patternkit.piecing.making import Making, Seam
from patternkit.piecing.sewing.desk import Desk
from patternkit.piecing.sewing.squares import cloths_of, cut_named, halved, in_the_end, pair, pressed
from patternkit.piecing.sewing.triangles import from_triangles

UPPER, LOWER = 1, 3
"""The corners of a pair's first square at which the line across its seam begins, in its two squares of triangles; the
line ends at the corner before."""


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """From squares, half of what comes out is mirrored: the long seam lies on the other diagonal."""
    if making.recipe.method is HOURGLASS_TRIANGLES:
        return from_triangles(making, desk)
    fabrics = [c.fabric for c in cloths_of(making)]
    right, left, across = making.seams
    actions: list[Action] = [*pair(0, 1, pressed(right, 0, 1))]
    if fabrics[:2] == fabrics[2:]:
        squares, pairs = [0, 1], [(1, Corner(0, 2), Corner(1, 3))]
    else:
        actions += pair(2, 3, pressed(left, 3, 2))
        squares = [0, 1, 2, 3]
        pairs = [(UPPER, Corner(2, 0), Corner(3, 1)), (LOWER, Corner(2, 2), Corner(3, 3))]
    for first, over, beside in pairs:
        actions += _crossed(first, over, beside, across)
    cloths = cloths_of(making)
    uses = [desk.piece(cut_named(making, cloths[n])) for n in squares]
    gives = [(desk.thing(making), making.recipe.yields), (desk.image(making), making.recipe.mirrored)]
    passages = [(making.recipe.method.phrase, actions), *in_the_end(making, desk)]
    return [(desk.batch(uses, passages, gives), desk.times)]


def _crossed(first: int, over: Corner, beside: Corner, seam: Seam) -> list[Action]:
    """A square of two triangles on another, unlike ones on each other, halved across the seam and opened.

    The one below holds corner `first` of squares 0 and 1; `over` and `beside` are the corners of the other that come to
    lie where its line begins and ends. Either may lie on the seam's left: a turn brings it there.
    """
    begin, end = Corner(1, first), Corner(0, first - 1)
    toward = {"left": begin, "right": over}.get(seam.pressed, -1)
    return [Lay(((over, begin), (beside, end))), *halved(Line(begin, end)), Open(toward, spun=seam.spun is not None)]
