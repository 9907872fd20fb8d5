"""Blocks side by side in straight rows, with or without sashing: equations and makings."""

from __future__ import annotations

from math import lcm

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Component, Framing, Quilt
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.making import Cloth, Making, Part, Place, Placed, Seam, rectangle
from patternkit.piecing.method import Method
from patternkit.piecing.names import CENTRE, CORNERSTONE, LONG_SASHING, SASHING, SASHING_ROW, Name
from patternkit.piecing.setting.grid import BlockGrid
from patternkit.piecing.setting.join import cloth_recipe, owned
from patternkit.piecing.shapes import seam
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.unknowns import Unknown, of_centre, of_row, of_sashing
from patternkit.piecing.workshop import Workshop, corner_place
from patternkit.syntax.statements import Mark

Cell = tuple[Part, Place, Length, Mark | None]  # a piece, its place, its width, the mark behind it

ROW, ROWS = Method("joined", "row-joined", runs="across"), Method("joined", "rows-joined", runs="down")


def inner_only(sashing: Framing) -> bool:
    """True when sashing lies between the blocks only and not round the outside."""
    return any(w in ("inner", "inside", "between") for w in sashing.words)


def equations(quilt: Quilt, grid: BlockGrid, out: Sizing) -> None:
    """Rows close: all pieces of a row are equally high, all rows equally long, and everything adds up to the centre."""
    sash = quilt.sashing
    extra = 0 if sash is None else (-1 if inner_only(sash) else 1)
    aligned = sash is not None and sash.corner is not None
    of, called = quilt.of, quilt.called
    for side in "wh":
        out.shown(of_centre(side, of), f"{called} centre")
    heights: list[tuple[Length | int, Unknown]] = []
    for r, times in grid.row_kinds():
        span = quilt.rows[r].span
        row = of_row(r + 1, of)
        out.shown(row, "the row")
        widths: list[tuple[Length | int, Unknown]] = []
        for count, piece in grid.row_pieces(r):
            w, h = out.size_in_quilt(piece, of)
            out.same(h, row, f"row {r + 1} of {called}", piece.span)
            widths.append((count, w))
        if sash is not None and grid.columns(r) + extra:
            widths.append((grid.columns(r) + extra, of_sashing(of)))
        text = f"the widths in row {r + 1} of {called} add up to {called} centre"
        out.total(widths, of_centre("w", of), text, span)
        heights.append((times, row))
    if sash is not None and grid.down + extra:
        heights.append((grid.down + extra, of_sashing(of)))
    out.total(heights, of_centre("h", of), f"the rows add up to {called} centre", quilt.span)
    if aligned:
        _columns(quilt, grid, out)
    if sash is not None:
        _sash(sash, grid, out)


def _columns(quilt: Quilt, grid: BlockGrid, out: Sizing) -> None:
    """With cornerstones the columns line up: each column has one width."""
    period = lcm(*(len(r) for r in grid.tile)) if not grid.layout else grid.across
    for c in range(min(grid.across, period)):
        first = out.size_in_quilt(grid.cell(0, c), quilt.of)[0]
        for r in range(1, len(grid.tile)):
            if c < grid.columns(r):
                piece = grid.cell(r, c)
                out.same(
                    first,
                    out.size_in_quilt(piece, quilt.of)[0],
                    f"column {c + 1} of {quilt.called}, between the cornerstones",
                    piece.span,
                )


def sash_width(sash: Framing, out: Sizing) -> None:
    """The width that the sashing is said to have."""
    width = of_sashing(sash.of)
    out.shown(width, "the sashing")
    if sash.width is not None:
        value = sash.width - out.seam * 2 if sash.cut else sash.width
        out.stated(
            width,
            value,
            f"the sashing is {out.render(sash.width)} {'cut' if sash.cut else 'finished'}",
            sash.span,
            sash.width,
            sash.number,
        )


def _sash(sash: Framing, grid: BlockGrid, out: Sizing) -> None:
    of = sash.of
    width = of_sashing(of)
    sash_width(sash, out)
    if sash.piece is not None and sash.piece.unit:
        w, h = out.size_in_quilt(sash.piece, of)
        out.same(w, width, "the pieced sashing", sash.span)
        for r, _ in grid.row_kinds():
            out.same(h, of_row(r + 1, of), "the sashing beside a block", sash.span)
        for _, piece in grid.row_pieces(0):
            out.same(h, out.size_in_quilt(piece, of)[0], "the sashing above a block", sash.span)
    if sash.corner is not None and sash.corner.unit:
        for side in out.size_in_quilt(sash.corner, of):
            out.same(side, width, "the cornerstone", sash.span)


def make(quilt: Quilt, grid: BlockGrid, shop: Workshop) -> Making:
    """The centre: rows made first, then joined from the top down."""
    rows: list[tuple[Making | Cloth, Length]] = []
    seen: dict[object, Making] = {}
    sash = quilt.sashing
    width = shop.solved(of_centre("w", quilt.of))
    strip = shop.solved(of_sashing(quilt.of)) if sash is not None else ZERO
    outer = sash is not None and not inner_only(sash)
    # rows that touch are pressed by turns, so every second one is a step of its own; sashing keeps rows apart
    period = grid.down if grid.layout else lcm(len(grid.tile), 1 if sash is not None else 2)
    marks: list[Mark | None] = []
    for r in range(grid.down):
        if sash is not None and (outer or r):
            rows.append((_sash_row(sash, grid, r, strip, width, shop, seen), strip))
            marks.append(None)
        key = r % period
        if key not in seen:
            numbers = [n + 1 for n in range(grid.down) if n % period == key]
            seen[key] = _row(numbers, grid, r, quilt, strip, shop)
        rows.append((seen[key], shop.solved(of_row(r % len(grid.tile) + 1, quilt.of))))
        marks.append(grid.row_mark(r) if sash is None else None)
    if sash is not None and outer:
        rows.append((_sash_row(sash, grid, 0, strip, width, shop, seen), strip))
    return owned(_stack(rows, marks, width, shop), shop, quilt.of)


