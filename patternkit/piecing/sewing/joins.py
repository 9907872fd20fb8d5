"""Straight joins: rows, columns, rows of rows, borders: each seam along all that lies on its two sides."""

from __future__ import annotations

from patternkit.piecing.batch import Action, Batch
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.desk import Desk


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The parts joined in sewing order; the seams within each row are one passage, those between rows another."""
    try:
        parts = [desk.part(making, p) for p in making.parts]
    except LookupError:
        return []
    passages: list[tuple[str, list[Action]]] = []
    last: set[int] = set()
    for seam in making.seams:
        joins: list[Action] = [*desk.joins(seam, parts)]
        here = {*seam.left, *seam.right}
        name = _passage(making, seam.start[0] == seam.end[0])
        if passages and passages[-1][0] == name and here & last:
            passages[-1][1].extend(joins)
        else:
            passages.append((name, joins))
        last = here
    if passages:
        passages[-1][1].append(desk.measure(making))
    found = desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)])
    return [(found, desk.times)]


def _passage(making: Making, upright: bool) -> str:
    if making.kind == "border":
        return "border-strips"
    if making.kind == "column":
        return "join-column"
    return "join-row" if upright else "join-rows"
