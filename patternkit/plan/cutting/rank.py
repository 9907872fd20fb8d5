"""Which of two plans is better: less to buy, less used, then what is easier to cut."""

from __future__ import annotations

from typing import TypeAlias

from patternkit.plan.cutting.grid import to_buy
from patternkit.plan.cutting.model import CuttingSettings
from patternkit.plan.cutting.task import Layouts, Task, length_of

Rank: TypeAlias = tuple[int, int, int, int, int, int]


def rank(task: Task, layouts: Layouts, settings: CuttingSettings) -> Rank:
    """Give lots to buy, length, different heights, strips, different layouts, and sub-cuts with what is trimmed counted
    twice; less is better."""
    length = length_of(task, layouts)
    heights = len({row.height for row in layouts})
    cuts = sum(1 + (part[2] < row.height) for row in layouts for part in row.parts)
    return to_buy(length, settings)[1], length, heights, sum(layouts.values()), len(layouts), cuts
