"""Cut as the recipe says, sewn as the method says: geese, flipped corners, squares in squares,
half-rectangles."""

from __future__ import annotations

from fractions import Fraction
from math import atan2, degrees, hypot, tan
from typing import NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.lengths import Length
from patternkit.piecing.kinds.half_rectangle import Tips
from patternkit.piecing.kinds.square_in_square import Rings
from patternkit.piecing.making import Making
from patternkit.piecing.reflect import mirror
from tests.kinds.bench import one
from tests.kinds.cases import Case, cases, cut_side, cut_sides, ruled, sewn_size, unit
from tests.kinds.sewing import Line, Sewn, cloth, fits, misfit, rect, sew, together

few = settings(max_examples=12, deadline=None)
CORNERS = ("top left", "top right", "bottom right", "bottom left")


def flip(base: Sewn, fabric: str, side: float, width: float, height: float, corner: str) -> Sewn:
    """A square face down on a corner of a width x height base, sewn on its diagonal, trimmed and opened."""
    right, bottom = "right" in corner, "bottom" in corner
    x, y = (width - side if right else 0.0), (height - side if bottom else 0.0)
    square = rect(fabric, side, side, x, y)
    if right == bottom:
        line = Line((x, y + side), (side, -side))
        inside = -1 if right else 1
    else:
        line = Line((x, y), (side, side))
        inside = 1 if right else -1
    return sew(base, square, line, inside)


# -- flying geese -----------------------------------------------------------------------------------------
@given(case=ruled)
@few
def test_geese_by_stitch_and_flip(case: Case) -> None:
    making, seam = unit("flying-geese", "night, glow, stone", case, (2, 1))
    (w, h), side = cut_sides(making), cut_side(making, 1)
    sewn = flip(rect("night", w, h), "glow", side, w, h, "top left")
    sewn = flip(sewn, "stone", side, w, h, "top right")
    assert not misfit(sewn, making, seam, (w / 2, h / 2), 0)


def heart(large: float, small: float, seam: float, first: str, second: str) -> Sewn:
    """Two small squares on opposite corners of the large one, sewn beside the diagonal, cut on it: the upper
    right half."""
    line = Line((0, 0), (1, 1))
    half = line.half(-1)
    squares = together(rect(first, small, small), rect(second, small, small, large - small, large - small))
    return sew(rect("night", large, large).kept(half), squares.kept(half), line.shifted(-seam), -1)


def geese_of(half: Sewn, large: float, small: float, seam: float, third: str) -> tuple[Sewn, Sewn]:
    """The third square on the half's corner, sewn beside its diagonal and cut on it: the upper and the right
    goose."""
    square = rect(third, small, small, large - small, 0)
    line = Line((large, 0), (-1, 1))
    return tuple(
        sew(half.kept(line.half(side)), square.kept(line.half(side)), line.shifted(seam * side), side)
        for side in (1, -1)
    )  # type: ignore[return-value]


def middle_of_goose(large: float, seam: float, making: Making) -> tuple[float, float]:
    """The middle of the finished unit when its long edge lies along y = 0 and it points down."""
    return large / 2, large / 2 - seam * 2**0.5 - float(making.height) / 2


@pytest.mark.parametrize("method", ["four at a time", "four at a time oversize"])
@given(case=cases)
@few
def test_geese_four_at_a_time(method: str, case: Case) -> None:
    making, seam = unit("flying-geese", "night, glow", case, (2, 1), method=method)
    large, small = cut_side(making), cut_side(making, 1)
    upper, right = geese_of(heart(large, small, seam, "glow", "glow"), large, small, seam, "glow")
    centre = middle_of_goose(large, seam, making)
    assert not misfit(upper, making, seam, centre, 180)
    assert not misfit(right.turned(-90, (large / 2, large / 2)), making, seam, centre, 180)
    box = upper.raw.bounds
    assert box[3] - 0 - sewn_size(making, seam)[1] == pytest.approx(0, abs=1e-6)


