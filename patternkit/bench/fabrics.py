"""The cutting lists of real patterns: what the planner is asked for each of their fabrics, in every size and
colourway."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from unittest.mock import patch

import msgspec

from patternkit.checks import run
from patternkit.plan.cutting import CutPlan, CuttingSettings, PieceDemand, plan
from patternkit.project import Project

Case = tuple[str, list[PieceDemand], CuttingSettings]
EXAMPLES = Path(__file__).parents[2] / "examples"


def fabric_cases(folders: Sequence[Path]) -> Iterator[Case]:
    """Give every different list of the patterns of some folders; fabrics of whole strips alone are left out, as there
    is nothing to plan in them. Patterns with problems are left out too, and so are plans that rooms ask for in a hurry.
    Where a pattern wants each size in strips of its own, it is planned for the least cloth all the same."""
    seen: set[bytes] = set()
    for file in sorted(file for folder in folders for file in folder.rglob("*.pattern")):
        for name, pieces, asked in _asked(file):
            if not asked.solver:
                continue
            settings = msgspec.structs.replace(asked, simple=False)
            key = msgspec.json.encode(([msgspec.structs.astuple(p)[1:] for p in pieces], str(settings)))
            if key not in seen and not all(piece.full for piece in pieces):
                seen.add(key)
                yield name, pieces, settings


def _asked(file: Path) -> Iterator[Case]:
    """Give what the planner is asked for one file, without the work of answering well."""
    whole = Project(str(file), file.read_text(encoding="utf-8"))
    if any(not problem.advice for problem in run(whole)):
        return
    for size in ("", *(option.name for option in whole.pattern.sizes)):
        for colourway in ("", *(way.name for way in whole.pattern.colourways)):
            asked: list[tuple[list[PieceDemand], CuttingSettings]] = []

            def spy(
                pieces: Sequence[PieceDemand],
                settings: CuttingSettings,
                asked: list[tuple[list[PieceDemand], CuttingSettings]] = asked,
            ) -> CutPlan:
                asked.append((list(pieces), settings))
                return plan(pieces, msgspec.structs.replace(settings, solver=False))

            with patch("patternkit.plan.build.plan", spy):
                whole.in_size(size, colourway).plan()
            for number, (pieces, settings) in enumerate(asked, 1):
                yield "/".join(x for x in (file.stem, size, colourway, str(number)) if x), pieces, settings
