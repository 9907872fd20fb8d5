"""Segments of strip units whose strips are moved on. Every number is derived here."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternkit import api
from patternkit.lengths import Length
from patternkit.piecing.making import Cloth, Making
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of

EXAMPLE = Path(__file__).parents[2] / "examples" / "traditional" / "stepped-rows.pattern"
HEAD = """fabric a dark
fabric b medium
fabric c light
unit step(w)
    strips a 1 | b 2 > c 3
    finished 6 x w
"""
QUILT = """
quilt
    across 2, down 2
    tile
        wave
"""


def project(text: str) -> Project:
    """A pattern with these lines."""
    return Project("t.pattern", HEAD + text + QUILT)


def shown(making: Making) -> list[tuple[str, Length]]:
    """The strips from left to right, with what they show."""
    found = []
    for p in making.parts:
        assert isinstance(p.what, Cloth)
        xs = [x for x, _ in p.place.outline(p.what.outline)]
        found.append((min(xs), p.what.fabric, max(xs) - min(xs)))
    return [(fabric, wide) for _, fabric, wide in sorted(found)]


@pytest.mark.parametrize(("by", "order"), [(1, "bca"), (2, "cab")])
def test_the_first_strips_come_last(by: int, order: str) -> None:
    made = project(f"block wave\n    column step(2) | step(1 1/2) shifted {by}").makings
    moved = made[f"step(1 1/2) shifted {by}"]
    wide = {"a": Length(1), "b": Length(2), "c": Length(3)}
    assert shown(moved) == [(f, wide[f]) for f in order]
    assert (moved.width, moved.height) == (Length(6), Length(3) / 2)
    pressed = {tuple(sorted((s.left[-1], s.right[0]))): s.stated is not None for s in moved.seams}
    assert sum(pressed.values()) == (by == 1)  # the mark between b and c goes with them, where the seam is not opened


def test_sizes_are_those_of_the_unit_as_it_is_described() -> None:
    text = "unit bar\n    strips a | b | c\nblock wave\n    column bar | bar shifted 1 | bar shifted 2\n"
    made = project(text + "    finished 6 x 6\n").makings
    assert {shown(made[k])[0][1] for k in ("bar", "bar shifted 1", "bar shifted 2")} == {Length(2)}
    assert made["bar shifted 2"].height == Length(2)


def test_orders_hold() -> None:
    made = project(
        "block wave\n    column step(2) | step(1) shifted 1 | step(3) shifted 2 mirrored | step(2) shifted 1"
    )
    assert [p.message for p in api.check(made) if not p.advice] == []
    order, designs = order_of(made)
    assert rehearse(order, designs) == ()


def test_what_cannot_be_shifted() -> None:
    wrong = project("block wave\n    rows\n        step(2) shifted 3\n        a 6 x 2 shifted 1\n")
    found = [p.code for p in api.check(wrong) if not p.advice]
    assert found == ["out-of-place", "out-of-place"]


def test_how_many_are_made_counts_all_of_a_unit() -> None:
    text = "unit bar\n    strips a 1 | b 2 | c 3\n    finished 2 high\n    make 12\n"
    made = project(text + "block wave\n    column bar | bar shifted 1 | bar shifted 2\n")
    assert [p.message for p in api.check(made) if not p.advice] == []


def test_what_a_booklet_says() -> None:
    made = api.load(EXAMPLE)
    assert made.makings["swell"].width == Length(25) / 2
    text = api.files(made, formats=("md",))["stepped-rows.md"].decode()
    assert "Step 1 1/2 moved on by 2 strips: make 24" in text
    german = api.files(made, formats=("md",), language="de")["stepped-rows.md"].decode()
    assert "um 2 Streifen versetzt" in german
