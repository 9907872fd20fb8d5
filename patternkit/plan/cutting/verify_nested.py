"""Bounds for strips that are cut up further, computed anew: other loops than the search's, and every strip's height.

A row is filled piece by piece; segments are built row height by row height; strips from the left, all states of the
critical kinds at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import TYPE_CHECKING, Any

from patternkit.plan.cutting.counted import Counted
from patternkit.plan.cutting.proof import Case, Fork, Prices, beyond, value
from patternkit.plan.cutting.task import Task
from patternkit.plan.cutting.verify import need
from patternkit.plan.cutting.verify_few import least_counted, reached

if TYPE_CHECKING:
    from patternkit.plan.cutting.nested_tree import NestedProof

TALL = 2
"""Strips are no taller than this many times the tallest piece that has room on the cloth."""
NEVER = -(1 << 50)


def check_nested(task: Task, proof: NestedProof | Counted) -> None:
    """Raise `BadPlan` unless every case needs more than the length that is said not to be enough."""
    room = proof.longest - task.more
    if isinstance(proof, Counted):
        need(least_counted(task, room) > proof.longest, f"{proof.longest} is not shown to be too short")
        return
    if room < 0 or (not room and not task.beds and any(kind.demand for kind in task.kinds)):
        return  # what is cut in any case is longer, or leaves no cloth for anything else
    need(len(set(proof.critical)) == len(proof.critical), "a kind is critical twice")

    def side(node: Prices | Fork, path: frozenset[Case]) -> None:
        if isinstance(node, Prices):
            for limit, price in node.limits:
                need(price >= 0 and limit in path, f"{limit} is taken for granted")
            need(
                len(node.kinds) == len(task.kinds) and min(node.kinds, default=0) >= 0 and not node.of_holds(),
                "a price that no strip is held against",
            )
            found = best_nested(task, max(room, proof.tallest), proof.critical, node, proof.longest)
            need(
                value(task, node, found[0], found[1:]) > proof.longest, f"{proof.longest} is not shown to be too short"
            )
            return
        need(not node.limit.least, "a fork begins with its limit from above")
        side(node.fewer, path | {node.limit})
        side(node.more, path | {beyond(node.limit)})

    side(proof.root, frozenset())


def best_nested(
    task: Task, room: int, critical: Sequence[int], named: Prices, longest: int | None = None
) -> list[list[tuple[int, int]]]:
    """Give height and value of the best strip of each height, for the cloth (no taller than `room`) and each bed.

    Where it is only asked whether `longest` is too short, strips of which a rough upper limit is enough to see that
    they are worth too little are given with that limit.
    """
    import numpy as np

    most = max([room, *(length for _, length in task.beds)])
    lies = [
        (h, w, kind, max(0, named.kinds[kind] + named.of_lies().get((kind, w, h), 0)))
        for kind, one in enumerate(task.kinds)
        for w, h in one.sizes
        if w <= task.width and h <= most
    ]
    piece = max((h for h, _, _, _ in lies), default=0)
    tallest = min(most, max(piece, min(TALL * piece, task.reach)) if task.reach else TALL * piece)
    places = sorted({*reached([(w, task.kinds[k].demand) for _, w, k, _ in lies], task.width), task.width})
    places = sorted({*places, *(width for width, _ in task.beds)})
    heights = reached([(h, task.kinds[k].demand) for h, _, k, _ in lies], tallest)
    shape = tuple(task.kinds[kind].demand + 1 for kind in critical)
    rows = dict(_rows(task, critical, shape, places, lies))
    segments = _segments(rows, heights, shape, len(places), task.trim)
    flat = np.ascontiguousarray(np.moveaxis(segments, -1, -2))  # by width, then by height
    clothes = [(task.width, min(room or tallest, tallest)), *task.beds]
    exact = [at for at, h in enumerate(heights) if longest is None or h <= max([0, *(high for _, high in task.beds)])]
    alone = {h for kind in task.kinds for _, h in kind.sizes}
    strips = {h for h in heights if not task.reach or h <= task.reach or h in alone}
    full = np.zeros((len(places), len(heights)), dtype=np.int64)
    full[:, exact] = _strips(flat[..., exact], shape, places)
    if longest is not None:
        rough = (flat[tuple(n - 1 for n in shape)][1:] / np.array(places)[1:, None]).max(axis=0)
        limits = [int(each * task.width * (1 + 1e-9)) + 1 for each in rough]
        beds = [
            [(h, int(full[places.index(w), at])) for at, h in enumerate(heights) if 0 < h <= high and h in strips]
            for w, high in task.beds
        ]
        rest = [
            at
            for at, h in enumerate(heights)
            if h in strips and h and at not in exact and value(task, named, [(h, limits[at])], beds) <= longest
        ]
        full[places.index(task.width)] = np.maximum(full[places.index(task.width)], limits)
        full[:, exact] = _strips(flat[..., exact], shape, places)
        full[:, rest] = _strips(flat[..., rest], shape, places)
    return [
        [(h, int(full[places.index(width), at])) for at, h in enumerate(heights) if 0 < h <= high and h in strips]
        for width, high in clothes
    ]


def _strips(flat: Any, shape: tuple[int, ...], places: Sequence[int]) -> Any:
    """Give the best strips by width and height, with all that there is of the critical kinds: from the left."""
    import numpy as np

    strips: Any = np.zeros_like(flat)
    for x in range(1, len(places)) if flat.shape[-1] else ():
        cuts = np.arange(1, x + 1)
        left = np.searchsorted(places, places[x] - np.array(places)[cuts], side="right") - 1
        for used in product(*(range(n) for n in shape)):
            after: Any = tuple(slice(n, None) for n in used)
            before: Any = tuple(slice(0, size - n) for n, size in zip(used, shape, strict=True))
            tried = flat[used][cuts] + strips[before][..., left, :]
            strips[(*after, x)] = np.maximum(strips[(*after, x)], tried.max(axis=-2))
    return strips[tuple(n - 1 for n in shape)]


def _rows(
    task: Task, critical: Sequence[int], shape: tuple[int, ...], places: Sequence[int], lies: Sequence[tuple[int, ...]]
) -> Iterator[tuple[int, Any]]:
    """Give, for each row height, the best row by state and width: one piece after another."""
    import numpy as np

    where = np.array(places)
    lower = np.zeros((*shape, len(places)), dtype=np.int64)
    for height in sorted({h for h, _, _, _ in lies}):
        row = lower.copy() if task.trim else np.full_like(lower, NEVER)
        for _, width, kind, price in sorted(one for one in lies if one[0] == height):
            left = np.searchsorted(where, where - width, side="right") - 1
            fits = left >= 0
            axis = critical.index(kind) if kind in critical else None
            for _ in range(min(task.kinds[kind].demand, task.width // width) if price or not task.trim else 0):
                before = np.maximum(row, 0)[..., left[fits]] + price
                if axis is not None:
                    moved = np.full_like(before, NEVER)
                    up = tuple(slice(1, None) if a == axis else slice(None) for a in range(len(shape)))
                    down = tuple(slice(0, -1) if a == axis else slice(None) for a in range(len(shape)))
                    moved[up] = before[down]
                    before = moved
                row[..., fits] = np.maximum(row[..., fits], before)
        yield height, row
        if task.trim:
            lower = row


def _segments(rows: dict[int, Any], heights: Sequence[int], shape: tuple[int, ...], places: int, trim: bool) -> Any:
    """Give the best segments by state, height and width; without trimming, rows fill a segment exactly."""
    import numpy as np

    out: Any = np.full((*shape, len(heights), places), 0 if trim else NEVER, dtype=np.int64)
    out[(*(slice(None) for _ in shape), 0)] = 0
    for height, row in rows.items():
        for at, h in enumerate(heights):
            under = (
                max((i for i, other in enumerate(heights) if other <= h - height), default=None)
                if h >= height
                else None
            )
            if under is None or (not trim and heights[under] != h - height):
                continue
            for used in product(*(range(n) for n in shape)):
                after: Any = tuple(slice(n, None) for n in used)
                before: Any = tuple(slice(0, size - n) for n, size in zip(used, shape, strict=True))
                tried = np.maximum(row[used] + out[(*before, under)], NEVER)
                out[(*after, at)] = np.maximum(out[(*after, at)], tried)
    return out
