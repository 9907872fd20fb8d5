"""Fields of hexagons: exact sizes, which pieces square them off, and seams from dot to dot."""

from __future__ import annotations

from fractions import Fraction

import pytest

from patternkit.lengths import ZERO, Length, root
from patternkit.piecing import cells
from patternkit.piecing.batch import Join
from patternkit.piecing.making import Cloth, Making
from patternkit.piecing.names import Name
from patternkit.piecing.offset import area
from patternkit.piecing.sewing import batches_of
from patternkit.piecing.sewing.desk import Desk
from tests.kinds_more.written import made, problems_of, worked

FLOWER = "block b\n    hexagons rose\n    round glow\n"
CUBE = "unit cube\n    tumbling-block sky, night, stone\n"


def text(body: str) -> str:
    return body.replace("rose", "sea")


def covered(making: Making) -> bool:
    """Whether the pieces of a making have its area, exactly."""
    return sum((area(p.place.outline(p.what.outline)) for p in making.parts), ZERO) == area(making.outline)


def joins(making: Making) -> list[Join]:
    found = batches_of(making, Desk(Length(Fraction(1, 4))))
    assert found is not None
    return [a for a in found[0][0].actions if isinstance(a, Join)]


def test_a_flower_is_sewn_cell_by_cell() -> None:
    """Seven hexagons of side 1: three cells wide, five sides high. One edge for the first, two for the next four, three
    for the last; each seam stops at the dots, but at the outside of the work."""
    flower = made(text(FLOWER + "    side 1\n"), "b")
    assert (flower.width, flower.height) == (root(3) * 3, Length(5)) and covered(flower)
    assert [len(s.path) - 1 if s.path else 1 for s in flower.seams] == [1, 2, 2, 2, 2, 3]
    sewn = joins(flower)
    assert len(sewn) == 12
    assert sum("edge" in (j.start, j.stop) for j in sewn) == 6  # of six petals each two sides, sewn to one another
    assert all("seam" in (j.start, j.stop) for j in sewn)


def test_a_hexagon_is_cut_from_a_strip_two_seams_higher_than_from_flat_to_flat() -> None:
    """h + 1/2 for a seam of 1/4 (https://chrisandbarbaraquilts.wordpress.com/2015/08/20/rotary-cutting-part-6/)."""
    flower = made(text(FLOWER + "    side 2/root(3)\n"), "b")
    assert {c.exact_height for c in flower.recipe.cuts} == {Length(Fraction(5, 2))}


@pytest.mark.parametrize(
    ("body", "wide", "high", "ground"),
    [
        ("    hexagons rose\n    round glow\n", 3, 5, {4: 4, 3: 6}),
        ("    hexagons\n        rose | glow\n        glow | rose\n", Fraction(5, 2), Fraction(7, 2), {4: 2, 3: 6}),
    ],
)
def test_a_background_squares_the_field_off(body: str, wide: Fraction, high: Fraction, ground: dict[int, int]) -> None:
    """Halves at the ends of rows, triangles in the notches."""
    field = made(text("block b\n" + body + "    side 1\n    background sky\n"), "b")
    assert (field.width, field.height) == (root(3) * wide, Length(high)) and covered(field)
    assert len(field.outline) == 4
    cloths = [p.what for p in field.parts if isinstance(p.what, Cloth) and p.what.name == Name("background")]
    assert {n: sum(len(c.outline) == n for c in cloths) for n in ground} == ground or sum(ground.values()) == len(
        cloths
    )


def test_rows_lie_in_each_others_notches() -> None:
    """Equal rows go half a cell to the right and back; one longer or shorter is centred; others do not fit."""
    assert [row[0][0] for row in cells.in_rows([3, 3, 3])] == [0, 1, 0]
    assert [row[0][0] for row in cells.in_rows([2, 3, 4, 3])] == [0, -1, -2, -1]
    assert [len(ring) for ring in cells.in_rounds(3)] == [1, 6, 12, 18]
    with pytest.raises(cells.UnevenRows):
        cells.in_rows([2, 4])


def test_tumbling_blocks() -> None:
    """Twice the side high and root 3 of it wide; diamonds of strips half root 3 of the side and 1/2 high; in a field
    the cells settle them."""
    cube = made(CUBE + "    side 4/root(3)\n", "cube")
    assert cube.width == 4 and cube.height == root(3) * Fraction(8, 3) and covered(cube)
    assert {c.exact_height for c in cube.recipe.cuts} == {Length(Fraction(5, 2))}
    assert [s.set_in for s in cube.seams] == [False, True]
    first = joins(cube)[0]
    assert {first.start, first.stop} == {"edge", "seam"}
    makings, problems = worked(CUBE + "block b\n    hexagons\n        cube | cube\n        cube\n    side 2\n")
    assert not problems and makings["cube"].height == 4


@pytest.mark.parametrize(
    ("body", "code", "says"),
    [
        (
            "    hexagons\n        rose | glow\n        rose | glow | rose | glow\n",
            "wrong-pieces",
            "row 2 has 4 hexagons",
        ),
        ("    hexagons rose | glow\n    round sky\n", "wrong-pieces", "about one hexagon"),
        ("    hexagons rose\n    round sky, glow, sky, glow\n", "wrong-pieces", "leave some over"),
        ("    hexagons rose\n    round 3\n", "not-understood", "behind round stand"),
        ("    hexagons rose\n    round glow\n    background 3\n", "not-understood", "the fabric that squares"),
    ],
)
def test_what_can_not_be_meant(body: str, code: str, says: str) -> None:
    """Each slip is told with what is written instead."""
    found = [p for p in problems_of(text("block b\n" + body + "    side 1\n")) if not p.advice]
    assert [p.code for p in found] == [code] and says in found[0].message, [p.message for p in found]


def test_a_unit_that_is_no_hexagon() -> None:
    """A cell has the shape of its place."""
    found = problems_of("unit four\n    patch night 2\nblock b\n    hexagons\n        four | sky\n    side 1\n")
    assert any("four" in p.message for p in found)


def test_marks_press_the_seams_that_they_stand_for() -> None:
    """Between cells the upright seam, between rows the one that runs from notch to notch; others stay open."""
    rows = "block b\n    hexagons\n        night > glow | sky\n        <\n        glow < night\n    side 2\n"
    field = made(rows, "b")
    assert [s.pressed for s in field.seams] == ["right", "open", "left", "left"]
    squared = made(rows + "    background stone\n", "b")
    assert [s.pressed for s in squared.seams].count("left") == 2
