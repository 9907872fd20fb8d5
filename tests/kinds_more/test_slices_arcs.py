"""Slices along arcs and lines that go round: exact arcs, raw and finished; lines drawn in; what can't be is refused."""

from __future__ import annotations

from fractions import Fraction
from math import pi

import pytest

from patternkit.lengths import Length
from patternkit.piecing.arcs import arc_between
from patternkit.piecing.making import Making, PieceCut, Point
from patternkit.piecing.offset import area, dot, minus
from patternkit.project import Project
from patternkit.rehearsal.gaps import gap_text
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of
from tests.kinds.sewing import covers
from tests.kinds_more.written import HEAD, made, problems_of

QUARTER = Fraction(1, 4)
PETAL = """
unit petal
    slices sea
    slice from top left to bottom right about bottom left, sky top
    slice from top left to bottom right about top right, sky bottom
    finished 6
"""
FAN = """
unit fan
    slices night
    slice from 0 x 1 to 7 x 8 about bottom left, sky right
    slice from 0 x 6 to 2 x 8 about bottom left, glow left
    slice from 1/3 of slice 1 to 1/3 of slice 2, glow left
    slice from 2/3 of slice 1 to 2/3 of slice 2, stone left
    finished 8
"""


def test_an_arc_lies_on_its_circle() -> None:
    start, end, middle = (Length(0), Length(1)), (Length(7), Length(8)), (Length(0), Length(8))
    arc = arc_between(start, end, middle)
    assert arc.radius == 7 and arc.clockwise and arc.angle == pytest.approx(pi / 2)
    assert (arc.points[0], arc.points[-1]) == (start, end)
    far = [dot(minus(p, middle), minus(p, middle)) for p in arc.points]
    half = len(far) // 2
    assert {f for i, f in enumerate(far) if i != half} == {Length(49)}
    assert abs(float(far[half]) - 49) < 1e-6
    back = arc_between(end, start, middle)
    assert back.points == arc.points[::-1] and not back.clockwise


def test_a_half_circle_runs_clockwise() -> None:
    arc = arc_between((Length(0), Length(5)), (Length(10), Length(5)), (Length(5), Length(5)))
    assert arc.clockwise and min(p[1] for p in arc.points) == 0  # over the top


def cut_of(unit: Making, fabric: str) -> PieceCut:
    return next(c for c in unit.recipe.cuts if c.fabric == fabric)


def reaches(cut: PieceCut, middle: Point) -> list[Length]:
    """How far the points of a template lie from the middle of an arc, squared."""
    return [dot(minus(p, middle), minus(p, middle)) for p in cut.shape]


def test_raw_arcs_lie_a_seam_beyond_the_seam_line() -> None:
    """Arcs of radius 6 1/4 and 5 3/4: a seam more than the seam line for the petal, a seam less for its background."""
    unit = made(PETAL, "petal")
    assert covers(unit) == ""
    petal, ground = cut_of(unit, "sea"), cut_of(unit, "sky")
    assert (petal.width, petal.height) == (Length(13) / 2, Length(13) / 2)
    across, down = ([p[k] for p in petal.sewn] for k in (0, 1))
    assert sum(far == Length(625) / 16 for far in reaches(petal, (min(across), max(down)))) > 40
    across, down = ([p[k] for p in ground.sewn] for k in (0, 1))  # that below, its compass stands upper right
    assert sum(far == Length(529) / 16 for far in reaches(ground, (max(across), min(down)))) > 40
    # 36 (pi / 2 - 1), the area between two quarter circles of radius 6
    assert float(area(cut_of(unit, "sea").sewn)) == pytest.approx(36 * (pi / 2 - 1), rel=1e-3)
    assert len(unit.recipe.cuts) == 3  # two backgrounds, which are one template turned


def test_points_on_an_arc_meet() -> None:
    unit = made(FAN, "fan")
    assert covers(unit) == ""
    areas = {
        s: sum(float(area(p.what.outline)) for p in unit.parts if getattr(p.what, "fabric", "") == s)
        for s in ("stone", "sky")
    }
    assert areas["stone"] == pytest.approx(pi / 12 * (49 - 4), rel=1e-3)  # a twelfth of the ring from 2 to 7
    assert areas["sky"] == pytest.approx(64 - pi / 4 * 49, rel=1e-3)


