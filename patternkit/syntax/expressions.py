"""Expressions, and pieces in a row: what statements are made of."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal, Union

import msgspec

from patternkit.source import Span

MarkText = Literal["|", ">", "<", "<>", ","]


# -- expressions ------------------------------------------------------------------------------------------
class Num(msgspec.Struct, frozen=True):
    """A number, with the unit written behind it (``in``, ``cm``, ``mm``, ``m``, ``yd``, ``ft``; ``%`` in ``shrinkage
    3%``) or None for the file's own."""

    value: Fraction
    unit: str | None
    span: Span


class Ref(msgspec.Struct, frozen=True):
    """A name used as a value: a ``let``, a parameter, or (as an argument) a fabric or unit."""

    name: str
    span: Span


class Binary(msgspec.Struct, frozen=True):
    """``left op right`` with op one of ``+ - * /``."""

    op: str
    left: Expr
    right: Expr
    span: Span


class Call(msgspec.Struct, frozen=True):
    """A function of the arithmetic: ``root(2)`` is the square root, ``-`` as name is the negative."""

    name: str
    args: tuple[Expr, ...]
    span: Span


Expr = Union[Num, Ref, Binary, Call]


# -- pieces in a row --------------------------------------------------------------------------------------
class Laid(msgspec.Struct, frozen=True):
    """``laid``, ``laid at 0 x 1``: the piece is cut from a strip unit, whose corner lies at that point."""

    span: Span
    x: Expr | None = None
    y: Expr | None = None


class PieceUse(msgspec.Struct, frozen=True):
    """One piece in a row: a fabric or unit by name, with what is said of it in place.

    `width`/`height` is a finished size, or a raw one when `cut` is True. `turned` is degrees clockwise, `turn` the name
    of a number of them; mirroring (left to right) happens before turning. An argument is an expression, or a unit as it
    lies (``gate(core turned 90)``). `shifted` is by how many strips a segment is moved on.
    """

    name: str
    name_span: Span
    span: Span
    args: tuple[Argument, ...] = ()
    width: Expr | None = None
    height: Expr | None = None
    cut: bool = False
    turned: int = 0
    mirrored: bool = False
    turn: Ref | None = None
    laid: Laid | None = None
    shifted: int = 0


Argument = Union[Expr, PieceUse]


class Mark(msgspec.Struct, frozen=True):
    """A seam between two pieces or two rows: ``|`` pressing not stated, ``>`` toward the next, ``<`` toward the one
    before, ``<>`` open. A comma separates pieces that are listed and not joined in order."""

    mark: MarkText
    span: Span


class RepeatedGroup(msgspec.Struct, frozen=True):
    """``( a | b | ) 3 times``: a stretch of a row that repeats. A mark at its end also joins what follows."""

    items: tuple[PieceUse | RepeatedGroup, ...]
    marks: tuple[Mark, ...]  # between the items, and one more when the group ends with a mark
    times: Expr
    span: Span


class PieceLine(msgspec.Struct, frozen=True):
    """A row of pieces. `marks` has one mark between each two items (a group that ends with a mark brings its own: then
    the entry here is that same mark)."""

    items: tuple[PieceUse | RepeatedGroup, ...]
    marks: tuple[Mark, ...]
    span: Span


class SeamLine(msgspec.Struct, frozen=True):
    """A mark alone on a line between two rows: ``>`` is pressed toward the next row (down), ``<`` up."""

    mark: Mark
    span: Span
