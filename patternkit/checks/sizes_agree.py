"""Finished sizes that don't add up: two sides of a seam, a sum, or a claim against what the rest gives."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from patternkit.english import sentence
from patternkit.problems import Label, Problem, Repair
from patternkit.project import Project
from patternkit.source import Span
from patternkit.units import show

if TYPE_CHECKING:
    from patternkit.sizes.explain import Explained, NumberChange

CODES = ("seams-differ", "claim-differs", "finished-or-measures", "sizes-too-tangled")

MOST_STEPS = 12  # a longer explanation is cut short in the middle
MOST_LABELS = 8


def check(project: Project) -> Iterable[Problem]:
    """One problem for each contradiction, with its steps and repairs; the two sides of one claim are told together."""
    pattern, solution = project.pattern, project.solution
    if not solution.finished:
        yield Problem("sizes-too-tangled", f"{solution.refusal().capitalize()}.", pattern.settings.span)
    groups: dict[object, list[Explained]] = {}
    for number, one in enumerate(project.disagreements):
        groups.setdefault((one.closing.span, bool(one.hint)) if one.claim else number, []).append(one)
    for group in groups.values():
        yield _problem(project, group)


def _problem(project: Project, explained: Sequence[Explained]) -> Problem:
    first = explained[0]
    code = "finished-or-measures" if first.hint and first.claim else "claim-differs" if first.claim else "seams-differ"
    again = dict.fromkeys(_again(t) for t in explained[1:] if t.message != first.message)
    message = first.message + "".join(f"; and it {words}" for words in again)
    steps = list({s.text: s for t in explained for s in t.steps}.values())
    causes = shortened([sentence(s.text) for s in steps])
    causes += dict.fromkeys(sentence(t.hint) for t in explained if t.hint)
    labels = [Label(s.span, s.text) for s in steps if s.cause.stated and s.span != first.closing.span]
    labels = [*labels[:MOST_LABELS], *_lets(project, explained)]
    repairs = _repairs(project, explained)
    return Problem(code, sentence(message), first.closing.span, tuple(labels), tuple(causes), repairs)


def _again(explained: Explained) -> str:
    """The message of the claim's other side, where the first has said whose claim it is."""
    return explained.message[len(explained.closing.about) :].strip()


def _repairs(project: Project, explained: Sequence[Explained]) -> tuple[Repair, ...]:
    """The repairs that are offered, those of a claim that looks like a mistaken kind of size first; where both sides of
    a claim are told, only those that settle all they bear on."""
    claim = explained[0].closing.span
    found = list({(r.text, r.span): r for t in explained for r in t.repairs}.values())
    if len(explained) > 1:
        found = [r for r in found if r.change is None or not (r.change.breaks or r.change.leaves)] or found
    own = [
        next((r for r in t.repairs if r.replacement is not None and _inside(r.span, claim)), None) for t in explained
    ]
    first: list[Repair] = []
    both = [r for r in own if r is not None]
    if len(explained) > 1 and len({r.span for r in both}) == len(explained):
        text = _rewritten(project, claim, both)
        first = [Repair(f"write {text}", claim, text)]
        found = [r for r in found if r not in both]
    elif explained[0].hint and explained[0].claim:
        found.sort(key=lambda r: not _inside(r.span, claim))
    return (*first, *(Repair(r.text, r.span, r.replacement) for r in found))


def _lets(project: Project, explained: Sequence[Explained]) -> list[Label]:
    """Where the names stand whose other value would settle it, and what they are there."""
    pattern = project.pattern
    found = {r.let: r.span for t in explained for r in t.repairs if r.let in pattern.numbers}
    units = pattern.settings.units
    return [
        Label(span, f"{name} is {show(pattern.parameters[name] * units.inches, units)}") for name, span in found.items()
    ]


def _inside(span: Span, outer: Span) -> bool:
    return span.file == outer.file and outer.start <= span.start and span.end <= outer.end


def _rewritten(project: Project, claim: Span, changes: Sequence[NumberChange]) -> str:
    """The words of a claim with several numbers changed."""
    text = project.read.words(claim)
    for change in sorted(changes, key=lambda c: -c.span.start):
        at, end = change.span.start - claim.start, change.span.end - claim.start
        text = f"{text[:at]}{change.replacement}{text[end:]}"
    return text


def shortened(lines: list[str], most: int = MOST_STEPS) -> list[str]:
    """A long explanation without its middle: how it starts, and the steps that meet at its end."""
    if len(lines) <= most:
        return lines
    head = most // 2 - 1
    tail = most - head - 1
    return [*lines[:head], f"... and {len(lines) - head - tail} more steps in between.", *lines[-tail:]]
