"""Quarter-squares: four triangles that meet in the middle of a square; and three-patches, one half and two quarters."""

from __future__ import annotations

from collections.abc import Sequence
from math import gcd
from typing import ClassVar

from patternkit.lengths import ONE, SQRT2, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import chosen, pieces, problems
from patternkit.piecing.chosen import one_for_all, resolve, resolve_squares
from patternkit.piecing.forms import NOTHING, Form, size
from patternkit.piecing.kinds.base import Equations, Kind, Shop
from patternkit.piecing.leaves import Leaf, sides
from patternkit.piecing.making import Cloth, Making, Numbers, PieceCut, Point, Recipe, Seam
from patternkit.piecing.method import PAIRS, TRIANGLES, Method
from patternkit.piecing.names import Name
from patternkit.piecing.shapes import Then, called, counted, making, merged, seam, square
from patternkit.piecing.templates import is_alone, lone, no_method
from patternkit.piecing.unknowns import of_unit

GRAIN: Point = (ONE, ZERO)
HOURGLASS_PAIRS = Method(
    "pairs of squares",
    "quarter-square-pairs",
    PAIRS,
    ruler="cross",
    drawn="crossed",
    formula="quarter-square-pairs",
)
HOURGLASS_TRIANGLES = Method(
    "from triangles",
    "quarter-square-triangles",
    TRIANGLES,
    ruler="cross",
    drawn="joins",
    formula="quarter-square-triangles",
)
THREE_PAIRS = Method(
    "pairs of squares", "three-patch-pairs", PAIRS, 2, "cross", drawn="joins", formula="three-patch-pairs"
)
THREE_TRIANGLES = Method(
    "from triangles", "three-patch-triangles", TRIANGLES, 4, "cross", drawn="joins", formula="three-patch-triangles"
)


class Halves(Numbers, frozen=True):
    """What two quarters measure, sewn to a half and not yet trimmed."""

    quarters: Length


def half_cut(finished: Length, s: Length) -> Length:
    """The square to cut, exactly, for a half of a square that finishes `finished`: ``(2 + root 2) s`` more."""
    return finished + s * 2 + s * SQRT2


def quarter_cut(finished: Length, s: Length) -> Length:
    """The square to cut, exactly, for a quarter whose long side finishes `finished`.

    Its long side grows at both sharp corners by ``s cot 22.5 deg = (1 + root 2) s``.
    """
    return finished + s * 2 + s * SQRT2 * 2


