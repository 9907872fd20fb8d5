"""Blocks on point against the published charts, at both roundings."""

from __future__ import annotations

import pytest

from patternkit.lengths import SQRT2, Length
from tests.published.desk import line, num, objection, pattern, planned, sound

CHART = "http://phoebemoon.com/tutorials/on-point.htm"
GUILD = "http://www.moonlightquilters.org/tip-on-point-settings/"
EIGHTHS = "http://www.pinemeadowsdesigns.com/SewingHints-BlockOnPoint.htm"
QUARTERS = "http://joanne-everyonedeservesaquilt.blogspot.com/2014/03/tip-tuesday-math-for-quilters-part-2.html"
DIAGONALS = "http://www.quilterscache.com/M/MathChartsPage.html"

QUILT = """
block wall
    patch night
    finished {block}

quilt
    across {across}, down {down}
    tile
        wall
        glow
    setting on point, triangles stone{said}
"""


def quilt(block: str, said: str = "", across: int = 3, down: int = 4, *settings: str) -> object:
    return pattern(QUILT.format(block=block, said=said, across=across, down=down), *settings)


PUBLISHED = [
    ("4", "7", "3 3/4", 6.864, 3.682),
    ("6", "9 3/4", "5 1/4", 9.692, 5.096),
    ("7", "11 1/4", "6", 11.107, 5.803),
    ("8", "12 3/4", "6 3/4", 12.521, 6.510),
    ("10", "15 1/2", "8", 15.349, 7.925),
    ("12", "18 1/4", "9 1/2", 18.178, 9.339),
    ("13", "19 3/4", "10 1/4", 19.592, 10.046),
    ("15", "22 1/2", "11 3/4", 22.420, 11.460),
    ("16", "24", "12 1/4", 23.835, 12.167),
    ("18", "26 3/4", "13 3/4", 26.663, 13.581),
    ("19", "28 1/4", "14 1/2", 28.077, 14.289),
]


@pytest.mark.parametrize(("block", "side", "corner", "true_side", "true_corner"), PUBLISHED)
@pytest.mark.parametrize("ruler", ["1/8", "1/4"])
def test_the_chart(block: str, side: str, corner: str, true_side: float, true_corner: float, ruler: str) -> None:
    """Final values rounded up to 1/4 in (the corner of 15 in lies one step higher still):
    http://phoebemoon.com/tutorials/on-point.htm

    Ours is the exact value rounded up once to the ruler; the published one lies between the exact one and 1
    in more.
    """
    plan = planned(quilt(block, "", 3, 4, f"ruler {ruler}"))
    for use, published, true, squares in (
        ("side triangles", side, true_side, 3),
        ("corner triangles", corner, true_corner, 2),
    ):
        cut = line(plan, use).cut
        assert float(cut.exact_width) == pytest.approx(true, abs=5e-4), CHART
        assert cut.exact_width <= cut.width < cut.exact_width + num(ruler)
        assert cut.exact_width <= num(published) <= cut.exact_width + 1
        assert line(plan, use).count == squares
        if ruler == "1/4" and (block, use) != ("15", "corner triangles"):
            assert cut.width == num(published)


@pytest.mark.parametrize(("block", "side", "corner", "true_side", "true_corner"), PUBLISHED)
def test_published_cuts_are_accepted_and_a_step_less_is_not(
    block: str, side: str, corner: str, true_side: float, true_corner: float
) -> None:
    plan = planned(quilt(block, f", sides cut {side}, corners cut {corner}"))
    assert line(plan, "side triangles").cut.width == num(side), CHART
    assert line(plan, "corner triangles").cut.width == num(corner)
    usual = planned(quilt(block))
    for phrase, use, true in (
        ("sides cut", "side triangles", true_side),
        ("corners cut", "corner triangles", true_corner),
    ):
        less = line(usual, use).cut.width - num("1/8")
        said = objection(quilt(block, f", {phrase} {less.fraction}"), "cut-too-small")
        assert use in said and f"{true:.3f}".rstrip("0") in said


# Derived geometry (no published figure): exact, rounded up to 1/8, rounded up to 1/4.
DERIVED = [
    ("4", (6.8640, "6 7/8", "7"), (3.6820, "3 3/4", "3 3/4")),
    ("6", (9.6924, "9 3/4", "9 3/4"), (5.0962, "5 1/8", "5 1/4")),
    ("7", (11.1066, "11 1/8", "11 1/4"), (5.8033, "5 7/8", "6")),
    ("8", (12.5208, "12 5/8", "12 3/4"), (6.5104, "6 5/8", "6 3/4")),
    ("10", (15.3492, "15 3/8", "15 1/2"), (7.9246, "8", "8")),
    ("12", (18.1777, "18 1/4", "18 1/4"), (9.3388, "9 3/8", "9 1/2")),
    ("13", (19.5919, "19 5/8", "19 3/4"), (10.0459, "10 1/8", "10 1/4")),
    ("15", (22.4203, "22 1/2", "22 1/2"), (11.4602, "11 1/2", "11 1/2")),
    ("16", (23.8345, "23 7/8", "24"), (12.1673, "12 1/4", "12 1/4")),
    ("18", (26.6630, "26 3/4", "26 3/4"), (13.5815, "13 5/8", "13 3/4")),
]


