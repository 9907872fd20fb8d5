"""A file read in chunks, one for each heading at the left margin, so that what an edit does not touch stays as it is.

Every chunk is read like a file of its own, under a name of its own, so its statements and their places are the very
same objects as before; `Chunks.starts` says where a chunk lies in the whole text.
"""

from __future__ import annotations

import re

from patternkit.source import Source
from patternkit.syntax.layout import MOST_CHARACTERS, MOST_LINES
from patternkit.syntax.parse import parse
from patternkit.syntax.statements import File

_HEADING = re.compile(r"^(?=[^\s#])", re.MULTILINE)
_ODD = re.compile("[\r\f\v\x1c-\x1e\x85\u2028\u2029\ufeff]")  # line ends and marks that only the whole file can judge


_STEP = 1 << 30  # between the numbers of neighbouring chunks, so that new ones find room between them
_MOST = 1 << 60
_MOST_SEARCHED = 300


class Chunks:
    """Reads one file again and again.

    The names of chunks sort in the order in which the chunks stand in the file, so that whatever is put in order by its
    place comes in the order of the file.
    """

    def __init__(self, name: str) -> None:
        self.name = name
        self._files: list[tuple[int, File]] = []
        self.starts: dict[str, int] = {}
        """Where each chunk of the text read last begins in it."""

    def read(self, text: str) -> tuple[list[File], dict[str, Source]]:
        """The chunks of a text in order, and their sources by name; those that were there before are the same
        objects."""
        pieces = self._split(text)
        kept = self._kept(pieces)
        numbers = self._numbers([known[0] if known is not None else None for known in kept])
        if numbers is None:  # no room left between two chunks: number them all anew
            kept, numbers = [None] * len(pieces), [(i + 1) * _STEP for i in range(len(pieces))]
        self._files = [
            known if known is not None else (n, parse(f"{self.name}\0{n:020d}", piece))
            for known, n, piece in zip(kept, numbers, pieces, strict=True)
        ]
        self.starts, at = {}, 0
        for (_, file), piece in zip(self._files, pieces, strict=True):
            self.starts[file.name] = at
            at += len(piece)
        return [f for _, f in self._files], {f.name: Source(f.name, f.text) for _, f in self._files}

    def _kept(self, pieces: list[str]) -> list[tuple[int, File] | None]:
        """For each piece the chunk that it was before, where there is one and the order stays right."""
        old = self._files
        kept: list[tuple[int, File] | None] = [None] * len(pieces)
        head = 0
        while head < min(len(old), len(pieces)) and old[head][1].text == pieces[head]:
            kept[head] = old[head]
            head += 1
        tail = 0
        while tail < min(len(old), len(pieces)) - head and old[-1 - tail][1].text == pieces[-1 - tail]:
            kept[-1 - tail] = old[-1 - tail]
            tail += 1
        at = head
        middle = range(head, len(pieces) - tail)
        for i in middle if len(middle) <= _MOST_SEARCHED else ():  # an edit in two places: what lies between them
            found = next((k for k in range(at, len(old) - tail) if old[k][1].text == pieces[i]), None)
            if found is not None:
                kept[i], at = old[found], found + 1
        return kept

    @staticmethod
    def _numbers(known: list[int | None]) -> list[int] | None:
        """Numbers that rise, the known ones as they are; None where there is no room for those between."""
        numbers: list[int] = []
        for i, own in enumerate(known):
            if own is None:
                below = numbers[-1] if numbers else 0
                following = next((n for n in known[i:] if n is not None), None)
                gap = next((k for k, n in enumerate(known[i:]) if n is not None), 1)
                own = below + _STEP if following is None else below + (following - below) // (gap + 1)
                if own <= below or own >= _MOST:
                    return None
            numbers.append(own)
        return numbers

    def _split(self, text: str) -> list[str]:
        """The text in pieces that each start with a heading; in one piece where that would read it differently."""
        starts = [m.start() for m in _HEADING.finditer(text)]
        if not starts or _ODD.search(text) or len(text) > MOST_CHARACTERS or text.count("\n") >= MOST_LINES:
            return [text]
        before = text[: starts[0]]
        if any(line.strip() and not line.lstrip().startswith("#") for line in before.split("\n")):
            return [text]
        starts[0] = 0
        return [text[a:b] for a, b in zip(starts, [*starts[1:], len(text)], strict=True)]
