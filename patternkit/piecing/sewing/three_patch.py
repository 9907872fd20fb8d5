"""Three-patches: squares sewn in pairs, then each with a square across the seam; or from triangles."""

from __future__ import annotations

from patternkit.lengths import Length
from patternkit.piecing.batch import Action, Batch, Corner, Lay, Line, Open, TrimTo
from patternkit.piecing.kinds.quarter_square import THREE_TRIANGLES, Halves
from patternkit.piecing.making import Making
from patternkit.piecing.names import Name
from patternkit.piecing.sewing.desk import Desk
from patternkit.piecing.sewing.squares import cloths_of, cut_named, halved, in_the_end, pair, pressed
from patternkit.piecing.sewing.triangles import from_triangles

NAMES = Name("half"), Name("quarter"), Name("quarter")
"""The names of the cuts of its pieces."""


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """From squares, half of what comes out is mirrored."""
    if making.recipe.method is THREE_TRIANGLES:
        return from_triangles(making, desk, NAMES)
    named = zip(cloths_of(making), NAMES, strict=True)
    half, right, bottom = (desk.piece(cut_named(making, cloth, name)) for cloth, name in named)
    small, large = making.seams
    actions: list[Action] = [*pair(0, 1, pressed(small, 0, 1))]
    numbers = making.recipe.numbers
    if isinstance(numbers, Halves) and numbers.quarters - half.width >= Length(desk.ruler) / 4:
        actions.append(TrimTo(half.width, half.width, "diagonal"))
    for square, corner in ((2, 1), (3, 3)):
        first, last = Corner(1, corner), Corner(0, corner - 1)
        actions += [
            Lay(((Corner(square, 1), first), (Corner(square, 3), last))),
            *halved(Line(first, last)),
            Open(pressed(large, square, 0), parts=(square,)),
        ]
    gives = [(desk.thing(making), making.recipe.yields), (desk.image(making), making.recipe.mirrored)]
    passages = [(making.recipe.method.phrase, actions), *in_the_end(making, desk)]
    return [(desk.batch([right, bottom, half, half], passages, gives), desk.times)]
