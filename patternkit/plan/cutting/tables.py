"""The most valuable strip for given prices of its pieces, where strips are cut into segments and these into rows.

Three nested tables, exact in whole numbers: `rows`, what a row of some height is worth by its width, a knapsack over
widths; `segments`, the best rows one below the other; `strips`, the best segments side by side. (Cutting in stages: P.
C. Gilmore and R. E. Gomory, Operations Research 13, 1965.)

Of a few kinds, called critical, no strip is given more than there are: a state says how many of each may be used. Of
all other kinds only a row is limited so; the values are then upper limits, which keeps every bound built on them valid.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product
from math import prod

import numpy as np
import numpy.typing as npt

from patternkit.plan.cutting.points import Points, cloths
from patternkit.plan.cutting.proof import Prices
from patternkit.plan.cutting.task import Layout, Part, PieceRow, Task, row_of, stacked

Table = npt.NDArray[np.int32]
NONE = -(1 << 29)
"""The value of a row that cannot be."""
LARGEST = 1 << 28
"""No strip may be worth as much as this."""
FIRST = 12
"""Heights whose strips are filled before it is known which others can matter."""


class Tables:
    """Rows, segments and strips for one task; filled anew for each list of prices."""

    def __init__(self, task: Task, points: Points, critical: Sequence[int] = ()) -> None:
        """Prepare what does not depend on prices."""
        self.task, self.points, self.critical = task, points, tuple(critical)
        self._widths, self._heights = np.array(points.widths), np.array(points.heights)
        spaces = np.subtract.outer(self._widths, self._widths)
        self._beside = np.maximum(np.searchsorted(self._widths, spaces, side="right") - 1, 0)
        self.row_heights = sorted({h for h, _, _ in points.ways})
        under = np.subtract.outer(self._heights, np.array(self.row_heights, dtype=np.int64))
        below = np.searchsorted(self._heights, under, side="right") - 1
        exact = self._heights[np.maximum(below, 0)] == under
        self._below = np.where((under >= 0) & (exact | task.trim), below, -1)
        self._states = list(product(*(range(task.kinds[kind].demand + 1) for kind in self.critical)))
        where = {state: at for at, state in enumerate(self._states)}
        self._splits = [
            [
                (where[one], where[tuple(a - b for a, b in zip(state, one, strict=True))])
                for one in product(*(range(number + 1) for number in state))
            ]
            for state in self._states
        ]
        self._where, self._pairs = where, sum(map(len, self._splits))
        self.handled = 0
        self.parts = self._all_parts()

    def _all_parts(self) -> list[tuple[int, int, int, int, int, npt.NDArray[np.int64]]]:
        """Give kind, number, width and height, position of the critical kind or -1, and where each width is left."""
        found = []
        for h, w, kind in self.points.ways:
            most = min(self.task.kinds[kind].demand, self.task.width // w)
            at = self.critical.index(kind) if kind in self.critical else -1
            number = 1
            while most:
                number = min(number, most)
                left = np.searchsorted(self._widths, self._widths - number * w, side="right") - 1
                found.append((kind, number, w, h, at, left))
                most -= number
                number *= 1 if at >= 0 else 2
        return found

    def work_below(self) -> int:
        """Give the numbers handled in filling rows and segments."""
        across = len(self._widths)
        segments = int((self._below >= 0).sum()) * across
        return self._pairs * segments + len(self._states) * len(self.parts) * across

    def work_with(self, pairs: int) -> int:
        """Guess the numbers handled in all with so many pairs of states, from what was handled last."""
        return (self.work_below() + self.handled) // self._pairs * pairs

    def fill(self, named: Prices) -> None:
        """Fill rows and segments for prices; no strip may be worth `LARGEST`. `best` goes on from there."""
        self._known_segments: dict[tuple[int, int, int], list[PieceRow]] = {}
        lies = named.of_lies()
        self._prices = [max(0, named.kinds[kind] + lies.get((kind, w, h), 0)) for kind, _, w, h, _, _ in self.parts]
        self._fill_rows()
        self._fill_segments()

    def _fill_rows(self) -> None:
        count, across = len(self._states), len(self._widths)
        state = np.zeros((count, across), dtype=np.int32)
        self._taken = np.zeros((len(self.parts), count, across), dtype=bool)
        rows = np.zeros((count, len(self.row_heights), across), dtype=np.int32)
        part = 0
        for at, height in enumerate(self.row_heights):
            if not self.task.trim:
                state = np.full((count, across), NONE, dtype=np.int32)
            while part < len(self.parts) and self.parts[part][3] == height:
                number = self.parts[part][1]
                if self._prices[part] or (number == 1 and not self.task.trim):
                    self._enter(state, part, number * self._prices[part])
                part += 1
            rows[:, at] = state
        self._rows = rows
        useful = [at for at in range(len(self.row_heights)) if self._useful(rows, at)]
        self._kept = np.array(useful, dtype=np.int64)

    def _useful(self, rows: Table, at: int) -> bool:
        """Say whether rows of a height are ever worth more than lower ones."""
        if not self.task.trim:
            return bool((rows[:, at] >= 0).any())
        return bool((rows[:, at] > (rows[:, at - 1] if at else 0)).any())

    def _enter(self, state: Table, part: int, worth: int) -> None:
        """Lay some pieces of one kind, lying one way, into every row that has room for them."""
        critical, left = self.parts[part][4:]
        first = int(np.argmax(left >= 0)) if left[-1] >= 0 else len(left)
        if first == len(left):
            return
        before = np.maximum(state[:, left[first:]], 0)
        if critical >= 0:
            moved = np.full_like(before, NONE)
            for at, used in enumerate(self._states):
                if used[critical]:
                    moved[at] = before[self._where[(*used[:critical], used[critical] - 1, *used[critical + 1 :])]]
            before = moved
        tried = before + np.int32(worth)
        np.greater(tried, state[:, first:], out=self._taken[part, :, first:])
        np.maximum(state[:, first:], tried, out=state[:, first:])

    def _fill_segments(self) -> None:
        count, across, tall = len(self._states), len(self._widths), len(self._heights)
        self._segments = np.full((count, tall, across), 0 if self.task.trim else NONE, dtype=np.int32)
        self._segments[:, 0] = 0  # without trimming, rows must fill their segment to the last thread
        for h in range(1, tall):
            under = self._below[h, self._kept]
            use = under >= 0
            if not use.any():
                continue
            rows, rest = self._rows[:, self._kept[use]], self._segments[:, under[use]]
            for state, splits in enumerate(self._splits):
                best = self._segments[state, h]
                for one, other in splits:
                    np.maximum(best, (rows[one] + rest[other]).max(axis=0), out=best)

    def best(self, charge: Callable[[int], bool], extra: Callable[[int], int]) -> list[list[tuple[int, int]]] | None:
        """Give, for the cloth and each bed, height and value of the best strips; `extra` is what a strip of the cloth
        is worth besides. None where `charge` refuses the work.

        Strips are filled only for heights of which the worth for each unit of height can be as large as the largest: a
        strip is worth no more than its width times what the segment is worth that is worth most for its width.
        """
        by_width = np.ascontiguousarray(self._segments.transpose(0, 2, 1))
        grows = (by_width[:, 1:] > by_width[:, :-1]).any(axis=(0, 2))
        self._cuts = np.flatnonzero(grows) + 1
        self._by_width = by_width
        self.strips = np.zeros_like(by_width)
        self.handled = 0
        dense = (by_width[-1, 1:] / self._widths[1:, None]).max(axis=0)
        more = np.array([extra(h) for h in self.points.heights])
        beds = cloths(self.task, self.points)
        most = [dense * width + (more if not bed else 0) for bed, (width, _) in enumerate(beds)]
        tall = [self._heights[1:] <= tallest for _, tallest in beds]
        at_most = [np.where(t, m[1:] / self._heights[1:], -np.inf) for t, m in zip(tall, most, strict=True)]
        done = np.zeros(len(self._heights), dtype=bool)
        first = np.unique(np.concatenate([1 + np.argsort(-ratio, kind="stable")[:FIRST] for ratio in at_most]))
        found: list[list[tuple[int, int]]] = [[] for _ in beds]
        for turn in range(2):
            chosen = first if not turn else self._worth_filling(found, at_most, more, done)
            if len(chosen):
                work = self._pairs * len(chosen) * self._pairs_of_cuts()
                if not charge(work):
                    return None
                self.handled += work
                self._fill_strips(chosen)
                done[chosen] = True
            for bed, (width, tallest) in enumerate(beds):
                best = self.strips[-1, self.points.widths.index(width)]
                found[bed] += [(int(self._heights[h]), int(best[h])) for h in chosen if self._heights[h] <= tallest]
        return [sorted(pairs) for pairs in found]

    def _worth_filling(
        self,
        found: Sequence[Sequence[tuple[int, int]]],
        at_most: Sequence[npt.NDArray[np.float64]],
        more: npt.NDArray[np.int64],
        done: npt.NDArray[np.bool_],
    ) -> npt.NDArray[np.int64]:
        """Give the heights whose strips might be worth more for their height than the best found."""
        need = np.zeros(len(self._heights) - 1, dtype=bool)
        extra = dict(zip(self.points.heights, more.tolist(), strict=True))
        for bed, (pairs, ratio) in enumerate(zip(found, at_most, strict=True)):
            top = max(((v + (0 if bed else extra[h])) / h for h, v in pairs), default=0.0)
            need |= ratio > max(top, 0.0) * (1 - 1e-9)
        return np.flatnonzero(need & ~done[1:]) + 1

    def _pairs_of_cuts(self) -> int:
        """Count the pairs of a place and a segment that can end there."""
        return int(np.searchsorted(self._cuts, np.arange(len(self._widths)), side="right").sum())

    def _fill_strips(self, chosen: npt.NDArray[np.int64]) -> None:
        """Lay segments side by side in strips of some heights."""
        by_width = np.ascontiguousarray(self._by_width[:, :, chosen])
        strips = np.zeros_like(by_width)
        for x in range(1, len(self._widths)):
            use = self._cuts[: int(np.searchsorted(self._cuts, x, side="right"))]
            if not len(use):
                continue
            left = self._beside[x, use]
            for state, splits in enumerate(self._splits):
                best = strips[state, x]
                for one, other in splits:
                    np.maximum(best, (by_width[one, use] + strips[other, left]).max(axis=0), out=best)
        self.strips[:, :, chosen] = strips

    def strip(self, width: int, height: int, bed: int) -> Layout:
        """Give the strip behind a value."""
        x, h, state = self.points.widths.index(width), self.points.heights.index(height), len(self._states) - 1
        segments: list[list[PieceRow]] = []
        while self.strips[state, x, h]:
            worth = self.strips[state, x, h]
            use = self._cuts[: int(np.searchsorted(self._cuts, x, side="right"))]
            for one, other in self._splits[state]:
                hit = self._by_width[one, use, h] + self.strips[other, self._beside[x, use], h] == worth
                if hit.any():
                    cut = int(use[int(np.argmax(hit))])
                    segments.append(self._segment(one, h, cut))
                    state, x = other, int(self._beside[x, cut])
                    while one == 0 and x >= cut and self._again(state, x, h, cut):
                        segments.append(segments[-1])
                        x = int(self._beside[x, cut])
                    break
        return stacked(height, segments, bed)

    def _again(self, state: int, x: int, h: int, cut: int) -> bool:
        """Say whether the same segment, without any critical kind, is as good as any once more."""
        rest = self.strips[state, self._beside[x, cut], h]
        return bool(self._by_width[0, cut, h] and self._by_width[0, cut, h] + rest == self.strips[state, x, h])

    def _segment(self, state: int, h: int, x: int) -> list[PieceRow]:
        """Give the rows of a segment."""
        key = state, h, x
        if key in self._known_segments:
            return self._known_segments[key]
        found: list[PieceRow] = []
        while h and (self._segments[state, h, x] or not self.task.trim):
            worth = self._segments[state, h, x]
            under = self._below[h, self._kept]
            use = np.flatnonzero(under >= 0)
            for one, other in self._splits[state]:
                hit = self._rows[one, self._kept[use], x] + self._segments[other, under[use], x] == worth
                if hit.any():
                    at = int(use[int(np.argmax(hit))])
                    found.append(self._row(one, int(self._kept[at]), x))
                    state, h = other, int(under[at])
                    break
        self._known_segments[key] = found
        return found

    def _row(self, state: int, at: int, x: int) -> PieceRow:
        """Give the pieces of a row."""
        parts: list[Part] = []
        worth = int(self._rows[state, at, x])
        for index in range(len(self.parts) - 1, -1, -1):
            kind, number, w, h, critical, left = self.parts[index]
            low = h < self.row_heights[at]
            if h > self.row_heights[at] or (low and not self.task.trim) or not self._taken[index, state, x]:
                continue
            parts.append((kind, w, h, number))
            worth -= number * self._prices[index]
            x = int(left[x])
            if critical >= 0:
                used = self._states[state]
                state = self._where[(*used[:critical], used[critical] - 1, *used[critical + 1 :])]
            if not worth:
                break
        return row_of(self.row_heights[at], parts)


def states(task: Task, critical: Sequence[int]) -> int:
    """Give how many states critical kinds make."""
    return prod(task.kinds[kind].demand + 1 for kind in critical)


def pairs(task: Task, critical: Sequence[int]) -> int:
    """Give how many ways there are to share every state between two parts of a strip."""
    return prod((n + 1) * (n + 2) // 2 for n in (task.kinds[kind].demand for kind in critical))
