"""Diamonds, hexagons, kites, trapezoids, strips of triangles and eight-point stars: printed sizes and the
simulation."""

from __future__ import annotations

from fractions import Fraction
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box
from shapely.affinity import translate

from patternkit.lengths import SQRT2, Length
from patternkit.piecing.grain import bias_outside
from patternkit.piecing.kinds.eight_point_star import Diamonds
from patternkit.piecing.kinds.quarter_circle import Radii
from patternkit.piecing.making import Cloth, Making, rectangle
from patternkit.piecing.names import Name
from patternkit.piecing.offset import edges, length_of
from patternkit.piecing.templates import is_rectangle
from tests.kinds.sewing import covers
from tests.kinds_more.piecing_by_shape import apart, polygon, taken, wrong_with
from tests.kinds_more.test_slices import INCHES, SEAMS
from tests.kinds_more.written import made, problems_of

EIGHTH = Fraction(1, 8)


def unit(kind: str, *lines: str, seam: str = "1/4") -> Making:
    return made("\nunit shape\n    " + "\n    ".join([kind, *lines]) + "\n", "shape", seam)


SHAPES = [
    ("diamond night, sky", "finished {n} x ({n} * root(3))"),
    ("diamond night, sky", "angle 45", "finished {n} x ({n} / (root(2) - 1))"),
    ("diamond night, sky, glow, sky, stone", "angle free", "finished {n} x 5"),
    ("hexagon night, sky", "finished ({n} * 2 / root(3)) x {n}"),
    ("kite night, sky", "finished ({n} * root(3) / 2) x {n}"),
    ("kite night, sky", "angle free", "shoulder 1 3/4", "finished {n} x 5"),
    ("trapezoid night, sky", "finished ({n} * 4 / root(3)) x {n}"),
    ("trapezoid night, sky, glow", "angle 45", "top 3", "finished (2 * {n} + 3) x {n}"),
    ("trapezoid night, sky", "angle free", "top 1 1/2", "finished 6 x {n}"),
    ("parallelogram night, sky", "top 3", "finished ({n} + 3) x {n}"),
    ("parallelogram night, sky, glow", "angle 60", "top 2", "finished (2 + {n} / root(3)) x {n}"),
]


@settings(max_examples=30, deadline=None)
@given(st.sampled_from(SHAPES), st.sampled_from(["2 1/2", "3", "4 3/4"]), st.sampled_from(SEAMS), st.booleans())
def test_shapes_with_corners_are_sewn_to_rectangles(lines: tuple[str, ...], n: str, seam: str, templates: bool) -> None:
    said = [line.format(n=f"({n})") for line in lines]
    one = unit(*said, *(["method from templates"] if templates else []), seam=seam)
    assert covers(one) == "" and is_rectangle(one.outline)
    assert wrong_with(one, INCHES[seam]) == ""
    assert bias_outside(one) == ()


@pytest.mark.parametrize("lines", [s for s in SHAPES if s[0].count(",") == 1])
def test_shapes_alone_keep_their_outline(lines: tuple[str, ...]) -> None:
    one = unit(lines[0].split(",")[0], *(line.format(n="3") for line in lines[1:]))
    assert covers(one) == "" and not is_rectangle(one.outline) and not one.seams
    (cloth,) = [p.what for p in one.parts if isinstance(p.what, Cloth)]
    piece, _ = taken(cloth, one.recipe.cuts, 0.25)
    raw = polygon(one.outline).buffer(0.25, join_style="mitre", mitre_limit=1000)
    assert apart(piece, raw) < 1e-9


def strip(one: Making) -> Fraction:
    return one.recipe.cuts[0].height.fraction


def test_strips_as_printed() -> None:
    """https://chrisandbarbaraquilts.wordpress.com/2015/08/20/rotary-cutting-part-6/ : a 60 degree diamond of
    finished height h is cut from a strip of h + 1/2, an equilateral triangle of height 3 from a strip of 3
    3/4. .../part-7/: a 45 degree diamond of height 2 from a strip of 2 1/2, cut 2 1/2 apart (measured square
    to the cut).
    """
    # the finished height of a diamond is measured square to its side: side times the sine of its angle
    one = unit("diamond night", "finished (2 * 2 / root(3)) x 4")  # sides of 4 / root 3, 2 between two sides
    assert one.recipe.cuts[0].exact_height == Fraction(5, 2)
    side = Length(2) * SQRT2  # 45 degrees, 2 between two sides
    star = unit("eight-point-star night, sky", "side 2 * root(2)")
    cut = star.recipe.cuts[0]
    assert cut.exact_height == Fraction(5, 2) and star.recipe.numbers == Diamonds(side)
    assert cut.pitch is not None and cut.pitch / SQRT2 == Fraction(5, 2)
    triangles = unit("triangle-strip night", "triangles 3", "finished (4 * root(3)) x 3")
    whole = next(c for c in triangles.recipe.cuts if c.name == Name("triangle"))
    assert whole.exact_height == Fraction(15, 4)


