"""The linear program over the strips known so far: how many of each give everything with least length."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import highspy
import numpy as np

from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.proof import Case
from patternkit.plan.cutting.task import Layout, Task, numbers

INF = highspy.kHighsInf
InForce = tuple[int, Case | None, Case | None]
"""A branch row with the limit from below and the limit from above that are in force there."""


def quiet() -> highspy.Highs:
    """Give a silent solver; every instance in a process must have the same number of threads."""
    solver: highspy.Highs = highspy.Highs()  # type: ignore[no-untyped-call]
    for option, value in (("output_flag", False), ("threads", 1), ("random_seed", 0)):
        solver.setOptionValue(option, value)
    return solver


class Master:
    """Rows: one for each kind (at least its demand), one for each bed (at most its length), then branch rows.

    The first columns are stand-ins, one for each kind, so dear that they stay out whenever strips can do.
    """

    def __init__(self, task: Task, layouts: Iterable[Layout], dear: int) -> None:
        """Begin with some strips; `dear` is the price of leaving one piece uncut."""
        self.task = task
        self.columns: list[Layout] = []
        self._known: set[Layout] = set()
        self._branch: dict[tuple[int, ...], tuple[int, Case]] = {}  # row and case of each place counted
        self._lp = quiet()
        self.base = len(task.kinds)
        for kind in task.kinds:
            self._lp.addRow(float(kind.demand), INF, 0, [], [])
        for _, length in task.beds:
            self._lp.addRow(-INF, float(length), 0, [], [])
        for index in range(self.base):
            self._lp.addCol(float(dear), 0.0, INF, 1, [index], [1.0])
        self.add(layouts)

    def add(self, layouts: Iterable[Layout]) -> int:
        """Add the strips that are not known yet and say how many they are."""
        fresh = [row for row in dict.fromkeys(layouts) if row not in self._known and row.parts]
        for row in fresh:
            entries = dict(numbers(row))
            if row.bed:
                entries[self.base + row.bed - 1] = row.height
            for at, case in self._branch.values():
                if number := case.amount(row):
                    entries[at] = number
            index, value = list(entries), [float(v) for v in entries.values()]
            self._lp.addCol(0.0 if row.bed else float(row.height), 0.0, INF, len(index), index, value)
        self.columns += fresh
        self._known.update(fresh)
        return len(fresh)

    def branch_row(self, case: Case) -> int:
        """Give the number of the row that counts what a case limits, adding it if it is new."""
        if case.place not in self._branch:
            self._branch[case.place] = self.base + len(self.task.beds) + len(self._branch), case
            amounts = [(self.base + i, case.amount(column)) for i, column in enumerate(self.columns)]
            index = [i for i, amount in amounts if amount]
            self._lp.addRow(-INF, INF, len(index), index, [float(a) for _, a in amounts if a])
        return self._branch[case.place][0]

    def limit(self, row: int, low: float, high: float) -> None:
        """Set the limits of a row."""
        self._lp.changeRowBounds(row, low, high)

    def restrict(self, limits: Sequence[Case]) -> list[InForce]:
        """Put limits in force, the narrowest of each side where several stand at one place; all others are lifted."""
        self.free_branches()
        places: dict[tuple[int, ...], list[Case]] = {}
        for limit in limits:
            places.setdefault(limit.place, []).append(limit)
        found: list[InForce] = []
        for _, here in sorted(places.items()):
            low = max((x for x in here if x.least), key=lambda x: x.count, default=None)
            high = min((x for x in here if not x.least), key=lambda x: x.count, default=None)
            row = self.branch_row(here[0])
            self.limit(row, low.count if low else -INF, high.count if high else INF)
            found.append((row, low, high))
        return found

    def free_branches(self) -> None:
        """Lift the limits of all branch rows."""
        for row, _ in self._branch.values():
            self.limit(row, -INF, INF)

    def demand(self, wanted: Sequence[int]) -> None:
        """Change how many of each kind must be covered."""
        for row, number in enumerate(wanted):
            self.limit(row, float(max(0, number)), INF)

    def solve(self, budget: Budget) -> tuple[float, list[float], list[float]]:
        """Give the least cost, how many of each strip (stand-ins left out) and the price of each row."""
        self._lp.run()
        info = self._lp.getInfo()
        work = info.simplex_iteration_count * (40 * self._lp.getNumRow() + 100)
        budget.charge(work + 15_000 + 100 * len(self.columns))
        solution = self._lp.getSolution()
        values = np.asarray(solution.col_value)[self.base :].tolist()
        return info.objective_function_value, values, list(solution.row_dual)

    def reduced_costs(self) -> list[float]:
        """Give what each strip would add to the last cost beyond what its pieces save, without stand-ins."""
        return list(self._lp.getSolution().col_dual)[self.base :]
