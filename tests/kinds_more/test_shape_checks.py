"""The checks of shapes: the example on each problem page raises its code, the mended one doesn't."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import patternkit
from patternkit.piecing.kinds import kinds
from patternkit.project import Project
from tests.kinds_more.written import worked

PAGES = Path(__file__).parents[2] / "grammar" / "problems"


@pytest.mark.parametrize("code", ["not-a-rectangle", "set-in-seam"])
def test_the_pages_examples(code: str) -> None:
    page = (PAGES / f"{code}.md").read_text(encoding="utf-8")
    wrong, right = re.findall(r"```pattern\n(.*?)```", page, re.S)
    assert code in {p.code for p in patternkit.check(Project("page.pattern", wrong))}
    assert code not in {p.code for p in patternkit.check(Project("page.pattern", right))}


KINDS = [
    "slices",
    "log-cabin",
    "courthouse-steps",
    "partial-seam",
    "triangle-strip",
    "diamond",
    "hexagon",
    "kite",
    "trapezoid",
    "quarter-circle",
    "eight-point-star",
]


@pytest.mark.parametrize("kind", KINDS)
def test_the_examples_of_the_unit_pages(kind: str) -> None:
    page = (PAGES.parent / "units" / f"{kind}.md").read_text(encoding="utf-8")
    examples = re.findall(r"```pattern\n(.*?)```", page, re.S)
    assert examples
    for example in examples:
        makings, problems = worked("\n" + example)
        assert not problems and any(m.kind == kind for m in makings.values())
    known = kinds()[kind]
    for method in known.methods:
        assert len(known.methods) == 1 or f"`{method.name}`" in page or kind == "courthouse-steps"
    for word in known.options:
        assert kind == "courthouse-steps" or f"`{word}" in page, f"{word} is not explained"
