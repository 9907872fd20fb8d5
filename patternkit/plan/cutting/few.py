"""The best plan for a handful of pieces, by counting: which numbers of each kind a row, a segment and a strip can hold.

A dynamic program over count vectors, for rows, segments and strips only those whose pieces are no larger than a strip.
The least width of a row of some height is a sum over its pieces; that of a segment is the least over its first row of
the wider of the two; that of a strip, the least sum over its first segment; a plan is the least sum of heights, with
one sort of strip after another. Of equal parts, the one that holds the first kind still left comes first, so that none
is tried twice.
"""

from __future__ import annotations

from math import prod

import numpy as np
import numpy.typing as npt

from patternkit.plan.cutting.budget import CELLS, Budget
from patternkit.plan.cutting.points import cloths, points
from patternkit.plan.cutting.task import Layout, Layouts, PieceRow, Task, row_of, stacked

Whole = npt.NDArray[np.int64]
FAR = 1 << 40
"""The width, or the height, of what cannot be."""
MOST, ALL = 4000, 60_000
"""Most count vectors that one strip may hold, and most in all."""
SEVERAL = 200
"""Most count vectors where there are several beds."""
QUICK = 4
"""Numbers handled in the time of one cell."""
CALL = 5000
"""Numbers that could be handled in the time that it takes to begin with one count vector and row height."""


