"""Quilts on point: diagonal rows with triangles at their ends, and the centre that they are joined to.

The triangles are cut a little larger than they are drawn, and what is too much is trimmed when the centre is whole. So
a row is rough: its ends reach out, and rows are laid against each other by their seams.
"""

from __future__ import annotations

import msgspec

from patternkit.piecing.batch import Action, Batch, Edge, Fit, Join, Piece, TrimBeyond, Use
from patternkit.piecing.making import Making, Outline
from patternkit.piecing.setting.on_point import BeyondPoints
from patternkit.piecing.sewing.desk import Desk, Part, Passages, edges_on, plain, toward, xy
from patternkit.piecing.sewing.joins import cut_measured

LONG, TO_APEX, FROM_APEX = 0, 1, 2  # the edges of a quarter of a square
SLANT = 1  # the long edge of a half square


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """A diagonal row, or the centre."""
    return _row(making, desk) if making.kind == "diagonal-row" else _centre(making, desk)


def _row(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The triangle at the lower left end, the blocks, the triangle at the other end, from the left."""
    inner = [desk.part(making, p) for p in making.parts[1:-1]]
    cuts = making.recipe.cuts
    ends = (cuts[-1], cuts[-1]) if cuts[-1].count == 2 else (cuts[-2], cuts[-1])
    parts: list[Part] = []
    edges = []
    for cut, placed, first in ((ends[0], making.parts[0], True), (ends[1], making.parts[-1], False)):
        item = desk.piece(cut)
        edge, turned = _end(item, placed.what.outline, first)
        parts.append(Part(Use(item, turned), plain(placed.place.outline(placed.what.outline)), ()))
        edges.append(edge)
    table = [parts[0], *inner, parts[1]]
    actions: list[Action] = []
    last = len(table) - 1
    for n, seam in enumerate(making.seams):
        if 0 < n < last - 1:
            actions += desk.joins(seam, table)
        if n == 0:
            block = _beside(table[1], True)
            fit = _fit(parts[0].use.item, edges[0])
            side = {"left": 0, "right": 1}.get(seam.pressed, -1)
            actions.append(Join((Edge(1, block),), (Edge(0, edges[0]),), side, fit, ears=True))
        if n == last - 1:
            block = _beside(table[last - 1], False)
            fit = _fit(parts[1].use.item, edges[1])
            side = {"left": last - 1, "right": last}.get(seam.pressed, -1)
            actions.append(Join((Edge(last - 1, block),), (Edge(last, edges[1]),), side, fit, ears=True))
    passages: Passages = [("measured", [*cut_measured(making, table, desk)]), (making.recipe.method.phrase, actions)]
    found = desk.batch([p.use for p in table], passages, [(desk.thing(making), 1)])
    return [(msgspec.structs.replace(found, rough=True), desk.times)]


def _end(item: object, outline: Outline, first: bool) -> tuple[int, int]:
    """Which edge of an end triangle is sewn to the block beside it, and how it lies turned.

    A corner triangle has its long edge there. Of a side triangle it is the short edge that leads to its right angle, or
    from it, walked clockwise: that angle lies level with the row's lower or upper edge.
    """
    assert isinstance(item, Piece)
    if item.form == "half":
        return SLANT, 315 if first else 135
    xs = [x for x, _ in outline]
    tip = min(xs) if first else max(xs)
    low = min(y for x, y in outline if x == tip) > 0  # its sharp outer corner lies on the row's lower edge
    if first:
        return (TO_APEX, 315) if low else (FROM_APEX, 225)
    return (FROM_APEX, 45) if low else (TO_APEX, 135)


def _fit(item: object, edge: int) -> Fit:
    """How a triangle's edge lies against the block's: level at its right angle, a corner triangle's centred."""
    assert isinstance(item, Piece)
    if item.form == "half":
        return "centred"
    return "start" if edge == TO_APEX else "end"


def _beside(part: Part, left: bool) -> int:
    """The number of the edge at a block's left or right side."""
    xs = [x for x, _ in part.outline]
    want = min(xs) if left else max(xs)
    n = len(part.outline)
    for i in range(n):
        if abs(part.outline[i][0] - want) < 1e-6 and abs(part.outline[(i + 1) % n][0] - want) < 1e-6:
            return part.edges[i]
    raise LookupError("a block on point has no upright side")


def _centre(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The rows joined by their seams, the last two corner triangles, and the trimming beyond the points."""
    numbers, corner = making.recipe.numbers, desk.piece(making.recipe.cuts[0])
    assert isinstance(numbers, BeyondPoints)
    rows = [desk.part(making, p) for p in making.parts[:-2]]
    table = [*rows, *(Part(Use(corner, turned), (), ()) for turned in (45, 225))]
    actions: list[Action] = []
    for n, seam in enumerate(making.seams):
        a, b = xy(seam.start), xy(seam.end)
        left = edges_on(a, b, [i for i in seam.left if i < len(rows)], table)
        lefts = tuple(Edge(i, table[i].edges[j]) for i, j in left)
        if n < len(rows) - 1:
            right = edges_on(a, b, seam.right, table)
            rights = tuple(Edge(i, table[i].edges[j]) for i, j in right)
            side = toward(seam, left, right, table)
            actions.append(Join(lefts, rights, side, "seams", ears=True))
        else:
            k = len(rows) + n - (len(rows) - 1)
            side = {"left": left[0][0], "right": k}.get(seam.pressed, -1)
            actions.append(Join(lefts, (Edge(k, SLANT),), side, "between", ears=True))
    actions += [TrimBeyond(numbers.beyond), desk.measure(making)]
    found = desk.batch([p.use for p in table], [(making.recipe.method.phrase, actions)], [(desk.thing(making), 1)])
    return [(found, desk.times)]
