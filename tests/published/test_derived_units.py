"""Derived geometry of units, through pattern text: tables worked out from the geometry of seams, not found
in print.

(Where a row is printed, its source stands beside it.)
"""

from __future__ import annotations

import pytest

from patternkit.lengths import SQRT2
from patternkit.piecing.making import PieceCut
from patternkit.piecing.names import english
from tests.published.desk import num, objection, pattern, sound


def cuts(kind: str, *lines: str, settings: tuple[str, ...] = ()) -> dict[tuple[str, str], PieceCut]:
    """The cuts of one unit, by fabric and name."""
    project = sound(pattern("unit it\n" + "".join(f"    {x}\n" for x in (kind, *lines)), *settings))
    return {(c.fabric, english(c.name) if c.name is not None else ""): c for c in project.makings["it"].recipe.cuts}


def by_fabric(found: dict[tuple[str, str], PieceCut], fabric: str) -> PieceCut:
    (cut,) = [c for (f, _), c in found.items() if f == fabric]
    return cut


# Finished size; centre cut; inner corner squares by (F / 2) / 1.414 + 7/8, and up to 1/8; outer corner
# squares.
ECONOMY = [
    ("4", "2 1/2", 2.2892, "2 3/8", "2 7/8"),
    ("5", "3", 2.6428, "2 3/4", "3 3/8"),
    ("6", "3 1/2", 2.9963, "3", "3 7/8"),
    ("8", "4 1/2", 3.7034, "3 3/4", "4 7/8"),
    ("9", "5", 4.0570, "4 1/8", "5 3/8"),
    ("10", "5 1/2", 4.4105, "4 1/2", "5 7/8"),
    ("12", "6 1/2", 5.1176, "5 1/8", "6 7/8"),
]


@pytest.mark.parametrize(("finished", "centre", "formula", "inner", "outer"), ECONOMY)
def test_economy_block(finished: str, centre: str, formula: float, inner: str, outer: str) -> None:
    """The formula lies 0.0214 over the exact size, so its squares are enough: at most an eighth above
    ours."""
    kind = "square-in-a-square night, glow, stone"
    found = cuts(kind, f"finished {finished}", "method from triangles")
    assert by_fabric(found, "night").width == num(centre)
    square = by_fabric(found, "glow")
    assert float(square.exact_width) == pytest.approx(formula - 0.0214, abs=3e-4)
    assert square.exact_width <= square.width <= num(inner) <= square.width + num("1/8")
    assert by_fabric(found, "stone").width == num(outer)
    stated = f"square-in-a-square night cut {centre}, glow cut {inner}, stone cut {outer}"
    cuts(stated, f"finished {finished}", "method from triangles")


# Centre finished, centre cut, block finished, corner squares by the formula, up to 1/8 and to 1/4.
ON_POINT = [
    ("2", "2 1/2", 2.8284, 2.2892, "2 3/8", "2 1/2"),
    ("3", "3 1/2", 4.2426, 2.9963, "3", "3"),
    ("4", "4 1/2", 5.6569, 3.7034, "3 3/4", "3 3/4"),
    ("5", "5 1/2", 7.0711, 4.4105, "4 1/2", "4 1/2"),
    ("6", "6 1/2", 8.4853, 5.1176, "5 1/8", "5 1/4"),
    ("8", "8 1/2", 11.3137, 6.5319, "6 5/8", "6 3/4"),
]


@pytest.mark.parametrize(("centre", "cut", "block", "formula", "eighth", "quarter"), ON_POINT)
def test_one_square_on_point(centre: str, cut: str, block: str, formula: float, eighth: str, quarter: str) -> None:
    lines = (f"finished root(2)*{centre}", "method from triangles")
    for square in (eighth, quarter):
        found = cuts(f"square-in-a-square night cut {cut}, glow cut {square}", *lines)
        assert by_fabric(found, "night").width == num(cut)
    found = cuts("square-in-a-square night, glow", *lines)
    project = sound(pattern("unit it\n    square-in-a-square night, glow\n" + "".join(f"    {x}\n" for x in lines)))
    assert float(project.makings["it"].width) == pytest.approx(float(block), abs=5e-5)
    assert by_fabric(found, "night").exact_width == num(cut)
    exact = by_fabric(found, "glow").exact_width
    assert float(exact) == pytest.approx(formula - 0.0214, abs=3e-4)
    assert exact <= num(eighth) <= num(quarter)


