"""Bands of segments that step down, each a strip lower than the one before; trimmed along the steps, so that their
squares stand on their corners.

All that is particular to this kind stands here: its equations, its geometry, and how it is sewn. The band runs at 45
degrees to its segments: a segment finishes as wide as it is lower than the last, so that the ruler has a line for it.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, ClassVar

import msgspec

from patternkit.lengths import SQRT2, ZERO, Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import behind, one_length, option, pieces, problems
from patternkit.piecing.division import stretch_within, within
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.leaves import Leaf, sides
from patternkit.piecing.making import Making, Place, Placed, Point, Recipe, Seam, rectangle
from patternkit.piecing.method import Method
from patternkit.piecing.shapes import called, making, opening, seam, shown
from patternkit.piecing.stepped import Steps
from patternkit.problems import Problem, Repair

if TYPE_CHECKING:
    from patternkit.piecing.batch import Batch
    from patternkit.piecing.sewing.desk import Desk

STEPPED = Method("stepped", "band", pressed="right")
COS = SQRT2 / 2


class Band(Kind):
    """``band rung``: so many segments as its length takes; ``stagger 1 1/4`` says how much lower each one is."""

    words: ClassVar[tuple[str, ...]] = ("band",)
    cloth_only: ClassVar[str] = "A band is made of segments that are sewn already."
    written: ClassVar[str] = "band rung, with a unit of strips"
    options: ClassVar[dict[str, str]] = {"stagger": "stagger 1 1/4"}

    def equations(self, unit: Unit, out: Equations) -> None:
        """Its size is its own: as many segments are taken as it needs."""
        for problem in problems(self, unit):
            out.problem(problem)
        for piece in pieces(unit)[:1]:
            if not piece.is_sewn:
                text = f"In {called(unit)}, {piece.name} is no segment of strips that are cut straight across."
                out.problem(Problem("cannot-sew", text, piece.span, causes=(f"It is written {self.written}.",)))
        one_length(unit, "stagger", out)

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """It is trimmed to size."""
        return sides(out.outer(unit))

    def make(self, unit: Unit, shop: Shop) -> Making:
        """Segments side by side, turned so that the steps lie level, as far as they show."""
        width, height = shop.width(unit), shop.height(unit)
        rung, lies = _rung(unit, shop)
        long, wide = rung.width, rung.height
        lower = self._lower(unit, shop, rung)
        _must_climb(unit, shop, wide, lower)
        _must_lie_within(unit, shop, height, (long - lower) * COS)
        raw = width + shop.seam * 2, height + shop.seam * 2
        n = max(2, -int(-(((raw[0] + raw[1]) * COS - shop.seam * 2) / wide).ceil_to(Fraction(1))))
        middle = wide * n / 2, (lower * (n - 1) + long) / 2
        level = _level(middle, width, height)
        window = rectangle(width, height)
        parts, seams = [], list[Seam]()
        for k in range(n):
            place = lies.then(Place(wide * k, lower * k)).then(level)
            parts.append(Placed(rung, place, within(place.outline(rung.outline), window)))
        for k in range(1, n):
            ends = level.point((wide * k, lower * n + long)), level.point((wide * k, ZERO))
            path = stretch_within(ends, window)
            seams.append(seam(path[0], path[-1], range(k), (k,)))
        return making(unit, width, height, parts, seams, Recipe(STEPPED, numbers=Steps(lower, *raw)))

    def _lower(self, unit: Unit, shop: Shop, rung: Making) -> Length:
        """How much lower each segment is: as the writer says, or by one strip."""
        if option(unit, "stagger") is not None:
            expression = behind(unit, "stagger")
            value = shop.length(unit, expression) if expression is not None else None
            if value is None or value <= 0:
                raise Unsettled(unit.key)
            return value
        xs = sorted({p[0] for part in rung.parts for p in part.outline})
        widths = {b - a for a, b in pairwise(xs)}
        if len(widths) == 1:
            return widths.pop()
        raise _cannot(
            unit,
            shop,
            "not-understood",
            f"In {called(unit)}, the strips of {rung.unit} are not equally wide, so that nothing says how much lower "
            "each segment is than the last.",
            "A line under the unit says it: stagger 1 1/4.",
        )


def _rung(unit: Unit, shop: Shop) -> tuple[Making, Place]:
    """The segment, and how it lies: its strips one below the other."""
    piece = pieces(unit)[0]
    turn = piece.turned if piece.turned % 180 == 90 else (piece.turned + 90) % 360
    what, place = shop.part(unit, _turned(piece, turn))
    if (
        not isinstance(what, Making)
        or what.kind != "strips"
        or set(what.outline) != set(rectangle(what.width, what.height))
    ):
        raise _cannot(
            unit,
            shop,
            "cannot-sew",
            f"In {called(unit)}, {piece.name} is no segment of strips that are cut straight across.",
            "It is written band rung, where rung is a unit of strips.",
        )
    return what, place


def _turned(piece: Component, turn: int) -> Component:
    return msgspec.structs.replace(piece, turned=turn)


def _level(middle: Point, width: Length, height: Length) -> Place:
    """The place that turns the steps level, their middle on that of the band."""
    turn = Place(turned=315)
    x, y = turn.point(middle)
    return Place(width / 2 - x, height / 2 - y, 315)


def _must_climb(unit: Unit, shop: Shop, wide: Length, lower: Length) -> None:
    """Refuse steps that do not run at 45 degrees."""
    if wide != lower:
        raise _cannot(
            unit,
            shop,
            "does-not-add-up",
            f"In {called(unit)}, segments finish {shown(wide, shop)} wide, and each is {shown(lower, shop)} lower than "
            "the last: such a band does not run at 45 degrees.",
            "A segment finishes as wide as it is lower than the last, so that the squares stand on their corners.",
            f"cut the segments {shown(lower + shop.seam * 2, shop)} wide",
            f"write stagger {shown(wide, shop)}, where the strips are so wide",
        )


def _must_lie_within(unit: Unit, shop: Shop, height: Length, room: Length) -> None:
    """Refuse a band that is higher than the steps leave: their raw edges lie as far outside the strips as its own."""
    most = room - shop.seam * (2 - SQRT2)
    if height > most:
        raise _cannot(
            unit,
            shop,
            "does-not-add-up",
            f"{opening(unit)} finishes {shown(height, shop)} high, and between the steps of its segments there is room "
            f"for {shown(max(most, ZERO), shop)}.",
            "Along the steps the corners between them are cut off: more strips, or wider ones, leave more.",
            f"make the band {shown(_down(max(most, ZERO), shop), shop)} high or less",
            "take more strips, or wider ones",
        )


def _down(value: Length, shop: Shop) -> Length:
    """The line of the ruler that is not above a length."""
    return Length(value.floor_to(shop.grid))


def _cannot(unit: Unit, shop: Shop, code: str, text: str, cause: str, *repairs: str) -> Unsettled:
    """What to raise after telling why a band can't be sewn."""
    stated = option(unit, "stagger")
    span = stated.span if stated is not None else unit.kind_span
    shop.problem(Problem(code, text, span, causes=(cause,), repairs=tuple(Repair(r) for r in repairs)))
    return Unsettled(unit.key)


def batches(made: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """Segments sewn one after the other, each lower than the last, and the band trimmed along the steps."""
    from patternkit.piecing.sewing import band

    return band.batches(made, desk)
