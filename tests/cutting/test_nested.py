"""Strips cut up further: their prices and proofs against counting, and false proofs refused."""

from __future__ import annotations

from collections import Counter

import msgspec
import pytest

from patternkit.plan.cutting import PieceDemand
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.proof import Fork, Limit, Prices, beyond
from patternkit.plan.cutting.task import length_of, numbers, task_of
from patternkit.plan.cutting.verify import BadPlan
from patternkit.plan.cutting.verify_nested import best_nested, check_nested

from .count_vectors import least_length
from .tiny import tiny, tried

pytest.importorskip("highspy")
from patternkit.plan.cutting.nested_tree import NestedProof, nested_bound
from patternkit.plan.cutting.points import points
from patternkit.plan.cutting.tables import Tables
from patternkit.plan.cutting.unfold import Unfold


def test_no_proof_reaches_above_the_least_length() -> None:
    """All of 2,000 such lists are tried by ``python -m tests.cutting.tiny 0 2000``."""
    total: Counter[str] = Counter()
    for seed in range(5000, 5060):
        total += tried(seed)
    for way in ("by prices", "counted"):
        assert total[f"one more, {way}: proved"] == 0
        assert total[f"the least, {way}: proved"] >= (54 if way == "by prices" else 60)  # some may stay open
        assert total[f"one more, {way}: a plan"] >= 58


@pytest.mark.parametrize("seed", range(40))
def test_strips_are_priced_alike_in_two_ways(seed: int) -> None:
    """The search's tables against the check's, with and without kinds of which no strip may hold too many."""
    _, task = tiny(seed)
    prices = Prices(tuple((7 * kind + 13 * seed) % 23 for kind in range(len(task.kinds))))
    room = 2 * max(task.heights())
    for critical in [(), (0,), tuple(range(len(task.kinds)))]:
        tables = Tables(task, points(task, room), critical)
        tables.fill(prices)
        found = tables.best(lambda _: True, lambda _: 0)
        assert found is not None
        again = best_nested(task, room, critical, prices)
        for bed, (one, other) in enumerate(zip(found, again, strict=True)):
            assert set(one) <= set(other)
            top = max((worth / height for height, worth in other), default=0)
            assert max((worth / height for height, worth in one), default=0) == top
            for height, worth in one:
                row = Unfold(tables).strip(task.width_of(bed), height, bed)
                assert sum(prices.kinds[kind] * number for kind, number in numbers(row).items()) == worth
                assert sum(segment.width for segment in row.segments) <= task.width_of(bed)
                assert all(sum(r.height for r in segment.rows) <= height for segment in row.segments)
                assert all(numbers(row).get(kind, 0) <= task.kinds[kind].demand for kind in critical)


def test_the_end_of_a_strip_is_used_up() -> None:
    """36 squares of 31 and 72 of 28 on cloth 336 wide: strips of one size each take 4 x 31 + 6 x 28 = 292."""
    task = task_of([PieceDemand("a", 31, 31, 36), PieceDemand("b", 28, 28, 72)], 336, True)
    budget = Budget(1000, 60.0)
    found = nested_bound(task, [], 281, budget)
    assert found.proof is not None and found.proof.longest == 280
    check_nested(task, found.proof)


def test_a_shorter_plan_comes_instead_of_a_proof() -> None:
    """Two of 10 x 10 and eight of 5 x 5 on cloth 30 wide: one strip of 10, its end cut into two rows of two."""
    task = task_of([PieceDemand("a", 10, 10, 2), PieceDemand("b", 5, 5, 4)], 30, True)
    found = nested_bound(task, [], 15, Budget(1000, 60.0))
    assert found.proof is None and found.plan is not None
    assert length_of(task, found.plan) == 10 == least_length([(k.sizes, k.demand) for k in task.kinds], 30, True)


def test_false_proofs_are_refused() -> None:
    task = task_of([PieceDemand("a", 5, 5, 3)], 10, True)
    right = nested_bound(task, [], 10, Budget(100, 60.0)).proof
    assert right is not None and right.longest == 5
    check_nested(task, right)
    with pytest.raises(BadPlan):
        check_nested(task, msgspec.structs.replace(right, longest=10))
    limit = Limit(5, 1, False)
    granted = Prices((5,), ((limit, 5),))
    with pytest.raises(BadPlan, match="granted"):
        check_nested(task, NestedProof(5, (), granted))
    fork = Fork(limit, granted, Prices((0,), ((beyond(limit), 1),)))  # two strips of 5 are needed either way
    check_nested(task, NestedProof(9, (), fork))
    with pytest.raises(BadPlan):
        check_nested(task, NestedProof(10, (), fork))
