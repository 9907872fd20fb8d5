"""A seam allowance in the wrong unit is advice, with the number in the other unit."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.problems import Problem
from patternkit.project import Project

TEXT = """pattern "Net"
    units {}
    seam {}
fabric kelp dark
block net
    patch kelp 20
quilt
    across 3, down 4
    tile
        net
"""


def advice(units: str, seam: str) -> list[Problem]:
    return [p for p in run(Project("net.pattern", TEXT.format(units, seam)), guarded=False) if p.code == "seam-unusual"]


@pytest.mark.parametrize(
    ("units", "seam", "offered"),
    [
        ("cm", "1/4", ["1/4 in", "0.75 cm"]),
        ("cm", "2", ["0.75 cm"]),
        ("inches", "1 1/4", ["1 1/4 cm", "1/4 in"]),
        ("inches", "0.75", ["0.75 cm", "1/4 in"]),
        ("inches", "1 cm", []),
        ("inches", "2 cm", ["1/4 in"]),
        ("mm", "1/4", ["1/4 in", "7.5 mm"]),
    ],
)
def test_the_number_in_another_unit_is_offered(units: str, seam: str, offered: list[str]) -> None:
    found = advice(units, seam)
    assert len(found) == bool(offered)
    for p in found:
        assert p.advice and [r.replacement for r in p.repairs] == offered
        for r in p.repairs:
            assert advice(units, str(r.replacement)) == []


@pytest.mark.parametrize(
    ("units", "seam"),
    [
        ("inches", "1/8"),
        ("inches", "1/4"),
        ("inches", "3/8"),
        ("inches", "5/8"),
        ("cm", "0.75"),
        ("cm", "1.5"),
        ("mm", "7"),
    ],
)
def test_seams_that_are_sewn_pass_in_silence(units: str, seam: str) -> None:
    assert advice(units, seam) == []


def test_where_nothing_is_said_nothing_is_advised() -> None:
    assert [p.code for p in run(Project("p.pattern", TEXT.format("cm", "1").replace("    seam 1\n", "")))] == []
