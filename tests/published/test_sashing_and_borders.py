"""Sashing, cornerstones and borders against published counts and lengths."""

from __future__ import annotations

import pytest

from patternkit.lengths import SQRT2, Length
from tests.published.desk import line, num, objection, pattern, plain, planned, problems, sound

SASHES = "http://susanintexas.blogspot.com/2009/02/quilt-math-algorithms-for-cornerstones.html"
GOLDEN = "https://sherriquiltsalot.com/2020/04/15/mathing-the-yardage-ii/"
CORNERS = "https://www.allpeoplequilt.com/how-to-quilt/finishing/border-and-corner-blocks"
MITRES = [
    ("40", "5", "6", "56", 51.207, "https://www.allpeoplequilt.com/how-to-quilt/finishing/mitering-borders"),
    ("50", "4", "6", "64", 59.207, "https://www.ddddesigns.com/howdoi/makemiteredborders"),
    ("34", "8", "4", "54", 51.207, "http://www.ritasquilts.com/borders.htm"),
]

BLOCKS = """
block wall
    patch night
    finished {block}

quilt
    across {across}, down {down}
    tile
        wall
    sashing {sash} glow, cornerstones stone{words}
"""


def sashed(across: int, down: int, words: str = "", block: str = "9", sash: str = "2") -> object:
    return pattern(BLOCKS.format(block=block, across=across, down=down, sash=sash, words=words))


def test_4_rows_of_5() -> None:
    """30 cornerstones, 49 sashes."""
    plan = planned(sashed(5, 4))
    assert line(plan, "cornerstone").count == 30, SASHES
    assert sum(x.count for x in plan.lines if x.called == "sashing") == 49
    sash = next(x.cut for x in plan.lines if x.called == "sashing")
    assert {sash.width, sash.height} == {num("2 1/2"), num("9 1/2")}  # as long as the block unfinished
    assert line(plan, "cornerstone").cut.width == num("2 1/2")  # as wide as the sash is cut


@pytest.mark.parametrize(("across", "down"), [(2, 2), (3, 5), (6, 4)])
def test_sashing_counts_derived(across: int, down: int) -> None:
    """All round (R + 1)(C + 1) and (R + 1) C + (C + 1) R; inner only (derived) (R - 1)(C - 1) and R (C - 1)
    + C (R - 1)."""
    for words, n in (("", 1), (", inner", -1)):
        plan = planned(sashed(across, down, words))
        assert sum(x.count for x in plan.lines if x.called == "cornerstone") == (across + n) * (down + n)
        sashes = sum(x.count for x in plan.lines if x.called == "sashing")
        assert sashes == across * (down + n) + down * (across + n)


def test_the_golden_ratio() -> None:
    """Block 9: 9 x 1.618 / 4 = 3.6405, rounded down to 3 5/8 at most: a rule of looks, so arithmetic; it is
    sewn like any other (https://sherriquiltsalot.com/2020/04/15/mathing-the-yardage-ii/)."""
    widest = Length(9 * num("1618").fraction / 4000)
    assert float(widest) == pytest.approx(3.6405), GOLDEN
    assert widest.floor_to(num("1/8").fraction) == num("3 5/8").fraction
    cut = next(x.cut for x in planned(sashed(3, 3, sash="3 5/8")).lines if x.called == "sashing")
    assert min(cut.width, cut.height) == num("4 1/8")


@pytest.mark.parametrize(("length", "width", "extra", "published", "least", "source"), MITRES)
def test_mitred_strips(length: str, width: str, extra: str, published: str, least: float, source: str) -> None:
    """Published L + 2w + 4 or 6, which is what is cut where it is said; the raw outer edge needs L + 2w + 1.2071
    (derived)."""
    plan = planned(plain(length, length, f"border {width} night, mitred, extra {extra}", night="usable width 90"))
    cuts = [x.cut for x in plan.lines if x.called.startswith("border 1")]
    assert cuts and all(float(c.exact_width) == pytest.approx(least, abs=5e-4) for c in cuts), source
    assert all(c.exact_width <= c.width == num(published) for c in cuts)
    assert num(published) == num(length) + num(width) * 2 + num(extra)
    assert {c.height for c in cuts} == {num(width) + num("1/2")}  # border F 8: strip 8 1/2 wide


def test_mitred_strips_in_terms_of_the_seam() -> None:
    """Derived: L + 2w + 2 s cot 22.5, for any seam."""
    for seam in ("1/8", "1/4", "3/8"):
        plan = planned(plain("40", "30", "border 5 night, mitred", settings=(f"seam {seam}",), night="usable width 90"))
        exact = {x.cut.exact_width for x in plan.lines if x.called.startswith("border 1")}
        assert exact == {n + num(seam) * 2 * (SQRT2 + 1) for n in (Length(50), Length(40))}


