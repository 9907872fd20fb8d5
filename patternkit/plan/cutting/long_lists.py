"""Plans of long lists: one strip after another for some worths of the pieces, then bettered piecemeal."""

from __future__ import annotations

from collections.abc import Callable

from patternkit.plan.cutting.budget import CELLS, Budget
from patternkit.plan.cutting.replan import Replanning
from patternkit.plan.cutting.series import Series, worths_by_area
from patternkit.plan.cutting.task import Layouts, Task, length_of

POWERS = (1.06, 1.03, 1.09, 1.16, 1.3, 1.0, 1.12, 1.2)
"""Powers of their area by which pieces are priced, the likeliest first."""
BEGINNING = 0.3
"""Share of the budget after which no other plan is begun."""
TRIES = 2
"""Heights tried for each strip."""


def long_plan(task: Task, known: Layouts, budget: Budget, enough: Callable[[int], bool]) -> Layouts:
    """Give the shortest plan found, if not shorter than the one known that one; ends early once a length is `enough`.

    Where there are beds, only strips of the cloth are planned anew.
    """
    best, length = known, length_of(task, known)
    series = Series(task, budget)
    last = 0
    for power in () if task.beds else POWERS:
        before = budget.work
        if before + last > BEGINNING * budget.steps * CELLS and last:
            break
        wanted = [kind.demand for kind in task.kinds]
        found = series.plan(wanted, worths_by_area(task, power), length - task.more - 1, TRIES)
        if found is not None:
            best, length = found, length_of(task, found)
        last = budget.work - before
        if enough(length):
            return best
    return _bettered(task, best, budget, enough)


def _bettered(task: Task, best: Layouts, budget: Budget, enough: Callable[[int], bool]) -> Layouts:
    replanning = Replanning(task, best, budget)
    length = length_of(task, best)
    while not budget.spent() and not enough(length):
        length -= replanning.turn()
    return replanning.layouts
