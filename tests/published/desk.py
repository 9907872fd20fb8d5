"""Patterns as a writer types them, and what the library says of them: the bench for the published cases."""

from __future__ import annotations

import textwrap
from fractions import Fraction

import patternkit
from patternkit.lengths import Length
from patternkit.plan.model import CutLine, Plan
from patternkit.problems import Problem
from patternkit.project import Project

HEAD = """\
pattern "Saltmarsh trial"
    {settings}
fabric night "Midnight" dark #1b2a49
    {night}
fabric glow "Lamp" light #f4c95d
    {glow}
fabric stone "Quay" medium #9aa3ad
    {stone}
"""


def num(text: str | int) -> Length:
    """A length as a writer types it: ``9 3/4``."""
    return Length(sum((Fraction(part) for part in str(text).split()), Fraction(0)))


def pattern(body: str, *settings: str, night: str = "", glow: str = "", stone: str = "") -> Project:
    """A pattern with three fabrics, what is said of each, and these units and quilt."""
    head = HEAD.format(settings="\n    ".join(settings or ("seam 1/4",)), night=night, glow=glow, stone=stone)
    return Project("trial.pattern", head + textwrap.dedent(body))


def plain(width: str, height: str, *lines: str, settings: tuple[str, ...] = (), **fabrics: str) -> Project:
    """A whole-cloth quilt of this finished size on cloth wide enough, with these lines under its quilt."""
    body = f"block wall\n    patch stone\n    finished {width} x {height}\n\nquilt\n    layout\n        wall\n"
    fabrics["stone"] = f"usable width 202\n    {fabrics.get('stone', '')}"
    return pattern(body + "".join(f"    {line}\n" for line in lines), *settings, **fabrics)


def measuring(width: str, height: str, *lines: str, settings: tuple[str, ...] = (), **fabrics: str) -> Project:
    """A whole-cloth quilt whose top measures so much before it is bound, seam allowances of 1/4 in included: pages that
    count a backing from the top count from that."""
    return plain(*(mixed(num(x) - num("1/2")) for x in (width, height)), *lines, settings=settings, **fabrics)


def mixed(length: Length) -> str:
    """A length as a writer types it: ``9 3/4``."""
    whole, rest = divmod(length.fraction, 1)
    return f"{whole} {rest}" if rest else f"{whole}"


def problems(project: Project) -> list[Problem]:
    """What the checker objects to, advice left out."""
    return [p for p in patternkit.check(project) if not p.advice]


def sound(project: Project) -> Project:
    """The project, once nothing is objected to."""
    assert [p.message for p in problems(project)] == []
    return project


def objection(project: Project, code: str) -> str:
    """The one objection, of that code: its message with its causes and repairs, in the words a reader
    sees."""
    found = problems(project)
    assert [p.code for p in found] == [code], [p.message for p in found]
    return " ".join([found[0].message, *found[0].causes, *(r.text for r in found[0].repairs)])


def planned(project: Project, solver: bool = False) -> Plan:
    """The plan of a sound project."""
    return sound(project).plan(solver=solver)[0]


def line(plan: Plan, use: str, fabric: str = "") -> CutLine:
    """The one cutting line for a use (and a fabric)."""
    found = [x for x in plan.lines if x.called == use and fabric in ("", x.fabric)]
    assert len(found) == 1, [(x.called, x.fabric) for x in plan.lines]
    return found[0]


def strips(plan: Plan, fabric: str, height: str | None = None) -> int:
    """How many strips of a height (of all heights) the cutting plan takes from a fabric."""
    found = plan.fabrics[fabric]
    wanted = None if height is None else num(height)
    return sum(
        s.copies
        for s in found.plan.strips
        if not s.source and wanted in (None, Length(Fraction(s.height, found.scale)))
    )


def yards(length: Length) -> Fraction:
    """A length in yards."""
    return length.fraction / 36


def written(text: str) -> Project:
    """A pattern as it stands."""
    return Project("saltmarsh.pattern", text)


def needed(plan: Plan) -> dict[str, int]:
    """How many of each unit the quilt needs."""
    found: dict[str, int] = {}
    for count in plan.counts:
        found[str(count.making.key)] = found.get(str(count.making.key), 0) + count.needed
    return found


def wrong(text: str, right: str, slip: str, code: str) -> str:
    """The objection once one statement is changed."""
    assert text.count(right) == 1, right
    return objection(written(text.replace(right, slip)), code)


def writes(text: str) -> bool:
    """Whether a pattern is sound and its booklet has something in it."""
    made = patternkit.files(sound(written(text)), formats=("md",))
    return any(name.endswith(".md") and len(data) > 3000 for name, data in made.items())
