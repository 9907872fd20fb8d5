"""What fills a strip best for given worths of its pieces, quickly: for the search of plans, never for a bound.

As in `patternkit.plan.cutting.tables` rows, segments and strips are three nested tables; here only the strips of a few
likely heights are filled, and widths are looked up in plain steps of the grid.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from patternkit.plan.cutting.points import sums
from patternkit.plan.cutting.task import PieceRow, Task, row_of

Whole = npt.NDArray[np.int32]
NEVER = -(1 << 29)
"""The worth of a row that cannot be."""
LARGEST = 1 << 27
"""Worths are scaled so that no strip is worth more than this."""
LIKELY = 4
"""Heights of which strips are filled."""
CALL = 3000
"""Numbers that could be handled in the time that it takes to begin with some."""


class LyingWay(NamedTuple):
    """A kind as it lies; sorted, the lowest come first."""

    height: int
    width: int
    kind: int


class BoxCut(NamedTuple):
    """A segment of a strip: its length, its worth and its rows."""

    width: int
    worth: int
    rows: tuple[PieceRow, ...]


class Rows:
    """The best row of each height for each width, with no more pieces of a kind than are left."""

    def __init__(
        self, ways: Sequence[LyingWay], left: Sequence[int], worths: Sequence[int], width: int, trim: bool
    ) -> None:
        """Lay so many pieces of a kind, or none, by powers of two; without trimming rows hold one height."""
        self.worths, self.trim, self.work = worths, trim, 0
        self.heights: list[int] = []
        self.values: list[Whole] = []
        self.parts: list[tuple[LyingWay, int]] = []
        self.taken: list[npt.NDArray[np.bool_]] = []
        state: Whole = np.zeros(width + 1, dtype=np.int32)
        at = 0
        while at < len(ways):
            height, first = ways[at].height, len(self.parts)
            if not trim:
                state = np.full(width + 1, NEVER, dtype=np.int32)
            while at < len(ways) and ways[at].height == height:
                self._enter(state, ways[at], min(left[ways[at].kind], width // ways[at].width), width)
                at += 1
            if len(self.taken) > first:
                self.heights.append(height)
                self.values.append(state.copy())

    def _enter(self, state: Whole, way: LyingWay, most: int, width: int) -> None:
        number = 1
        while most > 0:
            number = min(number, most)
            wide = number * way.width
            before = state[: width + 1 - wide] if self.trim else np.maximum(state[: width + 1 - wide], 0)
            tried = before + np.int32(number * self.worths[way.kind])
            taken = np.zeros(width + 1, dtype=bool)
            np.greater(tried, state[wide:], out=taken[wide:])
            np.maximum(state[wide:], tried, out=state[wide:])
            self.parts.append((way, number))
            self.taken.append(taken)
            self.work += width + CALL
            most -= number
            number *= 2

    def row(self, at: int, width: int) -> PieceRow:
        """Give the pieces of the best row of a height and a width."""
        height, parts = self.heights[at], []
        worth = int(self.values[at][width])
        for (way, number), taken in zip(reversed(self.parts), reversed(self.taken), strict=True):
            if way.height > height or (way.height < height and not self.trim) or not taken[width]:
                continue
            parts.append((way.kind, way.width, way.height, number))
            worth -= number * self.worths[way.kind]
            width -= number * way.width
            if not worth:
                break
        return row_of(height, parts)


class Boxes:
    """Rows, segments and likely strips for what is left of some kinds, no wider and no taller than a box."""

    def __init__(
        self, task: Task, ways: Sequence[LyingWay], left: Sequence[int], worths: Sequence[int], size: tuple[int, int]
    ) -> None:
        """Find the best rows, and the places of cuts."""
        self.width, tallest = size
        fits = [way for way in ways if left[way.kind] and way.width <= self.width and way.height <= tallest]
        self.task, self.trim = task, task.trim
        self.rows = Rows(fits, left, worths, self.width, task.trim)
        self.work = self.rows.work
        self.fits, self.left, self.tallest = fits, left, tallest

    def _down(self) -> None:
        """Find the heights of segments, and for each of them and each row the height that is left under the row."""
        heights = sums(((way.height, self.left[way.kind]) for way in self.fits), self.tallest)
        if heights[-1] != self.tallest and self.trim:
            heights.append(self.tallest)
        self.heights, self.high = heights, np.array(heights)
        under = np.subtract.outer(self.high, np.array(self.rows.heights, dtype=np.int64))
        below = np.searchsorted(self.high, under, side="right") - 1
        if not self.trim:
            below = np.where(self.high[np.maximum(below, 0)] == under, below, -1)
        below[under < 0] = -1
        self.below = below
        self.work += len(heights) * 2 * CALL

    def _fill(self, across: npt.NDArray[np.int64]) -> Whole:
        """Lay rows one below the other in segments of some widths."""
        values: Whole = np.full((len(self.heights), len(across)), 0 if self.trim else NEVER, dtype=np.int32)
        values[0] = 0  # without trimming, rows must fill their segment to the last thread
        if not self.rows.heights:
            return values
        rows = np.stack(self.rows.values)[:, across]
        most = np.searchsorted(self.rows.heights, self.high, side="right").tolist()
        for at in range(1, len(values)):
            if self.trim:
                if number := most[at]:
                    np.maximum.reduce(rows[:number] + values[self.below[at, :number]], axis=0, out=values[at])
            elif len(use := np.flatnonzero(self.below[at] >= 0)):
                best = np.maximum.reduce(rows[use] + values[self.below[at, use]], axis=0)
                np.maximum(best, NEVER, out=values[at])
        self.work += sum(most) * len(across)
        return values

    def stack(self) -> list[PieceRow]:
        """Give the rows that fill the box best one below the other, over its whole width."""
        self._down()
        values = self._fill(np.array([self.width]))[:, 0]
        at = len(self.heights) - 1
        return self._rows_of(values, at, self.width) if self.heights[at] == self.tallest else []

    def _rows_of(self, values: Whole, h: int, width: int) -> list[PieceRow]:
        """Follow one column of the table of segments back to its rows."""
        found: list[PieceRow] = []
        while h and values[h] > 0:
            use = np.flatnonzero(self.below[h] >= 0)
            column = np.array([self.rows.values[at][width] for at in use.tolist()])
            at = int(np.argmax(column + values[self.below[h, use]]))
            found.append(self.rows.row(int(use[at]), width))
            h = int(self.below[h, use[at]])
        return found

    def strips(self, only: bool = False) -> list[tuple[int, int]]:
        """Give height and worth of the strips that are worth most for their height, best first; or of those as tall as
        the box."""
        self._down()
        across = sums(((way.width, self.left[way.kind]) for way in self.fits), self.width)
        self.across = np.array(across if across[-1] == self.width else [*across, self.width])
        self.values = self._fill(self.across)
        if only:
            chosen = np.flatnonzero(self.high == self.tallest)
        else:
            dense = (self.values[1:, 1:] / self.across[1:]).max(axis=1, initial=0.0) / self.high[1:]
            dense[~np.array(self.task.reached(self.heights[1:]), dtype=bool)] = 0.0
            chosen = np.sort(1 + np.argsort(-dense, kind="stable")[:LIKELY])
        self.chosen = self.high[chosen].tolist()
        self.by_width: Whole = np.maximum(self.values[chosen].T, 0)
        grows = (self.by_width[1:] > self.by_width[:-1]).any(axis=1)
        self.cuts = np.flatnonzero(grows) + 1
        self._side_by_side()
        found = [(h, worth) for h, worth in zip(self.chosen, self.full[-1].tolist(), strict=True) if worth > 0]
        return sorted(found, key=lambda pair: (-pair[1] / pair[0], pair[0]))

    def _side_by_side(self) -> None:
        """Lay segments side by side in the strips chosen."""
        self.full: Whole = np.zeros_like(self.by_width)
        ends = np.searchsorted(self.cuts, np.arange(len(self.across)), side="right").tolist()
        floors = np.searchsorted(self.across, np.arange(self.width + 1), side="right") - 1
        self.beside = floors[np.maximum(np.subtract.outer(self.across, self.across[self.cuts]), 0)]
        segments = self.by_width[self.cuts]
        for x, end in enumerate(ends):
            if end:
                np.maximum.reduce(segments[:end] + self.full[self.beside[x, :end]], axis=0, out=self.full[x])
        self.work += sum(ends) * len(self.chosen) + self.beside.size + len(ends) * 2 * CALL

    def strip(self, height: int) -> list[BoxCut]:
        """Give the segments of the best strip of a height that was filled."""
        at, h = self.chosen.index(height), self.heights.index(height)
        x, found = len(self.across) - 1, list[BoxCut]()
        known: dict[int, BoxCut] = {}
        while self.full[x, at] > 0:
            end = int(np.searchsorted(self.cuts, x, side="right"))
            one = int(np.argmax(self.by_width[self.cuts[:end], at] + self.full[self.beside[x, :end], at]))
            cut = int(self.cuts[one])
            if cut not in known:
                width = int(self.across[cut])
                rows = self._rows_of(self.values[:, cut], h, width)
                known[cut] = BoxCut(width, int(self.by_width[cut, at]), tuple(rows))
            if known[cut].rows:  # a length worth nothing falls away
                found.append(known[cut])
            x = int(self.beside[x, one])
        return found
