"""Quilts on point: diagonal rows with triangles at their ends, sashing, and the centre that they are joined to.

The triangles are cut a little larger than they are drawn, sashing that ends on the edge longer, outer cornerstones
whole; what is too much is trimmed when the centre is whole. So a row is rough: its ends reach out, and rows are laid
against each other by their seams.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from patternkit.piecing.batch import Action, Batch, Edge, Fit, Join, Piece, TrimBeyond, Use
from patternkit.piecing.making import Cloth, Making, Outline, Placed, Seam, rectangle
from patternkit.piecing.names import END_TRIANGLE
from patternkit.piecing.offset import bounding_box, box_size
from patternkit.piecing.setting.edge_triangles import is_whole, square_for
from patternkit.piecing.setting.on_point import BeyondPoints
from patternkit.piecing.setting.setting_cuts import reaching
from patternkit.piecing.sewing.desk import Desk, NoCut, Part, Passages, edges_on, plain, toward, xy
from patternkit.piecing.sewing.joins import cut_measured
from patternkit.piecing.templates import is_rectangle

LONG, TO_APEX, FROM_APEX = 0, 1, 2  # the edges of a quarter of a square
SLANT = 1  # the long edge of a half square


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """A diagonal row, the sashing between two, or the centre."""
    if making.kind == "diagonal-row":
        return _row(making, desk)
    return _sashes(making, desk) if making.kind == "diagonal-sashing" else _centre(making, desk)


# -- rows -------------------------------------------------------------------------------------------------
def _row(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The triangle at the lower left end, what lies between, the triangle at the other end, from the left."""
    inner = [_whole(making, p, desk) for p in making.parts[1:-1]]
    parts: list[Part] = []
    edges: list[int] = []
    fits: list[Fit] = []
    whole = is_whole(making.parts[0]), is_whole(making.parts[-1])  # blocks, sewn in like those between them
    for placed, first in ((making.parts[0], True), (making.parts[-1], False)):
        part, edge, fit = _triangle(making, placed, first, desk)
        parts.append(part)
        edges.append(edge)
        fits.append(fit)
    table = [parts[0], *inner, parts[1]]
    actions: list[Action] = []
    last = len(table) - 1
    for n, seam in enumerate(making.seams):
        if 0 < n < last - 1 or (n == 0 and whole[0]) or (n == last - 1 and whole[1]):
            actions += _levelled(desk.joins(seam, table), making.parts[n], making.parts[n + 1])
        if n == 0 and not whole[0]:
            block = _beside(table[1], True)
            side = {"left": 0, "right": 1}.get(seam.pressed, -1)
            actions.append(Join((Edge(1, block),), (Edge(0, edges[0]),), side, fits[0], ears=True))
        if n == last - 1 and not whole[1]:
            block = _beside(table[last - 1], False)
            side = {"left": last - 1, "right": last}.get(seam.pressed, -1)
            actions.append(Join((Edge(last - 1, block),), (Edge(last, edges[1]),), side, fits[1], ears=True))
    passages: Passages = [("measured", [*cut_measured(making, table, desk)]), (making.recipe.method.phrase, actions)]
    found = desk.batch([p.use for p in table], passages, [(desk.thing(making), 1)])
    return [(msgspec.structs.replace(found, rough=True), desk.times)]


