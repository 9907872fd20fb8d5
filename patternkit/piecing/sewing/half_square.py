"""Half-squares: two, four or eight at a time from squares, or from triangles."""

from __future__ import annotations

from patternkit.piecing.batch import Action, Batch, Corner, Cut, Line, Middle, Open, Sew
from patternkit.piecing.kinds.half_square import EIGHT, FOUR, FROM_TRIANGLES
from patternkit.piecing.making import Making, PieceCut
from patternkit.piecing.sewing.desk import Desk
from patternkit.piecing.sewing.squares import face_down, in_the_end

RISING, FALLING = Line(Corner(0, 3), Corner(0, 1)), Line(Corner(0, 0), Corner(0, 2))
MIDDLES = Line(Middle(0, 0), Middle(0, 2)), Line(Middle(0, 1), Middle(0, 3))
LAID = face_down(1, 0)


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """One batch gives as many as the method makes."""
    method = making.recipe.method
    squares = both(making)
    thing = desk.thing(making)
    if method is FROM_TRIANGLES:
        parts = [
            desk.lying(desk.piece(cut), p.place.outline(p.what.outline))
            for cut, p in zip(squares, making.parts, strict=True)
        ]
        joins: list[Action] = [*desk.joins(making.seams[0], parts)]
        passages = [(method.phrase, joins), *in_the_end(making, desk)]
        found = desk.batch([p.use for p in parts], passages, [(thing, 1)])
        return [(found, desk.needed)]
    pressed = {"left": 0, "right": 1}.get(making.seams[0].pressed, -1)
    if method is FOUR:
        sewing: list[Action] = [Sew(Line(Corner(0, n), Corner(0, (n + 1) % 4), 1)) for n in range(4)]
        cut = Cut((RISING, FALLING))
    elif method is EIGHT:
        sewing = [Sew(RISING, (1, -1)), Sew(FALLING, (1, -1))]
        cut = Cut((RISING, FALLING, *MIDDLES))
    else:
        sewing, cut = [Sew(RISING, (1, -1))], Cut((RISING,))
    opened = Open(pressed, picked=method in (FOUR, EIGHT))
    actions: list[Action] = [LAID, *sewing, cut, opened]
    passages = [(method.phrase, actions), *in_the_end(making, desk)]
    uses = [desk.piece(c) for c in squares]
    return [(desk.batch(uses, passages, [(thing, method.makes)]), desk.times)]


def both(making: Making) -> list[PieceCut]:
    """The cuts of the first and of the second fabric, which are one where they are alike."""
    cuts = making.recipe.cuts
    return [cuts[0], cuts[-1]]
