"""A pattern is planned once: what is bought by the list of cuts is what the booklet says."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from patternkit import api
from patternkit.booklet.content.context import METRIC_LOT, context
from patternkit.desk.cutting import cuts_text
from patternkit.plan import build
from patternkit.plan.model import Plan
from patternkit.project import Project

EXAMPLES = Path(__file__).parents[2] / "examples"
PATHS = (EXAMPLES / "lantern-walk.pattern", EXAMPLES / "traditional" / "four-patch-chain.pattern")
LAYOUT = """pattern "Three rows"
fabric night dark
fabric sand light
block post
    row night | sand
    finished 4 x 2
block rail
    row sand | night
    finished 4 x 2
quilt
    layout
        post | rail
        rail | post
        post | rail
    border 2 night
"""


@pytest.fixture
def planned(monkeypatch: pytest.MonkeyPatch) -> list[Plan]:
    """The plans of whole patterns that are made with the solver."""
    made: list[Plan] = []
    make = build.make_plan

    def counted(*args: object, **wishes: object) -> tuple[Plan, list[object]]:
        plan, problems = make(*args, **wishes)  # type: ignore[arg-type]
        if wishes.get("solver"):
            made.append(plan)
        return plan, list(problems)

    monkeypatch.setattr(build, "make_plan", counted)
    return made


@pytest.mark.parametrize("path", PATHS, ids=lambda p: p.stem)
def test_cuts_and_booklet_ask_for_one_and_the_same_plan(path: Path, planned: list[Plan]) -> None:
    project = api.load(path)
    plan, _ = project.plan()
    cuts_text(project, plan, 0)
    assert context(project).plan is plan and project.plan()[0] is plan
    api.make_booklet(project, every_size=False)
    ways = len(project.pattern.colourways)  # each colourway is bought by itself
    assert len(planned) == 1 + ways and planned[0] is plan


def test_rows_that_are_alike_are_one_in_the_plan_and_in_the_booklet() -> None:
    project = Project("rows.pattern", LAYOUT)
    plan, problems = project.plan(solver=False)
    assert not problems
    rows = {str(c.making.key): c.needed for c in plan.counts if c.making.role == "row"}
    assert rows == {"rows 1 and 3": 2, "row 2": 1}
    assert context(project, solver=False).plan is plan


def test_cloth_sold_by_the_metre_is_another_wish() -> None:
    project = api.load(PATHS[0])
    plan, metric = project.plan(solver=False)[0], context(project, units="cm", solver=False).plan
    assert metric is project.plan(solver=False, lot=METRIC_LOT)[0] is not plan
    for key, fabric in metric.fabrics.items():
        assert fabric.buy.fraction % METRIC_LOT == 0 and fabric.used == plan.fabrics[key].used
        assert plan.fabrics[key].buy.fraction % Fraction(9, 2) == 0
