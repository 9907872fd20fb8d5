"""Blocks that may be made if one wishes, and are in the quilt all the same."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.model.reach import reached
from patternkit.problems import Problem, Repair
from patternkit.project import Project

CODES = ("optional-used",)


def check(project: Project) -> Iterable[Problem]:
    """What the quilt is made of is not optional."""
    pattern = project.pattern
    if not any(unit.optional is not None for unit in pattern.units.values()):
        return
    used = reached(pattern)[0] if pattern.quilt is not None else set(pattern.units)
    for unit in pattern.units.values():
        if unit.optional is not None and unit.key in used:
            where = "the quilt is made of it" if pattern.quilt is not None else "the file has no quilt beside it"
            yield Problem(
                "optional-used",
                f"{unit.role.capitalize()} {unit.name} is optional, and {where}.",
                unit.optional,
                causes=("What is optional is made besides the quilt, and is in none of its amounts.",),
                repairs=(Repair("leave out optional"),),
            )
