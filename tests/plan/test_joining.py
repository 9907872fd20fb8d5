"""Long pieces cut from strips joined end to end: enough of each, few seams, none close to the end of a piece."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from patternkit.lengths import ZERO, Length
from patternkit.piecing.joined import JoinedStrip
from patternkit.plan.finishing import strips_joined
from patternkit.plan.joining import MANY, Joining, Rest, joined_strips, so_few_do, whole_strips

USABLE, JOIN, CLEAR = Length(Fraction(42)), Length(Fraction(1, 2)), Length(Fraction(4))
WAY = Joining(USABLE, JOIN, CLEAR)


def of(*lengths: tuple[str, int]) -> tuple[JoinedStrip, ...]:
    """What the rule gives for some lengths of strips 42 in long."""
    wanted = [(Length(Fraction(x)), n) for x, n in lengths]
    most = strips_joined(sum((x * n for x, n in wanted), ZERO), USABLE, JOIN)
    return joined_strips(wanted, WAY, most)


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
            for at_least in (x.fraction for x, n in one.ends for _ in range(n)):
                fitting = sorted(e for e in ends if e >= at_least)
                assert fitting, "an end is joined that nobody kept"
                ends.remove(fitting[0])
                parts.append(fitting[0])
            if one.of is not None:
                assert one.left is not None and not parts
                parts.append(one.left.fraction)
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
    assert (sides.count, sides.wholes, sides.ends, sides.cuts) == (2, 1, (), ((1, 1),))
    assert (ends.count, ends.wholes, ends.cuts) == (2, 1, ((0, 1),))
    assert ends.ends == sides.keeps == ((CLEAR + JOIN, 1),)


def test_one_strip_serves_several_pieces_with_its_ends() -> None:
    first, rest = of(("50", 4))
    assert (first.wholes, first.cuts, first.keeps) == (1, (), ((Length(Fraction(17, 2)), 4),))
    assert (rest.count, rest.wholes, rest.ends) == (4, 1, ((Length(Fraction(17, 2)), 1),))


def test_where_ends_would_take_one_strip_more_all_are_joined_to_one() -> None:
    """Three of 63 1/2 in want an end of 22 in each, and no strip gives two of these: that would be six strips. Joined
    to one, five give 208 in for 190 1/2."""
    (one,) = of(("127/2", 3))
    assert (one.count, one.wholes, one.ends, one.cuts) == (1, 5, (), ((0, 3),))


def test_along_one_joined_strip_the_pieces_lie_so_that_fewest_seams_come_close_to_their_ends() -> None:
    """Too many pieces to keep ends apart: every order of three lengths is tried here in another way."""
    wanted = [(Fraction(23), 21), (Fraction(41), 2), (Fraction(17, 2), 40)]
    total = sum((x * n for x, n in wanted), Fraction(0))
    most = strips_joined(Length(total), USABLE, JOIN)
    (one,) = joined_strips([(Length(x), n) for x, n in wanted], WAY, most)
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
    joins = joined_strips([(Length(x), n) for x, n in lengths], Joining(wide, seam, CLEAR), most)
    assert sum(j.count * j.wholes for j in joins) <= most
    assert sewn(joins, lengths, Fraction(join, 8), Fraction(usable, 8)) < max(most, 2)


@given(st.integers(43 * 8, 160 * 8), st.integers(1, 4))
def test_a_joined_end_is_long_enough_for_its_seam_to_keep_clear(length: int, n: int) -> None:
    for one in of((str(Fraction(length, 8)), n)):
        assert all(end >= CLEAR + JOIN for end, _ in one.ends)


def test_what_is_left_of_other_strips_saves_a_whole_one() -> None:
    """Binding of 192 in from strips of 42 in that lose 2 1/2 in at a join: five give 200, four give 160 1/2. Two rests
    of 20 in make up for the fifth: 160 1/2 + 2 x 17 1/2 = 195 1/2 in. One of them does not."""
    way = Joining(USABLE, Length(Fraction(5, 2)))
    rest = Rest(Length(Fraction(20)), Length(Fraction(21, 4)))
    wanted = [(Length(Fraction(192)), 1)]
    assert whole_strips(joined_strips(wanted, way, 5, [rest])) == 5
    kept, whole = joined_strips(wanted, way, 5, [rest, rest])
    assert (kept.count, kept.wholes, kept.of, kept.keeps) == (2, 0, rest.of, ((rest.long, 1),))
    assert (whole.wholes, whole.ends, whole.cuts) == (4, ((rest.long, 2),), ((0, 1),))
    assert sewn((kept, whole), [(Fraction(192), 1)], Fraction(5, 2), Fraction(42)) == 5


def test_a_rest_is_left_alone_where_it_saves_nothing() -> None:
    wanted = [(Length(Fraction(85, 2)), 2), (Length(Fraction(65, 2)), 2)]
    rest = Rest(Length(Fraction(20)), Length(Fraction(6)))
    assert joined_strips(wanted, WAY, 4, [rest]) == joined_strips(wanted, WAY, 4)


@given(
    st.lists(st.tuples(st.integers(8, 800), st.integers(1, 4)), min_size=1, max_size=4, unique_by=lambda x: x[0]),
    st.lists(st.tuples(st.integers(80, 300), st.integers(20, 60)), max_size=4),
    st.integers(300, 440),
    st.sampled_from([2, 4, 20]),
)
def test_every_plan_with_rests_can_be_sewn(
    wanted: list[tuple[int, int]], rests: list[tuple[int, int]], usable: int, join: int
) -> None:
    """In eighths of an inch. No rest is taken twice."""
    lengths = [(Fraction(x, 8), n) for x, n in wanted]
    given = [Rest(Length(Fraction(x, 8)), Length(Fraction(h, 8))) for x, h in rests]
    way = Joining(Length(Fraction(usable, 8)), Length(Fraction(join, 8)), CLEAR)
    most = strips_joined(Length(sum((x * n for x, n in lengths), Fraction(0))), way.usable, way.join)
    alone = joined_strips([(Length(x), n) for x, n in lengths], way, most)
    joins = joined_strips([(Length(x), n) for x, n in lengths], way, most, given)
    assert whole_strips(joins) <= whole_strips(alone)
    sewn(joins, lengths, Fraction(join, 8), Fraction(usable, 8))
    taken = Counter[Rest]()
    for one in joins:
        if one.of is not None and one.left is not None:
            taken[Rest(one.left, one.of)] += one.count
    assert not taken - Counter(given)
    enough = [
        so_few_do(tuple((Length(x), n) for x, n in lengths), way, most, tuple(given), few) for few in range(most + 1)
    ]
    assert enough == [whole_strips(joins) <= few for few in range(most + 1)]
