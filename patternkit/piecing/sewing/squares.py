"""What is sewn across squares: pairs halved by two seams, corners flipped; what is done with every unit in the end."""

from __future__ import annotations

import msgspec

from patternkit.piecing.batch import Action, Corner, Cut, Discard, Lay, Line, Measure, Open, Sew, TrimTo
from patternkit.piecing.making import Cloth, Making, PieceCut, Seam
from patternkit.piecing.names import Name
from patternkit.piecing.sewing.desk import Desk, trimming

Passages = list[tuple[str, list[Action]]]
_WAYS = {"diagonal": "diagonal", "cross": "cross", "geese": "point", "points": "points"}


def cloths_of(making: Making) -> list[Cloth]:
    """The pieces of a unit that is sewn from plain cloth alone."""
    return [p.what for p in making.parts if isinstance(p.what, Cloth)]


def cut_named(making: Making, cloth: Cloth, name: Name | None = None) -> PieceCut:
    """The cut for a piece of cloth: of its fabric, and of its name (or another that is given) where cuts are told apart
    by name."""
    own, wanted = [c for c in making.recipe.cuts if c.fabric == cloth.fabric], cloth.name if name is None else name
    return next((c for c in own if c.name == wanted), own[0])


def pressed(seam: Seam, left: int, right: int) -> int:
    """The part to whose side a seam is pressed, of two that stand for its left and its right."""
    return {"left": left, "right": right}.get(seam.pressed, -1)


def face_down(upper: int, onto: int) -> Lay:
    """A square face down on another that lies straight: its upper right corner on the other's upper left."""
    return Lay(((Corner(upper, 1), Corner(onto, 0)), (Corner(upper, 0), Corner(onto, 1))))


def halved(line: Line) -> list[Action]:
    """Sewn a seam allowance from a line on both sides of it, and cut on the line."""
    return [Sew(line, (1, -1)), Cut((line,))]


def pair(onto: int, upper: int, toward: int) -> list[Action]:
    """Two squares face to face, halved along the diagonal from lower left to upper right of the one below, opened.

    Of the two squares of two triangles that come of it, one keeps the upper left corner of `onto`, one the lower right.
    """
    line = Line(Corner(onto, 3), Corner(onto, 1))
    return [face_down(upper, onto), *halved(line), Open(toward, parts=(onto, upper))]


def flipped(base: int, corner: int, square: int, toward: int, waste: Making | None = None) -> list[Action]:
    """A square sewn on its diagonal over a corner of a base, what lies a seam allowance beyond cut off, opened.

    Where a unit is made of the `waste`, a second seam is sewn two seam allowances beside the first before the cut, and
    what comes off is opened too, and trimmed.
    """
    line = Line(Corner(square, 0), Corner(square, 2))
    lay = Lay(((Corner(square, 1), Corner(base, corner)), (Corner(square, 0), Corner(base, (corner + 1) % 4))))
    cut, opened = Cut((Line(Corner(square, 0), Corner(square, 2), -1),)), Open(toward, parts=(square,))
    if waste is None:
        return [lay, Sew(line), cut, Discard(Corner(square, 1)), opened]
    assert waste.recipe.trim_to is not None
    trimmed = TrimTo(*waste.recipe.trim_to, "diagonal", holding=Corner(square, 1))
    return [lay, Sew(line), Sew(line, (-2,)), cut, opened, trimmed]


def in_the_end(making: Making, desk: Desk, holding: Corner | None = None) -> Passages:
    """What is done with every unit: trimmed where its recipe says so, else measured. Only the hand that is `holding` a
    corner, where more lies on the table."""
    way = _WAYS.get(making.recipe.method.ruler, "even")
    trims = trimming(making, way)
    found: list[TrimTo | Measure] = [*trims] if trims else [desk.measure(making)]
    if holding is not None:
        found = [msgspec.structs.replace(action, holding=holding) for action in found]
    return [("trim" if trims else "measure", [*found])]
