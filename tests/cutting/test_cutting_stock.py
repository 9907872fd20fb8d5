"""Sheets of cloth: each plan is cut by an independent cutter, sheet by sheet."""

from __future__ import annotations

import importlib.util
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.plan.cutting import CuttingError, CuttingSettings, PieceDemand, StockCloth, StockPlan, plan_stock

_spec = importlib.util.spec_from_file_location("replay", Path(__file__).with_name("replay.py"))
assert _spec and _spec.loader
_replay = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(_replay)

QUARTER = StockCloth("fat quarter", 22 * 8, 18 * 8)
INCH = 8


def cut_sheets(
    pieces: list[PieceDemand], stock: list[StockCloth], rules: CuttingSettings, done: StockPlan
) -> Counter[str]:
    """Cut every sheet as told, rectangle by rectangle, and count what comes out."""
    sizes = {one.name: (one.width, one.height) for one in stock}
    by_id = {piece.id: piece for piece in pieces}
    got: Counter[str] = Counter()
    for sheet in done.sheets:
        for _ in range(sheet.copies):
            box = (0, 0, *sizes[sheet.stock])
            table = _replay.Table(box)
            for strip in sheet.strips:
                for _ in range(strip.copies):
                    off = table.cut_down if strip.across else table.cut_across
                    over = table.cut_across if strip.across else table.cut_down
                    band, box = off(box, strip.size)
                    for cut in strip.cuts:
                        for _ in range(cut.number):
                            out, band = over(band, cut.width if strip.across else cut.height)
                            if cut.trimmed_to is not None:
                                assert rules.trim
                                out, _ = off(out, cut.trimmed_to)
                            table.put_aside(out)
                            piece = by_id[cut.piece]
                            size = (piece.width, piece.height)
                            assert out[2:] == (size[::-1] if cut.turned else size)
                            assert piece.may_turn or not cut.turned
                            got[cut.piece] += 1
            assert box[2:] == sheet.rest
            _replay.apart(table.out)
    return got


@pytest.mark.parametrize(
    ("side", "each"),
    # How many squares one quarter of 18 x 22 gives, as printed at
    # http://piecefulliving.blogspot.com/2011/08/number-of-squares-from-fat-quarter.html
    [(2, 99), (2.5, 56), (3, 42), (3.5, 30), (4, 20), (4.5, 16), (5, 12), (5.5, 12), (6, 9), (6.5, 6)],
)
def test_squares_from_quarters(side: float, each: int) -> None:
    pieces = [PieceDemand("square", int(side * INCH), int(side * INCH), 3 * each)]
    done = plan_stock(pieces, [QUARTER], CuttingSettings(width=42 * INCH))
    assert done.used == (("fat quarter", 3),)
    assert cut_sheets(pieces, [QUARTER], CuttingSettings(width=42 * INCH), done) == Counter(square=3 * each)
    more = plan_stock(
        [PieceDemand("square", int(side * INCH), int(side * INCH), 3 * each + 1)], [QUARTER], CuttingSettings(1)
    )
    assert more.used == (("fat quarter", 4),)
    assert more.status == "proved"


def test_a_bundle_of_strips() -> None:
    roll = StockCloth("strip roll", 42 * INCH, int(2.5 * INCH), 40)
    pieces = [
        PieceDemand("log", int(2.5 * INCH), int(8.5 * INCH), 31),
        PieceDemand("sq", 20, 20, 17),
        PieceDemand("binding", 0, 20, 5, full=True),
    ]
    rules = CuttingSettings(width=42 * INCH)
    done = plan_stock(pieces, [roll], rules)
    assert cut_sheets_full(pieces, roll, rules, done) == Counter(log=31, sq=17, binding=5)
    # Four logs and three squares to a strip: 7 strips hold 28 logs and 21 squares, an eighth the other three.
    assert done.used == (("strip roll", 13),)
    assert done.status == "proved"
    with pytest.raises(CuttingError, match="too few"):
        plan_stock([PieceDemand("log", 20, 68, 161)], [roll], rules)
    with pytest.raises(CuttingError, match="fits none"):
        plan_stock([PieceDemand("patch", 24, 24, 1)], [roll], rules)


