"""Shapes that stand alone, joined in rows where edges that are equally long and lie alike meet."""

from __future__ import annotations

from fractions import Fraction

import pytest

from patternkit.checks import run
from patternkit.desk.session import Session
from patternkit.lengths import ZERO, Length, root
from patternkit.piecing.making import Cloth, Making
from patternkit.piecing.names import Name
from patternkit.piecing.offset import area, length_of, minus
from patternkit.problems import Problem
from patternkit.project import Project
from tests.kinds_more.written import made, problems_of, worked

TRIANGLE = """unit up(c)
    triangle-strip c
    triangles 1
    ends slanted
"""
BOAT = """unit boat
    trapezoid night
"""


def covered(making: Making) -> bool:
    """Whether the pieces of a making have its area, exactly."""
    pieces = sum((area(p.place.outline(p.what.outline)) for p in making.parts), ZERO)
    return pieces == area(making.outline)


def of(code: str, text: str) -> Problem:
    found = [p for p in problems_of(text) if not p.advice]
    assert [p.code for p in found] == [code], [p.message for p in found]
    return found[0]


def test_triangles_with_squared_ends() -> None:
    """n triangles of side 2 h / root 3 and two halves are (n + 1) / 2 sides wide; a strip for them is h + 3/4 high
    (https://chrisandbarbaraquilts.wordpress.com/2015/08/20/rotary-cutting-part-6/)."""
    text = TRIANGLE + "    finished 3 high\nblock b\n    row (up(night) | up(sky) turned 180) 2 times | up(glow)\n"
    row = made(text + "    ends half, stone\n", "b")
    assert (row.width, row.height) == (root(3) * 2 * 3, Length(3)) and covered(row)
    ends = [p.what.name for p in row.parts if isinstance(p.what, Cloth)]
    assert ends == [Name("left end"), Name("right end")] and len(row.seams) == 6
    triangle = made(text, "up(night)")
    assert [c.height for c in triangle.recipe.cuts] == [Length(Fraction(15, 4))]
    fitted = made(text + "    ends fitted, stone\n    finished 12 wide\n", "b")
    assert fitted.width == 12 and covered(fitted)


def test_half_hexagons_and_diamonds_in_rows() -> None:
    """Half hexagons go on by one and a half of their short edge; diamonds by their side, from strips of h + 1/2
    (https://chrisandbarbaraquilts.wordpress.com/2015/08/20/rotary-cutting-part-6/)."""
    row = made(f"{BOAT}    finished 4 wide\nblock b\n    row boat | boat turned 180 | boat | boat turned 180\n"
               "    ends half, sky\n", "b")  # fmt: skip
    assert (row.width, row.height) == (Length(13), root(3)) and covered(row)
    leaning = "unit gem(c)\n    parallelogram c\n    angle 60\n    top 2\n    finished root(3) high\n"
    row = made(f"{leaning}block b\n    row gem(night) | gem(glow) | gem(night)\n    ends half, sky\n", "b")
    assert (row.width, len(row.outline)) == (Length(7), 4) and covered(row)
    assert made(leaning + "block b\n    row gem(night) | gem(glow)\n", "gem(night)").recipe.cuts[0].exact_height == (
        root(3) + Length(Fraction(1, 2))
    )


def test_sizes_follow_from_the_row_as_well() -> None:
    """What the row finishes settles its shapes, and what one shape finishes settles those that meet it."""
    text = f"{BOAT}\nblock b\n    row boat | boat turned 180\n    ends half, sky\n    finished 7 wide\n"
    makings, problems = worked(text)
    assert not problems and makings["boat"].width == 4
    text = TRIANGLE + "unit one\n    trapezoid glow\n    finished 3 high\nblock b\n    row one | up(sky) turned 180\n"
    makings, problems = worked(text)
    assert not problems and makings["up(sky)"].height == 3


