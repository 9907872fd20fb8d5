"""Bettering a plan piecemeal: some of its strips are given up and their pieces planned anew."""

from __future__ import annotations

from random import Random

import msgspec

from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.columns import Generator
from patternkit.plan.cutting.dive import SHELVES, dive, joined, rest_of
from patternkit.plan.cutting.replan import singles, waste
from patternkit.plan.cutting.shelf import quick_plan
from patternkit.plan.cutting.task import Layout, Layouts, Task, drop_surplus, length_of, numbers


def subset(task: Task, layouts: Layouts, random: Random, size: int) -> list[Layout]:
    """Give strips to plan anew: neighbours in height, or the most wasteful with some others."""
    strips = singles(layouts)
    if len(strips) <= size:
        return strips
    if random.random() < 0.5:
        start = random.randrange(len(strips) - size + 1)
        return strips[start : start + size]
    by_waste = sorted(range(len(strips)), key=lambda i: -waste(task, strips[i]))
    chosen = set(by_waste[: size // 3])
    while len(chosen) < size:
        chosen.add(random.randrange(len(strips)))
    return [strips[i] for i in sorted(chosen)]


def recut(task: Task, layouts: Layouts, chosen: list[Layout], budget: Budget, taste: int) -> Layouts | None:
    """Plan the pieces of some strips anew; give the whole plan if that takes less length."""
    fixed = dict(layouts)
    wanted = [0] * len(task.kinds)
    for row in chosen:
        fixed[row] -= 1
        for kind, number in numbers(row).items():
            wanted[kind] += number
    fixed = {row: copies for row, copies in fixed.items() if copies}
    bare = msgspec.structs.replace(task, beds=())
    rest, index = rest_of(bare, wanted, [])
    goal = sum(row.height for row in chosen)
    back = {kind: at for at, kind in enumerate(index)}
    own = [row.renumbered(back) for row in chosen]
    budget.charge(100_000 + SHELVES * sum(len(kind.sizes) for kind in rest.kinds) ** 2)
    shelf = quick_plan(rest)
    generator = Generator(rest, [*own, *shelf], budget, goal)
    best: list[Layouts] = [shelf] if length_of(rest, shelf) <= goal else []

    def offer(plan: Layouts) -> None:
        plan = drop_surplus(rest, plan)
        if length_of(rest, plan) < (length_of(rest, best[-1]) if best else goal + 1):
            best.append(plan)

    def below() -> int:
        return length_of(rest, best[-1]) if best else goal + 1

    dive(generator, offer, below, 1.0, taste)
    return joined(fixed, best[-1], index) if best else None
