"""What a ruler cuts of a `slices` unit: rectangles; two triangles of a unit that is divided corner to corner; triangles
in the corners of a unit round one piece that reaches all its sides.

A rectangle comes out of the ruler as out of a template. The legs of triangles lie between the ruler's lines: they are
cut larger, and the unit is trimmed, to its size or beyond the points of the piece in the middle. So the tips of what
lies beside them keep their points. Whoever states ``method templates`` has templates of the triangles.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from patternkit.lengths import ZERO, Length
from patternkit.piecing.kinds.base import Shop
from patternkit.piecing.kinds.half_rectangle import TWO, halves, middles, raw_legs
from patternkit.piecing.kinds.half_square import FROM_TRIANGLES
from patternkit.piecing.making import Cloth, Numbers, Outline, PieceCut, Point, Recipe, Seam
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.offset import CannotOffset, bounding_box, box_size, dot, edges, length_of, minus, raw_outline
from patternkit.piecing.shapes import merged
from patternkit.piecing.templates import is_rectangle, leaning, triangle_cuts, turned, up

CORNERS = Method("corner triangles", "slices-corners", drawn="joins")
CORNER = Name("corner")
LITTLE = Length(1) / 32
"""Inches by which a tip may be too long and still lie where it should: half of that is seen."""
NEAR = 4
"""Seam allowances between two triangles within which one may reach over the other: more than a tip is long."""
HAIR = Length(1) / 64
"""Inches by which a triangle may miss a raw edge at one end: lost in the turn of the cloth."""


class RoundCore(Numbers, frozen=True):
    """The number of the part in the middle, and how far beyond its points the unit is trimmed."""

    core: int
    beyond: Length


def halved(outline: Outline, leaves: Sequence[Outline], shop: Shop) -> bool:
    """Whether a unit is two triangles of a rectangle whose raw size lies on the ruler."""
    size = box_size(outline)
    return (
        len(leaves) == 2
        and is_rectangle(outline)
        and all(len(leaf) == 3 for leaf in leaves)
        and all((side + shop.seam * 2).on_grid(shop.grid) for side in size)
    )


def halves_recipe(shop: Shop, size: Point, cloths: Sequence[Cloth]) -> Recipe:
    """The two triangles from squares or rectangles cut corner to corner."""
    exact = raw_legs(size[0], size[1], shop.seam)
    sides = up(exact[0], shop.grid), up(exact[1], shop.grid)
    method = FROM_TRIANGLES if size[0] == size[1] else TWO
    return halves(shop, size, [c.fabric for c in cloths], leaning(cloths[0].outline), sides, method)


def core_of(outline: Outline, leaves: Sequence[Outline], seams: Sequence[Seam], shop: Shop) -> int | None:
    """The number of the piece round which all others are triangles in the corners of the unit, each sewn along the
    whole of its long edge; None where there is none, it does not reach all four sides, or the triangles, cut larger,
    would not lie where they should."""
    if not is_rectangle(outline) or len(leaves) < 2:
        return None
    box = set(outline)
    others = [n for n, leaf in enumerate(leaves) if not _in_a_corner(leaf, box)]
    if len(others) != 1 or any(seam.set_in for seam in seams):
        return None
    core = leaves[others[0]]
    if box_size(core) != box_size(outline):
        return None
    corners = [leaf for n, leaf in enumerate(leaves) if n != others[0]]
    if not all(_holds(leaf, shop) for leaf in corners) or _reach_over(core, corners, shop):
        return None
    return others[0]


def _in_a_corner(leaf: Outline, box: set[Point]) -> bool:
    """Whether a piece is a right triangle with its right angle in a corner of the unit and its legs along its sides."""
    if len(leaf) != 3:
        return False
    low, high = bounding_box(leaf)
    at = [p for p in leaf if p in box and (p[0] in (low[0], high[0])) and (p[1] in (low[1], high[1]))]
    return any(sum(1 for q in leaf if q[0] == p[0]) == 2 and sum(1 for q in leaf if q[1] == p[1]) == 2 for p in at)


def _holds(triangle: Outline, shop: Shop) -> bool:
    """Whether a triangle cut on the ruler's lines holds the exact one where the middles of their seam lines meet."""
    a, b = box_size(triangle)
    x, y = (up(leg, shop.grid) for leg in _legs(triangle, shop))
    long = length_of((x, y))
    middle = long / 2 + shop.seam * ((long + x) / y - (long + y) / x) / 2
    low, high = middles(x, y, a, b, shop.seam)
    return low - HAIR <= middle <= high + HAIR


def corner_recipe(shop: Shop, core: int, cut: PieceCut, cloths: Sequence[Cloth]) -> Recipe:
    """The piece in the middle, and the corners of one or two units."""
    triangles, units = triangle_cuts([cloth for n, cloth in enumerate(cloths) if n != core], shop)
    return Recipe(CORNERS, merged((*[cut] * units, *triangles)), units, numbers=RoundCore(core, shop.seam))


def _reach_over(core: Outline, corners: Sequence[Outline], shop: Shop) -> bool:
    """Whether two triangles lie so near to each other that the one is sewn over the tip of the other, and that is
    longer than the raw edge it should have by more than is lost."""
    sides = list(pairwise((*core, core[0])))
    slanting = [n for n, (p, q) in enumerate(sides) if p[0] != q[0] and p[1] != q[1]]
    large = [c for c in corners if any(up(leg, shop.grid) - leg > LITTLE for leg in _legs(c, shop))]
    tips = {p for c in large for p in c}
    for one in slanting:
        for other, far in (((one + 1) % len(sides), 0), ((one + 2) % len(sides), 1)):
            if other in slanting and other != one:
                between = length_of(minus(*sides[(one + 1) % len(sides)])) if far else ZERO
                near = between < shop.seam * NEAR
                if near and (sides[one][1] in tips or sides[other][0] in tips):
                    return True
    return False


def _legs(triangle: Outline, shop: Shop) -> Point:
    """The exact raw legs of a triangle."""
    return raw_legs(*box_size(triangle), shop.seam)


def rectangle_cut(cloth: Cloth, shop: Shop) -> tuple[Cloth, PieceCut] | None:
    """A piece that is a rectangle, cut by the ruler along its straight edges; None where it is none, or its sides lie
    between the ruler's lines. One that lies on its corner has its grain along a side."""
    if len(cloth.outline) != 4:
        return None
    sides = edges(cloth.outline)
    if any(dot(sides[n - 1], sides[n]) for n in range(4)):
        return None
    straight = not (sides[0][0] and sides[0][1])
    laid = Cloth(cloth.fabric, cloth.outline, cloth.grain if straight else sides[0])
    try:
        wide, high = box_size(turned(raw_outline(cloth.outline, shop.seam), laid.grain))
    except CannotOffset:
        return None
    if not (wide.on_grid(shop.grid) and high.on_grid(shop.grid) and wide > ZERO):
        return None
    return laid, PieceCut(cloth.fabric, wide, high, wide, high, 1)