def _sashes(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """Cornerstones and sashing, from the left."""
    table = [_whole(making, p, desk) for p in making.parts]
    actions = [join for seam in making.seams for join in desk.joins(seam, table)]
    passages: Passages = [(making.recipe.method.phrase, actions)]
    found = desk.batch([p.use for p in table], passages, [(desk.thing(making), 1)])
    return [(msgspec.structs.replace(found, rough=True), desk.times)]


def _whole(making: Making, placed: Placed, desk: Desk) -> Part:
    """A part as it is taken: what the quilt's edge will trim on the slant is a rectangle as yet."""
    what = placed.what
    if isinstance(what, Making) or is_rectangle(what.outline):
        return desk.part(making, placed)
    exact = reaching(what, desk.seam)
    for cut in making.recipe.cuts:
        if (cut.fabric, cut.name, cut.exact_width, cut.exact_height) == (what.fabric, what.name, *exact):
            (x, y), (w, h) = bounding_box(what.outline)[0], box_size(what.outline)
            return desk.lying(desk.piece(cut), placed.place.outline(rectangle(w, h, x, y)))
    raise NoCut(f"{making.key}: no cut for {what.name}")


def _levelled(joins: Sequence[Join], a: Placed, b: Placed) -> list[Join]:
    """The joins of two neighbours of a row: sashing that reaches out at its slanted end lies level with the block at
    the other one, or middle on middle where both ends are slanted."""
    slanted = next((p.what for p in (a, b) if isinstance(p.what, Cloth) and not is_rectangle(p.what.outline)), None)
    if slanted is None:
        return list(joins)
    (x0, y0), (x1, y1) = bounding_box(slanted.outline)
    square = {y: {(x0, y), (x1, y)} <= set(slanted.outline) for y in (y0, y1)}
    # the piece on the left is walked down along its right side
    fit: Fit = "start" if square[y0] else "end" if square[y1] else "centred"
    return [msgspec.structs.replace(join, fit=fit, ears=True) for join in joins]


def _triangle(making: Making, placed: Placed, first: bool, desk: Desk) -> tuple[Part, int, Fit]:
    """The triangle at an end of a row: the part, the edge of it that is sewn, and how that lies."""
    what, drawn = placed.what, placed.place.outline(placed.what.outline)
    if is_whole(placed):
        return _whole(making, placed, desk), 0, "level"
    if isinstance(what, Making):
        part = desk.part(making, placed)
        edge = _beside(part, not first)
        x = max(x for x, _ in drawn) if first else min(x for x, _ in drawn)
        ys = [y for u, y in drawn if u == x]
        (apex,) = [p for p in drawn if p[0] != x]
        # the block's left side is walked up, its right one down; the right angle is level with the third corner
        fit: Fit = "centred" if apex[1] not in ys else "start" if (apex[1] == max(ys)) == first else "end"
        return part, edge, fit
    item = desk.piece(square_for(what, making.recipe.cuts, desk.seam))
    edge, turned = _end(item, what.outline, first)
    return Part(Use(item, turned), plain(drawn), ()), edge, _fit(item, edge)


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


# -- the centre -------------------------------------------------------------------------------------------
def _centre(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The rows joined by their seams, the last two corner triangles, and the trimming beyond the points."""
    numbers = making.recipe.numbers
    assert isinstance(numbers, BeyondPoints)
    rows = [_whole(making, p, desk) for p in making.parts[:-2]]
    corners = [_corner(making, p, turned, desk) for p, turned in zip(making.parts[-2:], (45, 225), strict=True)]
    table = [*rows, *corners]
    lone = [isinstance(p.what, Cloth) for p in making.parts]  # strips of sashing in one piece, on which no seam ends
    actions: list[Action] = []
    for n, seam in enumerate(making.seams):
        lefts = _edges(seam, [i for i in seam.left if i < len(rows)], table)
        if n < len(rows) - 1:
            rights = _edges(seam, seam.right, table)
            side = toward(seam, [(e.part, e.n) for e in lefts], [(e.part, e.n) for e in rights], table)
            actions.append(_row_on(lefts, rights, side, lone[n], lone[n + 1], first=n == 0))
        else:
            k = n + 1
            side = {"left": lefts[0].part, "right": k}.get(seam.pressed, -1)
            ending = making.parts[k].what
            fit: Fit = "centred" if lone[lefts[0].part] else "between"
            if isinstance(ending, Cloth) and ending.name == END_TRIANGLE:
                fit = "crossed"
            own = _edges(seam, (k,), table) or (Edge(k, SLANT),)
            actions.append(Join(lefts, own, side, fit, ears=True))
    ends = numbers.ends if numbers.ends != numbers.beyond else None
    actions += [TrimBeyond(numbers.beyond, ends=ends, through=numbers.blocks), desk.measure(making)]
    found = desk.batch([p.use for p in table], [(making.recipe.method.phrase, actions)], [(desk.thing(making), 1)])
    return [(found, desk.times)]


def _corner(making: Making, placed: Placed, turned: int, desk: Desk) -> Part:
    """One of the two corner triangles that are sewn on last."""
    if isinstance(placed.what, Making):
        return desk.part(making, placed)
    return Part(Use(desk.piece(making.recipe.cuts[0]), turned), (), ())


def _edges(seam: Seam, numbers: Sequence[int], table: Sequence[Part]) -> tuple[Edge, ...]:
    """The edges of some parts that lie on a seam."""
    found = edges_on(xy(seam.start), xy(seam.end), numbers, table)
    return tuple(Edge(i, table[i].edges[j]) for i, j in found)


def _row_on(
    lefts: tuple[Edge, ...], rights: tuple[Edge, ...], side: int, after: bool, strip: bool, *, first: bool
) -> Join:
    """A row, or sashing, sewn to what is joined: seam on seam; a long strip middle on middle; what comes `after` a
    strip so that its seams go on those beyond it."""
    if after and first:  # the strip at the corner and the first row: the strip is laid on the row
        return Join(rights, lefts, side, "between", ears=True)
    fit: Fit = "centred" if strip else "across" if after else "seams"
    return Join(lefts, rights, side, fit, ears=True)
