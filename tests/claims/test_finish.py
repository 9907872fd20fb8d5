"""Claims of finishing lines: strips, lengths, sizes."""

from __future__ import annotations

import pytest

from .desk import found, said, settled

WALL = """\
fabric night "Midnight" dark #1b2a49
fabric glow "Lamp" light #f4c95d

block wall
    row glow 5 x 10 | night 5 x 10

quilt
    across {across}, down {down}
    tile
        wall
    {line}
"""


def wall(line: str, across: int = 4, down: int = 5) -> str:
    """40 x 50 in and a line."""
    return WALL.format(line=line, across=across, down=down)


@pytest.mark.parametrize(
    "line",
    [
        "border 2 night, strips 5",
        "border 2 night, 5 strips",
        "border 2 night, sides cut 50 1/2, top cut 44 1/2",
        "border 2 night, top first, sides cut 54 1/2, top cut 40 1/2",
        "border 2 night, lengthwise, strips 4",
        "sashing 2 night, cornerstones glow, strips 17",
        "binding cut 2 1/4 night, strips 6",
        "sleeve 4 night, strips 1",
        "backing night, measures 48 x 58",
        "backing night, measures 48 1/2 x 58 1/2, 2 panels",
        "batting cut 46 x 56",
        "batting cut 46 x 56, overage 3",
    ],
)
def test_right_claims_say_nothing(line: str) -> None:
    assert found(wall(line)) == []


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("border 2 night, strips 4", "border 1 takes 5 strips; 4 are too few"),
        ("border 2 night, 4 strips", "border 1 takes 5 strips; 4 are too few"),
        ("border 2 night, sides cut 50", "sides of border 1 are cut 50 1/2 in long; 50 in is 1/2 in too short"),
        ("border 2 night, top cut 44", "top and bottom of border 1 are cut 44 1/2 in long; 44 in is 1/2 in too short"),
        ("border 2 night, lengthwise, strips 3", "takes 4 strips; 3 are too few"),
        ("sashing 2 night, cornerstones glow, strips 10", "sashing takes"),
        ("binding cut 2 1/4 night, strips 4", "binding takes 6 strips; 4 are too few"),
        ("backing night, measures 39 x 58", "is smaller than the top"),
        ("backing night, overage 4, measures 47 x 58", "leaves less than the overage"),
        ("batting cut 38 x 56", "is smaller than the top"),
        ("batting cut 45 x 56, overage 3", "leaves less than the overage"),
    ],
)
def test_too_little_is_a_problem_with_an_offer_that_works(line: str, words: str) -> None:
    problem = settled(wall(line), "finish-differs")
    assert words in problem.message and not problem.advice


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("border 2 night, strips 6", "1 more than it needs"),
        ("border 2 night, sides cut 51", "51 in is 1/2 in more"),
        ("binding cut 2 1/4 night, strips 7", "1 more than it needs"),
        ("sleeve 4 night, strips 2", "sleeve takes 1 strip; 2 are"),
        ("backing night, measures 48 x 58, panels 3", "1 more than it needs"),
        ("backing night, measures 50 x 60", "2 in more than wanted"),
        ("backing night, measures 44 x 54", "leaves 2 in on a side, and 4 in are usual"),
        ("batting cut 50 x 60", "3 1/2 in more than wanted"),
    ],
)
def test_more_than_needed_is_advice(line: str, words: str) -> None:
    problem = settled(wall(line), "finish-differs")
    assert words in problem.message and problem.advice


def test_strips_of_a_border_may_be_joined_or_not() -> None:
    """Four sides of 30 in: one from each strip, or all of them from four joined ones, of which three are enough."""
    assert found(wall("border 2 night, strips 4", 3, 3)) == []
    assert found(wall("border 2 night, strips 4", 3, 3).replace("border 2", "border 2 1/2")) == []
    assert "too few" in said(wall("border 2 night, strips 3", 3, 3), "finish-differs").message


def test_two_borders_count_for_themselves() -> None:
    two = "border 2 night, strips 5\n    border 2 night, strips {}"
    assert found(wall(two.format(6))) == []
    assert "border 2 takes" in said(wall(two.format(5)), "finish-differs").message


def test_a_border_of_units_has_no_strips() -> None:
    pieced = wall("border post, strips 5").replace("quilt\n", "unit post\n    row night 1 x 2 | glow 1 x 2\n\nquilt\n")
    assert "sewn from its own pieces" in said(pieced, "finish-differs").message
