"""Errors that were printed: a pattern that states one is objected to, and the message names the cause."""

from __future__ import annotations

import pytest

import patternkit
from tests.published.desk import line, measuring, num, objection, pattern, plain, planned, problems, sound


def test_half_square_of_2_from_3_3_8() -> None:
    """The 7/8 was added to the unfinished size; 2 7/8 is right.

    https://bkkquilt.com/how-to-crochet/how-do-you-calculate-triangles-in-quilting.html
    """
    body = "unit corner\n    half-square night, glow\n    finished 2\n    cut {}\n"
    said = objection(pattern(body.format("3 3/8")), "seams-added-twice")
    assert "2 7/8" in said and "unfinished size" in said
    sound(pattern(body.format("2 7/8")))


def test_11_and_9_do_not_make_20() -> None:
    """11 x 20 joined to 9 x 20: 19 1/2, not a 20 in square
    (http://quilton.blogspot.com/2011/09/before-i-start-today.html)."""
    body = "block field\n    row night cut 11 x 20 | glow cut 9 x 20\n    measures {}\n"
    said = objection(pattern(body.format("20")), "claim-differs")
    assert "19 1/2 in" in said and "20 in" in said and "10 1/2 in" in said and "8 1/2 in" in said
    sound(pattern(body.format("19 1/2 x 20")))


def test_11_strips_in_three_quarters_of_a_yard() -> None:
    """11 strips of 2 1/2 said to be 26 1/2 in, 3/4 yd: they are 27 1/2 in, 7/8 yd; joined they go round, and are too
    short for the allowance, which is advice.

    http://www.quiltingboard.com/main-f1/binding-math-t189575.html
    """
    lines = "binding cut 2 1/2 night, allowance {}{}"
    # with straight joins 11 strips are enough, and take 27 1/2 in
    said = objection(
        plain("96", "110", lines.format(12, ", joined straight, strips 11"), night="buy 3/4 yd"), "buy-short"
    )
    assert "27 1/2 in" in said and "11 strips of 2 1/2 in" in said and "7/8 yd" in said
    project = plain("96", "110", lines.format(12, ", strips 11"), night="buy 3/4 yd")
    assert [p.code for p in problems(project)] == ["buy-short"]
    found = [p for p in patternkit.check(project) if p.code in ("buy-short", "finish-differs")]
    words = " ".join(c for p in found for c in (p.message, *p.causes))
    assert "12 strips" in words and "11 strips joined measure 415 in" in words and "424 in" in words
    sound(plain("96", "110", lines.format(12, ", strips 12"), night="buy 7/8 yd"))


def test_7_times_2_is_14() -> None:
    """Three borders, 7 in together: 7 x 2 = 14, and 1 more is 15.

    https://www.quiltingboard.com/main-f1/printfriendly-calculating-required-border-lengths-multiple-borders-mitered-corners-t168402.html
    """
    borders = ("border 2 night", "border 2 1/2 glow", "border 2 1/2 night")
    said = objection(plain("40", "50", *borders, "finished 55 x 65"), "claim-differs")
    assert "54 in" in said
    sound(plain("40", "50", *borders, "finished 54 x 64"))
    sound(plain("40", "50", *borders, "finished 40 + 2*7 x 50 + 2*7"))


