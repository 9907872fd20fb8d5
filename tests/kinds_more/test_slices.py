"""Slices: sewn in reverse order they give the unit; points, sides, strip pieces; what can't be sewn is
refused."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.piecing.grain import bias_outside
from patternkit.piecing.making import Cloth, Making
from patternkit.piecing.names import english
from patternkit.piecing.offset import area
from tests.kinds.sewing import covers
from tests.kinds_more.piecing_by_shape import wrong_with
from tests.kinds_more.written import made, problems_of

SEAMS = ["1/8", "1/4", "3/8", "1/2", "5/8", "5 mm", "7.5 mm", "1 cm", "15 mm"]
INCHES = {
    "1/8": 0.125,
    "1/4": 0.25,
    "3/8": 0.375,
    "1/2": 0.5,
    "5/8": 0.625,
    "5 mm": 5 / 25.4,
    "7.5 mm": 7.5 / 25.4,
    "1 cm": 10 / 25.4,
    "15 mm": 15 / 25.4,
}
FABRICS = ["sea", "night", "glow", "stone", "sky"]
XY = tuple[Fraction, Fraction]


def cut_off(shape: list[XY], i: int, j: int, p: Fraction, q: Fraction) -> tuple[XY, XY, list[XY], list[XY]]:
    """A convex shape cut from a point on edge i to a point on edge j > i: the ends and the two parts."""

    def at(k: int, part: Fraction) -> XY:
        (x, y), (u, v) = shape[k], shape[(k + 1) % len(shape)]
        return x + (u - x) * part, y + (v - y) * part

    a, b = at(i, p), at(j, q)
    return a, b, [*shape[: i + 1], a, b, *shape[j + 1 :]], [a, *shape[i + 1 : j + 1], b]


def twice(shape: list[XY]) -> Fraction:
    pairs = zip(shape, shape[1:] + shape[:1], strict=True)
    return sum((a[0] * b[1] - a[1] * b[0] for a, b in pairs), Fraction(0))


@st.composite
def sliced(draw: st.DrawFn) -> str:
    """A `slices` unit by coordinates, each line across the piece that is left."""
    w, h = draw(st.integers(8, 12)), draw(st.integers(8, 12))
    shape: list[XY] = [
        (Fraction(0), Fraction(0)),
        (Fraction(w), Fraction(0)),
        (Fraction(w), Fraction(h)),
        (Fraction(0), Fraction(h)),
    ]
    lines = []
    for n in range(draw(st.integers(1, 4))):
        i, j = sorted(draw(st.lists(st.integers(0, len(shape) - 1), min_size=2, max_size=2, unique=True)))
        p, q = (Fraction(draw(st.integers(3, 13)), 16) for _ in "pq")
        a, b, one, two = cut_off(shape, i, j, p, q)
        if min(twice(one), twice(two)) < 8 or twice(one) == twice(two):
            continue
        shape = max(one, two, key=twice)
        lines.append(f"    slice from {a[0]} x {a[1]} to {b[0]} x {b[1]}, {FABRICS[(n + 1) % 5]}")
    if not lines:
        lines.append("    slice from 1/3 of top to 2/3 of left, night")
    return "\n".join([f"unit sliced\n    slices sea\n    finished {w} x {h}", *lines]) + "\n"


@settings(max_examples=25, deadline=None)
@given(sliced(), st.sampled_from(SEAMS))
def test_slices_sewn_in_reverse_order_give_the_unit(text: str, seam: str) -> None:
    for extra in ("", "    dog-ears kept\n"):
        unit = made(text + extra, "sliced", seam)
        assert covers(unit) == ""
        assert wrong_with(unit, INCHES[seam]) == ""


@settings(max_examples=12, deadline=None)
@given(sliced(), st.sampled_from(SEAMS))
def test_paper_pieces_cover_their_places(text: str, seam: str) -> None:
    unit = made(text + "    method foundation\n    extra 1/2\n", "sliced", seam)
    assert wrong_with(unit, INCHES[seam], 0.5) == ""
    assert all(s.pressed in ("left", "right") for s in unit.seams)


WAVE = """
unit wall
    strips night 1 | glow 1 | night 1 | glow 1 | night 1 | glow 1
    finished 6 x 6

unit wave
    slices sea
    finished 6 x 6
    slice from 1/3 of top to 2/3 of bottom, night left
    slice from 3 x 0 to right 1/2, glow top
    slice from end 1 to middle of right, wall turned 90 bottom lay 0 x 0
    slice 1 again from top left to 1/2 of slice 1, stone top
