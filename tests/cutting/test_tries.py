"""Plans by rule of thumb cover what is wanted in strips that can be cut, and find what no proof begins with."""

import pytest
from msgspec.structs import replace

from patternkit.plan.cutting import CuttingSettings, PieceDemand, plan
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.task import CutKind, Layouts, Task, across, drop_surplus, length_of, missing, room_left
from patternkit.plan.cutting.tries import Tries

KINDS = ((((47, 47),), 4), (((24, 24),), 4), (((33, 60), (60, 33)), 7), (((95, 12), (12, 95)), 5))


def tries(beds: tuple[tuple[int, int], ...] = (), steps: int = 1000) -> tuple[Task, Tries]:
    kinds = tuple(CutKind(sizes, demand, ()) for sizes, demand in KINDS)
    task = Task(200, True, kinds, beds, more=10)
    return task, Tries(task, Budget(steps, 20.0))


def holds(task: Task, found: Layouts) -> bool:
    """Say whether every row lies within its segment, and every segment within its strip."""
    for strip in found:
        assert sum(segment.width for segment in strip.segments) <= task.width_of(strip.bed)
        for segment in strip.segments:
            assert sum(row.height for row in segment.rows) <= strip.height
            assert all(across(row) <= segment.width for row in segment.rows)
            assert all(part[2] <= row.height for row in segment.rows for part in row.parts)
    return True


@pytest.mark.parametrize("beds", [(), ((90, 80),), ((50, 61), (30, 13))])
def test_a_plan_covers_everything_within_the_length_and_the_beds(beds: tuple[tuple[int, int], ...]) -> None:
    task, made = tries(beds)
    found = made.plan(260, 50_000)
    assert found is not None
    assert missing(task, found) == [0] * len(KINDS)
    assert length_of(task, found) <= 260
    assert min(room_left(task, found), default=0) >= 0
    assert holds(task, found)
    assert drop_surplus(task, found)


def test_no_plan_is_given_for_less_cloth_than_the_pieces_cover() -> None:
    task, made = tries()
    area = sum(w * h * n for ((w, h), *_), n in KINDS)
    assert made.plan(10 + area // task.width, 20_000) is None
    assert made.looked >= 20_000


def test_the_search_ends_with_its_budget_and_falls_alike_each_time() -> None:
    _, short = tries(steps=3)
    assert short.plan(11, 10_000_000) is None
    assert short.looked < 10_000
    assert tries()[1].plan(260, 50_000) == tries()[1].plan(260, 50_000)


def test_a_list_with_room_to_spare_takes_a_step_of_cloth_less() -> None:
    sizes = [(180, 180, 3, True), (35, 168, 12, True), (91, 181, 3, True), (596, 35, 4, True), (351, 168, 1, False)]
    pieces = [PieceDemand(str(i), w, h, n, may_turn=turn) for i, (w, h, n, turn) in enumerate(sizes)]
    settings = CuttingSettings(1100, lot=100, spare=30, squaring=10, steps=1000)
    straight, close = plan(pieces, replace(settings, rows=False)), plan(pieces, settings)
    assert (straight.lots, close.lots, close.status) == (5, 4, "proved")
