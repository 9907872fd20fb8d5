"""Parts of a sew-along: their cuts add up to the whole, and each can be written alone."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit import api
from patternkit.booklet.content.context import Context, context
from patternkit.booklet.content.releases import Share, shares
from patternkit.document import NumberedStep, Section
from patternkit.problems import PatternError
from patternkit.project import Project

from .conftest import MARSH, project, told


def pieces(lines: object) -> Counter[tuple[str, str, str, str]]:
    """Pieces by fabric, size and what is done next."""
    found: Counter[tuple[str, str, str, str]] = Counter()
    for line in lines:  # type: ignore[attr-defined]
        found[line.fabric, str(line.cut.width), str(line.cut.height), line.cut.then] += line.count
    return found


def together(parts: list[Share]) -> Counter[tuple[str, str, str, str]]:
    """All parts' pieces."""
    total: Counter[tuple[str, str, str, str]] = Counter()
    for share in parts:
        total += pieces(share.lines)
    return total


def test_the_parts_cuts_add_up_to_the_whole() -> None:
    ctx = told(MARSH)
    parts = shares(ctx)
    assert [s.release.title if s.release else None for s in parts] == ["Week one", "Week two", "Week three"]
    assert together(parts) == pieces(ctx.plan.lines)


def test_a_part_gets_the_batches_that_its_count_needs() -> None:
    """13 of 24 units at two a pair: seven pairs, and the other five when the rest is made."""
    first, second, _ = shares(told(MARSH))
    assert [(c.needed, c.batches) for c in first.counts] == [(13, 7)]
    assert next((c.needed, c.batches) for c in second.counts if str(c.making.key) == "spark") == (11, 5)


@settings(max_examples=12)
@given(st.lists(st.integers(1, 9), min_size=1, max_size=4))
def test_any_division_of_a_unit_adds_up(numbers: list[int]) -> None:
    text = MARSH.read_text(encoding="utf-8")
    head = text[: text.index('part "Week one"')]
    head += "".join(f'part "P{i}" 2026-04-{i + 1:02d}\n    makes {n} spark\n' for i, n in enumerate(numbers))
    ctx: Context = context(Project("parts.pattern", head), solver=False)
    assert together(shares(ctx)) == pieces(ctx.plan.lines)


def test_one_part_alone_has_its_own_steps_and_counts() -> None:
    booklet = api.make_booklet(project(MARSH), part="week one")
    keys = [s.key for s in booklet.sections]
    assert keys == ["part-week-one", "before", "units", "checkpoints"]
    units = next(s for s in booklet.sections if s.key == "units")
    assert isinstance(units, Section)
    steps = [b for b in units.blocks if isinstance(b, NumberedStep)]
    assert [s.title for s in steps] == ["Spark: make 13"] and booklet.templates == ()


def test_templates_go_with_the_part_that_needs_them() -> None:
    booklet = api.make_booklet(project(MARSH), part="Week two")
    assert {t.title for t in booklet.templates} == {"dune a", "dune b", "cabin"}


def test_an_unknown_part_is_named_with_those_there_are() -> None:
    with pytest.raises(PatternError) as caught:
        api.make_booklet(project(MARSH), part="Week nine")
    problem = caught.value.problems[0]
    assert "Week nine" in problem.message and "Week one" in problem.causes[0]
