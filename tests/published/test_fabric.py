"""Fabric to buy, pieces from strips, fat quarters and packs, against published figures."""

from __future__ import annotations

from fractions import Fraction

import pytest

import patternkit
from patternkit.lengths import Length
from patternkit.piecing.keys import Key
from patternkit.project import Project
from tests.published.desk import line, num, objection, pattern, planned, problems, strips, yards

WORKS = "https://patchworktimes.com/2011/11/12/calculating-yardage"
SERIES = "http://www.modernquiltingbyb.com/2015/02/single-block-quilt-tutorial-series.html"
FIVE = "http://quilterscache.com/StartQuiltingPages/startquiltingtwo.html"
QUARTERS = "http://piecefulliving.blogspot.com/2011/08/number-of-squares-from-fat-quarter.html"
FORUM = "https://www.quiltingboard.com/main-f1/fat-quarter-conversion-t222332.html"
PACKS = "https://anniescatalog.com/quilting/content.html?content_id=804&scat_id=623&type_id=S"

PIECES = """
unit piece
    patch night
    cut {size}

quilt
    across {across}, down {down}
    tile
        piece
"""


def pieces(size: str, across: int, down: int, *settings: str, night: str = "") -> Project:
    """A quilt of so many pieces of one cut size."""
    return pattern(PIECES.format(size=size, across=across, down=down), *settings, night=night)


def test_12_of_4_1_2() -> None:
    """8 from a strip of 40 in, 2 strips, 9 in: the printed quarter yard holds with nothing for squaring up."""
    usual = planned(pieces("4 1/2", 4, 3, night="buy 1/4 yd")).fabrics["night"]
    assert usual.planned is not None and (yards(usual.planned), yards(usual.buy)) == (Fraction(3, 8), Fraction(1, 4))
    plan = planned(pieces("4 1/2", 4, 3, "spare 0", night="buy 1/4 yd"))
    found = [(s.copies, [c.number for c in s.cuts]) for s in plan.fabrics["night"].plan.strips]
    assert sorted(found) == [(1, [4]), (1, [8])], WORKS
    assert plan.fabrics["night"].used == 9
    assert yards(plan.fabrics["night"].buy) == Fraction(1, 4)


def test_140_of_2_1_2_x_4_1_2() -> None:
    """9 from a strip of 42 in, 15.55, so 16 strips of 2 1/2. Where pieces may be turned, less will do."""
    project = pieces("4 1/2 x 2 1/2", 14, 10, "usable width 42", night="buy 40 in")
    text = project.sources[project.name].text
    upright = planned(Project("trial.pattern", text.replace("#1b2a49", "#1b2a49 directional")))
    assert strips(upright, "night", "2 1/2") == strips(upright, "night") == 16, SERIES
    assert upright.fabrics["night"].used == 40
    assert planned(project, solver=True).fabrics["night"].used < 40
    short = text.replace("#1b2a49", "#1b2a49 directional").replace("buy 40 in", "buy 39 in")
    assert "40 in" in objection(Project("trial.pattern", short), "buy-short")


def test_112_of_3_7_8_x_7_3_4() -> None:
    """5 from a strip of 42 in (5.42), 23 strips, 89 1/8 in; lying the other way 10 from a strip of 7 3/4,
    12 strips, 93 in."""
    plan = planned(pieces("7 3/4 x 3 7/8", 14, 8, "usable width 42", night="buy 89 1/8 in"))
    assert plan.fabrics["night"].used <= num("89 1/8") == num("3 7/8") * 23, FIVE


SQUARES = [
    ("2", 99),
    ("2 1/2", 56),
    ("3", 42),
    ("3 1/2", 30),
    ("4", 20),
    ("4 1/2", 16),
    ("5", 12),
    ("5 1/2", 12),
    ("6", 9),
    ("6 1/2", 6),
]


@pytest.mark.parametrize(("size", "count"), SQUARES)
def test_squares_from_a_fat_quarter(size: str, count: int) -> None:
    """18 x 22 in, floor by floor: 99, 56, 42, 30, 20, 16, 12, 12, 9, 6, with nothing kept for squaring up."""
    sold = "sold as fat-quarters 18 x 22\n    squaring 0\n    buy {}"
    plan = planned(pieces(size, count, 1, night=sold.format(1)))
    assert plan.fabrics["night"].packs == 1, QUARTERS
    assert planned(pieces(size, count + 1, 1, night=sold.format(2))).fabrics["night"].packs == 2
    said = objection(pieces(size, count + 1, 1, night=sold.format(1)), "buy-short")
    assert f"One gives {count} of" in said and f"{count + 1} are cut" in said


def test_5_in_squares_from_a_yard() -> None:
    """1 yd of 40 in: 8 x 7 = 56, with nothing kept for squaring up; with half an inch it is advice."""
    usual = pieces("5", 8, 7, night="buy 1 yd")
    assert problems(usual) == [] and "every-thread" in {p.code for p in patternkit.check(usual)}
    assert planned(usual).fabrics["night"].used == 40
    plan = planned(pieces("5", 8, 7, "squaring 0", night="buy 1 yd"))
    assert plan.fabrics["night"].used == 35, FORUM
    assert plan.fabrics["night"].buy == 36
    assert "40 in" in objection(pieces("5", 19, 3, "squaring 0", night="buy 1 yd"), "buy-short")


