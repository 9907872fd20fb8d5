"""Plans of one fabric, each replayed by the independent cutter."""

from __future__ import annotations

import importlib.util
from fractions import Fraction
from pathlib import Path

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.plan.cutting import CuttingError, CuttingSettings, PieceDemand, grid, kits, plan, to_buy

_spec = importlib.util.spec_from_file_location("replay", Path(__file__).with_name("replay.py"))
assert _spec and _spec.loader
_module = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(_module)
replay = _module.replay

EIGHTHS = 8


def cloth(width: str, **more: object) -> CuttingSettings:
    """Cloth of a usable width in inches, sold in eighths of a yard, on a grid of eighths."""
    return CuttingSettings(width=int(Fraction(width) * EIGHTHS), lot=int(Fraction("4.5") * EIGHTHS), **more)  # type: ignore[arg-type]


def piece(name: str, width: str, height: str, count: int, **more: bool) -> PieceDemand:
    """A piece given in inches on a grid of eighths."""
    return PieceDemand(name, int(Fraction(width) * EIGHTHS), int(Fraction(height) * EIGHTHS), count, **more)


@pytest.mark.parametrize(
    ("width", "size", "count", "strips", "inches"),
    [
        # https://patchworktimes.com/2011/11/12/calculating-yardage: 8 to a strip, 2 strips, 9 in
        ("40", ("4.5", "4.5"), 12, 2, "9"),
        # http://www.modernquiltingbyb.com/2015/02/single-block-quilt-tutorial-series.html: 9, so 16 strips
        ("42", ("2.5", "4.5"), 140, 16, "40"),
        # http://quilterscache.com/StartQuiltingPages/startquiltingtwo.html: 5 to a strip, 23 strips of 3 7/8
        ("42", ("3.875", "7.75"), 112, 23, "89.125"),
        # https://anniescatalog.com/quilting/content.html?content_id=804: 8 of 5 in, 4 of 10 in to a strip
        ("40", ("5", "5"), 42, 6, "30"),
        ("40", ("10", "10"), 42, 11, "110"),
    ],
)
def test_no_more_than_published(width: str, size: tuple[str, str], count: int, strips: int, inches: str) -> None:
    pieces = [piece("patch", *size, count)]
    done = plan(pieces, cloth(width))
    replay(pieces, cloth(width), done)
    assert done.lots <= to_buy(Fraction(inches) * EIGHTHS, cloth(width))[1]
    assert sum(strip.copies for strip in done.strips) <= strips
    assert done.status == "proved"


def test_nothing_to_cut() -> None:
    done = plan([], cloth("42"))
    assert (done.length, done.buy, done.lots, done.strips, done.status) == (0, 0, 0, (), "proved")
    assert plan([piece("a", "3", "3", 0)], cloth("42")) == done


def test_order_full_strips_and_leftovers() -> None:
    pieces = [
        piece("square", "4.5", "4.5", 60),
        piece("binding", "0", "2.5", 8, full=True),
        piece("border", "4.5", "80", 4, along=True),
    ]
    done = plan(pieces, cloth("42"))
    replay(pieces, cloth("42"), done)
    assert done.strips[0].kind == "along"
    beside = [left for left in done.leftovers if left.serves]
    assert [left.label for left in beside] == ["1"]
    # 5 squares side by side beside the borders, 17 strips in 80 in: all 60 are cut there.
    assert done.length == (80 + 8 * Fraction("2.5")) * EIGHTHS
    assert {strip.source for strip in done.strips if strip.cuts[0].piece == "square"} == {"1"}


def test_direction_is_kept() -> None:
    fixed = [piece("leaf", "10", "20", 4, may_turn=False)]
    free = [piece("leaf", "10", "20", 4)]
    assert plan(fixed, cloth("42")).length == 20 * EIGHTHS
    assert plan(free, cloth("42")).length == 20 * EIGHTHS
    wide = [piece("leaf", "20", "10", 4, may_turn=False)]
    assert plan(wide, cloth("42")).length == 20 * EIGHTHS
    assert plan([piece("leaf", "20", "12", 4, may_turn=False)], cloth("42")).length == 24 * EIGHTHS
    assert plan([piece("leaf", "20", "12", 3)], cloth("42")).length == 20 * EIGHTHS


