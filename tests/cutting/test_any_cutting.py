"""Bounds for any way of cutting: against every packing of tiny lists, and worked out by hand."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.plan.cutting import CuttingSettings, PieceDemand
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.free import free_cloth
from patternkit.plan.cutting.verify import BadPlan
from patternkit.plan.cutting.verify_free import check_too_short, length_needed, richest_line

from .packing import shortest

pytest.importorskip("highspy")
from patternkit.plan.cutting.knapsack import most_worth
from patternkit.plan.cutting.slices import TooShort, slices, too_short

TINY = st.lists(
    st.tuples(st.integers(1, 6), st.integers(1, 6), st.integers(1, 3), st.booleans(), st.booleans()),
    min_size=1,
    max_size=3,
)


@settings(max_examples=100, deadline=None)
@given(TINY, st.integers(6, 8))
def test_no_bound_is_longer_than_the_shortest_packing(rows: list[tuple[int, int, int, bool, bool]], width: int) -> None:
    pieces = [PieceDemand(str(i), w, h, n, turn, along=along) for i, (w, h, n, turn, along) in enumerate(rows)]
    while sum(p.count for p in pieces) > 5:
        pieces = pieces[1:]
    best = shortest(pieces, width)
    cloth = free_cloth(pieces, CuttingSettings(width=width))
    budget = Budget(1000, 60.0)
    found = slices(cloth, budget)
    assert length_needed(cloth, found) <= best
    assert too_short(cloth, best, found.across, budget) is None
    for length in range(max(1, best - 4), best):
        short = too_short(cloth, length, found.across, budget)
        if short is not None:
            check_too_short(cloth, short)


def test_whole_strips_and_area() -> None:
    """Eight squares of 5 beside each other in 20, with a whole strip of 3: 2 x 5 + 3."""
    cloth = free_cloth([PieceDemand("a", 5, 5, 8), PieceDemand("s", 0, 3, 1, full=True)], CuttingSettings(width=20))
    assert length_needed(cloth, slices(cloth, Budget(100, 9.0))) == 13


def test_five_large_squares_need_three_rows() -> None:
    """Two squares of 20 lie side by side in 42, so lines across show 50; no line along 59 meets three, so 60 it is."""
    cloth = free_cloth([PieceDemand("a", 20, 20, 5)], CuttingSettings(width=42))
    budget = Budget(100, 9.0)
    found = slices(cloth, budget)
    assert length_needed(cloth, found) == 50
    short = too_short(cloth, 59, found.across, budget)
    assert short is not None
    check_too_short(cloth, short)
    assert too_short(cloth, 60, found.across, budget) is None


def test_long_pieces_lie_along_and_leave_room_beside() -> None:
    """A border of 6 x 40 along the cloth, 20 wide, and 14 x 10 beside it four times: 40, not 46."""
    pieces = [PieceDemand("b", 6, 40, 1, along=True), PieceDemand("a", 14, 10, 4, may_turn=False)]
    cloth = free_cloth(pieces, CuttingSettings(width=20))
    assert length_needed(cloth, slices(cloth, Budget(100, 9.0))) == 40


def test_room_for_squaring_up_is_no_cloth_for_pieces() -> None:
    """Of 41 in four 10s fit with 1 to spare, which squaring takes; of 40 three; a whole width loses nothing."""
    pieces = [PieceDemand("a", 10, 10, 8, may_turn=False), PieceDemand("w", 41, 3, 1, may_turn=False)]
    for squaring, length in ((0, 23), (1, 23), (2, 33)):
        cloth = free_cloth(pieces, CuttingSettings(width=41, squaring=squaring))
        assert length_needed(cloth, slices(cloth, Budget(100, 9.0))) <= length
        short = too_short(cloth, length - 1, ((1,), (1,)), Budget(100, 9.0))
        assert short is not None
        check_too_short(cloth, short)


def test_long_pieces_side_by_side_lose_nothing_to_squaring_up() -> None:
    """Four borders of 10 x 80 across 40, of which squaring would take 1: they lie in one length of 80."""
    borders = [PieceDemand("b", 10, 80, 4, along=True)]
    cloth = free_cloth(borders, CuttingSettings(width=40, squaring=1))
    assert length_needed(cloth, slices(cloth, Budget(100, 9.0))) == 80
    assert too_short(cloth, 80, ((9,),), Budget(100, 9.0)) is None


def test_a_false_proof_is_refused() -> None:
    cloth = free_cloth([PieceDemand("a", 20, 20, 5)], CuttingSettings(width=42))
    with pytest.raises(BadPlan):
        check_too_short(cloth, TooShort(60, ((1,),), ((1,),)))
    short = too_short(cloth, 59, ((20,),), Budget(100, 9.0))
    assert short is not None
    with pytest.raises(BadPlan):
        check_too_short(cloth, msgspec.structs.replace(short, length=60))


@given(
    st.lists(st.tuples(st.integers(1, 9), st.integers(0, 9), st.integers(1, 4)), min_size=1, max_size=4),
    st.integers(1, 25),
)
def test_the_richest_line_two_ways(entries: list[tuple[int, int, int]], room: int) -> None:
    found = most_worth(entries, room)
    assert found.worth == richest_line(entries, room)
    assert sum(entries[i][0] * n for i, n in found.numbers) <= room
    assert sum(entries[i][1] * n for i, n in found.numbers) == found.worth
    assert all(n <= entries[i][2] for i, n in found.numbers)
