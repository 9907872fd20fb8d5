"""Segments of strip units whose strips are moved on. Every number is derived here."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from patternkit import api
from patternkit.lengths import Length
from patternkit.piecing.batch import OPEN, Action, CutAcross, Edge, OpenRing
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


TUBE = "    method tube\n"


def test_all_orders_come_from_one_sort_of_tube() -> None:
    """Rings of 16 segments, 32 in and squaring up in all, come from one tube, where three strip units were sewn."""
    block = "block wave\n    column step(2) | step(1 1/2) shifted 1 | step(1) shifted 2 | step(1 1/2) shifted 1"
    found = []
    for method in ("", TUBE):
        made = Project("t.pattern", HEAD + method + block + QUILT)
        assert [p.message for p in api.check(made) if not p.advice] == []
        order, designs = order_of(made)
        assert rehearse(order, designs) == ()
        steps = [s for s in order.steps if any(isinstance(a, CutAcross) for b, _ in s.batches for a in b.actions)]
        found.append((len(steps), sum(times for s in steps for _, times in s.batches)))
    assert found == [(3, 3), (1, 1)]
    batch = steps[0].batches[0][0]
    assert [(a.left.part, a.right.part) for a in batch.actions if isinstance(a, OpenRing)] == [(2, 0), (0, 1), (1, 2)]
    assert [n for _, n in batch.gives] == [4, 8, 4]


@pytest.mark.parametrize("wrong", ["one seam on", "pressed open", "left out"])
def test_a_rehearsal_notices_rings_that_are_opened_otherwise(wrong: str) -> None:
    made = Project("t.pattern", HEAD + TUBE + "block wave\n    column step(2) | step(2) shifted 1" + QUILT)
    order, designs = order_of(made)
    batch = next(b for s in order.steps for b, _ in s.batches if any(isinstance(a, OpenRing) for a in b.actions))
    ring = next(a for a in batch.actions if isinstance(a, OpenRing))
    others: dict[str, list[Action]] = {
        "one seam on": [msgspec.structs.replace(ring, left=Edge(0, 2), right=Edge(1, 0))],
        "pressed open": [msgspec.structs.replace(ring, toward=(OPEN, OPEN))],
        "left out": [],
    }
    passages = tuple(
        msgspec.structs.replace(p, actions=tuple(x for a in p.actions for x in (others[wrong] if a == ring else [a])))
        for p in batch.passages
    )
    new = msgspec.structs.replace(batch, passages=passages)
    steps = tuple(
        msgspec.structs.replace(s, batches=tuple((new if b is batch else b, n) for b, n in s.batches))
        for s in order.steps
    )
    assert rehearse(msgspec.structs.replace(order, steps=steps), designs)


def test_a_tube_is_not_cut_on_the_slant() -> None:
    head = HEAD.replace("finished 6 x w", "slant 45\n    cut w")
    wrong = Project("t.pattern", head + TUBE + "block wave\n    row step(2)" + QUILT)
    assert any("rings of a tube, and pairs, are cut straight across" in p.message for p in api.check(wrong))


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
