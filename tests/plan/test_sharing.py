"""Strip units of the same strips, cut into segments of different widths."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.lengths import Length
from patternkit.plan.sharing import pack

widths = st.fractions(Fraction(1), Fraction(12), max_denominator=8)


@given(st.lists(st.tuples(widths, st.integers(1, 40)), min_size=1, max_size=4), st.integers(20, 44))
@settings(max_examples=60, deadline=None)
def test_every_segment_is_cut_once_and_fits(segments: list[tuple[Fraction, int]], width: int) -> None:
    ways = pack([(Length(w), n) for w, n in segments], Length(width))
    cut = [sum(times * way[i] for times, way in ways) for i in range(len(segments))]
    assert cut == [n for _, n in segments]
    for _, way in ways:
        assert sum(w * n for (w, _), n in zip(segments, way, strict=True)) <= width
    # never fewer than the cloth allows, never more than each by itself
    least = -(-sum(w * n for w, n in segments) // width)
    alone = sum(-(-n // (width // w)) for w, n in segments)
    assert least <= sum(times for times, _ in ways) <= alone


def test_a_segment_longer_than_the_cloth_gives_nothing() -> None:
    assert pack([(Length(50), 1)], Length(40)) == []
