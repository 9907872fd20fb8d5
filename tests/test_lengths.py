"""Exact lengths: the laws of arithmetic and order, and agreement with decimals of sixty digits."""

from __future__ import annotations

import pickle
from decimal import Decimal, localcontext
from fractions import Fraction
from math import isqrt
from time import process_time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternkit.lengths import ONE, SQRT2, SQRT3, ZERO, Length, ceil_fraction, root

fractions = st.builds(Fraction, st.integers(-400, 400), st.sampled_from([1, 2, 3, 4, 8, 16, 7, 127]))
grids = st.sampled_from([Fraction(1, 8), Fraction(1, 16), Fraction(5, 127), Fraction(1), Fraction(1, 3)])
rooted = st.builds(
    lambda a, b, c, d: a + b * SQRT2 + c * SQRT3 + d * (SQRT2 * SQRT3),
    st.builds(Length, fractions),
    fractions,
    fractions,
    fractions,
)
lengths = st.one_of(st.builds(Length, fractions), rooted)


def as_decimal(x: Length) -> Decimal:
    """The value to sixty digits, by a route of its own."""
    total = Decimal(x.q.numerator) / Decimal(x.q.denominator)
    for n, c in x.roots:
        total += Decimal(n).sqrt() * c.numerator / c.denominator
    return total


@given(lengths, lengths, lengths)
def test_arithmetic_keeps_the_laws_of_a_field(a: Length, b: Length, c: Length) -> None:
    assert (a + b) + c == a + (b + c)
    assert a * b == b * a
    assert (a * b) * c == a * (b * c)
    assert a * (b + c) == a * b + a * c
    assert a - b == -(b - a)
    assert a - a == ZERO and not (a - a)
    if b:
        assert b * b.inverse() == ONE
        assert (a / b) * b == a


@given(lengths, fractions)
def test_whole_numbers_and_fractions_mix_on_either_side(a: Length, f: Fraction) -> None:
    whole = f.numerator
    for plain in (f, whole):
        assert a + plain == plain + a == a + Length(plain)
        assert a - plain == a - Length(plain)
        assert plain - a == Length(plain) - a
        assert a * plain == plain * a == a * Length(plain)
        if plain:
            assert a / plain == a / Length(plain)
        if a:
            assert plain / a == Length(plain) / a
        assert (a < plain) == (a < Length(plain)) and (a >= plain) == (a >= Length(plain))


@given(lengths, lengths)
def test_order_agrees_with_sixty_digits(a: Length, b: Length) -> None:
    with localcontext() as context:
        context.prec = 60
        x, y = as_decimal(a), as_decimal(b)
        if a == b:
            assert abs(x - y) < Decimal(10) ** -50
            assert a <= b and a >= b and not a < b and not a > b
        else:
            assert (a < b) == (x < y)
            assert (a > b) == (x > y)
        assert a.sign() == (x > Decimal(10) ** -50) - (x < -(Decimal(10) ** -50))
        assert float(a) == pytest.approx(float(x), rel=1e-15, abs=1e-300)


@given(fractions)
def test_equal_numbers_hash_alike(f: Fraction) -> None:
    assert Length(f) == f and hash(Length(f)) == hash(f)
    assert Length(str(f)) == f
    assert Length(f).fraction == f and Length(f).is_fraction
    if f.denominator == 1:
        assert Length(f) == int(f) and hash(Length(f)) == hash(int(f))


@given(lengths)
def test_hash_copy_and_pickle(a: Length) -> None:
    again = (a + SQRT2 + Fraction(1, 3)) - Fraction(1, 3) - SQRT2
    assert again == a and hash(again) == hash(a)
    assert pickle.loads(pickle.dumps(a)) == a
    assert Length(a) == a
    assert a.q.denominator > 0


