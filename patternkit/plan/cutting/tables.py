"""The most valuable strip for given prices of its pieces, where strips are cut into segments and these into rows.

Three nested tables, exact in whole numbers: `rows`, what a row of some height is worth by its width, a knapsack over
widths; `segments`, the best rows one below the other; `strips`, the best segments side by side. (Cutting in stages: P.
C. Gilmore and R. E. Gomory, Operations Research 13, 1965.)

Of a few kinds, called critical, no strip is given more than there are: a state says how many of each may be used, and
is the first index of every table, one axis for each. Of all other kinds only a row is limited so; the values are then
upper limits, which keeps every bound built on them valid.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product
from math import prod
from typing import Any

import numpy as np
import numpy.typing as npt

from patternkit.plan.cutting.points import CutPoints, cloths
from patternkit.plan.cutting.proof import Prices
from patternkit.plan.cutting.task import Task

Whole = npt.NDArray[np.int32]
State = tuple[int, ...]
NONE = -(1 << 29)
"""The value of a row that cannot be."""
LARGEST = 1 << 28
"""No strip may be worth as much as this."""
FIRST = 12
"""Heights whose strips are filled before it is known which others can matter."""
CALL = 300
"""Numbers that could be handled in the time that it takes to begin with some."""


class TablePart:
    """Some pieces of one kind that lie one way: so many, or none, are laid into a row."""

    __slots__ = ("axis", "height", "kind", "left", "number", "width")

    def __init__(self, kind: int, number: int, width: int, height: int, axis: int, left: npt.NDArray[np.int64]) -> None:
        """Keep the axis of a critical kind (-1 for others), and the place left beside the pieces for each place."""
        self.kind, self.number, self.width, self.height = kind, number, width, height
        self.axis, self.left = axis, left


class Tables:
    """Rows, segments and strips for one task; filled anew for each list of prices."""

    def __init__(self, task: Task, points: CutPoints, critical: Sequence[int] = ()) -> None:
        """Prepare what does not depend on prices."""
        self.task, self.points, self.critical = task, points, tuple(critical)
        self.shape = tuple(task.kinds[kind].demand + 1 for kind in critical)
        self.full: State = tuple(n - 1 for n in self.shape)
        self.widths, self.heights = np.array(points.widths), np.array(points.heights)
        spaces = np.subtract.outer(self.widths, self.widths)
        self.beside = np.maximum(np.searchsorted(self.widths, spaces, side="right") - 1, 0)
        self.row_heights = sorted({h for h, _, _ in points.ways})
        under = np.subtract.outer(self.heights, np.array(self.row_heights, dtype=np.int64))
        below = np.searchsorted(self.heights, under, side="right") - 1
        exact = self.heights[np.maximum(below, 0)] == under
        self.below = np.where((under >= 0) & (exact | task.trim), below, -1)
        self.parts = self._all_parts()
        self.reached = np.array(task.reached(points.heights))
        self.handled = 0

    def _all_parts(self) -> list[TablePart]:
        """Split what there is of each kind into numbers that are in or out: all else by powers of two, critical kinds
        one by one."""
        found = []
        for h, w, kind in self.points.ways:
            most = min(self.task.kinds[kind].demand, self.task.width // w)
            axis = self.critical.index(kind) if kind in self.critical else -1
            number = 1
            while most:
                number = min(number, most)
                left = np.searchsorted(self.widths, self.widths - number * w, side="right") - 1
                found.append(TablePart(kind, number, w, h, axis, left))
                most -= number
                number *= 1 if axis >= 0 else 2
        return found

    def work_below(self) -> int:
        """Give the numbers handled in filling rows and segments, at most."""
        across, rows = len(self.widths), int((self.below >= 0).sum())
        parts = len(self.parts) * (prod(self.shape) * across + CALL)
        return parts + pairs(self.shape) * rows * across + prod(self.shape) * len(self.heights) * CALL

    def work_with(self, shape: Sequence[int]) -> int:
        """Guess the numbers handled in all with other states, from what was handled last."""
        return (self.work_below() + self.handled) // pairs(self.shape) * pairs(shape)

    def fill(self, named: Prices) -> None:
        """Fill rows and segments for prices; no strip may be worth `LARGEST`. `best` goes on from there."""
        lies = named.of_lies()
        self.prices = [max(0, named.kinds[p.kind] + lies.get((p.kind, p.width, p.height), 0)) for p in self.parts]
        self._fill_rows()
        self._fill_segments()

    def _fill_rows(self) -> None:
        size = (*self.shape, len(self.widths))
        state: Whole = np.zeros(size, dtype=np.int32)
        self.taken = np.zeros((len(self.parts), *size), dtype=bool)
        self.rows: list[Whole] = []
        part = 0
        for height in self.row_heights:
            if not self.task.trim:
                state = np.full(size, NONE, dtype=np.int32)
            while part < len(self.parts) and self.parts[part].height == height:
                if self.prices[part] or (self.parts[part].number == 1 and not self.task.trim):
                    self._enter(state, part)
                part += 1
            self.rows.append(state.copy())

    def _enter(self, state: Whole, part: int) -> None:
        """Lay some pieces of one kind, lying one way, into every row that has room for them."""
        one = self.parts[part]
        first = int(np.argmax(one.left >= 0)) if one.left[-1] >= 0 else len(one.left)
        if first == len(one.left):
            return
        up, down = self._step(one.axis)
        tried = np.maximum(state[down][..., one.left[first:]], 0) + np.int32(one.number * self.prices[part])
        target = state[up][..., first:]
        np.greater(tried, target, out=self.taken[part][up][..., first:])
        np.maximum(target, tried, out=target)

    def _step(self, axis: int) -> tuple[Any, Any]:
        """Give the states with a piece of a critical kind more, and those that they come from."""
        if axis < 0:
            return (), ()
        before = (slice(None),) * axis
        return (*before, slice(1, None)), (*before, slice(0, -1))

    def shares(self, table: Whole) -> list[tuple[State, Any, Any]]:
        """Give the states that one of two parts may have, where more is worth more than less, and of the other part the
        states before and after."""
        found = []
        for used in product(*(range(n) for n in self.shape)):
            lower = [(*used[:a], used[a] - 1, *used[a + 1 :]) for a in range(len(used)) if used[a]]
            if any(np.array_equal(table[used], table[less]) for less in lower):
                continue
            after = tuple(slice(n, None) for n in used)
            before = tuple(slice(0, size - n) for n, size in zip(used, self.shape, strict=True))
            found.append((used, before, after))
        return found

    def _useful(self, at: int) -> bool:
        """Say whether rows of a height are ever worth more than lower ones."""
        if not self.task.trim:
            return bool((self.rows[at] >= 0).any())
        return bool((self.rows[at] > (self.rows[at - 1] if at else 0)).any())

    def _fill_segments(self) -> None:
        self.kept = np.array([at for at in range(len(self.rows)) if self._useful(at)], dtype=np.int64)
        size = (*self.shape, len(self.heights), len(self.widths))
        self.segments: Whole = np.full(size, 0 if self.task.trim else NONE, dtype=np.int32)
        self.segments[..., 0, :] = 0  # without trimming, rows must fill their segment to the last thread
        if not len(self.kept):
            return
        rows = np.stack([self.rows[at] for at in self.kept], axis=len(self.shape))
        shares = self.shares(rows)
        for h in range(1, len(self.heights)):
            under = self.below[h, self.kept]
            use = np.flatnonzero(under >= 0)
            if len(use):
                rest = self.segments[..., under[use], :]
                for used, before, after in shares:
                    tried = (rows[used][use] + rest[before]).max(axis=-2)
                    target = self.segments[after][..., h, :]
                    np.maximum(target, tried, out=target)

    def best(self, charge: Callable[[int], bool], extra: Callable[[int], int]) -> list[list[tuple[int, int]]] | None:
        """Give, for the cloth and each bed, height and value of the best strips; `extra` is what a strip of the cloth
        is worth besides. None where `charge` refuses the work.

        Strips are filled only for heights of which the worth for each unit of height can be as large as the largest: a
        strip is worth no more than its width times what the segment is worth that is worth most for its width.
        """
        self.by_width = np.ascontiguousarray(np.moveaxis(self.segments, -1, -2))
        grows = self.by_width[..., 1:, :] > self.by_width[..., :-1, :]
        self.cuts = np.flatnonzero(grows.any(axis=(*range(len(self.shape)), -1))) + 1
        self.strips: Whole = np.zeros_like(self.by_width)
        self._shares = self.shares(self.by_width)
        self.handled = 0
        dense = (self.by_width[self.full][1:] / self.widths[1:, None]).max(axis=0)
        more = np.array([extra(h) for h in self.points.heights])
        beds = cloths(self.task, self.points)
        at_most = []
        for bed, (width, tallest) in enumerate(beds):
            ratio = (dense * width + (0 if bed else more))[1:] / self.heights[1:]
            at_most.append(np.where((self.heights[1:] <= tallest) & self.reached[1:], ratio, -np.inf))
        first = np.unique(np.concatenate([1 + np.argsort(-ratio, kind="stable")[:FIRST] for ratio in at_most]))
        if not self._fill_strips(first, charge):
            return None
        rest = self._worth_filling(self._found(first), at_most, more)
        rest = rest[~np.isin(rest, first)]
        if not self._fill_strips(rest, charge):
            return None
        return self._found(np.sort(np.concatenate([first, rest])))

    def _found(self, chosen: npt.NDArray[np.int64]) -> list[list[tuple[int, int]]]:
        """Give height and value of the strips filled."""
        found, chosen = [], chosen[self.reached[chosen]]
        for width, tallest in cloths(self.task, self.points):
            best = self.strips[self.full][self.points.widths.index(width)]
            pairs_of = zip(self.heights[chosen].tolist(), best[chosen].tolist(), strict=True)
            found.append([(h, worth) for h, worth in pairs_of if h <= tallest])
        return found

    def _worth_filling(
        self,
        found: Sequence[Sequence[tuple[int, int]]],
        at_most: Sequence[npt.NDArray[np.float64]],
        more: npt.NDArray[np.int64],
    ) -> npt.NDArray[np.int64]:
        """Give the heights whose strips might be worth more for their height than the best found."""
        wanted = np.zeros(len(self.heights) - 1, dtype=bool)
        extra = dict(zip(self.points.heights, more.tolist(), strict=True))
        for bed, (strips, ratio) in enumerate(zip(found, at_most, strict=True)):
            top = max(((v + (0 if bed else extra[h])) / h for h, v in strips), default=0.0)
            wanted |= ratio > max(top, 0.0) * (1 - 1e-9)
        return np.flatnonzero(wanted) + 1

    def _fill_strips(self, chosen: npt.NDArray[np.int64], charge: Callable[[int], bool]) -> bool:
        """Lay segments side by side in strips of some heights; False where the work is refused."""
        across = np.arange(len(self.widths))
        ends = np.searchsorted(self.cuts, across, side="right")
        states = sum(prod(n - u for n, u in zip(self.shape, used, strict=True)) for used, _, _ in self._shares)
        work = states * len(chosen) * int(ends.sum()) + len(across) * len(self._shares) * CALL
        if not charge(work):
            return False
        self.handled += work
        by_width = np.ascontiguousarray(self.by_width[..., chosen])
        strips = np.zeros_like(by_width)
        for x in range(1, len(self.widths)) if len(chosen) else ():
            use = self.cuts[: ends[x]]
            if not len(use):
                continue
            rest = strips[..., self.beside[x, use], :]
            for used, before, after in self._shares:
                tried = (by_width[used][use] + rest[before]).max(axis=-2)
                target = strips[after][..., x, :]
                np.maximum(target, tried, out=target)
        self.strips[..., chosen] = strips
        return True


def pairs(shape: Sequence[int]) -> int:
    """Give how many ways there are to share every state between two parts of a strip."""
    return prod(n * (n + 1) // 2 for n in shape)
