"""Bias binding cut and sewn from plain polygons, against what is worked out of it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon, box

from patternkit.lengths import Length
from patternkit.plan.bias import least_slanted, least_tube, slanted, tube
from tests.published.desk import plain, planned

EIGHTH = Fraction(1, 8)
FAR = 1e4

wides = st.integers(6, 40).map(lambda n: Fraction(n, 8))
seams = st.integers(1, 8).map(lambda n: Fraction(n, 16))


def band(low: float, high: float) -> Polygon:
    """All points with x + y between two values: a strip on the bias."""
    return Polygon([(low - FAR, FAR), (high - FAR, FAR), (high + FAR, -FAR), (low + FAR, -FAR)])


def sewn_tube(side: Fraction, wide: Fraction, seam: Fraction, moved: float) -> list[float]:
    """Cut a square corner to corner, sew a leg of one half to a leg of the other with the tips moved past each other,
    and mark strips from a bias edge: how long the edge of each whole strip is between the stitches of the tube."""
    s, size = float(seam), float(side)
    lower = Polygon([(0, 0), (size, 0), (0, size)])
    upper = affinity.translate(Polygon([(size, 0), (size, size), (0, size)]), -moved, -size + 2 * s)
    # what shows on both sides of the stitches at y = s, between the straight edges at x = 0 and x = S - moved
    shows = lower.intersection(box(0, s, size, size)).union(upper.intersection(box(-FAR, -FAR, FAR, s))).buffer(1e-9)
    first, step = 2 * s - moved, float(wide) * sqrt(2)  # the bias edge of the upper half, the strips along an axis
    lengths: list[float] = []
    while True:
        strip = band(first + len(lengths) * step, first + (len(lengths) + 1) * step)
        if strip.intersection(box(0, -FAR, size - moved, FAR)).difference(shows).area > 1e-6:
            return lengths
        lengths.append(strip.intersection(box(s, -FAR, size - moved - s, FAR)).area / float(wide))


def joined(lengths: Sequence[float], wide: Fraction, seam: Fraction) -> float:
    """Strips joined by slanted seams: the first and the last keep the allowance of an end; square ends cost a width."""
    return max(0.0, sum(lengths) + 2 * float(seam) * sqrt(2) - float(wide)) if lengths else 0.0


@given(st.integers(40, 480).map(lambda n: Fraction(n, 8)), wides, seams)
def test_a_tube_gives_what_it_gives_when_it_is_sewn(side: Fraction, wide: Fraction, seam: Fraction) -> None:
    """Level tips settle how many strips there are, moved tips how long they are; nothing between falls short of it."""
    found = tube(Length(side), Length(wide), Length(seam))
    for moved in (0.0, float(seam) / 2, float(seam)):
        lengths = sewn_tube(side, wide, seam, moved)
        assert len(lengths) >= found.rounds
        assert joined(lengths[: found.rounds], wide, seam) >= float(found.gives) - 1e-6
    assert joined(lengths[: found.rounds], wide, seam) == pytest.approx(float(found.gives), abs=1e-6)
    assert len(sewn_tube(side, wide, seam, 0.0)) == found.rounds


@given(st.integers(100, 5000).map(lambda n: Fraction(n, 8)), wides, seams)
def test_no_smaller_square_on_the_ruler_gives_enough(total: Fraction, wide: Fraction, seam: Fraction) -> None:
    found = least_tube(Length(total), Length(wide), Length(seam), EIGHTH)
    assert found.gives >= total and found.side.on_grid(EIGHTH)
    smaller = found.side.fraction - EIGHTH
    rounds = len(sewn_tube(smaller, wide, seam, 0.0))
    assert joined(sewn_tube(smaller, wide, seam, float(seam))[:rounds], wide, seam) < total


def cut_slanted(length: Fraction, usable: Fraction, wide: Fraction) -> int:
    """How many strips at 45 degrees run from cut edge to cut edge of a length of cloth."""
    cloth = box(0, 0, float(usable), float(length))
    step, n = float(wide) * sqrt(2), 0
    first = float(length)  # the line from the lower left corner up to the other edge, seen as x + y with y down
    while True:
        strip = band(first + n * step, first + (n + 1) * step).intersection(box(-FAR, 0, FAR, float(length)))
        if strip.difference(cloth.buffer(1e-9)).area > 1e-6:
            return n
        n += 1


@given(
    st.integers(8, 200).map(lambda n: Fraction(n, 8)),
    st.integers(160, 480).map(lambda n: Fraction(n, 8)),
    wides,
    seams,
)
def test_slanted_strips_are_counted_and_joined_as_cut(
    length: Fraction, usable: Fraction, wide: Fraction, seam: Fraction
) -> None:
    found = slanted(Length(length), Length(usable), Length(wide), Length(seam))
    n = cut_slanted(length, usable, wide) if length < usable else 0
    assert found.strips == n
    if n:
        strip = band(0, float(wide) * sqrt(2))  # between the stitches it ends a seam within the cut edges
        sewn = strip.intersection(box(-FAR, float(seam), FAR, float(length - seam))).area / float(wide)
        assert float(found.each) == pytest.approx(
            strip.intersection(box(-FAR, 0, FAR, float(length))).area / float(wide)
        )
        assert float(found.gives) == pytest.approx(joined([sewn] * n, wide, seam), abs=1e-6)


@given(st.integers(100, 3000).map(lambda n: Fraction(n, 8)), st.integers(160, 480).map(lambda n: Fraction(n, 8)), wides)
def test_the_shortest_length_that_gives_enough(total: Fraction, usable: Fraction, wide: Fraction) -> None:
    """Every shorter length on the ruler is tried, and where none is offered every length."""
    seam = Length(Fraction(1, 4))
    found = least_slanted(Length(total), Length(usable), Length(wide), seam, EIGHTH)
    last = found.length.fraction if found is not None else usable
    tried = [Fraction(n, 8) for n in range(1, ceil(last * 8))]
    enough = [h for h in tried if slanted(Length(h), Length(usable), Length(wide), seam).gives >= total]
    assert enough == [] and (found is None or found.gives >= total)


@pytest.mark.parametrize("units, ruler", [("inches", Fraction(1, 8)), ("cm", Fraction(10, 254))])
def test_the_square_lies_on_the_ruler_and_is_what_is_cut(units: str, ruler: Fraction) -> None:
    size = ("51", "61", "binding cut 2 1/2 night, bias, from a square")
    metric = ("120", "150", "binding cut 6 night, bias, from a square")
    plan = planned(plain(*(size if units == "inches" else metric), settings=(f"units {units}",)))
    made = plan.binding
    assert made is not None and made.square is not None and made.square.on_grid(ruler)
    assert made.gives >= made.total
    (line,) = (x for x in plan.lines if x.called == "bias binding")
    assert line.cut.width == line.cut.height == made.square
