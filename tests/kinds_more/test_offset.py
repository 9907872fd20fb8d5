"""Raw outlines against an independent polygon offset, the closed rule for corners, and printed adders."""

from __future__ import annotations

from fractions import Fraction
from math import atan2, cos, hypot, pi, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from patternkit.lengths import ONE, SQRT2, SQRT3, ZERO, Length
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.offset import (
    CannotOffset,
    area,
    bias_edges,
    box_size,
    clean,
    cross,
    dot,
    edges,
    is_convex,
    length_of,
    raw_outline,
    sharp_corners,
    trimmed_outline,
)
from tests.kinds_more.piecing_by_shape import apart

SEAMS = [
    Fraction(1, 8),
    Fraction(1, 4),
    Fraction(3, 8),
    Fraction(1, 2),
    Fraction(5, 8),
    Fraction(50, 254),
    Fraction(75, 254),
    Fraction(150, 254),
]
seams = st.sampled_from(SEAMS).map(Length)


def outline(*points: tuple[object, object]) -> Outline:
    return tuple((Length(x), Length(y)) for x, y in points)  # type: ignore[arg-type]


def floats(shape: Outline) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in shape]


@st.composite
def star_shaped(draw: st.DrawFn, convex: bool = False) -> Outline:
    """A clockwise polygon round the origin; a convex one has its corners on a circle."""
    n = draw(st.integers(3, 8))
    steps = draw(st.lists(st.integers(2, 12), min_size=n, max_size=n))
    whole, turn, points = sum(steps), draw(st.floats(0, 6.28)), []
    for i in range(n):
        angle = turn + 2 * pi * sum(steps[:i]) / whole
        reach = 7 if convex else draw(st.integers(4, 9))
        points.append((Fraction(round(reach * cos(angle) * 32), 32), Fraction(round(reach * sin(angle) * 32), 32)))
    return outline(*points)


@settings(max_examples=60, deadline=None)
@given(star_shaped(), seams)
def test_raw_outline_is_the_mitred_buffer(shape: Outline, seam: Length) -> None:
    wanted = Polygon(floats(shape)).buffer(float(seam), join_style="mitre", mitre_limit=1000)
    if not Polygon(floats(shape)).is_valid or area(shape) <= 0:
        return
    got = Polygon(floats(raw_outline(shape, seam)))
    assert apart(got, wanted) < 1e-8 + left_out_by_the_buffer(shape, float(seam))


def left_out_by_the_buffer(shape: Outline, seam: float) -> float:
    """How far the buffer is from the true outline, in square inches: where two edges turn by an angle t of
    less than a thousandth, in radians, it puts no mitre, but goes on from the end of the first edge, moved.

    That end lies s (1 - cos t) = s t^2 / 2 from where the second edge, moved, should run; its far end is right. So
    what is missing is a triangle as long as that edge: L s t^2 / 4.
    """
    total, sides = 0.0, [(float(x), float(y)) for x, y in edges(shape)]
    for before, after in zip([sides[-1], *sides], sides, strict=False):
        turn = abs(_turn(before, after))
        if turn < 1e-3:
            total += (max(hypot(*before), hypot(*after)) + 2 * seam) * seam * turn**2 / 4
    return total


def grows_by(before: Point, after: Point, seam: Length) -> Length:
    """How much a side grows past a corner: ``seam * cot(angle / 2)``, for the corner between two edge
    vectors.

    With interior angle t between edges of lengths p and q: ``cot(t / 2) = (p q + p q cos t) / (p q sin t)``.
    """
    turn = cross(before, after)
    return (length_of(before) * length_of(after) - dot(before, after)) * seam / turn


@settings(max_examples=40, deadline=None)
@given(star_shaped(convex=True), seams)
def test_each_side_grows_at_each_end_by_the_half_angle_rule(shape: Outline, seam: Length) -> None:
    raw, sides, n = raw_outline(shape, seam), edges(shape), len(shape)
    for i in range(n):
        start, end = grows_by(sides[i - 1], sides[i], seam), grows_by(sides[i], sides[(i + 1) % n], seam)
        grown = length_of(edges(raw)[i]) - length_of(sides[i])
        assert abs(float(grown - start - end)) < 1e-12
        a, b = [(float(x), float(y)) for x, y in (sides[i - 1], sides[i])]
        angle = pi - _turn(a, b)
        assert float(start) == pytest.approx(float(seam) / tan(angle / 2), abs=1e-9)


def _turn(a: tuple[float, float], b: tuple[float, float]) -> float:
    return atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])


