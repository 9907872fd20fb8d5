"""The writer's own words: a quoted text beside its heading, or a block of lines under it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from patternkit.problems import Problem, Repair
from patternkit.source import Span
from patternkit.syntax import statements as st
from patternkit.syntax.layout import TextLine
from patternkit.syntax.lexer import TEXT

_QUOTED = re.compile(TEXT)
_QUOTES = '"“”„‟'


def read_prose(
    file: str, text: str, row: TextLine, rows: list[TextLine], word: str, end: int
) -> tuple[st.Statement, Problem | None]:
    """A free text. `row` is its heading's line, whose word ends `end` characters in; `rows` are the lines under it."""
    span = Span(file, row.first, rows[-1].last if rows else row.last)
    start = row.first + end
    while start < row.last and text[start].isspace():
        start += 1
    beside = text[start : row.last]
    if beside[:1] in _QUOTES and beside:
        found = _QUOTED.match(beside)
        if found is None:
            return st.Bad(span, word), Problem(
                "unfinished-text",
                "This text starts with a quote mark and has none at its end.",
                Span(file, start, row.last),
                repairs=(Repair("close the text with a quote mark", Span(file, row.last, row.last), '"'),),
            )
        if found.end() < len(beside):
            return st.Bad(span, word), Problem(
                "not-understood",
                f"After the quoted text of a `{word}` nothing more can stand on the line.",
                Span(file, start + found.end(), row.last),
            )
        inside = Span(file, start + 1, row.last - 1)
        return st.Prose(word, beside[1:-1], inside, (inside.start,), span), None
    if not (beside or rows):
        return st.Bad(span, word), Problem(
            "nothing-under",
            f"`{word}` has no text: nothing stands in quotes beside it, and nothing is indented under it.",
            span,
        )
    return text_of(file, text, rows, word, span, [(beside, start)] if beside else []), None


def text_of(
    file: str, text: str, rows: list[TextLine], word: str, span: Span, beside: Sequence[tuple[str, int]] = ()
) -> st.Prose:
    """The free text in some rows, under a heading whose line covers `span`; `beside` is what stands on that line."""
    lines = list(beside)
    common = min((r.column for r in rows if r.first < r.last), default=0)
    for r in rows:
        words = text[r.first : r.last].rstrip()
        lines.append(
            (
                " " * (r.column - common) + words if words else "",
                r.first - (r.column - common if words else 0),
            )
        )
    body = "\n".join(line for line, _ in lines)
    covers = Span(file, lines[0][1], span.end)
    return st.Prose(word, body, covers, tuple(max(at, 0) for _, at in lines), span)
