"""Numbers that a text asks for, ``{lantern.measures}``, and that do not exist."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from patternkit.model.facts import ASKED, BRACES, facts_of, names_of
from patternkit.model.pattern import Pattern
from patternkit.problems import Problem, Repair
from patternkit.project import Project
from patternkit.source import Span
from patternkit.syntax.statements import Prose
from patternkit.syntax.suggest import nearest

CODES = ("no-such-value",)


def check(project: Project) -> Iterable[Problem]:
    """What stands in braces and can't be filled in; a name whose own line could not be read is let be."""
    pattern = project.pattern
    for prose in texts(pattern):
        for found in BRACES.finditer(prose.text):
            problem = _wrong(pattern, found.group(), place(prose, found.start(), found.end()))
            if problem is not None:
                yield problem


def texts(pattern: Pattern) -> Iterator[Prose]:
    """Every text of the writer's own words, in the order in which the file's headings come; each once."""
    seen: set[Span] = set()
    units = pattern.units.values()
    for group in (
        pattern.settings.prose,
        *(u.prose for u in units),
        pattern.quilt.prose if pattern.quilt else (),
        *(also.prose for u in units for also in u.also),
        *(also.prose for also in (pattern.quilt.also if pattern.quilt else ())),
        *(part.prose for part in pattern.parts),
        *(way.prose for way in pattern.colourways),
    ):
        for prose in group:
            if prose.span not in seen:
                seen.add(prose.span)
                yield prose


def place(prose: Prose, start: int, end: int) -> Span:
    """The place in the file of a stretch of a text that lies on one line."""
    before = prose.text[:start]
    line = before.count("\n")
    column = start - (before.rfind("\n") + 1)
    at = prose.offsets[min(line, len(prose.offsets) - 1)] + column
    return Span(prose.span.file, at, at + end - start)


def _wrong(pattern: Pattern, asked: str, span: Span) -> Problem | None:
    match = re.fullmatch(ASKED, asked)
    if match is None:
        return Problem(
            "no-such-value",
            f"{asked} is not a number that can be filled in.",
            span,
            causes=(
                "In braces stand a name, a dot, and what is asked of it: "
                "{lantern.measures}, {night.buy}, {quilt.finished}.",
            ),
        )
    name, fact = match.groups()
    facts = facts_of(pattern, name)
    if not facts:
        if name in pattern.broken or any(u.name == name for u in pattern.units.values()):
            return None
        return _problem(
            f"{asked} asks for something of {name}, and nothing is called that.",
            name,
            names_of(pattern),
            Span(span.file, span.start + 1, span.start + 1 + len(name)),
            "The names are",
        )
    if fact not in facts:
        at = span.start + 2 + len(name)
        return _problem(
            f"{asked} asks for {fact}, which {name} does not have.",
            fact,
            list(facts),
            Span(span.file, at, at + len(fact)),
            f"Of {name} can be asked",
        )
    return None


def _problem(message: str, word: str, known: list[str], span: Span, lead: str) -> Problem:
    close = nearest(word, known)
    listed = ", ".join(known[:12]) + (", ..." if len(known) > 12 else "")
    repairs = (Repair(f"write {close} instead of {word}", span, close, safe=True),) if close else ()
    return Problem(
        "no-such-value",
        message + (f" Did you mean {close}?" if close else ""),
        span,
        causes=(f"{lead}: {listed}.",),
        repairs=repairs,
    )
