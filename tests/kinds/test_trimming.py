"""``trimming yes``: half-squares and geese are cut larger than they need be, and trimmed to size."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.project import Project
from patternkit.units import mixed

TEXT = """\
pattern "Trimmed"
    trimming {yes}
fabric night dark
fabric glow light

unit vane
    half-square night, glow
    finished 3
{method}
unit goose
    flying-geese night, glow
    finished 4 x 2
    method four at a time

unit plain
    quarter-square night, glow
    finished 4
"""


def cut(yes: str, method: str = "") -> dict[str, list[str]]:
    """The sides of what is cut for each unit, and that nothing is wrong with it."""
    project = Project("t.pattern", TEXT.format(yes=yes, method=method))
    assert [p for p in run(project, guarded=False) if not p.advice] == []
    return {key: [mixed(c.width.fraction) for c in making.recipe.cuts] for key, making in project.makings.items()}


def test_half_squares_and_geese_are_cut_larger() -> None:
    """Finished 3 from squares of 3 7/8, or of 4 to trim; geese of 4 x 2 from 5 1/4 and 2 7/8, or small squares of 3:
    https://www.allpeoplequilt.com/video-index/bright-new-day-block-3-tips"""
    no, yes = cut("no"), cut("yes")
    assert no["vane"] == ["3 7/8", "3 7/8"] and yes["vane"] == ["4", "4"]
    assert no["goose"] == ["5 1/4", "2 7/8"] and yes["goose"] == ["5 1/4", "3"]
    assert no["plain"] == yes["plain"]


@pytest.mark.parametrize(
    ("method", "side"),
    [("    method oversize 1/4\n", "4 1/8"), ("    method eight at a time\n", "8"), ("    cut 4 1/4\n", "4 1/4")],
)
def test_what_a_unit_says_itself_holds(method: str, side: str) -> None:
    assert set(cut("yes", method)["vane"]) == {side}
