"""``logs night cut 1 1/2 x 2 1/2``: the lengths of logs against those that they are cut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from patternkit.model.pattern import Unit
from patternkit.piecing.kinds.logs import Log, read_logs
from patternkit.piecing.making import Making
from patternkit.piecing.names import Name
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.source import Span
from patternkit.syntax.statements import Num, SizePair
from patternkit.units import number, show

NEEDS_SIZES = True
CODES = ("log-differs",)
KINDS = ("log-cabin", "courthouse-steps")


def check(project: Project) -> Iterable[Problem]:
    """A log that is too short is a problem, one that is longer is worth knowing."""
    for key, unit in project.pattern.units.items():
        claims = unit.kind in KINDS and any(
            isinstance(part, SizePair) for o in unit.options for clause in o.clauses for part in clause
        )
        making = project.makings.get(key) if claims else None
        if making is not None:
            for n, log in enumerate(read_logs(unit, unit.kind == KINDS[1]).logs, 1):
                if log.length is not None:
                    yield from _held(n, log, unit, making, project)


def _held(n: int, log: Log, unit: Unit, making: Making, project: Project) -> Iterator[Problem]:
    """One log, by the side that lies along the seam it is sewn with."""
    stated = project.sizing.length(unit, log.length)
    numbers = [c for c in making.recipe.cuts if c.name in (Name("log", (n,)), Name("piece", (n + 1,)))]
    if stated is None or not numbers:
        return
    cut, units = numbers[0], project.pattern.settings.units
    upright = log.side in ("left", "right")
    long = cut.height if upright else cut.width
    claim, exact = stated.value(project.pattern.parameters), cut.exact_height if upright else cut.exact_width
    if claim in (long, exact):
        return
    place: Span = getattr(log.length, "span", log.span)
    repair = Repair(f"write {show(long, units)}", place, number(long, units))
    less = claim < exact
    yield Problem(
        "log-differs",
        f"Log {n} of {unit.name} is cut {show(long, units)} long; {show(claim, units)} is "
        f"{show(abs(claim - long), units)} {'too short' if less else 'more'}.",
        place,
        causes=("A log is as long as the side that it is sewn to, with its two seams.",),
        repairs=(repair,) if isinstance(log.length, Num) else (),
        advice=not less,
    )
