"""What templates would save where a ruler cuts: of sliced units whose pieces need none.

A ruler is easier, and lays each piece into a rectangle of its own; by templates shapes lie by turns. Where that takes
fewer steps in which cloth is sold, the plan says so, and the writer decides.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Unit
from patternkit.plan.model import FabricPlan, Plan
from patternkit.project import Project

METHOD = "method templates"


class TemplatesSave(msgspec.Struct, frozen=True):
    """With `method templates` in a unit so much less of a fabric is bought; of one that comes in sheets so many
    `sheets` fewer."""

    unit: str
    fabric: str
    less: Length
    sheets: int = 0


def templates_save(project: Project, plan: Plan) -> list[TemplatesSave]:
    """What is saved of the fabrics of each unit of which templates take less, and no fabric more."""
    found: list[TemplatesSave] = []
    for unit in _ruled(project, plan):
        other = _with_templates(project, unit)
        changed = [] if other is None else list(_changes(unit, plan, other))
        if all(x.less >= 0 and x.sheets >= 0 for x in changed):
            found += changed
    return found


def _ruled(project: Project, plan: Plan) -> Iterator[Unit]:
    """The sliced units of the file itself whose pieces need no template, as nothing is said of how they are cut."""
    units = {unit.name: unit for unit in project.pattern.units.values()}
    met: set[str] = set()
    for making in (count.making for count in plan.counts):
        unit = units.get(making.unit)
        if unit is None or unit.name in met or unit.kind != "slices" or unit.method is not None:
            continue
        if unit.kind_span.file == project.name and any(cut.then != "template" for cut in making.recipe.cuts):
            met.add(unit.name)
            yield unit


def _with_templates(project: Project, unit: Unit) -> Plan | None:
    """The plan of the same pattern with the unit cut by templates; None where that cannot be."""
    text = project.read.text
    begin = unit.kind_span.start
    indent = text[text.rfind("\n", 0, begin) + 1 : begin]
    if indent.strip():
        return None
    other = project.with_values({}, f"{text[:begin]}{METHOD}\n{indent}{text[begin:]}")
    plan, problems = other.plan()
    return None if problems or other.building or other.disagreements else plan


def _changes(unit: Unit, plan: Plan, other: Plan) -> Iterator[TemplatesSave]:
    for key, fabric in plan.fabrics.items():
        by_template = other.fabrics.get(key)
        if by_template is None:
            continue
        less, sheets = _bought(fabric) - _bought(by_template), fabric.sheet_count - by_template.sheet_count
        if less or sheets:
            yield TemplatesSave(unit.title, key, less, sheets)


def _bought(fabric: FabricPlan) -> Length:
    return fabric.buy if fabric.planned is None else fabric.planned
