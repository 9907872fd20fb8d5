"""Claims of pieces: under a fabric all that are cut of it, under a unit those for one."""

from __future__ import annotations

import pytest

from .desk import found, said, settled, star


@pytest.mark.parametrize(
    "claim",
    [
        "cut 64 of 2 1/2",
        "cut 64 squares 2 1/2",
        "cut 64 of 2 1/2 x 2 1/2",
        "cut 64 pieces of 2 1/2",
        "cut 64 squares 2 1/2, 16 squares 4 1/2",
        "cut 40 of 2 1/2\n    cut 24 of 2 1/2",
    ],
)
def test_right_counts_say_nothing(claim: str) -> None:
    assert found(star(night=claim)) == []


def test_either_side_may_stand_first() -> None:
    assert found(star(glow="cut 64 of 2 1/2 x 4 1/2")) == found(star(glow="cut 64 of 4 1/2 x 2 1/2")) == []


def test_too_few_are_a_problem_and_too_many_are_advice() -> None:
    short = settled(star(night="cut 60 of 2 1/2"), "pieces-differ")
    assert not short.advice and "60 of 2 1/2 in of Midnight are too few: 64 are needed" in short.message
    assert "64 are cut for star." in short.causes
    more = settled(star(night="cut 65 of 2 1/2"), "pieces-more")
    assert more.advice and "1 more than are needed" in more.message


def test_several_lines_of_one_size_add_up() -> None:
    short = said(star(night="cut 40 of 2 1/2\n    cut 20 of 2 1/2"), "pieces-differ")
    assert "60 of 2 1/2" in short.message and len(short.labels) == 1 and short.repairs == ()


def test_a_size_that_nothing_is_cut() -> None:
    problem = settled(star(glow="cut 64 of 2 1/4 x 4 1/2"), "pieces-differ")
    assert "Nothing of Lamp is cut 2 1/4 x 4 1/2 in" in problem.message
    assert "64 of 2 1/2 x 4 1/2 in are cut for star." in problem.causes


def test_for_one_unit_the_fabric_stands_behind() -> None:
    assert found(star(star="cut 4 of 2 1/2 night, 1 of 4 1/2 night\n    cut 4 of 2 1/2 x 4 1/2 glow")) == []
    assert found(star(star="cut 4 of 2 1/2, 1 of 4 1/2 night")) == []
    short = settled(star(star="cut 3 of 2 1/2 night"), "pieces-differ")
    assert "too few for one star: 4 are needed" in short.message
    assert settled(star(star="cut 5 of 2 1/2 night"), "pieces-more").advice
    assert "which fabric" in said(star(star="cut 4 of 2 1/2"), "not-understood").message


TRIANGLES = """\
fabric night "Midnight" dark #1b2a49
    {night}
fabric glow "Lamp" light #f4c95d

unit pane
    half-square night, glow
    finished 3
    method {method}

block pinwheel
    rows
        pane | pane turned 90
        pane turned 270 | pane turned 180
    {block}

quilt
    across 3, down 4
    tile
        pinwheel
"""


def triangles(night: str = "", method: str = "from triangles", block: str = "") -> str:
    text = TRIANGLES.format(night=night, method=method, block=block)
    return "\n".join(line for line in text.split("\n") if line.strip() or not line)


def test_corner_to_corner() -> None:
    """48 half-squares: 24 squares of 3 7/8 in cut once, or 24 that are sewn in pairs."""
    assert found(triangles("cut 24 squares 3 7/8, once")) == []
    assert found(triangles("cut 24 squares 3 7/8 cut once on the diagonal")) == []
    assert found(triangles("cut 24 squares 3 7/8")) == []
    twice = said(triangles("cut 24 squares 3 7/8, twice"), "pieces-differ")
    assert "and then twice corner to corner" in twice.message and "corner to corner once" in twice.causes[0]
    pairs = said(triangles("cut 24 squares 3 7/8, once", method="two at a time"), "pieces-differ")
    assert "sewn as they are cut" in pairs.causes[0]
    assert found(triangles("cut 24 squares 3 7/8", method="two at a time")) == []


def test_the_share_of_one_block() -> None:
    """Four half-squares of a block take two squares; eight at a time the quilt's share is half a square, and a block by
    itself takes one."""
    assert found(triangles(block="cut 2 of 3 7/8 night", method="two at a time")) == []
    assert found(triangles(block="cut 1 of 7 3/4 night", method="eight at a time")) == []


def test_from_each_sheet() -> None:
    sheets = "sold as fat-quarters\n    buy 2\n    cut {} of 3 7/8 from each"
    assert found(triangles(sheets.format(12))) == []
    short = said(triangles(sheets.format(11)), "pieces-differ")
    assert "22 of 3 7/8 in of Midnight are too few: 24 are needed" in short.message
    assert "2 sheets with 11 from each give 22." in short.causes


def test_plain_numbers_speak_of_the_pattern_as_written() -> None:
    assert found(star(night="cut 64 of 2 1/2") + "\nsizes\n    wide across 8\n    throw\n") == []


def test_a_name_may_stand_for_a_number() -> None:
    text = star(night="cut pieces-wanted of edge").replace(
        "fabric night", "let edge = 2 1/2\nlet pieces-wanted = 64\nfabric night"
    )
    assert found(text) == []


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        (star(night="cut 0 of 2 1/2"), "not-a-count", "at least 1"),
        (star(night="cut 2 1/2 of 2 1/2"), "not-a-count", "whole number"),
        (star(night="cut 3 squares 2 x 3"), "not-understood", "A square has one length"),
        (star(night="cut 3 strips 2 x 40"), "not-understood", "A strip is as long as the cloth is wide"),
        (star(night="cut 3 strips 2, twice"), "not-understood", "Strips are not cut corner to corner"),
        (star(night="cut 3 of 2 glow"), "out-of-place", "stands what is cut of night"),
        (star(star="cut 3 of 2 1/2 gold"), "unknown-name", "fabric called gold"),
        (star(star="cut 4 of 2 1/2 night from each"), "out-of-place", "from each says nothing"),
    ],
)
def test_what_can_not_be_meant(text: str, code: str, words: str) -> None:
    assert words in said(text, code).message
