"""Random seams, sizes and ruler grids: eighths of an inch, millimetres, and a grid so fine that nothing is
rounded."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import strategies as st

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


def cut_side(making: Making, nth: int = 0) -> float:
    """How wide the pieces of the recipe's cut are cut, as a plain number."""
    return float(making.recipe.cuts[nth].width)


def cut_sides(making: Making, nth: int = 0) -> tuple[float, float]:
    """Width and height of the same."""
    cut = making.recipe.cuts[nth]
    return float(cut.width), float(cut.height)


def sewn_size(making: Making, seam: float) -> tuple[float, float]:
    """What it measures from raw edge to raw edge before it is trimmed, as plain numbers."""
    if making.recipe.sewn is None:
        return float(making.width) + 2 * seam, float(making.height) + 2 * seam
    return float(making.recipe.sewn[0]), float(making.recipe.sewn[1])
