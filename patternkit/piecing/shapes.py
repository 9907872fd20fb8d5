"""What kinds of units share: raw sizes and cuts rounded up, seams between rows of pieces, names of places in words."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from fractions import Fraction
from typing import Literal

import msgspec

from patternkit.lengths import ZERO, Length, root
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.keys import Key
from patternkit.piecing.kinds.base import Equations, Shop
from patternkit.piecing.making import (
    Cloth,
    Making,
    Outline,
    PieceCut,
    Placed,
    Point,
    Recipe,
    Seam,
    Side,
    rectangle,
)
from patternkit.piecing.names import Name
from patternkit.piecing.offset import box_size
from patternkit.piecing.unknowns import Unknown
from patternkit.source import Span
from patternkit.syntax.statements import Mark
from patternkit.units import show

Then = Literal["", "half", "quarter", "strip", "template", "bias"]
SLOPES: dict[int, Length] = {30: root(3) / 3, 45: Length(1), 60: root(3)}
"""Tangents of the angles that a shape may have."""
PRESSED: dict[str, Side] = {">": "right", "<": "left", "<>": "open"}


# -- words ------------------------------------------------------------------------------------------------
def called(unit: Unit) -> str:
    """A unit in words: ``block lantern``, ``unit star(night, glow)``; of one that is cut apart all its pieces."""
    return f"{unit.role} {unit.whole}"


def opening(unit: Unit) -> str:
    """The same at the beginning of a sentence."""
    return called(unit)[0].upper() + called(unit)[1:]


def shown(value: Length, shop: Shop) -> str:
    """A length in the writer's units, with its sign."""
    return show(value, shop.units)


# -- sizes ------------------------------------------------------------------------------------------------
def up(value: Length, grid: Fraction) -> Length:
    """The rule for every cut: the next ruler line that is not below `value`."""
    return Length(value.ceil_to(grid))


def cut(
    fabric: str,
    width: Length,
    height: Length,
    shop: Shop,
    count: int = 1,
    then: Then = "",
    name: Name | None = None,
    shape: Outline = (),
    stated: Span | None = None,
) -> PieceCut:
    """Pieces cut at an exact raw size, rounded up to the ruler's grid."""
    return PieceCut(
        fabric,
        up(width, shop.grid),
        up(height, shop.grid),
        width,
        height,
        count,
        then,
        name,
        shape,
        stated=stated,
    )


def merged(cuts: Iterable[PieceCut]) -> tuple[PieceCut, ...]:
    """The same cuts with equal ones counted together, in the order they first came; where one was stated, so is the
    sum."""
    found: dict[PieceCut, PieceCut] = {}
    for c in cuts:
        key = msgspec.structs.replace(c, count=0, stated=None)
        old = found.get(key, key)
        found[key] = msgspec.structs.replace(c, count=old.count + c.count, stated=old.stated or c.stated)
    return tuple(found.values())


def cloth_cut(cloth: Cloth, shop: Shop, stated: Span | None = None, lines: Container[Length] = ()) -> PieceCut:
    """The cut of a plain rectangle of cloth: its finished size with a seam allowance on every side.

    Rounded up to the ruler, unless the writer stated the cut (`stated` is where): then it is as she wrote it. Raw sizes
    among `lines`, which she states of other pieces, are not rounded either.
    """
    width, height = (side + shop.seam * 2 for side in box_size(cloth.outline))
    if stated is None:
        found = cut(cloth.fabric, width, height, shop, name=cloth.name)
        return msgspec.structs.replace(
            found,
            width=width if width in lines else found.width,
            height=height if height in lines else found.height,
        )
    return PieceCut(cloth.fabric, width, height, width, height, 1, name=cloth.name, stated=stated)


def all_squares(row: tuple[Component, ...]) -> bool:
    """Whether all pieces of a row are cut from cloth by one and the same length: then it is that of squares, as it is
    under `patch`."""
    return all(p.fabric and p.cut and p.width is not None and p.height is None for p in row) and all(
        p.width == row[0].width for p in row
    )


def counted(names: Iterable[str]) -> dict[str, int]:
    """How often each name comes, in the order they first come."""
    found: dict[str, int] = {}
    for name in names:
        found[name] = found.get(name, 0) + 1
    return found


# -- equations --------------------------------------------------------------------------------------------
def sizes_in_place(unit: Unit, piece: Component, out: Equations, along: Literal["w", "h"] = "w") -> None:
    """State the sizes written beside a piece: two are width and height before it is turned, one lies along the
    joining."""
    sizes_beside(piece, out.size_of(unit, piece), called(unit), out, along)