@pytest.mark.parametrize("height, in_forty", [("2", 24), ("3", 17), ("4", 13)])
def test_triangles_from_one_strip(height: str, in_forty: int) -> None:
    """Counted by geometry: floor(2 x 40 / side) - 1 from strips of 2 3/4, 3 3/4 and 4 3/4."""
    one = unit("triangle-strip night", "triangles 3", f"finished ({height} * 4 / root(3)) x {height}")
    cut = next(c for c in one.recipe.cuts if c.name == Name("triangle"))
    assert cut.pitch is not None
    assert int(((Length(40) - cut.exact_width) / cut.pitch).floor_to(Fraction(1))) + 1 == in_forty


def test_kite_and_half_hexagon() -> None:
    """By geometry: kite sides root 3 and 1 are cut 2.4151 and 1.3943; a half hexagon of side 2 needs 2.2321
    by 4.866."""
    kite = unit("kite night", "finished root(3) x 2", "method from strips")
    cuts = sorted(f"{float(length_of(e)):.4f}" for e in edges(kite.recipe.cuts[0].shape))
    assert cuts == ["1.3943", "1.3943", "2.4151", "2.4151"]
    half = unit("trapezoid night", "finished 4 x root(3)")
    cut = half.recipe.cuts[0]
    assert f"{float(cut.exact_height):.4f}" == "2.2321" and f"{float(cut.exact_width):.3f}" == "4.866"


def test_hexagon_strip() -> None:
    """The strip is the finished measure from flat to flat and 1/2 (as for diamonds, same source as above)."""
    one = unit("hexagon night", "finished (4 * 2 / root(3)) x 4")
    assert one.recipe.cuts[0].exact_height == Fraction(9, 2)


@settings(max_examples=25, deadline=None)
@given(
    st.integers(1, 6),
    st.sampled_from(["half", "half, sky", "fitted", "fitted, sky"]),
    st.sampled_from(["up", "down"]),
    st.sampled_from(SEAMS),
    st.booleans(),
)
def test_triangle_strips_are_sewn_to_rectangles(n: int, ends: str, first: str, seam: str, templates: bool) -> None:
    size = f"finished ({n + 1} * 3 / root(3)) x 3" if ends.startswith("half") else f"finished {2 * n + 4} x 3"
    one = unit(
        "triangle-strip night, glow, stone",
        f"triangles {n}",
        f"ends {ends}",
        f"first {first}",
        size,
        *(["method from templates"] if templates else []),
        seam=seam,
    )
    assert covers(one) == "" and len(one.parts) == n + 2
    assert wrong_with(one, INCHES[seam]) == ""
    assert bias_outside(one) == ()


@pytest.mark.parametrize("n, first", [(1, "up"), (2, "up"), (2, "down"), (3, "down"), (4, "up")])
def test_slanted_strips(n: int, first: str) -> None:
    one = unit(
        "triangle-strip night, glow",
        f"triangles {n}",
        "ends slanted",
        f"first {first}",
        f"finished ({n + 1} * 3 / root(3)) x 3",
    )
    assert covers(one) == "" and not is_rectangle(one.outline)
    assert wrong_with(one, 0.25) == ""


@pytest.mark.parametrize("block, diamond", [("12", "3.5147"), ("6", "1.7574"), ("9", "2.6360")])
def test_star_block_is_3_41_times_its_diamond(block: str, diamond: str) -> None:
    """https://karencombs.com/page.php?ID=31 prints block = 3.41 D; exactly 2 + root 2."""
    one = unit("eight-point-star night, sky", f"finished {block}")
    assert isinstance(one.recipe.numbers, Diamonds) and f"{float(one.recipe.numbers.side):.4f}" == diamond


@settings(max_examples=10, deadline=None)
@given(
    st.sampled_from(["night", "night, glow", "night, glow, stone, sea"]),
    st.sampled_from(["2", "3 1/8", "4"]),
    st.sampled_from(SEAMS),
)
def test_star_in_straight_seams_is_sewn_to_its_square(fabrics: str, side: str, seam: str) -> None:
    one = unit(f"eight-point-star {fabrics}, sky", f"side {side}", "method straight seams", seam=seam)
    assert covers(one) == "" and not any(s.set_in for s in one.seams)
    assert wrong_with(one, INCHES[seam]) == ""
    assert bias_outside(one) == ()