@pytest.mark.parametrize(
    "corner, growth",
    [
        # cot(t/2) / 4 by hand calculator, t = 45, 60, 90, 120, 135 degrees
        ((ONE, ONE), "0.6036"),
        ((ONE, SQRT3), "0.4330"),
        ((ZERO, ONE), "0.2500"),
        ((-ONE, SQRT3), "0.1443"),
        ((-ONE, ONE), "0.1036"),
    ],
)
def test_growth_at_the_usual_angles(corner: tuple[Length, Length], growth: str) -> None:
    got = grows_by((-corner[0], -corner[1]), (ONE, ZERO), Length(Fraction(1, 4)))
    assert f"{float(got):.4f}" == growth


@pytest.mark.parametrize("finished", [2, 3, 4, 6])
def test_half_square_triangle_adds_seven_eighths(finished: int) -> None:
    """Finished 2, cut 2 7/8: https://piecemealquilts.com/2011/10/22/tyss-pinwheel-fillers/ ; 3, 4 and 6
    likewise: http://www.quiltmaker.com/blogs/quiltypleasures/2013/04/quilt-blocks-easy-math-part-4/
    """
    raw = raw_outline(outline((0, 0), (finished, 0), (0, finished)), Length(Fraction(1, 4)))
    side = box_size(raw)[0]
    assert side == Length(finished) + (2 + SQRT2) / 4
    assert side.ceil_to(Fraction(1, 8)) == finished + Fraction(7, 8)


def test_equilateral_strip_adds_three_quarters() -> None:
    """https://chrisandbarbaraquilts.wordpress.com/2015/08/20/rotary-cutting-part-6/ : finished height 3,
    strip 3 3/4."""
    shape = ((ZERO, Length(3)), (SQRT3, ZERO), (SQRT3 * 2, Length(3)))
    assert box_size(raw_outline(shape, Length(Fraction(1, 4))))[1] == Fraction(15, 4)


def test_a_root_that_is_not_exact_is_rounded_outward() -> None:
    v = (ONE, SQRT2 + SQRT3)  # square 6 + 2 sqrt 6, its root is not a sum of two roots
    got = length_of(v)
    assert got * got >= 6 + (SQRT2 * SQRT3) * 2
    assert float(got) == pytest.approx(hypot(1, float(SQRT2 + SQRT3)), rel=1e-15)
    low = got * (1 - Fraction(1, 2**60))
    assert low * low < 6 + (SQRT2 * SQRT3) * 2


def test_a_large_radicand_is_quick_and_outward() -> None:
    v = (Length(Fraction(1000003, 999983)), Length(Fraction(999979, 999961)))
    got = length_of(v)
    assert got.is_fraction and got * got >= v[0] * v[0] + v[1] * v[1]


@pytest.mark.parametrize(
    "shape, reason",
    [
        (outline((0, 0), (6, 0), (6, 6), (4, 6), (4, 3), ("15/4", 3), ("15/4", 6), (0, 6)), "shorter"),
        (outline((0, 0), (2, 0), (2, 2), (2, 2)), "same point"),
        (outline((0, 0), (0, 2), (2, 2)), "wrong way"),
        (outline((0, 0), (2, 0), (1, 0), (1, 2)), "no width"),
    ],
)
def test_outlines_that_have_no_raw_outline(shape: Outline, reason: str) -> None:
    with pytest.raises(CannotOffset, match=reason):
        raw_outline(shape, Length(Fraction(1, 4)))


@settings(max_examples=40, deadline=None)
@given(star_shaped(convex=True), seams)
def test_trimmed_corners_lie_between_finished_and_raw(shape: Outline, seam: Length) -> None:
    raw, cut = Polygon(floats(raw_outline(shape, seam))), Polygon(floats(trimmed_outline(shape, seam)))
    assert cut.is_valid and raw.buffer(1e-9).contains(cut)
    # every trimmed edge keeps a full seam: nothing that is sewn is lost
    assert Polygon(floats(shape)).exterior.distance(cut.exterior) == pytest.approx(float(seam), abs=1e-9)
    assert len(cut.exterior.coords) - 1 == len(shape) + len(sharp_corners(shape))


def test_bias_edges_and_cleaning() -> None:
    triangle = outline((0, 0), (3, 0), (0, 3))
    assert bias_edges(triangle, (ONE, ZERO)) == (1,)
    assert bias_edges(triangle, (ONE, -ONE)) == (0, 2)
    assert bias_edges(triangle, (ZERO, ZERO)) == ()
    assert clean(outline((0, 0), (1, 0), (1, 0), (3, 0), (0, 3), (0, 0))) == triangle
    assert is_convex(triangle) and not is_convex(outline((0, 0), (4, 0), (1, 1), (0, 4)))
