"""Backing and batting: the cloth they are bought as, and how far they reach beyond the quilt."""

from __future__ import annotations

from pathlib import Path

from patternkit import api
from patternkit.plan.model import Plan

RUNNER = """pattern "Runner"
    units cm
    usable width 106

fabric shell
    sold as fat-quarters 45 x 53
    have 9

block plain
    patch shell 32

quilt
    across 4
    tile
        plain
    backing shell, overage 5
"""


def plan(tmp_path: Path, text: str) -> Plan:
    path = tmp_path / "runner.pattern"
    path.write_text(text, encoding="utf-8")
    return api.load(path).plan(solver=False)[0]


def test_backing_of_a_fabric_in_sheets_is_bought_by_length(tmp_path: Path) -> None:
    """138 x 42 cm from cloth 106 cm wide: two panels of 42 cm, 2 x 106 - 2 cm of joins being enough."""
    back = plan(tmp_path, RUNNER).backing
    assert back is not None
    assert back.panels == 2
    assert back.seams == "vertical"


def test_a_usable_width_that_was_said_of_the_fabric_holds(tmp_path: Path) -> None:
    back = plan(tmp_path, RUNNER.replace("    have 9\n", "    have 9\n    usable width 150\n")).backing
    assert back is not None
    assert back.panels == 1


def test_batting_reaches_no_further_than_the_backing_behind_it(tmp_path: Path) -> None:
    cm = 127 / 50
    found = plan(tmp_path, RUNNER).batting
    assert found is not None
    assert [round(float(side.fraction) * cm, 6) for side in found] == [138, 42]
    more = plan(tmp_path, RUNNER + "    batting overage 6\n").batting
    assert more is not None
    assert [round(float(side.fraction) * cm, 6) for side in more] == [140, 44]
