"""Rows, columns and grids in which pieces are no rectangles: each lies against the one before it, where edges that are
equally long and lie alike meet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from patternkit.lengths import ONE, ZERO
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import option, words_of
from patternkit.piecing.forms import (
    DOWN,
    NEAR,
    NOTHING,
    RIGHT,
    Chain,
    Corner,
    Form,
    Overlap,
    Sum,
    Unlike,
    box,
    edge,
    equal,
    known,
    line,
    moved,
    point,
    size,
    upright,
)
from patternkit.piecing.kinds.base import Equations, Shop, Unsettled
from patternkit.piecing.making import Cloth, Making, PieceCut, Place, Placed, Point, Recipe, Seam
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.offset import length_of
from patternkit.piecing.shapes import called, cloth_cut, merged, opening, seam
from patternkit.piecing.shapes import shown as length_shown
from patternkit.piecing.templates import shaped, template_cut
from patternkit.piecing.tips import dog_ears
from patternkit.problems import Problem
from patternkit.source import Span
from patternkit.syntax.statements import Mark, PieceUse, Ref

LINE, ROWS = (Method("joined", phrase, in_rows=True) for phrase in ("joins_shapes", "joins_shape_rows"))
HALF, FITTED = "half", "fitted"
LEFT_END, RIGHT_END = Name("left end"), Name("right end")
Rows = Sequence[tuple[Sequence[Component], Sequence[Mark], Span]]


class SquaredEnds(NamedTuple):
    """How the slanting ends of rows are squared off, and of which fabric."""

    way: str
    piece: Component


class ShapeRow(NamedTuple):
    """A row as it lies: its pieces from its left end, and the outline with its end pieces."""

    line: Chain
    form: Form
    ends: tuple[Form, ...] = ()


def ends_of(unit: Unit) -> SquaredEnds | Problem | None:
    """What the line ``ends`` says, or what is wrong with it."""
    stated = option(unit, "ends")
    if stated is None:
        return None
    found = stated.clauses[1] if len(stated.clauses) == 2 else ()
    word = found[0] if len(found) == 1 and isinstance(found[0], (Ref, PieceUse)) else None
    piece = unit.named.get(word.span) if word is not None else None
    way = words_of(stated)[0] if stated.clauses else ""
    if way in (HALF, FITTED) and piece is not None and piece.fabric:
        return SquaredEnds(way, piece)
    return Problem(
        "not-understood",
        f"In {called(unit)}, behind ends stands how the row is squared off, and the fabric of the pieces that do it.",
        stated.span,
        causes=(
            "With ends half, sky the slanting ends become triangles of sky; with ends fitted, sky they are as wide as "
            "the stated width needs.",
        ),
    )


# -- equations --------------------------------------------------------------------------------------------
def forms_of(unit: Unit, rows: Rows, out: Equations) -> list[list[Form]]:
    """The outlines of all pieces, row by row."""
    found = [[out.form_of(unit, p) for p in row] for row, _, _ in rows]
    return [
        [form if form is not None else _rectangle(unit, p, out) for form, p in zip(forms, row, strict=True)]
        for forms, (row, _, _) in zip(found, rows, strict=True)
    ]


def _rectangle(unit: Unit, piece: Component, out: Equations) -> Form:
    w, h = out.size_of(unit, piece)
    return upright(size(w, 1.0), size(h, 1.0))


def laid(
    unit: Unit, forms: Sequence[Sequence[Form]], width: Sum | None, *, fixed: bool
) -> tuple[list[ShapeRow], Chain]:
    """The rows as they lie, and the rows joined. With `width` slanting ends are squared off: of fitted ones it is the
    width of the unit. Raises Unlike and Overlap, with the number of the row in `row`."""
    ends = ends_of(unit)
    rows = []
    for n, row in enumerate(forms):
        try:
            own = line(row, RIGHT, fixed=fixed)
        except (Unlike, Overlap) as wrong:
            wrong.add_note(str(n))
            raise
        rows.append(
            _ended(own, ends, width) if isinstance(ends, SquaredEnds) and width is not None else ShapeRow(own, own.form)
        )
    return rows, line([row.form for row in rows], DOWN, fixed=fixed)


def _ended(own: Chain, ends: SquaredEnds, width: Sum) -> ShapeRow:
    """A row with its end pieces: triangles between its slanting ends and the box round it, wider where they are
    fitted."""
    (left, top), (right, bottom) = box(own.form)
    more = (width - (right - left)) / 2 if ends.way == FITTED else NOTHING
    left, right = left - more, right + more
    pieces = []
    for x, side in ((left, -1), (right, 1)):
        found = _end(own.form, x, side)
        if found is not None:
            pieces.append(found)
    return ShapeRow(own, upright(right - left, bottom - top, left, top), tuple(pieces))


def _end(form: Form, x: Sum, side: int) -> Form | None:
    """The piece between the end of a row and an upright line at `x`; None where there is nothing between them."""
    (_, top), (_, bottom) = box(form)
    for i in range(len(form)):
        run, rise = edge(form, i)
        if rise.about * side > NEAR and abs(abs(rise.about) - (bottom - top).about) < NEAR:
            (ax, ay), (bx, by) = form[i], form[(i + 1) % len(form)]
            ring = [(bx, by), (ax, ay)]  # the end piece's own edge runs the other way
            ring += [c for c, beside in (((x, ay), ax), ((x, by), bx)) if abs((x - beside).about) > NEAR]
            return tuple(ring) if len(ring) > 2 else None
    return None


def equations(unit: Unit, rows: Rows, forms: Sequence[Sequence[Form]], out: Equations) -> None:
    """Edges that meet are equally long; the unit is as large as the box round all."""
    ends = ends_of(unit)
    w, h = out.outer(unit)
    whole = size(w, 1.0)
    if isinstance(ends, Problem):
        out.problem(ends)
        return
    try:
        lines, stack = laid(unit, forms, whole if ends is not None else None, fixed=False)
    except (Unlike, Overlap) as wrong:
        out.problem(_refused(unit, rows, wrong, None))
        return
    for n, (row, (_, _, span)) in enumerate(zip(lines, rows, strict=True), 1):
        place = f"row {n} of {called(unit)}" if len(rows) > 1 else called(unit)
        for a, b in row.line.met:
            _equal(out, a, b, f"the edges that meet in {place} are equally long", place, span)
        if ends is not None:
            (left, _), (right, _) = box(row.form)
            equal(out, right - left, whole, f"{place} is as wide as the unit", span)
    for n, (a, b) in enumerate(stack.met, 1):
        text = f"the edges of rows {n} and {n + 1} of {called(unit)} that meet are equally long"
        _equal(out, a, b, text, called(unit), rows[n][2])
    (left, top), (right, bottom) = box(stack.form)
    span = unit.kind_span
    if ends is None:
        equal(out, right - left, whole, f"{called(unit)} is as wide as the shapes in it", span)
    equal(out, bottom - top, size(h, 1.0), f"{called(unit)} is as high as the shapes in it", span)


def _equal(out: Equations, a: Corner, b: Corner, text: str, place: str, span: Span) -> None:
    """Two edges that lie alike are equally long: their longer run is the same."""
    k = 0 if abs(a[0].about) > abs(a[1].about) else 1
    terms = (a[k] - b[k]).terms
    if len(terms) == 2 and sum(terms.values(), ZERO) == 0:
        first, second = terms
        out.same(first, second, place, span)
    else:
        equal(out, a[k], b[k], text, span)


def form(unit: Unit, rows: Rows, out: Equations) -> Form | None:
    """The outline of a unit of shapes; None for a rectangle."""
    if option(unit, "ends") is not None:
        return None
    forms = forms_of(unit, rows, out)
    try:
        _, stack = laid(unit, forms, None, fixed=False)
    except (Unlike, Overlap):
        return None
    (x, y), _ = box(stack.form)
    found = moved(stack.form, (x * -1, y * -1))
    return None if len(found) == 4 and all(not (s[0].about and s[1].about) for s in _edges(found)) else found


def _edges(form: Form) -> list[Corner]:
    return [edge(form, i) for i in range(len(form))]


# -- what can't be joined ---------------------------------------------------------------------------------
def _refused(unit: Unit, rows: Rows, wrong: Unlike | Overlap, shop: Shop | None) -> Problem:
    """Why shapes can't be joined: which edges differ, or that they meet along more than one."""
    notes = getattr(wrong, "__notes__", [])
    if notes:
        row = rows[int(notes[0])][0]
        place = f"row {int(notes[0]) + 1} of {called(unit)}" if len(rows) > 1 else called(unit)
        before, own = (p.name for p in row[wrong.number - 1 : wrong.number + 1])
        sides, span = ("right", "left"), row[wrong.number].span
    else:
        column = all(len(row) == 1 for row, _, _ in rows)
        before, own = (rows[n][0][0].name if column else f"row {n + 1}" for n in (wrong.number - 1, wrong.number))
        place, sides, span = called(unit), ("lower", "upper"), rows[wrong.number][2]
    if isinstance(wrong, Overlap):
        return Problem(
            "edges-differ",
            f"In {place}, {own} meets what lies before it along more than one edge.",
            span,
            causes=("That is a set-in seam. A field of hexagons is written hexagons, with its rows under it.",),
        )
    edges = [_described(v, shop) for v in (wrong.before, wrong.own)]
    return Problem(
        "edges-differ",
        f"In {place}, the {sides[0]} edge of {before} and the {sides[1]} edge of {own} do not meet: "
        f"the one {edges[0]}, the other {edges[1]}.",
        span,
        causes=(
            "Pieces are joined where the edges that meet are equally long and lie alike. A slanting end is squared off "
            "by ends half, sky, a shape by a background behind its fabric.",
        ),
    )


