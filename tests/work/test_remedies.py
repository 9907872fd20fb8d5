"""Remedies: pieces beside what is off, along the line in which it is off, by lines of the ruler; all tried."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from patternkit import api
from patternkit.piecing.batch import Piece, Thing
from patternkit.piecing.making import Making
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from patternkit.work.model import Mend, Order

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted(p for p in (ROOT / "examples").glob("**/*.pattern") if "wrong" not in p.name)
HEAD = """pattern "Ribs"
    units inches
    seam 1/4
    usable width 42
fabric kelp "Kelp" dark
fabric milk "Milk" light
"""
RIB = "unit rib\n    strips (kelp 1/2 | milk 1/2 |) 3 times kelp 1/2\n    finished 3 1/2 x 4\n"
TALL = """unit rib
    strips (kelp 1 | milk 1 |) 5 times kelp 1
    finished 11 x 3
block banner
    column milk 11 x 2 | rib | milk 11 x 2
quilt
    across 2, down 3
    tile
        banner
"""


def worked(text: str) -> tuple[Order, dict[Thing, Making]]:
    return order_of(Project("ribs.pattern", HEAD + text))


def mends(order: Order, key: str = "rib") -> list[Mend]:
    return [m for s in order.steps for m in s.remedies if str(m.of) == key]


def test_what_is_missing_in_a_row_is_what_its_pieces_gain() -> None:
    order, designs = worked(RIB + "quilt\n    layout\n        rib | milk 3 | rib | milk 3 | rib\n")
    ends, beside = mends(order)
    assert ends.within == ends.of and ends.axis == "w"
    ((piece, n, by),) = beside.changes
    assert (piece.fabric, n, beside.line) == ("milk", 2, (3, 2))
    assert by * 2 == beside.missing == beside.error * 3
    assert not [g for g in rehearse(order, designs) if g.kind == "remedy"]


def test_no_piece_above_or_below_mends_a_width() -> None:
    """Ribs eleven inches wide between strips above and below: cutting those wider would help nothing."""
    order, designs = worked(TALL)
    assert [m.within for m in mends(order)] == [m.of for m in mends(order)]
    assert not [g for g in rehearse(order, designs) if g.kind == "remedy"]


def test_no_remedy_where_pieces_cut_alike_would_then_differ() -> None:
    """The plain square beside one rib lies in the next row too, where nothing is off."""
    text = RIB.replace("x 4", "x 3 1/2") + (
        "block two\n    rows\n        rib | milk 3 1/2\n        milk 3 1/2 | milk 3 1/2\n"
        "quilt\n    across 1, down 2\n    tile\n        two\n"
    )
    order, _ = worked(text)
    assert all(m.within == m.of for m in mends(order))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_remedies_of_the_examples_meet_both_ways(path: Path) -> None:
    order, designs = order_of(api.load(path))
    for step in order.steps:
        for mend in step.remedies:
            for piece, n, by in mend.changes:
                assert isinstance(piece, Piece) and n > 0
                assert by.on_grid(order.ruler.fraction) and by > 0 and by * 2 <= order.seam
            assert mend.missing == mend.changes[0][2] * mend.line[1]
    assert not [g for g in rehearse(order, designs) if g.kind == "remedy"]


@pytest.mark.parametrize("own", [True, False])
@pytest.mark.parametrize("factor", [2, 3])
def test_a_remedy_whose_sum_does_not_meet_is_found_by_sewing(own: bool, factor: int) -> None:
    order, designs = worked(RIB + "quilt\n    layout\n        rib | milk 3 | rib | milk 3 | rib\n")
    steps = list(order.steps)
    n = next(n for n, s in enumerate(steps) if s.remedies)
    mend = next(m for m in steps[n].remedies if (m.within == m.of) == own)
    wrong = msgspec.structs.replace(mend, error=mend.error * factor)
    steps[n] = msgspec.structs.replace(steps[n], remedies=(wrong,))
    kinds = [g.kind for g in rehearse(msgspec.structs.replace(order, steps=tuple(steps)), designs)]
    assert "remedy" in kinds
