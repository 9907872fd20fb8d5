"""What the writer says is bought is what the booklet prints, wherever it is enough; by size too."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest

from patternkit.checks import run
from patternkit.desk.cutting import cuts_text
from patternkit.desk.cutting_data import cuts_json
from patternkit.project import Project
from patternkit.syntax.format import format_text

from .desk import found, said, settled

WALL = """\
pattern "Wall"
fabric night "Midnight" dark #1b2a49
    buy {night}
fabric glow "Lamp" light #f4c95d

block wall
    row night 4 x 4 | glow 4 x 4

quilt
    across 4, down 4
    tile
        wall
    {line}
{sizes}"""


def wall(night: str, line: str = "", sizes: str = "") -> str:
    """16 squares of 4 1/2 in of night: 9 in of cloth from two strips, 3/8 yd with an inch to spare."""
    text = WALL.format(night=night, line=line, sizes=sizes)
    return "\n".join(x for x in text.split("\n") if x.strip() or not x)


def test_what_is_planned_says_nothing() -> None:
    assert found(wall("3/8 yd")) == []


def test_more_is_advice_with_the_surplus_and_less_a_problem_with_its_causes() -> None:
    more = settled(wall("3/4 yd"), "buy-more")
    assert more.advice and "3/4 yd of Midnight is 3/8 yd more than needed." in more.message
    short = settled(wall("1/8 yd"), "buy-short")
    assert not short.advice and any("take 9 in at a usable width of 40 in" in c for c in short.causes)


def test_exactly_enough_leaves_no_room_for_a_slip() -> None:
    exact = settled(wall("1/4 yd"), "buy-exact")
    assert exact.advice and "no room for a slip" in exact.message
    assert found(wall("1/4 yd\n    spare 0")) == []


def test_the_plan_keeps_to_what_is_said() -> None:
    project = Project("w.pattern", wall("3/4 yd"))
    night = project.plan()[0].fabrics["night"]
    assert night.planned is not None
    assert (night.buy.fraction, night.planned.fraction, night.used.fraction) == (27, Fraction(27, 2), 9)
    short = Project("w.pattern", wall("1/8 yd")).plan()[0].fabrics["night"]
    assert short.planned is None and short.buy.fraction == Fraction(27, 2)


def test_one_amount_covers_the_backing_of_the_same_fabric() -> None:
    """A backing of 40 x 24 in is 24 in of cloth, and 9 in are cut besides: 1 1/8 yd with an inch of each to spare."""
    text = wall("1 1/4 yd", "backing night, overage 3 3/4")
    plan = Project("w.pattern", text).plan()[0]
    assert plan.fabrics["night"].buy == 45 and plan.backing_buy == 0
    assert [p.code for p in found(wall("1/2 yd", "backing night, overage 3 3/4"))] == ["buy-short"]


SIZES = """
sizes
    cot across 4, down 4
        buy night 3/8 yd, glow 3/8 yd
    queen across 8, down 8
        buy night {}
"""


@pytest.mark.parametrize(("amount", "code"), [("1 yd", ""), ("3/4 yd", "buy-short"), ("2 yd", "buy-more")])
def test_amounts_under_a_row_of_sizes(amount: str, code: str) -> None:
    """64 squares of 4 1/2 in, eight from a strip: 36 in."""
    text = wall("3/8 yd", sizes=SIZES.format(amount)).replace("1 yd", "1 1/8 yd")
    problems = run(Project("w.pattern", text), guarded=False)
    assert [(p.code, p.size) for p in problems] == ([(code, "queen")] if code else [])
    for p in problems:
        repair = p.repairs[0]
        assert repair.span is not None and repair.replacement == "night 1 1/8 yd"
        changed = repair.taken(text)
        assert run(Project("w.pattern", changed), guarded=False) == []


def test_each_size_is_printed_with_its_own_amount() -> None:
    text = wall("3/8 yd", sizes=SIZES.format("1 1/2 yd"))
    queen = Project("w.pattern", text).in_size("queen").plan()[0]
    assert queen.fabrics["night"].buy == 54
    assert queen.fabrics["glow"].planned is None


def test_lines_under_a_size_keep_their_form() -> None:
    text = wall("3/8 yd", sizes=SIZES.format("1 1/8 yd"))
    assert "        buy night 3/8 yd, glow 3/8 yd\n" in format_text(text)
    assert format_text(format_text(text)) == format_text(text)


@pytest.mark.parametrize(
    ("line", "code", "words"),
    [
        ("buy dusk 2 yd", "unknown-name", "no fabric called dusk"),
        ("buy night 3/8 yd, night 3 yd", "named-twice", "says twice what is bought of night"),
        ("buy night 2 packs", "out-of-place", "sold by length"),
        ("make wall 3", "wrong-place", "can't stand indented in a row of `sizes`"),
    ],
)
def test_what_can_not_stand_under_a_size(line: str, code: str, words: str) -> None:
    problem = said(wall("3/8 yd", sizes=f"\nsizes\n    cot\n        {line}\n"), code)
    assert words in problem.message


def test_the_plan_as_data_has_both_amounts() -> None:
    project = Project("w.pattern", wall("3/4 yd"))
    data = json.loads(cuts_json(project, project.plan()[0]))
    night, glow = data["fabrics"]
    assert (night["buy"], night["planned"], glow["planned"]) == ("27", "27/2", None)
    assert "3/8 yd more than needed" in cuts_text(project, project.plan()[0])


def test_no_amount_is_called_too_much_while_a_block_cannot_be_read() -> None:
    """What the block takes is missing from every sum: nothing is said of amounts and of pieces until it is read."""
    text = (
        "fabric a\n    buy 2 yd\n    cut 9 squares 10 1/2\nblock one\n    log-cabin a 2\n    round a\n    log 1\n"
        "    logs a 2 x 3, 4 x 5\nquilt\n    across 3, down 3\n    tile\n        one\n"
    )
    assert {p.code for p in run(Project("a.pattern", text))} == {"not-understood"}
