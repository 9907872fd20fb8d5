"""Patterns as a writer types them, for the published cases: units in words, makings and problems out."""

from __future__ import annotations

import textwrap

import patternkit
from patternkit.piecing.making import Making, PieceCut
from patternkit.piecing.names import english
from patternkit.problems import Problem
from patternkit.project import Project

HEAD = """\
pattern "Saltmarsh trial"
    {settings}
fabric night "Midnight" dark #1b2a49
fabric glow "Lamp" light #f4c95d
fabric stone "Quay" medium #9aa3ad
"""


def written(body: str, *settings: str) -> Project:
    """A pattern with three fabrics (night, glow, stone) and these units."""
    head = HEAD.format(settings="\n    ".join(settings or ("seam 1/4",)))
    return Project("trial.pattern", head + textwrap.dedent(body))


def problems(body: str, *settings: str) -> list[Problem]:
    """Every problem of a pattern that is not merely advice, and not about units that nothing uses."""
    found = patternkit.check(written(body, *settings))
    return [p for p in found if not p.advice]


def codes(body: str, *settings: str) -> list[str]:
    """The codes of the problems."""
    return [p.code for p in problems(body, *settings)]


def made(kind: str, *lines: str, settings: tuple[str, ...] = ()) -> Making:
    """The making of one unit, given the lines under its head; fails when there is a problem."""
    body = "\nunit it\n" + "".join(f"    {line}\n" for line in (kind, *lines))
    project = written(body, *settings)
    said = [p.message for p in [*project.reading, *project.building, *project.sizing.problems, *project.shop.problems]]
    makings = project.makings
    said += [p.message for p in project.shop.problems]
    assert not said, said
    assert not problems(body, *settings)
    return makings["it"]


def objections(kind: str, *lines: str, settings: tuple[str, ...] = ()) -> list[str]:
    """The codes of the problems of one unit."""
    return codes("\nunit it\n" + "".join(f"    {line}\n" for line in (kind, *lines)), *settings)


def cut_of(making: Making, fabric: str, name: str = "") -> PieceCut:
    """The one cut of a fabric (and a name)."""
    found = [
        c
        for c in making.recipe.cuts
        if c.fabric == fabric and (not name or (c.name is not None and english(c.name) == name))
    ]
    assert len(found) == 1, found
    return found[0]


def sewn(making: Making) -> float:
    """What a square unit measures before it is trimmed."""
    assert making.recipe.sewn is not None
    return float(making.recipe.sewn[0])
