"""The least length of a handful of pieces, counted anew: from what is laid to what can be added, in every order."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
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
    counts = list(product(*(range(kind.demand + 1) for kind in task.kinds)))
    where = {one: at for at, one in enumerate(counts)}
    heights = np.array(reached([(h, task.kinds[k].demand) for k, _, h in ways], tallest))
    vectors = np.array(counts, dtype=np.int64)
    segments: Any = np.full((len(counts), len(heights)), NEVER, dtype=np.int64)
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
    step = np.array([where[tuple(int(a == k) for a in range(len(task.kinds)))] for k in range(len(task.kinds))])
    addable = [_addable(task, one, step) for one in counts]
    for at in range(len(counts)):
        more = addable[at][1:]
        for widths, above, under in rows.values():
            if len(more) and len(above):
                laid = np.maximum(widths[more, None], segments[at, under][None, :])
                target = np.ix_(at + more, above)
                segments[target] = np.minimum(segments[target], laid)
    strips: Any = np.full_like(segments, NEVER)
    strips[0] = 0
    for at in range(len(counts)):
        more = addable[at][1:]
        strips[at + more] = np.minimum(strips[at + more], strips[at] + segments[more])
    whole = _lengths(task, strips, heights, task.width, min(room or tallest, tallest), addable)
    for width, length in task.beds:
        inside = _lengths(task, strips, heights, width, min(length, tallest), addable) <= length
        after = np.full_like(whole, NEVER)
        for at in range(len(counts)):
            more = addable[at]
            fits = more[inside[more]]
            after[at + fits] = np.minimum(after[at + fits], whole[at])
        whole = after
    return task.more + int(whole[-1])


def _addable(task: Task, counts: tuple[int, ...], step: Any) -> Any:
    """Give all vectors that can be added to one, nothing first."""
    import numpy as np

    found = np.zeros(1, dtype=np.int64)
    for kind, number in enumerate(counts):
        found = (found[:, None] + np.arange(task.kinds[kind].demand - number + 1) * step[kind]).reshape(-1)
    return found


def _lengths(task: Task, strips: Any, heights: Any, width: int, tallest: int, addable: list[Any]) -> Any:
    """Give the least sum of heights for every vector, from strips across a width."""
    import numpy as np

    reach = task.reach or NEVER
    alone = [h for kind in task.kinds for _, h in kind.sizes]
    fits = (strips <= width) & (heights <= tallest) & ((heights <= reach) | np.isin(heights, alone))
    lowest = np.where(fits.any(axis=1), heights[fits.argmax(axis=1)], NEVER)
    out = np.full(len(lowest), NEVER, dtype=np.int64)
    out[0] = 0
    for at in range(len(lowest)):
        more = addable[at][1:]
        out[at + more] = np.minimum(out[at + more], out[at] + lowest[more])
    return out


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