"""


def by_name(unit: Making) -> dict[str, Cloth | Making]:
    def called(part: Cloth | Making) -> str:
        return str(part.key) if isinstance(part, Making) else english(part.name) if part.name is not None else ""

    return {called(p.what): p.what for p in unit.parts}


def test_points_sides_and_pieces() -> None:
    unit = made(WAVE, "wave")
    assert covers(unit) == ""
    assert wrong_with(unit, 0.25) == ""
    shapes = {
        p.what.fabric: [(float(x), float(y)) for x, y in p.what.outline]
        for p in unit.parts
        if isinstance(p.what, Cloth)
    }
    assert set(shapes["night"]) == {(3.0, 3.0), (4.0, 6.0), (0.0, 6.0), (0.0, 0.0)}
    assert set(shapes["stone"]) == {(0.0, 0.0), (2.0, 0.0), (3.0, 3.0)}
    assert set(shapes["sea"]) == {(4.0, 6.0), (2.0, 0.0), (3.0, 0.0), (6.0, 3.0)}
    assert set(shapes["glow"]) == {(3.0, 0.0), (6.0, 0.0), (6.0, 3.0)}
    assert sorted(by_name(unit)) == ["piece A-1", "piece A-2", "piece B-1", "piece B-3", "wave, piece B-2"]


def test_a_piece_of_a_strip_unit_keeps_the_lay_of_its_stripes() -> None:
    unit = made(WAVE, "wave")
    piece = next(p for p in unit.parts if isinstance(p.what, Making))
    assert isinstance(piece.what, Making)
    stripes = [
        (p.what.fabric, piece.place.outline(p.what.outline)) for p in piece.what.parts if isinstance(p.what, Cloth)
    ]
    assert sum(float(area(o)) for _, o in stripes) == pytest.approx(3.0)  # the triangle (4, 6), (6, 3), (6, 6)
    # turned a quarter, laid from the top: level stripes one inch high, night from 0 to 1, glow from 1 to 2,
    # ...
    for fabric, outline in stripes:
        low, high = min(float(y) for _, y in outline), max(float(y) for _, y in outline)
        assert int(low) == low and high == low + 1
        assert fabric == ("night", "glow")[int(low) % 2]


def test_an_outline_of_its_own() -> None:
    unit = made(
        """
unit peak
    slices sea
    outline middle of top, bottom right, bottom left
    finished 6 x 6
    slice from 1/2 of edge 1 to 1 along bottom, night
""",
        "peak",
    )
    assert [(float(x), float(y)) for x, y in unit.outline] == [(3, 0), (6, 6), (0, 6)]
    assert covers(unit) == "" and wrong_with(unit, 0.25) == ""
    edges = bias_outside(unit)
    assert {float(e.start[1]) + float(e.end[1]) for e in edges} == {
        3.0,
        9.0,
        6.0,
    }  # both slanting sides, in three stretches


def test_a_set_in_seam_is_flagged() -> None:
    text = """
unit bent
    slices sea
    finished 6
    slice from 1/3 of top through 3 x 3 to 1/3 of left, night top"""
    unit = made(text + ", set in\n", "bent")
    (seam,) = unit.seams
    assert seam.set_in and [(float(x), float(y)) for x, y in seam.path] == [(2, 0), (3, 3), (0, 2)]
    assert covers(unit) == ""
    refused = problems_of(text + "\n")
    assert [p.code for p in refused] == ["cannot-sew"] and "bends" in refused[0].message
    assert any("set in" in r.text for r in refused[0].repairs)
    paper = problems_of(text + ", set in\n    method foundation\n")
    assert [p.code for p in paper] == ["cannot-sew"] and "paper" in paper[0].message


@pytest.mark.parametrize(
    "line, code, words",
    [
        ("slice from 1/3 of top to 3 x 3, night", "cannot-sew", "ends inside it"),
        ("slice from 1/3 of top to 2/3 of top, night", "cannot-sew", "takes nothing off"),
        ("slice from 7 x 0 to 9 x 3, night", "cannot-sew", "does not reach it"),
        ("slice from 1/3 of top to 1/3 of top, night", "cannot-sew", "same point"),
        ("slice from middle of top to middle of bottom, night", "cannot-sew", "equally large"),
        ("slice from middle of top to middle of bottom, night top", "cannot-sew", "no top side"),
        ("slice from 1/3 of top to 2/3 of bottom", "not-understood", "missing, after a comma"),
        ("slice from 1/3 of top to 2/3 of bottom, nihgt", "not-understood", "not a fabric"),
        ("slice from 1/3 of tip to 2/3 of bottom, night", "not-understood", "edge is missing"),
        ("slice from 3/2 of top to 2/3 of bottom, night", "cannot-sew", "between 0 and 1"),
        ("slice from 1/3 of top to end 4, night", "cannot-sew", "no slice 4"),
        ("slice from 7 along top to top left, night", "cannot-sew", "further along"),
        ("slice 3 again from 1/3 of top to 2/3 of bottom, night", "not-understood", "no slice 3"),
    ],
)
def test_what_makes_no_sense_is_said(line: str, code: str, words: str) -> None:
    found = problems_of(f"\nunit sliced\n    slices sea\n    finished 6\n    {line}\n")
    assert [p.code for p in found] == [code], [p.message for p in found]
    assert words in found[0].message
    assert found[0].span.end > found[0].span.start


def test_a_strip_unit_that_is_too_narrow() -> None:
    found = problems_of(WAVE.replace("lay 0 x 0", "lay 0 x 1"))
    assert [p.code for p in found] == [] or "beyond the side" in found[0].message
    found = problems_of(WAVE.replace("lay 0 x 0", "lay 0 x 4"))
    assert [p.code for p in found] == ["does-not-add-up"] and "beyond the side" in found[0].message


def test_sections_when_two_sewn_groups_meet() -> None:
    unit = made(WAVE, "wave")
    assert {"piece A-1", "piece B-1"} <= set(by_name(unit))
    plain = made(
        "\nunit sliced\n    slices sea\n    finished 6\n    slice from 1/3 of top to 1/2 of bottom, night\n",
        "sliced",
    )
    assert sorted(by_name(plain)) == ["piece 1", "piece 2"]