def _described(vector: Corner, shop: Shop | None) -> str:
    """How an edge lies: upright, level, or how it slants; with its length where that is known."""
    x, y = (side.about for side in vector)
    lies = "is upright" if abs(x) < NEAR else "is level" if abs(y) < NEAR else ""
    if not lies:
        from math import atan2, degrees

        angle = round(degrees(atan2(abs(y), abs(x))))
        lies = f"{'rises' if x * y < 0 else 'falls'} to the right at {angle} degrees"
    return lies if shop is None else f"{lies} and {length_shown(length_of(point(vector)), shop)} long"


# -- as drawn ---------------------------------------------------------------------------------------------
def make(unit: Unit, rows: Rows, row_marks: Sequence[Mark | None], shop: Shop) -> Making:
    """Each row from its left end, then the rows from the top."""
    ends = ends_of(unit)
    if isinstance(ends, Problem):
        raise Unsettled(unit.key)
    parts = [[shop.part(unit, piece) for piece in row] for row, _, _ in rows]
    forms = [[known(place.outline(what.outline)) for what, place in row] for row in parts]
    width = known(((shop.width(unit), ZERO),))[0][0]
    try:
        lines, stack = laid(unit, forms, width if ends is not None else None, fixed=True)
    except (Unlike, Overlap) as wrong:
        shop.problem(_refused(unit, rows, wrong, shop))
        raise Unsettled(unit.key) from None
    if ends is not None:
        _wide_enough(unit, ends, lines, width, shop)
    return _Drawing(unit, shop, ends).making(rows, row_marks, parts, lines, stack)