@given(case=cases)
@few
def test_geese_four_at_a_time_of_two_skies_are_half_mirror_images(case: Case) -> None:
    making, seam = unit("flying-geese", "night, glow, stone", case, (2, 1), method="four at a time")
    large, small = cut_side(making), cut_side(making, 1)
    upper, right = geese_of(heart(large, small, seam, "glow", "glow"), large, small, seam, "stone")
    centre = middle_of_goose(large, seam, making)
    image, turn = mirror(making)
    both = [upper, right.turned(-90, (large / 2, large / 2))]
    assert turn == 0
    assert sorted(not misfit(g, making, seam, centre, 180) for g in both) == [False, True]
    assert sorted(not misfit(g, image, seam, centre, 180) for g in both) == [False, True]
    assert making.recipe.yields == 2 and making.recipe.mirrored == 2


@given(case=cases)
@few
def test_geese_from_triangles(case: Case) -> None:
    making, seam = unit("flying-geese", "night, glow, stone", case, (2, 1), method="from triangles")
    large, small = cut_side(making), cut_side(making, 1)
    half = large / 2
    sewn = cloth("night", (0, 0), (large, 0), (half, half)).turned(180, (half, half / 2))
    # the goose's excess lies half at either end of its long edge: the sky moves inward and up by as much
    excess = (large - float(making.recipe.cuts[0].exact_width)) / 2 * 2**0.5
    line = Line((0, half), (1, -1))  # the goose's left edge, upward
    reach = small / 2**0.5
    for fabric, edge, sign in (("glow", line, 1), ("stone", Line((large, half), (-1, -1)), -1)):
        along = edge.way[0] / 2**0.5, edge.way[1] / 2**0.5
        start = edge.at[0] + along[0] * excess, edge.at[1] + along[1] * excess
        long = small * 2**0.5
        end = start[0] + along[0] * long, start[1] + along[1] * long
        n = edge.normal()
        tip = (start[0] + end[0]) / 2 + n[0] * reach * sign, (start[1] + end[1]) / 2 + n[1] * reach * sign
        sewn = sew(sewn, cloth(fabric, start, end, tip), edge.shifted(seam * sign), sign)
    middle = half, half - (half - seam * 2**0.5) + float(making.height) / 2
    assert not misfit(sewn, making, seam, middle, 0)


# -- flipped corners and squares in squares -----------------------------------------------------------------
@given(case=ruled, at=st.permutations(CORNERS), count=st.integers(1, 4), tall=st.integers(1, 3))
@few
def test_flipped_corners(case: Case, at: list[str], count: int, tall: int) -> None:
    finished, grid = case[1], case[2]
    corner = Length(finished / 3).floor_to(grid if grid > Fraction(1, 1000) else Fraction(1, 32))
    fabrics = ["glow", "stone", "sea", "sand"][:count]
    making, seam = unit(
        "flipped-corners",
        ", ".join(["night", *fabrics]),
        case,
        (1, tall),
        corner=str(corner),
        at=", ".join(at[:count]),
    )
    w, h = cut_sides(making)
    sewn = rect("night", w, h)
    for n in range(1, count + 1):
        sewn = flip(sewn, fabrics[n - 1], cut_side(making, n), w, h, at[n - 1])
    assert not misfit(sewn, making, seam, (w / 2, h / 2), 0)


@given(case=ruled)
@few
def test_square_in_a_square_by_stitch_and_flip(case: Case) -> None:
    case = (case[0], case[1] * 2, case[2])
    making, seam = unit("square-in-a-square", "night, glow", case)
    base, side = cut_side(making), cut_side(making, 1)
    sewn = rect("night", base, base)
    for corner in CORNERS:
        sewn = flip(sewn, "glow", side, base, base, corner)
    assert making.recipe.method.name == "stitch and flip"
    assert not misfit(sewn, making, seam, (base / 2, base / 2), 0)


