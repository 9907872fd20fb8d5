"""Half-squares of waste against what waste there is."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.english import times
from patternkit.piecing.keys import AnyKey
from patternkit.problems import Problem, Repair
from patternkit.project import Project

CODES = ("not-enough-waste",)


def check(project: Project) -> Iterable[Problem]:
    """More half-squares from the corners of a unit than come off of those that the quilt needs."""
    pattern = project.pattern
    if project.top is None or (pattern.quilt is not None and pattern.quilt.broken):
        return
    if not any(unit.kind == "bonus" for unit in pattern.units.values()):
        return
    takers: dict[AnyKey, str] = {}  # the unit that takes the waste of another, by the key of that
    for count in project.draft[0].counts:
        waste, unit = count.making.recipe.waste, pattern.units.get(count.making.key.of)
        if waste is None or unit is None:
            continue
        source = pattern.units[waste.key.of]
        taker = takers.setdefault(waste.key, unit.name)
        if source.other_methods:
            yield Problem(
                "not-enough-waste",
                f"{unit.name} is made of the waste of {source.name}, which is told in another way too, that has none.",
                unit.kind_span,
                causes=("Sewn in the other way, nothing is there to make it of.",),
                repairs=(Repair(f"leave out the other methods of {source.name}"),),
            )
        if count.needed <= count.given:
            continue
        used = count.given // waste.each
        come = f"and {waste.each} come off of each" if waste.each > 1 else "and one comes off of each"
        why = f"{source.name} is used {times(used)}, {come}." if used else f"The quilt has no {source.name}."
        if not used and count.waste_of is not None:
            why = f"The waste of {source.name} is taken for {taker}."
        yield Problem(
            "not-enough-waste",
            f"The quilt needs {count.needed} of {unit.name}, and the waste of {source.name} gives {count.given}.",
            unit.kind_span,
            causes=(why,),
            repairs=(Repair("write half-square with its two fabrics for what is missing, as a unit of its own"),),
        )
