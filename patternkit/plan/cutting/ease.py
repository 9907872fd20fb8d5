"""How easy a plan is to cut, and which of two plans is better for whoever cuts it."""

from __future__ import annotations

from typing import TypeAlias

from patternkit.plan.cutting.grid import to_buy
from patternkit.plan.cutting.model import CuttingSettings
from patternkit.plan.cutting.rank import rank
from patternkit.plan.cutting.task import Layout, Layouts, PieceRow, Task, length_of

Ease: TypeAlias = tuple[int, int, int, int, int, int]
HEAD = 9
"""Most sizes of a list that someone who cuts it keeps in the head."""


def long(task: Task) -> bool:
    """Say whether a list is longer than anyone keeps in the head: then less cloth counts for more than fewer cuts."""
    return len(task.kinds) > HEAD


def preference(task: Task, layouts: Layouts, settings: CuttingSettings) -> tuple[int, ...]:
    """Rank a plan for whoever asks for it: a quick plan, made without the solver, is to be short, every other easy; a
    long list's is to be short, then easy."""
    if not settings.solver:
        return rank(task, layouts, settings)
    within, lots, *easy = ease(task, layouts, settings)
    return (within, lots, length_of(task, layouts), *easy) if long(task) else (within, lots, *easy)


def ease(task: Task, layouts: Layouts, settings: CuttingSettings) -> Ease:
    """Give whether it is longer than the length that is there, lots to buy, different strips that hold two heights (or
    a piece that had better lie), different cuts, strips; less is better.

    Inches used never decide: they come last, so that equal plans keep one order.
    """
    kinds = different(layouts)
    length = length_of(task, layouts)
    return (
        int(bool(settings.within) and length > settings.within),
        to_buy(length, settings)[1],
        sum(awkward(task, row) for row in kinds),
        sum(map(cuts_of, kinds)),
        sum(layouts.values()),
        length,
    )


def awkward(task: Task, row: Layout) -> bool:
    """Say whether a strip holds pieces of two heights, or one that stands higher than a ruler reaches where it might
    lie along its strip."""
    return two_heights(row) or (
        0 < task.reach < row.height
        and any(tall > task.reach and (tall, w) in task.kinds[kind].sizes for kind, w, tall, _ in row.parts)
    )


def two_heights(row: Layout) -> bool:
    """Say whether a strip holds pieces of two heights."""
    return len({tall for _, _, tall, _ in row.parts}) > 1


def cuts_of(row: Layout) -> int:
    """Count the different cuts of one strip: the strip itself, each segment that is cut into rows, each different row
    of it, each different piece in a row, each trimming."""
    cuts = 1
    for segment in row.segments:
        own = set(segment.rows)
        cuts += sum(map(_row_cuts, own))
        if len(segment.rows) > 1:
            cuts += 1 + len(own)
    return cuts


def _row_cuts(row: PieceRow) -> int:
    return sum(1 + (part[2] < row.height) for part in row.parts)


def different(layouts: Layouts) -> list[Layout]:
    """Give the strips that a person must think of one by one: not one that only leaves out some pieces of another."""
    kept: list[Layout] = []
    for row in sorted(layouts, key=lambda row: (-cuts_of(row), -sum(part[3] for part in row.parts), row)):
        if not any(_within(row, other) for other in kept):
            kept.append(row)
    return kept


def _within(row: Layout, other: Layout) -> bool:
    """Say whether a strip is another one with some of its pieces left out."""
    if (row.bed, row.height) != (other.bed, other.height) or len(row.segments) > len(other.segments):
        return False
    has = [(r.height, *part) for segment in other.segments for r in segment.rows for part in r.parts]
    for segment in row.segments:
        for r in segment.rows:
            for kind, width, tall, number in r.parts:
                if not any(one[:4] == (r.height, kind, width, tall) and one[4] >= number for one in has):
                    return False
    return True