class QuarterSquare(Kind):
    """``quarter-square a, b``: a at top and bottom, b at the sides; or three or four fabrics, clockwise from the top.
    ``quarter-square a`` is the triangle at the top alone."""

    words: ClassVar[tuple[str, ...]] = ("quarter-square",)
    written: ClassVar[str] = "quarter-square night, glow: the first fabric lies at top and bottom; or one alone"
    methods: ClassVar[tuple[Method, ...]] = (HOURGLASS_PAIRS, HOURGLASS_TRIANGLES)
    oversize: ClassVar[bool] = True
    pieces: ClassVar[tuple[int, int]] = (1, 4)

    def equations(self, unit: Unit, out: Equations) -> None:
        """It is square."""
        for problem in problems(self, unit, sizes=("cut",), own_cut=True):
            out.problem(problem)
        if not is_alone(unit):
            square(unit, out, "is a quarter-square, as wide as it is high")
            return
        if unit.method is not None:
            out.problem(no_method(unit))
        w, h = out.outer(unit)
        why = f"{called(unit)} is the upper quarter of a square, its long edge on top, half as high as it is wide"
        out.total([(2, h)], w, why, unit.kind_span)

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """It is trimmed to size."""
        return () if is_alone(unit) else sides(out.outer(unit))

    def form(self, unit: Unit, out: Equations) -> Form | None:
        """The upper triangle, where it stands alone."""
        w, h = size(of_unit(unit.key, "w"), 2.0), size(of_unit(unit.key, "h"), 1.0)
        return ((NOTHING, NOTHING), (w, NOTHING), (w / 2, h)) if is_alone(unit) else None

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The halves first (top with right, bottom with left), then the long seam."""
        f = shop.width(unit)
        if is_alone(unit):
            only = shop.fabric(unit, pieces(unit)[0])
            return lone(unit, shop, Cloth(only, ((ZERO, ZERO), (f, ZERO), (f / 2, f / 2)), GRAIN))
        fabrics = around([shop.fabric(unit, p) for p in pieces(unit)[:4]])
        nw, ne, se, sw, mid = (ZERO, ZERO), (f, ZERO), (f, f), (ZERO, f), (f / 2, f / 2)
        shapes = ((nw, ne, mid), (ne, se, mid), (se, sw, mid), (sw, nw, mid))
        cloths = [Cloth(fabric, shape, GRAIN) for fabric, shape in zip(fabrics, shapes, strict=True)]
        seams = [seam(mid, ne, (0,), (1,)), seam(sw, mid, (3,), (2,)), seam(nw, se, (0, 1), (2, 3))]
        return making(unit, f, f, cloths, seams, self._recipe(unit, shop, f, fabrics))

    def _recipe(self, unit: Unit, shop: Shop, f: Length, fabrics: list[str]) -> Recipe:
        s, choice = shop.seam, chosen(self, unit)
        exact, raw = quarter_cut(f, s), f + s * 2
        (side,), place = resolve(
            unit,
            shop,
            choice,
            lambda more, seam: (quarter_cut(f + more, seam),),
            one_for_all(unit, shop),
            "squares",
        )
        pairs = choice.method is HOURGLASS_PAIRS
        counts, makes, images = pair_counts(fabrics) if pairs else triangle_counts(fabrics)
        then: Then = "" if pairs else "quarter"
        cuts = tuple(PieceCut(x, side, side, exact, exact, n, then, stated=place) for x, n in counts.items())
        sewn = side - s * SQRT2 * 2
        return Recipe(
            choice.method,
            cuts,
            makes,
            images,
            sewn=(sewn, sewn) if sewn != raw else None,
            trim_to=(raw, raw) if sewn != raw else None,
            numbers=Halves(side - s * SQRT2),
            tied=((0, 1, True),) if pairs and fabrics[:2] == fabrics[2:] else (),
        )


def around(fabrics: list[str]) -> list[str]:
    """The fabrics of top, right, bottom, left: two alternate, with three the second is at both sides."""
    if len(fabrics) == 2:
        return [fabrics[0], fabrics[1], fabrics[0], fabrics[1]]
    if len(fabrics) == 3:
        return [fabrics[0], fabrics[1], fabrics[2], fabrics[1]]
    return fabrics


def pair_counts(fabrics: list[str]) -> tuple[dict[str, int], int, int]:
    """Squares of each fabric, units made, and mirror images of the unit made with them.

    Each pair of squares gives two alike half-squares; two half-squares face to face, sewn either side of the crossing
    diagonal and cut, give one unit and its mirror image. Two fabrics alternating need one pair. Where opposite quarters
    are alike the mirror image looks like the unit, turned; its long seam lies on the other diagonal.
    """
    top, right, bottom, left = fabrics
    if (top, right) == (bottom, left):
        return counted([top, right]), 1, 1
    return counted(fabrics), 2, 2


def triangle_counts(fabrics: list[str]) -> tuple[dict[str, int], int, int]:
    """Squares of each fabric to cut twice corner to corner, units made, mirror images (none)."""
    quarters = counted(fabrics)
    makes = 4 // gcd(4, *quarters.values())
    return {x: n * makes // 4 for x, n in quarters.items()}, makes, 0


class ThreePatch(Kind):
    """``three-patch half, quarter, quarter``: the half upper left, then the quarters clockwise: right, bottom."""

    words: ClassVar[tuple[str, ...]] = ("three-patch",)
    written: ClassVar[str] = "three-patch night, glow, stone: the half first, then its two quarters"
    methods: ClassVar[tuple[Method, ...]] = (THREE_PAIRS, THREE_TRIANGLES)
    oversize: ClassVar[bool] = True
    pieces: ClassVar[tuple[int, int]] = (3, 3)

    def equations(self, unit: Unit, out: Equations) -> None:
        """It is square."""
        for problem in problems(self, unit, sizes=("cut",)):
            out.problem(problem)
        square(unit, out, "is a three-patch, as wide as it is high")

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """It is trimmed to size."""
        return sides(out.outer(unit))

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The two quarters first, then the half."""
        f = shop.width(unit)
        fabrics = [shop.fabric(unit, p) for p in pieces(unit)[:3]]
        nw, ne, se, sw, mid = (ZERO, ZERO), (f, ZERO), (f, f), (ZERO, f), (f / 2, f / 2)
        shapes = ((nw, ne, sw), (ne, se, mid), (se, sw, mid))
        cloths = [Cloth(fabric, shape, GRAIN) for fabric, shape in zip(fabrics, shapes, strict=True)]
        seams: list[Seam] = [seam(mid, se, (1,), (2,)), seam(sw, ne, (0,), (1, 2))]
        return making(unit, f, f, cloths, seams, self._recipe(unit, shop, f, fabrics))

    def _recipe(self, unit: Unit, shop: Shop, f: Length, fabrics: list[str]) -> Recipe:
        s, choice = shop.seam, chosen(self, unit)
        listed = pieces(unit)
        half_exact, quarter_exact, raw = half_cut(f, s), quarter_cut(f, s), f + s * 2
        half, half_stated = resolve_squares(unit, shop, choice, lambda more, seam: half_cut(f + more, seam), listed[0])
        quarters = [
            resolve_squares(unit, shop, choice, lambda more, seam: quarter_cut(f + more, seam), p) for p in listed[1:3]
        ]
        quarter = min(q[0] for q in quarters)
        pairs = choice.method is THREE_PAIRS
        then: tuple[Then, Then] = ("", "") if pairs else ("half", "quarter")
        cuts = [PieceCut(fabrics[0], half, half, half_exact, half_exact, 2, then[0], Name("half"), stated=half_stated)]
        cuts += [
            PieceCut(x, q[0], q[0], quarter_exact, quarter_exact, 1, then[1], Name("quarter"), stated=q[1])
            for x, q in zip(fabrics[1:], quarters, strict=True)
        ]
        sewn = min(half, quarter - s * SQRT2) - s * SQRT2
        return Recipe(
            choice.method,
            merged(cuts),
            choice.method.makes,
            2 if pairs else 0,
            sewn=(sewn, sewn) if sewn != raw else None,
            trim_to=(raw, raw) if sewn != raw else None,
            numbers=Halves(quarter - s * SQRT2),
        )