@pytest.mark.parametrize(("block", "side", "corner"), DERIVED)
def test_derived_table_at_both_roundings(
    block: str, side: tuple[float, str, str], corner: tuple[float, str, str]
) -> None:
    """Derived geometry. The formula with 1 1/4 rounds 4, 7, 10, 13 and 16 in one eighth higher than the
    exact value does."""
    for ruler, place in (("1/8", 1), ("1/4", 2)):
        plan = planned(quilt(block, "", 2, 2, f"ruler {ruler}"))
        for use, row in (("side triangles", side), ("corner triangles", corner)):
            cut = line(plan, use).cut
            assert float(cut.exact_width) == pytest.approx(row[0], abs=5e-5)
            assert cut.width == num(row[place])


def test_the_guild_page() -> None:
    """Block 6: diagonal 8 1/2, side 9 3/4, corner 5 1/8, alternate square 6 1/2 (product to the nearest
    1/8, then added)."""
    plan = planned(quilt("6", ", sides cut 9 3/4, corners cut 5 1/8"))
    assert [x.cut.width for x in plan.lines if x.fabric == "glow"] == [num("6 1/2")] * len(
        [x for x in plan.lines if x.fabric == "glow"]
    ), GUILD
    assert line(planned(quilt("6")), "side triangles").cut.width == num("9 3/4")
    assert line(planned(quilt("6")), "corner triangles").cut.width == num("5 1/8")


@pytest.mark.parametrize(
    ("block", "said", "source"),
    [
        ("12", "corners cut 9 3/8", EIGHTHS),
        ("6", "sides cut 9 3/4", QUARTERS),
        ("6", "sides cut 10", QUARTERS),
    ],
)
def test_other_roundings_in_print(block: str, said: str, source: str) -> None:
    """Product up to 1/8 or 1/4, then added; and cut 1/4 in larger for a float."""
    sound(quilt(block, f", {said}")), source


@pytest.mark.parametrize(
    ("block", "diagonal", "exact"),
    [
        ("5", "7 1/8", 7.0711),
        ("6", "8 1/2", 8.4853),
        ("7", "9 7/8", 9.8995),
        ("9", "12 3/4", 12.7279),
        ("12", "17", 16.9706),
    ],
)
def test_block_diagonals(block: str, diagonal: str, exact: float) -> None:
    """Nearest 1/8, not up: http://www.quilterscache.com/M/MathChartsPage.html. A quilt of one block on
    point finishes that."""
    body = QUILT.format(block=block, said=f"\n    finished {diagonal}", across=1, down=1).replace("\n        glow", "")
    top = planned(pattern(body)).top
    assert top is not None and float(top.width) == pytest.approx(exact, abs=5e-5), DIAGONALS
    assert abs(num(diagonal) - top.width) <= num("1/16")
    wrong = body.replace(f"finished {diagonal}", f"finished {(num(diagonal) + num('1/4')).fraction}")
    assert "finish" in objection(pattern(wrong), "claim-differs")


@pytest.mark.parametrize(("across", "down"), [(2, 2), (3, 4), (5, 6)])
def test_counts(across: int, down: int) -> None:
    """Derived by counting, for R rows of C blocks: (R - 1)(C - 1) between, 2 (R + C - 2) at the sides, 4
    corners."""
    plan = planned(quilt("6", "", across, down))
    assert plan.top is not None and plan.top.width == SQRT2 * 6 * across and plan.top.height == SQRT2 * 6 * down
    assert sum(x.count for x in plan.lines if x.fabric == "glow") == (across - 1) * (down - 1)
    assert line(plan, "side triangles").gives == 2 * (across + down - 2)
    assert line(plan, "side triangles").count == -(-2 * (across + down - 2) // 4)
    assert line(plan, "corner triangles").count == 2


def test_a_float() -> None:
    """Derived: a float of 1/4 in adds 1/2 in to each square's size and to the quilt."""
    plain, floated = planned(quilt("6")), planned(quilt("6", ", float 1/4"))
    for use in ("side triangles", "corner triangles"):
        assert line(floated, use).cut.exact_width - line(plain, use).cut.exact_width == Length(1) / 2
    assert plain.top is not None and floated.top is not None
    assert floated.top.width - plain.top.width == Length(1) / 2
