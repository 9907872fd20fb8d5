"""Four pieces that turn round a middle: each begins behind the one before, so that the first seam is closed last."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import ClassVar, Literal

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import option, pieces, problems
from patternkit.piecing.batch import Action, Batch, Join
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.leaves import Along, Leaf, sides
from patternkit.piecing.making import Cloth, Making, Numbers, Place, Placed, Recipe, Seam
from patternkit.piecing.method import Method
from patternkit.piecing.sewing.desk import Desk, NoCut, Part, trimming
from patternkit.piecing.shapes import called, cloth_cut, making, merged, opening, seam, sizes_in_place, state_width
from patternkit.piecing.unknowns import Unknown, of_unit
from patternkit.problems import Problem
from patternkit.syntax.statements import Binary, Call, Num, Option, PieceUse, Ref

PARTIAL = Method("joined", "partial-seam", drawn="partial")
SIDES = ("top", "right", "bottom", "left")
_NEXT = {"clockwise": (3, 0, 1, 2), "counterclockwise": (1, 2, 3, 0)}
"""Beside each side, on which side the piece lies whose end it covers: with the middle it is as long as the side."""

Size = tuple[Unknown, Unknown]


class Turning(Numbers, frozen=True):
    """Whether the pieces turn clockwise."""

    clockwise: bool


class Around(msgspec.Struct, frozen=True):
    """A piece as it stands behind ``round``, and the width that is said of it (`cut` where it is raw)."""

    piece: Component
    width: object | None = None
    cut: bool = False


class PartialSeam(Kind):
    """``partial-seam core`` with ``round a, b, c, d`` under it: top, right, bottom, left."""

    words: ClassVar[tuple[str, ...]] = ("partial-seam",)
    joins: ClassVar[bool] = True
    written: ClassVar[str] = "partial-seam core 2: the middle and its size; the four pieces round it stand under it"
    options: ClassVar[dict[str, str]] = {
        "round": "round night 2, glow 2, night 2, glow 2 (top, right, bottom, left)",
        "clockwise": "clockwise",
        "counterclockwise": "counterclockwise",
    }

    def equations(self, unit: Unit, out: Equations) -> None:
        """Each piece is as long as the middle and the piece whose end it covers; opposite pieces lie beside each
        other."""
        for problem in problems(self, unit, sizes=("finished", "cut")):
            out.problem(problem)
        found, wrong = _around(unit)
        for problem in (*wrong, *_twice_round(unit)):
            out.problem(problem)
        if not pieces(unit) or len(found) != 4:
            return
        core = pieces(unit)[0]
        middle = out.size_of(unit, core)
        sizes_in_place(unit, core, out)
        if core.fabric and core.width is not None and core.height is None:
            sizes_in_place(unit, core, out, "h")  # one length stands for both sides of a square
        around = [out.size_of(unit, one.piece) for one in found]
        for n, (one, size) in enumerate(zip(found, around, strict=True)):
            _width(unit, n, one, size, out)
            end = around[_NEXT[_way(unit)][n]]
            along = n % 2  # 0: it lies along the top or bottom
            text = f"in {called(unit)}, the {SIDES[n]} piece is as long as the middle and the piece beside it"
            out.total([(1, middle[along]), (1, end[along])], size[along], text, one.piece.span)
        for along, (a, b) in enumerate(((0, 1), (1, 2)) if _way(unit) == "clockwise" else ((0, 3), (3, 2))):
            text = f"the {SIDES[a]} and the {SIDES[b]} piece of {called(unit)}"
            out.total([(1, around[a][along]), (1, around[b][along])], out.outer(unit)[along], text, unit.kind_span)

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """Both sides of every plain piece."""
        found, _ = _around(unit)
        plain = [(p, p.cut) for p in pieces(unit)] + [(one.piece, one.cut) for one in found]
        return tuple(leaf for p, cut in plain if p.fabric for leaf in sides(out.size_of(unit, p), cut, plain=True))

    def may_trim(self, unit: Unit, side: Along) -> bool:
        """Where all pieces round the middle are plain."""
        found, _ = _around(unit)
        return bool(found) and all(one.piece.fabric for one in found)

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The middle, then top, right, bottom and left, in a square of seams."""
        found, wrong = _around(unit)
        if wrong or len(found) != 4 or not pieces(unit):
            raise Unsettled(unit.key)
        listed = [pieces(unit)[0], *(one.piece for one in found)]
        sizes = [shop.piece_size(unit, piece) for piece in listed]
        parts, cuts, lines = [], [], shop.stated_cuts(unit)
        for piece, (x, y) in zip(listed, _corners(sizes, _way(unit)), strict=True):
            what, place = shop.part(unit, piece)
            parts.append(Placed(what, place.then(Place(x, y))))
            if isinstance(what, Cloth):
                cuts.append(cloth_cut(what, shop, piece.span if piece.cut else None, lines))
        seams = _seams(sizes, _way(unit))
        recipe = Recipe(PARTIAL, merged(cuts), numbers=Turning(_way(unit) == "clockwise"))
        return making(unit, shop.width(unit), shop.height(unit), parts, seams, recipe)


