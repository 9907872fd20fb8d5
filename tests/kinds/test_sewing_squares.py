"""Cut as the recipe says, sewn as the method says: half-squares, quarter-squares and three-patches come out
right."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from patternkit.piecing.reflect import mirror
from tests.kinds.bench import one
from tests.kinds.cases import Case, cases, cut_side, sewn_size, unit
from tests.kinds.sewing import Line, Sewn, cloth, fits, half_square, misfit, rect, right_triangle, sew


def pairs(first: str, second: str, side: float, seam: float) -> Sewn:
    """One half-square from a pair of squares, its seam along y = 0 and its middle at (0, 0), `first`
    above."""
    a, b = rect(first, side, side), rect(second, side, side)
    opened = half_square(a, b, (0, side), (side, 0), seam, -1)
    middle = side / 2 - seam / 2**0.5
    return opened.shifted(-middle, -middle).turned(45)


# -- half-squares -----------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "method", ["pairs of squares", "pairs of squares oversize", "eight at a time", "eight at a time oversize"]
)
@given(case=cases)
@settings(max_examples=12, deadline=None)
def test_half_square_from_pairs(method: str, case: Case) -> None:
    making, seam = unit("half-square", "night, glow", case, method=method)
    side = cut_side(making)
    if "eight" in method:
        side /= 2  # cut across both ways: each quarter is a pair of squares with one drawn diagonal
    sewn = pairs("night", "glow", side, seam)
    assert fits(sewn, making, seam, (0, 0))
    size = sewn_size(making, seam)[0]
    assert abs(sewn.raw.area - size * size) < seam * seam * 4  # but for the dog-ears


@given(case=cases)
@settings(max_examples=12, deadline=None)
def test_half_square_four_at_a_time(case: Case) -> None:
    """Sewn round the edges, cut on both diagonals: one of the four quarters, opened."""
    making, seam = unit("half-square", "night, glow", case, method="four at a time")
    side = cut_side(making)
    quarter = cloth("x", (0, 0), (side, 0), (side / 2, side / 2)).raw
    sewn = sew(
        rect("night", side, side).kept(quarter),
        rect("glow", side, side).kept(quarter),
        Line((0, seam), (1, 0)),
        1,
    )
    assert fits(sewn, making, seam, (side / 2, seam))
    half = sewn_size(making, seam)[0] / 2**0.5
    assert abs(sewn.raw.bounds[3] - seam - half) < 1e-6
    straight = making.parts[0].what.grain
    assert straight[0] == straight[1], "the edges of the large square become the seam: the outer edges lie on the bias"


@given(case=cases)
@settings(max_examples=12, deadline=None)
def test_half_square_from_triangles(case: Case) -> None:
    making, seam = unit("half-square", "night, glow", case, method="from triangles")
    side = cut_side(making)
    a, b = right_triangle("night", side, side), right_triangle("glow", side, side)
    sewn = sew(a, b, Line((0, side), (1, -1)).shifted(-seam), -1)
    middle = side / 2 - seam / 2**0.5
    assert not misfit(sewn, making, seam, (middle, middle), 0)


def test_a_square_cut_too_small_does_not_give_the_unit() -> None:
    """The simulation can fail: an eighth less than needed leaves the unit short."""
    making = one("half-square", "night, glow", finished="3")
    assert fits(pairs("night", "glow", 3.875, 0.25), making, 0.25, (0, 0))
    assert not fits(pairs("night", "glow", 3.75, 0.25), making, 0.25, (0, 0))


# -- quarter-squares --------------------------------------------------------------------------------------
def crossed(lower: Sewn, upper: Sewn, seam: float, side: int) -> Sewn:
    """Two half-squares face to face, seams nested along y = 0, sewn beside x = 0 and cut on it: one of the
    two units.

    Its middle is at (side * seam, 0).
    """
    down = upper.flipped(Line((0, 0), (1, 0)))
    half = Line((0, 0), (0, 1)).half(-side)
    return sew(lower.kept(half), down.kept(half), Line((side * seam, 0), (0, 1)), -side)


@pytest.mark.parametrize("method", ["pairs of squares", "pairs of squares oversize"])
@given(case=cases)
@settings(max_examples=12, deadline=None)
def test_quarter_square_from_pairs(method: str, case: Case) -> None:
    making, seam = unit("quarter-square", "night, glow", case, method=method)
    half = pairs("night", "glow", cut_side(making), seam)
    for side in (1, -1):
        sewn = crossed(half, half, seam, side)
        assert fits(sewn, making, seam, (side * seam, 0))
        width = sewn.raw.bounds[3] - sewn.raw.bounds[1]
        assert abs(width - sewn_size(making, seam)[0] * 2**0.5) < 1e-6


@given(case=cases)
@settings(max_examples=12, deadline=None)
def test_quarter_square_of_four_fabrics_from_pairs_gives_mirror_images(case: Case) -> None:
    making, seam = unit("quarter-square", "night, glow, stone, sea", case)
    side = cut_side(making)
    # one half-square of top and right, one of left and bottom; laid so that top comes opposite bottom
    one_half, other = pairs("night", "glow", side, seam), pairs("stone", "sea", side, seam)
    units = [crossed(one_half, other, seam, s) for s in (1, -1)]
    right = [fits(u, making, seam, (s * seam, 0)) for u, s in zip(units, (1, -1), strict=True)]
    image, turn = mirror(making)
    assert turn == 0 and image is not making
    wrong = [fits(u, image, seam, (s * seam, 0)) for u, s in zip(units, (1, -1), strict=True)]
    assert sorted(right) == sorted(wrong) == [False, True]
    assert making.recipe.yields == 2 and making.recipe.mirrored == 2


@given(case=cases)
@settings(max_examples=12, deadline=None)
def test_quarter_square_from_triangles(case: Case) -> None:
    making, seam = unit("quarter-square", "night, glow, stone, sea", case, method="from triangles")
    long = cut_side(making)

    def quarter(fabric: str) -> Sewn:
        """The long side along y = -long/2, the right angle at (0, 0)."""
        return cloth(fabric, (-long / 2, -long / 2), (long / 2, -long / 2), (0, 0))

    def joined(first: str, second: str) -> Sewn:
        """Sewn along the right short side of the first; the middle where the right angles met."""
        line = Line((0, 0), (1, -1))
        down = quarter(second).turned(90).flipped(line)  # face down on the first, short sides together
        return sew(quarter(first), down, line.shifted(-seam), -1)

    top, bottom = joined("night", "glow"), joined("stone", "sea").turned(180)
    # both seams end one seam from the raw edges: the middle lies root 2 seams above the raw right angle
    top, bottom = top.shifted(0, seam * 2**0.5), bottom.shifted(0, -seam * 2**0.5)
    middle = Line((0, 0), (1, 1))
    sewn = sew(top, bottom.flipped(middle), middle, -1)
    assert not misfit(sewn, making, seam, (0, 0), 0)


# -- three-patches ----------------------------------------------------------------------------------------
@given(case=cases)
@settings(max_examples=12, deadline=None)
def test_three_patch_from_pairs(case: Case) -> None:
    """A pair of quarters and a plain square give one unit and its mirror image."""
    making, seam = unit("three-patch", "night, glow, stone", case)
    quarters = pairs("glow", "stone", cut_side(making, 1), seam)
    plain = cut_side(making)
    square = rect("night", plain, plain, -plain / 2, -plain / 2).turned(45)
    units = [crossed(quarters, square, seam, s) for s in (1, -1)]
    image, turn = mirror(making)
    right = [fits(u, making, seam, (s * seam, 0)) for u, s in zip(units, (1, -1), strict=True)]
    wrong = [fits(u, image, seam, (s * seam, 0)) for u, s in zip(units, (1, -1), strict=True)]
    assert turn == 0 and sorted(right) == sorted(wrong) == [False, True]
    assert making.recipe.yields == 2 and making.recipe.mirrored == 2
