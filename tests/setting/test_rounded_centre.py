"""A centre whose size no fraction gives, said as it is rounded, and what is sewn round it."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.project import Project

TEXT = """fabric a dark
fabric b light
unit hour
    quarter-square a, b
    cut 5 3/4
    measures 4 3/4
    make 20
block heart
    square-in-a-square a 12, b
    measures {}
quilt
    tile
        heart
    ring
        hour
        hour
    measures {}
"""


def problems(centre: str, quilt: str) -> list[str]:
    return [p.code for p in run(Project("heart.pattern", TEXT.format(centre, quilt)), guarded=False) if not p.advice]


def test_a_ring_closes_round_a_centre_that_was_rounded_when_it_was_stated() -> None:
    """12 root 2 is 16.97, and measures 17.47, in print 17 1/2; four hourglasses of 4 1/4 are 17, and six 25 1/2."""
    assert problems("17 1/2", "26") == []


@pytest.mark.parametrize(("centre", "quilt"), [("17", "26"), ("18", "26"), ("17 1/2", "27")])
def test_what_is_further_off_than_a_line_of_the_ruler_is_told(centre: str, quilt: str) -> None:
    assert problems(centre, quilt)
