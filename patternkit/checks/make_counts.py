"""``make 18`` against what the quilt needs."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.english import times
from patternkit.plan.counts import Count
from patternkit.problems import Problem, Repair
from patternkit.project import Project

CODES = ("make-differs",)


def check(project: Project) -> Iterable[Problem]:
    """A stated count that the quilt does not bear out. The counts in a file are those of the pattern as written.

    What is made in mirror image counts with its unit; so does what is pressed in several versions.
    """
    pattern = project.pattern
    if project.top is None or not pattern.as_written or (pattern.quilt is not None and pattern.quilt.broken):
        return
    counts: dict[str, list[Count]] = {}
    for count in project.draft[0].counts:
        counts.setdefault(count.making.key.of, []).append(count)
    for unit in pattern.units.values():
        if unit.make is None or unit.make_span is None:
            continue
        own = counts.get(unit.key, [])
        needed, made = sum(c.needed for c in own), sum(c.made for c in own)
        if unit.make in (needed, made):
            continue
        causes = [f"In the quilt {unit.name} is used {times(needed)}."]
        if made != needed:
            causes.append(f"Its method makes {made}.")
        yield Problem(
            "make-differs",
            f"The file says make {unit.make} of {unit.name}, and the quilt needs {needed}.",
            unit.make_span,
            causes=tuple(causes),
            repairs=(Repair(f"write make {needed}", unit.make_span, f"make {needed}"),),
        )
