"""The examples are clean, but for the one that is wrong on purpose."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternkit.checks import run
from patternkit.desk.files import open_project

EXAMPLES = Path(__file__).parents[2] / "examples"
CLEAN = [p for p in sorted(EXAMPLES.rglob("*.pattern")) if "wrong" not in p.name and p.parent.name != "shared"]
ADVISED = {"set-in-seam", "bias-outside", "off-ruler"}  # what a true pattern may well be told
FIGHTS = {"geese-medallion", "log-cabin", "hourglass"}
"""Units that are pressed by custom so that neighbours meet the same way; hourglasses of which every second one has its
long seam on the other diagonal.
"""


@pytest.mark.parametrize("path", CLEAN, ids=lambda p: p.stem)
def test_an_example_has_no_problem(path: Path) -> None:
    found = run(open_project(path), guarded=False)
    assert [p.message for p in found if not p.advice] == []
    assert {p.code for p in found} - ({"seams-fight"} if path.stem in FIGHTS else set()) <= ADVISED
    assert ("seams-fight" in {p.code for p in found}) == (path.stem in FIGHTS)


def test_the_wrong_example_has_a_problem_for_each_of_its_eight_ways() -> None:
    found = run(open_project(EXAMPLES / "wrong-in-eight-ways.pattern"), guarded=False)
    assert [p.code for p in found] == [
        "fabric-not-used",
        "claim-differs",
        "unknown-word",
        "make-differs",
        "finished-or-measures",
        "not-used",
        "unknown-name",
        "claim-differs",
    ]
