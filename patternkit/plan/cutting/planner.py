"""The cutting plan of one fabric: whole strips, long pieces cut along the cloth, and strips for the rest."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import msgspec

from patternkit.plan.cutting.bounds import proofs, reachable
from patternkit.plan.cutting.grid import to_buy
from patternkit.plan.cutting.model import CutPlan, Exact, Piece, Settings
from patternkit.plan.cutting.panels import Panel, beds_of, panel_choices
from patternkit.plan.cutting.rank import rank
from patternkit.plan.cutting.shelf import shelf_plans
from patternkit.plan.cutting.task import Layouts, Task, check_input, length_of, task_of
from patternkit.plan.cutting.verify import bound_of, check_plan
from patternkit.plan.cutting.write import write_strips


def plan(pieces: Sequence[Piece], settings: Settings) -> CutPlan:
    """Plan how one fabric is cut, and prove how little cloth could do.

    Raises `CuttingError` for sizes, counts or settings that cannot be planned. The same pieces and settings
    always give the same plan, unless the plan says that it was hurried.
    """
    check_input(pieces, settings)
    answers = [_solve(pieces, settings, panels) for panels in panel_choices(pieces, settings.width)]
    task, layouts, _, panels = min(answers, key=lambda a: rank(a[0], a[1], settings))
    bound = min(answer[2] for answer in answers)
    result = _finish(pieces, settings, panels, task, layouts, bound)
    check_plan(pieces, settings, result)
    return result


def _solve(
    pieces: Sequence[Piece], settings: Settings, panels: tuple[Panel, ...]
) -> tuple[Task, Layouts, int, tuple[Panel, ...]]:
    """Plan the rest of the pieces once the long ones are laid side by side in a given way."""
    more = sum(panel.height for panel in panels) + sum(p.height * p.count for p in pieces if p.full)
    task = msgspec.structs.replace(
        task_of(pieces, settings.width, settings.trim), beds=beds_of(panels, settings.width), more=more
    )
    best = min(shelf_plans(task), key=lambda layouts: rank(task, layouts, settings))
    bound = reachable(task, max(bound_of(task, proof) for proof in proofs(task)))
    return task, best, bound, panels


def _finish(
    pieces: Sequence[Piece],
    settings: Settings,
    panels: Sequence[Panel],
    task: Task,
    layouts: Layouts,
    bound: int,
) -> CutPlan:
    """Write the plan and say how far from the best possible it can be."""
    strips, leftovers = write_strips(pieces, settings, panels, task, layouts)
    length = length_of(task, layouts)
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
    )


def _excess(value: Exact, bound: Exact) -> Fraction:
    """Give how much more a value is than its bound, as a fraction of the bound; 0 where both are nothing."""
    return Fraction(value) / Fraction(bound) - 1 if bound else Fraction(0)