@pytest.mark.parametrize("usable", ["40", "41", "42"])
@pytest.mark.parametrize(("size", "each"), [("5", 8), ("10", 4)])
def test_squares_from_a_strip(usable: str, size: str, each: int) -> None:
    """8 of 5 in and 4 of 10 in from a strip, the same at 40 to 42 in; yards = (n / 8, up) x 5/36. At 40 in this needs
    every thread, with `squaring 0`."""
    for n in (each, each + 1, each * 3):
        plan = planned(pieces(size, n, 1, f"usable width {usable}", f"squaring {0 if usable == '40' else '1/2'}"))
        assert strips(plan, "night") == -(-n // each), PACKS
        assert plan.fabrics["night"].used == num(size) * -(-n // each)


def test_four_strips_of_2_1_2() -> None:
    """10 in, so 3/8 yd (0.278 up to an eighth)."""
    plan = planned(pieces("2 1/2 x 40", 1, 4, night="buy 3/8 yd"))
    assert plan.fabrics["night"].used == 10, PACKS
    assert yards(plan.fabrics["night"].buy) == Fraction(3, 8)
    assert yards(plan.fabrics["night"].used) == Fraction(10, 36)


@pytest.mark.parametrize(
    ("yard", "inches"),
    [
        ("1/8", "4 1/2"),
        ("1/4", "9"),
        ("1/3", "12"),
        ("3/8", "13 1/2"),
        ("1/2", "18"),
        ("5/8", "22 1/2"),
        ("2/3", "24"),
        ("3/4", "27"),
        ("7/8", "31 1/2"),
    ],
)
def test_yard_fractions(yard: str, inches: str) -> None:
    """https://quiltersresources.com/measurements.html, with its slip at 1/8 yd (4/5 in) put right: just
    that much cloth will do."""
    assert Length(Fraction(yard) * 36) == num(inches)
    assert planned(pieces(f"{inches} x 39", 1, 1, "ruler 1/16", night=f"buy {yard} yd")).fabrics["night"].used == num(
        inches
    )
    more = num(inches) + num("1/8")
    objection(pieces(f"{more.fraction} x 39", 1, 1, night=f"buy {yard} yd"), "buy-short")


@pytest.mark.parametrize(("lot", "bought"), [("1/8", Fraction(1, 2)), ("1/4", Fraction(1, 2)), ("1/2", Fraction(1, 2))])
def test_rounding_of_what_is_bought(lot: str, bought: Fraction) -> None:
    """16 in: 4/9 yd, up to an eighth, a quarter or a half. A spare is added first and said."""
    plan = planned(pieces("4 x 40", 1, 4, f"sold by {lot} yd"))
    assert plan.fabrics["night"].used == 16 and yards(plan.fabrics["night"].buy) == bought
    spared = planned(pieces("4 x 40", 1, 4, "spare 4", f"sold by {lot} yd"))
    assert spared.fabrics["night"].buy == Length(20).ceil_to(Fraction(lot) * 36)


def test_packs_of_strips_and_squares() -> None:
    """How many a pack holds is not standard, so it is an input: 42 squares of 5 in, as in a sample pattern
    (https://www.quiltingboard.com/main-f1/fat-quarter-conversion-t222332.html), 40 strips
    (https://4h.unl.edu/fairbook/static/quilting: up to 40)."""
    sold = "sold as squares 5 x 5, 42 to a pack\n    buy {}"
    assert planned(pieces("5", 7, 6, night=sold.format(1))).fabrics["night"].packs == 1
    assert planned(pieces("5", 43, 1, night=sold.format(2))).fabrics["night"].packs == 2
    assert "43 squares" in objection(pieces("5", 43, 1, night=sold.format(1)), "buy-short")
    rolls = "sold as strips 2 1/2 x 40, 40 to a pack\n    buy {}"
    plan = planned(pieces("2 1/2", 32, 20, night=rolls.format(1)))
    assert (plan.fabrics["night"].sheet_count, plan.fabrics["night"].packs) == (40, 1)
    assert "41 strips" in objection(pieces("2 1/2", 43, 15, night=rolls.format(1)), "buy-short")


def test_a_wider_cloth_is_named() -> None:
    """Results near a boundary change by a whole strip: 9 squares of 4 1/2 in a strip of 42 in, 8 in one of
    40."""
    said = objection(pieces("4 1/2", 9, 2, night="buy 1/4 yd"), "buy-short")
    assert "holds only at 42 in" in said
    assert planned(pieces("4 1/2", 9, 2, "usable width 42", night="buy 1/4 yd")).fabrics["night"].used == 9


def test_squares_cut_once_and_twice_come_in_whole_squares() -> None:
    """Derived: 10 side triangles from 3 squares, 4 corners from 2; 13 half-squares from 7 pairs, one left
    over."""
    body = """
    unit corner
        half-square night, glow
        finished 4

    quilt
        across 13, down 1
        tile
            corner
    """
    plan = planned(pattern(body))
    assert {(x.fabric, x.count) for x in plan.lines} == {("night", 7), ("glow", 7)}
    (count,) = [c for c in plan.counts if c.making.key == Key("corner")]
    assert (count.needed, count.made, count.spare) == (13, 14, 1)
    assert line(plan, "corner", "night").cut.width == num("4 7/8")