def cut_sheets_full(
    pieces: list[PieceDemand], roll: StockCloth, rules: CuttingSettings, done: StockPlan
) -> Counter[str]:
    """Whole strips are as wide as the stock."""
    flat = [PieceDemand(p.id, roll.width if p.full else p.width, p.height, p.count, p.may_turn) for p in pieces]
    return cut_sheets(flat, [roll], rules, done)


def test_quarters_at_hand_and_the_rest_by_length() -> None:
    pieces = [
        PieceDemand("star", 36, 36, 40),
        PieceDemand("sash", 20, 100, 24),
        PieceDemand("edge", 20, 600, 2, along=True),
    ]
    rules = CuttingSettings(width=42 * INCH, lot=36)
    have = [StockCloth("fat quarter", 21 * INCH, 18 * INCH, 3)]
    done = plan_stock(pieces, have, rules, by_length=True)
    assert done.rest is not None
    got = cut_sheets(pieces, have, rules, done)
    rest = [PieceDemand(p.id, p.width, p.height, p.count - got[p.id], p.may_turn, along=p.along) for p in pieces]
    _replay.replay(rest, rules, done.rest)
    from patternkit.plan.cutting import plan

    assert done.rest.length <= plan(pieces, rules).length
    assert done.rest_bound <= done.rest.length
    with pytest.raises(CuttingError, match="how many"):
        plan_stock(pieces, [QUARTER], rules, by_length=True)


def test_stock_that_means_nothing() -> None:
    one = [PieceDemand("a", 3, 3, 1)]
    for bad in ([], [StockCloth("s", 0, 4)], [StockCloth("s", 4, 4), StockCloth("s", 5, 5)]):
        with pytest.raises(CuttingError):
            plan_stock(one, bad, CuttingSettings(width=40))


ROWS = st.lists(
    st.tuples(st.integers(1, 12), st.integers(1, 12), st.integers(0, 9), st.booleans()),
    min_size=1,
    max_size=5,
)


@settings(max_examples=40, deadline=None)
@given(ROWS, st.booleans(), st.integers(12, 20), st.integers(12, 20))
def test_every_sheet_can_be_cut(rows: list[tuple[int, int, int, bool]], trim: bool, width: int, height: int) -> None:
    pieces = [PieceDemand(str(i), w, h, n, turn) for i, (w, h, n, turn) in enumerate(rows)]
    stock = [StockCloth("first", width, height, 2), StockCloth("more", 15, 12)]
    rules = CuttingSettings(width=40, trim=trim)
    done = plan_stock(pieces, stock, rules)
    assert cut_sheets(pieces, stock, rules, done) == Counter({p.id: p.count for p in pieces if p.count})
    assert sum(sheet.copies for sheet in done.sheets) >= done.bound
    assert plan_stock(pieces, stock, rules) == done


@pytest.mark.parametrize(
    ("sizes", "sheets"),  # made up: eighths of an inch, and as many sheets of 21 x 18 in as can be proved needed
    [
        ([(32, 92, 12), (41, 40, 16), (22, 22, 8), (36, 84, 4), (58, 58, 6), (36, 36, 24)], 6),
        ([(59, 59, 4), (38, 84, 2), (44, 44, 16), (56, 24, 6), (34, 52, 16), (14, 14, 6)], 4),
        ([(13, 48, 2), (44, 40, 6), (52, 52, 12), (46, 46, 8), (36, 36, 24), (26, 26, 2), (40, 36, 12)], 5),
    ],
)
def test_trying_again_saves_a_sheet(sizes: list[tuple[int, int, int]], sheets: int) -> None:
    """The largest-first filling takes one sheet more; corrected worths find the fewest there can be."""
    pieces = [PieceDemand(str(i), *size) for i, size in enumerate(sizes)]
    stock, rules = [StockCloth("quarter", 168, 144)], CuttingSettings(width=168)
    done = plan_stock(pieces, stock, rules)
    assert sum(sheet.copies for sheet in done.sheets) == done.bound == sheets
    assert done.status == "proved"
    assert cut_sheets(pieces, stock, rules, done) == {p.id: p.count for p in pieces}
