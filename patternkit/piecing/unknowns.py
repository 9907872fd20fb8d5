"""The unknown sizes of a pattern's equations: of units, of pieces inside units, and of the quilt's own parts.

Each sort is a namespace of its own, so that the writer may call a unit ``centre`` or ``quilt``, and so may any two
units have pieces in the same place.
"""

from __future__ import annotations

from typing import Literal, NamedTuple, TypeAlias

Sort: TypeAlias = Literal["unit", "piece", "quilt", "block"]
"""Whose size it is: a unit's, a piece's inside a unit, the quilt's own, a piece's in the quilt."""


class Unknown(NamedTuple):
    """One size to be worked out.

    `owner` is the unit's key, or what of the quilt it is (``border``; empty for a piece in the quilt). `part` is the
    slot of a piece, or the number of a border or row; empty or 0 where there is only one. `side` tells the sizes of one
    thing apart: ``w`` and ``h`` as the thing lies, or the name that a kind gives to one of its own (``radius``).
    """

    sort: Sort
    owner: str
    part: str | int
    side: str


def of_unit(key: str, side: str) -> Unknown:
    """A size of a unit: its finished width ``w`` or height ``h``, or one that its kind names."""
    return Unknown("unit", key, "", side)


def of_piece(key: str, slot: str, side: str) -> Unknown:
    """A size of a piece of cloth in a unit."""
    return Unknown("piece", key, slot, side)


def of_block(slot: str, side: str) -> Unknown:
    """A size of a piece of cloth that lies in the quilt itself: a plain block, a border's own piece."""
    return Unknown("block", "", slot, side)


def of_quilt(what: str, side: str, number: int = 0, of: str = "") -> Unknown:
    """A size of the quilt (``whole``) or of a part of it: its centre, a row, the sashing, a border; the same of the
    unit with the key `of` that is set together like a quilt."""
    return Unknown("piece", of, f"its {what} {number}", side) if of else Unknown("quilt", what, number, side)


def of_whole(side: str, of: str = "") -> Unknown:
    """The finished width ``w`` or height ``h`` of the quilt top, or of such a unit."""
    return of_unit(of, side) if of else of_quilt("whole", side)


def of_centre(side: str, of: str = "") -> Unknown:
    """The same for what lies inside all borders."""
    return of_quilt("centre", side, 0, of)


def of_border(number: int, side: str, of: str = "") -> Unknown:
    """The finished ``width`` of a border, counted from 1 inside; ``height`` where it differs at top and bottom."""
    return of_quilt("border", side, number, of)


def of_layer(number: int, side: str, of: str = "") -> Unknown:
    """The finished width ``w`` or height ``h`` of the quilt with this border on, where others follow."""
    return of_quilt("with border", side, number, of)


def of_row(number: int, of: str = "") -> Unknown:
    """The height of a row of blocks, its number counted from 1 in the tile or layout."""
    return of_quilt("row", "h", number, of)


def of_sashing(of: str = "") -> Unknown:
    """The finished width of the sashing."""
    return of_quilt("sashing", "w", 0, of)


def of_block_on_point(of: str = "") -> Unknown:
    """The finished side of a block set on point."""
    return of_quilt("block on point", "side", 0, of)


def of_float(of: str = "") -> Unknown:
    """How far the blocks on point lie inside the edge of the centre."""
    return of_quilt("float", "width", 0, of)


def of_float_ends(of: str = "") -> Unknown:
    """The same at top and bottom, where it is another there."""
    return of_quilt("float", "height", 0, of)
