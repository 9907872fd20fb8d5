"""A pattern that is being written: checked again after every edit, at the cost of what the edit changes."""

from __future__ import annotations

import msgspec

from patternkit.checks import finished, gathered
from patternkit.memory import Memory
from patternkit.problems import Label, Problem, Repair
from patternkit.project import Project, Reader
from patternkit.source import Source
from patternkit.syntax.chunks import Chunks
from patternkit.syntax.statements import Node, Trivia


class Session:
    """Keeps what did not change between one version of a text and the next.

    `check` gives what `patternkit.checks.run` gives for the same text; only the time differs. Included files
    are read anew each time.
    """

    def __init__(self, name: str, reader: Reader | None = None) -> None:
        self.name = name
        self._reader = reader
        self._chunks = Chunks(name)
        self._memories: dict[str, Memory] = {}
        self.project: _Live | None = None

    def check(self, text: str) -> list[Problem]:
        """Every problem of the text, in its order, with places in it."""
        project = _Live(self, text)
        self.project = project
        found = [self._placed(p) for p in gathered(project)]
        return finished(found, self.name)

    def sources(self) -> dict[str, Source]:
        """The text checked last, and the files it includes, by name: for reports."""
        if self.project is None:
            return {}
        others = {n: s for n, s in self.project.sources.items() if "\0" not in n}
        return {**others, self.name: Source(self.name, self.project.text)}

    def memory(self, size: str) -> Memory:
        """What is kept for a row of the sizes table."""
        return self._memories.setdefault(size, Memory())

    def _placed(self, p: Problem) -> Problem:
        """A problem with its places in the whole text."""
        real = self._chunks.real
        labels = tuple(Label(real(x.span), x.text) for x in p.labels)
        repairs = tuple(
            Repair(r.text, real(r.span) if r.span is not None else None, r.replacement, r.safe) for r in p.repairs
        )
        return msgspec.structs.replace(p, span=real(p.span), labels=labels, repairs=repairs)


class _Live(Project):
    """A project read chunk by chunk."""

    def __init__(self, session: Session, text: str, size: str = "", read: tuple[object, ...] = ()) -> None:
        super().__init__(session.name, "", size=size, reader=session._reader, memory=session.memory(size))
        self.text = text
        self._session = session
        if read:
            self.__dict__["nodes"], self.sources = read[0], read[1]  # type: ignore[assignment]
        else:
            files, self.sources = session._chunks.read(text)
            nodes: list[Node | Trivia] = []
            for file in files:
                nodes += self._included(file, [session.name])
            self.__dict__["nodes"] = tuple(nodes)

    def in_size(self, size: str, colourway: str | None = None) -> Project:
        """The same pattern in a row of its sizes table; what is read stays read."""
        if colourway:
            return super().in_size(size, colourway)
        return _Live(self._session, self.text, size, (self.nodes, self.sources))._related(self)
