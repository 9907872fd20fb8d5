"""The solver: sound trees, planted errors, several contradictions, parameters, roots, plain elimination."""

from __future__ import annotations

from fractions import Fraction
from random import Random
from time import process_time

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from patternkit.lengths import SQRT2, Length
from patternkit.sizes import Affine, Contradiction, System, Var, claimed, stated, structure
from patternkit.sizes.explain import explain, nearer
from patternkit.source import NOWHERE, Span
from tests.sizes.size_trees import EIGHTH, Equations, Unit, equations, system, trees, with_value

QUICK = settings(max_examples=40, deadline=None)


def assert_cancels(conflict: Contradiction) -> None:
    """The multipliers make every size cancel and leave the gap."""
    total: dict[Var, Length] = {}
    gap = Affine()
    for p in conflict.parts:
        assert p.multiplier
        gap = gap + p.right * p.multiplier
        for var, c in p.terms.items():
            total[var] = total.get(var, Length(0)) + c * p.multiplier
    assert not any(total.values()) and gap == conflict.gap and gap


def twice_determined(given: Equations) -> list[int]:
    """Stated sizes that follow from the rest as well."""
    found = []
    for i, (terms, _, cause) in enumerate(given):
        if cause.stated and system(given[:i] + given[i + 1 :]).solve().value(terms[0][0]) is not None:
            found.append(i)
    return found


@given(trees())
@QUICK
def test_a_true_tree_is_sound_and_every_size_is_known(tree: Unit) -> None:
    for claims in (True, False):
        solution = system(equations(tree, claims)).solve()
        assert solution.conflicts == [] and solution.finished and solution.free() == []
        for unit in tree.all():
            assert solution.value((unit.name, "width")) == unit.width
            assert solution.value((unit.name, "height")) == unit.height


@given(trees(depth=2), st.data())
@QUICK
def test_a_planted_number_is_found_and_its_repair_settles_it(tree: Unit, data: st.DataObject) -> None:
    true = equations(tree)
    candidates = twice_determined(true)
    assume(candidates)
    number = data.draw(st.sampled_from(candidates))
    old = true[number][1]
    shift = data.draw(st.integers(-24, 24).filter(lambda k: k and old.const + k * EIGHTH > 0))
    wrong = with_value(true, number, old + shift * EIGHTH)
    solution = system(wrong).solve()
    assert solution.conflicts
    mine = wrong[number][2]
    for told in explain(solution):
        offered = [r.change for r in told.repairs if r.change is not None]
        assert any(c.cause == mine and c.new == old for c in offered), "the planted number is not named"
        assert any(s.cause == mine for s in told.steps)
    assert len(explain(solution)) == 1, "one change settles it, so it is one thing to say"
    assert system(with_value(wrong, number, old)).solve().conflicts == []


@given(trees(depth=2), st.data())
@QUICK
def test_every_repair_does_what_it_says(tree: Unit, data: st.DataObject) -> None:
    true = equations(tree)
    candidates = twice_determined(true)
    assume(candidates)
    number = data.draw(st.sampled_from(candidates))
    wrong = with_value(true, number, true[number][1] + Fraction(1, 2))
    solution = system(wrong).solve()
    causes = [cause for _, _, cause in wrong]
    for told in explain(solution):
        assert told.repairs
        for repair in told.repairs:
            change = repair.change
            assert change is not None and change.resolves
            after = system(with_value(wrong, causes.index(change.cause), change.new)).solve()
            if not change.breaks and len(change.resolves) == len(solution.conflicts):
                assert after.conflicts == []
            elif change.breaks:
                assert after.conflicts


@given(trees(depth=2), st.data())
@QUICK
def test_no_part_of_a_contradiction_can_be_left_out(tree: Unit, data: st.DataObject) -> None:
    true = equations(tree)
    candidates = twice_determined(true)
    assume(candidates)
    number = data.draw(st.sampled_from(candidates))
    wrong = with_value(true, number, true[number][1] + 1)
    for conflict in system(wrong).solve().conflicts:
        parts = [wrong[p.equation] for p in conflict.parts]
        assert len(system(parts).solve().conflicts) == 1
        for i in range(len(parts)):
            assert system(parts[:i] + parts[i + 1 :]).solve().conflicts == []
        assert_cancels(conflict)


