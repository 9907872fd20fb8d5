"""What a command asks of a pattern: that it is sound before anything is planned from it, and has what was asked for."""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.problems import PatternError, Problem
from patternkit.project import Project

FORMATS = ("md", "html", "pdf")
LANGUAGES = ("en", "de")
PAPERS = ("letter", "a4")
UNREADABLE = ("cannot-read", "cannot-write")


def sound(project: Project, *, sizes: bool = False) -> Project:
    """The project, once its checks object to nothing; with `sizes` not in any row of its sizes table either.

    Raises PatternError with what is wrong: sizes that contradict each other are worked with as if one of them were
    mended, and nobody may cut, press or resize by those. Advice does not count.
    """
    from patternkit.checks import run

    wrong = [p for p in run(project, sizes=sizes) if not p.advice]
    if wrong:
        raise PatternError(wrong, project.sources)
    return project


def one_of(what: str, wanted: str, known: Sequence[str]) -> None:
    """Nothing where `wanted` is one of those known; raises PatternError with what there is otherwise."""
    if wanted not in known:
        names = ", ".join(x for x in known if x)
        raise PatternError([Problem("unknown-name", f"There is no {what} called {wanted}; there is {names}.")])


def wrong_usage(problem: Problem) -> bool:
    """Whether the fault lies in what was typed after the command, not in the pattern: a file that can't be read or
    written, or a size, a colourway or a name that the pattern does not have."""
    return problem.code in UNREADABLE or (problem.code == "unknown-name" and not problem.span.file)
