"""Strips that a cutter cannot tell apart are told once, and nothing is lost by it."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from patternkit.booklet.content.cloth import as_told, cloth_cut, cutting_table, use_of
from patternkit.plan.cutting.model import CutPlan

from .conftest import EXAMPLES, told

Pieces = Counter[tuple[str, ...]]


def cut(plan: CutPlan, names: dict[str, tuple[str, ...]]) -> Pieces:
    """How many pieces of each size and use the strips of a plan give."""
    found: Pieces = Counter()
    for strip in plan.strips:
        for c in strip.cuts:
            found[names[c.piece]] += c.number * strip.copies
    return found


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_told_strips_give_the_same_pieces_from_the_same_cloth(path: Path) -> None:
    ctx = told(path)
    for plan in ctx.plan.fabrics.values():
        names = {
            x.id: (ctx.phrases.by(x.cut.width, x.cut.height), x.cut.then, x.cut.leans, use_of(x, ctx))
            for x in plan.lines
        }
        folded = as_told(plan, ctx)
        assert cut(folded, names) == cut(plan.plan, names)
        heights = [sum(s.height * s.copies for s in p.strips if not s.source) for p in (folded, plan.plan)]
        assert heights[0] == heights[1]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_no_two_rows_of_a_cutting_table_are_alike(path: Path) -> None:
    ctx = told(path)
    for plan in ctx.plan.fabrics.values():
        if plan.plan.strips:
            rows = [
                # all but how many strips and how many pieces in all
                (row[0].partition(", ")[2], row[1], re.sub(r"\d+", "", row[2]), row[3])
                for row in cutting_table(plan, ctx).rows
            ]
            assert len(set(rows)) == len(rows)


def test_a_drawing_shows_the_strips_of_its_table() -> None:
    ctx = told(next(p for p in EXAMPLES if p.stem == "courthouse-steps"))
    chalk = ctx.plan.fabrics["chalk"]
    drawn = cloth_cut(chalk, ctx)
    assert [s.copies for s in drawn.strips] == [int(r[0].split()[0]) for r in cutting_table(chalk, ctx).rows]
    # two logs of one size from one strip are one run of pieces in it
    assert all(len({(p.label, p.width, p.height) for p in s.pieces}) == len(s.pieces) for s in drawn.strips)
