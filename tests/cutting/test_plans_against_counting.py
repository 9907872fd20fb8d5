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
@given(TINY, st.integers(9, 16), st.booleans())
def test_no_plan_is_below_the_least_and_no_bound_above(
    rows: list[tuple[int, int, int, bool]], width: int, solver: bool
) -> None:
    pieces = [PieceDemand(str(i), w, h, n, may_turn=turn) for i, (w, h, n, turn) in enumerate(rows)]
    rules = CuttingSettings(width=width, solver=solver)
    done = plan(pieces, rules)
    replay(pieces, rules, done)
    best = least_length([(lies(p, width), p.count) for p in pieces], width, True)
    assert done.free <= done.bound <= best <= done.length
    if done.status != "bounded":
        assert done.length == best


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
