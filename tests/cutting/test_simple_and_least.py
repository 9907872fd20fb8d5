"""Least cloth or least work: the ends of strips used up where that saves a lot, and each size in strips of its own."""

from __future__ import annotations

from fractions import Fraction

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.plan.cutting import CutPlan, CuttingSettings, PieceDemand, plan

from .replay import replay

EIGHTH_YARD = Fraction(9, 2)


def heights(done: CutPlan) -> list[set[int]]:
    """The heights of the pieces in each strip of the cloth."""
    return [{cut.height for cut in strip.cuts} for strip in done.strips]


def test_an_end_is_cut_into_rows() -> None:
    """Three nine-patches' worth of squares and two plain blocks, on a grid of half inches: by hand 16 1/2 in."""
    pieces = [PieceDemand("plain", 19, 19, 2), PieceDemand("patch", 7, 7, 30)]
    rules = CuttingSettings(width=80, lot=9, spare=2)
    done = plan(pieces, rules)
    replay(pieces, rules, done)
    assert done.length == 33 and done.status == "proved"
    assert max(len(segment.rows) for strip in done.strips for segment in strip.segments) == 2


def test_no_strip_holds_two_heights_where_nothing_is_saved() -> None:
    """One strip of 5 would hold both sizes, but two of 4 and 5 are the same lot."""
    pieces = [PieceDemand("a", 10, 5, 3, may_turn=False), PieceDemand("b", 4, 4, 2)]
    loose, tight = CuttingSettings(width=42, lot=9), CuttingSettings(width=42, lot=1)
    assert heights(plan(pieces, loose)) == [{5}, {4}]
    assert heights(plan(pieces, tight)) == [{5, 4}]


def test_a_length_that_is_there_is_kept_to() -> None:
    pieces = [PieceDemand("a", 10, 5, 3, may_turn=False), PieceDemand("b", 4, 4, 2)]
    rules = CuttingSettings(width=42, lot=10)
    assert plan(pieces, rules).length == 9
    assert plan(pieces, msgspec.structs.replace(rules, within=Fraction(13, 2))).length == 5


LISTS = st.lists(
    st.tuples(st.integers(1, 20), st.integers(1, 20), st.integers(1, 9), st.booleans()), min_size=1, max_size=5
)


@settings(max_examples=60, deadline=None)
@given(LISTS, st.integers(20, 60), st.sampled_from([1, 4, 9]), st.booleans(), st.booleans())
def test_each_way_keeps_its_word(
    rows: list[tuple[int, int, int, bool]], width: int, lot: int, solver: bool, trim: bool
) -> None:
    """Simple strips hold one size; the closer plan never takes more lots, nor more than strips cut straight do."""
    pieces = [PieceDemand(str(i), w, h, n, may_turn=turn) for i, (w, h, n, turn) in enumerate(rows)]
    rules = CuttingSettings(width=width, lot=lot, spare=1, solver=solver, trim=trim, steps=60)
    simple = plan(pieces, msgspec.structs.replace(rules, simple=True))
    close = plan(pieces, rules)
    for done in (simple, close):
        replay(pieces, rules, done)
        assert (done.simple_buy, done.close_buy) == (simple.buy, close.buy)
        assert done.free_buy <= done.bound_buy <= close.buy
    assert all(len({(cut.width, cut.height) for cut in strip.cuts}) == 1 for strip in simple.strips)
    assert close.buy <= simple.buy
    straight = plan(pieces, msgspec.structs.replace(rules, rows=False))
    assert close.buy <= straight.buy


@pytest.mark.parametrize("trim", [True, False])
def test_a_strip_that_holds_two_heights_saves_a_lot(trim: bool) -> None:
    for seed in range(12):
        pieces = [PieceDemand(str(i), 5 + (7 * i + seed) % 17, 4 + (5 * i + seed) % 11, 3 + seed % 5) for i in range(4)]
        rules = CuttingSettings(width=60, lot=9, trim=trim, steps=60)
        done = plan(pieces, rules)
        if any(len(one) > 1 for one in heights(done)):
            assert done.buy < done.simple_buy