def test_a_triangle_and_a_star_point_from_rows() -> None:
    """Rows that keep their slanting ends are joined along edges of one length; diamonds that stand on their points fall
    in a row, and the next row lies to the left of it."""
    text = (
        TRIANGLE
        + "    finished 3 high\nblock b\n    rows\n        up(sky)\n        up(sky) | up(night) turned 180 | up(sky)\n"
    )
    whole = made(text, "b")
    assert len(whole.outline) == 3 and covered(whole)
    assert {length_of(minus(whole.outline[i], whole.outline[i - 1])) for i in range(3)} == {root(3) * 4}
    gems = "unit gem\n    diamond night\n    angle 45\n    finished 4 high\nblock b\n    rows\n"
    whole = made(gems + "        gem | gem | gem\n" * 3, "b")
    assert len(whole.outline) == 4 and whole.height == 12 and covered(whole)
    assert set(whole.outline) == {(whole.width / 2, ZERO), (whole.width, Length(6)),
                                  (whole.width / 2, Length(12)), (ZERO, Length(6))}  # fmt: skip


@pytest.mark.parametrize(
    ("unit", "size", "outline"),
    [
        ("half-square night", "finished 3", [(0, 0), (3, 0), (0, 3)]),
        ("quarter-square night", "finished 6 wide", [(0, 0), (6, 0), (3, 3)]),
    ],
)
def test_triangles_of_a_square_alone(unit: str, size: str, outline: list[tuple[int, int]]) -> None:
    """One triangle: the upper left of a half-square, the upper one of a quarter-square."""
    one = made(f"unit one\n    {unit}\n    {size}\n", "one")
    assert [(float(x), float(y)) for x, y in one.outline] == outline
    assert len(one.parts) == 1 and not one.seams


def test_which_edges_differ() -> None:
    """The message names both edges, with what is unlike of them."""
    steep = "unit steep\n    half-square glow\n    finished 3\n"
    wrong = of("edges-differ", TRIANGLE + f"    finished 3 high\n{steep}block b\n    row up(sky) | steep turned 180\n")
    assert "the right edge of up and the left edge of steep" in wrong.message
    assert "falls to the right at 60 degrees" in wrong.message and "rises to the right at 45 degrees" in wrong.message
    cells = "unit cell\n    hexagon night\n    finished 2 high\nblock b\n    rows\n"
    cells += "        cell | cell\n" * 2
    assert "along more than one edge" in of("edges-differ", cells).message


@pytest.mark.parametrize(
    ("ends", "code"),
    [
        ("ends half", "not-understood"),
        ("ends slanted, sky", "not-understood"),
        ("ends half, boat", "not-understood"),
    ],
)
def test_ends_that_say_too_little(ends: str, code: str) -> None:
    """How the ends are squared off stands first, then a fabric."""
    wrong = of(code, f"{BOAT}    finished 4 wide\nblock b\n    row boat | boat turned 180\n    {ends}\n")
    assert "ends half, sky" in wrong.causes[0]


def test_ends_where_nothing_slants() -> None:
    """Of rectangles the line says nothing; fitted ends need the room of a row."""
    assert of("out-of-place", "block b\n    row night 2 | sky 2 x 2\n    ends half, glow\n")
    wide = f"{BOAT}    finished 4 wide\nblock b\n    row boat | boat turned 180\n    ends fitted, sky\n"
    assert "too narrow" in of("does-not-add-up", f"{wide}    finished 5 wide\n").message


def test_a_shape_that_changes_changes_the_row_that_it_lies_in() -> None:
    """In a session, what a row states leans on the outlines of its pieces: here one is squared off, and alone again."""
    row = "block b\n    row boat | boat turned 180\n    ends half, sky\n"
    text = f"fabric night\nfabric sky\n{BOAT}    finished 4 wide\n{row}"
    squared = text.replace("trapezoid night", "trapezoid night, sky")
    session = Session("live.pattern")
    for now in (text, squared, text):
        assert session.check(now) == [*run(Project("live.pattern", now), guarded=False)]
    assert any(p.code == "out-of-place" for p in session.check(squared))
