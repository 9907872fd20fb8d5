"""Strip units of the same strips, cut into segments of different widths."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.lengths import Length
from patternkit.plan.sharing import Way, cost, pack, share

widths = st.fractions(Fraction(1), Fraction(12), max_denominator=8)
wanted = st.lists(st.tuples(widths, st.integers(1, 40)), min_size=1, max_size=4)
Wanted = list[tuple[Fraction, int]]


def lengths(segments: Wanted) -> list[tuple[Length, int]]:
    return [(Length(w), n) for w, n in segments]


def alone(width: Fraction, n: int, long: Fraction) -> int:
    """Half strip units that one width takes by itself: whole ones, the last of half strips where those do."""
    whole, half = long // width, (long / 2) // width
    left = n % whole
    return n // whole * 2 + (0 if not left else 1 if left <= half else 2)


def check(segments: Wanted, ways: Sequence[Way], long: Fraction) -> None:
    """Every segment is cut, none twice, and no strip unit is cut further than it reaches."""
    assert [sum(w.times * w.numbers[i] for w in ways) for i in range(len(segments))] == [n for _, n in segments]
    for way in ways:
        reach = sum(w * n for (w, _), n in zip(segments, way.numbers, strict=True))
        assert reach <= (long / 2 if way.half else long)
    assert sum(way.times for way in ways if way.half) <= 1


@given(wanted, st.integers(20, 44))
@settings(max_examples=60, deadline=None)
def test_every_segment_is_cut_once_and_fits(segments: Wanted, width: int) -> None:
    ways = pack(lengths(segments), Length(width))
    cut = [sum(times * way[i] for times, way in ways) for i in range(len(segments))]
    assert cut == [n for _, n in segments]
    for _, way in ways:
        assert sum(w * n for (w, _), n in zip(segments, way, strict=True)) <= width
    # never fewer than the cloth allows, never more than each by itself
    least = -(-sum(w * n for w, n in segments) // width)
    apart = sum(-(-n // (width // w)) for w, n in segments)
    assert least <= sum(times for times, _ in ways) <= apart


@given(wanted, st.integers(20, 44))
@settings(max_examples=80, deadline=None)
def test_shared_strip_units_are_never_more_than_apart_or_by_first_fit(segments: Wanted, width: int) -> None:
    long = Fraction(width)
    ways = share(lengths(segments), Length(long))
    check(segments, ways, long)
    assert 2 * sum(times for times, _ in pack(lengths(segments), Length(long))) >= cost(ways)
    # whole strip units are never more than apart; with half strips apart may save a half for each,
    # which the plan weighs
    assert -(-cost(ways) // 2) <= sum(-(-alone(w, n, long) // 2) for w, n in segments)
    assert cost(ways) >= -(-2 * sum(w * n for w, n in segments) // long)


@given(widths, st.integers(1, 60), st.integers(20, 44))
@settings(max_examples=60, deadline=None)
def test_one_width_takes_what_division_says(width: Fraction, n: int, long: int) -> None:
    ways = share([(Length(width), n)], Length(long))
    assert cost(ways) == alone(width, n, Fraction(long))


@given(st.lists(st.tuples(st.integers(3, 11), st.integers(1, 3)), min_size=2, max_size=3), st.integers(12, 20))
@settings(max_examples=60, deadline=None)
def test_few_segments_are_packed_as_well_as_any_packing(segments: list[tuple[int, int]], long: int) -> None:
    """Every division into strip units tried by brute force, item by item."""
    items = tuple(w for w, n in segments for _ in range(n))

    @cache
    def fits(left: tuple[int, ...], rooms: tuple[int, ...]) -> bool:
        if not left:
            return True
        rest = left[1:]
        return any(
            r >= left[0] and fits(rest, tuple(sorted((*rooms[:i], r - left[0], *rooms[i + 1 :]))))
            for i, r in enumerate(rooms)
        )

    def least() -> int:
        for halves in range(1, 2 * len(items) + 2):
            if fits(items, tuple(sorted([2 * long] * (halves // 2) + [long] * (halves % 2)))):
                return halves
        raise AssertionError

    assert cost(share([(Length(w), n) for w, n in segments], Length(2 * long))) == least()


def test_a_segment_longer_than_the_cloth_gives_nothing() -> None:
    assert pack([(Length(50), 1)], Length(40)) == []
    assert share([(Length(50), 1), (Length(2), 3)], Length(40)) == []
    assert share([], Length(40)) == [] == share([(Length(2), 0)], Length(40))


@pytest.mark.parametrize(
    ("segments", "units"),
    [
        # first fit cuts 6 + 6 and 4 + 4 + 4 and needs a third: each strip unit gives one of 6 and two of 4
        ([(6, 2), (4, 4)], [Way(2, (1, 2))]),
        # a half strip unit of 7 would do for the 7, and not for what is left of the others
        ([(Fraction(5, 2), 6), (7, 1)], [Way(1, (2, 1)), Way(1, (4, 0))]),
    ],
)
def test_known_ways(segments: list[tuple[int, int]], units: list[Way]) -> None:
    found = share([(Length(w), n) for w, n in segments], Length(14))
    assert sum(w.times for w in found) == sum(w.times for w in units)
    check([(Fraction(w), n) for w, n in segments], found, Fraction(14))


def test_strip_units_that_can_be_cut_alike_are() -> None:
    ways = share([(Length(Fraction(5, 2)), 36), (Length(Fraction(9, 2)), 6)], Length(40))
    assert ways == [Way(2, (16, 0)), Way(1, (4, 6))]
    ways = share([(Length(Fraction(13, 2)), 16), (Length(Fraction(5, 2)), 20)], Length(40))
    assert ways == [Way(2, (6, 0)), Way(1, (4, 4)), Way(1, (0, 16))]


def test_many_kinds_are_packed_in_bounded_steps() -> None:
    """Twenty widths with nothing to spare: the search ends, and what it gives is right."""
    segments = [(Fraction(8 + i, 8), 7) for i in range(20)]
    check(segments, share(lengths(segments), Length(40)), Fraction(40))
