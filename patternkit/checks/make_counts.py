"""``make 18`` against what the quilt needs."""

from __future__ import annotations

from typing import Iterable

from patternkit.problems import Problem, Repair
from patternkit.project import Project

CODES = ("make-differs",)


def check(project: Project) -> Iterable[Problem]:
    """A stated count that the quilt does not bear out. The counts in a file are those of the pattern as written."""
    if project.top is None or not project.pattern.as_written:
        return
    needed = {c.making.key: c for c in project.quick_plan[0].counts}
    for unit in project.pattern.units.values():
        if unit.make is None or unit.make_span is None:
            continue
        count = needed.get(unit.key)
        number = count.needed if count is not None else 0
        if unit.make == number or (count is not None and unit.make == count.made):
            continue
        causes = [f"In the quilt {unit.name} is used {number} times."]
        if count is not None and count.made != number:
            causes.append(f"Its method makes {count.made}.")
        yield Problem("make-differs", f"The file says make {unit.make} of {unit.name}, and the quilt needs {number}.",
                      unit.make_span, causes=tuple(causes),
                      repairs=(Repair(f"write make {number}", unit.make_span, f"make {number}"),))
