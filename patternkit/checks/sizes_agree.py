"""Finished sizes that don't add up: two sides of a seam, a sum, or a claim against what the rest gives."""

from __future__ import annotations

from typing import Iterable

from patternkit.problems import Label, Problem, Repair
from patternkit.project import Project
from patternkit.sizes.explain import Explained, Wording, explain

CODES = ("seams-differ", "claim-differs", "finished-or-measures", "sizes-too-tangled")


def check(project: Project) -> Iterable[Problem]:
    """One problem for each contradiction, with its steps and repairs."""
    pattern, solution = project.pattern, project.solution
    if not solution.finished:
        yield Problem("sizes-too-tangled", f"{solution.refusal().capitalize()}.", pattern.settings.span)
    if not solution.conflicts:
        return
    wording = Wording(pattern.settings.units, project.sizing.name, pattern.parameters)
    for told in explain(solution, wording, grid=pattern.settings.ruler, seam=pattern.settings.seam):
        yield _problem(told)


def _problem(told: Explained) -> Problem:
    code = "finished-or-measures" if told.hint and told.claim else "claim-differs" if told.claim else "seams-differ"
    causes = [f"{s.text}." for s in told.steps]
    if told.hint:
        causes.append(told.hint if told.hint.endswith(".") else f"{told.hint}.")
    labels = tuple(Label(s.span, s.text) for s in told.steps if s.cause.stated and s.span != told.closing.span)
    repairs = tuple(Repair(r.text, r.span, r.replacement) for r in told.repairs)
    return Problem(code, told.message, told.closing.span, labels, tuple(causes), repairs)
