"""The checks of shapes: the example on each problem page raises its code, the mended one doesn't."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import patternkit
from patternkit.project import Project

PAGES = Path(__file__).parents[2] / "grammar" / "problems"


@pytest.mark.parametrize("code", ["not-a-rectangle", "set-in-seam"])
def test_the_pages_examples(code: str) -> None:
    page = (PAGES / f"{code}.md").read_text(encoding="utf-8")
    wrong, right = re.findall(r"```pattern\n(.*?)```", page, re.S)
    assert code in {p.code for p in patternkit.check(Project("page.pattern", wrong))}
    assert code not in {p.code for p in patternkit.check(Project("page.pattern", right))}
