"""Strips sewn in the stated order with the stated seam give the segment; rows and columns cover their
outline."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.lengths import Length
from patternkit.piecing.kinds.strips import order
from patternkit.piecing.making import Making
from tests.kinds.bench import Desk, one, problems_of
from tests.kinds.cases import MM
from tests.kinds.sewing import Line, Sewn, covers, misfit, rect, sew

FABRICS = ("night", "glow", "stone", "sea")


def strip_unit(making: Making, seam: float, length: float = 20.0) -> Sewn:
    """Sew the strips in the order of the making's seams; every strip as wide as its cut, left to right."""
    cut = {c.fabric: [] for c in making.recipe.cuts}
    for c in making.recipe.cuts:
        cut[c.fabric].append(c)
    strips: dict[int, tuple[Sewn, float]] = {}
    for i, part in enumerate(making.parts):
        xs = [float(p[0]) for p in part.what.outline]
        exact = max(xs) - min(xs) + 2 * seam
        wide = min((float(c.height) for c in cut[part.what.fabric]), key=lambda h: abs(h - exact))
        strips[i] = rect(part.what.fabric, wide, length), wide
    groups = {frozenset([i]): s for i, s in strips.items()}
    for s in making.seams:
        left, right = frozenset(s.left), frozenset(s.right)
        a, wide = groups.pop(left)  # fails when the seams are not in an order that can be sewn
        b, other = groups.pop(right)
        stitches = Line((wide - seam, 0), (0, 1))
        down = b.shifted(wide - 2 * seam, 0).flipped(stitches)
        groups[left | right] = sew(a, down, stitches, 1), wide + other - 2 * seam
    assert len(groups) == 1
    return next(iter(groups.values()))[0]


@given(
    st.lists(st.tuples(st.sampled_from(FABRICS), st.integers(2, 40)), min_size=2, max_size=12),
    st.integers(2, 10),
    st.integers(4, 60),
    st.booleans(),
)
@settings(max_examples=30, deadline=None)
def test_strips_give_the_segment(strips: list[tuple[str, int]], seam: int, segment: int, metric: bool) -> None:
    step = MM if metric else Fraction(1, 8)
    s = seam * (MM if metric else Fraction(1, 16))
    line = " | ".join(f"{fabric} {n * step}" for fabric, n in strips)
    making = one("strips", line, seam=s, grid=step, finished=f"{sum(n for _, n in strips) * step} x {segment * step}")
    sewn = strip_unit(making, float(s))
    assert making.recipe.strip_unit is not None and making.recipe.segment is not None
    wide, high = float(making.recipe.strip_unit), float(making.recipe.segment)
    assert sewn.raw.bounds[2] - sewn.raw.bounds[0] == pytest.approx(wide)
    cut_across = sewn.kept(rect("", wide, high).raw)
    assert not misfit(cut_across, making, float(s), (wide / 2, high / 2), 0)
    assert not covers(making)


def test_order_of_strips() -> None:
    """Pairs and then pairs of pairs; outward from the middle when odd."""
    assert order(2) == [0]
    assert order(4) == [0, 2, 1]
    assert order(8) == [0, 2, 4, 6, 1, 5, 3]
    assert order(3) == [0, 1]
    assert order(7) == [2, 3, 1, 4, 0, 5]
    for n in range(2, 40):
        assert sorted(order(n)) == list(range(n - 1))


def test_a_six_strip_unit_joins_its_pairs() -> None:
    making = one("strips", "a 1 | b 1 | a 1 | b 1 | a 1 | b 1", finished="6 x 2")
    assert [(s.left, s.right) for s in making.seams] == [
        ((0,), (1,)),
        ((2,), (3,)),
        ((4,), (5,)),
        ((0, 1), (2, 3)),
        ((0, 1, 2, 3), (4, 5)),
    ]


def test_a_cut_line_gives_the_segment() -> None:
    making = one("strips", "a cut 1 1/2 | b cut 1 1/2 | a cut 1 1/2", cut="1 1/2")
    assert (making.width, making.height) == (3, 1)
    assert making.recipe.segment == Length(Fraction(3, 2)) and making.recipe.strip_unit == Length(Fraction(7, 2))


def test_marks_press_strips() -> None:
    making = one("strips", "a 1 > b 1 < a 1 | b 1 <> a 1", finished="5 x 1")
    by_place = {s.start[0].fraction: s for s in making.seams}
    assert [by_place[Fraction(x)].pressed for x in (1, 2, 3, 4)] == ["right", "left", "free", "open"]
    assert all(s.mark is not None for s in making.seams)
    assert [by_place[Fraction(x)].stated is not None for x in (1, 2, 3, 4)] == [True, True, False, True]


