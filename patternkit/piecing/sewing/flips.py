"""Stitch and flip: squares sewn on their diagonals over corners of a base (flying geese, flipped corners, a square in a
square)."""

from __future__ import annotations

from patternkit.piecing.batch import Action, Batch, Corner, Item, Use
from patternkit.piecing.making import Cloth, Making, PieceCut, Point, Seam
from patternkit.piecing.offset import minus
from patternkit.piecing.sewing.desk import Desk, xy
from patternkit.piecing.sewing.squares import cloths_of, cut_named, flipped, in_the_end, pressed


def flips(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The first part is the base; each seam adds the part on its left, over the corner where that lies."""
    first = making.parts[0]
    if isinstance(first.what, Making) or id(first.what) in desk.recipes:
        base = desk.part(making, first)
    else:
        base = desk.lying(desk.piece(cut_named(making, cloths_of(making)[0])), making.outline)
    corners = {p: base.edges[n] for n, p in enumerate(base.outline)}
    uses, actions, waste = [base.use], list[Action](), desk.wastes.get(making.key.plain)
    for n, seam in enumerate(making.seams, 1):
        corner = _corner(making, seam)
        uses.append(Use(desk.piece(_square(making, desk, seam, corner))))
        actions += flipped(0, corners[xy(corner)], n, pressed(seam, n, 0), waste)
    gives: list[tuple[Item, int]] = [(desk.thing(making), 1)]
    holding = None
    if waste is not None:
        gives.append((desk.thing(waste), len(making.seams)))
        holding = Corner(len(making.seams), 3)  # of the last square, what lies on the side that stays
    passages = [(making.recipe.method.phrase, actions), *in_the_end(making, desk, holding)]
    return [(desk.batch(uses, passages, gives), desk.times)]


def _corner(making: Making, seam: Seam) -> Point:
    """The corner of the base over which a seam's left part lies."""
    (part,) = seam.left
    placed = making.parts[part]
    (corner,) = set(placed.place.outline(placed.what.outline)) - {seam.start, seam.end}
    return corner


def _square(making: Making, desk: Desk, seam: Seam, corner: Point) -> PieceCut:
    """The square for a corner: of several of one fabric the one that is as large as it needs to be."""
    cloth = making.parts[seam.left[0]].what
    assert isinstance(cloth, Cloth)
    raw = max(abs(side) for side in minus(seam.start, corner)) + desk.seam * 2
    own = [c for c in making.recipe.cuts if (c.fabric, c.name, c.exact_width) == (cloth.fabric, cloth.name, raw)]
    return own[0] if own else cut_named(making, cloth)
