"""Straight joins: rows, columns, rows of rows, borders: each seam along all that lies on its two sides."""

from __future__ import annotations

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.batch import Action, Batch, CutMeasured, Piece
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.making import Cloth, Making
from patternkit.piecing.offset import box_size
from patternkit.piecing.sewing.desk import Desk, NoCut, Part, trimming


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The parts joined in sewing order; the seams within each row are one passage, those between rows another."""
    try:
        parts = [desk.part(making, p) for p in making.parts]
    except NoCut:
        return []
    passages: list[tuple[str, list[Action]]] = []
    around = making.kind == "border"
    measured = _measured(making, parts, desk)
    if measured and not around:
        passages.append(("border-measured", [CutMeasured(n, about) for n, about in measured.items()]))
    last: set[int] = set()
    for seam in making.seams:
        joins: list[Action] = [*desk.joins(seam, parts)]
        if around and not measured.keys().isdisjoint(seam.right):
            joins = [msgspec.structs.replace(j, fit="measured") for j in joins]
        here = {*seam.left, *seam.right}
        name = _passage(making, seam.start[0] == seam.end[0])
        if passages and passages[-1][0] == name and here & last:
            passages[-1][1].extend(joins)
        else:
            passages.append((name, joins))
        last = here
    if passages:
        passages[-1][1].extend([*trimming(making, "even"), desk.measure(making)])
    found = desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)])
    return [(found, desk.times)]


def _measured(making: Making, parts: list[Part], desk: Desk) -> dict[int, Length]:
    """Strips of a border whose length is on no line of the ruler, by part number, with about how long they are to be:
    they are cut longer, and to the length that is measured before they are sewn on."""
    found: dict[int, Length] = {}
    if making.kind != "border" and not isinstance(making.key, OwnKey):
        return found
    for n, placed in enumerate(making.parts):
        item = parts[n].use.item
        if isinstance(placed.what, Cloth) and isinstance(item, Piece) and item.form == "rectangle":
            long = max(side + desk.seam * 2 for side in box_size(placed.what.outline))
            if long < max(item.width, item.height):
                found[n] = long
    return found


def _passage(making: Making, upright: bool) -> str:
    if making.kind == "border":
        return "border-strips"
    if making.kind == "column":
        return "join-column"
    return "join-row" if upright else "join-rows"