def test_mitred_strips_are_cut_with_something_to_hold() -> None:
    """Where nothing is said, L + 2w + 4 (http://www.ritasquilts.com/borders.htm): 34 + 16 + 4. What the corners do not
    reach with is told; beside other corners extra says nothing."""
    plan = planned(plain("34", "34", "border 8 night, mitred", night="usable width 90"))
    assert {x.cut.width for x in plan.lines if x.called.startswith("border 1")} == {num("54")}
    metric = planned(plain("86", "86", "border 20 night, mitred", settings=("units cm",), night="usable width 200"))
    assert {x.cut.width * 127 / 50 for x in metric.lines if x.called.startswith("border 1")} == {num("136")}
    least = plain("34", "34", "border 8 night, mitred, extra 1 1/4", night="usable width 90")
    assert {x.cut.width for x in planned(least).lines if x.called.startswith("border 1")} == {num("51 1/4")}
    short = objection(plain("34", "34", "border 8 night, mitred, extra 1", night="usable width 90"), "too-small")
    assert "their corners take 1 1/4 in beyond" in short
    assert "extra says nothing" in objection(plain("34", "34", "border 8 night, extra 2"), "out-of-place")


def test_cornerstones() -> None:
    """Border finished 4: corner square 4 1/2; top and bottom strips are cut to the centre width."""
    plan = planned(plain("30", "36", "border 4 night, cornerstones glow"))
    corner = line(plan, "border 1 cornerstone").cut
    assert corner.width == corner.height == num("4 1/2"), CORNERS
    top = line(plan, "border 1 top and bottom")
    assert (top.cut.width, top.cut.height, top.count) == (num("30 1/2"), num("4 1/2"), 2)


@pytest.mark.parametrize(("width", "length", "border"), [("24", "30", "3"), ("20", "26", "4 1/2")])
def test_straight_borders(width: str, length: str, border: str) -> None:
    """Centre length A, width B, border w: sides A + 1/2; top and bottom B + 2w + 1/2
    (https://www.allpeoplequilt.com/how-to-quilt/finishing/border-and-corner-blocks)."""
    plan = planned(plain(width, length, f"border {border} night"))
    sides, ends = line(plan, "border 1 sides"), line(plan, "border 1 top and bottom")
    assert (sides.cut.height, sides.count) == (num(length) + num("1/2"), 2), CORNERS
    assert (ends.cut.width, ends.count) == (num(width) + num(border) * 2 + num("1/2"), 2)
    assert sides.cut.width == ends.cut.height == num(border) + num("1/2")


def test_border_strips_joined() -> None:
    """Derived: what is joined from strips of 40 in loses a seam at each join; short sides come from the
    same long strip
    where that takes fewer strips: 2 x 52 1/2 and 2 x 24 1/2 are 154, 4 strips give 158 1/2."""
    plan = planned(plain("20", "52", "border 2 night"))
    (long,) = plan.long_strips
    assert {(x, n) for x, n, _ in long.lengths} == {(num("52 1/2"), 2), (num("24 1/2"), 2)}
    assert long.strips == 4
    plan = planned(plain("60", "72", "border 4 night"))
    (long,) = plan.long_strips
    assert long.strips == 8  # 2 x 72 1/2 + 2 x 68 1/2 = 282; 8 x 40 - 7 x 1/2 = 316 1/2, 7 strips give 277


def test_three_borders_of_7_in_all_add_14() -> None:
    """A published slip of the working: 7 x 2 is 14, not 15, and 1 more is 15.

    https://www.quiltingboard.com/main-f1/printfriendly-calculating-required-border-lengths-multiple-borders-mitered-corners-t168402.html
    """
    borders = ("border 1 night, mitred", "border 2 glow, mitred", "border 4 night, mitred")
    wide = {"night": "usable width 90", "glow": "usable width 90"}
    sound(plain("40", "40", *borders, "finished 54", **wide))
    assert "54 in" in objection(plain("40", "40", *borders, "finished 55", **wide), "claim-differs")
    longest = [
        x.cut.exact_width for x in planned(plain("40", "40", *borders, **wide)).lines if x.called.startswith("border 3")
    ]
    # the printed rule L + 14 + 1 is a quarter short of the 1.2071 that the corners need when L is a
    # finished length
    assert all(Length(55) < x < Length(56) for x in longest)


def test_a_top_that_is_not_as_large_as_its_borders_make_it() -> None:
    said = objection(plain("40", "40", "border 3 night", "measures 46"), "finished-or-measures")
    assert "46 1/2 in" in said
    assert problems(plain("40", "40", "border 3 night", "measures 46 1/2")) == []
