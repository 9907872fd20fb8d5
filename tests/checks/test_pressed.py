"""Every conflict is told, whether the file or the custom of a unit presses the seams; the count is the finder's own."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.pressing.conflicts import conflicts
from patternkit.project import Project

GEESE = """fabric night dark
fabric glow light

unit goose
    flying-geese glow, night
    finished 4 x 2
{press}
quilt
    across {across}, down 1
    tile
        goose
"""


@pytest.mark.parametrize("across", [2, 5])
@pytest.mark.parametrize("press", ["", "    press away from glow\n"])
def test_geese_side_by_side_meet_the_same_way(across: int, press: str) -> None:
    """All pressed toward the sky: the seams of neighbours meet at each lower corner with both allowances on one side.

    Identical units side by side with a seam that ends at the shared edge always conflict unless they are turned,
    mirrored or pressed in two versions (derived from geometry, no published source).
    """
    project = Project("geese.pattern", GEESE.format(across=across, press=press))
    found = [p for p in run(project, guarded=False) if p.code == "seams-fight"]
    assert project.top is not None
    assert sum(p.count for p in found) == across - 1
    assert sum(p.count for p in found) == sum(c.count for c in conflicts(project.top) if c.verdict == "conflict")
    (problem,) = found
    assert problem.span.file == "geese.pattern"
    # pressing "the seam between sky and goose" the other way turns both wings, and they lie alike again: no offer
    assert not problem.repairs and "the same seam of the unit" in " ".join(problem.causes)
    other = Project("geese.pattern", GEESE.format(across=across, press="    press toward glow\n"))
    assert sum(p.count for p in run(other, guarded=False) if p.code == "seams-fight") == across - 1
    assert ("The method of these units" in " ".join(problem.causes)) == (press == "")


def test_seams_left_to_the_planner_are_no_conflict() -> None:
    text = (
        "fabric night dark\nfabric glow light\n\nblock pair\n    row night 2 x 4 | glow 2 x 4\n\n"
        "quilt\n    across 3, down 3\n    tile\n        pair\n"
    )
    assert [p.code for p in run(Project("free.pattern", text), guarded=False)] == []
