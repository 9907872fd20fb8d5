"""Room for squaring up: kept of strips that are cut across and of strip units, not of whole strips or long pieces."""

from __future__ import annotations

import pytest

import patternkit
from patternkit.plan.cutting import CuttingError, CuttingSettings, PieceDemand, StockCloth, plan, plan_stock
from tests.published.desk import num, pattern, planned, problems

ROW = "unit piece\n    patch night\n    cut {size}\n\nquilt\n    across {n}, down 1\n    tile\n        piece\n"
RUNGS = (
    "unit rung\n    strips night | glow\n    finished 4 x 2\n\nquilt\n    across 8, down 2\n    tile\n        rung\n"
)


def numbers(size: str, n: int, *settings: str, night: str = "") -> list[int]:
    """How many come from each strip, in order."""
    found = planned(pattern(ROW.format(size=size, n=n), *settings, night=night)).fabrics["night"].plan
    return [cut.number for s in found.strips for cut in s.cuts for _ in range(s.copies)]


def test_half_an_inch_of_each_strip_is_kept() -> None:
    """16 of 2 1/2 in lie in 40 in, and 15 in 39 1/2."""
    assert numbers("2 1/2", 16) == [15, 1]
    assert numbers("2 1/2", 16, "squaring 0") == [16]
    assert numbers("2 1/2", 16, night="squaring 0") == [16]
    assert numbers("2 1/2", 16, "usable width 40 1/2") == [16]


def test_a_centimetre_in_metric_patterns() -> None:
    """13 of 8 cm lie in 105 cm less 1 cm; of 8 1/8 they would take 105.6."""
    assert numbers("8 cm", 13, "units cm") == [13]
    assert numbers("8 cm", 13, "units cm", "usable width 104.9 cm") == [12, 1]
    assert numbers("8 cm", 13, "units cm", "squaring 0", "usable width 104 cm") == [13]


def test_a_strip_unit_loses_it_once() -> None:
    """16 segments of 2 1/2 in from 40 in: 15 from the strip unit and one from half strips; 16 with nothing kept."""
    (kept,) = [c for c in planned(pattern(RUNGS)).counts if str(c.making.key) == "rung"]
    assert (kept.yields, kept.batches) == (15, 2)
    (all_of_it,) = [c for c in planned(pattern(RUNGS, "squaring 0")).counts if str(c.making.key) == "rung"]
    assert (all_of_it.yields, all_of_it.batches) == (16, 1)


def test_a_piece_as_wide_as_the_cloth_is_a_strip_of_its_own() -> None:
    for size in ("39 3/4 x 5", "40 x 5"):
        assert numbers(size, 2, night="buy 3 yd") == [1, 1]


def test_it_is_told() -> None:
    project = pattern(ROW.format(size="5", n=8), "spare 0", night="squaring 1/4")
    text = next(iter(patternkit.files(project, formats=("md",)).values())).decode()
    assert "1/2 in of the width is kept for squaring up its end" in text
    assert "1/4 in is kept for squaring up its end" in text


@pytest.mark.parametrize(("claim", "codes"), [("1/4 yd", ["every-thread"]), ("1/8 yd", ["buy-short"]), ("3/8 yd", [])])
def test_a_claim_that_needs_every_thread_is_advice(claim: str, codes: list[str]) -> None:
    """8 squares of 5 in: one strip of 40 in, or two once ends are squared up."""
    found = patternkit.check(pattern(ROW.format(size="5", n=8), "spare 0", night=f"buy {claim}"))
    assert [p.code for p in found if p.code in ("every-thread", "buy-short")] == codes
    assert all(p.advice == (p.code == "every-thread") for p in found if p.code in codes)


def test_nothing_left_of_the_width_is_a_problem() -> None:
    found = problems(pattern(ROW.format(size="5", n=8), "squaring 39 1/2"))
    assert "too-small" in {p.code for p in found}


def test_long_pieces_and_whole_strips_keep_all_of_the_width() -> None:
    """Beside a long piece 10 wide lies what is 29 1/2 of 40; a whole strip is as wide as the cloth."""
    long = PieceDemand("long", 10, 60, 1, may_turn=False, along=True)
    whole = PieceDemand("whole", 0, 3, 2, full=True)
    found = plan([long, whole, PieceDemand("small", 10, 10, 3, may_turn=False)], CuttingSettings(40, squaring=1))
    assert found.strips[0].kind == "along" and any(s.cuts[0].width == 40 for s in found.strips if s.kind == "full")
    rows = [s for s in found.strips if s.kind == "cut"]
    assert found.length == 66 and [sum(c.number for c in s.cuts) for s in rows for _ in range(s.copies)] == [2, 1]
    exact = plan([PieceDemand("p", 10, 60, 4, may_turn=False, along=True)], CuttingSettings(40, squaring=1))
    assert exact.length == 60


def test_sheets_lose_it_from_each_strip_and_ready_cut_squares_do_not() -> None:
    pieces = [PieceDemand("p", 5, 5, 4, may_turn=False)]
    loose = plan_stock(pieces, [StockCloth("fat quarters", 10, 10)], CuttingSettings(10))
    assert sum(s.copies for s in loose.sheets) == 1
    kept = plan_stock(pieces, [StockCloth("fat quarters", 10, 10, squaring=1)], CuttingSettings(10))
    assert sum(s.copies for s in kept.sheets) == 2
    squares = planned(pattern(ROW.format(size="5", n=4), night="sold as squares 10 x 10"))
    assert squares.fabrics["night"].sheet_count == 1
    assert num("10") == squares.fabrics["night"].fabric.usable_width


def test_squaring_must_leave_something() -> None:
    with pytest.raises(CuttingError):
        plan([PieceDemand("p", 1, 1, 1)], CuttingSettings(10, squaring=10))
