"""Blocks, settings and borders that quilters know, each said with the reference at hand: a small quilt for each."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternkit.checks import run
from patternkit.desk.files import open_project
from patternkit.rehearsal.gaps import gap_text
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.syntax.format import format_text
from patternkit.work.build import order_of
from tests.setting.build import covers, seams_meet

FILES = sorted((Path(__file__).parent / "sayable" / "traditional").glob("*.pattern"))


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_it_can_be_said_and_sewn(path: Path) -> None:
    """It checks, its patches cover the quilt, and what is sewn by its steps on simulated cloth is what was drawn."""
    text = path.read_text(encoding="utf-8")
    assert format_text(text) == text
    project = open_project(path)
    assert [p.message for p in run(project) if not p.advice] == []
    assert project.top is not None
    covers(project.top)
    seams_meet(project.top)
    order, designs = order_of(project)
    found = rehearsal(order, designs)
    assert [gap_text(gap) for gap in found.gaps] == []
    assert not found.not_rehearsed
