"""Patterns as text, worked out: makings and problems, at any seam."""

from __future__ import annotations

from fractions import Fraction

from patternkit.model.build import build
from patternkit.piecing.making import Making
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.solving import solve
from patternkit.piecing.workshop import Workshop
from patternkit.pressing.statements import press_making
from patternkit.problems import Problem
from patternkit.syntax.parse import parse

HEAD = """pattern "Test piece"
    units inches
    seam {seam}
    ruler {ruler}

fabric sea "Sea green" dark #1b2a49
fabric night "Midnight" dark #101828
fabric glow "Lamp" light #f4c95d
fabric stone "Stone" medium #9aa3ad
fabric sky "Sky" light #cfe3ef

"""


def worked(text: str, seam: str | Fraction = "1/4", ruler: str = "1/8") -> tuple[dict[str, Making], list[Problem]]:
    """All makings of the units in `text`, and every problem of reading, sizes and makings."""
    file = parse("test.pattern", HEAD.format(seam=seam, ruler=ruler) + text)
    pattern, problems = build(file.nodes)
    found = [*file.problems, *problems]
    sizing = Sizing(pattern)
    solution = solve(sizing)
    shop = Workshop(pattern, sizing, solution, press_making)
    made = shop.make_all()
    wrong = [Problem("does-not-add-up", str(c)) for c in solution.contradictions]
    return made, [*found, *sizing.problems, *shop.problems, *wrong]


def made(text: str, name: str, seam: str | Fraction = "1/4", ruler: str = "1/8") -> Making:
    """One making; fails when there is a problem."""
    makings, problems = worked(text, seam, ruler)
    assert not problems, [(p.message, p.causes) for p in problems]
    return makings[name]


def problems_of(text: str) -> list[Problem]:
    """The problems of the units in `text`."""
    return worked(text)[1]
