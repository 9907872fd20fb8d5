"""How blocks become a quilt top: settings, sashing, borders. Equations first, makings when the sizes are solved."""

from __future__ import annotations

import msgspec

from patternkit.model.pattern import Pattern, Quilt, Unit
from patternkit.piecing.keys import Key
from patternkit.piecing.kinds.base import Unsettled
from patternkit.piecing.making import Making
from patternkit.piecing.setting import borders, straight
from patternkit.piecing.setting.grid import BlockGrid, grid_of
from patternkit.piecing.shapes import all_squares, sizes_beside
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.unknowns import of_whole
from patternkit.piecing.workshop import Workshop

__all__ = ["make_quilt", "make_set", "setting_equations"]


def setting_equations(pattern: Pattern, quilt: Quilt, out: Sizing) -> None:
    """State the equations of the quilt: blocks, sashing, centre, borders and what the writer says of its size."""
    grid, problem = grid_of(quilt)
    if grid is None:
        if problem is not None:
            out.problem(problem)
        return
    if quilt.on_point:
        from patternkit.piecing.setting import on_point  # a straight quilt does without it

        on_point.equations(quilt, grid, out)
    else:
        straight.equations(quilt, grid, out)
    for row in quilt.rows:
        squares = not quilt.layout and not quilt.on_point and all_squares(row.pieces)
        for piece in row.pieces:
            sizes_beside(piece, out.size_in_quilt(piece, quilt.of), quilt.called, out)
            if squares:
                sizes_beside(piece, out.size_in_quilt(piece, quilt.of), quilt.called, out, "h")
    borders.equations(quilt, out)
    for claim in () if quilt.broken else quilt.claims:
        out.claim((of_whole("w", quilt.of), of_whole("h", quilt.of)), quilt.called, claim)


def make_quilt(pattern: Pattern, shop: Workshop) -> Making | None:
    """The whole top as one making; None when there is no quilt or something in it can't be made (problems say why)."""
    quilt = pattern.quilt
    if quilt is None:
        return None
    grid, _ = grid_of(quilt)
    if grid is None:
        return None
    try:
        top = _made(quilt, grid, shop)
    except Unsettled:
        return None
    return shop.pressed(msgspec.structs.replace(top, role="quilt"), quilt.press)


def make_set(unit: Unit, quilt: Quilt, shop: Workshop) -> Making:
    """A unit that is set together like a quilt. Raises Unsettled when something in it can't be made."""
    grid, _ = grid_of(quilt)
    if grid is None:
        raise Unsettled(unit.key)
    made = _made(quilt, grid, shop)
    return msgspec.structs.replace(
        made, key=Key(unit.name, unit.arguments), unit=unit.name, role=unit.role, title=unit.title
    )


def _made(quilt: Quilt, grid: BlockGrid, shop: Workshop) -> Making:
    """The blocks set together, and the borders round them."""
    centre = _centre(quilt, grid, shop) if quilt.on_point else straight.make(quilt, grid, shop)
    if centre is None:
        raise Unsettled(quilt.called)
    return borders.make(quilt, centre, shop)


def _centre(quilt: Quilt, grid: BlockGrid, shop: Workshop) -> Making | None:
    """The centre of a quilt whose blocks stand on point."""
    from patternkit.piecing.setting import on_point, zigzag

    return zigzag.make(quilt, grid, shop) if zigzag.is_zigzag(quilt) else on_point.make(quilt, grid, shop)
