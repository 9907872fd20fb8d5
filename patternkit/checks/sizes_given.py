"""Sizes that nobody gave: which unit, what mentions it, and what would settle it."""

from __future__ import annotations

from typing import Iterable

from patternkit.problems import Label, Problem
from patternkit.project import Project
from patternkit.source import NOWHERE, Span

CODES = ("size-unknown",)

SIDES = {"w": "width", "h": "height", "width": "width", "side": "side"}


def check(project: Project) -> Iterable[Problem]:
    """One problem for each group of sizes that hang together."""
    pattern, sizing = project.pattern, project.sizing
    broken = {p.span for p in sizing.problems}
    own = {k for k in pattern.units}

    def rank(var: object) -> int:
        return 0 if isinstance(var, tuple) and var[0] in own else 1

    for group in project.solution.free(rank):
        named = [v for v in group.sizes if isinstance(v, tuple) and v[0] in own] or list(group.sizes)
        unit = pattern.units.get(named[0][0]) if isinstance(named[0], tuple) else None
        if unit is not None and any(b.file == unit.span.file and b.start == unit.kind_span.start for b in broken):
            continue
        span = unit.span if unit is not None else next((c.span for c in group.mentions), NOWHERE)
        yield _problem(project, group.sizes, group.missing, group.settles, group.mentions, span)


def _problem(project: Project, sizes: tuple[object, ...], missing: int, settles: tuple[object, ...],
             mentions: tuple[object, ...], span: Span) -> Problem:
    first = list(dict.fromkeys(_name(project, v) for v in (settles or sizes)))
    others = list(dict.fromkeys(_name(project, v) for v in sizes))
    message = f"Nothing says how large {first[0]} is." if missing == 1 else \
        f"Nothing says how large these are: {', '.join(first[:4])}."
    causes = []
    if len(others) > 1:
        causes.append(f"These sizes hang together: {', '.join(others[:8])}{', ...' if len(others) > 8 else ''}.")
    causes.append("A finished size for one of them would settle it." if missing == 1 else
                  f"{missing} more sizes are needed to settle it.")
    labels = []
    for cause in mentions[:4]:
        labels.append(Label(cause.span, cause.text))  # type: ignore[attr-defined]
    return Problem("size-unknown", message, span, tuple(labels), tuple(causes))


def _name(project: Project, var: object) -> str:
    assert isinstance(var, tuple)
    return f"the {SIDES.get(var[1], var[1])} of {project.sizing.name(var)}"