def _stack(
    rows: list[tuple[Making | Cloth, Length]], marks: list[Mark | None], width: Length, shop: Workshop
) -> Making:
    parts: list[Placed] = []
    seams: list[Seam] = []
    y = ZERO
    for i, (row, height) in enumerate(rows):
        parts.append(Placed(row, Place(ZERO, y)))
        if i:
            mark = marks[i - 1] if i - 1 < len(marks) else None
            seams.append(seam((ZERO, y), (width, y), range(i), (i,), mark))
        y = y + height
    return Making(
        OwnKey(CENTRE),
        "quilt",
        "centre",
        "rows",
        rectangle(width, y),
        width,
        y,
        tuple(parts),
        tuple(seams),
        cloth_recipe(ROWS, parts, shop),
    )


def _row(numbers: list[int], grid: BlockGrid, r: int, quilt: Quilt, strip: Length, shop: Workshop) -> Making:
    height = shop.solved(of_row(r % len(grid.tile) + 1, quilt.of))
    sash = quilt.sashing
    cells: list[Cell] = []
    between = None if sash is None else _sash_part(sash, strip, height, False, shop)
    outer = sash is not None and not inner_only(sash)
    n = grid.columns(r)
    for c in range(n):
        if between is not None and (outer or c):
            cells.append((*between, strip, None))
        piece = grid.cell(r, c)
        w, _ = shop.sizing.size_in_quilt(piece, quilt.of)
        mark = grid.mark(r, c) if sash is None else None
        cells.append((*shop.part_in_quilt(piece, quilt.of), shop.solved(w), mark))
    if between is not None and outer:
        cells.append((*between, strip, None))
    return side_by_side(Name("row", tuple(numbers)), "row", cells, height, shop, quilt.of)


def side_by_side(name: Name, role: str, cells: list[Cell], height: Length, shop: Workshop, of: str = "") -> Making:
    """Pieces of one height sewn together from the left, as one making of the quilt, or of a unit set like one."""
    unit = shop.pattern.units.get(of)
    whose = (unit.key, unit.title, unit.role) if unit is not None else ()
    return shop.once(
        (name, role, tuple(cells), height, whose),
        lambda: owned(_side_by_side(name, role, cells, height, shop), shop, of),
    )


def _side_by_side(name: Name, role: str, cells: list[Cell], height: Length, shop: Workshop) -> Making:
    parts: list[Placed] = []
    seams: list[Seam] = []
    x = ZERO
    for i, (what, place, width, _) in enumerate(cells):
        parts.append(Placed(what, Place(x + place.dx, place.dy, place.turned)))
        if i:
            # walking up the page, the pieces sewn so far are on the left hand and the next one on the right
            seams.append(seam((x, height), (x, ZERO), range(i), (i,), cells[i - 1][3]))
        x = x + width
    return Making(
        OwnKey(name),
        "quilt",
        role,
        "row",
        rectangle(x, height),
        x,
        height,
        tuple(parts),
        tuple(seams),
        cloth_recipe(ROW, parts, shop),
    )


def _sash_part(sash: Framing, strip: Length, length: Length, flat: bool, shop: Workshop) -> tuple[Part, Place]:
    piece = sash.piece
    if piece is None or piece.fabric:
        w, h = (length, strip) if flat else (strip, length)
        return shop.patch(piece.fabric if piece else "", w, h, SASHING), Place()
    what, place = shop.part_in_quilt(piece, sash.of)
    return (what, corner_place(what, place.turned + 90)) if flat else (what, place)


def _corner_part(corner: Component, strip: Length, shop: Workshop, of: str) -> tuple[Part, Place]:
    if corner.fabric:
        return shop.patch(corner.fabric, strip, strip, CORNERSTONE), Place()
    return shop.part_in_quilt(corner, of)


def _sash_row(
    sash: Framing, grid: BlockGrid, r: int, strip: Length, width: Length, shop: Workshop, seen: dict[object, Making]
) -> Making | Cloth:
    if sash.corner is None and (sash.piece is None or sash.piece.fabric):
        return shop.patch(sash.piece.fabric if sash.piece else "", width, strip, LONG_SASHING)
    if "sash" in seen:
        return seen["sash"]
    outer = not inner_only(sash)
    cells: list[Cell] = []
    for c in range(grid.columns(r)):
        if sash.corner is not None and (outer or c):
            cells.append((*_corner_part(sash.corner, strip, shop, sash.of), strip, None))
        w = shop.solved(shop.sizing.size_in_quilt(grid.cell(r, c), sash.of)[0])
        cells.append((*_sash_part(sash, strip, w, True, shop), w, None))
    if sash.corner is not None and outer:
        cells.append((*_corner_part(sash.corner, strip, shop, sash.of), strip, None))
    seen["sash"] = side_by_side(SASHING_ROW, "row", cells, strip, shop, sash.of)
    return seen["sash"]
