"""A star of which the diamonds are sewn of rows: sizes both ways, and which corner lies inward."""

from __future__ import annotations

import pytest

from patternkit.lengths import SQRT2, Length
from patternkit.piecing.making import Making, Place
from patternkit.piecing.reflect import flattened
from tests.kinds_more.written import made, problems_of, worked

ROWS = """unit row-1
    strips night 1 1/2 | sea 1 1/2
    slant 45
    {cut}
unit row-2
    strips sea 1 1/2 | glow 1 1/2
    slant 45
    {cut}
unit point
    column row-1 | row-2
block star
    eight-point-star point, sky
"""


def fabrics_at(making: Making, near: tuple[float, float]) -> set[str]:
    """The fabrics of all pieces with a corner at a point."""
    found = set()
    for cloth, place in flattened(making, Place()):
        corners = [(float(x), float(y)) for x, y in place.outline(cloth.outline)]
        if any(abs(x - near[0]) < 1e-6 and abs(y - near[1]) < 1e-6 for x, y in corners):
            found.add(cloth.fabric)
    return found


@pytest.mark.parametrize("method", ["", "    method straight seams\n"])
def test_the_sharp_upper_left_corner_lies_inward(method: str) -> None:
    """A row of strips 1 1/2 wide is cut 2 wide: the side of its diamonds is 1 1/2 root 2, that of the points twice, and
    the block 2 + root 2 times as wide (3.41 D, https://karencombs.com/page.php?ID=31)."""
    star = made(ROWS.replace("{cut}", "cut 2") + method, "star")
    side = SQRT2 * 3
    assert star.width == side * (SQRT2 + 2)
    middle = float(star.width) / 2
    assert fabrics_at(star, (middle, middle)) == {"night"}
    tip = float(star.width - side)
    assert fabrics_at(star, (tip, 0.0)) == {"glow", "sky"}


def test_what_is_left_of_the_star_settles_a_row() -> None:
    """One row is said to be cut 2; the star settles the other, which is as wide."""
    text = ROWS.replace("{cut}", "cut 2", 1).replace("    {cut}\n", "")
    makings, problems = worked(text + "    finished 3 * root(2) * (2 + root(2))\n")
    assert not problems and makings["row-2"].height == makings["row-1"].height
    assert makings["row-2"].width == Length(3)


def test_a_point_that_is_no_diamond() -> None:
    """Three rows of two are as wide as two, and no diamond."""
    text = ROWS.replace("{cut}", "cut 2").replace("column row-1 | row-2", "column row-1 | row-2 | row-1")
    assert any(p.code == "does-not-add-up" for p in problems_of(text))
