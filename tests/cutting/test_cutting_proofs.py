"""Proofs by cases: strips priced with limits against every strip there is, and groups planned apart."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.plan.cutting import CuttingSettings, PieceDemand, plan
from patternkit.plan.cutting.apart import groups_of
from patternkit.plan.cutting.bounds import Stairs
from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.proof import Fork, Holds, Lie, Limit, Prices, Searched, beyond, value
from patternkit.plan.cutting.task import Layout, Task, layout, task_of
from patternkit.plan.cutting.verify import BadPlan, best_values, bound_of, check_apart


def every_strip(task: Task, height: int) -> list[Layout]:
    """List every strip of a height, with no more of a piece than is wanted in each way of lying."""
    ways = [
        (i, w, h)
        for i, kind in enumerate(task.kinds)
        for w, h in kind.sizes
        if h == height or (task.trim and h < height)
    ]
    numbers = [range(min(task.kinds[i].demand, task.width // w) + 1) for i, w, _ in ways]
    found = []
    for chosen in product(*numbers):
        across = sum(w * n for (_, w, _), n in zip(ways, chosen, strict=True))
        tallest = max((h for (_, _, h), n in zip(ways, chosen, strict=True) if n), default=0)
        if across <= task.width and tallest == height:
            found.append(layout(height, [(*way, n) for way, n in zip(ways, chosen, strict=True)]))
    return found


def worth(row: Layout, named: Prices) -> int:
    """Add up what a strip is worth: its pieces, and what it adds to each limit on pieces."""
    total = sum(named.kinds[kind] * number for kind, _, _, number in row.parts)
    for limit, price in named.limits:
        if not isinstance(limit, Limit):
            total += limit.amount(row) * (price if limit.least else -price)
    return total


ROWS = st.lists(
    st.tuples(st.integers(2, 9), st.integers(2, 9), st.integers(1, 4), st.booleans()), min_size=1, max_size=3
)


@settings(max_examples=80, deadline=None)
@given(ROWS, st.integers(9, 18), st.booleans(), st.data())
def test_strips_priced_with_limits_are_the_best_there_are(
    rows: list[tuple[int, int, int, bool]], width: int, trim: bool, data: st.DataObject
) -> None:
    pytest.importorskip("highspy")
    from patternkit.plan.cutting.price import Pricer

    task = task_of([PieceDemand(str(i), *row[:3], may_turn=row[3]) for i, row in enumerate(rows)], width, trim)
    ways = [(i, w, h) for i, kind in enumerate(task.kinds) for w, h in kind.sizes]
    limits: list[tuple[Lie | Holds, int]] = []
    for _ in range(data.draw(st.integers(0, 3))):
        kind, across, height = data.draw(st.sampled_from(ways))
        least, price = data.draw(st.booleans()), data.draw(st.integers(1, 12))
        number = data.draw(st.integers(0, 3))
        one = Holds(kind, across, height, number, 1, least) if number else Lie(kind, across, height, 1, least)
        limits.append((one, price))
    named = Prices(tuple(data.draw(st.integers(0, 9)) for _ in task.kinds), tuple(limits))
    best = {h: max((worth(row, named) for row in every_strip(task, h)), default=None) for h in task.heights()}
    assert {h: v for h, v in best_values(task, 0, named)} == best
    pricer = Pricer(task, 0, [kind.demand for kind in task.kinds])
    for index, (height, found) in enumerate(pricer.values(named, Budget(10**6, 100.0))):
        assert found == best[height]
        strip = pricer.strip(index)
        assert strip.height == height and worth(strip, named) == found
        assert sum(w * n for _, w, _, n in strip.parts) <= width


def test_a_proof_by_the_ways_pieces_lie() -> None:
    """Three pieces of 6 x 4 on cloth 12 wide: two lie in a strip of 4, or three in strips of 6 with 4 across.

    Upright, a strip of 6 holds three, so 6 is enough; and however many lie flat, 6 is needed.
    """
    pytest.importorskip("numpy")
    task = task_of([PieceDemand("a", 6, 4, 3)], 12, False)
    flat = Lie(0, 6, 4, 0, False)
    none_flat = Prices((2,), ((flat, 2),))  # a piece upright is worth 2, flat 2 less: strips of 6 hold 3
    some_flat = Prices((2,))
    proof = Searched(Stairs(()), Fork(flat, none_flat, some_flat))
    assert bound_of(task, proof) == 6
    with pytest.raises(BadPlan, match="granted"):
        bound_of(task, Searched(Stairs(()), Fork(flat, Prices((2,), ((beyond(flat), 1),)), some_flat)))


def test_a_limit_on_strips_that_hold_many_counts_only_on_its_own_side() -> None:
    """At most no strip with two of "a": then each of three needs a strip of its own."""
    pytest.importorskip("numpy")
    task = task_of([PieceDemand("a", 5, 5, 3)], 10, True)
    pairs = Holds(0, 5, 5, 2, 0, False)
    single = Prices((5,), ((pairs, 5),))
    assert bound_of(task, Searched(Stairs(()), Fork(pairs, single, Prices((5,), ((beyond(pairs), 0),))))) == 8
    assert value(task, single, best_values(task, 0, single), ()) == 15


def test_groups_share_no_height() -> None:
    pieces = [
        PieceDemand("a", 4, 6, 2),
        PieceDemand("b", 6, 8, 2),
        PieceDemand("c", 5, 5, 3),
        PieceDemand("d", 3, 7, 1, may_turn=False),
    ]
    task = task_of(pieces, 20, False)
    names = [{task.kinds[i].owners[0][0] for i in group} for group in groups_of(task)]
    assert sorted(map(sorted, names)) == [["a", "b"], ["c"], ["d"]]
    assert groups_of(task_of(pieces, 20, True)) == []
    check_apart(task, groups_of(task))
    where = {kind.owners[0][0]: i for i, kind in enumerate(task.kinds)}
    a, b, c, d = (where[name] for name in "abcd")
    for wrong in ([(a,), (b,), (c, d)], [(a, b), (c,)], [(a, b), (c, c), (d,)]):
        with pytest.raises(BadPlan):
            check_apart(task, wrong)
    with pytest.raises(BadPlan, match="share a strip"):
        check_apart(task_of(pieces, 20, True), groups_of(task))


def test_groups_planned_apart_add_up() -> None:
    pytest.importorskip("highspy")
    first = [PieceDemand("a", 7, 11, 9), PieceDemand("b", 11, 5, 13), PieceDemand("c", 5, 7, 8)]
    second = [
        PieceDemand("d", 8, 8, 7),
        PieceDemand("e", 8, 13, 6, may_turn=False),
        PieceDemand("f", 9, 13, 5, may_turn=False),
    ]
    third = [PieceDemand("g", 6, 6, 4)]
    rules = CuttingSettings(width=40, trim=False, rows=False)
    whole = plan([*first, *second, *third], rules)
    alone = [plan(group, rules) for group in (first, second[:1], second[1:], third)]
    assert whole.length == sum(one.length for one in alone)
    assert whole.bound == sum(one.bound for one in alone)
    assert whole.status != "bounded"
