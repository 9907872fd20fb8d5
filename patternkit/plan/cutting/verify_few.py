"""The least length of a handful of pieces, counted anew: from what is laid to what can be added, in every order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from patternkit.plan.cutting.task import Task

TALL = 2
"""Strips are no taller than this many times the tallest piece that has room on the cloth."""
NEVER = 1 << 40


def least_counted(task: Task, room: int) -> int:
    """Give the least length of all plans whose strips of the cloth are no taller than `room`."""
    import numpy as np

    most = max([room, *(length for _, length in task.beds)])
    ways = [(k, w, h) for k, kind in enumerate(task.kinds) for w, h in kind.sizes if w <= task.width and h <= most]
    piece = max((h for _, _, h in ways), default=0)
    tallest = min(most, max(piece, min(TALL * piece, task.reach)) if task.reach else TALL * piece)
    heights = np.array(reached([(h, task.kinds[k].demand) for k, _, h in ways], tallest))
    across = max([task.width, *(width for width, _ in task.beds)])
    vectors = np.array(list(_no_larger(task, across * tallest)), dtype=np.int64).reshape(-1, len(task.kinds))
    named = np.array([0] * len(vectors), dtype=np.int64)  # vectors in the order of the list are rising numbers
    for kind, counted in zip(task.kinds, vectors.T, strict=True):
        named = named * (kind.demand + 1) + counted
    addable = [_addable(vectors, named, at) for at in range(len(vectors))]
    segments: Any = np.full((len(vectors), len(heights)), NEVER, dtype=np.int64)
    segments[0, :] = 0 if task.trim else NEVER
    segments[0, 0] = 0
    rows: dict[int, tuple[Any, ...]] = {}
    for height in {h for _, _, h in ways}:
        fits = [(k, w) for k, w, h in ways if h == height or (task.trim and h < height)]
        each = [min((w for k, w in fits if k == kind), default=NEVER >> 12) for kind in range(len(task.kinds))]
        under = np.searchsorted(heights, heights - height, side="right") - 1
        whole_row = (under >= 0) & (task.trim | (heights[under] == heights - height))
        above = np.flatnonzero(whole_row)
        rows[height] = vectors @ np.array(each, dtype=np.int64), above, under[above]
    for at, (more, whole) in enumerate(addable):
        for widths, above, under in rows.values():
            fits = widths[more] <= task.width
            if fits.any() and len(above):
                laid = np.maximum(widths[more[fits], None], segments[at, under][None, :])
                target = np.ix_(whole[fits], above)
                segments[target] = np.minimum(segments[target], laid)
    strips: Any = np.full_like(segments, NEVER)
    strips[0] = 0
    for at, (more, whole) in enumerate(addable):
        strips[whole] = np.minimum(strips[whole], strips[at] + segments[more])
    length = _lengths(task, strips, vectors, heights, task.width, min(room or tallest, tallest))
    for width, long in task.beds:
        inside = _lengths(task, strips, vectors, heights, width, min(long, tallest)) <= long
        length = _beside(length, inside)
    return task.more + int(length.reshape(-1)[-1])


def _no_larger(task: Task, area: int) -> Iterator[tuple[int, ...]]:
    """Give the count vectors whose pieces have no more than an area, each after all that it holds."""
    sizes = [min(w * h for w, h in kind.sizes) for kind in task.kinds]

    def grown(counts: tuple[int, ...], left: int) -> Iterator[tuple[int, ...]]:
        at = len(counts)
        if at == len(sizes):
            yield counts
            return
        for number in range(min(task.kinds[at].demand, left // sizes[at]) + 1):
            yield from grown((*counts, number), left - number * sizes[at])

    yield from grown((), area)


def _addable(vectors: Any, named: Any, at: int) -> tuple[Any, Any]:
    """Give what can be added to one vector, and what then comes out, nothing left out: by their places in the list."""
    import numpy as np

    larger = at + np.flatnonzero((vectors[at:] >= vectors[at]).all(axis=1))[1:]
    return np.searchsorted(named, named[larger] - named[at]), larger


def _lengths(task: Task, strips: Any, vectors: Any, heights: Any, width: int, tallest: int) -> Any:
    """Give the least sum of heights for every vector, from strips across a width: on from each vector in turn.

    With trimming a strip may hold more than is wanted; one that another holds, and is no lower, is left out.
    """
    import numpy as np

    reach = task.reach or NEVER
    alone = [h for kind in task.kinds for _, h in kind.sizes]
    fits = (strips <= width) & (heights <= tallest) & ((heights <= reach) | np.isin(heights, alone))
    strip = [(int(heights[row.argmax()]), one) for row, one in zip(fits, vectors.tolist(), strict=True) if row.any()]
    full = np.array([kind.demand for kind in task.kinds], dtype=np.int64)
    out = np.full(full + 1, NEVER, dtype=np.int64)
    out[tuple(0 * full)] = 0
    useful = [(h, one) for h, one in strip if any(one)]
    if task.trim:
        useful = _fullest(useful)
    high = np.array([h for h, _ in useful], dtype=np.int64)
    holds = np.array([one for _, one in useful], dtype=np.int64).reshape(-1, len(full))
    for at in np.ndindex(*out.shape):
        if out[at] >= NEVER:
            continue
        after = holds + np.array(at, dtype=np.int64)
        use = np.arange(len(high)) if task.trim else np.flatnonzero((after <= full).all(axis=1))
        np.minimum.at(out, tuple(np.minimum(after[use], full).T), out[at] + high[use])
    return out


def _fullest(strips: Sequence[tuple[int, list[int]]]) -> list[tuple[int, list[int]]]:
    """Leave out every strip of which another holds all pieces and is no higher."""
    import numpy as np

    kept: list[tuple[int, list[int]]] = []
    for high, one in sorted(strips, key=lambda pair: (pair[0], -sum(pair[1]))):
        if not kept or not (np.array([other for _, other in kept]) >= np.array(one)).all(axis=1).any():
            kept.append((high, one))
    return kept


def _beside(length: Any, inside: Any) -> Any:
    """Give the least length for every vector where a bed may hold some of it."""
    import numpy as np

    after = np.full_like(length, NEVER)
    for at in np.ndindex(*inside.shape):
        if inside[at]:
            rest = length[tuple(slice(0, size - n) for size, n in zip(length.shape, at, strict=True))]
            target = after[tuple(slice(n, None) for n in at)]
            np.minimum(target, rest, out=target)
    return after


def reached(sizes: Sequence[tuple[int, int]], limit: int) -> list[int]:
    """Give all sums up to a limit of sizes, each so often and no more."""
    found = {0}
    for size, many in sizes:
        level = found
        for _ in range(min(many, limit // size)):
            level = {at + size for at in level if at + size <= limit} - found
            if not level:
                break
            found = found | level
    return sorted(found)
