"""Numbers of triangles, rounds and blades that have names, or are given in brackets."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.project import Project


@pytest.mark.parametrize("units", ["inches", "cm"])
def test_a_count_may_be_given_in_brackets(units: str) -> None:
    text = f'pattern "T"\n    units {units}\n    seam {"1/4" if units == "inches" else "0.75"}\n' + (
        "fabric a\nfabric b\nlet n = 3\n"
        "unit line(many)\n    triangle-strip a, b\n    triangles 2*many + 1\n    ends half, b\n    finished 12 high\n"
        "block cabin\n    log-cabin a 4\n    round a, b\n    log 4\n    rounds n\n"
        "quilt\n    layout\n        line(n)\n        cabin | cabin\n"
    )
    project = Project("t.pattern", text)
    made = {key: making for key, making in project.makings.items()}
    assert sorted(len(list(m.parts)) for k, m in made.items()) == [9, 13]
    assert [p.code for p in run(project) if p.code == "not-understood"] == []


def test_a_count_that_is_no_whole_number_is_told() -> None:
    text = "fabric a\nfabric b\nlet n = 5/2\nunit u\n    triangle-strip a, b\n    triangles n\n    finished 4 high\n"
    codes = [p.code for p in run(Project("t.pattern", text + "quilt\n    tile\n        u\n")) if not p.advice]
    assert codes == ["not-a-count"]
