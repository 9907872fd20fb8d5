"""The checks: one file a rule, each yielding problems; `run` runs them all over a project.

A module in this folder is a rule when it has `CODES` (the codes of its pages in ``grammar/problems``) and `check`. A
rule with ``NEEDS_SIZES = True`` is left out while sizes contradict each other: what it would say follows from the
contradiction. One with ``COUNTS_ALL = True`` is left out while a part of the pattern could not be read: what that part
takes is missing from every sum. Rules know the rooms, never each other. Those of `claims` share what they count with.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from importlib import import_module
from pkgutil import iter_modules

import msgspec

from patternkit.model.pattern import Pattern
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.source import Span

Rule = Callable[[Project], Iterable[Problem]]

WITHOUT_SIZES = ("must-be-cloth", "press-no-seam", "press-contradiction")
"""Problems of making that hold whatever the sizes are."""

LOGS = ("log-cabin", "courthouse-steps")
"""Kinds whose lengths may be claimed piece by piece."""

CUSTOMS = frozenset({"overage", "allowance", "wide", "extra"})
"""Lengths behind finishing lines that say how something is done, and claim nothing."""

MOST_PROBLEMS = 200  # a file with more has one cause that should be mended first


@lru_cache(maxsize=2)
def rules(claims: bool = True) -> tuple[tuple[str, Rule, bool, bool], ...]:
    """All rules by the name of their module, in alphabetical order, whether they wait until the sizes agree, and
    whether until everything is read; those in `claims` only where a pattern has some."""
    names = [m.name for m in iter_modules(__path__)]
    if claims:
        folder = import_module(f"{__name__}.claims")
        names += [f"claims.{m.name}" for m in iter_modules(folder.__path__)]
    found = []
    for name in sorted(names, key=lambda n: n.rpartition(".")[2]):
        module = import_module(f"{__name__}.{name}")
        if hasattr(module, "CODES"):
            waits = [getattr(module, word, False) for word in ("NEEDS_SIZES", "COUNTS_ALL")]
            found.append((name, module.check, waits[0], waits[1]))
    return tuple(found)


def _claims(pattern: Pattern) -> bool:
    """Whether a pattern says anything of its cutting that could be claimed: numbers of strips and pieces, of strip
    units, lengths of logs, that segments are cut in pairs, what stands behind a finishing line."""
    quilt = pattern.quilt
    framing = () if quilt is None else (*quilt.borders, *([quilt.sashing] if quilt.sashing is not None else []))
    finishing = () if quilt is None else quilt.finishing
    return (
        any(f.cuts for f in pattern.fabrics.values())
        or any(u.cuts or u.strip_units is not None or u.kind in LOGS for u in pattern.units.values())
        or any(u.method is not None and "paired" in u.method.words for u in pattern.units.values())
        or any(not CUSTOMS.issuperset(edge.extras) for edge in framing)
        or any(not CUSTOMS.issuperset(f.extras) for f in finishing)
        or any(f.strip or f.size is not None or "from one length" in f.words for f in finishing)
    )


def run(project: Project, *, sizes: bool = True, guarded: bool = True) -> list[Problem]:
    """Every problem of a project, in the order of the file; with `sizes` those of each row of its sizes table too.

    A row's problem that the pattern as written has as well is told once; others carry the row's name in `size`. A fault
    of the program itself is told as a problem of its own (`not-worked-out`) unless `guarded` is False. Places lie in
    the project's `sources`.
    """
    found = [problem.placed(project.read.real) for problem in _gathered(project, sizes, guarded)]
    found.sort(key=lambda p: (p.span.file != project.name, p.span.file, p.span.start, p.advice, p.code))
    return found[:MOST_PROBLEMS]


def _gathered(project: Project, sizes: bool, guarded: bool) -> list[Problem]:
    """What `run` gives, as it is found: not in order yet, and not cut short."""
    if not guarded:
        return _all(project, sizes)
    try:
        return _all(project, sizes)
    except Exception as error:
        return [
            *project.reading,
            Problem(
                "not-worked-out",
                "This pattern could not be worked out to its end.",
                Span(project.name, 0, 0),
                causes=(
                    f"The fault is in the program, not in the pattern ({type(error).__name__}: {error}).",
                    "Please send the pattern to the program's makers; "
                    "taking out the lines changed last may help meanwhile.",
                ),
            ),
        ]


def _all(project: Project, sizes: bool) -> list[Problem]:
    found = _own(project)
    if sizes and not project.size:
        known = {(p.code, p.span) for p in found}
        for row in project.pattern.sizes:
            if row.values or row.buys:
                for p in _own(project.in_size(row.name)):
                    if (p.code, p.span) not in known:
                        found.append(msgspec.structs.replace(p, size=row.name))
    return found


def _partly_read(project: Project, found: list[Problem]) -> bool:
    """Whether a part of the pattern says nothing yet of what is cut for it, as its lines could not be read."""
    pattern = project.pattern
    return (
        bool(pattern.broken)
        or any(u.broken for u in pattern.units.values())
        or (pattern.quilt is not None and pattern.quilt.broken)
        or any(p.code == "not-understood" and not p.advice for p in found)
    )


def _own(project: Project) -> list[Problem]:
    project.nodes  # noqa: B018  reads the file, so that its problems come first
    found: list[Problem] = [*project.reading, *project.building]
    project.top  # noqa: B018  makes everything, so that the workshop's problems are complete
    found += project.sizing.problems
    agreed = not project.disagreements
    found += [p for p in project.shop.problems if agreed or p.code in WITHOUT_SIZES]
    whole = not _partly_read(project, found)
    for _, rule, needs_sizes, counts_all in rules(_claims(project.pattern)):
        if (agreed or not needs_sizes) and (whole or not counts_all):
            found += rule(project)
    seen: set[tuple[str, object, str]] = set()
    kept = []
    for p in found:
        key = (p.code, p.span, p.message)
        if key not in seen:
            seen.add(key)
            kept.append(
                p
                if p.message[:1] == p.message[:1].upper()
                else msgspec.structs.replace(p, message=p.message[:1].upper() + p.message[1:])
            )
    return kept
