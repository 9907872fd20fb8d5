"""Proof for every value of a parameter, and the values that suit a ruler, against counting them out."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.lengths import SQRT2, SQRT3, ZERO, Length
from patternkit.sizes import Affine, NotLinear, System, structure
from patternkit.sizes.progressions import EVERY, NEVER, Progression, landing
from patternkit.sizes.proof import off_grid, positive_range, ruler, verdict
from patternkit.source import NOWHERE

SIDE, EDGE = Affine.parameter("side"), Affine.parameter("edge")
EIGHTH = Fraction(1, 8)
QUICK = settings(max_examples=60, deadline=None)


def conditions(*gaps: Affine) -> System:
    made = System()
    for i, gap in enumerate(gaps):
        made.add({i: 1}, gap, structure(NOWHERE, "from the pieces"))
        made.add({i: 1}, 0, structure(NOWHERE, "from the claim"))
    return made


@pytest.mark.parametrize(
    ("gaps", "text"),
    [
        ((), "adds up for every side and every edge"),
        ((SIDE - 6,), "only when side is 6"),
        ((SIDE + 2 * EDGE - 12,), "only when side + 2*edge is 12"),
        ((SIDE + 2 * EDGE - 12, SIDE - EDGE - 3), "only when side is 6 and edge is 3"),
        ((SIDE - 6, 3 * SIDE - 18), "only when side is 6"),
        ((SIDE - 6, SIDE - 7), "adds up for no side and edge: its statements ask for side 6 and for side 7"),
        ((SIDE + 2,), "adds up for no side and edge: its statements ask for side -2"),
        ((Affine(1),), "adds up for no side and edge"),
        ((SIDE * SQRT2 - 12,), "only when side is about 8 1/2"),
    ],
)
def test_verdicts(gaps: tuple[Affine, ...], text: str) -> None:
    found = verdict(conditions(*gaps).solve(), ["side", "edge"])
    assert found.text == text
    assert found.always == (not gaps) and found.never == ("no" in text.split())
    if found.never:
        assert found.against


small = st.integers(-4, 4)


@given(st.lists(st.tuples(small, small, small), min_size=1, max_size=3), st.integers(1, 5), st.integers(1, 5))
@QUICK
def test_a_verdict_is_true_of_every_pair_of_values(rows: list[tuple[int, int, int]], side: int, edge: int) -> None:
    gaps = [a * SIDE + b * EDGE + c for a, b, c in rows]
    found = verdict(conditions(*gaps).solve(), ["side", "edge"])
    env = {"side": Length(side), "edge": Length(edge)}
    holds = not any(g.value(env) for g in gaps)
    said = (
        not found.never
        and all(env[n] == v for n, v in found.fixed.items())
        and not any(r.value(env) for r in found.relations)
    )
    assert holds == said


fractions = st.builds(Fraction, st.integers(-60, 60), st.sampled_from([1, 2, 3, 4, 8]))
positive = st.builds(Fraction, st.integers(1, 12), st.sampled_from([1, 2, 3, 8]))


@given(fractions, positive, fractions, positive)
@QUICK
def test_two_progressions_meet_where_both_lie(a: Fraction, s: Fraction, b: Fraction, t: Fraction) -> None:
    one, two = Progression(a % s, s), Progression(b % t, t)
    low, high = Fraction(-20), Fraction(200)
    both = set(one.between(low, high)) & set(two.between(low, high))
    met = one.meets(two)
    assert both == (set(met.between(low, high)) if met else set())
    assert one.meets(Progression(a, Fraction(0))) == Progression(a, Fraction(0))
    assert (met is None) == (two.meets(one) is None)


@given(st.lists(st.tuples(positive, fractions), min_size=1, max_size=4), st.integers(4, 80))
@QUICK
def test_values_on_the_ruler_are_those_counted_out(rows: list[tuple[Fraction, Fraction]], now: int) -> None:
    pieces = [(f"piece {i}", SIDE * b + a) for i, (b, a) in enumerate(rows)]
    found = ruler(pieces, "side", {"side": Length(Fraction(now, 8))}, low=EIGHTH, high=Fraction(12), keep=3)
    # sizes of the first piece on the grid, one by one, and what the others are then
    b0, a0 = rows[0]
    values = ((k * EIGHTH - a0) / b0 for k in range(1, int((12 * b0 + a0) / EIGHTH) + 1))
    counted = [
        v for v in values if EIGHTH <= v <= 12 and all((b * v + a) > 0 and (b * v + a) % EIGHTH == 0 for b, a in rows)
    ]
    assert list(found.listed) == counted[:200] and found.more == (len(counted) > 200)
    assert all((b * v + a) % EIGHTH == 0 for v in found.listed for b, a in rows)
    if found.clash:
        assert not counted
    for near in found.near:
        assert near.off == off_grid(pieces, {"side": Length(near.value)}, EIGHTH)
        assert 0 < len(near.off) < max(len(pieces), 1) or near.value not in found.listed
    assert {o.label for o in found.off} == {
        f"piece {i}" for i, (b, a) in enumerate(rows) if (b * Fraction(now, 8) + a) % EIGHTH
    }


def test_a_nine_patch_with_half_squares_and_geese() -> None:
    # cut at a quarter-inch seam, from geometry, rounded up: patch + 1/2, half-square + 7/8, goose + 1 1/4
    pieces = [
        ("wall", SIDE / 3 + Fraction(1, 2)),
        ("corner", SIDE / 3 + Fraction(7, 8)),
        ("goose", SIDE / 4 + Fraction(5, 4)),
    ]
    found = ruler(pieces, "side", {"side": Length(8)})
    assert found.values == Progression(Fraction(0), Fraction(3, 2))
    assert list(found.listed[:4]) == [Fraction(3, 2) * k for k in (1, 2, 3, 4)]
    assert [(o.label, o.cut) for o in found.off] == [("wall", Fraction(13, 4)), ("corner", Fraction(29, 8))]
    assert found.text.startswith("every cut is on the 1/8 grid when side is 1 1/2, 3, 4 1/2, 6")


def test_pieces_with_a_root_are_rounded_at_any_size() -> None:
    pieces = [("patch", SIDE / 2), ("side triangle", SIDE * SQRT2 + Fraction(5, 4))]
    found = ruler(pieces, "side", {"side": Length(6)}, high=Fraction(2))
    assert found.rounded == ("side triangle",) and found.exact == ()
    assert found.listed[:2] == (Fraction(1, 4), Fraction(1, 2))
    assert [o.label for o in found.off] == ["side triangle"]
    assert all("side triangle" in [o.label for o in n.off] for n in found.near)
    assert "rounded at any size: side triangle" in found.text


def test_a_root_may_cancel_at_one_value() -> None:
    assert landing(SIDE * SQRT2 - 6 * SQRT2 + 3, "side", EIGHTH) == Progression(Fraction(6), Fraction(0))
    assert landing(SIDE * SQRT2 - 6 * SQRT2 + Fraction(1, 3), "side", EIGHTH) == NEVER
    assert landing(SIDE * SQRT2 + SQRT3, "side", EIGHTH) == NEVER
    assert landing(SIDE * (SQRT2 + SQRT3) + SQRT3, "side", EIGHTH) == NEVER
    assert landing(SIDE + SQRT2, "side", EIGHTH) == NEVER
    assert landing(Affine(3), "side", EIGHTH) == EVERY
    assert landing(Affine(Fraction(1, 3)), "side", EIGHTH) == NEVER
    with pytest.raises(ValueError, match="more than side"):
        landing(SIDE + EDGE, "side", EIGHTH)
    found = ruler([("odd", SIDE * SQRT2 - 6 * SQRT2 + 3)], "side", {})
    assert found.exact == (Fraction(6),)


def test_pieces_that_never_land_together_are_named() -> None:
    pieces = [("a", SIDE / 2), ("c", SIDE / 3), ("b", SIDE / 2 + Fraction(1, 16))]
    found = ruler(pieces, "side", {"side": Length(4)})
    assert found.clash == ("a", "b") and found.listed == () and found.values is None
    assert found.near and all(n.off for n in found.near)
    fixed = ruler([("a", SIDE), ("pin", Affine(Fraction(1, 3)))], "side", {"side": Length(4)})
    assert fixed.fixed == ("pin",) and "off the grid at any size: pin" in fixed.text


def test_metric_grid() -> None:
    mm = Fraction(5, 127)
    found = ruler(
        [("patch", SIDE / 3 + 15 * mm)],
        "side",
        {"side": Length(100 * mm)},
        grid=mm,
        low=mm,
        high=100 * mm,
        inches=mm,
        show=str,
    )
    assert found.values == Progression(Fraction(0), 3 * mm)
    assert "(every 3)" in found.text and found.listed[0] == 3 * mm


def test_sizes_above_zero() -> None:
    low, high = positive_range([SIDE / 3 - 1, 12 - SIDE, Affine(3)], "side")
    assert low == 3 and high == 12
    assert positive_range([Affine(-1)], "side") == (ZERO, ZERO)
    assert positive_range([SIDE + EDGE], "side", {"edge": Length(-2)}) == (Length(2), None)


@given(fractions, fractions, fractions, fractions, fractions)
@QUICK
def test_affine_values_follow_their_parameters(
    a: Fraction, b: Fraction, c: Fraction, d: Fraction, side: Fraction
) -> None:
    env = {"side": Length(side), "edge": 2 * SQRT2}
    x, y = SIDE * a + b, EDGE * c + d + SIDE
    assert (x + y).value(env) == x.value(env) + y.value(env)
    assert (x - y).value(env) == x.value(env) - y.value(env) == -(y - x).value(env)
    assert (x * d).value(env) == x.value(env) * d == (d * x).value(env)
    assert (y.at({"side": Length(side)})).value(env) == y.value(env)
    assert (1 - x).value(env) == 1 - x.value(env)
    assert x - x == 0 and not x - x and hash(x + y - y) == hash(x)
    if a and c:
        with pytest.raises(NotLinear):
            x * y
        with pytest.raises(NotLinear):
            1 / x
    if d:
        assert (x / d) * d == x


def test_affine_text() -> None:
    assert (SIDE / 3 + Fraction(1, 2)).text() == "side/3 + 1/2"
    assert (2 * SIDE - EDGE - 3).text() == "2*side - edge - 3"
    assert (-SIDE * Fraction(2, 3)).text() == "-2*side/3"
    assert Affine().text() == "0"
    assert (SIDE * SQRT2).text() == "1.414*side (about)"
    with pytest.raises(KeyError):
        SIDE.value({})
