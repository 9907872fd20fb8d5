"""Everything a pattern should be able to say: a small file for each area, which checks, formats, and gives its cuts."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternkit.checks import run
from patternkit.desk.files import open_project
from patternkit.piecing.unknowns import of_whole
from patternkit.syntax.format import format_text

FILES = sorted((Path(__file__).parent / "sayable").glob("*.pattern"))
README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_it_can_be_said(path: Path) -> None:
    project = open_project(path)
    assert [p.message for p in run(project) if not p.advice] == []
    plan, problems = project.quick_plan
    assert problems == [] or problems == ()
    assert plan.lines
    text = path.read_text(encoding="utf-8")
    assert format_text(text) == text


def test_the_example_of_the_front_page_adds_up(tmp_path: Path) -> None:
    (tmp_path / "lantern.pattern").write_text(README.split("```pattern\n")[1].split("```")[0], encoding="utf-8")
    project = open_project(tmp_path / "lantern.pattern")
    assert [p.message for p in run(project)] == []
    inch = project.solution.value(of_whole("w"))
    assert inch is not None and inch.value(project.pattern.parameters) == 5 * 9 + 2 * 2 + 2 * 4
