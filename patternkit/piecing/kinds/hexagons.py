"""Fields of hexagons, points up: in rows, or round about a middle; set in from dot to dot."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import ClassVar, NamedTuple

import msgspec

from patternkit.lengths import ONE, SQRT3, ZERO, Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing import cells
from patternkit.piecing.asking import one_length, option, problems
from patternkit.piecing.batch import Action, Batch
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.making import Cloth, Making, Outline, PieceCut, Point, Recipe, Seam
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.offset import bounding_box, moved, raw_outline
from patternkit.piecing.sewing.desk import Desk, Passages
from patternkit.piecing.shapes import called, merged, opening, seam
from patternkit.piecing.templates import is_rectangle, shape_cut, shaped
from patternkit.piecing.unknowns import of_unit
from patternkit.problems import Problem
from patternkit.syntax.statements import Mark, PieceUse, Ref

BY_ROWS, SQUARED = (
    Method("set-in", phrase, pressed="open", in_rows=True, holds_units=True)
    for phrase in ("hexagon-rows", "hexagon-rows-squared")
)
BY_ROUNDS = Method("set-in", "hexagon-rounds", pressed="open", holds_units=True)
MOST = 400
BACKGROUND = Name("background")


class Honeycomb(NamedTuple):
    """The cells of a field row by row, or round by round: the middle of each, and what it is."""

    middles: list[list[cells.Spot]]
    pieces: list[list[Component]]
    in_rounds: bool

    @property
    def all(self) -> list[cells.Spot]:
        """All middles, in order."""
        return [m for row in self.middles for m in row]


class Hexagons(Kind):
    """``hexagons`` with rows under it, or ``hexagons rose`` and ``round glow``; ``side 1``, ``background sky``."""

    words: ClassVar[tuple[str, ...]] = ("hexagons",)
    shapes: ClassVar[bool] = True
    written: ClassVar[str] = "hexagons, with rows of cells under it; or hexagons rose, with lines round glow"
    pieces: ClassVar[tuple[int, int]] = (1, MOST)
    options: ClassVar[dict[str, str]] = {"side": "side 1", "round": "round glow, rose", "background": "background sky"}

    def equations(self, unit: Unit, out: Equations) -> None:
        """All cells have one side; a cell is root 3 of it wide and two of it high."""
        once = tuple({o.word: o for o in unit.options}.values())  # as many rounds as one likes
        for problem in problems(self, msgspec.structs.replace(unit, options=once)):
            out.problem(problem)
        found = field_of(unit)
        if isinstance(found, Problem):
            out.problem(found)
            return
        if (wrong := _no_background(unit)) is not None:
            out.problem(wrong)
        side = of_unit(unit.key, "side")
        out.shown(side, f"the side of the hexagons of {called(unit)}")
        _state_side(unit, out)
        (left, top), (right, bottom) = cells.box(cells.cell(m) for m in found.all)
        w, h = out.outer(unit)
        wide, high = SQRT3 * (right - left) / 2, ONE * (bottom - top) / 2
        out.total([(wide, side)], w, f"{called(unit)} is {_halves(right - left)} hexagons wide", unit.kind_span)
        out.total([(high, side)], h, f"{called(unit)} is as high as its rows of hexagons", unit.kind_span)
        for piece in {p.slot: p for row in found.pieces for p in row if p.unit}.values():
            own = out.size_of(unit, piece)
            why = f"{piece.name} is a hexagon of {called(unit)}, a point at its top"
            out.total([(SQRT3, side)], own[0], why, piece.span)
            out.total([(2, side)], own[1], why, piece.span)

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The cells in the order of sewing, then what squares them off."""
        found = field_of(unit)
        if isinstance(found, Problem):
            raise Unsettled(unit.key)
        ground = option(unit, "background")
        parts = [_cell(m, shop.fabric(unit, p)) for m, p in _each(found)]
        fillers = cells.around(found.all) if ground is not None else []
        parts += [(m, ring, _fabric(unit), BACKGROUND) for m, ring in fillers]
        rows: dict[int, list[int]] = {}
        for n, ((x, row), _, _, _) in sorted(enumerate(parts), key=lambda part: part[1][0]):
            rows.setdefault(row, []).append(n)
        rings = [ring for _, ring, _, _ in parts]
        rounds = found.in_rounds and ground is None
        sewn = (
            cells.one_by_one(rings, range(len(rings)))
            if rounds
            else cells.row_by_row(rings, [rows[row] for row in sorted(rows)])
        )
        (left, top), _ = cells.box(rings)
        at = _Grid(shop.solved(of_unit(unit.key, "side")), left, top)
        cloths = [Cloth(fabric, at.outline(ring), (ZERO, ONE), name, True) for _, ring, fabric, name in parts]
        seams = [_seam(unit, s, at.outline(s.path)) for s in sewn]
        recipe = Recipe(BY_ROUNDS if rounds else SQUARED if fillers else BY_ROWS, _cuts(cloths, shop))
        return shaped(unit, at.outline(cells.outline(rings)), cloths, seams, recipe)


