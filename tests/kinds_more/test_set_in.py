"""Set-in pieces are held on two sides: they are cut on a line of the ruler only where that is a hair away."""

from __future__ import annotations

import pytest

from tests.kinds_more.test_shapes import unit


@pytest.mark.parametrize(
    ("block", "corner", "cut"),
    [
        (12, 4.0147, 4.0),
        (9, 3.1360, 3.125),
        (6, 2.2574, 2.25),
        (8, 2.8431, None),  # 0.032 from 2 7/8, and a hair is 1/32 = 0.03125
        (10, 3.4289, None),  # 0.054 from 3 3/8
    ],
)
def test_corner_squares_of_a_star(block: int, corner: float, cut: float | None) -> None:
    """A diamond's side is the block's over 2 + root 2; the square beside it has two seams more."""
    one = unit("eight-point-star night, sky", f"finished {block}")
    found = next(c for c in one.recipe.cuts if c.name == "corner square")
    assert float(found.exact_width) == pytest.approx(corner, abs=1e-4) and found.count == 4
    if cut is None:
        assert found.then == "template" and found.shape
    else:
        assert found.then == "" and float(found.width) == float(found.height) == cut