@pytest.mark.parametrize("rounds", [1, 2, 3])
@pytest.mark.parametrize("over", ["", " oversize"])
@given(case=ruled)
@settings(max_examples=8, deadline=None)
def test_square_in_a_square_from_triangles(rounds: int, over: str, case: Case) -> None:
    """Each round: opposite corners, then the other two; trimmed one seam beyond the points before the
    next."""
    fabrics = [f"night {case[1]}", "glow", "stone", "sea"][: rounds + 1]
    making = one("square-in-a-square", ", ".join(fabrics), seam=case[0], grid=case[2], method="from triangles" + over)
    assert isinstance(making.recipe.numbers, Rings)
    seam, side = float(case[0]), cut_side(making)
    assert float(making.width) == pytest.approx(float(case[1]) * 2 ** (rounds / 2))
    sewn = rect("night", side, side, -side / 2, -side / 2)
    for n, (untrimmed, trimmed) in enumerate(making.recipe.numbers.rings, 1):
        long = cut_side(making, n) / 2**0.5
        for turn in (0, 180, 90, 270):
            # a corner face down along the upper edge, its long edge there and its right angle toward the
            # middle
            edge = -side / 2
            corner = cloth(fabrics[n], (-long, edge), (long, edge), (0, edge + long))
            sewn = sew(sewn.turned(-turn), corner, Line((0, edge + seam), (1, 0)), 1).turned(turn)
        sewn = sewn.turned(45)
        assert sewn.raw.bounds[2] == pytest.approx(float(untrimmed) / 2, abs=1e-6)
        side = float(trimmed)
        sewn = sewn.kept(rect("", side, side, -side / 2, -side / 2).raw)
    assert fits(sewn, making, seam, (0, 0))


# -- half-rectangles and triangles in squares
# -----------------------------------------------------------------
class Cornered(NamedTuple):
    """A right triangle as cut, its right angle at (0, 0) and legs along x and y, and where the finished one
    lies in it: its right angle, the middle of its long edge, the direction of that edge (which is the
    seam)."""

    corner: tuple[float, float]
    middle: tuple[float, float]
    way: tuple[float, float]


def cornered(x: float, y: float, a: float, b: float, seam: float) -> Cornered:
    """Legs as cut x and y, finished a and b, the finished long edge one seam inside the raw one.

    The pieces may slide along the seam: the raw triangle that is needed is laid midway between the places
    where one of its corners would leave the cloth.
    """
    d, long = hypot(a, b), hypot(x, y)
    w, h = a + seam * (1 + (d + a) / b), b + seam * (1 + (d + b) / a)
    raw = hypot(w, h)
    high = w * h / raw
    low, top = max(high * x / y, w * w / raw), long - max(high * y / x, h * h / raw)
    assert low <= top + 1e-9, "the triangle that is needed does not fit into the one that was cut"
    foot = (low + top) / 2  # of the raw right angle, from the end of the x leg along the long edge
    way, inward = (-x / long, y / long), (-y / long, -x / long)

    def at(along: float, deep: float) -> tuple[float, float]:
        return x + way[0] * along + inward[0] * deep, way[1] * along + inward[1] * deep

    corner = at(foot + (h - w) / raw * seam, seam + a * b / d)
    middle = at(foot + (h * (seam + b / 2) - w * (seam + a / 2)) / raw, seam)
    return Cornered(corner, middle, way)


@pytest.mark.parametrize("leaning", ["left", "right"])
@pytest.mark.parametrize("method", ["pairs of rectangles", "oversize"])
@given(case=cases, ratio=st.fractions(Fraction(1, 4), Fraction(4), max_denominator=8))
@few
def test_half_rectangles(method: str, leaning: str, case: Case, ratio: Fraction) -> None:
    """Both rectangles cut corner to corner the way the unit leans; the triangles cross on the seam, not at
    the tips."""
    making = one(
        "half-rectangle",
        "night, glow",
        finished=f"{case[1]} x {case[1] * ratio}",
        leaning=leaning,
        method=method,
        seam=case[0],
        grid=case[2],
    )
    seam, (x, y) = float(case[0]), cut_sides(making)
    w, h = float(making.width), float(making.height)
    place = cornered(x, y, w, h, seam)
    sign = 1 if leaning == "right" else -1
    upper = cloth("night", (0, 0), (sign * x, 0), (0, y))
    lower = cloth("glow", (0, 0), (sign * x, 0), (0, y))  # cut alike, then turned half round
    middle = sign * place.middle[0], place.middle[1]
    stitches = Line(middle, (sign * place.way[0], place.way[1]))
    sewn = sew(upper, lower.turned(180, middle).flipped(stitches), stitches, sign)
    turn = sign * degrees(atan2(-y, x) - atan2(-h, w))
    assert not misfit(sewn, making, seam, middle, turn)
    if w != h:
        image, unturned = mirror(making)
        assert unturned == 0 and image is not making
        assert image.recipe.cuts[0].leans != leaning
        assert not fits(sewn, image, seam, middle), "the other way of leaning is another unit"


