"""``make 18`` against what the quilt needs."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.english import times
from patternkit.model.pattern import Unit
from patternkit.piecing.keys import Key
from patternkit.plan.counts import Count
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.source import Span

CODES = ("make-differs",)


def check(project: Project) -> Iterable[Problem]:
    """A stated count that the quilt does not bear out. The counts in a file are those of the pattern as written.

    Where some are made in mirror image the count may be that of all, or of those that are not; what is pressed in
    several versions counts with its unit.
    """
    pattern = project.pattern
    if project.top is None or not pattern.as_written or (pattern.quilt is not None and pattern.quilt.broken):
        return
    counts: dict[str, list[Count]] = {}
    for count in project.draft[0].counts:
        unit = pattern.units.get(count.making.key.of)  # what is shifted is made with what is not
        described = unit.shifted_from if unit is not None else ""
        counts.setdefault(described or count.making.key.of, []).append(count)
    for unit in pattern.units.values():
        if unit.make is not None and unit.make_span is not None and unit.optional is None:
            problem = _differs(unit, unit.make, unit.make_span, counts.get(unit.key, []))
            if problem is not None:
                yield problem


def _differs(unit: Unit, stated: int, span: Span, own: list[Count]) -> Problem | None:
    images = [c for c in own if isinstance(c.making.key, Key) and c.making.key.mirrored]
    plain = [c for c in own if c not in images]
    both = unit.make_mirrored is not None
    if both:
        if stated in _numbers(plain) and unit.make_mirrored in _numbers(images):
            return None
    elif stated in _numbers(own) or (images and stated in _numbers(plain)):
        return None
    needed, made = _numbers(own)
    causes = [f"In the quilt {unit.name} is used {times(needed)}."]
    wanted = f"make {needed}"
    if images or both:
        few, many = sum(c.needed for c in images), sum(c.needed for c in plain)
        causes.append(f"{few} of them {'is' if few == 1 else 'are'} mirrored.")
        wanted = f"make {many}, {few} mirrored"
    if made != needed:
        causes.append(f"Its method makes {made}.")
    statement = f"make {stated}, {unit.make_mirrored} mirrored" if both else f"make {stated}"
    return Problem(
        "make-differs",
        f"The file says {statement} of {unit.name}, and the quilt needs {needed}.",
        span,
        causes=tuple(causes),
        repairs=(Repair(f"write {wanted}", span, wanted),),
    )


def _numbers(counts: list[Count]) -> tuple[int, int]:
    """How many are needed, and how many are made."""
    return sum(c.needed for c in counts), sum(
        max(c.made, c.batches * c.yields) if c.making.recipe.one_by_one else c.made for c in counts
    )
