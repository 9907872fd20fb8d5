"""From the value of a strip back to its segments, rows and pieces."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import TYPE_CHECKING, Any

import numpy as np

from patternkit.plan.cutting.task import Layout, Part, PieceRow, row_of, stacked

if TYPE_CHECKING:
    from patternkit.plan.cutting.tables import Tables

State = tuple[int, ...]


class Unfold:
    """Follows the tables backwards: some choice that gives the value is one that was made."""

    def __init__(self, tables: Tables) -> None:
        """Begin without any segment known."""
        self.tables = tables
        self._known: dict[tuple[Any, ...], list[PieceRow]] = {}

    def strip(self, width: int, height: int, bed: int) -> Layout:
        """Give the strip behind a value."""
        tables = self.tables
        x, h = tables.points.widths.index(width), tables.points.heights.index(height)
        state, segments = tables.full, []
        while tables.strips[(*state, x, h)]:
            worth = tables.strips[(*state, x, h)]
            use = tables.cuts[: int(np.searchsorted(tables.cuts, x, side="right"))]
            left = tables.beside[x, use]
            for one, other in _splits(state):
                hit = tables.by_width[one][use, h] + tables.strips[other][left, h] == worth
                if hit.any():
                    at = int(np.argmax(hit))
                    state, x, often = other, int(left[at]), 1
                    while not any(one) and self._again(state, x, h, int(use[at])):
                        often += 1
                        x = int(tables.beside[x, use[at]])
                    segments.append(_times(self._segment(one, h, int(use[at])), often))
                    break
        return stacked(height, segments, bed)

    def _again(self, state: State, x: int, h: int, cut: int) -> bool:
        """Say whether the same segment, without any critical kind, is as good as any once more."""
        if x < cut:
            return False
        tables = self.tables
        worth = tables.by_width[((0,) * len(state))][cut, h]
        return bool(worth and worth + tables.strips[state][tables.beside[x, cut], h] == tables.strips[(*state, x, h)])

    def _segment(self, state: State, h: int, x: int) -> list[PieceRow]:
        """Give the rows of a segment."""
        key = *state, h, x
        if key in self._known:
            return self._known[key]
        tables, found = self.tables, []
        while h and (tables.segments[(*state, h, x)] or not tables.task.trim):
            worth = tables.segments[(*state, h, x)]
            under = tables.below[h, tables.kept]
            use = [at for at in range(len(under)) if under[at] >= 0]
            for one, other in _splits(state):
                at = next(
                    (
                        a
                        for a in use
                        if tables.rows[tables.kept[a]][(*one, x)] + tables.segments[(*other, under[a], x)] == worth
                    ),
                    None,
                )
                if at is not None:
                    found.append(self._row(one, int(tables.kept[at]), x))
                    state, h = other, int(under[at])
                    break
        self._known[key] = found
        return found

    def _row(self, state: State, at: int, x: int) -> PieceRow:
        """Give the pieces of a row."""
        tables, parts = self.tables, list[Part]()
        height = tables.row_heights[at]
        worth = int(tables.rows[at][(*state, x)])
        for index in range(len(tables.parts) - 1, -1, -1):
            one = tables.parts[index]
            passed = one.height > height or (one.height < height and not tables.task.trim)
            if passed or not tables.taken[index][(*state, x)]:
                continue
            parts.append((one.kind, one.width, one.height, one.number))
            worth -= one.number * tables.prices[index]
            x = int(one.left[x])
            if one.axis >= 0:
                state = (*state[: one.axis], state[one.axis] - 1, *state[one.axis + 1 :])
            if not worth:
                break
        return row_of(height, parts)


def _times(rows: list[PieceRow], often: int) -> list[PieceRow]:
    """Give the rows of so many equal segments as those of one: cut alike, they are one anyway."""
    if often == 1:
        return rows
    return [PieceRow(row.height, tuple((kind, w, h, n * often) for kind, w, h, n in row.parts)) for row in rows]


def _splits(state: State) -> Iterator[tuple[State, State]]:
    """Give the ways to share a state between two parts, the first with as little as can be."""
    for one in product(*(range(n + 1) for n in state)):
        yield one, tuple(a - b for a, b in zip(state, one, strict=True))
