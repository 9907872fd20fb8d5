"""Log cabins and courthouse steps: each log along all that lies on its side of what is sewn so far."""

from __future__ import annotations

from patternkit.piecing.batch import Action, Batch, Measure
from patternkit.piecing.making import Making, Point
from patternkit.piecing.sewing.desk import Desk, Passages, trimming
from patternkit.piecing.sewing.joins import cut_measured
from patternkit.piecing.sewing.paper import on_paper

ROUND = 4


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """One at a time; measured after every round of logs. On paper piece by piece round the centre."""
    if making.recipe.method.on_paper:
        return on_paper(making, desk)
    parts = [desk.part(making, p) for p in making.parts]
    actions: list[Action] = []
    for n, seam in enumerate(making.seams, 1):
        actions += desk.joins(seam, parts)
        if n % ROUND == 0 and n < len(making.seams):
            actions.append(_measure(making, n + 1, desk))
    actions += [*trimming(making, "even", desk.ruler), desk.measure(making)]
    passages: Passages = [("measured", [*cut_measured(making, parts, desk)]), (making.recipe.method.phrase, actions)]
    found = desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)])
    return [(found, desk.times)]


def _measure(making: Making, sewn: int, desk: Desk) -> Measure:
    """What the first parts measure, sewn together."""
    points: list[Point] = [q for p in making.parts[:sewn] for q in p.place.outline(p.what.outline)]
    width, height = [max(p[i] for p in points) - min(p[i] for p in points) + desk.seam * 2 for i in (0, 1)]
    sewn_already = any(isinstance(p.what, Making) for p in making.parts[1:])  # logs that have seams, and lie beside it
    return Measure(width, height, parts=(0,) if sewn_already else ())
