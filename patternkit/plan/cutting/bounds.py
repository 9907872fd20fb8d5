"""Lengths that no plan can do without, from widths and heights alone; exact, and quick in every file."""

from __future__ import annotations

from patternkit.plan.cutting.task import Task


def area_bound(task: Task) -> int:
    """Give the length that the areas of all pieces take up at the full width, less what the beds can hold."""
    area = sum(kind.demand * kind.sizes[0][0] * kind.sizes[0][1] for kind in task.kinds)
    area -= sum(width * height for width, height in task.beds)
    return task.more + max(0, -(-area // task.width))
