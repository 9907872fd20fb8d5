"""Pieces longer than the usable width: joined from strips, which the booklet says and the writer should know."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.source import Span
from patternkit.units import show, show_size

NEEDS_SIZES = True
CODES = ("joined-piece", "too-long")


def check(project: Project) -> Iterable[Problem]:
    """Pieces inside a unit that the cloth is too narrow for, and pieces that no cloth here can give.

    A piece is told of once, here or by the plan.
    """
    pattern = project.pattern
    units = pattern.settings.units
    reported: set[Span] = set()  # where it would be told again
    for key, making in project.makings.items():
        unit = pattern.units[key]
        for cut in making.recipe.cuts:
            if cut.then == "strip" or cut.fabric not in pattern.fabrics:
                continue
            fabric = pattern.fabrics[cut.fabric]
            usable = fabric.usable_width
            long, high = max(cut.width, cut.height), min(cut.width, cut.height)
            if high > usable or (long > usable and cut.then):
                reported.add(cut.stated or fabric.span)
                yield Problem(
                    "too-long",
                    f"A piece of {cut.fabric} for {unit.name}, "
                    f"{show_size(cut.width, cut.height, units)}, is wider than the cloth "
                    f"({show(usable, units)} usable).",
                    unit.kind_span,
                )
            elif long > usable:
                yield Problem(
                    "joined-piece",
                    f"A piece of {cut.fabric} for {unit.name} is {show(long, units)} long; "
                    f"the cloth has {show(usable, units)} of usable width, so it is joined from strips.",
                    unit.kind_span,
                    advice=True,
                )
    sheets = any(
        f.stock is not None for f in pattern.fabrics.values()
    )  # whether a piece fits a sheet, only a plan knows
    for problem in (project.quick_plan if sheets else project.draft)[1]:
        if problem.span not in reported:
            yield problem
