"""Plans of tiny lists against the least length of strips cut up further, counted another way; every cut replayed."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.plan.cutting import CuttingSettings, PieceDemand, plan
from patternkit.plan.cutting.task import lies

from .count_vectors import least_length
from .replay import replay

TINY = st.lists(
    st.tuples(st.integers(2, 9), st.integers(2, 9), st.integers(1, 3), st.booleans()), min_size=1, max_size=3
)


@settings(max_examples=50, deadline=None)
@given(TINY, st.integers(9, 16), st.booleans(), st.integers(0, 9))
def test_no_plan_is_below_the_least_and_no_bound_above(
    rows: list[tuple[int, int, int, bool]], width: int, solver: bool, reach: int
) -> None:
    pieces = [PieceDemand(str(i), w, h, n, may_turn=turn) for i, (w, h, n, turn) in enumerate(rows)]
    rules = CuttingSettings(width=width, solver=solver, reach=reach)
    done = plan(pieces, rules)
    replay(pieces, rules, done)
    best = least_length([(lies(p, width), p.count) for p in pieces], width, True, reach=reach)
    assert done.free <= done.bound <= best <= done.length
    if done.status != "bounded":
        assert done.length == best


def test_no_strip_is_cut_into_rows_where_a_ruler_does_not_reach_unless_a_piece_is_as_high() -> None:
    pieces = [PieceDemand("long", 1, 38, 1), PieceDemand("wide", 20, 11, 6), PieceDemand("small", 9, 9, 12)]
    whole, near = CuttingSettings(width=41, lot=21), CuttingSettings(width=41, lot=21, reach=24)
    for rules in (whole, near):
        done = plan(pieces, rules)
        replay(pieces, rules, done)
        high = [strip for strip in done.strips if max(len(segment.rows) for segment in strip.segments) > 1]
        assert all(s.height <= 24 or s.height in {c.height for c in s.cuts} for s in high) or rules is whole
    long = [(c.width, c.height) for strip in done.strips for c in strip.cuts if c.piece == "long"]
    assert long == [(38, 1)]  # along its strip, as that costs nothing
    assert done.length >= plan(pieces, whole).length


def test_tiny_lists_are_nearly_all_solved() -> None:
    """With the solver, of forty made lists."""
    pytest.importorskip("highspy")
    solved = 0
    for seed in range(40):
        sizes = [(2 + (seed * 3 + i * 5) % 7, 2 + (seed * 5 + i * 3) % 8, 1 + (seed + i) % 3) for i in range(3)]
        pieces = [PieceDemand(str(i), w, h, n) for i, (w, h, n) in enumerate(sizes)]
        done = plan(pieces, CuttingSettings(width=12))
        best = least_length([(lies(p, 12), p.count) for p in pieces], 12, True)
        assert done.bound <= best <= done.length
        solved += done.length == best
    assert solved >= 38
