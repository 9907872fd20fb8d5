"""Drift, remedies and how to lay the ruler: check values of the trade and independent sums."""

from __future__ import annotations

from fractions import Fraction
from math import sqrt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternkit.booklet.content.accuracy import drift, remedies
from patternkit.booklet.content.context import Context, context
from patternkit.booklet.content.doing import last_trim, ruler
from patternkit.booklet.content.panels import text
from patternkit.booklet.content.steps import visible_widths
from patternkit.lengths import Length
from patternkit.piecing.making import Making
from patternkit.project import Project
from patternkit.work.model import Mend

from .conftest import EXAMPLES, MARSH, ROOT, made, told
from .test_consistency import texts

RUNNER = ROOT / "examples" / "groyne-runner.pattern"
IN = Length


def unit(path: Path, key: str):  # type: ignore[no-untyped-def]
    ctx = told(path)
    return ctx, next(c.making for c in ctx.plan.counts if str(c.making.key) == key)


def mends(ctx: Context, making: Making) -> list[Mend]:
    return [m for m in ctx.makers[making.thing].remedies if m.of == making.thing]


def test_a_long_unit_a_quarter_short_takes_an_eighth_at_each_end() -> None:
    """Common practice, no source: a long unit 1/4 in short is met by cutting each of its two end pieces
    1/8 in longer."""
    ctx, groyne = unit(RUNNER, "groyne")
    ends = next(m for m in mends(ctx, groyne) if m.within == m.of)
    assert ends.missing == IN(Fraction(1, 4))
    assert [(n, each) for _, n, each in ends.changes] == [(2, IN(Fraction(1, 8)))]
    assert "each 1/8 in for 1/4 in missing" in text(remedies(groyne, ctx), ctx)


def test_plain_pieces_between_units_take_up_their_share() -> None:
    """Four units and three plain pieces in one row: at an eighth a piece they make up for three eighths."""
    ctx, groyne = unit(RUNNER, "groyne")
    beside = next(m for m in mends(ctx, groyne) if m.within != m.of)
    ((_, n, each),) = beside.changes
    assert (beside.line, n, each) == ((4, 3), 3, IN(Fraction(1, 8)))
    assert beside.missing == each * 3 == beside.error * 4
    assert "4 units in a line come out 3/8 in too narrow together" in text(remedies(groyne, ctx), ctx)


def test_strips_of_unequal_widths_show_what_the_trade_expects(tmp_path: Path) -> None:
    """Common practice, no source: seven strips cut 1 1/4 and 1 in by turns show 3/4 and 1/2 in, the ends
    a seam more."""
    path = tmp_path / "seven.pattern"
    path.write_text(
        'pattern "Seven"\nfabric tar dark\nfabric chalk light\n'
        "unit seven\n    strips (tar cut 1 1/4 | chalk cut 1 |) 3 times tar cut 1 1/4\n    cut 14 1/2\n    make 2\n"
        "quilt\n    layout\n        seven | seven\n"
    )
    ctx, seven = unit(path, "seven")
    shown = visible_widths(seven, ctx)
    assert shown == [IN(Fraction(n, 4)) for n in (4, 2, 3, 2, 3, 2, 4)]
    assert sum(shown, IN(0)) == IN(5)  # the strip unit measures 5 in


def test_nine_strips_by_turns_show_their_widths() -> None:
    """Derived: each strip less two seams shows 7/8 or 3/8 in, the ends a seam more; all together measure 6 3/8."""
    ctx, groyne = unit(RUNNER, "groyne")
    shown = visible_widths(groyne, ctx)
    assert shown == [IN(Fraction(n, 8)) for n in (9, 3, 7, 3, 7, 3, 7, 3, 9)]
    assert sum(shown, IN(0)) == IN(Fraction(51, 8))


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
    beyond = getattr(making.recipe.numbers, "beyond", ctx.seam)
    return ctx.phrases.render(ruler(trim, ctx.makers[making.thing].batches[0][0], ctx, beyond))


def test_the_ruler_lies_by_the_units_own_geometry() -> None:
    ctx, spark = unit(MARSH, "spark")
    assert "45 degree line on the seam" in ruler_sentence(spark, ctx) and "3 1/2 in" in ruler_sentence(spark, ctx)
    star = ROOT / "examples" / "tide-star.pattern"
    ctx, goose = unit(star, "goose")
    assert "2 1/4 in from the side and 1/4 in from the upper edge" in ruler_sentence(goose, ctx)