def sizes_beside(
    piece: Component, size: tuple[Unknown, Unknown], owner: str, out: Equations, along: Literal["w", "h"] = "w"
) -> None:
    """The same for a piece of any owner, whose unknown width and height as it lies are `size`."""
    if piece.width is None:
        return
    w, h = size
    if piece.height is None:
        sides = [(w if along == "w" else h, piece.width)]
    elif piece.turned % 180 == 90:
        sides = [(h, piece.width), (w, piece.height)]
    else:
        sides = [(w, piece.width), (h, piece.height)]
    for (var, typed), number in zip(sides, piece.numbers, strict=False):
        verb = "is cut" if piece.cut else "finishes"
        text = f"in {owner}, {piece.name} {verb} {out.render(typed)} {out.way(var)}"
        out.stated(var, typed - out.seam * 2 if piece.cut else typed, text, piece.span, typed, number)


def same_as(
    unit: Unit,
    piece: Component,
    out: Equations,
    factors: tuple[Length | int, Length | int],
    text: str,
    along: Literal["w", "h"] = "w",
) -> None:
    """Tie a size written beside a piece, or that of a unit which is sewn in, to the unit: factor times its width
    (height) is the unit's."""
    if piece.width is None and not piece.is_sewn:
        return
    own, whole = out.size_of(unit, piece), out.outer(unit)
    out.total([(factors[0], own[0])], whole[0], text, unit.kind_span)
    out.total([(factors[1], own[1])], whole[1], text, unit.kind_span)
    sizes_in_place(unit, piece, out, along)


def state_width(unit: Unit, expression: object, cut: bool, var: Unknown, what: str, span: Span, out: Equations) -> None:
    """State how wide a strip finishes, or is `cut`, by an expression; `what` it is called in its unit."""
    typed = out.length(unit, expression)
    if typed is not None:
        verb = "is cut" if cut else "finishes"
        place: Span = getattr(expression, "span", span)
        out.stated(
            var,
            typed - out.seam * 2 if cut else typed,
            f"{what} of {called(unit)} {verb} {out.render(typed)} wide",
            place,
            typed,
            place,
        )


def square(unit: Unit, out: Equations, why: str) -> None:
    """The unit is as wide as it is high; `why` is the reason, as the end of a sentence after its name."""
    w, h = out.outer(unit)
    out.total([(1, w)], h, f"{called(unit)} {why}", unit.kind_span)


# -- seams ------------------------------------------------------------------------------------------------
def seam(start: Point, end: Point, left: Sequence[int], right: Sequence[int], mark: Mark | None = None) -> Seam:
    """A seam with the pressing that its mark says; toward the next piece is to the right of its direction."""
    stated = mark is not None and mark.mark in PRESSED
    pressed: Side = PRESSED[mark.mark] if mark is not None and mark.mark in PRESSED else "free"
    place = mark.span if mark is not None and mark.mark != "," else None
    return Seam(start, end, tuple(left), tuple(right), pressed, place if stated else None, place)


def joined_rows(
    rows: Sequence[Sequence[Placed]],
    sizes: Sequence[Sequence[tuple[Length, Length]]],
    marks: Sequence[Sequence[Mark | None]],
    row_marks: Sequence[Mark | None],
) -> tuple[list[Seam], Length]:
    """The seams of rows of placed pieces (each row left to right, then the rows top to bottom), and the whole height.

    Parts are numbered row by row. Vertical seams run upward and horizontal ones to the right, so that what was sewn
    before lies on the left and the next piece on the right.
    """
    seams: list[Seam] = []
    groups: list[tuple[list[int], Length, Length]] = []  # the row's parts, its top, its width
    first, top = 0, ZERO
    for row, size, between in zip(rows, sizes, marks, strict=True):
        x, height = ZERO, size[0][1]
        for i in range(len(row)):
            if i:
                seams.append(seam((x, top + height), (x, top), range(first, first + i), (first + i,), between[i - 1]))
            x = x + size[i][0]
        groups.append((list(range(first, first + len(row))), top, x))
        first, top = first + len(row), top + height
    above: list[int] = []
    for n, (numbers, at, width) in enumerate(groups):
        if n:
            seams.append(
                seam((ZERO, at), (width, at), above, numbers, row_marks[n - 1] if n <= len(row_marks) else None)
            )
        above = above + numbers
    return seams, top


# -- makings ----------------------------------------------------------------------------------------------
def making(
    unit: Unit,
    width: Length,
    height: Length,
    parts: Sequence[Placed | Cloth],
    seams: Sequence[Seam],
    recipe: Recipe,
) -> Making:
    """A making of a rectangular unit; cloths among the parts lie where their outlines say."""
    placed = tuple(p if isinstance(p, Placed) else Placed(p) for p in parts)
    return Making(
        Key(unit.name, unit.arguments, shifted=unit.shifted),
        unit.name,
        unit.role,
        unit.kind,
        rectangle(width, height),
        width,
        height,
        placed,
        tuple(seams),
        recipe,
        unit.title,
    )
