"""What is sewn across squares: pairs halved by two seams, corners flipped; what is done with every unit in the end."""

from __future__ import annotations

from patternkit.piecing.batch import Action, Corner, Cut, Discard, Lay, Line, Open, Sew
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


def flipped(base: int, corner: int, square: int, toward: int) -> list[Action]:
    """A square sewn on its diagonal over a corner of a base, what lies a seam allowance beyond cut off, opened."""
    return [
        Lay(((Corner(square, 1), Corner(base, corner)), (Corner(square, 0), Corner(base, (corner + 1) % 4)))),
        Sew(Line(Corner(square, 0), Corner(square, 2))),
        Cut((Line(Corner(square, 0), Corner(square, 2), -1),)),
        Discard(Corner(square, 1)),
        Open(toward, parts=(square,)),
    ]


def in_the_end(making: Making, desk: Desk) -> Passages:
    """What is done with every unit: trimmed where its recipe says so, else measured."""
    way = _WAYS.get(making.recipe.method.ruler, "even")
    trims = trimming(making, way)
    return [("trim", [*trims])] if trims else [("measure", [desk.measure(making)])]
