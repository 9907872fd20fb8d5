"""Counts that are claimed: of all, of those that are not mirrored, or of both."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.problems import Problem
from patternkit.project import Project

TEXT = """fabric tide dark
fabric foam light

unit blade
    half-rectangle tide, foam
    leaning left
    finished 2 x 4
    {make}

quilt
    layout
        {row}
"""
SEVEN_AND_SIX = " | ".join(["blade", "blade mirrored"] * 6 + ["blade"])


def told(make: str, row: str = SEVEN_AND_SIX) -> list[Problem]:
    return [p for p in run(Project("blade.pattern", TEXT.format(make=make, row=row)), guarded=False) if not p.advice]


@pytest.mark.parametrize("make", ["make 7", "make 13", "make 7, 6 mirrored"])
def test_counts_that_hold(make: str) -> None:
    assert told(make) == []


@pytest.mark.parametrize(
    "make", ["make 6", "make 12", "make 6, 7 mirrored", "make 13, 6 mirrored", "make 7, 0 mirrored"]
)
def test_counts_that_do_not(make: str) -> None:
    (problem,) = told(make)
    assert problem.code == "make-differs" and problem.repairs[0].replacement == "make 7, 6 mirrored"
    assert any("6 of them are mirrored" in cause for cause in problem.causes)
    assert told(problem.repairs[0].replacement or "") == []


def test_without_mirror_images_there_is_one_count() -> None:
    row = "blade | blade | blade"
    assert told("make 3", row) == []
    (problem,) = told("make 3, 2 mirrored", row)
    assert problem.repairs[0].replacement == "make 3, 0 mirrored"
    assert told("make 4", row) == []  # they come in pairs


def test_a_border_that_does_not_close_is_no_count() -> None:
    """What the border needs is not known, so nothing is said of the counts."""
    text = TEXT.format(make="make 20", row="blade | blade") + "    ring\n        spar\n        spar\n"
    text = text.replace("quilt\n", "unit spar\n    patch tide 3\n    make 8\n\nquilt\n")
    found = [p.code for p in run(Project("blade.pattern", text), guarded=False) if not p.advice]
    assert found == ["border-does-not-close"]
