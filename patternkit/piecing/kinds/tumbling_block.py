"""Tumbling blocks: three diamonds of 60 degrees that make a hexagon, with one set-in seam."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, ClassVar

from patternkit.lengths import SQRT3, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import one_length, option, pieces, problems
from patternkit.piecing.forms import NOTHING, Form, Sum, size, solved
from patternkit.piecing.kinds.base import Equations, Kind, Shop
from patternkit.piecing.kinds.boxed import level_edges
from patternkit.piecing.making import Cloth, Making, Numbers, PieceCut, Recipe, Seam
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.offset import minus, raw_outline
from patternkit.piecing.shapes import called, merged, seam
from patternkit.piecing.templates import laid, shape_cut, shaped
from patternkit.piecing.unknowns import of_unit

if TYPE_CHECKING:
    from patternkit.piecing.batch import Batch
    from patternkit.piecing.sewing.desk import Desk

SET_IN = Method("set-in", "tumbling-block")


class TumblingSide(Numbers, frozen=True):
    """The finished side of a diamond."""

    side: Length


class TumblingBlock(Kind):
    """``tumbling-block light, mid, dark``: three diamonds, clockwise from the top, in a hexagon."""

    words: ClassVar[tuple[str, ...]] = ("tumbling-block",)
    written: ClassVar[str] = "tumbling-block light, mid, dark: the diamond on top, the right one, the left one"
    pieces: ClassVar[tuple[int, int]] = (3, 3)
    options: ClassVar[dict[str, str]] = {"side": "side 2"}

    def equations(self, unit: Unit, out: Equations) -> None:
        """Twice as high as its side is long, and root 3 times as wide."""
        for problem in problems(self, unit):
            out.problem(problem)
        w, h = out.outer(unit)
        out.total([(SQRT3 / 2, h)], w, f"{called(unit)} is a hexagon with six equal sides", unit.kind_span)
        side, stated = of_unit(unit.key, "side"), option(unit, "side")
        out.shown(side, f"the side of {called(unit)}")
        out.total([(2, side)], h, f"{called(unit)} is twice as high as the side of a diamond", unit.kind_span)
        value = one_length(unit, "side", out)
        if stated is not None and value is not None:
            out.stated(side, value, f"the diamonds of {called(unit)} have sides of {out.render(value)}", stated.span)

    def form(self, unit: Unit, out: Equations) -> Form | None:
        """The hexagon, a point at its top."""
        return _hexagon(size(of_unit(unit.key, "w"), float(SQRT3)), size(of_unit(unit.key, "h"), 2.0))

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The right and the left diamond, then the one on top between them."""
        w, h = shop.width(unit), shop.height(unit)
        fabrics = [shop.fabric(unit, p) for p in pieces(unit)[:3]]
        sizes = {of_unit(unit.key, "w"): w, of_unit(unit.key, "h"): h}
        hexagon = solved(_hexagon(*(size(var, 1.0) for var in sizes)), sizes.__getitem__)
        top, right, low_right, bottom, low_left, left = hexagon
        middle = w / 2, h / 2
        shapes = ((top, right, middle, left), (middle, right, low_right, bottom), (left, middle, bottom, low_left))
        cloths = [
            Cloth(fabric, shape, minus(shape[1], shape[0]), Name("diamond"), True)
            for fabric, shape in zip(fabrics, shapes, strict=True)
        ]
        seams = (
            seam(bottom, middle, (2,), (1,)),
            Seam(right, left, (1, 2), (0,), set_in=True, path=(right, middle, left)),
        )
        recipe = Recipe(SET_IN, merged(_cuts(cloths, shop)), numbers=TumblingSide(h / 2))
        return shaped(unit, hexagon, cloths, seams, recipe)


def _hexagon(w: Sum, h: Sum) -> Form:
    quarter = h / 4
    return (w / 2, NOTHING), (w, quarter), (w, h - quarter), (w / 2, h), (NOTHING, h - quarter), (NOTHING, quarter)


def _cuts(cloths: Sequence[Cloth], shop: Shop) -> Iterator[PieceCut]:
    for cloth in cloths:
        raw = raw_outline(cloth.outline, shop.seam)
        yield shape_cut(cloth, raw, shop, pitch=level_edges(laid(raw, cloth.grain))[0])


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The two lower diamonds up to the dot, then the third set in."""
    from patternkit.piecing.sewing.shaped import as_drawn

    return as_drawn(making, desk)
