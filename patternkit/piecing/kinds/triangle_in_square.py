"""A triangle in a square: a tall triangle from the bottom edge to the middle of the top, a narrow one on either
side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from patternkit.lengths import ONE, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import pieces, problems
from patternkit.piecing.kinds.base import Equations, Kind, Shop
from patternkit.piecing.kinds.half_rectangle import inset, raw_legs
from patternkit.piecing.leaves import Leaf, sides
from patternkit.piecing.making import Cloth, Making, PieceCut, Point, Recipe
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.shapes import making, merged, seam, square, up
from patternkit.piecing.templates import leaning, template_cut

GRAIN: Point = (ONE, ZERO)
TEMPLATE = Method("from templates", "triangle-in-square", ("templates",), 2, drawn="joins", pressed="out")


class TriangleInSquare(Kind):
    """``triangle-in-a-square centre, side`` or ``triangle-in-a-square centre, left, right``: the triangle points up."""

    words: ClassVar[tuple[str, ...]] = ("triangle-in-a-square",)
    methods: ClassVar[tuple[Method, ...]] = (TEMPLATE,)
    pieces: ClassVar[tuple[int, int]] = (2, 3)

    def equations(self, unit: Unit, out: Equations) -> None:
        """It is square."""
        for problem in problems(self, unit):
            out.problem(problem)
        square(unit, out, "is a triangle in a square, as wide as it is high")

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """It is trimmed to size."""
        return sides(out.outer(unit))

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The left side first, then the right."""
        f, listed = shop.width(unit), pieces(unit)
        fabrics = [shop.fabric(unit, p) for p in listed]
        top, sw, se = (f / 2, ZERO), (ZERO, f), (f, f)
        cloths = (
            Cloth(fabrics[0], (top, se, sw), GRAIN, Name("centre"), template=True),
            Cloth(fabrics[1], ((ZERO, ZERO), top, sw), GRAIN, Name("left side")),
            Cloth(fabrics[-1], (top, (f, ZERO), se), GRAIN, Name("right side")),
        )
        seams = (seam(sw, top, (1,), (0,)), seam(top, se, (2,), (0, 1)))
        return making(unit, f, f, cloths, seams, self._recipe(shop, f, cloths))

    def _recipe(self, shop: Shop, f: Length, cloths: tuple[Cloth, ...]) -> Recipe:
        """Two rectangles cut corner to corner, one each way, give the sides of two units; they are mirror images."""
        s = shop.seam
        exact = raw_legs(f / 2, f, s)
        sides = up(exact[0], shop.grid), up(exact[1], shop.grid)
        centre = template_cut(cloths[0], shop, {}, 2)
        cuts = [
            centre,
            *(
                PieceCut(c.fabric, sides[0], sides[1], exact[0], exact[1], 1, "half", c.name, leans=leaning(c.outline))
                for c in cloths[1:]
            ),
        ]
        raw, over = f + s * 2, inset(sides[0], sides[1], f / 2, f, s)
        return Recipe(
            TEMPLATE,
            merged(cuts),
            TEMPLATE.makes,
            sewn=(f + over * 2, f + s + over) if sides != exact else None,
            trim_to=(raw, raw) if sides != exact else None,
        )
