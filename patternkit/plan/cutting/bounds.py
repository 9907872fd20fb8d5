"""Lengths that no plan can do without, from widths and heights alone; exact, and quick in every file.

Each is given with its proof, from which `patternkit.plan.cutting.verify` computes the bound anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache

import msgspec

from patternkit.plan.cutting.task import Task
from patternkit.plan.cutting.weights import Weight, choices, weigh


class LineBound(msgspec.Struct, frozen=True):
    """Every line across the cloth meets a row of pieces that weighs no more than the cloth."""

    weight: Weight


class Stairs(msgspec.Struct, frozen=True):
    """For each height, lowest first, the weight that shows how many strips must be at least as tall.

    With trimming the pieces counted are those that no lower strip can hold; without it, those of just this height.
    """

    steps: tuple[tuple[int, Weight], ...]


def reachable(task: Task, bound: int) -> int:
    """Raise a bound to the next length that is a sum of strip heights."""
    rest = max(0, bound - task.more)
    heights = task.heights()
    if not heights or not rest:
        return task.more + rest
    limit = rest + heights[0]  # a multiple of the lowest height lies in this range
    above = _sums(tuple(heights), 1 << limit.bit_length()) >> rest
    return task.more + rest + ((above & -above).bit_length() - 1)


@lru_cache(maxsize=64)
def _sums(heights: tuple[int, ...], limit: int) -> int:
    """Give the sums of heights up to a limit, each as a bit."""
    mask = (1 << limit + 1) - 1
    sums = 1
    for height in heights:
        step = height
        while step <= limit:
            sums |= (sums << step) & mask
            step *= 2
    return sums


def proofs(task: Task) -> Iterator[LineBound | Stairs]:
    """Give the best slices, and for a cloth without beds the best stairs."""
    widths = {w for kind in task.kinds for w, _ in kind.sizes}
    cloth, best, most = task.width, LineBound(("plain", 0)), Fraction(-1)
    steps: dict[int, tuple[int, Weight]] = {}
    for weight in choices(widths, cloth):
        table = {w: weigh(weight, w, cloth) for w in widths}
        full = weigh(weight, cloth, cloth)
        load = sum(kind.demand * min(table[w] * h for w, h in kind.sizes) for kind in task.kinds)
        load -= sum(weigh(weight, width, cloth) * length for width, length in task.beds)
        if Fraction(load, full) > most:
            best, most = LineBound(weight), Fraction(load, full)
        for height, load in _loads(task, table).items():
            strips = -(-load // full)
            if strips > steps.get(height, (0, weight))[0]:
                steps[height] = strips, weight
    yield best
    if not task.beds:
        yield Stairs(tuple((height, weight) for height, (_, weight) in sorted(steps.items())))


def _loads(task: Task, table: dict[int, int]) -> dict[int, int]:
    """Add up, for each height, the weight of the pieces that belong to its step of the stairs."""
    loads: dict[int, int] = {}
    for kind in task.kinds:
        heights = {h for _, h in kind.sizes}
        if task.trim or len(heights) == 1:
            lowest = min(heights)
            loads[lowest] = loads.get(lowest, 0) + kind.demand * min(table[w] for w, _ in kind.sizes)
    if task.trim:  # what needs a taller strip counts on the lower steps too
        total = 0
        for height in sorted(loads, reverse=True):
            total += loads[height]
            loads[height] = total
    return loads
