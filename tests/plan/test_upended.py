"""Wedges from strip units: as near as they go, and two orders of colours by turns from one strip unit."""

from __future__ import annotations

import msgspec
import pytest

import patternkit
from patternkit.piecing.batch import CutOut
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from tests.published.desk import num, pattern, planned

STALK = """
unit stalk
    strips night 1 | glow 2 | night 1 | stone 2
    finished 6 x 6

unit spire
    slices stalk turned 90
    slice from middle of top to bottom left, glow
    slice from middle of top to bottom right, glow
    finished 6

unit other
    slices stalk turned {turned}
    slice from middle of top to bottom left, glow
    slice from middle of top to bottom right, glow
    finished 6

quilt
    across {across}, down {down}
    tile
        {tile}
"""


def wedges(turned: int, across: int, down: int, tile: str = "spire | other") -> Project:
    return pattern(STALK.format(turned=turned, across=across, down=down, tile=tile), "usable width 42")


def strip_units(project: Project) -> list[tuple[int, int, int]]:
    """Needed, strip units and what the half one gives, of each sort of wedge."""
    found = [c for c in planned(project).counts if c.making.kind == "strip-piece"]
    return [(c.needed, c.batches, c.half) for c in found]


def test_two_orders_of_colours_come_from_one_strip_unit() -> None:
    """24 of each: 10 by turns from each of 5 strip units (3.559 in apart, see the spires of plain cloth); each order by
    itself would take four, 6 from each."""
    project = wedges(270, 8, 6)
    assert strip_units(project) == [(24, 5, 0), (24, 0, 0)]
    assert planned(project).fabrics["stone"].used == num("2 1/2") * 5
    one = wedges(270, 6, 4, "spire")
    assert strip_units(one) == [(24, 4, 0)]


def test_one_order_alone_is_cut_alike() -> None:
    """Both turned the same way: one sort of wedge with its tip on the same strip, nothing to lay between."""
    assert sorted(strip_units(wedges(90, 8, 6))) == [(24, 4, 0), (24, 4, 0)]


@pytest.mark.parametrize(("across", "down", "tile"), [(8, 6, "spire | other"), (9, 3, "spire | other | other")])
def test_what_is_told_comes_out(across: int, down: int, tile: str) -> None:
    """The strip units are sewn and cut on the table: as many of each wedge as are said, none over another."""
    order, designs = order_of(wedges(270, across, down, tile))
    assert rehearse(order, designs) == ()


def test_wedges_told_nearer_than_they_go_lie_over_each_other() -> None:
    order, designs = order_of(wedges(270, 8, 6))
    (step,) = (s for s in order.steps if any(isinstance(a, CutOut) for b, _ in s.batches for a in b.actions))
    batch, times = step.batches[0]
    (cut,) = (a for a in batch.actions if isinstance(a, CutOut))
    for wrong in (
        msgspec.structs.replace(cut, pitch=cut.pitch - num("1/2")),
        msgspec.structs.replace(cut, between=msgspec.structs.replace(cut.between, after=num(1))),
    ):
        passages = tuple(
            msgspec.structs.replace(p, actions=tuple(wrong if a == cut else a for a in p.actions))
            for p in batch.passages
        )
        told = msgspec.structs.replace(batch, passages=passages)
        new = msgspec.structs.replace(step, batches=((told, times), *step.batches[1:]))
        steps = tuple(new if s is step else s for s in order.steps)
        gaps = rehearse(msgspec.structs.replace(order, steps=steps), designs)
        assert "over" in {gap.kind for gap in gaps}


def test_the_booklet_tells_both() -> None:
    text = next(iter(patternkit.files(wedges(270, 8, 6), formats=("md",)).values())).decode()
    assert "from 4 strip units each 5 of" in text and "from 1 strip unit 4 of" in text
    assert "were cut by the template for other, piece 1 in step 1, between those of spire, piece 1" in text


def test_slanted_pieces_lie_one_pitch_apart() -> None:
    """Parallelograms from a strip unit: the first takes its length, each other one its slanted side along the strips:
    10 from 42 in less half an inch, where boxes would give 6."""
    body = """
    unit rain
        strips night 1 | glow 1 | night 1 | glow 1 | night 1 | glow 1
        finished 6 x 6
    block slant
        slices rain turned 90
        slice from top left to middle of bottom, stone
        slice from middle of top to bottom right, stone
        finished 6
    quilt
        across 5, down 2
        tile
            slant
    """
    (made,) = [c for c in planned(pattern(body, "usable width 42")).counts if c.making.kind == "strip-piece"]
    assert (made.yields, made.batches) == (10, 1)