@pytest.mark.parametrize(
    ("size", "wide", "narrow"),
    [("1", (44, 36), 1512), ("2 1/2", (17, 14), 224), ("4", (11, 9), 90), ("4 7/8", (9, 7), 56)],
)
def test_squares_from_a_yard_of_44_in(size: str, wide: tuple[int, int], narrow: int) -> None:
    """A chart headed 42 x 36 whose entries only work at 44 in: 1584 squares of 1 in, 238 of 2 1/2, 99 of 4,
    63 of 4 7/8.

    http://www.quilterscache.com/M/MathChartsPage.html (at 42 in: 1512, 224, 90, 56). The chart keeps nothing for
    squaring up: the numbers hold with `squaring 0`.
    """
    body = "unit piece\n    patch night\n    cut {}\n\nquilt\n    across {}, down {}\n    tile\n        piece\n"
    text = body.format(size, *wide)
    said = objection(pattern(text, "usable width 42", "squaring 0", night="buy 1 yd"), "buy-short")
    assert "holds only at 44 in usable width" in said and "42 in" in said
    sound(pattern(text, "usable width 44", "squaring 0", night="buy 1 yd"))
    across = next(n for n in range(200, 0, -1) if narrow % n == 0 and narrow // n <= 200)
    sound(pattern(body.format(size, across, narrow // across), "usable width 42", "squaring 0", night="buy 1 yd"))


@pytest.mark.parametrize(("size", "said", "right"), [("2 1/2", 55, 56), ("5", 15, 12)])
def test_a_list_of_fat_quarters(size: str, said: int, right: int) -> None:
    """55 of 2 1/2 in and 15 of 5 in from one: 56 and 12 (https://quiltersresources.com/measurements.html)."""
    body = "unit piece\n    patch night\n    cut {}\n\nquilt\n    across {}, down 1\n    tile\n        piece\n"
    one = "sold as fat-quarters 18 x 22\n    buy 1"
    sound(pattern(body.format(size, right), night=one))
    words = objection(pattern(body.format(size, max(said, right + 1)), night=one), "buy-short")
    assert f"One gives {right} of" in words
    if said > right:
        assert "15 are cut" in words and "take 2 fat quarters" in words


def test_an_eighth_of_a_yard() -> None:
    """1/8 yd is 4 1/2 in, not 4/5 in (https://quiltersresources.com/measurements.html)."""
    body = "block wall\n    patch night\n    cut 4 1/2 x 40\n\nquilt\n    layout\n        wall\n"
    sound(pattern(body, night="buy 1/8 yd"))
    assert "4 1/2 in" in objection(pattern(body, night="buy 4/5 in"), "buy-short")


def test_metric_lists_that_disagree() -> None:
    """5 in is 12.7 cm, not 12.75; 19 x 21 in is 48.26 x 53.34 cm, not 50 x 55.

    https://www.echidnasewing.com.au/article/inspiring-and-educating/imperial-to-metric-conversion-guide/
    """
    body = "block wall\n    patch night {} x {}\n    finished {} x {}\n"
    sound(pattern(body.format("5 in", "5 in", "12.7", "12.7"), "units cm"))
    assert "12.7 cm" in objection(pattern(body.format("5 in", "5 in", "12.75", "12.75"), "units cm"), "claim-differs")
    sound(pattern(body.format("19 in", "21 in", "48.26", "53.34"), "units cm"))
    assert "48.26" in objection(pattern(body.format("19 in", "21 in", "50", "55"), "units cm"), "claim-differs")


def test_80_in_from_two_widths_of_40() -> None:
    """79 in after a seam of 1/2 in on each: short.

    https://www.quiltingboard.com/main-f1/printfriendly-mathematically-challenged-t290638.html
    """
    said = objection(measuring("80", "56", "backing glow, overage 0, seams vertical, panels 2"), "finish-differs")
    assert "3 panels" in said and "2 joined measure 79 in" in said
    said = objection(measuring("80", "56", "backing glow, overage 0", glow="buy 3 1/4 yd"), "buy-short")
    assert "2 joined measure 79 in" in said and "160 in" in said and "holds only at 42 in" in said
    sound(
        measuring(
            "80",
            "56",
            "backing glow, overage 0, seams vertical, panels 2",
            glow="usable width 41\n    buy 3 1/8 yd",
        )
    )


def test_side_triangles_from_squares_cut_once() -> None:
    """A slip that leaves bias on the outside: side triangles are quarters, corner triangles halves
    (http://quiltville.blogspot.com/2005/06/cutting-quarter-square-triangles.html?m=1, a reader's remark)."""
    plan = planned(
        pattern(
            "block wall\n    patch night\n    finished 6\n\n"
            "quilt\n    across 3, down 3\n    tile\n        wall\n"
            "        glow\n    setting on point stone\n"
        )
    )
    assert line(plan, "side triangles").cut.then == "quarter" and line(plan, "corner triangles").cut.then == "half"


def test_block_said_to_measure_what_it_finishes() -> None:
    """The most frequent slip: 9 in blocks that measure 9 in (9 and 9 1/2:
    http://wildthymecreations.blogspot.com/2013/10/a-scant-14-inch.html)."""
    body = "block nine\n    rows\n        night 3 x 3 | glow 3 x 3 | night 3 x 3\n    measures {} x {}\n"
    said = objection(pattern(body.format("9", "3")), "finished-or-measures")
    assert "9 1/2" in said and num("9 1/2") == num("9") + num("1/2")
    sound(pattern(body.format("9 1/2", "3 1/2")))
