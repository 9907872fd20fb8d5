"""Cuts a file into logical lines: indentation, comments, blank lines and free text. Nothing of the text is lost.

Only places are kept, never a changed text: a line's words are read from the file as the writer left them.
"""

from __future__ import annotations

import re

import msgspec

from patternkit.syntax.lexer import TEXT, fold
from patternkit.syntax.numbers import FRACTION_CHARACTERS
from patternkit.syntax.words import PROSE

MOST_LINES = 20_000
MOST_CHARACTERS = 1_000_000
LONGEST_LINE = 4_000

_LINE = re.compile(r"[^\r\n]+(?:\r\n|\r|\n|$)|\r\n|\r|\n")
_INDENT = re.compile(r"(?:[^\S\r\n]|[\u200b\ufeff])*")
_COMMENT = re.compile(rf'[0-9{"".join(FRACTION_CHARACTERS)}]["”“″]|{TEXT}|(?P<hash>#(?=[\s\u200b\ufeff]|$))|["“”„‟].*')
_COLOUR = re.compile(r"#[0-9A-Fa-f]{6}(?![0-9A-Za-z])")
_PROSE = re.compile(rf"(?:{'|'.join(PROSE)})(?![\w'’‐‑-])", re.IGNORECASE)
_ALSO = re.compile(r"also(?:\s+cut)?\s+[(\d¼-¾⅐-⅞]", re.IGNORECASE)
_INVISIBLE = "\u200b\ufeff"


class TextLine(msgspec.Struct, gc=False):
    """One line of the file. `start` to `stop` is all of it with its line end; the words are at `first` to `last`, the
    comment at `comment` to `comment_end` (both equal when there is none).

    `kind` is blank, comment, code or prose; a prose row is followed by the rows of its text, of kind text, and so is
    the row of code that says what is cut besides. `column` is the width of the indentation: a tab goes to the next
    multiple of four.
    """

    kind: str
    number: int
    start: int
    stop: int
    column: int
    first: int
    last: int
    comment: int
    comment_end: int


def rows_of(text: str) -> list[TextLine]:
    """The lines of a file in order. Their stretches from `start` to `stop`, put together, are the file."""
    rows: list[TextLine] = []
    free = -1  # the column of the heading of the free text we are in, or -1
    waiting = 0  # blank rows at the end that belong to the free text only if more of it follows
    for number, found in enumerate(_LINE.finditer(text), 1):
        row = _row(text, number, found.start(), found.end(), free >= 0)
        if free >= 0:
            if row.kind == "blank":
                waiting += 1
                rows.append(row)
                continue
            if row.column > free:
                for i in range(len(rows) - waiting, len(rows)):
                    rows[i].kind = "text"
                waiting, row.kind = 0, "text"
                rows.append(row)
                continue
            free, waiting = -1, 0
            row = _row(text, number, found.start(), found.end(), False)
        if _heads_text(row, text):
            free = row.column
        rows.append(row)
    return rows


def _heads_text(row: TextLine, text: str) -> bool:
    """Whether free text may stand under a row."""
    if row.kind == "prose":
        return not _closed(text[row.first : row.last])
    return row.kind == "code" and text[row.first] in "aA" and bool(_ALSO.match(text, row.first, row.last))


def _closed(words: str) -> bool:
    """Whether a free text's heading has its text in quotes beside it."""
    head = _PROSE.match(words)
    rest = words[head.end() :].strip() if head else ""
    return bool(rest) and rest[0] in '"“”„‟'


def _row(text: str, number: int, start: int, stop: int, in_text: bool) -> TextLine:
    """One line, with its kind settled as far as the line alone can."""
    end = stop
    while end > start and text[end - 1] in "\r\n":
        end -= 1
    found = _INDENT.match(text, start, end)
    first = found.end() if found else start
    column = first - start
    if column and text[start:first].strip(" "):
        column = _columns(text[start:first])
    if first == end:
        return TextLine("blank", number, start, stop, column, end, end, end, end)
    if in_text:
        return TextLine("text", number, start, stop, column, first, end, end, end)
    comment = end
    if text.find("#", first, end) >= 0:
        comment = _comment(text, first, end)
        if comment == first:
            return TextLine("comment", number, start, stop, column, first, first, first, _trimmed(text, first, end))
    last = _trimmed(text, first, comment)
    kind = "code"
    if text[first] in "intcbafINTCBAF" and (head := _PROSE.match(text, first, end)):
        kind = "prose"
        rest = text[head.end() : last].strip()
        if rest and rest[0] not in '"“”„‟':  # free text beside its heading: a # in it is no comment
            last, comment = _trimmed(text, first, end), end
    return TextLine(kind, number, start, stop, column, first, last, comment, _trimmed(text, comment, end))


def _trimmed(text: str, start: int, end: int) -> int:
    """`end` moved back over white space, not past `start`."""
    while end > start and (text[end - 1].isspace() or text[end - 1] in _INVISIBLE):
        end -= 1
    return end


def _columns(indent: str) -> int:
    """The width of an indentation with tabs; invisible marks have none."""
    column = 0
    for char in indent:
        if char == "\t":
            column += 4 - column % 4
        elif char not in _INVISIBLE:
            column += 1
    return column


def _comment(text: str, first: int, end: int) -> int:
    """Where the comment of a line starts; `end` when it has none.

    A line that starts with ``#`` is a comment whatever follows, unless that is a colour.
    """
    if text[first] == "#" and not _COLOUR.match(text, first, end):
        return first
    for found in _COMMENT.finditer(text, first, end):
        if found.lastgroup == "hash":
            return found.start()
    return end


def prose_word(words: str) -> tuple[str, int]:
    """The heading of a free text and where it ends."""
    found = _PROSE.match(words)
    assert found is not None, "a prose row starts with a prose word"
    return fold(found.group()), found.end()
