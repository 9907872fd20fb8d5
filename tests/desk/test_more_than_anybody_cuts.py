"""Numbers that no quilt has: told at once, by every command alike, and nothing is planned from them."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from patternkit.cli import main
from patternkit.plan import build
from patternkit.plan.cutting import CuttingError, CuttingSettings, PieceDemand, StockCloth, plan_stock, stock

LOGS = """pattern "Slip of a key"
fabric sea
    sold as fat-quarters 18 x 21
fabric foam

block cabin
    log-cabin sea 2
    round sea, foam {log}
    rounds 4
    log 2 1/2
"""


def test_a_log_as_wide_as_a_town_is_refused_before_it_is_planned(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "town.pattern"
    path.write_text(LOGS.format(log="100000"), encoding="utf-8")

    def never(*_: object) -> object:
        raise AssertionError("what cannot be cut is not planned")

    monkeypatch.setattr(build, "_fabric", never)
    done = CliRunner().invoke(main, ["cuts", str(path)])
    checked = CliRunner().invoke(main, ["check", str(path)])
    assert done.exit_code == checked.exit_code == 1
    problems = [x for x in checked.output.splitlines() if "problem [" in x]
    assert problems and problems == [x for x in done.output.splitlines() if "problem [" in x]


def test_the_same_logs_of_a_usual_width_are_planned(tmp_path: Path) -> None:
    path = tmp_path / "cabin.pattern"
    path.write_text(LOGS.format(log="2 1/2"), encoding="utf-8")
    done = CliRunner().invoke(main, ["cuts", str(path)])
    assert done.exit_code == 0 and "fat quarter" in done.output


@pytest.mark.parametrize("piece", [PieceDemand("a", 10, 10, 60_000), PieceDemand("s", 0, 10, 12_000, full=True)])
def test_more_sheets_than_anybody_cuts(piece: PieceDemand, monkeypatch: pytest.MonkeyPatch) -> None:
    sheets = [StockCloth("strips", 40, 10)]
    with pytest.raises(CuttingError, match="more than 5000 of the largest sheets"):
        plan_stock([piece], sheets, CuttingSettings(40))
    monkeypatch.setattr(stock, "MOST_SHEETS", 20)
    few = PieceDemand(piece.id, piece.width, piece.height, 20, full=piece.full)
    assert sum(s.copies for s in plan_stock([few], sheets, CuttingSettings(40)).sheets) == (20 if few.full else 5)
