"""Log cabins and courthouse steps against printed lengths and the sewing simulation."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.piecing.kinds.log_cabin import LogWidth
from patternkit.piecing.making import Making
from tests.kinds.sewing import covers
from tests.kinds_more.piecing_by_shape import wrong_with
from tests.kinds_more.test_slices import INCHES, SEAMS
from tests.kinds_more.written import made, problems_of


def lengths(unit: Making) -> list[Fraction]:
    return [max(c.width, c.height).fraction for c in unit.recipe.cuts if c.name is not None and c.name.what == "log"]


def f(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))


def test_three_rounds_as_printed() -> None:
    """Centre cut 3, strips 1 3/4, three rounds, block 10 1/2 raw:
    https://brunswickquilters.com/give-back/patterns/habitat-log-cabin-block/
    """
    unit = made(
        """
block cabin
    log-cabin sea cut 3
    round glow, glow, night, night
    log cut 1 3/4
    rounds 3
    measures 10 1/2
""",
        "cabin",
    )
    printed = "3, 4 1/4, 4 1/4, 5 1/2, 5 1/2, 6 3/4, 6 3/4, 8, 8, 9 1/4, 9 1/4, 10 1/2"
    assert lengths(unit) == [f(t) for t in printed.split(",")]
    assert unit.width == 10 and {min(c.width, c.height) for c in unit.recipe.cuts[1:]} == {f("1 3/4")}
    assert wrong_with(unit, 0.25) == ""


def test_first_logs_as_printed() -> None:
    """Centre and strips cut 1 1/2: https://sites.google.com/site/craftinbla/quilting/log-cabin-block"""
    unit = made(
        """
block cabin
    log-cabin sea cut 1 1/2
    round glow, night
    rounds 2
    log 1
""",
        "cabin",
    )
    assert lengths(unit)[:6] == [f(t) for t in ["1 1/2", " 2 1/2", " 2 1/2", " 3 1/2", " 3 1/2", " 4 1/2"]]


def test_log_widths_follow_from_the_block() -> None:
    unit = made(
        """
block cabin
    courthouse-steps sea 2
    round glow, night
    rounds 2
    finished 8
""",
        "cabin",
    )
    assert unit.recipe.numbers == LogWidth(f("1 1/2"))
    assert lengths(unit) == [
        f(t) for t in ["2 1/2", " 2 1/2", " 5 1/2", " 5 1/2", " 5 1/2", " 5 1/2", " 8 1/2", " 8 1/2"]
    ]
    sides = [(float(p.what.outline[0][0]), float(p.what.outline[0][1])) for p in unit.parts[1:5]]  # type: ignore[union-attr]
    assert sides == [(1.5, 3), (5, 3), (1.5, 1.5), (1.5, 5)]  # left, right, top, bottom


@settings(max_examples=20, deadline=None)
@given(
    st.lists(
        st.tuples(st.sampled_from(["glow", "night", "sky"]), st.sampled_from(["3/4", "1", "1 1/4", "2"])),
        min_size=1,
        max_size=9,
    ),
    st.sampled_from(["top", "right", "bottom", "left"]),
    st.sampled_from(["log-cabin", "courthouse-steps"]),
    st.booleans(),
    st.booleans(),
    st.sampled_from(SEAMS),
)
def test_any_logs_round_any_centre(
    logs: list[tuple[str, str]], start: str, kind: str, other_way: bool, paper: bool, seam: str
) -> None:
    way = "    counterclockwise\n" if other_way and kind == "log-cabin" else ""
    method = "    method foundation\n" if paper else ""
    unit = made(
        f"\nblock logs-a\n    {kind} sea 2 x 3\n    logs {', '.join(' '.join(log) for log in logs)}\n"
        f"    start {start}\n{way}{method}",
        "logs-a",
        seam,
    )
    assert covers(unit) == ""
    assert wrong_with(unit, INCHES[seam], 0.25 if paper else None) == ""
    first = unit.parts[1].what.outline  # type: ignore[union-attr]
    centre = unit.parts[0].place.dx, unit.parts[0].place.dy
    beside = {
        "top": first[2][1] == centre[1],
        "left": first[1][0] == centre[0],
        "right": first[0][0] == centre[0] + 2,
        "bottom": first[0][1] == centre[1] + 3,
    }
    assert beside[start]


def test_a_unit_as_centre() -> None:
    unit = made(
        """
unit heart
    half-square sea, sky
    finished 3

block cabin
    log-cabin heart turned 90
    round glow, night
    log 1
""",
        "cabin",
    )
    assert covers(unit) == "" and unit.width == 5


@pytest.mark.parametrize(
    "lines, code, words",
    [
        ("round glow, night, sky", "not-understood", "four logs"),
        ("round glow, nihgt", "not-understood", "not a fabric"),
        ("rounds 2", "wrong-pieces", "no logs"),
        ("logs glow\n    log", "not-understood", "one width"),
        ("logs glow 1\n    start middle", "not-understood", "start is followed by"),
        ("logs glow 1\n    rounds half", "not-understood", "whole number"),
    ],
)
def test_what_makes_no_sense_is_said(lines: str, code: str, words: str) -> None:
    found = problems_of(f"\nblock cabin\n    log-cabin sea 2\n    {lines}\n")
    assert code in [p.code for p in found], [p.message for p in found]
    assert any(words in p.message for p in found)


@pytest.mark.parametrize("kind", ["log-cabin", "courthouse-steps"])
def test_how_much_more_is_cut_for_paper_is_said(kind: str) -> None:
    text = f"\nblock cabin\n    {kind} sea 2\n    round glow, night\n    log 1\n    rounds 1\n"
    paper = f"{text}    method foundation\n"
    (usual,), (more,) = (
        [c for c in made(paper + line, "cabin").recipe.cuts if c.fabric == "sea"] for line in ("", "    extra 1/2\n")
    )
    assert (usual.width, more.width) == (3, f("3 1/2"))  # 2 in, two seams, and 1/4 or 1/2 in on both sides
    assert [p.code for p in problems_of(text + "    extra 1/2\n")] == ["out-of-place"]
    assert [p.code for p in problems_of(paper + "    extra 1/2, 1/4\n")] == ["not-understood"]
