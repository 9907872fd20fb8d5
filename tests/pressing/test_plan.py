"""The plan against every assignment of small random quilts, with and without the solver, and what it writes
back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import product

import pytest

from patternkit.piecing.batch import Thing
from patternkit.piecing.keys import Key
from patternkit.piecing.making import Making, Side
from patternkit.pressing import maxsat
from patternkit.pressing.conflicts import conflicts
from patternkit.pressing.joints import find_joints
from patternkit.pressing.looks import Looks
from patternkit.pressing.planner import PressOptions, PressPlan, apply_plan, plan_pressing
from patternkit.pressing.words import loop_words

from .builders import checkerboard, column, half_square, patch, pinwheel, quilt, row
from .random_quilts import VALUES, small_quilt
from .test_finder import _makings

Sides = dict[tuple[str, int], Side]


def free_seams(top: Making) -> list[tuple[Making, int]]:
    return [(m, j) for m in _makings(top) for j, s in enumerate(m.seams) if s.pressed == "free"]


def scorer(top: Making) -> Callable[[Sides], tuple[int, ...]]:
    """The levels of an assignment without versions, straight from their definition."""
    looks, fixed = (
        Looks(VALUES),
        {(m.thing, j): s.pressed for m in _makings(top) for j, s in enumerate(m.seams)},
    )
    joints = [(j.a.key, j.b.key, j.a.ahead * j.b.ahead, looks.weight(j) * j.count) for j in find_joints(top)]
    wishes = [((m.thing, j), looks.darker(m, j), looks.plainer(m, j)) for m, j in free_seams(top)]
    value = {"left": 1, "right": -1, "open": 0}

    def score(sides: Sides) -> tuple[int, ...]:
        now = fixed | sides
        lost = rough = dark = plain = 0
        for one, two, sign, weight in joints:
            a, b = now[one], now[two]
            if value[a] * value[b] * sign != -1:
                lost += weight
                rough += weight * ((a != "open") + (b != "open"))
        for name, darker, plainer in wishes:
            if sides[name] != "open":
                dark += darker not in ("", sides[name])
                plain += plainer not in ("", sides[name])
        return lost, 0, rough, sum(s == "open" for s in sides.values()), dark, plain

    return score


def assignments(top: Making, choices: tuple[Side, ...]) -> Iterator[Sides]:
    names = [(m.thing, j) for m, j in free_seams(top)]
    for sides in product(choices, repeat=len(names)):
        yield dict(zip(names, sides, strict=True))


def small(limit: int, wanted: int, start: int = 0, fixed: bool = True) -> list[Making]:
    """The first random quilts with at most so many free seams."""
    found, seed = [], start
    while len(found) < wanted:
        top = small_quilt(seed, fixed)
        if 3 <= len(free_seams(top)) <= limit and len(find_joints(top)) > 2:
            found.append(top)
        seed += 1
    return found


OLD_ROWS = PressOptions(rows_either_way=False)


@pytest.mark.parametrize("top", small(7, 30), ids=range(30))
def test_best_of_all_assignments_with_open_seams(top: Making) -> None:
    plan = plan_pressing(top, VALUES, OLD_ROWS)
    assert plan.proved
    assert plan.score == min(map(scorer(top), assignments(top, ("left", "right", "open"))))


@pytest.mark.parametrize("top", small(11, 6, 500, fixed=False) + small(14, 2, 900, fixed=False), ids=range(8))
def test_best_of_all_assignments_without_open_seams(top: Making) -> None:
    plan = plan_pressing(top, VALUES, PressOptions(rows_either_way=False, open_seams=False))
    assert plan.proved
    best = _fast_best(top)
    assert plan.score[0] == best


def _fast_best(top: Making) -> int:
    """The least weight that does not nest over all two-sided assignments; joints added up first."""
    looks = Looks(VALUES)
    names = [(m.thing, j) for m, j in free_seams(top)]
    number = {n: i for i, n in enumerate(names)}
    fixed = {(m.thing, j): s.pressed for m in _makings(top) for j, s in enumerate(m.seams) if s.pressed != "free"}
    sums: dict[tuple[int, int], int] = {}
    sure = 0
    for joint in find_joints(top):
        mask, parity, shut = 0, 0 if joint.a.ahead != joint.b.ahead else 1, False
        for end in (joint.a, joint.b):
            if end.key in number:
                mask ^= 1 << number[end.key]
            elif fixed[end.key] == "open":
                shut = True
            else:
                parity ^= fixed[end.key] == "left"
        weight = looks.weight(joint) * joint.count
        if shut:
            sure += weight
        else:
            sums[(mask, parity)] = sums.get((mask, parity), 0) + weight
    return sure + min(
        sum(w for (mask, parity), w in sums.items() if (mask & x).bit_count() % 2 != parity)
        for x in range(1 << len(names))
    )


@pytest.mark.parametrize("top", small(9, 16, 200), ids=range(16))
def test_without_the_solver_best_or_honest(top: Making, monkeypatch: pytest.MonkeyPatch) -> None:
    best = plan_pressing(top, VALUES, OLD_ROWS)
    monkeypatch.setattr(maxsat, "available", lambda: False)
    plan = plan_pressing(top, VALUES, OLD_ROWS)
    assert best.proved
    assert plan.bound <= best.score[0] <= plan.score[0]
    assert plan.score == scorer(top)({n: plan.sides[n] for n in ((m.thing, j) for m, j in free_seams(top))})
    if plan.proved:
        assert plan.score == best.score
    assert 0 <= plan.gap <= 1


@pytest.mark.parametrize("top", small(9, 12, 300), ids=range(12))
def test_a_stopped_solver_leaves_a_plan_and_a_true_bound(top: Making) -> None:
    best = plan_pressing(top, VALUES, OLD_ROWS)
    plan = plan_pressing(top, VALUES, PressOptions(rows_either_way=False, seconds=1e-6))
    assert plan.bound <= best.score[0] <= plan.score[0]


@pytest.mark.parametrize("top", small(12, 10, 400), ids=range(10))
def test_the_planned_tree_counts_as_the_plan_says(top: Making) -> None:
    plan = plan_pressing(top, VALUES)
    planned = apply_plan(top, plan)
    left = conflicts(planned)
    assert not any(c.verdict == "unstated" for c in left)
    assert sum(c.count for c in left) == plan.total - plan.nested
    looks = Looks(VALUES)
    assert sum(looks.weight(j) * j.count for c in left for j in c.joints) == plan.score[0]
    for making in _makings(top):
        for j, seam in enumerate(making.seams):
            assert seam.pressed == "free" or plan.sides[(making.thing, j)] == seam.pressed


def nine(fixed: str = "") -> Making:
    lines = [
        row(f"nine row {i}", *(patch(f) for f in fabrics), role="row", unit="nine", pressed=fixed)
        for i, fabrics in enumerate((("night", "glow", "night"), ("glow", "night", "glow"), ("night", "glow", "night")))
    ]
    return column("nine", *lines, role="block")


def versions_score(top: Making, sides: Sides, turned: set[tuple[Thing, int]]) -> int:
    """Joints that do not nest when some places hold a unit turned over, from the tree that holds it."""
    plan = PressPlan(sides, frozenset(turned), (0, 0, 0, 0, 0, 0), 0, True, 0, 0, (), (), (), (), ())
    return sum(c.count for c in conflicts(apply_plan(top, plan)))


def test_equal_blocks_side_by_side_need_versions() -> None:
    """Two versions of one block, laid like a checkerboard
    (http://grammilousgarden.blogspot.com/2015/04/the-simple-solution.html)."""
    top = quilt([[nine()] * 3] * 3)
    alone = plan_pressing(top, VALUES)
    assert alone.nested < alone.total
    both = plan_pressing(top, VALUES, PressOptions(versions=frozenset({Key("nine")})))
    assert both.nested == both.total
    (version,) = both.versions
    assert version.key == Key("nine") and sorted(version.counts) == [4, 5]
    assert sorted(version.names) == ["pressed in", "pressed out"]
    assert {p for p in both.reversed_places} == {
        (Thing(Key(f"quilt row {r + 1}")), c) for r in range(3) for c in range(3) if (r + c) % 2 == 1
    }
    things = {m.thing for m in _makings(apply_plan(top, both))}
    assert {Thing(Key("nine"), 0), Thing(Key("nine"), 1)} <= things


@pytest.mark.parametrize("open_seams", [False, True])
def test_versions_against_every_assignment(open_seams: bool) -> None:
    """Two by two blocks of two seams each, over all sides and all choices of version."""
    block = row("b", patch("night", 1, 3), patch("glow", 1, 3), patch("night", 1, 3), role="block")
    top = quilt([[block, (block, 90)], [block, block]])
    plan = plan_pressing(top, VALUES, PressOptions(versions=frozenset({Key("b")}), open_seams=open_seams))
    places = [(Thing(Key(f"quilt row {r}")), c) for r in (1, 2) for c in (0, 1)]
    best = min(
        versions_score(top, s, {p for p, v in zip(places, (0, *vs), strict=True) if v})
        for s in assignments(top, ("left", "right"))
        for vs in product((0, 1), repeat=3)
    )
    assert plan.total - plan.nested == best
    assert plan.proved


def test_rows_that_are_one_object_may_be_pressed_in_turn() -> None:
    """Rows pressed opposite ways (https://blog.rileyblakedesigns.com/?p=10768)."""
    line = row("line", *(patch("night") for _ in range(4)), role="row")
    top = column("quilt", *[line] * 4, role="quilt")
    plan = plan_pressing(top, VALUES)
    assert plan.nested == plan.total == 9
    assert plan.score[1] == 0 and {c for v in plan.versions for c in v.counts} == {2}
    fixed = plan_pressing(top, VALUES, OLD_ROWS)
    assert fixed.nested == 0


def test_an_odd_loop_is_named_with_its_choices() -> None:
    """Three rows of one block whose first and last meet: the shortest loop has three joints."""
    top = quilt([[nine()]] * 3)
    plan = plan_pressing(top, VALUES, PressOptions(open_seams=False))
    assert plan.nested < plan.total and plan.loops
    shortest = plan.loops[0]
    assert len(shortest.joints) == 3
    assert {Key("nine row 0"), Key("nine")} & set(shortest.two_versions)
    wants = [(j.a.key, j.b.key) for j in shortest.joints]
    ends = [n for pair in wants for n in pair]
    assert all(ends.count(n) == 2 for n in ends)


def test_marks_to_write_are_in_the_writers_order() -> None:
    from patternkit.piecing.making import Seam
    from patternkit.source import Span

    top = checkerboard(3, 3, to_dark=False)
    plan = plan_pressing(top, VALUES)
    assert plan.marks == ()  # nothing to write where no mark stands
    import msgspec

    def marked(making: Making, start: int) -> Making:
        seams: list[Seam] = [
            msgspec.structs.replace(s, mark=Span("f", start + 2 * j, start + 2 * j + 1))
            for j, s in enumerate(making.seams)
        ]
        return msgspec.structs.replace(making, seams=tuple(seams))

    rows = [
        msgspec.structs.replace(p, what=marked(p.what, 10 * i))
        for i, p in enumerate(top.parts)
        if isinstance(p.what, Making)
    ]
    plan = plan_pressing(msgspec.structs.replace(top, parts=tuple(rows)), VALUES)
    assert [m.text for m in plan.marks] == [
        "<",
        ">",
        ">",
        "<",
        "<",
        ">",
    ]  # toward the night patch, row by row
    assert plan.score == (0, 0, 0, 0, 0, 0) and plan.proved


def test_deterministic() -> None:
    top = small_quilt(7, fixed=False)
    one, two = plan_pressing(top, VALUES), plan_pressing(top, VALUES)
    assert (one.sides, one.reversed_places, one.score, one.bound) == (
        two.sides,
        two.reversed_places,
        two.score,
        two.bound,
    )
    assert [c.count for c in one.left_over] == [c.count for c in two.left_over]


def test_pinwheel_all_nest() -> None:
    plan = plan_pressing(pinwheel(half_square("h", "night", "glow")), VALUES)
    assert plan.nested == plan.total == 5 and plan.proved and plan.score[4] == 0


def test_one_mark_presses_all_makings_of_its_text() -> None:
    """A unit and its mirror image are two makings of one row of text: what stands there holds for both."""
    import msgspec

    from patternkit.piecing.reflect import mirror
    from patternkit.source import Span

    mark = Span("f", 3, 4)
    corner = half_square("corner", "night", "glow", 2, "left")
    side = row("pair", corner, patch("stone", 3, 2), role="block")
    unit = msgspec.structs.replace(side, seams=(msgspec.structs.replace(side.seams[0], mark=mark),))
    other, _ = mirror(unit)
    top = quilt([[unit, other], [other, unit]])
    assert other is not unit and other.seams[0].mark == mark
    plan = plan_pressing(top, VALUES)
    (edit,) = plan.marks
    assert edit.span == mark and edit.text in ("<", ">", "<>")
    sides = {plan.sides[(m.thing, 0)] for m in (unit, other)}
    early = [
        ("left" if min(m.seams[0].left) < min(m.seams[0].right) else "right") == plan.sides[(m.thing, 0)]
        for m in (unit, other)
    ]
    assert early[0] == early[1] or sides == {"open"}


def test_a_loop_tells_how_its_settled_seams_lie() -> None:
    """Whoever settled them, the writer or a unit's method, the side itself is said."""
    rows = (
        row("a", patch("night"), patch("day"), pressed=">", role="row"),
        row("b", patch("day"), patch("night"), pressed=">", role="row"),
    )
    plan = plan_pressing(column("quilt", *rows, role="quilt"), VALUES, PressOptions(open_seams=False))
    assert plan.top is not None
    (loop,) = plan.loops
    said = loop_words(loop.joints, plan.top)
    assert "in the first row is pressed toward day; " in said and "in the second row is pressed toward night)" in said