def test_star_with_set_in_seams_flags_them() -> None:
    one = unit("eight-point-star night, glow, sky", "side 2")
    assert covers(one) == "" and sum(s.set_in for s in one.seams) == 8 and len(one.seams) == 15
    assert [one.parts[i].what.fabric for i in range(4)] == ["night", "glow", "night", "glow"]  # type: ignore[union-attr]
    for p in one.parts:
        assert isinstance(p.what, Cloth)
        taken(p.what, one.recipe.cuts, 0.25)
    joined: set[int] = set()
    for s in one.seams:  # every bent seam runs along edges of the pieces it joins
        joined |= {*s.left, *s.right}
        if s.set_in:
            (piece,) = s.right
            outline = one.parts[piece].what.outline
            assert set(s.path) <= set(outline)
    assert joined == set(range(16)) and bias_outside(one) == ()
    side = next(c for c in one.recipe.cuts if c.name == Name("side triangle of the star"))
    assert side.then == "template"  # 4.0355 is more than 1/32 in from 4
    assert side.exact_width == SQRT2 * 2 + (SQRT2 * 2 + 2) / 4  # long side + 1.2071


@pytest.mark.parametrize(
    "kind, lines, code, words",
    [
        ("diamond night, sky", ["angle 50", "finished 3"], "not-understood", "60 or 45, or free"),
        ("diamond night, sky", ["finished 3 x 3"], "does-not-add-up", ""),
        ("kite night", ["angle free", "finished 3 x 4"], "not-understood", "shoulder"),
        ("kite night", ["shoulder 2", "finished root(3) x 2"], "out-of-place", "shoulder"),
        ("kite night", ["angle free", "shoulder 5", "finished 3 x 4"], "does-not-add-up", "shoulder"),
        ("trapezoid night", ["angle free", "top 4", "finished 4 x 3"], "does-not-add-up", "as long as"),
        ("triangle-strip night", ["triangles some", "finished 4 x 3"], "not-understood", "whole number"),
        (
            "triangle-strip night",
            ["triangles 3", "ends loose", "finished (4 * root(3)) x 3"],
            "not-understood",
            "half, fitted",
        ),
        (
            "triangle-strip night",
            ["triangles 9", "ends fitted", "finished 6 x 3"],
            "does-not-add-up",
            "too narrow",
        ),
        ("eight-point-star night, glow, stone, sky", ["side 2"], "wrong-pieces", "1, 2, 4 or 8"),
    ],
)
def test_what_makes_no_sense_is_said(kind: str, lines: list[str], code: str, words: str) -> None:
    found = problems_of("\nunit shape\n    " + "\n    ".join([kind, *lines]) + "\n")
    assert code in [p.code for p in found], [(p.code, p.message) for p in found]
    assert any(words in p.message for p in found)


def test_quarter_circle_as_printed() -> None:
    """Finished 6, radius 5: pie strip 5 1/2, background strip 6 1/2; arcs r + 1/4 and r - 1/4:
    http://carolbradyquilting.blogspot.com/2017/06/drunkards-path-block.html
    """
    one = unit("quarter-circle night, sky", "radius 5", "finished 6")
    pie, background = one.recipe.cuts
    assert (pie.exact_height, background.exact_height) == (Fraction(11, 2), Fraction(13, 2))
    assert one.recipe.numbers == Radii(Length(5), Length(Fraction(21, 4)), Length(Fraction(19, 4)))


@settings(max_examples=10, deadline=None)
@given(st.integers(24, 80), st.integers(2, 30), st.sampled_from(SEAMS))
def test_quarter_circles_against_a_round_buffer(size: int, rest: int, seam: str) -> None:
    f, r = Fraction(size, 8), Fraction(size - min(rest, size // 3), 8)
    one = unit("quarter-circle night, sky", f"radius {r}", f"finished {f}", seam=seam)
    assert covers(one) == "" and one.outline == rectangle(Length(f), Length(f))
    s = INCHES[seam]
    for part, cut, radius in zip(one.parts, one.recipe.cuts, (float(r) + s, float(r) - s), strict=True):
        assert isinstance(part.what, Cloth)
        raw = translate(polygon(cut.shape), -s, -s)
        for x, y in raw.exterior.coords:  # every corner lies on the raw arc or on a raw straight edge
            straight = min(abs(v + s) for v in (x, y)) < 1e-9 or max(abs(v - float(f) - s) for v in (x, y)) < 1e-9
            assert straight or abs(hypot(x, y) - radius) < 1e-9
            assert hypot(x, y) > radius - 1e-9 or part is one.parts[0]
        wanted = polygon(part.what.outline).buffer(s, join_style="mitre", mitre_limit=20)
        inside = box(
            0, 0, float(f) + s, float(f) + s
        )  # beyond the finished edges the arc runs on, a mitre runs straight
        assert apart(wanted.intersection(inside), raw.intersection(inside)) < 0.001 * float(r) ** 2
    (seam_,) = one.seams
    assert all(p[0] * p[0] + p[1] * p[1] == r * r for p in seam_.path)  # exactly on the circle


def test_quarter_circles_that_cannot_be() -> None:
    for radius, words in (("7", "does not fit"), ("1/2", "too small")):
        found = problems_of(f"\nunit shape\n    quarter-circle night, sky\n    radius {radius}\n    finished 6\n")
        assert [p.code for p in found] == ["cannot-sew"] and words in found[0].message