class _Grid(NamedTuple):
    """Where the whole numbers of a field lie in inches."""

    side: Length
    left: int
    top: int

    def outline(self, ring: Sequence[cells.Spot]) -> Outline:
        return tuple(self.point(spot) for spot in ring)

    def point(self, spot: cells.Spot) -> Point:
        return self.side * SQRT3 * (spot[0] - self.left) / 2, self.side * (spot[1] - self.top) / 2


def _cell(middle: cells.Spot, fabric: str) -> tuple[cells.Spot, cells.Ring, str, Name | None]:
    return middle, cells.cell(middle), fabric, None


def _each(field: Honeycomb) -> Iterator[tuple[cells.Spot, Component]]:
    for middles, pieces in zip(field.middles, field.pieces, strict=True):
        yield from zip(middles, pieces, strict=True)


def _seam(unit: Unit, sewing: cells.Sewing, path: Outline) -> Seam:
    found = seam(path[0], path[-1], sewing.sewn, sewing.added, _mark(unit, sewing))
    return msgspec.structs.replace(found, set_in=True, path=path) if len(path) > 2 else found


def _mark(unit: Unit, sewing: cells.Sewing) -> Mark | None:
    """The mark that presses a seam: between two cells of a row the one between them, between rows that on a line of its
    own."""
    first = 0
    for n, row in enumerate(unit.rows):
        if len(sewing.path) == 2 and first < sewing.added[0] < first + len(row.pieces):
            return row.marks[sewing.added[0] - first - 1]
        if n and len(sewing.path) > 2 and first in sewing.added:
            return unit.row_marks[n - 1]
        first += len(row.pieces)
    return None


def _cuts(cloths: Sequence[Cloth], shop: Shop) -> tuple[PieceCut, ...]:
    """All pieces keep their points, so that those of one shape are cut alike; upright edges lie along the strip."""
    found: dict[Outline, PieceCut] = {}
    cuts = []
    for cloth in cloths:
        (left, top), _ = bounding_box(cloth.outline)
        shape = moved(cloth.outline, (-left, -top))
        if shape not in found:
            found[shape] = shape_cut(cloth, raw_outline(cloth.outline, shop.seam), shop)
        cuts.append(msgspec.structs.replace(found[shape], fabric=cloth.fabric, name=cloth.name))
    return merged(cuts)


