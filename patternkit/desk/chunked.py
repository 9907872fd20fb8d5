"""A text that is read again after each change: only the chunks that changed are parsed."""

from __future__ import annotations

from patternkit.memory import Memory
from patternkit.project import Reader, Sources
from patternkit.source import Span
from patternkit.syntax.chunks import Chunks
from patternkit.syntax.statements import File


class Chunked(Sources):
    """A text read chunk by chunk: its statements carry places in their chunks, under the chunks' names."""

    def __init__(self, chunks: Chunks, text: str, reader: Reader | None) -> None:
        super().__init__(chunks.name, text, reader)
        self._chunks, _ = chunks.read(text)
        self._starts = chunks.starts

    def _parsed(self) -> list[File]:
        return self._chunks

    def real(self, span: Span) -> Span:
        """A place of a chunk as a place of the whole text; any other place as it is."""
        start = self._starts.get(span.file)
        return span if start is None else Span(self.name, span.start + start, span.end + start)


class Revisions:
    """What is kept between the versions of a text: its chunks, and a memory for each row of its sizes table."""

    def __init__(self, name: str, reader: Reader | None) -> None:
        self._chunks, self._reader = Chunks(name), reader
        self._memories: dict[str, Memory] = {}

    def read(self, text: str) -> Chunked:
        """The next version."""
        return Chunked(self._chunks, text, self._reader)

    def memory(self, size: str) -> Memory:
        """What is kept for a row of the sizes table."""
        return self._memories.setdefault(size, Memory())
