"""The cutting plan of one fabric: whole strips, long pieces cut along the cloth, and strips for the rest."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from importlib.metadata import PackageNotFoundError, version
from importlib.util import find_spec

import msgspec

from patternkit.plan.cutting.apart import apart, merge, total
from patternkit.plan.cutting.bounds import reachable
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.grid import to_buy
from patternkit.plan.cutting.model import CutPlan, CuttingSettings, Exact, PieceDemand
from patternkit.plan.cutting.panels import LongPanel, beds_of, panel_choices
from patternkit.plan.cutting.rank import Rank, rank
from patternkit.plan.cutting.task import Layouts, Task, check_input, length_of, task_of
from patternkit.plan.cutting.verify import check_plan
from patternkit.plan.cutting.write import write_strips


class _Answer(msgspec.Struct):
    """What is found for one way of laying the long pieces side by side."""

    panels: tuple[LongPanel, ...]
    task: Task
    layouts: Layouts
    bound: int
    method: str = "shelf"


def plan(pieces: Sequence[PieceDemand], settings: CuttingSettings) -> CutPlan:
    """Plan how one fabric is cut, and prove how little cloth could do.

    Raises `CuttingError` for sizes, counts or settings that cannot be planned. The same pieces and settings always give
    the same plan, unless the plan says that it was hurried.
    """
    check_input(pieces, settings)
    budget = Budget(settings.steps, settings.seconds)
    best: _Answer | None = None
    ways, left_out = panel_choices(pieces, settings.width)
    bounds = [] if left_out is None else [_whatever_way(pieces, settings, left_out)]
    for panels in ways:
        if best is not None and _always(pieces, panels) >= length_of(best.task, best.layouts):
            break  # this way and all after it take as much for the long pieces alone
        answer = _solve(pieces, settings, panels, best, budget)
        bounds.append(answer.bound)
        if best is None or _rank(answer, settings) < _rank(best, settings):
            best = answer
    assert best is not None, "there is always the way of laying every long piece by itself"
    bound = min([*bounds, length_of(best.task, best.layouts)])
    result = _finish(pieces, settings, best, bound, budget)
    check_plan(pieces, settings, result)
    return result


def _always(pieces: Sequence[PieceDemand], panels: Sequence[LongPanel]) -> int:
    """Add up the length that long pieces and whole strips take in any case."""
    return sum(panel.height for panel in panels) + sum(p.height * p.count for p in pieces if p.full)


def _whatever_way(pieces: Sequence[PieceDemand], settings: CuttingSettings, panels: int) -> int:
    """Bound the ways of laying the long pieces that were left out, all of which take `panels` or more."""
    area = sum((settings.width if p.full else p.width) * p.height * p.count for p in pieces)
    return max(panels + _always(pieces, ()), -(-area // settings.width))


def _rank(answer: _Answer, settings: CuttingSettings) -> Rank:
    return rank(answer.task, answer.layouts, settings)


def _solve(
    pieces: Sequence[PieceDemand],
    settings: CuttingSettings,
    panels: tuple[LongPanel, ...],
    rival: _Answer | None,
    budget: Budget,
) -> _Answer:
    """Plan the rest once the long pieces are laid side by side; a hopeless way is only bounded.

    Kinds that never share a strip are planned apart, the smallest groups first; what these leave of the budget serves
    the larger ones.
    """
    more = _always(pieces, panels)
    task = task_of(pieces, settings.width, settings.trim, settings.squaring)
    sizes = {size for kind in task.kinds for size in kind.sizes}
    task = msgspec.structs.replace(task, beds=beds_of(panels, settings.width, sizes, settings.squaring), more=more)
    groups = apart(task, settings)
    found = _Answer(panels, task, merge(groups), reachable(task, total(groups, more)))
    goal = length_of(task, found.layouts)
    if rival is not None:
        goal = min(goal, length_of(rival.task, rival.layouts))
    if found.bound < goal and settings.solver and solver_ready():
        open_groups = [group for group in groups if not group.met()]
        for at, group in enumerate(open_groups):
            group.search(budget.part(len(group.kinds), sum(len(other.kinds) for other in open_groups[at:])))
        found.bound = max(found.bound, reachable(task, total(groups, more)))
        found.method = "columns"
    for group in groups:
        group.tidy()
    found.layouts = merge(groups)
    return found


def solver_ready() -> bool:
    """Say whether the solver is installed in a version that gives right answers."""
    try:
        found = version("highspy")
        return find_spec("numpy") is not None and found != "1.16.0"
    except PackageNotFoundError:
        return False


def _finish(
    pieces: Sequence[PieceDemand], settings: CuttingSettings, answer: _Answer, bound: int, budget: Budget
) -> CutPlan:
    """Write the plan and say how far from the best possible it can be."""
    strips, leftovers = write_strips(pieces, settings, answer.panels, answer.task, answer.layouts)
    length = length_of(answer.task, answer.layouts)
    bought, lots = to_buy(length, settings)
    least = to_buy(bound, settings)[0]
    status = "proved" if length == bound else "proved to buy" if bought == least else "bounded"
    return CutPlan(
        width=settings.width,
        strips=strips,
        leftovers=leftovers,
        length=length,
        buy=bought,
        lots=lots,
        bound=bound,
        bound_buy=least,
        gap=_excess(length, bound),
        gap_buy=_excess(bought, least),
        status=status,
        method=answer.method,
        steps=budget.used,
        hurried=budget.hurried,
    )


def _excess(value: Exact, bound: Exact) -> Fraction:
    """Give how much more a value is than its bound, as a fraction of the bound; 0 where both are nothing."""
    return Fraction(value) / Fraction(bound) - 1 if bound else Fraction(0)
