"""Patches that are fussy cut, and the repeat of their print, without which nobody can count them."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.units import show, show_size

NEEDS_SIZES = True
CODES = ("motif-repeat",)


def check(project: Project) -> Iterable[Problem]:
    """One problem for each patch that can't be counted, and advice for a repeat that nothing is cut by."""
    pattern, used = project.pattern, set[str]()
    if not any(f.repeat for f in pattern.fabrics.values()) and not any(u.method for u in pattern.units.values()):
        return
    from patternkit.piecing.kinds.patch import is_fussy

    for key, making in project.makings.items():
        unit = pattern.units.get(key)
        if unit is None or making is None or not is_fussy(unit):
            continue
        for cut in making.recipe.cuts:
            fabric = pattern.fabrics.get(cut.fabric)
            if fabric is None:
                continue
            used.add(fabric.key)
            span = unit.method.span if unit.method is not None else unit.kind_span
            units = pattern.settings.units
            if fabric.repeat is None:
                yield Problem(
                    "motif-repeat",
                    f"How many pieces of {unit.name} lie on the cloth is not known: {fabric.title} has no repeat.",
                    span,
                    causes=("Pieces that are fussy cut are counted by how far the motifs of the print lie apart.",),
                    repairs=(Repair(f"write repeat under fabric {fabric.key}, its width and its height"),),
                )
            elif fabric.in_sheets:
                yield Problem(
                    "motif-repeat",
                    f"Pieces of {unit.name} are fussy cut, which is counted on a length of cloth; {fabric.title} "
                    "comes in pieces.",
                    span,
                    repairs=(Repair("leave out the method", span), Repair("take cloth that is sold by a length")),
                )
            elif fabric.usable_width - cut.width < fabric.repeat[0]:
                yield Problem(
                    "motif-repeat",
                    f"No piece of {unit.name}, {show_size(cut.width, cut.height, units)}, is sure to have a motif of "
                    f"{fabric.title}: they lie {show(fabric.repeat[0], units)} apart, and the cloth is "
                    f"{show(fabric.usable_width, units)} wide.",
                    span,
                    causes=("Where the first motif lies is not known: one is whole within a repeat and a piece.",),
                )
    for fabric in pattern.fabrics.values():
        if fabric.repeat_span is not None and fabric.key not in used:
            yield Problem(
                "motif-repeat",
                f"Nothing of {fabric.title} is fussy cut, so its repeat says nothing.",
                fabric.repeat_span,
                causes=("method fussy cut under a patch cuts each piece round a motif of its own.",),
                advice=True,
            )
