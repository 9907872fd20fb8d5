"""The same length with simpler sub-cuts: pieces change places so that more strips are cut alike.

A group of strips is filled anew from its own pieces; the length never grows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

import msgspec

from patternkit.plan.cutting.model import CuttingSettings
from patternkit.plan.cutting.rank import rank
from patternkit.plan.cutting.shelf import best_fit, first_fit, in_fill_order, sized
from patternkit.plan.cutting.task import CutKind, Layout, Layouts, Size, Task, drop_surplus, layout, numbers


def tidied(task: Task, layouts: Layouts, settings: CuttingSettings) -> Layouts:
    """Refill strips of equal or neighbouring heights, as long as the plan gets simpler.

    A group of strips that could not be bettered is not tried again unless its strips have changed.
    """
    best = drop_surplus(task, layouts)
    tried: set[frozenset[tuple[Layout, int]]] = set()
    better = True
    while better:
        better = False
        for group in _groups(best):
            content = frozenset((row, best[row]) for row in group)
            if content in tried:
                continue
            tried.add(content)
            before = rank(task, best, settings)
            refilled = enumerate(_refilled(task, best, group))
            plans = [(rank(task, plan, settings), at, plan) for at, plan in refilled]
            if plans and min(plans)[0] < before:
                best, better = min(plans)[2], True
                break
    return best


def _groups(layouts: Layouts) -> list[list[Layout]]:
    """Give the strips of each cloth and height, alone and with the next lower ones."""
    keys = sorted({(row.bed, row.height) for row in layouts}, key=lambda k: (k[0], -k[1]))
    groups = []
    for span in (1, 2, 3):
        for at in range(len(keys) - span + 1):
            chosen = set(keys[at : at + span])
            if len({bed for bed, _ in chosen}) == 1:
                groups.append([row for row in layouts if (row.bed, row.height) in chosen])
    return groups


def _refilled(task: Task, layouts: Layouts, group: Sequence[Layout]) -> Iterator[Layouts]:
    """Give other ways of filling the strips of a group, none taking more length."""
    bed = group[0].bed
    owed = [0] * len(task.kinds)
    for row in group:
        for kind, number in numbers(row).items():
            owed[kind] += number * layouts[row]
    heights = sorted({row.height for row in group}, reverse=True)
    length = sum(row.height * layouts[row] for row in group)
    kinds = tuple(
        CutKind(tuple(s for s in kind.sizes if s[1] <= heights[0] and s[0] <= task.width_of(bed)), number, ())
        for kind, number in zip(task.kinds, owed, strict=True)
    )
    small = Task(task.width_of(bed), task.trim, kinds)
    kept = {row: copies for row, copies in layouts.items() if row not in group}
    for upright in (True, False):
        lie = [(i, _lies(kind, heights, upright, task.trim)) for i, kind in enumerate(kinds) if kind.demand]
        rows = in_fill_order((i, size) for i, size in lie if size is not None)
        if len(rows) < len(lie):
            continue
        plain = msgspec.structs.replace(small, trim=False)
        for way, how in product((sized, first_fit, best_fit), (plain, small) if task.trim else (small,)):
            plan = way(how, rows, owed)
            if sum(row.height * copies for row, copies in plan.items()) <= length:
                moved = {layout(row.height, row.parts, bed): copies for row, copies in plan.items()}
                whole = dict(kept)
                for row, copies in moved.items():
                    whole[row] = whole.get(row, 0) + copies
                yield whole


def _lies(kind: CutKind, heights: Sequence[int], upright: bool, trim: bool) -> Size | None:
    """Give the way a kind lies in strips of these heights, upright along the cloth or flat across it."""
    sizes = [size for size in kind.sizes if trim or size[1] in heights]
    if not sizes:
        return None
    return max(sizes, key=lambda s: (s[1] in heights, s[1] if upright else -s[1]))