def _wide_enough(unit: Unit, ends: SquaredEnds, lines: Sequence[ShapeRow], width: Sum, shop: Shop) -> None:
    """Report a row that has no slanting ends, or is too narrow for its shapes; raises Unsettled."""
    span = ends.piece.span
    if any((width - (box(row.line.form)[1][0] - box(row.line.form)[0][0])).inches < 0 for row in lines):
        message = f"{opening(unit)} is too narrow for the shapes in it and two end pieces."
    elif not any(row.ends for row in lines):
        message = f"In {called(unit)}, no row ends in one slanting edge, and the line ends says nothing."
    else:
        return
    shop.problem(Problem("does-not-add-up" if "narrow" in message else "out-of-place", message, span))
    raise Unsettled(unit.key)


class _Drawing:
    """What is drawn of one unit: its parts, seams and cuts, in sewing order."""

    def __init__(self, unit: Unit, shop: Shop, ends: SquaredEnds | None) -> None:
        self.unit, self.shop, self.ends = unit, shop, ends
        self.parts: list[Placed] = []
        self.seams: list[Seam] = []

    def making(
        self,
        rows: Rows,
        row_marks: Sequence[Mark | None],
        parts: Sequence[Sequence[tuple[Cloth | Making, Place]]],
        lines: Sequence[ShapeRow],
        stack: Chain,
    ) -> Making:
        """The making, its box's upper left corner at (0, 0)."""
        (left, top), _ = box(stack.form)
        home = left * -1, top * -1
        across: list[tuple[Corner, Corner, Sequence[int], Sequence[int], Mark | None]] = []
        above: Sequence[int] = ()
        for n, (row, (_, marks, _)) in enumerate(zip(lines, rows, strict=True)):
            by = stack.places[n][0] + home[0], stack.places[n][1] + home[1]
            own = self._row(parts[n], row, marks, by)
            if n:
                start, end = moved(stack.seams[n - 1], home)
                across.append((start, end, above, own, row_marks[n - 1] if n <= len(row_marks) else None))
            above = [*above, *own]
        for start, end, before, after, mark in across:
            self.seams.append(seam(point(start), point(end), before, after, mark))
        outline = tuple(point(c) for c in moved(stack.form, home))
        method = ROWS if len(rows) > 1 and any(len(row) > 1 for row, _, _ in rows) else LINE
        return shaped(self.unit, _from_corner(outline), self.parts, self.seams, Recipe(method, self._cuts()))

    def _row(
        self, parts: Sequence[tuple[Cloth | Making, Place]], row: ShapeRow, marks: Sequence[Mark], by: Corner
    ) -> list[int]:
        """One row, with its end pieces: its parts by their numbers."""
        first = len(self.parts)
        placed = [
            Placed(what, place.then(Place(*point(moved((at,), by)[0]))))
            for (what, place), at in zip(parts, row.line.places, strict=True)
        ]
        lines: list[tuple[Corner, Corner, Mark | None]] = []
        for ends, mark in zip(row.line.seams, marks, strict=True):
            start, stop = moved(ends, by)
            lines.append((start, stop, mark))
        for end in row.ends:
            ring = moved(end, by)
            start, stop = ring[0], ring[1]  # the edge that meets the row, as it runs round the end piece
            before = self._before(row, end)
            cloth = Cloth(
                self._fabric, tuple(point(c) for c in ring), (ONE, ZERO), LEFT_END if before else RIGHT_END, True
            )
            if before:
                placed.insert(0, Placed(cloth))
                lines.insert(0, (stop, start, None))
            else:
                placed.append(Placed(cloth))
                lines.append((start, stop, None))
        self.parts += placed
        for n, (begin, finish, own) in enumerate(lines, 1):
            self.seams.append(seam(point(begin), point(finish), range(first, first + n), (first + n,), own))
        return list(range(first, first + len(placed)))

    @property
    def _fabric(self) -> str:
        assert self.ends is not None
        return self.ends.piece.fabric

    def _before(self, row: ShapeRow, end: Form) -> bool:
        """Whether an end piece lies at the left."""
        (left, _), _ = box(row.form)
        return any(abs((x - left).about) < NEAR for x, _ in end)

    def _cuts(self) -> tuple[PieceCut, ...]:
        outlines = [p.place.outline(p.what.outline) for p in self.parts]
        trims = dog_ears(outlines, self.seams, self.shop.seam)
        cuts = []
        for p, trim in zip(self.parts, trims, strict=True):
            if isinstance(p.what, Cloth):
                plain = p.what.name is None
                cuts.append(cloth_cut(p.what, self.shop) if plain else template_cut(p.what, self.shop, trim))
        return merged(cuts)


def _from_corner(outline: Sequence[Point]) -> tuple[Point, ...]:
    """An outline from its upper, then left corner, as others begin."""
    first = min(range(len(outline)), key=lambda i: (outline[i][1], outline[i][0]))
    return (*outline[first:], *outline[:first])
