"""A pattern that is being written: checked again after every edit, at the cost of what the edit changes."""

from __future__ import annotations

from collections.abc import Mapping

from patternkit.checks import run
from patternkit.desk.chunked import Revisions
from patternkit.problems import Problem
from patternkit.project import Project, Reader
from patternkit.source import Source


class Session:
    """Keeps what did not change between one version of a text and the next.

    `check` gives what `patternkit.checks.run` gives for the same text; only the time differs. Included files are read
    anew each time. `project` is the text checked last, None before the first.
    """

    def __init__(self, name: str, reader: Reader | None = None) -> None:
        self.name = name
        self.project: Project | None = None
        self._reader = reader
        self._revisions = Revisions(name, reader)

    def check(self, text: str) -> list[Problem]:
        """Every problem of the text, in its order, with places in it."""
        sources, memory = self._revisions.read(text), self._revisions.memory
        self.project = Project(self.name, text, reader=self._reader, sources=sources, memories=memory)
        return run(self.project)

    def rehearse(self) -> list[Problem]:
        """What would not come out of the booklet of the text checked last, sewn in all its sizes and colourways: one
        problem for each that does not hold, empty where all do. Nothing is said of a text with problems of its own, of
        which no booklet is written. Takes as long as planning does; `check` does none of it."""
        from patternkit.api import rehearse

        if self.project is None or any(not p.advice for p in run(self.project)):
            return []
        return rehearse(self.project)

    def sources(self) -> Mapping[str, Source]:
        """The text checked last, and the files it includes, by name: for reports."""
        return self.project.sources if self.project is not None else {}
