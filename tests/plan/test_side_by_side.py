"""Shapes laid side by side: exact distances against published ones, and laid shapes that never lie over each other."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.lengths import Length, root
from patternkit.piecing.making import Outline
from patternkit.piecing.offset import bounding_box, raw_outline
from patternkit.piecing.turns import at_home, is_box, laid_in, pitch, turned_about
from tests.published.desk import num, pattern, planned

L = Length
QUARTER = L(Fraction(1, 4))
SPIRE = raw_outline(((L(3), L(0)), (L(6), L(6)), (L(0), L(6))), QUARTER)
SIDE = raw_outline(((L(0), L(0)), (L(3), L(6)), (L(0), L(6))), QUARTER)
RIGHT = ((L(0), L(0)), (L(Fraction(55, 8)), L(Fraction(55, 8))), (L(0), L(Fraction(55, 8))))


def cut_at(outline: Outline, top: Length) -> Outline:
    """A triangle with its tip cut off level, as the edge of a strip does."""
    tip, right, left = outline
    f = (top - tip[1]) / (right[1] - tip[1])
    ends = tuple((tip[0] + (p[0] - tip[0]) * f, top) for p in (left, right))
    return at_home((*ends, right, left))


# -- known runs -------------------------------------------------------------------------------------------
def test_spires_by_turns() -> None:
    """Base 6.809 and top 0.309 in a strip of 6 1/2: alike 6.809 apart, by turns half of base and top, 3.559: ten from
    42 in, as from 41 1/2, and six where they may not be turned."""
    spire = cut_at(SPIRE, -QUARTER)
    assert float(pitch(spire, spire)) == pytest.approx(6.809, abs=0.001)
    assert float(pitch(spire, turned_about(spire))) == pytest.approx(3.559, abs=0.001)
    for room in (42, Fraction(83, 2)):
        run = laid_in(spire, L(room), True)
        assert run is not None and len(run.spots) == 10 and run.by_turns
    alike = laid_in(spire, L(42), False)
    assert alike is not None and len(alike.spots) == 6 and not alike.by_turns


def test_sixty_degree_triangles_are_half_their_width_apart() -> None:
    triangle = at_home(((L(3), L(0)), (L(6), root(3) * 3), (L(0), root(3) * 3)))
    assert pitch(triangle, turned_about(triangle)) == 3


def test_half_square_triangles_are_pairs() -> None:
    """12 triangles with legs of 6 7/8 from 42 in, as 6 squares give; 6 that all lie alike."""
    both, alike = laid_in(RIGHT, L(42), True), laid_in(RIGHT, L(42), False)
    assert both is not None and alike is not None and (len(both.spots), len(alike.spots)) == (12, 6)


def test_side_wedges() -> None:
    """The side of a triangle in a square of 6 in: 3.655 wide without its tip, a pair 0.405 wider; 20 in 41 1/2."""
    side = cut_at(SIDE, -QUARTER)
    assert float(bounding_box(side)[1][0]) == pytest.approx(3.655, abs=0.001)
    run = laid_in(side, L(Fraction(83, 2)), True)
    assert run is not None and len(run.spots) == 20
    pair = laid_in(side, L(42), True, 2)
    assert pair is not None and float(pair.width) == pytest.approx(3.655 + 0.405, abs=0.001)


def test_tips_cut_off_lie_as_near_as_with_them_in_a_strip_a_little_higher() -> None:
    s = L(Fraction(13, 2))
    tip = L(Fraction(3, 8))
    trimmed = ((L(0), L(0)), (tip, L(0)), (s, s - tip), (s, s), (L(0), s))
    level, higher = laid_in(trimmed, L(Fraction(83, 2)), True), laid_in(trimmed, L(Fraction(83, 2)), True, None, tip)
    assert level is not None and higher is not None and (len(level.spots), len(higher.spots)) == (10, 12)


# -- any shape --------------------------------------------------------------------------------------------
@st.composite
def shapes(draw: st.DrawFn) -> Outline:
    """A convex outline as high as it is said, clockwise: corners on the way down its right side and up its left."""
    high, wide = draw(st.integers(2, 9)), draw(st.integers(2, 9))

    def side(sign: int) -> list[tuple[Fraction, Fraction]]:
        n = draw(st.integers(0, 3))
        ys = sorted({Fraction(draw(st.integers(1, high * 4 - 1)), 4) for _ in range(n)})
        ends = [Fraction(draw(st.integers(0, wide * 2)), 4) for _ in range(2)]
        points = [(ends[0], Fraction(0)), *((Fraction(wide * 2, 4) - (y - Fraction(high, 2)) ** 2 / 99, y) for y in ys)]
        return [(sign * x, y) for x, y in (*points, (ends[1], Fraction(high)))]

    return at_home(tuple((L(x), L(y)) for x, y in _hull([*side(1), *side(-1)])))


def _hull(points: Sequence[tuple[Fraction, Fraction]]) -> list[tuple[Fraction, Fraction]]:
    """The outermost points, clockwise with y down."""
    found: list[tuple[Fraction, Fraction]] = []
    rows = sorted(set(points))
    for way in (rows, rows[::-1]):
        own: list[tuple[Fraction, Fraction]] = []
        for p in way:
            while len(own) > 1 and _turn(own[-2], own[-1], p) <= 0:
                own.pop()
            own.append(p)
        found += own[:-1]
    return found


def _turn(a: tuple[Fraction, Fraction], b: tuple[Fraction, Fraction], c: tuple[Fraction, Fraction]) -> Fraction:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def apart(a: Outline, b: Outline) -> bool:
    """Whether a line parts two convex outlines, looked for along the sides of both (separating axes)."""
    for ring in (a, b):
        for (x0, y0), (x1, y1) in pairwise((*ring, ring[0])):
            normal = (float(y1 - y0), float(x0 - x1))
            spans = [[float(x) * normal[0] + float(y) * normal[1] for x, y in own] for own in (a, b)]
            if max(spans[0]) <= min(spans[1]) + 1e-7 or max(spans[1]) <= min(spans[0]) + 1e-7:
                return True
    return False


@settings(deadline=None, max_examples=60)
@given(shapes(), st.integers(10, 42), st.booleans(), st.sampled_from([0, Fraction(1, 4), Fraction(3, 8)]))
def test_shapes_never_lie_over_each_other(outline: Outline, room: int, turn: bool, higher: Fraction) -> None:
    if len(outline) < 3:
        return
    run = laid_in(outline, L(room), turn, None, L(higher))
    if run is None:
        assert bounding_box(outline)[1][0] > room
        return
    laid = run.laid()
    for n, ring in enumerate(laid):
        assert all(0 <= x <= run.width <= room and 0 <= y <= run.height for x, y in ring)
        assert all(apart(ring, other) for other in laid[:n])
    assert turn or not run.by_turns
    boxes = int((L(room) / bounding_box(outline)[1][0]).floor_to(Fraction(1)))
    assert len(laid) >= boxes and (not is_box(outline) or len(laid) == boxes)


@settings(deadline=None, max_examples=40)
@given(shapes(), shapes())
def test_the_pitch_is_the_least_there_is(first: Outline, second: Outline) -> None:
    """One hair nearer, and the two lie over each other, unless the second could begin further left than the first."""
    if len(first) < 3 or len(second) < 3:
        return
    far = pitch(first, second)
    assert apart(first, tuple((x + far, y) for x, y in second))
    if far > Fraction(1, 100):
        assert not apart(first, tuple((x + far - Fraction(1, 1000), y) for x, y in second))


# -- in a plan --------------------------------------------------------------------------------------------
BLOCK = "block spire\n    triangle-in-a-square night, glow\n    finished 6\n\nquilt\n    across {}, down {}\n    tile\n"


def test_spires_of_a_quilt() -> None:
    """48 triangles 6.809 wide and high: 11 by turns from each strip of 6 7/8 in (six rectangles), the rest from a
    fifth; of a directional print six from each."""
    body = BLOCK.format(6, 8) + "        spire\n"
    plan = planned(pattern(body, "usable width 42"))
    lines = [(x.count, x.per_strip) for x in plan.lines if x.fabric == "night"]
    assert lines == [(44, 11), (4, 4)] and plan.fabrics["night"].used == num("6 7/8") * 5
    assert plan.fabrics["night"].least < plan.fabrics["night"].buy  # their area alone proves less
    text = pattern(body, "usable width 42").sources["trial.pattern"].text
    upright = pattern("").__class__("trial.pattern", text.replace("#1b2a49", "#1b2a49 directional", 1))
    assert upright.plan(solver=False)[0].fabrics["night"].used == num("6 7/8") * 8


def test_the_end_of_a_strip_of_shapes_serves_other_pieces() -> None:
    """Three spires take 13 3/4 in of a strip of 6 7/8 in; four squares of 3 in lie beside them."""
    body = BLOCK.format(3, 1) + "        spire\n    border 2 1/2 glow, cornerstones night\n"
    plan = planned(pattern(body, "usable width 42"))
    assert plan.fabrics["night"].used == num("6 7/8")