# -- as written ---------------------------------------------------------------------------------------------
def field_of(unit: Unit) -> Honeycomb | Problem:
    """The cells as they are written, or what is wrong with them."""
    rounds = [o for o in unit.options if o.word == "round"]
    if rounds:
        return _rounds(unit)
    lengths = [len(row.pieces) for row in unit.rows]
    if not lengths:
        why = "They stand in rows under it; or one beside it, with lines round glow under the unit."
        return Problem("wrong-pieces", f"{opening(unit)} has no hexagons.", unit.kind_span, causes=(why,))
    try:
        return Honeycomb(cells.in_rows(lengths), [list(row.pieces) for row in unit.rows], False)
    except cells.UnevenRows as wrong:
        n = wrong.number
        message = (
            f"In {called(unit)}, row {n + 1} has {lengths[n]} hexagons, and the row before has {lengths[n - 1]}: they "
            "do not lie in each other's notches."
        )
        why = "A row is as long as the one before, or one longer or shorter, which is centred under it."
        return Problem("wrong-pieces", message, unit.rows[n].span, causes=(why,))


def _rounds(unit: Unit) -> Honeycomb | Problem:
    """A middle and the rounds about it."""
    rounds = [o for o in unit.options if o.word == "round"]
    if len(unit.rows) != 1 or len(unit.rows[0].pieces) != 1:
        message = f"{opening(unit)} has rounds, and they lie about one hexagon: hexagons rose."
        return Problem("wrong-pieces", message, unit.kind_span)
    pieces = [[unit.rows[0].pieces[0]]]
    for n, one in enumerate(rounds, 1):
        words = [word for clause in one.clauses for word in clause]
        listed = [unit.named.get(word.span) for word in words if isinstance(word, (Ref, PieceUse))]
        known = [p for p in listed if p is not None]
        if not listed or len(known) < len(words):
            message = f"In {called(unit)}, behind round stand the fabrics or units of its hexagons: round glow, rose."
            return Problem("not-understood", message, one.span)
        if 6 * n % len(known):
            message = f"In {called(unit)}, round {n} has {6 * n} hexagons, and {len(known)} by turns leave some over."
            return Problem("wrong-pieces", message, one.span)
        pieces.append([known[i % len(known)] for i in range(6 * n)])
    if sum(map(len, pieces)) > MOST:
        return Problem("too-large", f"{opening(unit)} has more than {MOST} hexagons.", unit.kind_span)
    return Honeycomb(cells.in_rounds(len(rounds)), pieces, True)


def _fabric(unit: Unit) -> str:
    ground = option(unit, "background")
    word = ground.clauses[0][0] if ground is not None and ground.clauses and ground.clauses[0] else None
    piece = unit.named.get(word.span) if isinstance(word, (Ref, PieceUse)) else None
    return piece.fabric if piece is not None else ""


def _no_background(unit: Unit) -> Problem | None:
    """The problem of a background that is no one fabric."""
    ground = option(unit, "background")
    if ground is None or (_fabric(unit) and sum(map(len, ground.clauses)) == 1):
        return None
    message = f"In {called(unit)}, behind background stands the fabric that squares the hexagons off."
    return Problem("not-understood", message, ground.span)


def _state_side(unit: Unit, out: Equations) -> None:
    stated = option(unit, "side")
    if stated is None:
        return
    value = one_length(unit, "side", out)
    if value is not None:
        text = f"the hexagons of {called(unit)} have sides of {out.render(value)}"
        out.stated(of_unit(unit.key, "side"), value, text, stated.span)


def _halves(n: int) -> str:
    return f"{n // 2} 1/2" if n % 2 else f"{n // 2}"


# -- as sewn ------------------------------------------------------------------------------------------------
def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """Every seam from dot to dot, but for the ends at the outer edge."""
    from patternkit.piecing.sewing.cloths import parts_of
    from patternkit.piecing.sewing.shaped import joins

    parts = parts_of(making, desk)
    seams: list[Action] = [join for n in range(len(making.seams)) for join in joins(making, n, parts, desk)]
    measured = [desk.measure(making)] if is_rectangle(making.outline) else []
    passages: Passages = [(making.recipe.method.phrase, seams), ("measure", measured)]
    return [(desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)]), desk.times)]
