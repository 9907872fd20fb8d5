"""Straight joins: rows, columns, rows of rows, borders: each seam along all that lies on its two sides."""

from __future__ import annotations

import msgspec

from patternkit.piecing.batch import Action, Batch, CutMeasured, Piece
from patternkit.piecing.kinds.joins_shapes import LINE, ROWS
from patternkit.piecing.making import Making
from patternkit.piecing.offset import box_size
from patternkit.piecing.sewing.cloths import parts_of
from patternkit.piecing.sewing.desk import Desk, NoCut, Part, trimming
from patternkit.piecing.sewing.shaped import joins
from patternkit.piecing.sewn.trimming import untrimmed
from patternkit.piecing.templates import is_rectangle


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The parts joined in sewing order; the seams within each row are one passage, those between rows another."""
    if making.recipe.method in (LINE, ROWS):
        return _shapes(making, desk)
    try:
        parts = [desk.part(making, p) for p in making.parts]
    except NoCut:
        return []
    passages: list[tuple[str, list[Action]]] = []
    around = making.kind == "border"
    measured = cut_measured(making, parts, desk)
    if around:
        wide = [m for m in measured if m.edge is not None and not _is_long(m, parts)]
        passages += [("coping-measured", [*wide])] if wide else []
        measured = [m for m in measured if m not in wide]
    elif measured:
        passages.append(("measured", [*measured]))
    last: set[int] = set()
    for seam in making.seams:
        joins: list[Action] = [*desk.joins(seam, parts)]
        if around and not {m.part for m in measured}.isdisjoint(seam.right):
            joins = [msgspec.structs.replace(j, fit="measured") for j in joins]
        here = {*seam.left, *seam.right}
        name = _passage(making, seam.start[0] == seam.end[0])
        if passages and passages[-1][0] == name and here & last:
            passages[-1][1].extend(joins)
        else:
            passages.append((name, joins))
        last = here
    if passages:
        passages[-1][1].extend([*trimming(making, "even", desk.ruler), desk.measure(making)])
    found = desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)])
    return [(found, desk.times)]


def _shapes(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """Shapes joined edge by edge: each row from its left end, then the rows."""
    parts = parts_of(making, desk)
    passages: list[tuple[str, list[Action]]] = []
    done: set[int] = set()
    for n, seam in enumerate(making.seams):
        own = {*seam.left, *seam.right}
        name = "join-rows" if len(seam.right) > 1 or (done & own and done - own) else "join-row"
        passages.append((name, [*joins(making, n, parts, desk)]))
        done |= own
    measured = [desk.measure(making)] if is_rectangle(making.outline) else []
    found = desk.batch([p.use for p in parts], [*passages, ("measure", measured)], [(desk.thing(making), 1)])
    return [(found, desk.times)]


def cut_measured(making: Making, parts: list[Part], desk: Desk) -> list[CutMeasured]:
    """Plain pieces that are as long as what they are sewn to, which is on no line of the ruler, with about how long
    that is: they are cut larger, and to what is measured before they are sewn on."""
    found = []
    for n, placed in enumerate(making.parts):
        item = parts[n].use.item
        if isinstance(placed.what, Making) or not isinstance(item, Piece) or item.form != "rectangle":
            continue
        wide, high = (side + desk.seam * 2 for side in box_size(untrimmed(making, placed)))
        (x, y), (u, v), _, _ = parts[n].outline
        level = abs(u - x) > abs(v - y)  # a turned part has another edge first
        for edge, about in zip(parts[n].edges, (wide, high) if level else (high, wide), strict=False):
            if about < (item.height if edge % 2 else item.width):
                found.append(CutMeasured(n, about, edge))
    return found


def _is_long(cut: CutMeasured, parts: list[Part]) -> bool:
    """Whether the edge that is measured is the longer one of its piece."""
    item = parts[cut.part].use.item
    assert isinstance(item, Piece) and cut.edge is not None
    return max(item.width, item.height) == (item.height if cut.edge % 2 else item.width)


def _passage(making: Making, upright: bool) -> str:
    if making.kind == "border":
        return "border-strips"
    if making.kind == "column":
        return "join-column"
    return "join-row" if upright else "join-rows"
