"""Every example quilt: its joints against the independent finder, and its plan proved."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternkit.cli import opened
from patternkit.pressing.planner import plan_pressing

from .test_finder import counted, expected

FOLDER = Path(__file__).parents[2] / "examples"
FILES = sorted(FOLDER.glob("*.pattern")) + sorted((FOLDER / "traditional").glob("*.pattern"))


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_joints_and_plan(path: Path) -> None:
    project = opened(path, "", "", ())
    values = {key: fabric.value for key, fabric in project.pattern.fabrics.items()}
    for top, _ in project.roots:
        found = counted(top)
        for key in [k for k in found if k[0] == "spin"]:  # type: ignore[index]
            del found[key]  # the other finder knows nothing of spun centres
        assert found == expected(top)
        plan = plan_pressing(top, values)
        assert plan.proved and plan.nested <= plan.total
