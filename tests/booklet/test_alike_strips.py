"""Strips that a cutter cannot tell apart are one in the order's layout, and nothing is lost by it."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from patternkit.booklet.content.cloth import cloth_cut, cutting_table, fabric_cuts
from patternkit.booklet.content.context import context
from patternkit.booklet.content.uses import for_what, use_of
from patternkit.document import Bullets
from patternkit.drawing import audit
from patternkit.drawing.cuts import cuts_scene
from patternkit.work.model import CutByTemplate, CutStrips
from tests.work.test_batches_slices import EIGHT

from .conftest import EXAMPLES, text_project, told

NAMES = pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)


@NAMES
def test_the_layout_gives_all_that_is_cut_from_the_same_cloth(path: Path) -> None:
    """Counted by what each is, and what for; strips are as high in all as in the plan that was proved."""
    ctx = told(path)
    for key, cloth in ctx.order.layout.items():
        given: Counter[object] = Counter()
        for times, strips in [(1, cloth.strips), *((s.count, s.strips) for s in cloth.sheets)]:
            for strip in strips:
                for p in strip.pieces:
                    given[ctx.order.cutting[p.cutting].use] += p.number * strip.count * times  # type: ignore[union-attr]
        wanted: Counter[object] = Counter()
        plan = ctx.plan.fabrics[key]
        for line, x in zip(ctx.plan.lines, ctx.order.cutting, strict=False):
            if ctx.pattern.fabrics[line.fabric].cloth == key:
                wanted[use_of(x)] += line.runs if isinstance(x, CutByTemplate) and x.each else line.count
        assert given == wanted, key
        high = sum((s.height * s.count for s in cloth.strips if not s.source), start=ctx.seam * 0)
        assert high == sum(s.height * s.copies for s in plan.plan.strips if not s.source) / plan.scale


@NAMES
def test_no_two_rows_of_a_cutting_table_are_alike(path: Path) -> None:
    ctx = told(path)
    for key, cloth in ctx.order.layout.items():
        if cloth.strips:
            rows = [
                # all but how many strips and how many pieces in all
                (row[0].partition(", ")[2], row[1], re.sub(r"\d+", "", row[2]), row[3])
                for row in cutting_table(key, ctx).rows
            ]
            assert len(set(rows)) == len(rows)


@NAMES
def test_what_is_cut_lies_in_its_strip_in_the_size_that_is_named(path: Path) -> None:
    """Upright or on its side; a halved rectangle just as it is named, for its diagonal's sake."""
    ctx, met = told(path), 0
    for cloth in ctx.order.layout.values():
        for strip in cloth.strips:
            for high, p in [(row.height, p) for segment in strip.segments for row in segment.rows for p in row.pieces]:
                x = ctx.order.cutting[p.cutting]
                if isinstance(x, CutStrips) or strip.kind == "full":
                    continue
                assert p.lies == p.size or (p.lies == p.size[::-1] and not p.leans), for_what(use_of(x), ctx)
                assert p.lies[1] == (p.trimmed or high)
                met += 1
    assert met


WHEEL = f"""pattern "Wheel"
    units cm
    seam 0.75
    ruler 0.5
fabric a
fabric b
fabric c
fabric d
let s = 24
let k = s / (2 + root(2))
{EIGHT}quilt
    across 2, down 3
    setting on point d
    tile
        fan
    border 4 a
"""


def test_a_drawing_shows_the_strips_of_its_table() -> None:
    ctx = told(next(p for p in EXAMPLES if p.stem == "courthouse-steps"))
    drawn = cloth_cut("chalk", ctx)
    shown, listed = Counter[str](), Counter[str]()
    for strip in drawn.strips:
        shown[ctx.phrases.length(strip.height)] += strip.copies
    for first, *_ in cutting_table("chalk", ctx).rows:  # the last strip, which gives fewer, is drawn by itself
        number, height = re.fullmatch(r"(\d+) strips?, (.*) high", first).groups()  # type: ignore[union-attr]
        listed[height] += int(number)
    assert shown == listed and len(drawn.strips) > len(cutting_table("chalk", ctx).rows)
    # two logs of one size from one strip are one run of pieces in it
    assert all(len({(p.label, p.width, p.height) for p in s.pieces}) == len(s.pieces) for s in drawn.strips)
    assert audit(cuts_scene(drawn, ctx.swatches)) == []


def test_wedges_of_one_template_lie_side_by_side_whichever_way_each_is_drawn() -> None:
    """Eight blocks take one wedge of a fabric each, and two of another that are drawn turned against each other."""
    project = text_project(WHEEL)
    told_of = context(project, solver=False)
    rows = cutting_table("c", told_of).rows
    assert sorted(row[2] for row in rows) == ["16", "8"] and all("turned about by turns" in row[1] for row in rows)
    assert not [block for block in fabric_cuts(told_of, "c").blocks if isinstance(block, Bullets)]