# -- as written ---------------------------------------------------------------------------------------------
def _way(unit: Unit) -> Literal["clockwise", "counterclockwise"]:
    return "counterclockwise" if option(unit, "counterclockwise") is not None else "clockwise"


def _around(unit: Unit) -> tuple[list[Around], list[Problem]]:
    """The four pieces round the middle, and what is wrong with them."""
    found = option(unit, "round")
    if found is None:
        why = "They are written round night, glow, night, glow: top, right, bottom, left."
        message = f"{opening(unit)} has nothing round its middle."
        return [], [Problem("wrong-pieces", message, unit.kind_span, causes=(why,))]
    wrong = [p for clause in found.clauses if (p := _misread(clause, unit, found)) is not None]
    if wrong:
        return [], wrong
    around = [_one(clause, unit) for clause in found.clauses]
    if len(around) in (1, 2):  # one stands for all four, two by turns
        around = [_again(around[n % len(around)], n) for n in range(4)]
    if len(around) == 4:
        return around, []
    message = f"In {called(unit)}, {len(around)} pieces stand behind round, and four lie round the middle."
    why = "One piece stands for all four, two stand by turns."
    return [], [Problem("wrong-pieces", message, found.span, causes=(why,))]


def _again(one: Around, n: int) -> Around:
    """A piece that stands for several: each has a size of its own."""
    turned = one.piece.turned if one.piece.fabric else (one.piece.turned + 90 * n) % 360
    copy = msgspec.structs.replace(one.piece, slot=f"{one.piece.slot} {SIDES[n]}", turned=turned)
    return msgspec.structs.replace(one, piece=copy)


def _one(clause: Sequence[object], unit: Unit) -> Around:
    head, *rest = clause
    assert isinstance(head, (Ref, PieceUse))
    raw = bool(rest) and isinstance(rest[0], Ref) and rest[0].name == "cut"
    return Around(unit.named[head.span], rest[-1] if rest[raw:] else None, raw)


def _misread(clause: Sequence[object], unit: Unit, o: Option) -> Problem | None:
    """What stands behind ``round`` and is no piece with its width."""
    head, *rest = clause if clause else (None,)
    span = getattr(head, "span", o.span)
    if not isinstance(head, (Ref, PieceUse)) or head.span not in unit.named:
        name = getattr(head, "name", "this")
        message = f"In {called(unit)}, {name} behind round is no fabric and no unit."
        return Problem("unknown-name", message, span)
    raw = bool(rest) and isinstance(rest[0], Ref) and rest[0].name == "cut"
    left = rest[raw:]
    if len(left) > 1 or (left and not isinstance(left[0], (Num, Binary, Call, Ref))) or (raw and not left):
        message = f"In {called(unit)}, behind {head.name} stands one width."
        why = "How long a piece is follows from the middle and the piece whose end it covers."
        return Problem("not-understood", message, span, causes=(why,))
    if left and unit.named[head.span].unit:
        message = f"In {called(unit)}, {head.name} is a unit and has a size of its own."
        return Problem("out-of-place", message, span)
    return None


