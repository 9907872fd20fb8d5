"""Cloth beside pieces cut along the length: what is cut from it must fit into what is kept."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import msgspec
import pytest

from patternkit.piecing.batch import Thing
from patternkit.piecing.making import Making
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_from
from patternkit.work.model import LaidCloth, LaidStrip, Order
from tests.rehearsal.table import num

replace = msgspec.structs.replace

SHARDS = """
pattern "Shards"
fabric delft
fabric clay
block shard
    rows
        delft | clay
        clay | delft
    finished 6
quilt
    across 6, down 8
    tile
        shard
    border 5 delft, lengthwise
"""


@pytest.fixture(scope="module")
def shards() -> tuple[Order, Mapping[Thing, Making]]:
    """Squares of the same cloth as a border that is cut along it."""
    project = Project("test", SHARDS)
    assert project.top is not None
    worked = order_from(project.pattern, project.quick_plan[0], [(project.top, 1)])
    return worked.order, worked.designs


def test_the_cloth_beside_long_pieces_is_kept_and_cut_up(shards: tuple[Order, Mapping[Thing, Making]]) -> None:
    order, designs = shards
    assert not rehearse(order, designs)
    first = order.layout["delft"].strips[0]
    assert first.kind == "along" and first.keeps is not None
    assert first.keeps.width == num(40) - sum((s.width for s in first.segments), start=num(0))
    inner = [strip for strip in order.layout["delft"].strips if strip.source == first.keeps.label]
    assert inner
    assert sum((s.height * s.count for s in inner), start=num(0)) <= first.keeps.height


def wider(strip: LaidStrip) -> LaidStrip:
    """Keep more than the cloth has beside the long pieces."""
    assert strip.keeps is not None
    return replace(strip, keeps=replace(strip.keeps, width=strip.keeps.width + num(1)))


def shorter(strip: LaidStrip) -> LaidStrip:
    """Keep too little for the strips that are cut from it."""
    assert strip.keeps is not None
    return replace(strip, keeps=replace(strip.keeps, height=num(3)))


def narrower(strip: LaidStrip) -> LaidStrip:
    """Keep cloth in which what lies side by side does not fit."""
    assert strip.keeps is not None
    return replace(strip, keeps=replace(strip.keeps, width=num(6)))


def forgotten(strip: LaidStrip) -> LaidStrip:
    """Keep nothing."""
    return replace(strip, keeps=None)


@pytest.mark.parametrize(
    ("wrong", "kind"), [(wider, "leftover"), (shorter, "leftover"), (narrower, "segments"), (forgotten, "leftover")]
)
def test_what_does_not_fit_into_the_leftover_is_found(
    shards: tuple[Order, Mapping[Thing, Making]], wrong: Callable[[LaidStrip], LaidStrip], kind: str
) -> None:
    order, designs = shards
    first, *others = order.layout["delft"].strips
    cloth = LaidCloth((wrong(first), *others), order.layout["delft"].sheets)
    gaps = rehearse(replace(order, layout={**order.layout, "delft": cloth}), designs)
    assert kind in {gap.kind for gap in gaps}
