"""The triangles along the sides and in the corners of a setting on point: plain cloth, or units of that shape.

A unit that stands for a triangle has its outline: right-angled with two equal short edges, as large as the place. It is
turned so that its long edge lies outside, whichever way it is drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Component, Quilt
from patternkit.piecing.kinds.base import Unsettled
from patternkit.piecing.making import Cloth, Outline, PieceCut, Place, Placed, Point
from patternkit.piecing.names import CORNER_TRIANGLE, END_TRIANGLE, SIDE_TRIANGLE
from patternkit.piecing.offset import box_size, edges, length_of, minus
from patternkit.piecing.setting.setting_cuts import end_cut, side_square, triangle_cuts
from patternkit.piecing.shapes import merged
from patternkit.piecing.templates import is_rectangle
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
    side: Length  # of the blocks that are set so
    of: str = ""  # the key of the unit that is set so; of the quilt itself none

    def end(self, shape: Outline) -> Placed:
        """The triangle at an end of a column that lies half a block lower, which is plain."""
        return Placed(Cloth(self.fabrics[1], shape, name=END_TRIANGLE))

    def part(self, shape: Outline, corner: bool, cell: Place, grain: Point = GRAIN) -> Placed:
        """The triangle that lies under an outline (a little more than a triangle where the blocks float). A block that
        is sewn in whole lies in its `cell`, and shows as far as the outline reaches."""
        unit = self.units[corner]
        if unit is None:
            name = CORNER_TRIANGLE if corner else SIDE_TRIANGLE
            return Placed(Cloth(self.fabrics[corner], shape, grain, name))
        what, lies = self.shop.part_in_quilt(unit, self.of)
        square = is_rectangle(what.outline) and box_size(what.outline) == (self.side, self.side)
        if square and self._is_part(shape, corner):
            return Placed(what, lies.then(cell), shape)
        for turned in TURNS:
            place = Place(turned=turned)
            drawn = place.outline(what.outline)
            shift = _onto(drawn, shape)
            if shift is not None:
                return Placed(what, Place(shift[0], shift[1], turned))
        self._misfit(unit, shape, what.outline, corner)
        raise Unsettled(unit.name)

    def _is_part(self, shape: Outline, corner: bool) -> bool:
        """Whether a triangle is half of a block, or in a corner a quarter."""
        long = [length_of(e) for e in edges(shape)]
        return len(long) == 3 and (max(long) if corner else min(long)) == self.side

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
            f"A whole block of {show(self.side, units)} is cut through its middle there, without a float and without "
            "inner sashing.",
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
    block: Length,
    rooms: tuple[Length, Length],
    shop: Workshop,
    *,
    lower: bool = False,
) -> EdgeTriangles | None:
    """What fills the triangles of a quilt of blocks of this side, whose `usual` fabric is what is said of all of them;
    None where nothing says what some are."""
    setting = quilt.setting
    pieces = (setting.sides, setting.corners) if setting is not None else (None, None)
    fabrics = tuple(p.fabric if p is not None and p.fabric else usual for p in pieces)
    units = tuple(p if p is not None and p.unit else None for p in pieces)
    if any(not fabric and unit is None for fabric, unit in zip(fabrics, units, strict=True)):
        return None
    if lower and not fabrics[1] and units[1] is not None:
        _plain_ends(units[1], shop)
    cuts = triangle_cuts(quilt, (fabrics[0], fabrics[1]), sides, rooms, shop)
    if lower:
        cuts = (*cuts, end_cut(fabrics[1], sides[0], shop))
    return EdgeTriangles((fabrics[0], fabrics[1]), (units[0], units[1]), cuts, shop, block, quilt.of)


def is_whole(placed: Placed) -> bool:
    """Whether a triangle is a whole block, which is trimmed when the centre is sewn."""
    return bool(placed.shown)


def end_sort(placed: Placed) -> Literal["block", "side", "corner"]:
    """What lies at the end of a diagonal row: a whole block, the triangle at a side, or that in a corner."""
    if is_whole(placed):
        return "block"
    if isinstance(placed.what, Cloth):
        return "corner" if placed.what.name == CORNER_TRIANGLE else "side"
    ys = [y for _, y in placed.place.outline(placed.what.outline)]
    return "corner" if len(set(ys)) == 3 else "side"  # the third corner lies level with one of the others, or between


def _plain_ends(unit: Component, shop: Workshop) -> None:
    """Note that the large triangles of a zigzag are of no fabric; raises Unsettled."""
    message = f"The large triangles at the ends of the lower columns are plain, and only {unit.name} is named for them."
    cause = "Write their fabric behind zigzag: setting zigzag stone, corners and sides behind commas."
    shop.problem(Problem("no-triangles", message, unit.span, causes=(cause,)))
    raise Unsettled(unit.name)


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
