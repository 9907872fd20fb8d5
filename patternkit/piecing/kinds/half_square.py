"""Half-squares: a square of two triangles that meet on its diagonal, the first fabric upper left."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from patternkit.lengths import ONE, SQRT2, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import chosen, pieces, problems
from patternkit.piecing.chosen import one_for_all, resolve
from patternkit.piecing.kinds.base import Equations, Kind, Shop
from patternkit.piecing.leaves import Leaf, sides
from patternkit.piecing.making import Cloth, Making, PieceCut, Point, Recipe
from patternkit.piecing.method import PAIRS, TRIANGLES, Method
from patternkit.piecing.shapes import Then, making, merged, seam, square
from patternkit.piecing.templates import is_alone, lone, no_method
from patternkit.piecing.unknowns import of_unit

if TYPE_CHECKING:
    from patternkit.piecing.forms import Form

TWO = Method("pairs of squares", "half-square-pairs", PAIRS, 2, "diagonal", drawn="pairs", formula="half-square-pairs")
FOUR = Method(
    "four at a time", "half-square-four", ("no waste",), 4, "diagonal", drawn="pairs", formula="half-square-four"
)
EIGHT = Method(
    "eight at a time", "half-square-eight", ("magic eight",), 8, "diagonal", drawn="pairs", formula="half-square-eight"
)
FROM_TRIANGLES = Method(
    "from triangles",
    "half-square-triangles",
    TRIANGLES,
    2,
    "diagonal",
    drawn="long sides",
    formula="half-square-triangles",
)


def exact_cut(method: Method, finished: Length, s: Length) -> Length:
    """The side of the squares to cut, exactly, for a half-square of that finished size and a seam `s`.

    Pairs and triangles: the triangle's legs grow by ``s`` at the right angle and by ``s cot 22.5 deg = (1 + root 2) s``
    at the sharp corner. Four at a time: sewn round the edge, the square less a seam on each side is the unit's raw
    diagonal. Eight at a time: four pairs in one square.
    """
    if method is FOUR:
        return (finished + s * 2) * SQRT2 + s * 2
    leg = finished + s * 2 + s * SQRT2
    return leg * 2 if method is EIGHT else leg


def sewn_size(method: Method, cut: Length, s: Length) -> Length:
    """What the unit measures from raw edge to raw edge before it is trimmed."""
    if method is FOUR:
        return (cut - s * 2) / SQRT2
    return (cut / 2 if method is EIGHT else cut) - s * SQRT2


class HalfSquare(Kind):
    """``half-square night, glow``: two triangles; from pairs of squares, four or eight at a time, or from triangles."""

    words: ClassVar[tuple[str, ...]] = ("half-square",)
    written: ClassVar[str] = "half-square night, glow: the first fabric lies upper left; or half-square night: it alone"
    methods: ClassVar[tuple[Method, ...]] = (TWO, FOUR, EIGHT, FROM_TRIANGLES)
    oversize: ClassVar[bool] = True
    trimming: ClassVar[bool] = True
    pieces: ClassVar[tuple[int, int]] = (1, 2)

    def equations(self, unit: Unit, out: Equations) -> None:
        """It is square."""
        for problem in problems(self, unit, sizes=("cut",), own_cut=True):
            out.problem(problem)
        if is_alone(unit) and unit.method is not None:
            out.problem(no_method(unit))
        square(unit, out, "is a half-square, as wide as it is high")

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """It is trimmed to size."""
        return () if is_alone(unit) else sides(out.outer(unit))

    def form(self, unit: Unit, out: Equations) -> Form | None:
        """The upper left triangle, where it stands alone."""
        if not is_alone(unit):
            return None
        from patternkit.piecing.forms import NOTHING, size  # only one that stands alone needs it

        w, h = size(of_unit(unit.key, "w"), 1.0), size(of_unit(unit.key, "h"), 1.0)
        return (NOTHING, NOTHING), (w, NOTHING), (NOTHING, h)

    def make(self, unit: Unit, shop: Shop) -> Making:
        """Two triangles and the seam between them."""
        f = shop.width(unit)
        fabrics = [shop.fabric(unit, p) for p in pieces(unit)[:2]]
        if is_alone(unit):
            return lone(unit, shop, Cloth(fabrics[0], ((ZERO, ZERO), (f, ZERO), (ZERO, f)), (ONE, ZERO)))
        grain: Point = (ONE, ONE) if chosen(self, unit).method is FOUR else (ONE, ZERO)
        nw, ne, se, sw = (ZERO, ZERO), (f, ZERO), (f, f), (ZERO, f)
        cloths = (Cloth(fabrics[0], (nw, ne, sw), grain), Cloth(fabrics[1], (ne, se, sw), grain))
        return making(unit, f, f, cloths, (seam(sw, ne, (0,), (1,)),), self._recipe(unit, shop, f, fabrics))

    def _recipe(self, unit: Unit, shop: Shop, f: Length, fabrics: list[str]) -> Recipe:
        s, choice = shop.seam, chosen(self, unit)
        method = choice.method
        exact = exact_cut(method, f, s)
        (side,), stated = resolve(
            unit,
            shop,
            choice,
            lambda more, seam: (exact_cut(method, f + more, seam),),
            one_for_all(unit, shop),
            "squares",
        )
        then: Then = "half" if method is FROM_TRIANGLES else ""
        cuts = merged(PieceCut(fabric, side, side, exact, exact, 1, then, stated=stated) for fabric in fabrics)
        sewn, raw = sewn_size(method, side, s), f + s * 2
        return Recipe(
            method,
            cuts,
            method.makes,
            sewn=(sewn, sewn) if sewn != raw else None,
            trim_to=(raw, raw) if sewn != raw else None,
        )
