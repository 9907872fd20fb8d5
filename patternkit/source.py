"""A source text and places in it. Only offsets are kept; lines and columns are worked out when asked for."""

from __future__ import annotations

from bisect import bisect_right

import msgspec


class Span(msgspec.Struct, frozen=True, gc=False, order=True):
    """A stretch of text: the file's name as the writer knows it, and offsets in characters, end excluded."""

    file: str
    start: int
    end: int

    def to(self, other: Span) -> Span:
        """The span from the start of this one to the end of `other` (same file)."""
        return Span(self.file, min(self.start, other.start), max(self.end, other.end))


NOWHERE = Span("", 0, 0)


class Source:
    """A file's text with its name. Lines end at LF, CRLF or CR alone."""

    __slots__ = ("_starts", "name", "text")

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.text = text
        self._starts: list[int] | None = None

    def starts(self) -> list[int]:
        """Offsets at which lines start."""
        if self._starts is None:
            starts, i, text = [0], 0, self.text
            while i < len(text):
                c = text[i]
                if c == "\r" and text[i + 1 : i + 2] == "\n":
                    i += 1
                if c in "\r\n":
                    starts.append(i + 1)
                i += 1
            self._starts = starts
        return self._starts

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column of an offset, both counted from 1, the column in characters."""
        starts = self.starts()
        line = bisect_right(starts, max(0, offset))
        return line, offset - starts[line - 1] + 1

    def line(self, number: int) -> str:
        """The text of a line counted from 1, without its line end; empty past the end."""
        starts = self.starts()
        if not 1 <= number <= len(starts):
            return ""
        end = starts[number] if number < len(starts) else len(self.text)
        return self.text[starts[number - 1] : end].rstrip("\r\n")

    def words(self, span: Span) -> str:
        """The text that a span covers."""
        return self.text[span.start : span.end]
