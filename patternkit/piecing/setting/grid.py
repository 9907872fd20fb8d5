"""The blocks of a quilt as they lie: the tile repeated over the top, or a layout laid once."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from patternkit.model.pattern import Component, Quilt
from patternkit.problems import Problem
from patternkit.syntax.statements import Mark

MOST_CELLS = 10_000  # blocks in a quilt; a slip of the finger must not run for minutes


class BlockGrid(msgspec.Struct, frozen=True):
    """Rows of blocks. `tile[r][c]` repeats; `across` and `down` say how far (for a layout, each row is laid once)."""

    tile: tuple[tuple[Component, ...], ...]
    marks: tuple[tuple[Mark, ...], ...]
    row_marks: tuple[Mark | None, ...]
    across: int
    down: int
    layout: bool

    def columns(self, r: int) -> int:
        """How many pieces lie in row `r`."""
        return len(self.tile[r % len(self.tile)]) if self.layout else self.across

    def cell(self, r: int, c: int) -> Component:
        """The piece in row `r`, column `c`, both counted from 0."""
        row = self.tile[r % len(self.tile)]
        return row[c % len(row)]

    def mark(self, r: int, c: int) -> Mark | None:
        """The mark of the seam to the right of a piece; None where the tile meets its next copy."""
        marks, n = self.marks[r % len(self.tile)], len(self.tile[r % len(self.tile)])
        return marks[c % n] if c % n < n - 1 else None

    def row_mark(self, r: int) -> Mark | None:
        """The mark of the seam below row `r`."""
        n = len(self.tile)
        return self.row_marks[r % n] if r % n < n - 1 else None

    def row_pieces(self, r: int) -> list[tuple[int, Component]]:
        """The different pieces of row `r` with how often each occurs."""
        row = self.tile[r % len(self.tile)]
        whole, rest = divmod(self.columns(r), len(row))
        return [(whole + (i < rest), piece) for i, piece in enumerate(row) if whole + (i < rest)]

    def row_kinds(self) -> Iterator[tuple[int, int]]:
        """Each different row (its number from 0) with how often it occurs."""
        whole, rest = divmod(self.down, len(self.tile))
        for i in range(len(self.tile)):
            if whole + (i < rest):
                yield i, whole + (i < rest)


def grid_of(quilt: Quilt) -> tuple[BlockGrid | None, Problem | None]:
    """The grid of a quilt, or a problem when its blocks are not laid out."""
    if not quilt.rows:
        if quilt.broken:
            return None, None  # the lines that would say it have problems of their own
        if quilt.of:
            return None, Problem(
                "no-layout",
                f"Nothing says what lies in {quilt.called}.",
                quilt.span,
                causes=(
                    "A line such as rows or half-square says what a border goes round; tile and layout have rows of "
                    "blocks under them.",
                ),
            )
        return None, Problem(
            "no-layout",
            "The quilt does not say how its blocks lie.",
            quilt.span,
            causes=(
                "Under quilt, the line tile with rows of blocks under it repeats over the top; "
                "layout lays its rows once.",
            ),
        )
    tile = tuple(row.pieces for row in quilt.rows)
    marks = tuple(row.marks for row in quilt.rows)
    if quilt.layout:
        across, down = max(len(r) for r in tile), len(tile)
    else:
        across, down = quilt.across or max(len(r) for r in tile), quilt.down or len(tile)
    if across * down > MOST_CELLS:
        return None, Problem(
            "too-large", f"{across} across and {down} down is more than {MOST_CELLS} blocks.", quilt.span
        )
    return BlockGrid(tile, marks, quilt.row_marks, across, down, quilt.layout), None