RECTANGLES = [
    ("1 1/2", "3", 2.1545, 4.3090, "2 1/4", "4 3/8"),
    ("2", "4", 2.6545, 5.3090, "2 3/4", "5 3/8"),
    ("3", "6", 3.6545, 7.3090, "3 3/4", "7 3/8"),
    ("1", "3", 1.5969, 4.7906, "1 5/8", "4 7/8"),
    ("4", "6", 4.7171, 7.0757, "4 3/4", "7 1/8"),
    ("8", "10", 8.7702, 10.9627, "8 7/8", "11"),
]


@pytest.mark.parametrize(("width", "height", "exact_width", "exact_height", "w", "h"), RECTANGLES)
def test_half_rectangles(width: str, height: str, exact_width: float, exact_height: float, w: str, h: str) -> None:
    """Cut a + s (1 + (d + a) / b) by b + s (1 + (d + b) / a); the cut rectangle keeps the finished
    proportion."""
    kind = "half-rectangle night, glow"
    (cut, *_) = cuts(kind, f"finished {width} x {height}").values()
    assert float(cut.exact_width) == pytest.approx(exact_width, abs=6e-5)
    assert float(cut.exact_height) == pytest.approx(exact_height, abs=6e-5)
    assert (cut.width, cut.height) == (num(w), num(h))
    cuts(kind, f"finished {width} x {height}", f"cut {w} x {h}")
    less = num(w) - num("1/8")
    text = f"unit it\n    {kind}\n    finished {width} x {height}\n    cut {less.fraction} x {h}\n"
    assert "too small" in objection(pattern(text), "cut-too-small")


def test_diamond_of_45_degrees() -> None:
    """Finished height 2: strip 2 1/2, cut 2 1/2 apart, the ruler set to the strip's width
    (https://chrisandbarbaraquilts.wordpress.com/2015/08/27/rotary-cutting-part-7/)."""
    # a diamond that stands 2 in between two sides has sides of 2 root 2
    (making,) = sound(pattern("block star\n    eight-point-star night, glow\n    side 2*root(2)\n")).makings.values()
    (diamond,) = [c for c in making.recipe.cuts if c.fabric == "night"]
    assert diamond.exact_height == diamond.height == num("2 1/2")
    assert diamond.pitch is not None and diamond.pitch / SQRT2 == num(
        "2 1/2"
    )  # along the strip; the ruler lies square to it


@pytest.mark.parametrize(("block", "radius", "pie", "background"), [("6", "5", "5 1/2", "6 1/2")])
def test_quarter_circle(block: str, radius: str, pie: str, background: str) -> None:
    """Finished 6, radius 5: strips of 5 1/2 and 6 1/2
    (http://carolbradyquilting.blogspot.com/2017/06/drunkards-path-block.html
    https://jmncreativeendeavours.ca/2020/10/14/)."""
    found = cuts("quarter-circle night, glow", f"radius {radius}", f"finished {block}")
    assert by_fabric(found, "night").height == num(pie)
    assert by_fabric(found, "glow").height == num(background)


@pytest.mark.parametrize("seam", ["1/8", "1/4", "3/8"])
def test_adders_in_terms_of_the_seam(seam: str) -> None:
    """2 s, (2 + root 2) s, (2 + 2 root 2) s; at a quarter inch 0.5, 0.8536 and 1.2071."""
    s = num(seam)
    settings = (f"seam {seam}",)
    half = by_fabric(cuts("half-square night, glow", "finished 4", settings=settings), "night")
    quarter = by_fabric(cuts("quarter-square night, glow", "finished 4", settings=settings), "night")
    eight = by_fabric(
        cuts("half-square night, glow", "finished 4", "method eight at a time", settings=settings), "night"
    )
    four = by_fabric(cuts("half-square night, glow", "finished 4", "method four at a time", settings=settings), "night")
    assert half.exact_width == s * (SQRT2 + 2) + 4
    assert quarter.exact_width == s * (SQRT2 * 2 + 2) + 4
    assert eight.exact_width == (s * (SQRT2 + 2) + 4) * 2
    assert four.exact_width == (s * 2 + 4) * SQRT2 + s * 2
