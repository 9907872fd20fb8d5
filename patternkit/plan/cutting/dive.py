"""Good plans from the linear program: take what it is sure of, price the rest anew, and go on to the end."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import floor

import msgspec

from patternkit.plan.cutting.columns import Generator
from patternkit.plan.cutting.master import INF
from patternkit.plan.cutting.proof import Case
from patternkit.plan.cutting.shelf import quick_plan
from patternkit.plan.cutting.task import CutKind, Layout, Layouts, Task, drop_surplus, length_of, missing, room_left

Offer = Callable[[Layouts], None]
SHELVES = 40
"""Cells charged for shelf plans, for each pair of sizes."""


def dive(
    generator: Generator,
    offer: Offer,
    below: Callable[[], int],
    share: float,
    taste: int = 0,
    second: tuple[int, ...] = (),
    limits: Sequence[Case] = (),
) -> int:
    """Round the linear program down, then up one strip at a time; offer every plan found on the way.

    `below` is the length to beat; the dive ends once that is out of reach. `taste` changes which strip is rounded up
    first: 0 the one most nearly whole, 1 the tallest of those at least half there, 2 the best filled. At the turns
    named in `second` the second choice is taken instead. `limits` are kept. Gives the number of turns taken.
    """
    task, master = generator.task, generator.master
    fixed: Layouts = {}
    wanted = [kind.demand for kind in task.kinds]
    turns = 0
    while any(wanted) and not generator.budget.spent(share):
        _ask(generator, fixed, wanted, limits)
        answer = generator.relax(prove=False, rounds=30)
        if length_of(task, fixed) + answer.cost > below() - 1 + 1e-6:
            break
        pairs = list(zip(answer.counts, master.columns, strict=False))
        taken = {c: floor(n + 1e-6) for n, c in pairs if n > 1 - 1e-6}
        if not taken:
            room = [0, *room_left(task, fixed)]
            open_pairs = [p for p in pairs if p[0] > 1e-6 and (not p[1].bed or p[1].height <= room[p[1].bed])]
            likely = sorted(open_pairs, key=lambda p: _liking(p, taste), reverse=True)
            if not likely:
                break
            taken = {likely[min(len(likely) - 1, turns in second)][1]: 1}
            turns += 1
        for column, copies in taken.items():
            fixed[column] = fixed.get(column, 0) + copies
        wanted = [max(0, number) for number in missing(task, fixed)]
        _finish(generator, fixed, wanted, room_left(task, fixed), offer)
    _ask(generator, {}, [kind.demand for kind in task.kinds], ())
    return turns


def _ask(generator: Generator, fixed: Layouts, wanted: list[int], limits: Sequence[Case]) -> None:
    """Ask the linear program for what is still wanted, with what is left of beds and limits."""
    generator.master.demand(wanted)
    for bed, length in enumerate(room_left(generator.task, fixed)):
        generator.master.limit(generator.master.base + bed, -INF, float(length))
    left = []
    for limit in limits:
        have = sum(n * limit.amount(column) for column, n in fixed.items())
        left.append(msgspec.structs.replace(limit, count=max(0, limit.count - have)))
    generator.limit(left)
    generator.pricers = generator.pricers_for(wanted)


def _liking(pair: tuple[float, Layout], taste: int) -> tuple[object, ...]:
    """Rank a strip by how much of it the linear program uses, and by taste."""
    count, column = pair
    if taste == 1:
        return count > 0.49, column.height, count, column
    if taste == 2:
        return count > 0.3, sum(p[1] * p[2] * p[3] for p in column.parts) / column.height, count, column
    return count, column.height, column


def rest_of(task: Task, wanted: list[int], room: list[int]) -> tuple[Task, list[int]]:
    """Give the task of what is still wanted, and the index of each of its kinds in the whole task."""
    index = [i for i, number in enumerate(wanted) if number]
    kinds = tuple(CutKind(task.kinds[i].sizes, wanted[i], ()) for i in index)
    beds = tuple((width, length) for (width, _), length in zip(task.beds, room, strict=True))
    return msgspec.structs.replace(task, kinds=kinds, beds=beds, more=0), index


def joined(fixed: Layouts, rest: Layouts, index: list[int]) -> Layouts:
    """Add the plan of the rest to what is fixed."""
    plan = dict(fixed)
    for row, copies in rest.items():
        key = row.renumbered(index)
        plan[key] = plan.get(key, 0) + copies
    return plan


def _finish(generator: Generator, fixed: Layouts, wanted: list[int], room: list[int], offer: Offer) -> None:
    """Complete a plan with the best shelves for what is still wanted."""
    rest, index = rest_of(generator.task, wanted, room)
    generator.budget.charge(SHELVES * sum(len(kind.sizes) for kind in rest.kinds) ** 2)
    plan = quick_plan(rest)
    offer(drop_surplus(generator.task, joined(fixed, plan, index)))
