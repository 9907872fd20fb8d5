"""Half-squares: a square of two triangles that meet on its diagonal, the first fabric upper left."""

from __future__ import annotations

from typing import ClassVar

from patternkit.lengths import ONE, SQRT2, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import chosen, pieces, problems
from patternkit.piecing.chosen import one_for_all, settle
from patternkit.piecing.kinds.base import Equations, Kind, Shop
from patternkit.piecing.making import Cloth, Making, PieceCut, Point, Recipe
from patternkit.piecing.shapes import Then, making, merged, seam, square

PHRASES = {
    "pairs of squares": "half-square-pairs",
    "four at a time": "half-square-four",
    "eight at a time": "half-square-eight",
    "from triangles": "half-square-triangles",
}
YIELDS = {"pairs of squares": 2, "four at a time": 4, "eight at a time": 8, "from triangles": 2}


def exact_cut(method: str, finished: Length, s: Length) -> Length:
    """The side of the squares to cut, exactly, for a half-square of that finished size and a seam `s`.

    Pairs and triangles: the triangle's legs grow by ``s`` at the right angle and by ``s cot 22.5 deg = (1 +
    root 2) s`` at the sharp corner. Four at a time: sewn round the edge, the square less a seam on each side
    is the unit's raw diagonal. Eight at a time: four pairs in one square.
    """
    if method == "four at a time":
        return (finished + s * 2) * SQRT2 + s * 2
    leg = finished + s * 2 + s * SQRT2
    return leg * 2 if method == "eight at a time" else leg


def sewn_size(method: str, cut: Length, s: Length) -> Length:
    """What the unit measures from raw edge to raw edge before it is trimmed."""
    if method == "four at a time":
        return (cut - s * 2) / SQRT2
    return (cut / 2 if method == "eight at a time" else cut) - s * SQRT2


class HalfSquare(Kind):
    """``half-square night, glow``: two triangles; from pairs of squares, four or eight at a time, or from
    triangles."""

    words: ClassVar[tuple[str, ...]] = ("half-square",)
    methods: ClassVar[tuple[str, ...]] = (
        "pairs of squares",
        "four at a time",
        "eight at a time",
        "from triangles",
        "oversize",
    )
    pieces: ClassVar[tuple[int, int]] = (2, 2)

    def equations(self, unit: Unit, out: Equations) -> None:
        """It is square."""
        for problem in problems(self, unit, sizes=("cut",), own_cut=True):
            out.problem(problem)
        square(unit, out, "is a half-square, as wide as it is high")

    def make(self, unit: Unit, shop: Shop) -> Making:
        """Two triangles and the seam between them."""
        f = shop.width(unit)
        fabrics = [shop.fabric(unit, p) for p in pieces(unit)[:2]]
        method = chosen(self, unit)
        grain: Point = (ONE, ONE) if method.name == "four at a time" else (ONE, ZERO)
        nw, ne, se, sw = (ZERO, ZERO), (f, ZERO), (f, f), (ZERO, f)
        cloths = (Cloth(fabrics[0], (nw, ne, sw), grain), Cloth(fabrics[1], (ne, se, sw), grain))
        return making(unit, f, f, cloths, (seam(sw, ne, (0,), (1,)),), self._recipe(unit, shop, f, fabrics))

    def _recipe(self, unit: Unit, shop: Shop, f: Length, fabrics: list[str]) -> Recipe:
        s, method = shop.seam, chosen(self, unit)
        exact = exact_cut(method.name, f, s)
        (side,), said = settle(unit, shop, method, (exact,), one_for_all(unit, shop), "squares")
        then: Then = "half" if method.name == "from triangles" else ""
        cuts = merged(PieceCut(fabric, side, side, exact, exact, 1, then, said=said) for fabric in fabrics)
        sewn, raw = sewn_size(method.name, side, s), f + s * 2
        return Recipe(
            method.name,
            PHRASES[method.name],
            cuts,
            YIELDS[method.name],
            sewn=(sewn, sewn) if sewn != raw else None,
            trim_to=(raw, raw) if sewn != raw else None,
            values={
                "first": fabrics[0],
                "second": fabrics[1],
                "cut": side,
                "exact": exact,
                "sewn": sewn,
                "measures": raw,
                "trim": sewn - raw,
                "makes": YIELDS[method.name],
                "seam": s,
                "oversize": int(method.oversize),
            },
        )
