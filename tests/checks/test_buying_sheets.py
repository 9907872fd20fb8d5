"""How many sheets, or packs of them, a file tells people to buy: what a number means, and whether it is enough."""

from __future__ import annotations

import pytest

import patternkit
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.syntax.format import format_text

STRIPS = """fabric roll
    sold as strips 2 1/2 x 42{pack}
    {buy}
fabric red
block bar
    column roll cut 8 1/2 x 2 1/2 | red 8 x 2
quilt
    across 12, down 12
    tile
        bar
"""
PACK = ", 40 to a pack"


def told(buy: str, pack: str = PACK) -> list[Problem]:
    return patternkit.check(Project("roll.pattern", STRIPS.format(buy=buy, pack=pack)))


@pytest.mark.parametrize(
    ("buy", "pack", "code"),
    [
        ("buy 1", PACK, None),
        ("buy 1 pack", PACK, None),
        ("buy 2 packs", PACK, "buy-more"),
        ("buy 36 strips", PACK, None),
        ("buy 36", "", None),
        ("buy 36 strips", "", None),
        ("buy 40 strips", PACK, None),
        ("buy 37 strips", "", "buy-more"),
        ("buy 29", PACK, "buy-more"),
        ("buy 29 packs", PACK, "buy-more"),
        ("buy 100 strips", PACK, "buy-more"),
        ("buy 73 strips", "", "buy-more"),
        ("buy 29 strips", PACK, "buy-short"),
        ("buy 29", "", "buy-short"),
        ("buy 0 packs", PACK, "buy-short"),
        ("buy 1 square", PACK, "out-of-place"),
        ("have 10\n    buy 26 strips", PACK, None),
        ("have 10\n    buy 25 strips", PACK, "buy-short"),
    ],
)
def test_a_number_of_packs_or_of_sheets(buy: str, pack: str, code: str | None) -> None:
    """36 strips are cut: 144 pieces of 8 1/2 in, four from each strip of 42 in."""
    assert [p.code for p in told(buy, pack)] == ([code] if code else [])


def test_a_bare_number_is_said_to_be_one_of_packs() -> None:
    """29 packs of 40 are 1,160 strips for 36; both ways of writing what was meant are offered, and both hold."""
    (advice,) = told("buy 29")
    assert advice.advice and "29 packs of 40 strips" in advice.message and "1,160" in advice.message
    text = STRIPS.format(buy="buy 29", pack=PACK)
    offers = [r for r in advice.repairs if r.span is not None and r.replacement is not None]
    assert [r.replacement for r in offers] == ["buy 1", "buy 36 strips"]
    for offer in offers:
        assert offer.span is not None and offer.replacement is not None
        mended = offer.taken(text)
        assert patternkit.check(Project("roll.pattern", mended)) == []


def test_forty_squares_are_offered_where_forty_packs_stand() -> None:
    text = (
        "fabric charm\n    sold as squares 5 x 5, 42 to a pack\n    buy 40\n"
        "block q\n    patch charm cut 5\nquilt\n    across 6, down 6\n    tile\n        q\n"
    )
    (advice,) = patternkit.check(Project("charm.pattern", text))
    assert "40 packs of 42 squares" in advice.message and "1,680" in advice.message
    assert [r.replacement for r in advice.repairs] == ["buy 1", "buy 40 squares"]


def test_sheets_are_not_claimed_of_cloth_by_length() -> None:
    text = STRIPS.format(buy="buy 36 strips", pack="").replace("sold as strips 2 1/2 x 42", "sold by 1/4 yd")
    (problem,) = (p for p in patternkit.check(Project("roll.pattern", text)) if not p.advice)
    assert problem.code == "out-of-place" and "sold by length, and not in strips" in problem.message


BOUGHT = ("buy 3 fat quarters", "buy 1 fat-quarter", "buy 12 squares", "buy 2 packs", "buy 1 roll")


@pytest.mark.parametrize("line", BOUGHT)
def test_words_behind_the_number_stay_as_they_are_written(line: str) -> None:
    text = f"fabric roll\n    {line}\n"
    assert format_text(text) == text
