"""Pieced borders: a unit repeated along each side, which must fill it exactly."""

from __future__ import annotations

from fractions import Fraction

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Framing
from patternkit.piecing.making import Making, Part, Place
from patternkit.piecing.names import Name, Side
from patternkit.piecing.setting.straight import Cell, side_by_side
from patternkit.piecing.unknowns import of_border
from patternkit.piecing.workshop import Workshop, corner_place
from patternkit.problems import Problem
from patternkit.units import show

MOST_PIECES = 2000
"""How many pieces a side may take: each seam knows all that is sewn before it, so that more would take hours."""


def name_of(edge: Framing, side: Side = "") -> Name:
    """A border or ring, or what of it lies on some of its sides."""
    return Name("ring" if edge.word == "ring" else "border", (edge.nth,), side)


def pieced_sides(edge: Framing, long: Length, high: Length, shop: Workshop) -> dict[str, tuple[Part, Place]] | None:
    """The four sides of a pieced border, each repeating its pieces with their tops to the outside; None after noting
    why a side is not filled."""
    marks = (*edge.marks, *[None] * (len(edge.sequence) - len(edge.marks)))
    pieces: list[Cell] = [
        (*shop.part_in_quilt(p, edge.of), shop.solved(shop.sizing.size_in_quilt(p, edge.of)[0]), mark)
        for p, mark in zip(edge.sequence, marks, strict=True)
    ]
    height = shop.solved(of_border(edge.nth, "width", edge.of))
    width = sum((w for _, _, w, _ in pieces), ZERO)
    made: dict[Length, Making] = {}
    both: tuple[tuple[Length, Side], ...] = ((long, "top and bottom"), (high, "sides"))
    for length, side in both:
        times = length / width
        if not times.is_fraction or times.fraction.denominator != 1:
            shop.problem(_no_fit(edge, side, length, (long if length == high else high), width, shop))
            return None
        if times.fraction * len(pieces) > MOST_PIECES:
            shop.problem(_too_many(edge, side, int(times.fraction) * len(pieces)))
            return None
        if length not in made:
            what: Side = side if long != high else "strip"
            if edge.corner is not None and what == "top and bottom":
                what = "top and bottom strip"  # with its corners it is the border at top and bottom
            cells = pieces * int(times.fraction)
            made[length] = side_by_side(name_of(edge, what), "border strip", cells, height, shop, edge.of)
    top, sides = made[long], made[high]
    return {
        "top": (top, corner_place(top, 0)),
        "bottom": (top, corner_place(top, 180)),
        "left": (sides, corner_place(sides, 270)),
        "right": (sides, corner_place(sides, 90)),
    }


def _too_many(edge: Framing, side: str, count: int) -> Problem:
    return Problem(
        "too-large",
        f"The {side} of {edge.called} would take {count:,} pieces; a side takes at most {MOST_PIECES:,}.",
        edge.span,
    )


def _no_fit(edge: Framing, side: str, length: Length, other: Length, width: Length, shop: Workshop) -> Problem:
    """The problem of a side that is no whole number of units long, with what would make room; `other` is as long as the
    sides next to it."""
    units = shop.pattern.settings.units
    times = (length / width).floor_to(Fraction(1))
    rest = length - width * times
    names = " and ".join(dict.fromkeys(p.name for p in edge.sequence))
    causes = [
        f"The {side} of {edge.called} finish {show(length, units)}.",
        f"{names} {'finishes' if len(edge.sequence) == 1 else 'together finish'} {show(width, units)} long, so "
        f"{times} of them leave {show(rest, units)} over.",
    ]
    coping = (width * (times + 1) - length) / 2
    beside = (other + coping * 2) / width
    if beside.is_fraction and beside.fraction.denominator == 1:
        causes.append(
            f"A plain border {show(coping, units)} wide inside it would make room for {times + 1} of them on "
            f"the {side}; a plain border without a width before it is worked out to fit."
        )
    else:
        causes.append(
            f"No plain border of one width inside it helps: the sides and the top differ by "
            f"{show(abs(length - other), units)}, which is no whole number of them."
        )
    return Problem(
        "border-does-not-close",
        f"The units of {edge.called} do not fill the {side} of {edge.of or 'the quilt'}.",
        edge.span,
        causes=tuple(causes),
    )