@given(st.lists(trees(depth=1), min_size=2, max_size=4), st.data())
@QUICK
def test_independent_contradictions_are_all_found(several: list[Unit], data: st.DataObject) -> None:
    given: Equations = []
    planted = 0
    for i, tree in enumerate(several):
        for unit in tree.all():
            unit.name = f"t{i}{unit.name}"
        mine = equations(tree, at=100_000 * i)
        candidates = twice_determined(mine)
        if candidates:
            number = data.draw(st.sampled_from(candidates))
            mine = with_value(mine, number, mine[number][1] + EIGHTH)
            planted += 1
        given += mine
    told = explain(system(given).solve())
    assert len(told) == planted
    assert len({t.closing.span.start // 100_000 for t in told}) == planted


@given(trees(depth=2), st.data())
@QUICK
def test_a_tree_in_terms_of_a_parameter(tree: Unit, data: st.DataObject) -> None:
    side = Affine.parameter("side")
    true = equations(tree, scale=side / 4)
    solution = system(true).solve()
    assert solution.conflicts == []
    assert solution.value((tree.name, "width")) == side * (tree.width / 4)
    candidates = twice_determined(true)
    assume(candidates)
    number = data.draw(st.sampled_from(candidates))
    fixed = with_value(true, number, Affine(true[number][1].value({"side": Length(6)})))
    conditions = system(fixed).solve()
    assert conditions.contradictions == [] and conditions.conditions
    for conflict in conditions.conditions:
        assert not conflict.open_at({"side": Length(6)}) and conflict.open_at({"side": Length(7)})
    assert explain(conditions)  # with no value for the parameter it is worth saying


def plain(rows: list[tuple[dict[int, Fraction], Fraction]], count: int) -> tuple[bool, dict[int, Fraction]]:
    """Whether a system is sound, and the values it settles, by textbook elimination."""
    matrix = [[row.get(v, Fraction(0)) for v in range(count)] + [right] for row, right in rows]
    pivots: list[int] = []
    for v in range(count):
        at = next((r for r in range(len(pivots), len(matrix)) if matrix[r][v]), None)
        if at is None:
            continue
        top = len(pivots)
        matrix[top], matrix[at] = matrix[at], matrix[top]
        matrix[top] = [x / matrix[top][v] for x in matrix[top]]
        for r, line in enumerate(matrix):
            if r != top and line[v]:
                matrix[r] = [x - line[v] * y for x, y in zip(line, matrix[top], strict=True)]
        pivots.append(v)
    sound = not any(line[-1] and not any(line[:-1]) for line in matrix)
    values = {v: matrix[r][-1] for r, v in enumerate(pivots) if not any(matrix[r][w] for w in range(count) if w != v)}
    return sound, values


coefficients = st.integers(-3, 3)


@given(st.lists(st.tuples(st.lists(coefficients, min_size=5, max_size=5), st.integers(-4, 4)), max_size=9))
@settings(max_examples=150, deadline=None)
def test_agrees_with_textbook_elimination(rows: list[tuple[list[int], int]]) -> None:
    made = System()
    for coefs, right in rows:
        made.add(dict(enumerate(coefs)), Fraction(right, 2), structure(NOWHERE, "given"))
    solution = made.solve()
    sound, values = plain(
        [({v: Fraction(c) for v, c in enumerate(coefs)}, Fraction(right, 2)) for coefs, right in rows], 5
    )
    assert (not solution.conflicts) == sound
    for conflict in solution.conflicts:
        assert_cancels(conflict)
    if sound:
        assert {v: x.const.q for v in range(5) if (x := solution.value(v)) is not None} == values
        mentioned = {v for coefs, _ in rows for v, c in enumerate(coefs) if c}
        assert {v for g in solution.free() for v in g.sizes} == mentioned - set(values)


def test_roots_as_coefficients() -> None:
    made = System()
    side = Affine.parameter("side")
    made.add({("block", "width"): 1}, side, stated(Span("f", 0, 1), "the block finishes side", side))
    made.add(
        {("top", "width"): Length(1), ("block", "width"): -5 * SQRT2},
        0,
        structure(Span("f", 2, 3), "five blocks on point lie across the top"),
    )
    made.add(
        {("triangle", "long"): Length(1), ("block", "width"): -SQRT2},
        0,
        structure(Span("f", 4, 5), "a side triangle is as long as a block is from corner to corner"),
    )
    made.add(
        [(("top", "width"), 1), (("triangle", "long"), -5)],
        0,
        structure(Span("f", 4, 5), "five side triangles lie along the top"),
    )
    solution = made.solve()
    assert solution.conflicts == []
    assert solution.value(("top", "width")) == side * (5 * SQRT2)
    made.add({("top", "width"): 1}, 60, claimed(Span("f", 6, 7), "the top finishes 60 in wide", Affine(60)))
    (condition,) = made.solve().conditions
    assert condition.gap.value({"side": 6 * SQRT2}) == 0
    (told,) = explain(made.solve())
    assert told.claim and told.condition == condition.gap


def test_a_size_that_cancels_is_still_explained() -> None:
    made = System()
    panel, b, c, top, bottom = "panel", "b", "c", "top", "bottom"
    made.add({panel: 1, b: 1, top: -1}, 0, structure(Span("f", 0, 1), "panel and b make the top"))
    made.add({panel: 1, c: 1, bottom: -1}, 0, structure(Span("f", 1, 2), "panel and c make the bottom"))
    made.add({top: 1, bottom: -1}, 0, structure(Span("f", 2, 3), "top and bottom are sewn together"))
    for size, value in ((b, 3), (c, 4)):
        made.add({size: 1}, value, stated(Span("f", value, 9), f"{size} is {value} in", Affine(value)))
    (told,) = explain(made.solve())
    assert {r.text for r in told.repairs} == {
        "b is 3 in: write 4 in instead of 3 in",
        "c is 4 in: write 3 in instead of 4 in",
    }
    assert [s.text for s in told.steps][-1] in {c.text for c in (p.cause for p in told.conflicts[0].parts)}


def test_a_size_named_twice_in_one_equation_counts_twice() -> None:
    made = System()
    made.add([("corner", 1), ("wall", 1), ("corner", 1)], 9, structure(NOWHERE, "the row is 9"))
    made.add({"wall": 1}, 3, structure(NOWHERE, "wall is 3"))
    assert made.solve().value("corner") == 3


def test_sizes_that_nobody_gave() -> None:
    made = System()
    made.add({"a": 1, "b": 1}, 9, structure(NOWHERE, "a and b make 9"))
    made.add({"c": 1, "d": 1, "e": -1}, 0, structure(NOWHERE, "c and d make e"))
    made.add({"f": 1}, 2, structure(NOWHERE, "f is 2"))
    made.need("g")
    first, second, third = made.solve().free(prefer=lambda v: 0 if v == "e" else 1)
    assert (first.sizes, first.missing, first.resolves) == (("a", "b"), 1, ("a", "b"))
    assert [m.text for m in first.mentions] == ["a and b make 9"]
    assert second.sizes == ("c", "d", "e") and second.missing == 2 and second.resolves == ("e", "c")
    assert (third.sizes, third.mentions) == (("g",), ())


@given(
    st.lists(st.lists(st.integers(-2, 2), min_size=6, max_size=6), min_size=1, max_size=5),
    st.lists(st.integers(1, 40), min_size=6, max_size=6),
)
@QUICK
def test_what_is_said_to_settle_free_sizes_does(rows: list[list[int]], values: list[int]) -> None:
    made = System()
    for coefs in rows:
        made.add(
            dict(enumerate(coefs)), sum(c * x for c, x in zip(coefs, values, strict=True)), structure(NOWHERE, "given")
        )
    for group in made.solve().free():
        choices = [group.resolves] if group.missing > 1 else [(v,) for v in group.resolves]
        for choice in choices:
            assert group.missing == len(choice)
            again = System()
            again.equations = list(made.equations)
            for var in choice:
                assert isinstance(var, int)
                again.add({var: 1}, values[var], structure(NOWHERE, "now given"))
            solution = again.solve()
            assert solution.conflicts == []
            assert all(solution.value(v) is not None for v in group.sizes)


def tangled(count: int, seed: int) -> tuple[System, dict[Var, int]]:
    """A system in which everything hangs on everything, with a true solution."""
    random = Random(seed)
    truth: dict[Var, int] = {f"x{i}": random.randint(1, 50) for i in range(count)}
    made = System()
    for _ in range(count):
        chosen = random.sample(sorted(truth, key=str), 12)
        coefs = {v: random.choice([1, -1, 2, 3]) for v in chosen}
        made.add(coefs, sum(c * truth[v] for v, c in coefs.items()), structure(NOWHERE, "tangled"))
    return made, truth


def test_a_tangle_ends_in_good_time_and_says_so() -> None:
    made, truth = tangled(400, 1)
    start = process_time()
    solution = made.solve()
    taken = process_time() - start
    assert not solution.finished and "could not be checked" in solution.refusal()
    assert solution.conflicts == [] and solution.free() == []
    assert all(v is None or v == truth[var] for var in truth for v in [solution.value(var)])
    assert taken < 3  # about half a second on a quiet machine
    small, truth = tangled(30, 2)
    done = small.solve()
    assert done.finished and not done.refusal()
    assert all(done.value(var) == x for var, x in truth.items())


def test_a_long_chain_of_equal_sizes_is_quick() -> None:
    made = System()
    for i in range(4000):
        made.add({i: 1, i + 1: -1}, 0, structure(NOWHERE, "equal"))
    start = process_time()
    assert len(made.solve().free()) == 1
    made.add({2000: 1}, 3, structure(NOWHERE, "given"))
    made.add({4000: 1}, 4, structure(NOWHERE, "given"))
    solution = made.solve()
    assert len(solution.conflicts) == 1 and len(solution.conflicts[0].parts) == 2002
    assert process_time() - start < 3


def test_enormous_numbers_stay_exact() -> None:
    made = System()
    made.add({"a": 10**40}, 10**80, structure(NOWHERE, "large"))
    made.add({"a": 1, "b": -(10**50)}, 0, structure(NOWHERE, "small"))
    assert made.solve().value("b") == Fraction(1, 10**10)


@pytest.mark.parametrize("times", [1, 2])
def test_solving_again_changes_nothing(times: int) -> None:
    made = System()
    made.add({"a": 1}, 3, structure(NOWHERE, "a is 3"))
    made.add({"a": 1}, 4, structure(NOWHERE, "a is 4"))
    for _ in range(times):
        assert len(made.solve().conflicts) == 1


@given(trees(depth=2), st.data())
@QUICK
def test_every_contradiction_names_one_of_several_planted_numbers(tree: Unit, data: st.DataObject) -> None:
    changed = equations(tree)
    stated_ones = [i for i, (_, _, cause) in enumerate(changed) if cause.stated]
    planted = data.draw(st.sets(st.sampled_from(stated_ones), min_size=1, max_size=4))
    for number in planted:
        shift = data.draw(st.integers(1, 9)) * EIGHTH
        changed = with_value(changed, number, changed[number][1] + shift)
    solution = system(changed).solve()
    near = nearer(solution, {})
    for conflict in (*solution.conflicts, *near.conflicts):
        assert {p.equation for p in conflict.parts} & planted
    # told in full: every contradiction belongs to one explanation, and none is said twice
    told = [c.equation for t in explain(solution) for c in t.conflicts]
    assert sorted(told) == sorted(c.equation for c in near.conflicts)
