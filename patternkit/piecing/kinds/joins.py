"""Straight joins: a row, a column, rows of pieces. The pieces are plain patches or other units."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar, Literal

from patternkit.lengths import ZERO
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import option, problems
from patternkit.piecing.kinds.base import Equations, Kind, Shop
from patternkit.piecing.leaves import Along, End, Ends, Leaf, sides
from patternkit.piecing.making import Cloth, Making, Place, Placed, Recipe
from patternkit.piecing.method import Method
from patternkit.piecing.shapes import (
    all_squares,
    called,
    cloth_cut,
    joined_rows,
    making,
    merged,
    opening,
    sizes_in_place,
)
from patternkit.piecing.templates import is_rectangle
from patternkit.problems import Problem
from patternkit.source import Span
from patternkit.syntax.statements import Mark

if TYPE_CHECKING:
    from patternkit.piecing.forms import Form

Grid = list[tuple[tuple[Component, ...], tuple[Mark, ...], Span]]


ROW, COLUMN, ROWS = (Method("joined", phrase, adds_up=True) for phrase in ("joins_row", "joins_column", "joins_rows"))


ENDS = "ends half, sky"


class Joins(Kind):
    """``row a | b > c``, ``column a | b`` (top to bottom), ``rows`` with a line for each row."""

    words: ClassVar[tuple[str, ...]] = ("row", "column", "rows")
    pieces: ClassVar[tuple[int, int]] = (1, 400)
    joins: ClassVar[bool] = True
    shapes: ClassVar[bool] = True
    options: ClassVar[dict[str, str]] = {"ends": ENDS}

    def equations(self, unit: Unit, out: Equations) -> None:
        """In each row the heights are equal and the widths add up to the unit's; the rows' heights add up."""
        for problem in problems(self, unit, sizes=("finished", "cut")):
            out.problem(problem)
        rows, _ = grid(unit)
        if not rows:
            return
        if _of_shapes(unit, rows, out):
            from patternkit.piecing.kinds import joins_shapes  # only rows of shapes need it

            for row, _, _ in rows:
                for piece in row:
                    sizes_in_place(unit, piece, out, "h" if is_column(unit) else "w")
            joins_shapes.equations(unit, rows, joins_shapes.forms_of(unit, rows, out), out)
            return
        if (ends := option(unit, "ends")) is not None:
            message = f"{opening(unit)} has no slanting ends; the line ends says nothing."
            out.problem(Problem("out-of-place", message, ends.span))
        width, height = out.outer(unit)
        along: Literal["w", "h"] = "h" if is_column(unit) else "w"
        firsts = []
        for n, (row, _, span) in enumerate(rows, 1):
            place = called(unit) if len(rows) == 1 or is_column(unit) else f"row {n} of {called(unit)}"
            sizes = [out.size_of(unit, piece) for piece in row]
            if len(row) == 1:
                out.same(sizes[0][0], width, place, span)
            else:
                out.total([(1, w) for w, _ in sizes], width, place, span)
            for i in range(1, len(row)):
                out.same(sizes[i - 1][1], sizes[i][1], place, row[i - 1].span.to(row[i].span))
            firsts.append(sizes[0][1])
            squares = all_squares(row) and len(rows) > 1
            for piece in row:
                sizes_in_place(unit, piece, out, along)
                if squares:
                    sizes_in_place(unit, piece, out, "h")
        if len(firsts) == 1:
            out.same(firsts[0], height, called(unit), rows[0][2])
        else:
            out.total([(1, h) for h in firsts], height, called(unit), rows[0][2].to(rows[-1][2]))

    def form(self, unit: Unit, out: Equations) -> Form | None:
        """The outline round shapes that leave slanting edges."""
        rows = grid(unit)[0]
        if not _of_shapes(unit, rows, out):
            return None
        from patternkit.piecing.kinds import joins_shapes  # only rows of shapes need it

        return joins_shapes.form(unit, rows, out)

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """Both sides of every plain piece."""
        plain = [p for row, _, _ in grid(unit)[0] for p in row if p.fabric]
        return tuple(leaf for p in plain for leaf in sides(out.size_of(unit, p), p.cut, plain=True))

    def ends(self, unit: Unit, side: Along, out: Equations) -> Ends | None:
        """The first and the last piece of a row, or of a column; the first and last row where each is one piece."""
        rows = [row for row, _, _ in grid(unit)[0]]
        across = len(rows) == 1 and side == "w"
        line = rows[0] if across else [row[0] for row in rows]
        whole = across or (side == "h" and len(rows[0]) == len(rows[-1]) == 1)
        if not whole or len(line) < 2 or any(p.cut or not p.fabric for p in (line[0], line[-1])):
            return None
        between = [p for row in rows for p in row if p.fabric and p not in (line[0], line[-1])]
        way = 0 if side == "w" else 1
        first, last = (out.size_of(unit, p) for p in (line[0], line[-1]))
        return Ends(
            End(first[way], first[way], first[1 - way]),
            End(last[way], last[way], last[1 - way]),
            tuple(out.size_of(unit, p) for p in between),
        )

    def may_trim(self, unit: Unit, side: Along) -> bool:
        """Where all pieces that lie at both edges are plain."""
        rows = [row for row, _, _ in grid(unit)[0]]
        edge = [p for row in rows for p in (row[0], row[-1])] if side == "w" else [*rows[0], *rows[-1]]
        return all(p.fabric for p in edge)

    def make(self, unit: Unit, shop: Shop) -> Making:
        """Each row is sewn left to right, then the rows from the top."""
        rows, row_marks = grid(unit)
        found = [[shop.part(unit, piece) for piece in row] for row, _, _ in rows]
        sewn = {id(what): what for line in found for what, _ in line if isinstance(what, Making)}
        if not all(is_rectangle(what.outline) for what in sewn.values()):
            from patternkit.piecing.kinds import joins_shapes  # only rows of shapes need it

            return joins_shapes.make(unit, rows, row_marks, shop)
        width, height = shop.width(unit), shop.height(unit)
        placed, sizes, cuts, y = [], [], [], ZERO
        lines = shop.stated_cuts(unit)
        for (row, _, _), lying in zip(rows, found, strict=True):
            line, size, x = [], [], ZERO
            for piece, (what, place) in zip(row, lying, strict=True):
                w, h = shop.piece_size(unit, piece)
                line.append(Placed(what, place.then(Place(x, y))))
                size.append((w, h))
                if isinstance(what, Cloth):
                    cuts.append(cloth_cut(what, shop, piece.span if piece.cut else None, lines))
                x = x + w
            placed.append(line)
            sizes.append(size)
            y = y + size[0][1]
        seams, _ = joined_rows(placed, sizes, [marks for _, marks, _ in rows], row_marks)
        parts = [p for line in placed for p in line]
        method = COLUMN if len(parts) == len(rows) else ROW if len(rows) == 1 else ROWS
        recipe = Recipe(method, merged(cuts))
        return making(unit, width, height, parts, seams, recipe)


def _of_shapes(unit: Unit, rows: Grid, out: Equations) -> bool:
    """Whether any piece is no rectangle."""
    return any(out.form_of(unit, piece) is not None for row, _, _ in rows for piece in row)


def is_column(unit: Unit) -> bool:
    """True when the pieces of the unit's one line run from top to bottom."""
    return unit.kind == "column" and len(unit.rows) == 1


def grid(unit: Unit) -> tuple[Grid, tuple[Mark | None, ...]]:
    """The unit's pieces as rows, with the marks between the rows."""
    if is_column(unit):
        row = unit.rows[0]
        return [((piece,), (), piece.span) for piece in row.pieces], tuple(row.marks)
    return [(row.pieces, row.marks, row.span) for row in unit.rows], unit.row_marks
