"""The best plan from a pool of strips, as an integer program; its answer is only ever a proposal."""

from __future__ import annotations

from collections.abc import Sequence

import highspy
import numpy as np

from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.master import INF, quiet
from patternkit.plan.cutting.task import Layout, Layouts, Task, missing, numbers, room_left

SEARCHES = ("mip_heuristic_run_rins", "mip_heuristic_run_rens", "mip_heuristic_run_root_reduced_cost")
"""Programs within the program that take most of its time; they better the length, and seldom the ease."""


class Program:
    """Whole numbers of each strip of a pool, covering all demands, within the beds and a length."""

    def __init__(self, task: Task, pool: Sequence[Layout], longest: int) -> None:
        """Set up the rows: one for each kind, one for each bed, one for the length."""
        self.task, self.pool = task, pool
        self.solver = quiet()
        for kind in task.kinds:
            self.solver.addRow(float(kind.demand), INF, 0, [], [])
        for _, length in task.beds:
            self.solver.addRow(-INF, float(length), 0, [], [])
        self.solver.addRow(-INF, float(longest - task.more), 0, [], [])
        self.columns = 0
        last = len(task.kinds) + len(task.beds)
        for row in pool:
            entries: dict[int, float] = dict(numbers(row))
            entries[len(task.kinds) + row.bed - 1 if row.bed else last] = row.height
            most = max(-(-task.kinds[kind].demand // number) for kind, number in numbers(row).items())
            self.column(0.0 if row.bed else float(row.height), float(most), entries)

    def column(self, cost: float, most: float, entries: dict[int, float]) -> int:
        """Add a whole-number variable and give its index."""
        self.solver.addCol(cost, 0.0, most, len(entries), list(entries), [float(v) for v in entries.values()])
        self.solver.changeColIntegrality(self.columns, highspy.HighsVarType.kInteger)
        self.columns += 1
        return self.columns - 1

    def solve(self, nodes: int, gap: float, budget: Budget, *, quick: bool = False) -> Layouts | None:
        """Give the best plan found, after checking that it covers everything and fits the beds; a `quick` search is
        content with what the cases hold."""
        for option, value in (("mip_max_nodes", nodes), ("mip_rel_gap", 0.0), ("mip_abs_gap", gap)):
            self.solver.setOptionValue(option, value)
        for search in SEARCHES if quick else ():
            self.solver.setOptionValue(search, False)
        self.solver.setOptionValue("time_limit", budget.left())
        self.solver.run()
        info = self.solver.getInfo()
        budget.charge(max(info.simplex_iteration_count, 50) * 6_000)
        status = self.solver.getModelStatus()
        if status == highspy.HighsModelStatus.kTimeLimit:
            budget.hurry()
        if info.primal_solution_status != 2:
            return None
        counts = np.rint(self.solver.getSolution().col_value).astype(int).tolist()
        plan = {row: count for row, count in zip(self.pool, counts, strict=False) if count > 0}
        if min(room_left(self.task, plan), default=0) < 0 or max(missing(self.task, plan)) > 0:
            return None
        return plan


def best_of_pool(task: Task, pool: Sequence[Layout], below: int, nodes: int, budget: Budget) -> Layouts | None:
    """Give the shortest plan from a pool that is shorter than `below`, if one is found."""
    return Program(task, pool, below - 1).solve(nodes, 0.99, budget)
