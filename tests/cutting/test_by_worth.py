"""Plans strip after strip by dice, and plans counted out: they cover what is wanted, and decide lists that nothing else
decides."""

import pytest

from patternkit.plan.cutting import CuttingSettings, PieceDemand, plan
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.by_worth import ByWorth
from patternkit.plan.cutting.counted import Counted
from patternkit.plan.cutting.nested_tree import nested_bound
from patternkit.plan.cutting.task import CutKind, Task, length_of, missing, room_left, task_of
from patternkit.plan.cutting.verify import BadPlan
from patternkit.plan.cutting.verify_nested import check_nested

from .test_tries import KINDS, holds

Sizes = tuple[tuple[int, int, int], ...]
"""How many pieces, how wide and how high."""


def listed(sizes: Sizes, width: int) -> Task:
    pieces = [PieceDemand(str(at), w, h, number) for at, (number, w, h) in enumerate(sizes)]
    return task_of(pieces, width, trim=True, reach=120)


@pytest.mark.parametrize("beds", [(), ((90, 80),), ((50, 61), (30, 13))])
def test_a_plan_covers_everything_within_the_length_and_the_beds(beds: tuple[tuple[int, int], ...]) -> None:
    task = Task(200, True, tuple(CutKind(sizes, demand, ()) for sizes, demand in KINDS), beds, more=10)
    made = ByWorth(task, Budget(1000, 20.0))
    made.price([0, 1, 3, 2])  # a price of nothing is no worth of nothing
    found = made.plan(260, 200)
    assert found is not None
    assert missing(task, found) == [0] * len(KINDS)
    assert length_of(task, found) <= 260
    assert min(room_left(task, found), default=0) >= 0
    assert holds(task, found)
    assert made.met


def test_no_plan_is_given_for_less_cloth_than_the_pieces_cover() -> None:
    task = listed(((4, 47, 47), (4, 24, 24), (7, 33, 60)), 200)
    budget = Budget(1000, 20.0)
    assert ByWorth(task, budget).plan(110, 20) is None
    assert 20 <= budget.used <= 40
    assert not budget.hurried


def test_many_pieces_are_counted_out_where_a_strip_holds_few() -> None:
    """15,680 ways of taking some of the pieces, of which a strip holds 1,374 at most."""
    task = listed(((31, 17, 17), (48, 17, 70), (9, 75, 75)), 208)
    found = nested_bound(task, [], 591, Budget(400, 60.0))
    assert found.proof == Counted(590)
    check_nested(task, found.proof)
    with pytest.raises(BadPlan):
        check_nested(task, Counted(591))
    better = nested_bound(task, [], 592, Budget(400, 60.0)).plan
    assert better is not None
    assert length_of(task, better) == 591


def test_lists_that_only_counting_or_dice_plan_take_a_step_less() -> None:
    """The cloth takes 328 of these at most in five steps; by strips of one height the plan has six."""
    sizes = ((8, 68, 68), (1, 344, 33), (1, 344, 37), (4, 74, 164), (4, 38, 200))
    pieces = [PieceDemand(str(at), w, h, number, may_turn=at not in (1, 2)) for at, (number, w, h) in enumerate(sizes)]
    pieces += [PieceDemand(f"strip {h}", 0, h, 1, full=True) for h in (33, 37, 39)]
    done = plan(pieces, CuttingSettings(692, squaring=4, reach=384, lot=72, spare=32))
    assert done.lots == 5
    assert done.status == "proved"
