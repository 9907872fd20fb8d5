"""What is bought beyond the cuts: spare and shrinkage, of every cloth alike, the backing's too."""

from __future__ import annotations

from fractions import Fraction

import pytest

import patternkit
from tests.published.desk import measuring, objection, pattern, plain, planned, problems, yards

LONGARM = "http://busyquilting.com.au/longarm.html"  # a long-arm quilter warns of up to 5 % shrinkage
PANELS = ("96", "108", "backing glow")  # 104 x 116 in: 3 panels of 104 in, 312 in


@pytest.mark.parametrize(
    ("size", "settings", "bought"),
    [
        (PANELS, ("spare 0", "shrinkage 5"), "9 1/8"),  # 312 / 0.95 = 328.4 in, 9 1/8 yd = 328.5 in
        (PANELS, ("spare 0", "shrinkage 5%"), "9 1/8"),
        (PANELS, ("spare 0",), "8 3/4"),  # 312 in = 8 2/3 yd
        (PANELS, ("spare 4", "shrinkage 5"), "9 1/4"),  # 316 / 0.95 = 332.6 in
        (("40", "60", "backing glow"), ("spare 4",), "2 7/8"),  # 2 x 48 + 4 = 100 in
        (("40", "60", "backing glow"), ("spare 0",), "2 3/4"),  # 96 in
    ],
)
def test_backing_is_bought_with_what_is_spare_before_washing(
    size: tuple[str, ...], settings: tuple[str, ...], bought: str
) -> None:
    plan = planned(measuring(*size, settings=settings))
    assert plan.backing_buy is not None, LONGARM
    assert yards(plan.backing_buy) == sum(Fraction(x) for x in bought.split())


def test_one_cloth_may_be_spared_and_washed_in_its_own_way() -> None:
    """Under a fabric stands what holds for it; the others keep to the pattern."""
    size = ("40", "60", "backing glow", "border 4 night", "sleeve 4 night")
    own = planned(plain(*size, settings=("spare 2",), glow="spare 0\n    shrinkage 5%", night="shrinkage 10"))
    usual = planned(plain(*size, settings=("spare 2",)))
    back = own.backing
    assert back is not None and own.backing_buy is not None and usual.backing_buy is not None
    whole = (back.length * back.panels).fraction
    assert own.backing_buy == ((whole / Fraction(95, 100)) / Fraction(9, 2)).__ceil__() * Fraction(9, 2)
    assert usual.backing_buy == ((whole + 2) / Fraction(9, 2)).__ceil__() * Fraction(9, 2)
    night = own.fabrics["night"]
    assert night.used == usual.fabrics["night"].used  # borders and sleeve: the cuts are the same, more is bought
    assert night.buy == (((night.used.fraction + 2) / Fraction(9, 10)) / Fraction(9, 2)).__ceil__() * Fraction(9, 2)


def test_a_claim_for_backing_covers_what_washing_takes() -> None:
    """3 x 104 in, shrinkage 5: 8 3/4 yd = 315 in would do unwashed, and are too little for 328.4 in."""
    assert problems(measuring(*PANELS, settings=("spare 0",), glow="buy 8 3/4 yd")) == []
    said = objection(measuring(*PANELS, settings=("spare 0", "shrinkage 5"), glow="buy 8 3/4 yd"), "buy-short")
    assert "312 in" in said and "Washing takes 5 %" in said and "To buy: 9 1/8 yd" in said
    assert problems(measuring(*PANELS, settings=("spare 0", "shrinkage 5"), glow="buy 9 1/8 yd")) == []


def test_a_claim_for_cuts_covers_what_washing_takes() -> None:
    """Eight 10 1/2 in squares in 2 rows of 21 in: 21 in, 22.1 in before a loss of 5 %."""
    body = "block wall\n    patch night\n    finished 10\nquilt\n    across 2, down 3\n    tile\n        wall\n"
    assert problems(pattern(body, "spare 0", night="buy 21 in")) == []
    said = objection(pattern(body, "spare 0", night="buy 21 in\n    shrinkage 5%"), "buy-short")
    assert "21 in" in said and "22 1/8 in are wanted before it" in said


@pytest.mark.parametrize(
    ("line", "says"), [("shrinkage 3 cm", "percent, not in cm"), ("shrinkage 60", "between 0 and 50 percent")]
)
def test_shrinkage_is_percent(line: str, says: str) -> None:
    body = "block wall\n    patch night\n    finished 10\nquilt\n    across 2, down 2\n    tile\n        wall\n"
    for project in (pattern(body, line), pattern(body, night=line)):
        assert any(says in p.message for p in problems(project))


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_booklet_and_the_proof_sheet_say_what_is_beyond_the_cuts(language: str) -> None:
    project = measuring(*PANELS, settings=("spare 2", "shrinkage 5/2"), glow="spare 3\n    shrinkage 5%")
    wishes = {"language": language, "units": "inches"}
    text = next(iter(patternkit.files(project, formats=("md",), **wishes).values())).decode()  # type: ignore[arg-type]
    point = "," if language == "de" else "."
    assert f"2{point}5 %" in text and "3 in" in text and " 5 %" in text
    sheet = next(iter(patternkit.files(project, formats=("md",), proof=True, **wishes).values())).decode()  # type: ignore[arg-type]
    (row,) = (x for x in sheet.splitlines() if "312 in" in x)
    assert "3 in, 5 %" in row and "9 1/4 yd" in row
