"""Random seams, sizes and ruler grids: eighths of an inch, millimetres, and a grid so fine that nothing is
rounded."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import strategies as st

from patternkit.lengths import Length
from patternkit.piecing.making import Making
from tests.kinds.bench import one

MM = Fraction(10, 254)
Case = tuple[Fraction, Fraction, Fraction]

imperial = st.tuples(
    st.fractions(Fraction(1, 8), Fraction(5, 8), max_denominator=16),
    st.fractions(Fraction(3, 4), Fraction(12), max_denominator=8),
    st.just(Fraction(1, 8)),
)
metric = st.tuples(st.integers(5, 15).map(lambda n: n * MM), st.integers(20, 250).map(lambda n: n * MM), st.just(MM))
fine = st.tuples(
    st.fractions(Fraction(1, 8), Fraction(5, 8), max_denominator=32),
    st.fractions(Fraction(3, 4), Fraction(12), max_denominator=32),
    st.just(Fraction(1, 10**7)),
)
cases = st.one_of(imperial, metric, fine)
"""Seam, finished size, ruler grid."""

ruled = st.one_of(
    st.tuples(
        st.integers(2, 10).map(lambda n: Fraction(n, 16)),
        st.integers(6, 60).map(lambda n: Fraction(n, 4)),
        st.just(Fraction(1, 8)),
    ),
    metric,
    fine,
)
"""The same, such that finished sizes and their halves with two seams lie on the ruler."""


def unit(kind: str, line: str, case: Case, times: tuple[int, int] = (1, 1), **said: Any) -> tuple[Making, float]:
    """A making at the case's size (times so much wide, times so much high), and its seam as a plain
    number."""
    seam, finished, grid = case
    size = f"{finished * times[0]} x {finished * times[1]}"
    return one(kind, line, seam=seam, grid=grid, finished=size, **said), float(seam)


def number(making: Making, key: str) -> float:
    """A length among the recipe's values, as a plain number."""
    value = making.recipe.values[key]
    assert isinstance(value, Length)
    return float(value)