def _twice_round(unit: Unit) -> Iterator[Problem]:
    both = [o for o in unit.options if o.word in ("clockwise", "counterclockwise")]
    if len({o.word for o in both}) == 2:
        yield Problem("said-twice", f"{opening(unit)} goes round one way.", both[1].span)


def _width(unit: Unit, n: int, one: Around, size: Size, out: Equations) -> None:
    """How wide a plain piece is; those of which nothing is said are equally wide."""
    var, name = size[1 - n % 2], f"the {SIDES[n]} piece"
    out.shown(var, f"{name} of {called(unit)}")
    if one.piece.unit:
        return
    if one.width is None:
        usual = of_unit(unit.key, "round")
        out.shown(usual, f"the width of the pieces round the middle of {called(unit)}")
        out.same(var, usual, f"pieces round the middle of {called(unit)}", one.piece.span)
    else:
        state_width(unit, one.width, one.cut, var, name, one.piece.span, out)


# -- as drawn -----------------------------------------------------------------------------------------------
def _corners(sizes: Sequence[tuple[Length, Length]], way: str) -> list[tuple[Length, Length]]:
    """The upper left corners of the middle, the top, the right, the bottom and the left piece."""
    (w, h), (_, top), _, _, (left, _) = sizes
    if way == "clockwise":
        return [(left, top), (ZERO, ZERO), (left + w, ZERO), (left, top + h), (ZERO, top)]
    return [(left, top), (left, ZERO), (left + w, top), (ZERO, top + h), (ZERO, ZERO)]


def _seams(sizes: Sequence[tuple[Length, Length]], way: str) -> list[Seam]:
    """The seam of each piece round the middle, in sewing order; the first, which is closed last, in its whole
    length."""
    (w, h), (_, top), (right, _), (_, bottom), (left, _) = sizes
    x0, x1, y0, y1 = left, left + w, top, top + h
    wide, high = x1 + right, y1 + bottom
    if way == "clockwise":
        return [
            seam((x1, y0), (ZERO, y0), (0, 4), (1,)),
            seam((x1, y1), (x1, ZERO), (0, 1), (2,)),
            seam((x0, y1), (wide, y1), (0, 2), (3,)),
            seam((x0, y0), (x0, high), (0, 3), (4,)),
        ]
    return [
        seam((wide, y0), (x0, y0), (0, 2), (1,)),
        seam((x0, ZERO), (x0, y1), (0, 1), (4,)),
        seam((ZERO, y1), (x1, y1), (0, 4), (3,)),
        seam((x1, high), (x1, y0), (0, 3), (2,)),
    ]


# -- as sewn ------------------------------------------------------------------------------------------------
def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The first piece half way onto the middle, the others round it, then the rest of the first seam."""
    try:
        parts: list[Part] = [desk.part(making, p) for p in making.parts]
    except NoCut:
        return []
    first, *others = making.seams
    (begun,) = desk.joins(msgspec.structs.replace(first, left=(0,)), parts)
    fit: Literal["start", "end"] = "end" if making.seams[1].right == (2,) else "start"
    actions: list[Action] = [msgspec.structs.replace(begun, fit=fit, partial="begun")]
    for one in others:
        actions += desk.joins(one, parts)
    actions += [msgspec.structs.replace(join, partial="closed") for join in desk.joins(first, parts)]
    assert all(isinstance(action, Join) for action in actions)
    actions += [*trimming(making, "even", desk.ruler), desk.measure(making)]
    found = desk.batch([p.use for p in parts], [(PARTIAL.phrase, actions)], [(desk.thing(making), 1)])
    return [(found, desk.times)]
