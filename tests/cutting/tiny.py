"""``python -m tests.cutting.tiny A B``: tiny lists of seeds A to B - 1, solved by counting and by the planner's proofs.

Asked to prove the least length itself, one step less and one more: no proof may reach above the least length, and no
plan may be shorter than it."""

from __future__ import annotations

import sys
from collections import Counter
from itertools import product
from random import Random

import msgspec

from patternkit.plan.cutting import CuttingSettings, PieceDemand
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.free import free_cloth
from patternkit.plan.cutting.shelf import shelf_plans
from patternkit.plan.cutting.task import Task, length_of, missing, room_left, task_of
from patternkit.plan.cutting.verify_free import check_too_short, length_needed
from patternkit.plan.cutting.verify_nested import check_nested

from .count_vectors import least_length

STEPS = 3000


def tiny(seed: int) -> tuple[list[PieceDemand], Task]:
    """Make a list of one to three sizes and at most eight pieces, often with cloth that is there anyway."""
    random = Random(seed)
    width = random.randint(6, 18)
    pieces, left = [], random.choice((4, 6, 8))
    for index in range(random.randint(1, 3)):
        number = min(left, random.randint(1, 4))
        left -= number
        if number:
            size = random.randint(1, min(9, width)), random.randint(1, 9)
            pieces.append(PieceDemand(str(index), *size, number, random.random() < 0.6))
    trim = random.random() < 0.7
    beds: tuple[tuple[int, int], ...] = ()
    for chance in (0.4, 0.1):
        if random.random() < chance:
            beds = (*beds, (random.randint(1, width - 1), random.randint(2, 12)))
    task = task_of(pieces, width, trim)
    return pieces, msgspec.structs.replace(task, beds=beds, more=random.choice((0, 0, 7)))


def tried(seed: int) -> Counter[str]:
    """Solve one list both ways; raises AssertionError where they contradict each other."""
    from patternkit.plan.cutting.nested_tree import nested_bound
    from patternkit.plan.cutting.slices import slices, too_short

    pieces, task = tiny(seed)
    kinds = [(kind.sizes, kind.demand) for kind in task.kinds]
    least = least_length(kinds, task.width, task.trim, list(task.beds)) + task.more
    strips = [row for plan in shelf_plans(task) for row in plan]
    found: Counter[str] = Counter()
    goals = [(least - 1, "one less"), (least, "the least"), (least + 1, "one more")]
    for counting, (goal, where) in product((0.0, 0.5), goals):
        where += ", counted" if counting else ", by prices"
        answer = nested_bound(task, strips, goal, Budget(STEPS, 60.0), counting)
        if answer.partly is not None:
            check_nested(task, answer.partly)
            assert answer.partly.longest < least, f"seed {seed}: {answer.partly.longest} is enough, as {least} is"
        if answer.proof is not None:
            check_nested(task, answer.proof)
            assert answer.proof.longest < least, f"seed {seed}: {answer.proof.longest} is enough, as {least} is"
            found[f"{where}: proved"] += 1
        elif answer.plan is not None:
            length = length_of(task, answer.plan)
            assert not any(missing(task, answer.plan)) and min(room_left(task, answer.plan), default=0) >= 0
            assert least <= length < goal, f"seed {seed}: a plan of {length} where the least is {least}"
            found[f"{where}: a plan"] += 1
        else:
            found[f"{where}: open"] += 1
    if not task.beds and not task.more:
        free, budget = free_cloth(pieces, CuttingSettings(task.width)), Budget(STEPS, 60.0)
        lines = slices(free, budget)
        assert length_needed(free, lines) <= least, f"seed {seed}: lines across ask for more than {least}"
        assert too_short(free, least, lines.across, budget) is None, f"seed {seed}: {least} is said to be too short"
        if (short := too_short(free, least - 1, lines.across, budget)) is not None:
            check_too_short(free, short)
        found["any way of cutting: proved" if short is not None else "any way of cutting: open"] += 1
    return found


def main(first: int, end: int) -> None:
    """Solve the lists and say how many were proved."""
    total: Counter[str] = Counter()
    for seed in range(first, end):
        total += tried(seed)
    print(f"{end - first} lists, no bound above the least length")
    for what, number in sorted(total.items()):
        print(f"{number:6} {what}")


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]))