def tips(making: Making) -> float:
    """How far the tips reach past each other, as the recipe says."""
    assert isinstance(making.recipe.numbers, Tips)
    return float(making.recipe.numbers.offset)


def test_half_rectangle_tips_lie_apart() -> None:
    """The tips of two triangles sewn to a half-rectangle do not meet: their distance is what the recipe
    says."""
    making = one("half-rectangle", "night, glow", finished="2 x 4", grid=Fraction(1, 10**7))
    x, y = cut_sides(making)
    place = cornered(x, y, 2, 4, 0.25)
    # the upper tip of one triangle, and of the other, turned half round about the middle of the seam
    tip, other = (x, 0), (2 * place.middle[0], 2 * place.middle[1] - y)
    apart = (tip[0] - other[0]) * place.way[0] + (tip[1] - other[1]) * place.way[1]
    assert abs(apart) == pytest.approx(tips(making), abs=1e-6)
    assert tips(making) == pytest.approx(0.25 * (1 / tan(atan2(2, 4) / 2) - 1 / tan(atan2(4, 2) / 2)), abs=1e-6)


@given(case=cases, ratio=st.fractions(Fraction(1, 4), Fraction(4), max_denominator=8))
@few
def test_half_rectangles_are_as_large_as_the_recipe_says(case: Case, ratio: Fraction) -> None:
    """Triangles that are slid so that the excess lies equally at both legs: the tips' offset and the size
    sewn."""
    making = one("half-rectangle", "night, glow", finished=f"{case[1]} x {case[1] * ratio}", seam=case[0], grid=case[2])
    x, y = cut_sides(making)
    long, offset = hypot(x, y), tips(making)
    way = (-x / long, y / long)
    seam = float(case[0])
    inward = (-y / long, -x / long)
    # the other triangle turned half round, its tip the offset beyond or short of this one's
    sizes = []
    for sign in (1, -1):
        half = (long + sign * offset) / 2
        middle = (x + way[0] * half + inward[0] * seam, way[1] * half + inward[1] * seam)
        sizes.append((2 * middle[0], 2 * middle[1]))  # from one raw right angle to the other
    w, h = float(making.width), float(making.height)
    want = [float(v) for v in making.recipe.sewn or making.recipe.trim_to or (w + 2 * seam, h + 2 * seam)]
    # legs rounded up by less than a ruler line are a little steeper or shallower: both sides may be off by as much
    near = 1e-5 if case[2] < Fraction(1, 1000) else float(case[2])
    assert any(size == pytest.approx(want, abs=near) for size in sizes)


@given(case=cases)
@few
def test_triangle_in_a_square(case: Case) -> None:
    making, seam = unit("triangle-in-a-square", "night, glow, stone", case)
    f, width = float(making.width), float(making.recipe.cuts[0].exact_width)
    shape = [(float(px), float(py)) for px, py in making.recipe.cuts[0].shape]
    low = max(py for _, py in shape)
    sewn = cloth("night", *((px + f / 2 - width / 2, py + f + seam - low) for px, py in shape))
    x, y = cut_sides(making, 1)
    place = cornered(x, y, f / 2, f, seam)
    turn = degrees(atan2(f, -f / 2) - atan2(place.way[1], place.way[0]))
    left = cloth("glow", (0, 0), (x, 0), (0, y)).shifted(-place.corner[0], -place.corner[1]).turned(turn)
    right = (
        cloth("stone", (0, 0), (-x, 0), (0, y)).shifted(place.corner[0], -place.corner[1]).turned(-turn).shifted(f, 0)
    )
    for side, stitches, keep in (
        (left, Line((f / 2, 0), (-f / 2, f)), -1),
        (right, Line((f / 2, 0), (f / 2, f)), 1),
    ):
        sewn = sew(sewn, side.flipped(stitches), stitches, keep)
    assert not misfit(sewn, making, seam, (f / 2, f / 2), 0)
