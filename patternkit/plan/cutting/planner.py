"""The cutting plan of one fabric: whole strips, long pieces cut along the cloth, and strips for the rest."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.ease import preference
from patternkit.plan.cutting.grid import to_buy
from patternkit.plan.cutting.least import FreeBound
from patternkit.plan.cutting.model import CutPlan, CuttingSettings, Leftover, OtherWay, PieceDemand, Strip
from patternkit.plan.cutting.panels import LongPanel, beds_of, panel_choices
from patternkit.plan.cutting.proved import figures
from patternkit.plan.cutting.rank import rank
from patternkit.plan.cutting.simple import own_strips
from patternkit.plan.cutting.straight import search_straight
from patternkit.plan.cutting.task import Layouts, Task, check_input, length_of, task_of
from patternkit.plan.cutting.verify import check_plan
from patternkit.plan.cutting.wide import search_wide
from patternkit.plan.cutting.write import write_strips

SIZES = 60
"""Most sizes of a list that is planned in the steps allowed; longer ones are given twice as many."""


class _Answer(msgspec.Struct):
    """What is found for one way of laying the long pieces side by side."""

    panels: tuple[LongPanel, ...]
    task: Task
    layouts: Layouts
    bound: int
    method: str = "shelf"


class _Planner:
    """Plans one list of pieces, with what is known of any way of cutting them."""

    def __init__(self, pieces: Sequence[PieceDemand], settings: CuttingSettings) -> None:
        self.pieces = pieces
        self.settings = settings
        self.wide = settings.rows
        self.budget = Budget(settings.steps * (1 + (len(pieces) > SIZES)), settings.seconds)
        self.free = FreeBound(pieces, settings)

    def best(self) -> tuple[_Answer, int]:
        """Give the best answer over the ways of laying the long pieces side by side, and the bound of all of them."""
        best: _Answer | None = None
        ways, left_out = panel_choices(self.pieces, self.settings.width)
        bounds = [] if left_out is None else [self._whatever_way(left_out)]
        for panels in ways:
            if best is not None and self._as_long(best, self._always(panels)):
                break  # this way and all after it take as much for the long pieces alone
            answer = self._solve(panels, best)
            bounds.append(answer.bound)
            if best is None or self._rank(answer) < self._rank(best):
                best = answer
        assert best is not None, "there is always the way of laying every long piece by itself"
        return best, min([*bounds, length_of(best.task, best.layouts)])

    def _as_long(self, best: _Answer, length: int) -> bool:
        """Say whether a plan that takes so much at least cannot be better than the best."""
        known = length_of(best.task, best.layouts)
        if self.wide:
            return to_buy(length, self.settings)[1] >= to_buy(known, self.settings)[1]
        return length >= known

    def _always(self, panels: Sequence[LongPanel]) -> int:
        """Add up the length that long pieces and whole strips take in any case."""
        return sum(panel.height for panel in panels) + sum(p.height * p.count for p in self.pieces if p.full)

    def _whatever_way(self, panels: int) -> int:
        """Bound the ways of laying the long pieces that were left out, all of which take `panels` or more."""
        return max(panels + self._always(()), self.free.length)

    def _rank(self, answer: _Answer) -> tuple[int, ...]:
        better = preference if self.wide else rank
        return better(answer.task, answer.layouts, self.settings)

    def _solve(self, panels: tuple[LongPanel, ...], rival: _Answer | None) -> _Answer:
        """Plan the rest once the long pieces are laid side by side; a hopeless way is only bounded."""
        task = task_of(
            self.pieces, self.settings.width, self.settings.trim, self.settings.squaring, self.settings.reach
        )
        sizes = {size for kind in task.kinds for size in kind.sizes}
        beds = beds_of(panels, self.settings.width, sizes, self.settings.squaring)
        task = msgspec.structs.replace(task, beds=beds, more=self._always(panels))
        goal = length_of(rival.task, rival.layouts) if rival is not None else None
        if self.wide:
            layouts, bound, method = search_wide(task, self.settings, self.free, goal, self.budget)
        else:
            layouts, bound, method = search_straight(task, self.settings, self.budget, goal)
        return _Answer(panels, task, layouts, bound, method)


def plan(pieces: Sequence[PieceDemand], settings: CuttingSettings) -> CutPlan:
    """Plan how one fabric is cut, and prove how little cloth could do.

    The plan takes the fewest lots that were found, and of the plans that do, it is the easiest. Raises `CuttingError`
    for sizes, counts or settings that cannot be planned. The same pieces and settings always give the same plan, unless
    the plan says that it was hurried.
    """
    check_input(pieces, settings)
    planner = _Planner(pieces, settings)
    best, bound = planner.best()
    result = _finish(planner, best, bound)
    check_plan(pieces, settings, result)
    return result


def _simply(answer: _Answer) -> _Answer:
    """Give each size strips of its own, with long pieces laid as in the answer."""
    return _Answer(answer.panels, answer.task, own_strips(answer.task), answer.bound, "simple")


def _finish(planner: _Planner, close: _Answer, bound: int) -> CutPlan:
    """Write the plan and say how far from the best possible it can be; beside it stands the other way of filling
    strips."""
    settings, budget = planner.settings, planner.budget
    simple = _simply(close)
    answer, other = (simple, close) if settings.simple else (close, simple)
    strips, leftovers = _written(planner, answer)
    return CutPlan(
        width=settings.width,
        strips=strips,
        leftovers=leftovers,
        other=OtherWay(_written(planner, other)[0], length_of(other.task, other.layouts)),
        simple_buy=to_buy(length_of(simple.task, simple.layouts), settings)[0],
        close_buy=to_buy(length_of(close.task, close.layouts), settings)[0],
        method=answer.method,
        steps=budget.used,
        hurried=budget.hurried,
        **figures(length_of(answer.task, answer.layouts), bound, planner.free.length, settings),
    )


def _written(planner: _Planner, answer: _Answer) -> tuple[tuple[Strip, ...], tuple[Leftover, ...]]:
    return write_strips(planner.pieces, planner.settings, answer.panels, answer.task, answer.layouts)