class Few:
    """All count vectors of a task: how wide rows, segments and strips with these pieces are at least.

    Only vectors that are no larger than a strip are looked at there; plans have all.
    """

    def __init__(self, task: Task, longest: int) -> None:
        """Number the vectors; strips of the cloth are no taller than `longest` leaves room for."""
        self.task, self.points = task, points(task, longest - task.more)
        self.shape = tuple(kind.demand + 1 for kind in task.kinds)
        self.rows = sorted({h for h, _, _ in self.points.ways})
        self.heights = np.array(self.points.heights)
        self.reached = np.array(task.reached(self.points.heights))

    def affordable(self, budget: Budget, share: float) -> bool:
        """Say whether a share of the budget is enough for all of it; charges it then."""
        if prod(self.shape) > (ALL if len(self.task.beds) < 2 else SEVERAL):
            return False
        self._number()
        if len(self.inside) > MOST:
            return False
        pairs = int((self.vectors[self.inside] + 1).prod(axis=1).sum())
        rows = len(self.rows) + 2
        work = pairs * len(self.heights) * rows + len(self.inside) * rows * CALL + len(self.vectors) * len(self.inside)
        if budget.work + work // QUICK > share * budget.steps * CELLS:
            return False
        budget.charge(work // QUICK)
        return True

    def _number(self) -> None:
        """List all vectors, and those no larger than the largest strip (`inside`), each before what it is part of."""
        self.vectors = np.indices(self.shape, dtype=np.int64).reshape(len(self.shape), prod(self.shape)).T
        self.places = np.array([prod(self.shape[at + 1 :]) for at in range(len(self.shape))], dtype=np.int64)
        area = self.vectors @ np.array([min(w * h for w, h in kind.sizes) for kind in self.task.kinds], dtype=np.int64)
        strip = max(width * tallest for width, tallest in cloths(self.task, self.points))
        self.inside = np.flatnonzero(area <= strip)
        self.at = np.full(len(self.vectors), -1, dtype=np.int64)
        self.at[self.inside] = np.arange(len(self.inside))

    def solve(self) -> int:
        """Fill all tables and give the least length."""
        task = self.task
        self.row_widths = self.vectors[self.inside] @ self._widths().T  # by vector and row height
        under = np.subtract.outer(self.heights, np.array(self.rows, dtype=np.int64))
        below = np.searchsorted(self.heights, under, side="right") - 1
        exact = self.heights[np.maximum(below, 0)] == under
        self.below = np.where((under >= 0) & (exact | task.trim), below, -1)
        size = len(self.inside), len(self.heights)
        self.segments: Whole = np.full(size, FAR)
        self.strips: Whole = np.full(size, FAR)
        self.segments[0, slice(None) if task.trim else 0] = 0
        self.strips[0] = 0
        self.lowest: Whole = np.full((len(task.beds) + 1, len(self.vectors)), FAR)
        for at in range(1, size[0]):
            self._count(at)
        self.plans = np.array([self._lengths(bed) for bed in range(len(task.beds) + 1)])
        return task.more + self._shared(len(task.beds), len(self.vectors) - 1)[0]

    def _widths(self) -> Whole:
        """Give how wide a piece of each kind lies in a row of each height: as narrow as it can."""
        widths = np.full((len(self.rows), len(self.task.kinds)), FAR >> 12)
        for at, row in enumerate(self.rows):
            for h, w, kind in self.points.ways:
                if h == row or (self.task.trim and h < row):
                    widths[at, kind] = min(widths[at, kind], w)
        return widths

    def _parts(self, whole: int) -> tuple[Whole, Whole]:
        """Give the parts of a vector that hold its first kind, and what is left beside each."""
        counts = self.vectors[whole].tolist()
        first = next(at for at, n in enumerate(counts) if n)
        ranges = [np.arange(1 if at == first else 0, n + 1) * self.places[at] for at, n in enumerate(counts)]
        part = np.zeros(1, dtype=np.int64)
        for numbers in ranges:
            part = (part[:, None] + numbers).reshape(-1)
        return part, whole - part

    def _inside(self, at: int) -> tuple[Whole, Whole]:
        """Give the parts of a vector that one strip may hold, and what is left beside each, by their own numbers."""
        part, rest = self._parts(int(self.inside[at]))
        return self.at[part], self.at[rest]

    def _count(self, at: int) -> None:
        """Find how wide segments and strips with some pieces are, and how low strips of each cloth."""
        part, rest = self._inside(at)
        segment = self.segments[at]
        for row in range(len(self.rows)):
            fits = np.flatnonzero(self.below[:, row] >= 0)
            wide = self.row_widths[part, row]
            some = wide <= self.task.width
            if len(fits) and some.any():
                beside = self.segments[rest[some]][:, self.below[fits, row]]
                segment[fits] = np.minimum(segment[fits], np.maximum(wide[some, None], beside).min(axis=0))
        self.strips[at] = (self.segments[part] + self.strips[rest]).min(axis=0)
        for bed, (width, tallest) in enumerate(cloths(self.task, self.points)):
            fits = np.flatnonzero((self.strips[at] <= width) & (self.heights <= tallest) & self.reached)
            if len(fits):
                self.lowest[bed, self.inside[at]] = self.heights[fits[0]]

    def _lengths(self, bed: int) -> Whole:
        """Give the least sum of heights for every vector: one sort of strip after another, each as often as it helps.

        With trimming, a strip that holds more serves for less, so that only the fullest of each height are needed.
        """
        plans: Whole = np.full(self.shape, FAR)
        plans.reshape(-1)[0] = 0
        known = np.flatnonzero(self.lowest[bed] < FAR)
        heights = self.lowest[bed, known]
        order = np.lexsort((-self.vectors[known].sum(axis=1), heights))
        kept: list[int] = []
        for one in known[order].tolist():
            fuller = self.vectors[kept if self.task.trim else []] >= self.vectors[one]
            if not fuller.all(axis=1).any():
                kept.append(one)
        for one in kept:
            counts, high = self.vectors[one].tolist(), int(self.lowest[bed, one])
            before = [np.maximum(np.arange(size) - n, 0) for size, n in zip(self.shape, counts, strict=True)]
            while True:
                tried = plans[np.ix_(*before)] + high
                if not self.task.trim:
                    for axis, n in enumerate(counts):
                        tried[(slice(None),) * axis + (slice(0, n),)] = FAR
                if not (tried < plans).any():
                    break
                np.minimum(plans, tried, out=plans)
        return plans.reshape(-1)

    def _shared(self, beds: int, whole: int) -> tuple[int, int]:
        """Give the least length of cloth where the first beds take what they have room for, and what the last of them
        takes."""
        if not beds:
            return int(self.plans[0, whole]), 0
        inside = np.flatnonzero((self.vectors <= self.vectors[whole]).all(axis=1))
        inside = inside[self.plans[beds, inside] <= self.task.beds[beds - 1][1]]
        return min((self._shared(beds - 1, whole - int(part))[0], int(part)) for part in inside)

    def plan(self) -> Layouts:
        """Give a plan of the least length."""
        found: Layouts = {}
        whole = len(self.vectors) - 1
        for bed in range(len(self.task.beds), -1, -1):
            taken = self._shared(bed, whole)[1] if bed else whole
            whole -= taken
            while taken:
                part, rest = self._parts(taken)
                at = int(np.argmin(self.lowest[bed, part] + self.plans[bed, rest]))
                row = self._strip(int(part[at]), int(self.lowest[bed, part[at]]), bed)
                found[row] = found.get(row, 0) + 1
                taken = int(rest[at])
        return found

    def _strip(self, whole: int, height: int, bed: int) -> Layout:
        h = int(np.searchsorted(self.heights, height))
        whole, segments = int(self.at[whole]), []
        while whole:
            part, rest = self._inside(whole)
            at = int(np.argmin(self.segments[part, h] + self.strips[rest, h]))
            segments.append(self._segment(int(part[at]), h))
            whole = int(rest[at])
        return stacked(height, segments, bed)

    def _segment(self, whole: int, h: int) -> list[PieceRow]:
        rows = []
        while whole:
            part, rest = self._inside(whole)
            best = (FAR, 0, 0)
            for at in range(len(self.rows)):
                if (under := int(self.below[h, at])) >= 0:
                    wide = np.maximum(self.row_widths[part, at], self.segments[rest, under])
                    one = int(np.argmin(wide))
                    best = min(best, (int(wide[one]), at, one))
            _, at, one = best
            rows.append(self._row(int(part[one]), self.rows[at]))
            whole, h = int(rest[one]), int(self.below[h, at])
        return rows

    def _row(self, whole: int, height: int) -> PieceRow:
        parts = []
        for kind, number in enumerate(self.vectors[self.inside[whole]].tolist()):
            ways = [(w, h) for h, w, i in self.points.ways if i == kind]
            w, h = (
                min(way for way in ways if way[1] == height or (self.task.trim and way[1] < height))
                if number
                else (0, 0)
            )
            parts.append((kind, w, h, number))
        return row_of(height, parts)
