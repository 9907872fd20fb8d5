"""The planner's own checks can fail: plans and proofs that are tampered with are refused."""

from __future__ import annotations

import subprocess
import sys

import msgspec
import pytest

from patternkit.plan.cutting import CutPlan, CutSheet, CuttingSettings, PieceDemand, StockCloth, plan, plan_stock, ready
from patternkit.plan.cutting.bounds import LineBound, Stairs, proofs, reachable
from patternkit.plan.cutting.proof import Fork, Limit, Prices, Searched
from patternkit.plan.cutting.task import drop_surplus, layout, length_of, missing, task_of
from patternkit.plan.cutting.tidy import tidied
from patternkit.plan.cutting.verify import BadPlan, bound_of, check_plan
from patternkit.plan.cutting.verify_sheets import check_sheets

PIECES = [
    PieceDemand("a", 9, 6, 5),
    PieceDemand("b", 7, 4, 6),
    PieceDemand("edge", 3, 30, 2, along=True),
    PieceDemand("tie", 0, 2, 2, full=True),
]
RULES = CuttingSettings(width=40)
change = msgspec.structs.replace


def tampered(done: CutPlan) -> list[CutPlan]:
    """Give plans that are each wrong in one way."""
    first, *rest = done.strips
    segment = first.segments[0]
    row = segment.rows[0]
    cut = row.cuts[0]

    def with_first(**changes: object) -> CutPlan:
        return change(done, strips=(change(first, **changes), *rest))

    def with_row(**changes: object) -> CutPlan:
        return with_first(segments=(change(segment, rows=(change(row, **changes),)),))

    def with_cut(**changes: object) -> CutPlan:
        return with_row(cuts=(change(cut, **changes), *row.cuts[1:]))

    return [
        change(done, strips=done.strips[1:]),
        change(done, length=done.length - 1),
        change(done, strips=(*done.strips, done.strips[-1])),
        with_first(copies=2),
        with_first(height=first.height - 1),
        with_cut(number=cut.number + 1),
        with_cut(width=cut.width - 1),
        with_cut(turned=True),
        with_cut(piece="nobody"),
        with_row(height=row.height - 1),
        with_row(cuts=()),
        with_first(segments=(change(segment, width=segment.width - 1),)),
        with_first(segments=(change(segment, rows=(row, row)),)),
        with_first(segments=(segment, segment)),
        with_first(kind="cut"),
        with_first(source="Z"),
        change(done, leftovers=tuple(change(x, width=x.width + 1) for x in done.leftovers)),
        change(done, leftovers=()),
    ]


def test_a_plan_that_is_tampered_with_is_refused() -> None:
    done = plan(PIECES, RULES)
    check_plan(PIECES, RULES, done)
    assert any(left.serves for left in done.leftovers)
    for wrong in tampered(done):
        with pytest.raises(BadPlan):
            check_plan(PIECES, RULES, wrong)
    with pytest.raises(BadPlan):
        check_plan(PIECES, CuttingSettings(width=20), done)


def test_sheets_that_are_tampered_with_are_refused() -> None:
    stock, pieces = [StockCloth("square", 20, 20, 3)], [PieceDemand("a", 9, 6, 5), PieceDemand("b", 7, 4, 6)]
    done = plan_stock(pieces, stock, RULES)
    check_sheets(pieces, {}, stock, RULES, done.sheets)
    first = done.sheets[0]
    wrong: list[tuple[CutSheet, ...]] = [
        done.sheets[1:],
        (*done.sheets, *done.sheets, *done.sheets, *done.sheets),
        (change(first, rest=(1, 1)), *done.sheets[1:]),
        (change(first, stock="other"), *done.sheets[1:]),
        (change(first, strips=first.strips[1:]), *done.sheets[1:]),
        (change(first, strips=(change(first.strips[0], size=1), *first.strips[1:])), *done.sheets[1:]),
    ]
    for sheets in wrong:
        with pytest.raises(BadPlan):
            check_sheets(pieces, {}, stock, RULES, sheets)


