"""Patterns with claims, checked; what is found, and the pattern with an offer taken."""

from __future__ import annotations

from patternkit.checks import run
from patternkit.problems import Problem
from patternkit.project import Project

STAR = """\
pattern "Stars"
    usable width 42
fabric night "Midnight" dark #1b2a49
    {night}
fabric glow "Lamp" light #f4c95d
    {glow}

block star
    rows
        night 2 | glow 4 x 2 | night 2
        glow 2 x 4 | night 4 | glow 2 x 4
        night 2 | glow 4 x 2 | night 2
    {star}

quilt
    across 4, down 4
    tile
        star
    {quilt}
"""
"""16 blocks: 64 squares 2 1/2 and 16 of 4 1/2 of night, 64 of 2 1/2 x 4 1/2 of glow."""


def star(*, night: str = "", glow: str = "", star: str = "", quilt: str = "") -> str:
    """The stars with claims."""
    text = STAR.format(night=night, glow=glow, star=star, quilt=quilt)
    return "\n".join(line for line in text.split("\n") if line.strip() or not line)


def found(text: str) -> list[Problem]:
    """All that is said of a pattern."""
    return run(Project("c.pattern", text), guarded=False)


def said(text: str, code: str) -> Problem:
    """The one thing that is said of a pattern."""
    (one,) = found(text)
    assert one.code == code, one
    return one


def taken(text: str, problem: Problem) -> str:
    """The pattern with the first offer put in."""
    repair = problem.repairs[0]
    assert repair.span is not None and repair.replacement is not None
    return repair.taken(text)


def settled(text: str, code: str) -> Problem:
    """The one thing that is said of a pattern, whose first offer leaves nothing to say."""
    one = said(text, code)
    assert found(taken(text, one)) == []
    return one
