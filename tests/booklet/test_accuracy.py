"""Drift, remedies and how to lay the ruler: check values of the trade and independent sums."""

from __future__ import annotations

from fractions import Fraction
from math import sqrt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternkit.booklet.content.accuracy import between_plain, drift, own_ends, remedies
from patternkit.booklet.content.context import Context, context
from patternkit.booklet.content.doing import last_trim, ruler_told
from patternkit.booklet.content.steps import visible_widths
from patternkit.lengths import Length
from patternkit.piecing.making import Making
from patternkit.project import Project

from .conftest import EXAMPLES, MARSH, ROOT, made, told
from .test_consistency import texts

RUNNER = ROOT / "examples" / "groyne-runner.pattern"
IN = Length


def unit(path: Path, key: str):  # type: ignore[no-untyped-def]
    ctx = told(path)
    return ctx, next(c.making for c in ctx.plan.counts if str(c.making.key) == key)


def test_a_long_unit_a_quarter_short_takes_an_eighth_at_each_end() -> None:
    """Common practice, no source: a long unit 1/4 in short is met by cutting each of its two end pieces
    1/8 in longer."""
    ctx, groyne = unit(RUNNER, "groyne")
    remedy = own_ends(groyne, ctx)
    assert remedy is not None
    assert (remedy.missing, remedy.each) == (IN(Fraction(1, 4)), IN(Fraction(1, 8)))
    assert remedy.most == IN(Fraction(1, 4))  # at half a seam each


def test_plain_pieces_between_units_take_up_their_share() -> None:
    """Four units and three plain pieces in one row: an error e at each unit asks for 4 e / 3 at each
    plain piece."""
    ctx, groyne = unit(RUNNER, "groyne")
    remedy = between_plain(groyne, ctx)
    assert remedy is not None
    assert (remedy.copies, remedy.pieces, remedy.parent) == (4, 3, "runner")
    for e in (Fraction(1, 64), Fraction(1, 16)):
        each = remedy.each / remedy.missing * e
        assert each * remedy.pieces == IN(e) * remedy.copies
    assert remedy.most * remedy.copies == ctx.seam / 2 * remedy.pieces
    assert any("1/8" in text for text in remedies(groyne, ctx))


def test_strips_of_unequal_widths_show_what_the_trade_expects() -> None:
    """Common practice, no source: seven strips cut 1 1/4 and 1 in by turns show 3/4 and 1/2 in, the ends
    a seam more."""
    ctx, groyne = unit(RUNNER, "groyne")
    shown = visible_widths(groyne, ctx)
    assert shown == [IN(Fraction(n, 4)) for n in (4, 2, 3, 2, 3, 2, 4)]
    assert sum(shown, IN(0)) == IN(5)  # the strip unit measures 5 in


@given(st.integers(2, 11), st.sampled_from(["1", "1 1/2", "2 1/4"]))
def test_drift_is_the_sum_and_the_root_of_squares(n: int, width: str) -> None:
    strips = " | ".join(["night", "glow"] * n)[: 8 * n].split(" | ")[:n]
    text = (
        'pattern "Drift"\nfabric night "Night" dark\nfabric glow "Glow" light\n'
        f"unit band\n    strips {' | '.join(s if s in ('night', 'glow') else 'night' for s in strips)}\n"
        f"    finished {n} x 2\n    make 3\n"
    )
    ctx = context(Project("drift.pattern", text), solver=False)
    making = ctx.plan.counts[0].making
    off = drift(making, ctx)
    thread = ctx.pattern.settings.thread
    assert off.seams == len(making.parts) - 1
    assert off.in_all == thread * off.seams
    assert abs(float(off.by_chance) - float(thread) * sqrt(off.seams)) < 1e-12
    assert bool(remedies(making, ctx)) == (off.seams >= 5)


@pytest.mark.parametrize("path", [*EXAMPLES, MARSH], ids=lambda p: p.stem)
def test_no_remedy_goes_beyond_half_a_seam(path: Path) -> None:
    ctx = told(path)
    half = ctx.seam / 2
    for count in ctx.plan.counts:
        for remedy in (own_ends(count.making, ctx), between_plain(count.making, ctx)):
            if remedy is not None:
                assert remedy.each / remedy.missing * remedy.most == half


@pytest.mark.parametrize("path", [*EXAMPLES, MARSH], ids=lambda p: p.stem)
def test_every_oversize_unit_is_told_how_to_trim(path: Path) -> None:
    ctx = told(path)
    words = "\n".join(texts(made(path)))
    for count in ctx.steps:
        recipe = count.making.recipe
        if recipe.trim_to and recipe.sewn and not recipe.method.in_strips and not ctx.pattern.sizes:
            assert ruler_sentence(count.making, ctx) in words
            assert f"rim to {ctx.phrases.by(*recipe.trim_to)}" in words


def ruler_sentence(making: Making, ctx: Context) -> str:
    """How the ruler is laid for the last trimming of a unit."""
    trim = last_trim(making, ctx)
    assert trim is not None
    return ruler_told(trim, ctx.makers[making.thing].batches[0][0], ctx)


def test_the_ruler_lies_by_the_units_own_geometry() -> None:
    ctx, spark = unit(MARSH, "spark")
    assert "45 degree line on the seam" in ruler_sentence(spark, ctx) and "3 1/2 in" in ruler_sentence(spark, ctx)
    star = ROOT / "examples" / "tide-star.pattern"
    ctx, goose = unit(star, "goose")
    assert "2 1/4 in from the side and 1/4 in from the upper edge" in ruler_sentence(goose, ctx)