def test_no_trimming_when_the_writer_forbids_it() -> None:
    pieces = [piece("tall", "10", "5", 3), piece("low", "4", "4", 2)]
    assert plan(pieces, msgspec.structs.replace(cloth("42"), lot=1)).length == 5 * EIGHTHS
    assert plan(pieces, cloth("42")).length == 9 * EIGHTHS  # both lengths are two lots, and this one needs no trimming
    done = plan(pieces, cloth("42", trim=False))
    assert done.length == 9 * EIGHTHS
    assert all(cut.trimmed_to is None for strip in done.strips for cut in strip.cuts)


def test_each_owner_of_an_equal_size_gets_its_own() -> None:
    pieces = [piece("star", "2.5", "4.5", 21), piece("row", "4.5", "2.5", 17), piece("edge", "2.5", "4.5", 5)]
    done = plan(pieces, cloth("42"))
    replay(pieces, cloth("42"), done)
    assert sum(strip.copies for strip in done.strips) <= 5


@pytest.mark.parametrize(
    ("pieces", "words"),
    [
        ([PieceDemand("a", 400, 500, 1)], "too wide"),
        ([PieceDemand("a", 4, 5, 1), PieceDemand("a", 4, 5, 1)], "listed twice"),
        ([PieceDemand("a", 0, 5, 1)], "above nothing"),
        ([PieceDemand("a", 3, 5, -1)], "above nothing"),
    ],
)
def test_what_cannot_be_cut_is_said(pieces: list[PieceDemand], words: str) -> None:
    with pytest.raises(CuttingError, match=words) as caught:
        plan(pieces, CuttingSettings(width=336))
    assert caught.value.piece == "a"


def test_settings_that_mean_nothing() -> None:
    for bad in (
        CuttingSettings(0),
        CuttingSettings(9, lot=0),
        CuttingSettings(9, shrinkage=1000),
        CuttingSettings(9, spare=-1),
    ):
        with pytest.raises(CuttingError):
            plan([], bad)


def test_length_to_buy() -> None:
    shop = CuttingSettings(width=336, lot=36, spare=16)
    assert to_buy(36 * 3, shop) == (36 * 4, 4)
    assert to_buy(36 * 3 - 16, shop) == (36 * 3, 3)
    # 5 in 100 is lost in washing: 95 of 100 remain.
    assert to_buy(95, CuttingSettings(width=336, shrinkage=50)) == (100, 100)
    assert to_buy(96, CuttingSettings(width=336, shrinkage=50)) == (102, 102)
    metric = CuttingSettings(width=336, lot=Fraction(5, 254) * 800)
    assert to_buy(100, metric) == (Fraction(5, 254) * 800 * 7, 7)


def test_grid() -> None:
    assert grid([Fraction(7, 8), Fraction(5, 16), 3]) == 16
    assert grid([]) == 1


def test_kits_are_a_plain_sum() -> None:
    shop = cloth("42", spare=16)
    done = plan([piece("patch", "4.5", "4.5", 12)], shop)
    bolt = kits(done, 12, shop)
    assert bolt.each == done.buy
    assert bolt.bolt == 12 * done.buy
    assert done.length * 12 + 16 * 12 <= bolt.least <= bolt.bolt
    with pytest.raises(CuttingError):
        kits(done, 0, shop)


PIECES = st.lists(
    st.tuples(st.integers(1, 40), st.integers(1, 60), st.integers(0, 30), st.booleans(), st.integers(0, 9)),
    max_size=7,
)


@settings(max_examples=30, deadline=None)
@given(PIECES, st.integers(40, 90), st.booleans(), st.booleans())
def test_every_plan_can_be_cut(
    rows: list[tuple[int, int, int, bool, int]], width: int, trim: bool, solver: bool
) -> None:
    pieces = [
        PieceDemand(str(i), w, h, count, turn, full=kind == 8, along=kind == 9)
        for i, (w, h, count, turn, kind) in enumerate(rows)
    ]
    rules = CuttingSettings(width=width, trim=trim, lot=12, solver=solver, steps=30)
    done = plan(pieces, rules)
    replay(pieces, rules, done)
    assert done.bound <= done.length
    assert done.bound_buy <= done.buy
    assert plan(pieces, rules) == done
