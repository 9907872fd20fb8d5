"""Patches that are taken to be alike: in rows of as many pieces each columns line up, and plain patches of which one is
sized are all as large.

These are defaults, as equal shares are: they hold only for sizes that nothing else settles, and never against a
statement.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from typing import TYPE_CHECKING

from patternkit.model.pattern import Component, Pattern, Unit
from patternkit.piecing.unknowns import Unknown

if TYPE_CHECKING:
    from patternkit.piecing.sizing import Sizing

Tie = tuple[Unknown, Unknown, str]


def is_grid(unit: Unit) -> bool:
    """Whether a unit is written in several rows of as many pieces each."""
    return unit.kind == "rows" and len(unit.rows) > 1 and len({len(row.pieces) for row in unit.rows}) == 1


def is_patch(piece: Component, pattern: Pattern) -> bool:
    """Whether a piece is one patch: a fabric, or a unit that is a patch of one."""
    return bool(piece.fabric) or (piece.unit in pattern.units and pattern.units[piece.unit].kind == "patch")


def is_plain_grid(unit: Unit, pattern: Pattern) -> bool:
    """Whether a unit is a grid of nothing but patches: a four-patch, a nine-patch."""
    return is_grid(unit) and all(is_patch(p, pattern) for row in unit.rows for p in row.pieces)


def column_ties(unit: Unit, sizing: Sizing, open_sizes: Container[object]) -> Iterator[Tie]:
    """Plain patches of open width are as wide as a piece above or below them whose width is known."""
    if not is_grid(unit):
        return
    text = (
        f"the plain patches of {unit.role} {unit.key} without a width of their own are as wide as those above and below"
    )
    for column in zip(*(row.pieces for row in unit.rows), strict=True):
        widths = [sizing.size_of(unit, piece)[0] for piece in column]
        known = next((w for w in widths if w not in open_sizes), None)
        if known is not None:
            yield from ((w, known, text) for w, p in zip(widths, column, strict=True) if p.fabric and w in open_sizes)


def patch_ties(unit: Unit, sizing: Sizing, open_sizes: Container[object]) -> Iterator[Tie]:
    """Where nothing says how large a grid of patches is, those that nobody sized are as large as one that is sized; a
    patch with one length beside it is square."""
    pattern = sizing.pattern
    if unit.kind in ("row", "rows", "column"):
        for row in unit.rows:
            for piece in row.pieces:
                w, h = sizing.size_of(unit, piece)
                if (
                    piece.fabric
                    and piece.width is not None
                    and piece.height is None
                    and (w in open_sizes) != (h in open_sizes)
                ):
                    yield w, h, f"{piece.name} in {unit.role} {unit.key} has one length beside it, and is square"
    if not is_plain_grid(unit, pattern):
        return
    text = (
        f"the plain patches of {unit.role} {unit.key} without a size of their own are as {{}} as the one that has one"
    )
    every = [sizing.size_of(unit, piece) for row in unit.rows for piece in row.pieces]
    for side, word in enumerate(("wide", "high")):
        known = next((size[side] for size in every if size[side] not in open_sizes), None)
        if known is not None:
            yield from ((size[side], known, text.format(word)) for size in every if size[side] in open_sizes)
