"""The shortest plan of strips that are cut straight into pieces, and the bound for such plans."""

from __future__ import annotations

from patternkit.plan.cutting.apart import apart, merge, total
from patternkit.plan.cutting.bounds import reachable
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.easiest import longest
from patternkit.plan.cutting.grid import to_buy
from patternkit.plan.cutting.least import FreeBound
from patternkit.plan.cutting.model import CuttingSettings
from patternkit.plan.cutting.ready import solver_ready
from patternkit.plan.cutting.task import Layouts, Task, length_of


def search_straight(
    task: Task, settings: CuttingSettings, free: FreeBound, rival: int | None, budget: Budget
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
    if settings.rows:  # strips without trimming may be cut into rows too, which fill them to the last thread
        return *_cut_further(task, merge(groups), settings, free, budget), method
    return merge(groups), bound, method


def _cut_further(
    task: Task, layouts: Layouts, settings: CuttingSettings, free: FreeBound, budget: Budget
) -> tuple[Layouts, int]:
    """Give a plan with fewer lots if cutting strips up further finds one, and the bound for such plans."""
    bound = 0
    while settings.solver and solver_ready():
        from patternkit.plan.cutting.nested_tree import nested_bound
        from patternkit.plan.cutting.verify_nested import check_nested

        goal = longest(to_buy(length_of(task, layouts), settings)[1] - 1, settings) + 1
        if free.reach(goal, budget) or budget.spent():
            break
        found = nested_bound(task, list(layouts), goal, budget.part(1, 3))
        proof = found.proof or found.partly
        if proof is not None:
            check_nested(task, proof)
            bound = max(bound, reachable(task, proof.longest + 1))
        if found.plan is None:
            break
        layouts = found.plan
    return layouts, max(bound, min(free.length, length_of(task, layouts)))