@pytest.mark.parametrize("seam", ["1/4", "1 cm"])
def test_what_is_told_of_arcs_comes_out(seam: str) -> None:
    """Sewn on simulated cloth: a petal whose tips fill the corners, a fan of blades, a leaf in the middle, a bite from
    an edge, a wave that meets a straight seam, corners by turns, a kaleidoscope of straight lines."""
    text = (
        HEAD.format(seam=seam, ruler="1/8")
        + PETAL
        + FAN
        + """
unit leaf
    slices sea
    slice from middle of top to middle of bottom about -2 x 4, sky right
    slice from middle of top to middle of bottom about 10 x 4, sky left
    finished 8

unit bite
    slices sea
    slice from 1 x 8 to 7 x 8 about 4 x 8, glow bottom
    finished 8

unit wave
    slices sea
    slice from 0 x 5 to 8 x 5 about 4 x 9, sky top
    slice 1 again from 2 x 0 to 1/2 of slice 1, night
    finished 8

unit corners
    slices sea
    slice from 3 x 0 to 0 x 3 about top left, sky, night, 4 times round
    finished 8

unit scope
    slices night
    slice from 2 1/2 x 0 to 0 x 2 1/2, sky, 4 times round
    slice from 2 1/2 x 0 to 5 1/2 x 8, glow left
    slice from 5 1/2 x 0 to centre, night
    slice from 8 x 2 1/2 to centre, glow top
    slice from 8 x 5 1/2 to centre, night top
    slice 5 again from 0 x 5 1/2 to centre, night bottom
    slice 5 again from 0 x 2 1/2 to centre, glow bottom
    slice 9 again from 2 1/2 x 8 to centre, glow bottom
    finished 8

quilt
    across 4, down 2
    layout
        petal | fan | leaf | scope
        bite | wave | corners | petal turned 90
"""
    ).replace("finished 6", "finished 8")
    order, designs = order_of(Project("test.pattern", text))
    assert [gap_text(g) for g in rehearsal(order, designs).gaps] == []


ROUND = """
unit pine
    slices sea
    slice from 3 x 0 to 0 x 3, glow, 4 times round
    slice from 0 x 1 to 8 x 1, night top, 4 times round
    finished 8
    method foundation
"""


def test_a_line_goes_round_and_is_drawn_in() -> None:
    unit = made(ROUND, "pine")
    assert covers(unit) == "" and len(unit.parts) == 9
    shapes = {frozenset((float(x), float(y)) for x, y in p.what.outline) for p in unit.parts}
    assert frozenset({(3.0, 0.0), (5.0, 0.0), (6.0, 1.0), (2.0, 1.0)}) in shapes  # drawn in from 0 x 1 and 8 x 1
    assert frozenset({(8.0, 3.0), (8.0, 5.0), (7.0, 6.0), (7.0, 2.0)}) in shapes  # the next, turned by a quarter
    in_turn = made(ROUND.replace("glow, 4", "glow, stone, 4"), "pine")
    assert [p.what.fabric for p in in_turn.parts if getattr(p.what, "fabric", "") in ("glow", "stone")].count(
        "stone"
    ) == 2


@pytest.mark.parametrize(
    "line, code, words",
    [
        ("slice from 0 x 1 to 6 x 6 about bottom left, night", "cannot-sew", "starts 5 in from the point"),
        ("slice from top left through 3 x 3 to bottom right about bottom left, night", "not-understood", "no other"),
        ("slice from top left to top left about bottom left, night", "cannot-sew", "one point to another"),
        ("slice from 0 x 5 3/4 to 1/4 x 6 about bottom left, night top", "cannot-sew", "too tight"),
        ("slice from 0 x 3 to 6 x 3 about 3 x 9, night, 3 times", "not-understood", "written 4 times round"),
        ("slice from 1 x 0 to 0 x 1, night, 5 times round", "not-understood", "2, 3, 4, 6, 8 or 12"),
        ("slice from 1 x 0 to 0 x 1, night, glow, sea, 2 times round", "not-understood", "3 pieces are named for 2"),
        ("slice from 1 x 0 to 0 x 1, 4 times round", "not-understood", "missing"),
    ],
)
def test_what_is_refused(line: str, code: str, words: str) -> None:
    found = problems_of(f"unit wrong\n    slices sea\n    {line}\n    finished 6\n")
    assert [p.code for p in found] == [code]
    assert words in found[0].message, found[0].message


def test_arcs_are_cut_from_plain_cloth_by_templates() -> None:
    paper = problems_of(PETAL + "    method foundation\n")
    assert {p.code for p in paper} == {"cannot-sew"} and "is an arc" in paper[0].message
    pieced = problems_of(
        "unit bars\n    strips sea 1 | sky 1\n    finished 2 x 2\n" + PETAL.replace("slices sea", "slices bars")
    )
    assert "must-be-cloth" in {p.code for p in pieced}