@given(lengths, grids)
def test_rounding_stays_within_one_step(a: Length, grid: Fraction) -> None:
    down, up, near = a.floor_to(grid), a.ceil_to(grid), a.round_to(grid)
    assert down <= a and a < down + grid
    assert up >= a and a > up - grid
    assert abs(a - near) * 2 <= grid
    assert all((x / grid).denominator == 1 for x in (down, up, near))
    assert a.on_grid(grid) == (down == up)


def test_a_half_rounds_up_and_a_cut_is_never_short() -> None:
    assert Length(Fraction(1, 16)).round_to(Fraction(1, 8)) == Fraction(1, 8)
    assert Length(Fraction(-1, 16)).round_to(Fraction(1, 8)) == 0
    assert (SQRT2 * 6).ceil_to(Fraction(1, 8)) == Fraction(17, 2)  # 8.485...
    assert Length(3).ceil_to(Fraction(1, 8)) == 3


@given(st.integers(0, 10**9), st.integers(1, 10**6))
def test_square_roots_square_back(top: int, bottom: int) -> None:
    """Top times bottom stays within a million billion, as far as all square factors are looked for."""
    value = Fraction(top, bottom)
    x = root(value)
    assert x * x == value
    assert x >= 0
    for n, _ in x.roots:
        assert all(n % (p * p) for p in range(2, min(isqrt(n) + 1, 1000)))


@given(fractions, fractions)
def test_square_root_of_a_sum_with_one_root(a: Fraction, b: Fraction) -> None:
    for n in (SQRT2, SQRT3):
        x = a + b * n
        assert (x * x).sqrt() == abs(x)


def test_what_has_no_exact_root_says_so() -> None:
    with pytest.raises(ValueError, match="negative"):
        root(-1)
    with pytest.raises(ValueError, match="no exact square root"):
        (1 + SQRT2).sqrt()
    with pytest.raises(ValueError, match="not a fraction"):
        _ = SQRT2.fraction
    with pytest.raises(ZeroDivisionError):
        ZERO.inverse()
    with pytest.raises(TypeError):
        Length(0.1)  # type: ignore[arg-type]


def test_numbers_that_nearly_cancel() -> None:
    # (sqrt(2) - 1)**40 is about 5e-16: the parts are fifteen digits long and cancel
    x = ONE
    for _ in range(40):
        x = x * (SQRT2 - 1)
    assert x.sign() == 1
    assert float(x) == pytest.approx((2**0.5 - 1) ** 40, rel=1e-9)
    assert x.floor_to(Fraction(1)) == 0 and x.ceil_to(Fraction(1)) == 1
    assert x * (SQRT2 + 1) != x


def test_enormous_numbers_are_quick() -> None:
    start = process_time()
    huge = SQRT2 * 10**60 + Fraction(1, 3)
    assert huge.floor_to(Fraction(1, 8)) <= huge
    assert huge.ceil_to(Fraction(1, 8)) - huge.floor_to(Fraction(1, 8)) == Fraction(1, 8)
    with pytest.raises(ValueError, match="too long"):
        root((10**18 + 9) * (10**18 + 3))
    large = root(99_999_999_999_973) + root(3 * 5 * 7)
    assert large * large.inverse() == 1
    assert process_time() - start < 1


@given(rooted, rooted)
def test_arithmetic_agrees_with_sixty_digits(a: Length, b: Length) -> None:
    with localcontext() as context:
        context.prec = 80
        x, y, small = as_decimal(a), as_decimal(b), Decimal(10) ** -40
        assert abs(as_decimal(a + b) - (x + y)) < small
        assert abs(as_decimal(a * b) - x * y) < small
        if b:
            assert abs(as_decimal(a / b) * y - x) < small


def test_ceil_fraction() -> None:
    assert [ceil_fraction(Fraction(x, 4)) for x in (-5, -4, -1, 0, 1, 4, 5)] == [-1, -1, 0, 0, 1, 1, 2]


def test_printed_for_a_programmer() -> None:
    assert repr(Fraction(1, 2) + SQRT2) == "Length(1/2 + 1*sqrt(2))"
    assert repr(ZERO) == "Length(0)"