def test_proofs_are_computed_anew() -> None:
    task = task_of([PieceDemand("a", 9, 6, 5, may_turn=False), PieceDemand("b", 7, 4, 6, may_turn=False)], 20, True)
    # Two of "a" to a strip of 6, so three strips; both "b" and what is left of the third: 4 more do.
    stairs = next(p for p in proofs(task) if isinstance(p, Stairs))
    assert bound_of(task, stairs) >= 18
    assert bound_of(task, LineBound(("plain", 0))) == -(-(9 * 6 * 5 + 7 * 4 * 6) // 20)
    # A piece priced at its own share of the strip it fills: 6 / 2 and 4 / 2 for each, that is 15 + 12 = 27,
    # but a strip of 6 may hold one "a" and one "b" worth 5, and two "a" worth 6: nothing is over its height.
    pytest.importorskip("numpy")
    fair = Searched(Stairs(()), Prices((3, 2)))
    assert bound_of(task, fair) == 27
    greedy_prices = Searched(Stairs(()), Prices((6, 4)))  # twice as much proves no more
    assert bound_of(task, greedy_prices) == 27
    assert reachable(task, 27) == 28  # sums of 4 and 6 are even


def test_a_proof_may_not_take_limits_for_granted() -> None:
    pytest.importorskip("numpy")
    task = task_of([PieceDemand("a", 9, 6, 5, may_turn=False)], 20, True)
    free = Limit(6, 9, True)
    with pytest.raises(BadPlan, match="granted"):
        bound_of(task, Searched(Stairs(()), Prices((1,), ((free, 1),))))
    with pytest.raises(BadPlan, match="limit from above"):
        bound_of(task, Searched(Stairs(()), Fork(free, Prices((1,)), Prices((1,)))))
    with pytest.raises(BadPlan, match="below nothing"):
        bound_of(task, Searched(Stairs(()), Prices((-1,))))
    with pytest.raises(BadPlan, match="out of order"):
        bound_of(task, Stairs(((6, ("plain", 0)), (6, ("plain", 0)))))
    known = Limit(6, 3, True)
    shown = Searched(Stairs(((6, ("plain", 0)),)), Prices((0,), ((known, 1),)))
    assert bound_of(task, shown) == 18  # three strips of 6, whatever the pieces are worth


def test_what_nobody_asked_for_is_dropped() -> None:
    task = task_of([PieceDemand("a", 9, 6, 3, may_turn=False), PieceDemand("b", 7, 4, 1, may_turn=False)], 20, True)
    many = {layout(6, [(0, 9, 6, 2)]): 3, layout(6, [(0, 9, 6, 1), (1, 7, 4, 1)]): 1}
    kept = drop_surplus(task, many)
    assert missing(task, kept) == [0, 0]
    assert length_of(task, kept) <= 6 + 6 + 4


def test_simpler_cuts_are_preferred_among_equals() -> None:
    """Ten of two sizes, mixed in every strip: the same three strips with one kind each are found."""
    task = task_of([PieceDemand("b", 20, 6, 2, may_turn=False), PieceDemand("a", 10, 6, 8, may_turn=False)], 40, True)
    mixed = {layout(6, [(1, 10, 6, 2), (0, 20, 6, 1)]): 2, layout(6, [(1, 10, 6, 4)]): 1}
    assert missing(task, mixed) == [0, 0]
    tidy = tidied(task, mixed, RULES)
    assert sorted(tidy.values()) == [1, 2]
    assert {len(row.parts) for row in tidy} == {1}
    assert length_of(task, tidy) == 18


def test_a_plan_of_the_same_length_that_is_easier_to_cut() -> None:
    """Both sizes mixed in two strips, where each has strips of its own in no more length."""
    pytest.importorskip("highspy")
    from patternkit.plan.cutting.budget import Budget
    from patternkit.plan.cutting.readable import simpler

    task = task_of([PieceDemand("a", 20, 5, 2, may_turn=False), PieceDemand("b", 20, 4, 4, may_turn=False)], 40, True)
    clumsy = {layout(5, [(0, 20, 5, 1), (1, 20, 4, 1)]): 2, layout(4, [(1, 20, 4, 2)]): 1}
    assert length_of(task, clumsy) == 14
    found = simpler(task, clumsy, [], Budget(1000, 20.0))
    assert found is not None
    assert missing(task, found) == [0, 0]
    assert length_of(task, found) <= 13
    assert {len(row.parts) for row in found} == {1}


def test_the_same_plan_every_time() -> None:
    pieces = [PieceDemand(str(i), 7 + 5 * i % 23, 9 + 7 * i % 31, 3 + i % 4) for i in range(9)]
    rules = CuttingSettings(width=90, lot=9, steps=60)
    done = plan(pieces, rules)
    assert done == plan(pieces, rules) == plan(list(pieces), rules)
    assert not done.hurried


def test_a_wrong_solver_is_left_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Version 1.16.0 gave a length above the least as the least, so the shelf plan is given instead."""
    pieces = [PieceDemand(str(i), 7 + 5 * i % 23, 9 + 7 * i % 31, 3 + i % 4, may_turn=False) for i in range(9)]
    monkeypatch.setattr(ready, "version", lambda name: "1.16.0")
    assert not ready.solver_ready()
    assert plan(pieces, CuttingSettings(width=90)).method == "shelf"


def test_a_simple_list_loads_no_solver() -> None:
    """A fabric that the bounds alone settle must not pay for the solver's start."""
    code = (
        "import sys\n"
        "from patternkit.plan.cutting import CuttingSettings, PieceDemand, plan\n"
        "pieces = [PieceDemand('a', 36, 36, 60), PieceDemand('tie', 0, 20, 6, full=True)]\n"
        "done = plan(pieces, CuttingSettings(width=336, lot=36))\n"
        "assert done.status == 'proved', done\n"
        "sys.exit(any(name in sys.modules for name in ('highspy', 'numpy')))\n"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
