"""Units made and not used, fabrics declared and not used or used under two names."""

from __future__ import annotations

from typing import Iterable

from patternkit.problems import Label, Problem
from patternkit.project import Project

CODES = ("not-used", "fabric-not-used", "fabric-twice")


def check(project: Project) -> Iterable[Problem]:
    """Anything named that the quilt never uses, and fabrics that look like one fabric named twice."""
    yield from _units(project)
    yield from _fabrics(project)


def _units(project: Project) -> Iterable[Problem]:
    if project.pattern.quilt is None or project.top is None:
        return
    used = {c.making.unit for c in project.quick_plan[0].counts} | {c.making.key for c in project.quick_plan[0].counts}
    for unit in project.pattern.units.values():
        if unit.name not in used and unit.key not in used:
            yield Problem("not-used", f"{unit.role} {unit.name} is made and never used in the quilt.", unit.span,
                          advice=True)


def _fabrics(project: Project) -> Iterable[Problem]:
    pattern = project.pattern
    used = {p.fabric for u in pattern.units.values() for row in u.rows for p in row.pieces if p.fabric}
    for unit in pattern.units.values():
        used |= {v for v in unit.fabrics.values() if v in _words(unit.options)}
    for making in project.makings.values():
        used |= {c.fabric for c in making.recipe.cuts}
    if project.top is not None:
        used |= {line.fabric for line in project.quick_plan[0].lines}
    quilt = pattern.quilt
    if quilt is not None:
        used |= {p.fabric for row in quilt.rows for p in row.pieces}
        used |= {f.fabric for f in quilt.finishing} | ({quilt.setting.fabric} if quilt.setting else set())
        for edge in (*quilt.borders, *([quilt.sashing] if quilt.sashing else [])):
            used |= {p.fabric for p in (edge.piece, edge.corner) if p is not None}
    swapped = {other for way in pattern.colourways for other in way.swaps.values()}
    titles: dict[str, str] = {}
    for key, fabric in pattern.fabrics.items():
        if key not in used and key not in swapped:
            yield Problem("fabric-not-used", f"Fabric {key} ({fabric.title}) is named and never used.", fabric.span,
                          advice=True)
        title = fabric.title.casefold().strip()
        if title in titles and not pattern.colourway:
            first = pattern.fabrics[titles[title]]
            yield Problem("fabric-twice", f"{fabric.title} is one printed name for two fabrics, {titles[title]} and {key}.",
                          fabric.span, (Label(first.span, "the other is here"),), advice=True,
                          causes=("A reader takes them for one and the same cloth, bought once.",))
        titles.setdefault(title, key)


def _words(options: Iterable[object]) -> set[str]:
    found: set[str] = set()
    for option in options:
        for clause in getattr(option, "clauses", ()):
            for arg in clause:
                name = getattr(arg, "name", None)
                if isinstance(name, str):
                    found.add(name)
    return found
