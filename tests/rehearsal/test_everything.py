"""Every example is sewn in all its sizes and colourways, and all of its releases."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from patternkit.checks import run
from patternkit.project import Project
from patternkit.rehearsal.gaps import gap_text
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of

EXAMPLES = Path(__file__).parents[2] / "examples"
TRIED = Path(__file__).parents[1]
FILES = sorted(p for p in EXAMPLES.rglob("*.pattern") if "wrong" not in p.name)
OTHERS = sorted((*(TRIED / "sayable").glob("*.pattern"), *(TRIED / "booklet").glob("*.pattern")))


def test_the_examples_are_there() -> None:
    assert len(FILES) > 30


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_every_size_and_colourway_of_an_example_holds(path: Path) -> None:
    """The project of the file is shared: what sizes and colourways have in common is worked out once."""
    project = Project(path.name, path.read_text(encoding="utf-8"))
    pattern = project.pattern
    sizes, ways = ["", *(s.name for s in pattern.sizes)], ["", *(w.name for w in pattern.colourways)]
    for size, way in product(sizes, ways):
        order, designs = order_of(project.in_size(size, way))
        found = rehearsal(order, designs)
        where = (size, way)
        assert (where, [gap_text(g) for g in found.gaps], found.not_rehearsed) == (where, [], ())
        assert (order.size, order.colourway) == where
        assert {run.release for run in order.runs} >= set(range(len(pattern.parts))), "a release that sews nothing"


@pytest.mark.parametrize("path", OTHERS, ids=lambda p: p.stem)
def test_what_is_tried_elsewhere_holds(path: Path) -> None:
    """The patterns of other tests, those that are sound: all that the language can say."""
    project = Project(path.name, path.read_text(encoding="utf-8"))
    if any(not p.advice for p in run(project)):
        pytest.skip("not sound")
    order, designs = order_of(project)
    assert [gap_text(g) for g in rehearsal(order, designs).gaps] == []
