"""The strips that a hand would think of: one size; one size and then another, each in one row or more; the end of a
strip cut into rows of two sizes. All of them both ways up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from patternkit.plan.cutting.ease import cuts_of
from patternkit.plan.cutting.task import Layout, PieceRow, Task, in_reach, numbers, stacked

MOST = 600
"""Most strips of a pool."""
SHORT, LONG = 12, 48
"""Ways of lying up to which ends are cut into rows of two sizes, and up to which two sizes lie in one strip."""
ROWS = 4
"""Most rows of a size that a strip begins with."""
COLUMNS, FEW = 8, 6
"""Most columns for which every number of them is tried, unless ways of lying are few."""


class _Way(NamedTuple):
    """A kind as it lies."""

    kind: int
    width: int
    height: int
    demand: int


class _Block(NamedTuple):
    """Pieces of one way side by side in some rows, no more than are wanted."""

    way: _Way
    rows: int
    columns: int

    @property
    def pieces(self) -> int:
        return min(self.way.demand, self.rows * self.columns)

    def laid(self) -> list[PieceRow]:
        """Give the rows with their pieces."""
        kind, width, height, _ = self.way
        left, out = self.pieces, []
        for _ in range(self.rows):
            number = min(self.columns, left)
            left -= number
            out.append(PieceRow(height, ((kind, width, height, number),) if number else ()))
        return out


class _Candidate(NamedTuple):
    """A strip not laid out yet: what it leaves, its height, and its segments, each of one block or of two that lie one
    over the other."""

    waste: float
    height: int
    segments: tuple[tuple[_Block, ...], ...]

    def gives(self) -> tuple[object, ...]:
        """What strips must have in common to serve for each other."""
        counts: dict[int, int] = {}
        for segment in self.segments:
            for block in segment:
                counts[block.way.kind] = counts.get(block.way.kind, 0) + block.pieces
        return self.height, tuple(sorted(counts.items()))

    def laid(self, bed: int) -> Layout:
        """Give the strip laid out."""
        return stacked(self.height, [[r for block in segment for r in block.laid()] for segment in self.segments], bed)


def hand_pool(task: Task, known: Iterable[Layout] = ()) -> list[Layout]:
    """Give the strips of one size for the cloth and its beds, those `known`, then of all others the ones that leave the
    least cloth; of those that give the same the easiest."""
    pool: dict[Layout, None] = {}
    others: list[tuple[float, Layout]] = []
    for bed in range(len(task.beds) + 1):
        width = task.width_of(bed)
        most = task.beds[bed - 1][1] if bed else 0
        ways = [
            _Way(i, w, h, kind.demand)
            for i, kind in enumerate(task.kinds)
            for w, h in kind.sizes
            if w <= width and kind.demand and (not bed or h <= most)
        ]
        most = most or 2 * max((way.height for way in ways), default=0)
        for way in ways:
            pool[_Candidate(0.0, way.height, ((_Block(way, 1, min(width // way.width, way.demand)),),)).laid(bed)] = (
                None
            )
        found = sorted(_mixed(ways, width, most, task.trim), key=lambda c: c.waste)[: 4 * MOST]
        laid = [(c.waste, c.laid(bed)) for c in found]
        others += laid if not 0 < task.reach < most else [one for one in laid if in_reach(task, one[1])]
    pool.update(dict.fromkeys(row for row in known if row.segments))
    others.sort(key=lambda pair: (pair[0], cuts_of(pair[1]), pair[1]))
    same = {(row.bed, row.height, *sorted(numbers(row).items())) for row in pool}
    for _, row in others:
        key = (row.bed, row.height, *sorted(numbers(row).items()))
        if len(pool) < MOST and key not in same:
            same.add(key)
            pool[row] = None
    return list(pool)


def _mixed(ways: Sequence[_Way], width: int, most: int, trim: bool) -> list[_Candidate]:
    """Give the strips of two sizes and more, one for each set of pieces."""
    best: dict[tuple[object, ...], _Candidate] = {}
    if len(ways) <= LONG:
        for segments in _pairs(ways, width, most, trim):
            height = max(sum(block.rows * block.way.height for block in segment) for segment in segments)
            used = sum(b.way.width * b.way.height * b.pieces for segment in segments for b in segment)
            one = _Candidate(1 - used / (width * height), height, segments)
            key = one.gives()
            if key not in best or _blocks(one) < _blocks(best[key]):
                best[key] = one
    return list(best.values())


def _blocks(one: _Candidate) -> tuple[int, int]:
    """Rank strips that give the same: fewer blocks, then fewer rows."""
    return sum(map(len, one.segments)), sum(block.rows for segment in one.segments for block in segment)


def _pairs(ways: Sequence[_Way], width: int, most: int, trim: bool) -> Iterator[tuple[tuple[_Block, ...], ...]]:
    """Give one size and then another, in strips just as high as the higher of the two; then the ends in two sizes."""
    for first in ways:
        deep = min(ROWS, most // first.height) if len(ways) <= SHORT else 1
        for n in range(1, deep + 1):
            for columns in _numbers(first, n, width, len(ways)):
                begun = _Block(first, n, columns)
                rest = width - columns * first.width
                for second in ways:
                    if second.width <= rest and second is not first:
                        yield from ((((begun,), (other,))) for other in _beside(begun, second, rest, most, trim))
        if len(ways) <= SHORT and trim:
            yield from _two_sizes(first, ways, width, most)


def _numbers(way: _Way, rows: int, width: int, ways: int) -> list[int]:
    """Give how many columns of a size a strip may begin with: every number where they are few, otherwise as many as go,
    one less, half, and what full strips leave."""
    full = min(width // way.width, -(-way.demand // rows))
    if full <= COLUMNS or (ways <= FEW and full <= 3 * COLUMNS):
        return list(range(full, 0, -1))
    rest = -(-(way.demand % (width // way.width * rows)) // rows)
    return sorted({n for n in (full, full - 1, (full + 1) // 2, rest) if 0 < n <= full}, reverse=True)


def _beside(begun: _Block, second: _Way, rest: int, most: int, trim: bool) -> Iterator[_Block]:
    """Lay a second size beside the first: in as many rows as its strip has room for, or in one more."""
    height = begun.rows * begun.way.height
    fits = height // second.height
    for rows in (fits, fits + 1) if begun.rows == 1 else (fits,):
        high = rows * second.height
        if not rows or high > most or (high != height and not trim) or (begun.rows > 1 and rows % begun.rows == 0):
            continue
        if rows > fits and high - height >= min(begun.way.height, second.height):
            continue  # as high as two strips
        columns = min(rest // second.width, -(-second.demand // rows))
        yield _Block(second, min(rows, second.demand), columns)


def _two_sizes(first: _Way, ways: Sequence[_Way], width: int, most: int) -> Iterator[tuple[tuple[_Block, ...], ...]]:
    """Give one size and then, in the end of its strip, a row of one size over a row of another."""
    for columns in _numbers(first, 1, width, len(ways)):
        begun = _Block(first, 1, columns)
        rest = width - columns * first.width
        for at, upper in enumerate(ways):
            for lower in ways[at + 1 :]:
                high = upper.height + lower.height
                near = 0.8 * high <= first.height <= 1.25 * high and high <= most and upper.kind != lower.kind
                if near and first.kind not in (upper.kind, lower.kind) and max(upper.width, lower.width) <= rest:
                    blocks = (_Block(way, 1, min(rest // way.width, way.demand)) for way in (upper, lower))
                    yield (begun,), tuple(blocks)
