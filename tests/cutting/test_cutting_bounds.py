"""Bounds: the weights behind them tried exhaustively, and bounds against a search over everything."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.plan.cutting import CuttingSettings, PieceDemand, plan
from patternkit.plan.cutting.weights import choices, weigh


@pytest.mark.parametrize("cloth", [*range(1, 26), 60])
def test_no_row_that_fits_weighs_more_than_the_cloth(cloth: int) -> None:
    """Superadditive on every pair is all it takes: a row is then never heavier than its own width."""
    tried = set()
    for weight in choices(set(range(1, cloth + 1)), cloth):
        table = [weigh(weight, width, cloth) for width in range(cloth + 1)]
        assert min(table) >= 0
        for a in range(cloth + 1):
            for b in range(cloth + 1 - a):
                assert table[a] + table[b] <= table[a + b], (weight, a, b)
        tried.add(weight[0])
    assert tried >= {"plain", "count"}


def best_possible(pieces: list[PieceDemand], rules: CuttingSettings) -> int:
    """Search every way of cutting a handful of pieces, strip by strip."""
    singles = [p for p in pieces for _ in range(p.count)]

    def rows(left: tuple[int, ...]) -> set[tuple[int, tuple[int, ...]]]:
        """Strips that hold the first piece left: (height, indices used)."""
        found: set[tuple[int, tuple[int, ...]]] = set()

        def grow(at: int, used: tuple[int, ...], across: int, heights: frozenset[int]) -> None:
            if used and used[0] == left[0] and (rules.trim or len(heights) == 1):
                found.add((max(heights), used))
            for i in range(at, len(left)):
                if not used and i:
                    return
                p = singles[left[i]]
                for w, h in {(p.width, p.height), (p.height, p.width)} if p.may_turn else {(p.width, p.height)}:
                    if across + w <= rules.width:
                        grow(i + 1, (*used, left[i]), across + w, heights | {h})

        grow(0, (), 0, frozenset())
        return found

    @cache
    def least(left: tuple[int, ...]) -> int:
        if not left:
            return 0
        return min(h + least(tuple(i for i in left if i not in used)) for h, used in rows(left))

    return least(tuple(range(len(singles))))


SMALL = st.lists(
    st.tuples(st.integers(1, 12), st.integers(1, 12), st.integers(1, 3), st.booleans()),
    min_size=1,
    max_size=3,
)


@settings(max_examples=60, deadline=None)
@given(SMALL, st.integers(12, 20), st.booleans(), st.booleans())
def test_bound_is_below_the_best_and_the_plan_above(
    rows: list[tuple[int, int, int, bool]], width: int, trim: bool, solver: bool
) -> None:
    pieces = [PieceDemand(str(i), *row[:3], may_turn=row[3]) for i, row in enumerate(rows)]
    pieces = [p for p in pieces if p.width <= width or (p.may_turn and p.height <= width)]
    rules = CuttingSettings(width=width, trim=trim, solver=solver, rows=False)
    done = plan(pieces, rules)
    best = best_possible(pieces, rules)
    assert done.bound <= best <= done.length
    if done.status != "bounded":
        assert done.length == best


def best_beside(long: PieceDemand, pieces: list[PieceDemand], rules: CuttingSettings) -> int:
    """Search which pieces are cut from the cloth beside one long piece, the rest as well as can be."""
    singles = [PieceDemand(f"{p.id}.{i}", p.width, p.height, 1, p.may_turn) for p in pieces for i in range(p.count)]
    beside = CuttingSettings(width=rules.width - long.width, trim=rules.trim)
    best = None
    for choice in range(1 << len(singles)):
        there = [p for i, p in enumerate(singles) if choice >> i & 1]
        if any(p.width > beside.width and not (p.may_turn and p.height <= beside.width) for p in there):
            continue
        if there and best_possible(there, beside) > long.height:
            continue
        length = long.height + best_possible([p for p in singles if p not in there], rules)
        best = length if best is None else min(best, length)
    assert best is not None
    return best


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(1, 9), st.integers(1, 9), st.integers(1, 2), st.booleans()),
        min_size=1,
        max_size=3,
    ),
    st.tuples(st.integers(1, 8), st.integers(5, 25)),
    st.integers(10, 16),
    st.booleans(),
    st.booleans(),
)
def test_beside_a_long_piece(
    rows: list[tuple[int, int, int, bool]], long: tuple[int, int], width: int, trim: bool, solver: bool
) -> None:
    pieces = [PieceDemand(str(i), *row[:3], may_turn=row[3]) for i, row in enumerate(rows)]
    border = PieceDemand("border", *long, 1, along=True)
    rules = CuttingSettings(width=width, trim=trim, solver=solver, steps=60, rows=False)
    done = plan([border, *pieces], rules)
    best = best_beside(border, pieces, rules)
    assert done.bound <= best <= done.length
