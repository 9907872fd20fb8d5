"""Long lists: a plan one strip after another, bettered piecemeal; no more pieces than are wanted, and cut exactly."""

from __future__ import annotations

from itertools import product
from random import Random

import msgspec
import pytest

from patternkit.bench.cases import realistic
from patternkit.plan.cutting import CuttingSettings, PieceDemand, plan
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.task import Task, filled, length_of, missing, numbers, task_of

from .replay import replay

pytest.importorskip("highspy")
from patternkit.plan.cutting.boxes import Boxes, LyingWay
from patternkit.plan.cutting.replan import Replanning
from patternkit.plan.cutting.series import Series, worths_by_area


def made_up(seed: int) -> tuple[list[PieceDemand], CuttingSettings, Task]:
    """Give a made-up list as the planner sees it."""
    pieces, settings = realistic(seed)
    return pieces, settings, task_of(pieces, settings.width, settings.trim, settings.squaring)


@pytest.mark.parametrize("seed", [2, 15, 22, 23, 27])
@pytest.mark.parametrize("power", [1.0, 1.06])
def test_strips_hold_what_is_wanted_and_no_more(seed: int, power: float) -> None:
    """Seeds 23 and 27 forbid trimming: rows fill their segments to the last thread."""
    _, settings, task = made_up(seed)
    wanted = [kind.demand for kind in task.kinds]
    found = Series(task, Budget(10_000, 600)).plan(wanted, worths_by_area(task, power), 10**6, 2)
    assert found is not None
    assert not any(missing(task, found))
    for row in found:
        assert all(number <= wanted[kind] for kind, number in numbers(row).items())
        assert sum(segment.width for segment in row.segments) <= task.width
        assert settings.trim or filled(row)
    bettered = Replanning(task, found, Budget(10_000, 600))
    saved = sum(bettered.turn() for _ in range(15))
    assert saved >= 0
    assert length_of(task, bettered.layouts) == length_of(task, found) - saved
    assert not any(missing(task, bettered.layouts))
    assert settings.trim or all(map(filled, bettered.layouts))


@pytest.mark.parametrize("seed", [2, 4, 17, 23])
def test_a_long_list_is_never_longer_than_strips_cut_straight(seed: int) -> None:
    """And its plan is cut, piece by piece, by an own cutter."""
    pieces, settings, _ = made_up(seed)
    done = plan(pieces, settings)
    straight = plan(pieces, msgspec.structs.replace(settings, rows=False))
    assert done.length <= straight.length
    assert done.bound <= done.length
    replay(pieces, settings, done)


@pytest.mark.parametrize("seed", range(30))
def test_the_best_row_of_a_box_is_the_best_of_all(seed: int) -> None:
    """Rows with no more pieces than are left, against trying all numbers of each kind."""
    random = Random(seed)
    trim, width = seed % 2 == 0, random.randrange(12, 30)
    ways = sorted(LyingWay(random.randrange(3, 7), random.randrange(3, 11), kind) for kind in range(4))
    left = [random.randrange(1, 4) for _ in ways]
    worths = [random.randrange(1, 60) for _ in ways]
    boxes = Boxes(Task(width, trim, ()), ways, left, worths, (width, 6))
    for at, height in enumerate(boxes.rows.heights):
        allowed = [way for way in ways if (way.height <= height if trim else way.height == height)]
        best = 0
        for counts in product(*(range(left[way.kind] + 1) for way in allowed)):
            if sum(n * way.width for n, way in zip(counts, allowed, strict=True)) <= width:
                best = max(best, sum(n * worths[way.kind] for n, way in zip(counts, allowed, strict=True)))
        row = boxes.rows.row(at, width)
        assert boxes.rows.values[at][width] == best
        assert sum(worths[kind] * number for kind, _, _, number in row.parts) == best
        assert sum(wide * number for _, wide, _, number in row.parts) <= width
        assert all(number <= left[kind] for kind, _, _, number in row.parts)
