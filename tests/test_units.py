"""Units: agreement with pint, and numbers as the trade prints them."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternkit.lengths import SQRT2, Length
from patternkit.units import (
    CENTIMETRES,
    IMPERIAL,
    INCHES_IN,
    MILLIMETRES,
    decimal,
    inches_in,
    mixed,
    number,
    show,
    show_size,
)

# The library's own definitions, not those that the code under test gives it.
REGISTRY: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)


@pytest.mark.parametrize(
    "name",
    [
        "in",
        "yd",
        "mm",
        "cm",
        "m",
        "ft",
        "inch",
        "inches",
        "feet",
        "yards",
        "metre",
        "meters",
        "centimetres",
        "centimeters",
        "millimetre",
        "millimeters",
    ],
)
def test_inches_in_a_unit_agree_with_pint(name: str) -> None:
    assert inches_in(name) == REGISTRY.Quantity(Fraction(1), name).to("inch").magnitude


def test_an_inch_mark_is_an_inch() -> None:
    assert INCHES_IN['"'] == 1


@pytest.mark.parametrize("name", ["", "2 in", "1 1/4 in", "in/yd", "in**2", "second", "gram", "§", "in "])
def test_what_is_no_unit_of_length_is_refused(name: str) -> None:
    assert inches_in(name) is None


@given(st.integers(-5000, 5000), st.sampled_from([1, 2, 3, 4, 8, 16, 32, 64, 5]))
def test_mixed_numbers_read_back(top: int, bottom: int) -> None:
    value = Fraction(top, bottom)
    text = mixed(value)
    parts = text.lstrip("-").split(" ")
    assert len(parts) <= 2
    read = sum((Fraction(p) for p in parts), Fraction(0))
    assert (-read if text.startswith("-") else read) == value
    if len(parts) == 2:
        assert Fraction(parts[1]) < 1


@given(st.fractions(min_value=-1000, max_value=1000, max_denominator=999), st.integers(0, 4))
def test_decimals_are_the_nearest(value: Fraction, places: int) -> None:
    text = decimal(value, places)
    assert abs(Fraction(text) - value) * 2 <= Fraction(1, 10**places)
    assert not text.endswith(".") and ("." not in text or not text.endswith("0"))
    assert text != "-0"


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Fraction(5, 4), "1 1/4"),
        (Fraction(5, 8), "5/8"),
        (Fraction(3), "3"),
        (Fraction(-1, 2), "-1/2"),
        (Fraction(0), "0"),
        (Fraction(-9, 4), "-2 1/4"),
    ],
)
def test_numbers_in_inches(value: Fraction, text: str) -> None:
    assert number(Length(value), IMPERIAL) == text
    assert show(Length(value), IMPERIAL) == text + " in"


def test_a_rounded_number_never_looks_exact() -> None:
    assert number(SQRT2 * 6, IMPERIAL) == "about 8 1/2"
    assert number(Length(Fraction(1, 3)), IMPERIAL) == "about 5/16"
    assert number(Length(9), CENTIMETRES) == "22.86"
    assert number(Length(Fraction(1, 3)), CENTIMETRES) == "about 0.85"
    assert number(Length(Fraction(5, 127)), MILLIMETRES) == "1"
    assert number(SQRT2, MILLIMETRES) == "about 35.9"


def test_width_before_height_and_the_unit_once() -> None:
    assert show_size(Length(Fraction(7, 2)), Length(Fraction(13, 2)), IMPERIAL) == "3 1/2 x 6 1/2 in"
