"""Long pieces cut from strips joined end to end: enough of each, few seams, none close to the end of a piece."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from patternkit.lengths import ZERO, Length
from patternkit.plan.finishing import strips_joined
from patternkit.plan.joining import MANY, JoinedStrip, joined_strips

USABLE, JOIN, CLEAR = Length(Fraction(42)), Length(Fraction(1, 2)), Length(Fraction(4))


def of(*lengths: tuple[str, int]) -> tuple[JoinedStrip, ...]:
    """What the rule gives for some lengths of strips 42 in long."""
    wanted = [(Length(Fraction(x)), n) for x, n in lengths]
    most = strips_joined(sum((x * n for x, n in wanted), ZERO), USABLE, JOIN)
    return joined_strips(wanted, USABLE, JOIN, CLEAR, most)


def sewn(joins: tuple[JoinedStrip, ...], lengths: list[tuple[Fraction, int]], join: Fraction, usable: Fraction) -> int:
    """Cut and sew what the records say, strip by strip, with real ends; give how many seams there are.

    Every end that is joined must lie on the table by then, and be long enough; what is cut must fit in the strip.
    """
    ends: list[Fraction] = []
    cut: Counter[int] = Counter()
    seams = 0
    for one in joins:
        for _ in range(one.count):
            parts = [usable] * one.wholes
            if one.end is not None:
                fitting = sorted(e for e in ends if e >= one.end.fraction)
                assert fitting, "an end is joined that nobody kept"
                ends.remove(fitting[0])
                parts.append(fitting[0])
            seams += len(parts) - 1
            left = sum(parts) - join * (len(parts) - 1)
            for i, n in one.cuts:
                cut[i] += n
                left -= lengths[i][0] * n
            for at_least, n in one.keeps:
                ends += [at_least.fraction] * n
                left -= at_least.fraction * n
            assert left >= 0, "more is cut from a strip than it has"
    assert cut == Counter({i: n for i, (_, n) in enumerate(lengths)})
    return seams


def test_a_piece_that_one_strip_is_long_enough_for_has_no_seam() -> None:
    """Four border strips of a quilt 32 x 42 in: two whole ones, and two that are lengthened by the ends of those."""
    sides, ends = of(("85/2", 2), ("65/2", 2))
    assert (sides.count, sides.wholes, sides.end, sides.cuts) == (2, 1, None, ((1, 1),))
    assert (ends.count, ends.wholes, ends.cuts) == (2, 1, ((0, 1),))
    assert ends.end == sides.keeps[0][0] == CLEAR + JOIN


def test_one_strip_serves_several_pieces_with_its_ends() -> None:
    first, rest = of(("50", 4))
    assert (first.wholes, first.cuts, first.keeps) == (1, (), ((Length(Fraction(17, 2)), 4),))
    assert (rest.count, rest.wholes, rest.end) == (4, 1, Length(Fraction(17, 2)))


def test_where_ends_would_take_one_strip_more_all_are_joined_to_one() -> None:
    """Three of 63 1/2 in want an end of 22 in each, and no strip gives two of these: that would be six strips. Joined
    to one, five give 208 in for 190 1/2."""
    (one,) = of(("127/2", 3))
    assert (one.count, one.wholes, one.end, one.cuts) == (1, 5, None, ((0, 3),))


def test_along_one_joined_strip_the_pieces_lie_so_that_fewest_seams_come_close_to_their_ends() -> None:
    """Too many pieces to keep ends apart: every order of three lengths is tried here in another way."""
    wanted = [(Fraction(23), 21), (Fraction(41), 2), (Fraction(17, 2), 40)]
    total = sum((x * n for x, n in wanted), Fraction(0))
    most = strips_joined(Length(total), USABLE, JOIN)
    (one,) = joined_strips([(Length(x), n) for x, n in wanted], USABLE, JOIN, CLEAR, most)
    seams = [Fraction(83, 2) * k + Fraction(1, 4) for k in range(1, most)]

    def close(order: tuple[int, ...]) -> int:
        row = [wanted[i][0] for i in order for _ in range(wanted[i][1])]
        ends = [sum(row[: k + 1], Fraction(0)) for k in range(len(row))]
        return len([seam for seam in seams if min(abs(seam - end) for end in ends) < 4])

    assert sum(n for _, n in wanted) > MANY
    assert close(tuple(i for i, _ in one.cuts)) == min(close(order) for order in permutations(range(3)))


@given(
    st.lists(st.tuples(st.integers(8, 800), st.integers(1, 4)), min_size=1, max_size=4, unique_by=lambda x: x[0]),
    st.integers(80, 440),
    st.sampled_from([2, 4, 6]),
)
def test_every_plan_can_be_sewn(wanted: list[tuple[int, int]], usable: int, join: int) -> None:
    """In eighths of an inch: no more strips than all joined to one, and no more seams."""
    lengths = [(Fraction(x, 8), n) for x, n in wanted]
    total = sum((x * n for x, n in lengths), Fraction(0))
    wide, seam = Length(Fraction(usable, 8)), Length(Fraction(join, 8))
    most = strips_joined(Length(total), wide, seam)
    joins = joined_strips([(Length(x), n) for x, n in lengths], wide, seam, CLEAR, most)
    assert sum(j.count * j.wholes for j in joins) <= most
    assert sewn(joins, lengths, Fraction(join, 8), Fraction(usable, 8)) < max(most, 2)


@given(st.integers(43 * 8, 160 * 8), st.integers(1, 4))
def test_a_joined_end_is_long_enough_for_its_seam_to_keep_clear(length: int, n: int) -> None:
    for one in of((str(Fraction(length, 8)), n)):
        assert one.end is None or one.end >= CLEAR + JOIN
