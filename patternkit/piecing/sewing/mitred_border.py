"""Mitred borders: strips sewn on from corner to corner of what is inside, then each corner sewn along its diagonal.

Strips of several borders are joined lengthwise to bands first. A band is drawn with slanted ends and sewn with square
ones, which the mitre cuts.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeGuard

import msgspec

from patternkit.piecing.batch import Action, Batch, Edge, Join, Mitre, Piece, Use
from patternkit.piecing.making import Cloth, Making, PieceCut, Placed
from patternkit.piecing.offset import box_size
from patternkit.piecing.sewing.desk import NEAR, Desk, Part

AROUND = ((1, 2), (2, 3), (3, 0), (4, 1))
"""Strips in sewing order, with the side of what is inside that each is sewn to: bottom, left, top, right."""
WAYS = ((1, 0), (0, 1), (-1, 0), (0, -1))
"""How the sides of an outline run, clockwise from the top."""


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The border with its corners, or one of its bands."""
    return _band(making, desk) if making.kind == "joined-borders" else _border(making, desk)


def _border(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    inner = desk.part(making, making.parts[0])
    uses = [inner.use]
    edges = []
    for placed in making.parts[1:]:
        use, edge = _strip(making, placed, desk)
        uses.append(use)
        edges.append(edge)
    strips, corners = making.seams[:4], making.seams[4:]
    sewing: list[Action] = []
    for (k, side), seam in zip(AROUND, strips, strict=True):
        pressed = {"left": 0, "right": k}.get(seam.pressed, -1)
        joined = Join(
            (Edge(0, _edge_at(inner, side)),),
            (Edge(k, edges[k - 1]),),
            pressed,
            "centred",
            start="seam",
            stop="seam",
            ears=True,
        )
        sewing.append(joined)
    mitres: list[Action] = []
    for seam in corners:
        (left,), (right,) = seam.left, seam.right
        mitres.append(Mitre(left, right, {"left": left, "right": right}.get(seam.pressed, -1)))
    phrase = making.recipe.method.phrase
    found = desk.batch(
        uses, [(phrase, sewing), ("mitred-corners", [*mitres, desk.measure(making)])], [(desk.thing(making), 1)]
    )
    return [(found, desk.times)]


def _edge_at(inner: Part, side: int) -> int:
    """The number that the edge at a side of what is inside has; it may lie turned."""
    n = len(inner.outline)
    for i, (p, q) in enumerate(zip(inner.outline, (*inner.outline[1:], inner.outline[0]), strict=True)):
        if n == 4 and (q[0] - p[0]) * WAYS[side][0] + (q[1] - p[1]) * WAYS[side][1] > NEAR:
            return inner.edges[i]
    return side


def _strip(making: Making, placed: Placed, desk: Desk) -> tuple[Use, int]:
    """What is taken for one side, how it lies, and the number of its edge at the inside.

    A side is drawn as the bottom one, its inner edge above, and turned. A cut strip lies with its long side down the
    cloth where its short side is its width.
    """
    if isinstance(placed.what, Making):
        return Use(desk.thing(placed.what), placed.place.turned), 0
    item = _piece(placed.what, making, desk)
    upright = item.height > item.width
    turn = placed.place.turned + (270 if upright else 0)
    return Use(item, turn % 360), 1 if upright else 0


def _piece(cloth: Cloth, making: Making, desk: Desk) -> Piece:
    """The strip of a side that is one piece: the cut of the band for which it stands, or of the border itself."""
    own = desk.recipes.get(id(cloth))
    return desk.piece(_nearest(cloth, [*(own.cuts if own is not None else ()), *making.recipe.cuts], desk))


def _nearest(cloth: Cloth, cuts: Sequence[PieceCut], desk: Desk) -> PieceCut:
    """The cut that is for a mitred strip: of its fabric and width, longer than its outer edge by least. The names of
    cloths may be said in another language than those of cuts."""
    long, wide = sorted(map(float, box_size(cloth.outline)), reverse=True)
    seam = float(desk.seam)

    def off(cut: PieceCut) -> tuple[float, float]:
        high, low = sorted((float(cut.exact_width), float(cut.exact_height)), reverse=True)
        return abs(low - wide - 2 * seam), abs(high - long)

    return min((c for c in cuts if c.fabric == cloth.fabric), key=off)


def _band(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The strips of one side joined middle to middle, the inner one above."""
    items = [desk.piece(cut) for cut in making.recipe.cuts]
    if len(items) != len(making.parts):  # strips that are cut alike are one cut
        items = [desk.piece(_nearest(p.what, making.recipe.cuts, desk)) for p in making.parts if _cloth(p.what)]
    upright = [i.height > i.width for i in items]
    uses = [Use(item, 270 if up else 0) for item, up in zip(items, upright, strict=True)]
    actions: list[Action] = []
    for n, seam in enumerate(making.seams):
        pressed = {"left": n, "right": n + 1}.get(seam.pressed, -1)
        below = 3 if upright[n] else 2
        above = 1 if upright[n + 1] else 0
        actions.append(Join((Edge(n, below),), (Edge(n + 1, above),), pressed, "centred", ears=True))
    found = desk.batch(uses, [(making.recipe.method.phrase, actions)], [(desk.thing(making), 1)])
    return [(msgspec.structs.replace(found, rough=True), desk.times)]


def _cloth(what: Cloth | Making) -> TypeGuard[Cloth]:
    return isinstance(what, Cloth)
