"""Zigzag rows: columns of blocks on point, every second one half a block lower, so that the triangles between them run
up and down.

A column is a setting on point one block wide. In the lower ones a block fewer lies, which leaves half a block at both
ends: there a large triangle takes the place of two smaller ones.
"""

from __future__ import annotations

from patternkit.lengths import SQRT2, ZERO, Length
from patternkit.model.pattern import Component, Quilt
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.kinds.base import Unsettled
from patternkit.piecing.making import Making, Place, Placed, Recipe, Seam, rectangle
from patternkit.piecing.method import Method
from patternkit.piecing.names import CENTRE, Name
from patternkit.piecing.setting.diagonals import Diagonals
from patternkit.piecing.setting.edge_triangles import edge_triangles
from patternkit.piecing.setting.grid import BlockGrid
from patternkit.piecing.setting.join import owned
from patternkit.piecing.setting.on_point import OnPoint, no_triangles, rows_joined, triangle_fabric
from patternkit.piecing.unknowns import of_block_on_point, of_centre
from patternkit.piecing.workshop import Workshop
from patternkit.problems import Problem

COLUMN = Method("joined", "zigzag-column")
COLUMNS = Method("joined", "zigzag-joined", runs="across")


def is_zigzag(quilt: Quilt) -> bool:
    """True for ``setting zigzag``."""
    return quilt.setting is not None and "zigzag" in quilt.setting.words


def make(quilt: Quilt, grid: BlockGrid, shop: Workshop) -> Making | None:
    """The centre: columns made first, then joined from the left; None after noting why there is no fabric for its
    triangles."""
    if grid.down < 2 and grid.across > 1:
        cause = "Every second column has a block fewer, and half a block more at both ends; write down 2 or more."
        where = quilt.setting.span if quilt.setting is not None else quilt.span
        message = "With one block down, no block is left in the lower columns of a zigzag."
        shop.problem(Problem("cannot-sew", message, where, causes=(cause,)))
        raise Unsettled("zigzag")
    side = shop.solved(of_block_on_point(quilt.of))
    triangles = edge_triangles(quilt, triangle_fabric(quilt), (side, side), side, (ZERO, ZERO), shop, lower=True)
    if triangles is None:
        no_triangles(quilt, shop)
        return None
    columns: dict[tuple[bool, tuple[Component, ...]], list[int]] = {}
    for c in range(grid.across):
        lower = c % 2 == 1
        pieces = tuple(grid.cell(r, c) for r in range(grid.down - lower))
        columns.setdefault((lower, pieces), []).append(c)
    made: dict[int, Making] = {}
    before = 0  # how many diagonal rows have a number
    for (lower, pieces), places in columns.items():
        lies = Diagonals(_alone(pieces), side, ZERO, "", (ZERO, side * SQRT2 / 2 if lower else ZERO), lower)
        name = Name("column", tuple(c + 1 for c in places))
        column = rows_joined(
            OnPoint(quilt, lies, triangles, shop, before), OwnKey(name), "row", (lies.width, lies.height), COLUMN
        )
        before += len(pieces)
        made |= dict.fromkeys(places, column)
    return owned(_side_by_side([made[c] for c in range(grid.across)], quilt, shop), shop, quilt.of)


def _alone(pieces: tuple[Component, ...]) -> BlockGrid:
    """The grid of one column: its blocks are the full rows, and nothing lies in those between."""
    tile = tuple((piece,) for piece in pieces for _ in range(2))
    return BlockGrid(tile, ((),) * len(tile), (None,) * len(tile), 1, len(pieces), False)


def _side_by_side(columns: list[Making], quilt: Quilt, shop: Workshop) -> Making:
    width, height = (shop.solved(of_centre(side, quilt.of)) for side in "wh")
    parts: list[Placed] = []
    seams: list[Seam] = []
    x: Length = ZERO
    for i, column in enumerate(columns):
        parts.append(Placed(column, Place(x)))
        if i:
            seams.append(Seam((x, height), (x, ZERO), tuple(range(i)), (i,)))
        x = x + column.width
    outline = rectangle(width, height)
    recipe = Recipe(COLUMNS)
    key = OwnKey(CENTRE)
    return Making(key, "quilt", "centre", "row", outline, width, height, tuple(parts), tuple(seams), recipe)
