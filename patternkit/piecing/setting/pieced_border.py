"""Pieced borders: a unit repeated along each side, which must fill it exactly."""

from __future__ import annotations

from fractions import Fraction

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Edge
from patternkit.piecing.making import Making, Part, Place, Placed, Recipe, Seam, rectangle
from patternkit.piecing.workshop import Workshop, corner_place
from patternkit.problems import Problem
from patternkit.units import number, show


def pieced_sides(
    edge: Edge, long: Length, high: Length, shop: Workshop
) -> dict[str, tuple[Part, Place]] | None:
    """The four sides of a pieced border, each a row of the unit with its top to the outside; None after noting why a
    side is not filled."""
    assert edge.piece is not None
    what, place = shop.part_in("quilt", edge.piece)
    if not isinstance(what, Making):
        return None
    width = what.width if place.turned % 180 == 0 else what.height
    height = what.height if place.turned % 180 == 0 else what.width
    made: dict[Length, Making] = {}
    for length, side in ((long, "top and bottom"), (high, "sides")):
        times = length / width
        if not times.is_fraction or times.fraction.denominator != 1:
            shop.problem(_no_fit(edge, side, length, width, shop))
            return None
        if length not in made:
            name = f"{edge.word} {side}" if long != high else f"{edge.word} strip"
            made[length] = _strip(name, what, place, int(times.fraction), width, height)
    top, sides = made[long], made[high]
    return {
        "top": (top, corner_place(top, 0)),
        "bottom": (top, corner_place(top, 180)),
        "left": (sides, corner_place(sides, 270)),
        "right": (sides, corner_place(sides, 90)),
    }


def _strip(name: str, what: Making, place: Place, times: int, width: Length, height: Length) -> Making:
    parts = tuple(Placed(what, Place(width * i + place.dx, place.dy, place.turned)) for i in range(times))
    seams = tuple(
        Seam((width * i, height), (width * i, ZERO), tuple(range(i)), (i,)) for i in range(1, times)
    )
    return Making(
        name,
        "quilt",
        "border strip",
        "row",
        rectangle(width * times, height),
        width * times,
        height,
        parts,
        seams,
        Recipe("joined", "row-joined"),
        name,
    )


def _no_fit(edge: Edge, side: str, length: Length, width: Length, shop: Workshop) -> Problem:
    units = shop.pattern.settings.units
    assert edge.piece is not None
    times = (length / width).floor_to(Fraction(1))
    rest = length - width * times
    causes = [
        f"The {side} of {edge.word} finish {show(length, units)}.",
        f"One {edge.piece.name} finishes {show(width, units)} long, so {times} of them leave "
        f"{show(rest, units)} over.",
    ]
    coping = (width * (times + 1) - length) / 2
    causes.append(
        f"A plain border {number(coping, units)} wide inside it would make room for {times + 1} of them on "
        f"the {side}."
    )
    return Problem(
        "border-does-not-close",
        f"The units of {edge.word} do not fill the {side} of the quilt.",
        edge.span,
        causes=tuple(causes),
    )
