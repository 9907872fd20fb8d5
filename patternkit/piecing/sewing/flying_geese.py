"""Flying geese: by stitch and flip, four at a time, from triangles, from templates."""

from __future__ import annotations

from fractions import Fraction

from patternkit.lengths import SQRT2, Length
from patternkit.piecing.batch import Action, Batch, Corner, Fit, Join, Lay, Line, Middle, Open, Piece, Snip
from patternkit.piecing.kinds.flying_geese import FLIPPED, FOUR, TEMPLATE
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.desk import Desk
from patternkit.piecing.sewing.flips import flips
from patternkit.piecing.sewing.shaped import as_drawn
from patternkit.piecing.sewing.squares import cloths_of, cut_named, halved, in_the_end, pressed

HIDDEN = Length(Fraction(1, 32))
"""Inches of a tip that are lost in the turn of the cloth."""


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """Four at a time gives half of them mirrored where the two sides of the sky differ."""
    method = making.recipe.method
    if method is FLIPPED:
        return flips(making, desk)
    if method is TEMPLATE:
        return as_drawn(making, desk, trimmed=True)
    return _four(making, desk) if method is FOUR else _triangles(making, desk)


def _four(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """Two small squares on opposite corners of a large one, halved; a third and a fourth on the corner that each half
    has left, halved. Each goose has one side from the first two squares and one from the others."""
    goose, first, second = (desk.piece(cut_named(making, c)) for c in cloths_of(making))
    sides = pressed(making.seams[0], 1, 0), making.seams[1].pressed
    line = Line(Corner(0, 0), Corner(0, 2))
    actions: list[Action] = [
        Lay(((Corner(1, 1), Corner(0, 0)), (Corner(1, 0), Corner(0, 1)))),
        Lay(((Corner(2, 1), Corner(0, 2)), (Corner(2, 0), Corner(0, 3)))),
        *([Snip(Line(Corner(0, 1), Corner(0, 3)), (1, 2))] if _tips_show(goose, first, desk) else []),
        *halved(line),
        Open(sides[0]),
    ]
    for square, corner in ((3, 1), (4, 3)):
        actions += [
            Lay(((Corner(square, 1), Corner(0, corner)), (Corner(square, 0), Middle(0, corner)))),
            *halved(Line(Corner(square, 1), Corner(square, 3))),
            Open({"left": square, "right": 0}.get(sides[1], -1), parts=(square,)),
        ]
    recipe = making.recipe
    gives = [(desk.thing(making), recipe.yields)]
    if recipe.mirrored:
        gives.append((desk.image(making), recipe.mirrored))
    passages = [(recipe.method.phrase, actions), *in_the_end(making, desk)]
    return [(desk.batch([goose, first, first, second, second], passages, gives), desk.times)]


def _tips_show(goose: Piece, sky: Piece, desk: Desk) -> bool:
    """Whether the corners of small squares that overlap in the middle of the large one would reach out from under the
    seams that cross there: along the diagonal each reaches past the middle by half the overlap times root 2, and is
    covered by one seam at its own seam, by one at the other."""
    return (sky.width * 2 - goose.width) / SQRT2 - desk.seam * 2 > HIDDEN


def _triangles(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """A small triangle on either short edge of the large one, level with its sharp end."""
    parts = [
        desk.lying(desk.piece(cut_named(making, c)), p.place.outline(c.outline))
        for c, p in zip(cloths_of(making), making.parts, strict=True)
    ]
    actions: list[Action] = []
    for seam in making.seams:
        (join,) = desk.joins(seam, parts)
        goose = next(e for e in join.right if e.part == 0)
        fit: Fit = (
            "start" if goose.n == 1 else "end"
        )  # a quarter's edge 1 runs from its sharp corner to its right angle
        actions.append(Join((goose,), join.left, join.toward, fit, ears=True))
    passages = [(making.recipe.method.phrase, actions), *in_the_end(making, desk)]
    found = desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)])
    return [(found, desk.needed)]
