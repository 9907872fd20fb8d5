"""The triangles along the sides and in the corners of a setting on point: plain cloth, or units of that shape.

A unit that stands for a triangle has its outline: right-angled with two equal short edges, as large as the place. It is
turned so that its long edge lies outside, whichever way it is drawn.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Component, Quilt
from patternkit.piecing.kinds.base import Unsettled
from patternkit.piecing.making import Cloth, Outline, PieceCut, Place, Placed, Point
from patternkit.piecing.names import CORNER_TRIANGLE, END_TRIANGLE, SIDE_TRIANGLE
from patternkit.piecing.offset import box_size, edges, length_of, minus
from patternkit.piecing.setting.setting_cuts import end_cut, side_square, triangle_cuts
from patternkit.piecing.shapes import merged
from patternkit.piecing.workshop import Workshop
from patternkit.problems import Problem
from patternkit.units import show

GRAIN = (Length(1), Length(-1))
"""Straight grain along the quilt's edges, in the frame of a row."""
TURNS = tuple(range(0, 360, 45))


class EdgeTriangles(msgspec.Struct, frozen=True):
    """What fills the triangles: of the sides, and of the corners; a fabric, or a piece that is a unit. `cuts` are the
    squares for plain ones."""

    fabrics: tuple[str, str]
    units: tuple[Component | None, Component | None]
    cuts: tuple[PieceCut, ...]
    shop: Workshop
    of: str = ""  # the key of the unit that is set so; of the quilt itself none

    def end(self, shape: Outline) -> Placed:
        """The triangle at an end of a column that lies half a block lower, which is plain."""
        return Placed(Cloth(self.fabrics[1], shape, name=END_TRIANGLE))

    def part(self, shape: Outline, corner: bool, grain: Point = GRAIN) -> Placed:
        """The triangle that lies under an outline (a little more than a triangle where the blocks float)."""
        unit = self.units[corner]
        if unit is None:
            name = CORNER_TRIANGLE if corner else SIDE_TRIANGLE
            return Placed(Cloth(self.fabrics[corner], shape, grain, name))
        what, _ = self.shop.part_in_quilt(unit, self.of)
        for turned in TURNS:
            place = Place(turned=turned)
            drawn = place.outline(what.outline)
            shift = _onto(drawn, shape)
            if shift is not None:
                return Placed(what, Place(shift[0], shift[1], turned))
        self._misfit(unit, shape, what.outline, corner)
        raise Unsettled(unit.name)

    def cuts_for(self, parts: Sequence[Placed]) -> tuple[PieceCut, ...]:
        """The squares for the plain triangles among some parts."""
        cloths = [p.what for p in parts if isinstance(p.what, Cloth)]
        return merged(square_for(cloth, self.cuts, self.shop.seam) for cloth in cloths)

    def _misfit(self, unit: Component, shape: Outline, drawn: Outline, corner: bool) -> None:
        """Note a unit that is no triangle, or one of another size."""
        units = self.shop.units
        sides = sorted({length_of(e) for e in edges(shape)})
        where = "corner" if corner else "side"
        own = [length_of(e) for e in edges(drawn)]
        has = "it is no triangle" if len(own) != 3 else "it has edges of " + ", ".join(show(x, units) for x in own)
        outline = "middle of top, bottom right, bottom left" if corner else "top left, top right, bottom left"
        size = f"{show(sides[-1], units)} wide" if corner else show(sides[0], units)
        causes = (
            f"A {where} triangle here has two edges of {show(sides[0], units)} and a right angle between them."
            if len(sides) == 2
            else "With a float they are no triangles any more, and have to be plain cloth.",
            f"Such a unit is written, for example, as slices with outline {outline}, finished {size}.",
        )
        message = f"{unit.name} does not fit as a {where} triangle: {has}."
        self.shop.problem(Problem("cannot-sew", message, unit.span, causes=causes))


def square_for(triangle: Cloth, cuts: Sequence[PieceCut], seam: Length) -> PieceCut:
    """The square among some that a plain triangle is cut from: by its name, and where there are two sizes for the
    sides, by the length along its row."""
    found = [c for c in cuts if (c.name, c.fabric) == (triangle.name, triangle.fabric)]
    if len(found) > 1:
        exact = side_square(box_size(triangle.outline)[0], seam)
        found = [c for c in found if c.exact_width == exact] or found
    return found[0]


def edge_triangles(
    quilt: Quilt,
    usual: str,
    sides: tuple[Length, Length],
    rooms: tuple[Length, Length],
    shop: Workshop,
    *,
    lower: bool = False,
) -> EdgeTriangles | None:
    """What fills the triangles of a quilt, whose `usual` fabric is what is said of all of them; None where nothing says
    what some are."""
    setting = quilt.setting
    pieces = (setting.sides, setting.corners) if setting is not None else (None, None)
    fabrics = tuple(p.fabric if p is not None and p.fabric else usual for p in pieces)
    units = tuple(p if p is not None and p.unit else None for p in pieces)
    if any(not fabric and unit is None for fabric, unit in zip(fabrics, units, strict=True)):
        return None
    cuts = triangle_cuts(quilt, (fabrics[0], fabrics[1]), sides, rooms, shop)
    if lower:
        cuts = (*cuts, end_cut(fabrics[1], sides[0], shop))
    return EdgeTriangles((fabrics[0], fabrics[1]), (units[0], units[1]), cuts, shop, quilt.of)


def _onto(drawn: Outline, shape: Outline) -> Point | None:
    """How far an outline has to be moved to lie on another; None where it does not fit."""
    if len(drawn) != len(shape):
        return None
    for n in range(len(drawn)):
        ring = (*drawn[n:], *drawn[:n])
        by = minus(shape[0], ring[0])
        if all(minus(q, p) == by for p, q in zip(ring, shape, strict=True)):
            return by
    return None
