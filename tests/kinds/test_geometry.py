"""Every kind's patches cover its outline exactly, its seams lie between the parts they name, raw sizes are
two seams more."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.lengths import ZERO
from patternkit.piecing.making import Cloth
from patternkit.piecing.offset import bias_edges, edges
from tests.kinds.bench import one
from tests.kinds.cases import Case, cases, unit
from tests.kinds.sewing import covers
from tests.kinds.test_sewing_strips import sides_of

SQUARES = [
    ("patch", "night", ""),
    ("half-square", "night, glow", "pairs of squares"),
    ("half-square", "night, glow", "four at a time"),
    ("half-square", "night, glow", "eight at a time"),
    ("half-square", "night, glow", "from triangles"),
    ("quarter-square", "night, glow", "pairs of squares"),
    ("quarter-square", "night, glow, stone", "from triangles"),
    ("quarter-square", "night, glow, stone, sea", "from triangles"),
    ("three-patch", "night, glow, stone", "pairs of squares"),
    ("three-patch", "night, glow, stone", "from triangles"),
    ("square-in-a-square", "night, glow", "stitch and flip"),
    ("square-in-a-square", "night, glow", "from triangles"),
    ("square-in-a-square", "night, glow, stone, sea", "from triangles"),
    ("triangle-in-a-square", "night, glow", "from templates"),
    ("triangle-in-a-square", "night, glow, stone", "from templates"),
]
GEESE = [("night, glow", m) for m in ("stitch and flip", "four at a time", "from triangles", "from templates")]


@pytest.mark.parametrize(("kind", "line", "method"), SQUARES)
@given(case=cases)
@settings(max_examples=4, deadline=None)
def test_square_units(kind: str, line: str, method: str, case: Case) -> None:
    making, _ = unit(kind, line, case, method=method)
    assert (making.width, making.height) == (case[1], case[1])
    assert not covers(making)
    sides_of(making)


@pytest.mark.parametrize(("line", "method"), [*GEESE, ("night, glow, stone", "four at a time")])
@given(case=cases)
@settings(max_examples=4, deadline=None)
def test_geese(line: str, method: str, case: Case) -> None:
    making, _ = unit("flying-geese", line, case, (2, 1), method=method)
    assert not covers(making)
    sides_of(making)


@given(case=cases, ratio=st.fractions(Fraction(1, 4), Fraction(4), max_denominator=8), left=st.booleans())
@settings(max_examples=10, deadline=None)
def test_half_rectangles(case: Case, ratio: Fraction, left: bool) -> None:
    size = f"{case[1]} x {case[1] * ratio}"
    making = one("half-rectangle", "night, glow", finished=size, seam=case[0], leaning="left" if left else "right")
    assert not covers(making)
    sides_of(making)


@given(
    case=cases,
    at=st.sets(st.sampled_from(("top left", "top right", "bottom right", "bottom left")), min_size=1),
)
@settings(max_examples=10, deadline=None)
def test_flipped_corners(case: Case, at: set[str]) -> None:
    """Also where the corners meet in the middle of an edge."""
    for share in (2, 3):
        making, _ = unit("flipped-corners", "night, glow", case, corner=str(case[1] / share), at=", ".join(sorted(at)))
        assert not covers(making)
        sides_of(making)
        assert len(making.parts) == len(at) + 1


@pytest.mark.parametrize(("kind", "line", "method"), [s for s in SQUARES if s[0] != "triangle-in-a-square"])
def test_outer_edges_lie_on_the_straight_grain(kind: str, line: str, method: str) -> None:
    """Where the method gives it; four half-squares at a time have their outer edges on the bias."""
    making = one(kind, line, finished="4", method=method)
    on_bias = False
    for part in making.parts:
        cloth = part.what
        assert isinstance(cloth, Cloth)
        vectors = edges(cloth.outline)
        for i in bias_edges(cloth.outline, cloth.grain):
            (ax, ay), (vx, vy) = cloth.outline[i], vectors[i]
            outside = (vx == ZERO and ax in (ZERO, making.width)) or (vy == ZERO and ay in (ZERO, making.height))
            on_bias |= outside
    assert on_bias == (method == "four at a time")


def test_cuts_are_never_below_what_is_needed() -> None:
    """Every cut rounded up by less than one ruler line, for every kind at an awkward size; but for the centre of a
    square in a square from triangles, whose points would be trimmed off if it were much larger than it is drawn."""
    for kind, line, method in SQUARES:
        making = one(kind, line, finished="3 1/16", method=method)
        rings = kind == "square-in-a-square" and method == "from triangles"
        for cut in making.recipe.cuts[1 if rings else 0 :]:
            for exact, rounded in ((cut.exact_width, cut.width), (cut.exact_height, cut.height)):
                assert ZERO <= rounded - exact < Fraction(1, 8)
                assert rounded.on_grid(Fraction(1, 8))
