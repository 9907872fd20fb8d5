"""A plan one strip after another: each time the strip that is worth most for its height, with no more pieces than are
left.

What is hard to place later is worth more than its area, so that it goes first (sequential value correction: E. A.
Mukhacheva, A. S. Mukhacheva, Pattern Recognition and Image Analysis 14, 2004; G. Belov and G. Scheithauer, European
Journal of Operational Research 171, 2006; both from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from patternkit.plan.cutting.boxes import LARGEST, BoxCut, Boxes, LyingWay
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.task import Layout, Layouts, PieceRow, Task, across, lowered, numbers, stacked

TALL = 2
"""Strips are no taller than this many times the tallest piece."""
MANY = 60
"""Kinds left beyond which they are no taller than the tallest piece: tables would take long."""
QUICK = 8
"""Numbers of the tables handled in the time of one cell."""


def areas(task: Task) -> list[int]:
    """Give the area of a piece of each kind."""
    return [kind.sizes[0][0] * kind.sizes[0][1] for kind in task.kinds]


def worths_by_area(task: Task, power: float, stretch: Sequence[float] = ()) -> list[int]:
    """Give each kind a power of its area as its worth, stretched kind by kind; scaled as the tables need it."""
    area = areas(task)
    stretch = stretch or [1.0] * len(area)
    return scaled(task, [a**power * s for a, s in zip(area, stretch, strict=True)])


def scaled(task: Task, rough: Sequence[float]) -> list[int]:
    """Give worths as whole numbers, as large as the tables have room for."""
    dearest = max(r / a for r, a in zip(rough, areas(task), strict=True))
    tallest = max(h for kind in task.kinds for _, h in kind.sizes)
    scale = LARGEST / (dearest * task.width * 2 * tallest)
    return [max(1, int(r * scale)) for r in rough]


class Series:
    """Plans for one task, each for some pieces of it and some worths."""

    def __init__(self, task: Task, budget: Budget) -> None:
        """Keep the ways of lying, lowest first."""
        self.task, self.budget = task, budget
        self.ways = sorted(LyingWay(h, w, i) for i, kind in enumerate(task.kinds) for w, h in kind.sizes)
        self.area = areas(task)

    def plan(self, wanted: Sequence[int], worths: Sequence[int], longest: int, tries: int) -> Layouts | None:
        """Give a plan for the pieces wanted, no longer than `longest`; None where none is found. For each strip some of
        the likeliest heights are tried."""
        left, plan, length = list(wanted), Layouts(), 0
        rest = sum(n * a for n, a in zip(left, self.area, strict=True))
        while any(left):
            if length + rest / self.task.width > longest or self.budget.spent():
                return None
            row = self._next(left, worths, tries)
            if row is None:
                return None
            gives = numbers(row)
            copies = min(left[kind] // number for kind, number in gives.items())
            plan[row] = plan.get(row, 0) + copies
            length += row.height * copies
            for kind, number in gives.items():
                left[kind] -= number * copies
                rest -= number * copies * self.area[kind]
        return plan if length <= longest else None

    def boxes(self, left: Sequence[int], worths: Sequence[int], width: int, height: int) -> Boxes:
        """Give tables for what is left that fits a box."""
        return Boxes(self.task, self.ways, left, worths, (width, height))

    def _next(self, left: Sequence[int], worths: Sequence[int], tries: int) -> Layout | None:
        """Give the strip of the cloth that is worth most for its height."""
        tallest = max(way.height for way in self.ways if left[way.kind])
        few = sum(map(bool, left)) <= MANY
        most = min(self.task.tallest(TALL), TALL * tallest) if few else tallest
        found = list(self.candidates(left, worths, tries, most))
        return max(found, key=lambda pair: pair[0])[1] if found else self._single(left)

    def candidates(
        self, left: Sequence[int], worths: Sequence[int], tries: int, most: int, bed: int = 0, spread: float = 0.0
    ) -> Iterator[tuple[float, Layout]]:
        """Give strips no higher than `most` with what they are worth for their height, the likeliest first: some of
        them, and none that is worth less than the best even if that is raised by `spread`."""
        boxes = self.boxes(left, worths, self.task.width_of(bed), most)
        best = 0.0
        for at, (height, worth) in enumerate(boxes.strips()):
            if best and (at >= tries or worth / height * (1 + spread) <= best + 1e-9):
                break
            row = StripFill(self, left, worths, height, bed).filled(boxes.strip(height))
            if row is not None:
                value = sum(worths[kind] * number for kind, number in numbers(row).items()) / row.height
                best = max(best, value)
                yield value, row
        self.budget.charge(boxes.work // QUICK)

    def _single(self, left: Sequence[int]) -> Layout | None:
        """Give a strip of the tallest kind that is left: where nothing fills a segment to the last thread."""
        for height, width, kind in reversed(self.ways):
            if left[kind]:
                number = min(left[kind], self.task.width // width)
                return stacked(height, [[PieceRow(height, ((kind, width, height, number),))]])
        return None


class StripFill:
    """One strip while it is filled, with what is then left of each kind."""

    def __init__(self, series: Series, left: Sequence[int], worths: Sequence[int], height: int, bed: int = 0) -> None:
        """Begin with an empty strip."""
        self.series, self.worths, self.height, self.bed = series, worths, height, bed
        self.left = list(left)
        self.room = series.task.width_of(bed)
        self.segments: list[Sequence[PieceRow]] = []

    def filled(self, cuts: Sequence[BoxCut]) -> Layout | None:
        """Take of the segments proposed what there are pieces for, and have others proposed for the rest."""
        while self._take(cuts) and self.room:
            boxes = self.series.boxes(self.left, self.worths, self.room, self.height)
            cuts = boxes.strip(self.height) if boxes.strips(only=True) else ()
            self.series.budget.charge(boxes.work // QUICK)
        if not self.segments:
            return None
        row = stacked(self.height, self.segments, self.bed)
        return lowered(row) if self.series.task.trim else row

    def _take(self, cuts: Sequence[BoxCut]) -> bool:
        """Take the segments of which every piece is there, the most worth for their width first; if there are none,
        something as wide as the first. Without any, nothing is left to take."""
        taken, short = False, None
        for cut in sorted(cuts, key=lambda cut: -cut.worth / cut.width):
            if self._has(cut.rows):
                self._put(cut.rows)
                taken = True
            elif short is None:
                short = cut
        if short is None or taken:
            return taken
        rows = self._stack(short.width)
        if rows:
            self.segments.append(rows)
            self.room -= max(map(across, rows))
        return bool(rows)

    def _has(self, rows: Sequence[PieceRow]) -> bool:
        wanted: dict[int, int] = {}
        for row in rows:
            for kind, _, _, number in row.parts:
                wanted[kind] = wanted.get(kind, 0) + number
        return all(self.left[kind] >= number for kind, number in wanted.items())

    def _put(self, rows: Sequence[PieceRow]) -> None:
        for row in rows:
            self._use(row)
        self.segments.append(rows)
        self.room -= max(map(across, rows))

    def _use(self, row: PieceRow) -> None:
        for kind, _, _, number in row.parts:
            self.left[kind] -= number

    def _stack(self, width: int) -> list[PieceRow]:
        """Fill a segment row by row, each time as many of the rows proposed as there are pieces for."""
        rest, found, before = self.height, list[PieceRow](), list(self.left)
        while rest:
            boxes = self.series.boxes(self.left, self.worths, width, rest)
            fits = len(found)
            for row in sorted(boxes.stack(), reverse=True):
                if self._has([row]):
                    self._use(row)
                    found.append(row)
                    rest -= row.height
            self.series.budget.charge(boxes.work // QUICK)
            if len(found) == fits:
                break
        if rest and not self.series.task.trim:
            self.left = before
            return []
        return found
