"""The builder's notebook: where problems are gathered, with the shapes of sentence that many of them share."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.problems import Label, Problem, Repair
from patternkit.source import Span
from patternkit.syntax.suggest import nearest


class Notebook:
    """Gathers problems in the order met; the same problem at the same place is kept once."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []
        self.broken: set[str] = set()  # names given by lines that could not be read: using them is no second mistake
        self.blind = False  # True when a file that may name things could not be included
        self._seen: set[tuple[str, Span, str]] = set()

    def add(self, problem: Problem) -> None:
        """Keep a problem."""
        key = (problem.code, problem.span, problem.message)
        if key not in self._seen:
            self._seen.add(key)
            self.problems.append(problem)

    def report(
        self,
        code: str,
        message: str,
        span: Span,
        *,
        causes: Iterable[str] = (),
        labels: Iterable[Label] = (),
        repairs: Iterable[Repair] = (),
        advice: bool = False,
    ) -> None:
        """Keep a problem made from its parts."""
        self.add(Problem(code, message, span, tuple(labels), tuple(causes), tuple(repairs), advice))

    def unknown(self, what: str, name: str, span: Span, known: Iterable[str], where: str = "") -> None:
        """A name that stands for nothing: say what was looked for, and the nearest name that exists.

        Nothing is said of a name whose own line has a problem already, nor while an included file is missing.
        """
        if self.blind or name in self.broken:
            return
        names = sorted(set(known))
        close = nearest(name, names)
        repairs = [Repair(f"write {close} instead of {name}", span, close, safe=True)] if close else []
        listed = ", ".join(names[:12]) + (", ..." if len(names) > 12 else "")
        causes = [
            f"The names that could stand here are: {listed}."
            if names
            else f"Nothing in the file gives a name to a {what} yet."
        ]
        if not names and "length" in what:
            causes.append(f"A line such as let {name} = 3, at the left edge, gives a length its name.")
        message = f"There is no {what} called {name}{where}."
        if close:
            message += f" Did you mean {close}?"
        self.report("unknown-name", message, span, causes=causes, repairs=repairs)
