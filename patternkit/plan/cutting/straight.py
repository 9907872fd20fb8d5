"""The shortest plan of strips that are cut straight into pieces, and the bound for such plans."""

from __future__ import annotations

from patternkit.plan.cutting.apart import apart, merge, total
from patternkit.plan.cutting.bounds import reachable
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.model import CuttingSettings
from patternkit.plan.cutting.ready import solver_ready
from patternkit.plan.cutting.task import Layouts, Task, length_of


def search_straight(
    task: Task, settings: CuttingSettings, budget: Budget, rival: int | None = None
) -> tuple[Layouts, int, str]:
    """Give the plan, its bound and how it was found. A task that cannot be shorter than a `rival` is only bounded.

    Kinds that never share a strip are planned apart, the smallest groups first; what these leave of the budget serves
    the larger ones.
    """
    groups = apart(task, settings)
    layouts, method = merge(groups), "shelf"
    bound = reachable(task, total(groups, task.more))
    goal = length_of(task, layouts)
    if rival is not None:
        goal = min(goal, rival)
    if bound < goal and settings.solver and solver_ready():
        open_groups = [group for group in groups if not group.met()]
        for at, group in enumerate(open_groups):
            group.search(budget.part(len(group.kinds), sum(len(other.kinds) for other in open_groups[at:])))
        bound = max(bound, reachable(task, total(groups, task.more)))
        method = "columns"
    for group in groups:
        group.tidy()
    return merge(groups), bound, method
