"""Flying geese: a triangle (the goose) that points up between two smaller ones (the sky)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from patternkit.lengths import ONE, SQRT2, ZERO, Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import Choice, chosen, pieces, problems
from patternkit.piecing.chosen import resolve, resolve_squares, stated
from patternkit.piecing.kinds.base import Equations, Kind, Shop
from patternkit.piecing.kinds.quarter_square import half_cut, quarter_cut
from patternkit.piecing.leaves import Leaf, sides
from patternkit.piecing.making import Cloth, Making, PieceCut, Point, Recipe
from patternkit.piecing.method import FLIP, TRIANGLES, Method
from patternkit.piecing.names import Name
from patternkit.piecing.shapes import Then, called, counted, making, merged, same_as, seam
from patternkit.piecing.templates import template_cut
from patternkit.piecing.tips import dog_ears

GRAIN: Point = (ONE, ZERO)
FLIPPED = Method(
    "stitch and flip", "geese-flip", FLIP, ruler="geese", drawn="flips", formula="geese-flip", pressed="out"
)
FOUR = Method(
    "four at a time", "geese-four", ("no waste",), 4, "geese", drawn="geese", formula="geese-four", pressed="out"
)
FROM_TRIANGLES = Method(
    "from triangles",
    "geese-triangles",
    TRIANGLES,
    4,
    "geese",
    drawn="joins",
    formula="geese-triangles",
    pressed="out",
)
TEMPLATE = Method(
    "from templates", "geese-templates", ("templates",), ruler="geese", drawn="joins", pressed="out", exact=True
)
WHY = {
    FLIPPED: "the corners are squares sewn on their diagonals",
    FOUR: "goose and sky are halves of squares",
    FROM_TRIANGLES: "the goose is a quarter and the sky are halves of squares",
}


class FlyingGeese(Kind):
    """``flying-geese goose, sky`` or ``flying-geese goose, left, right``: the goose points up."""

    words: ClassVar[tuple[str, ...]] = ("flying-geese",)
    written: ClassVar[str] = "flying-geese goose, sky: the large triangle first, then the small ones beside it"
    methods: ClassVar[tuple[Method, ...]] = (FLIPPED, FOUR, FROM_TRIANGLES, TEMPLATE)
    oversize: ClassVar[bool] = True
    trimming: ClassVar[bool] = True
    pieces: ClassVar[tuple[int, int]] = (2, 3)

    def equations(self, unit: Unit, out: Equations) -> None:
        """Twice as wide as high, except from templates. By stitch and flip the cuts stated are exact sizes."""
        for problem in problems(self, unit, sizes=("cut",)):
            out.problem(problem)
        choice = chosen(self, unit)
        width, height = out.outer(unit)
        if choice.method in WHY:
            out.total(
                [(2, height)],
                width,
                f"{called(unit)} is flying geese by the method {choice.method.name}, twice as wide as "
                f"high because {WHY[choice.method]} (from templates any proportion can be made)",
                unit.kind_span,
            )
        if choice.method is FLIPPED and not choice.oversize:
            for n, piece in enumerate(pieces(unit)[:3]):
                if n == 0:
                    same_as(
                        unit,
                        piece,
                        out,
                        (1, 1),
                        f"the goose of {called(unit)} is cut from a rectangle as large as the unit",
                    )
                else:
                    same_as(
                        unit,
                        piece,
                        out,
                        (2, 1),
                        f"the sky of {called(unit)} is cut from squares as high as the unit",
                    )

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """It is trimmed to size, or cut by templates; a square flipped on it is as high as the unit."""
        return () if chosen(self, unit).method is TEMPLATE else sides(out.outer(unit))

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The left side first, then the right."""
        w, h = shop.width(unit), shop.height(unit)
        goose, left, right = roles(unit)
        top, sw, se = (w / 2, ZERO), (ZERO, h), (w, h)
        cloths = (
            Cloth(shop.fabric(unit, goose), (top, se, sw), GRAIN, Name("goose")),
            Cloth(shop.fabric(unit, left), ((ZERO, ZERO), top, sw), GRAIN, Name("sky")),
            Cloth(shop.fabric(unit, right), (top, (w, ZERO), se), GRAIN, Name("sky")),
        )
        seams = (seam(sw, top, (1,), (0,)), seam(top, se, (2,), (0, 1)))
        choice = chosen(self, unit)
        if choice.method is FLIPPED:
            recipe = self._flip(unit, shop, choice, w, h, cloths)
        elif choice.method is TEMPLATE:
            trims = dog_ears([c.outline for c in cloths], seams, shop.seam)
            recipe = Recipe(choice.method, merged(template_cut(c, shop, t) for c, t in zip(cloths, trims, strict=True)))
        else:
            recipe = self._squares(unit, shop, choice, w, h, cloths)
        return making(unit, w, h, cloths, seams, recipe)

    def _flip(self, unit: Unit, shop: Shop, choice: Choice, w: Length, h: Length, cloths: tuple[Cloth, ...]) -> Recipe:
        """A rectangle with a square sewn on its diagonal at either top corner, the corners trimmed and opened."""
        s, (goose, left, right) = shop.seam, roles(unit)
        raw = (w + s * 2, h + s * 2)
        (wide, high), place = resolve(
            unit,
            shop,
            choice,
            lambda more, seam: (w + more + seam * 2, h + more + seam * 2),
            stated(unit, shop, goose),
            "rectangles",
            not choice.oversize,
        )
        base = wide, high
        cuts = [PieceCut(cloths[0].fabric, base[0], base[1], raw[0], raw[1], 1, name=Name("goose"), stated=place)]
        for piece, cloth in ((left, cloths[1]), (right, cloths[2])):
            side, place = resolve_squares(
                unit, shop, choice, lambda more, seam: h + more + seam * 2, piece, not choice.oversize
            )
            cuts.append(PieceCut(cloth.fabric, side, side, raw[1], raw[1], 1, name=Name("sky"), stated=place))
        return Recipe(
            choice.method,
            merged(cuts),
            sewn=base if base != raw else None,
            trim_to=raw if base != raw else None,
        )

    def _squares(
        self, unit: Unit, shop: Shop, choice: Choice, w: Length, h: Length, cloths: tuple[Cloth, ...]
    ) -> Recipe:
        """One large square gives four geese, each small square two pieces of sky.

        The large square's excess is shared between the bottom and the point: the sky, level with the goose's lower end,
        needs at least half of it more to reach past the point. Oversize makes the small squares larger: that is where
        the unit is trimmed.
        """
        s, (goose, left, right) = shop.seam, roles(unit)
        four = choice.method is FOUR
        exact, raw = (quarter_cut(w, s), half_cut(h, s)), (w + s * 2, h + s * 2)
        large, place = resolve_squares(
            unit, shop, Choice(choice.method), lambda more, seam: quarter_cut(w + more, seam), goose, trimmed=False
        )
        beside = h + (large - exact[0]) / 2
        one_each = {piece.slot: piece for piece in (left, right)}
        found = {
            slot: resolve_squares(unit, shop, choice, lambda more, seam: half_cut(beside + more, seam), piece)
            for slot, piece in one_each.items()
        }
        skies = [found[left.slot], found[right.slot]]
        then: tuple[Then, Then] = ("", "") if four else ("quarter", "half")
        cuts = [PieceCut(cloths[0].fabric, large, large, exact[0], exact[0], 1, then[0], Name("goose"), stated=place)]
        for cloth, (side, place) in zip(cloths[1:], skies, strict=True):
            cuts.append(PieceCut(cloth.fabric, side, side, exact[1], exact[1], 2, then[1], Name("sky"), stated=place))
        handed = four and len(counted(c.fabric for c in cloths[1:])) > 1
        small = min(side for side, _ in skies)
        sewn = (large - s * SQRT2 * 2, small - s * SQRT2)
        return Recipe(
            choice.method,
            merged(cuts),
            2 if handed else 4,
            2 if handed else 0,
            sewn=sewn if sewn != raw else None,
            trim_to=raw if sewn != raw else None,
            tied=((0, 1, False),) if four and not handed else (),
        )


def roles(unit: Unit) -> tuple[Component, Component, Component]:
    """The pieces for goose, left and right sky."""
    listed = pieces(unit)
    return listed[0], listed[1], listed[2] if len(listed) > 2 else listed[1]
