"""Set-in pieces are held on two sides: they are cut on a line of the ruler only where they do not add up to a
hair."""

from __future__ import annotations

import pytest

from patternkit.piecing.names import Name
from tests.kinds_more.test_shapes import unit


@pytest.mark.parametrize(
    ("block", "corner", "cut"),
    [
        ("11 1/8", 3.7584, None),  # 0.0084 from 3 3/4; a hair is 1/32, and an eighth of it 0.0039
        (12, 4.0147, None),
        (10, 3.4289, None),
        ("7 1/4", 2.6235, 2.625),
        ("10 1/4", 3.5022, 3.5),
    ],
)
def test_corner_squares_of_a_star(block: int | str, corner: float, cut: float | None) -> None:
    """A diamond's side is the block's over 2 + root 2; the square beside it has two seams more."""
    one = unit("eight-point-star night, sky", f"finished {block}")
    found = next(c for c in one.recipe.cuts if c.name == Name("corner square"))
    assert float(found.exact_width) == pytest.approx(corner, abs=1e-4) and found.count == 4
    if cut is None:
        assert found.then == "template" and found.shape
    else:
        assert found.then == "" and float(found.width) == float(found.height) == cut
