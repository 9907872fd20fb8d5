"""Pieces longer than the usable width: joined from strips, which the booklet says and the writer should know."""

from __future__ import annotations

from typing import Iterable

from patternkit.lengths import Length
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.units import show

NEEDS_SIZES = True
CODES = ("joined-piece", "too-long")


def check(project: Project) -> Iterable[Problem]:
    """Pieces inside a unit that the cloth is too narrow for, and pieces that no cloth here can give."""
    pattern = project.pattern
    units = pattern.settings.units
    for key, making in project.makings.items():
        unit = pattern.units[key]
        for cut in making.recipe.cuts:
            if cut.then == "strip" or cut.fabric not in pattern.fabrics:
                continue
            usable = pattern.fabrics[cut.fabric].usable_width
            long, high = max(cut.width, cut.height), min(cut.width, cut.height)
            if high > usable or (long > usable and cut.then):
                yield Problem("too-long", f"A piece of {cut.fabric} for {unit.name}, {_size(cut.width, cut.height, project)}, "
                              f"is wider than the cloth ({show(usable, units)} usable).", unit.kind_span)
            elif long > usable:
                yield Problem("joined-piece", f"A piece of {cut.fabric} for {unit.name} is {show(long, units)} long; the cloth "
                              f"has {show(usable, units)} of usable width, so it is joined from strips.", unit.kind_span,
                              advice=True)
    yield from project.quick_plan[1]


def _size(width: Length, height: Length, project: Project) -> str:
    units = project.pattern.settings.units
    return f"{show(width, units)} x {show(height, units)}"