# -- rows and columns -------------------------------------------------------------------------------------
def sides_of(making: Making) -> None:
    """Every seam has the parts it names on the side it says, and everything it joins has been sewn before."""
    sewn = {frozenset([i]) for i in range(len(making.parts))}
    for s in making.seams:
        assert frozenset(s.left) in sewn and frozenset(s.right) in sewn
        sewn -= {frozenset(s.left), frozenset(s.right)}
        sewn.add(frozenset(s.left + s.right))
        (ax, ay), (bx, by) = (tuple(map(float, p)) for p in (s.start, s.end))
        for parts, sign in ((s.left, -1), (s.right, 1)):
            for i in parts:
                part = making.parts[i]
                points = part.place.outline(part.what.outline)
                x, y = (sum(float(p[k]) for p in points) / len(points) for k in (0, 1))
                assert sign * ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) > 0
    assert len(sewn) == 1


def test_rows_sew_each_row_and_then_the_rows() -> None:
    desk = Desk()
    desk.unit("corner", "half-square", "night, glow", finished="3")
    desk.unit(
        "star",
        "rows",
        "corner | glow 3 > corner turned 90",
        "night <> glow | night 3",
        "corner turned 270 | night 3 | corner turned 180",
        row_marks="> .",
        finished="9",
    )
    made = desk.made("star")
    assert [(s.left, s.right, s.pressed) for s in made.seams] == [
        ((0,), (1,), "free"),
        ((0, 1), (2,), "right"),
        ((3,), (4,), "open"),
        ((3, 4), (5,), "free"),
        ((6,), (7,), "free"),
        ((6, 7), (8,), "free"),
        ((0, 1, 2), (3, 4, 5), "right"),
        ((0, 1, 2, 3, 4, 5), (6, 7, 8), "free"),
    ]
    sides_of(made)
    assert not covers(made)
    assert made.parts[0].what is made.parts[8].what, "one making for all uses of a unit"
    assert [(c.fabric, c.width, c.height, c.count) for c in made.recipe.cuts] == [
        ("glow", Length(Fraction(7, 2)), Length(Fraction(7, 2)), 2),
        ("night", Length(Fraction(7, 2)), Length(Fraction(7, 2)), 3),
    ]


def test_a_column_on_one_line_runs_down() -> None:
    made = one("column", "night 1 > glow 2 < night 1", finished="3 x 4")
    assert (made.width, made.height) == (3, 4)
    assert [s.pressed for s in made.seams] == ["right", "left"]
    assert [float(s.start[1]) for s in made.seams] == [1, 3]
    sides_of(made)
    assert not covers(made)


def test_a_row_of_a_turned_unit() -> None:
    """A goose turned on its side is as wide as it was high."""
    desk = Desk()
    desk.unit("goose", "flying-geese", "night, glow", finished="4 x 2")
    desk.unit("pair", "row", "goose turned 90 | goose turned 270")
    made = desk.made("pair")
    assert (made.width, made.height) == (4, 4)
    assert not covers(made)


@given(st.lists(st.lists(st.integers(1, 12), min_size=1, max_size=5), min_size=1, max_size=4), st.data())
@settings(max_examples=20, deadline=None)
def test_random_rows_cover_their_outline(widths: list[list[int]], data: st.DataObject) -> None:
    """Rows of unequal columns: the last piece of each row takes what is left."""
    total = max(sum(row) for row in widths) + 1
    lines, high = [], 0
    for row in widths:
        h = data.draw(st.integers(1, 8))
        high += h
        sizes = [*row, total - sum(row)]
        lines.append(" | ".join(f"{FABRICS[i % 4]} {w}/4 x {h}/4" for i, w in enumerate(sizes)))
    made = one("rows", *lines, finished=f"{total}/4 x {high}/4")
    assert not covers(made)
    sides_of(made)
    pieces = sum(len(row) + 1 for row in widths)
    assert sum(c.count for c in made.recipe.cuts) == pieces == len(made.parts)


def test_a_row_that_can_not_be_sewn_is_contradicted() -> None:
    assert [p.code for p in problems_of("row", "night 2 x 3 | glow 2 x 4")] == ["does-not-add-up"]
    assert [p.code for p in problems_of("row", "night 2 x 3 | glow 2 x 3", finished="5 x 3")] == ["does-not-add-up"]
