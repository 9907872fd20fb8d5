"""Reads a whole file: its lines one by one, each under the heading it is indented below, mistakes and all."""

from __future__ import annotations

import re
from collections import deque
from typing import Any

import msgspec

from patternkit.problems import Problem, Repair
from patternkit.source import Span
from patternkit.syntax import statements as st
from patternkit.syntax.layout import (
    LONGEST_LINE,
    MOST_CHARACTERS,
    MOST_LINES,
    TextLine,
    prose_word,
    rows_of,
)
from patternkit.syntax.lead import Lead, lead_of, leading_word, place_under
from patternkit.syntax.prose import read_prose, text_of
from patternkit.syntax.shift import shift
from patternkit.syntax.words import NEEDS_LINES, OPTION_WORDS, PLACES

DEEPEST = 40
MOST_MISTAKES = 1_000
_ODD = (
    "Lines that belong to the same heading stand in the same column; a tab counts to the next column that is "
    "a multiple of four."
)
_MEMO_SIZE = 30_000
_memo: dict[tuple[str, str], tuple[str, int, st.Statement, Problem | None, str]] = {}
_SECOND_WORD = re.compile(r"[^\s\"“”(]+\s+([^\W\d_][\w'’‐‑-]*)")


def parse(name: str, text: str) -> st.File:
    """Everything a file says, and the problems of reading it. `name` is the file's name as the writer knows it.

    Never raises for anything in the text. A file of more than a million characters or 20,000 lines is refused with one
    problem.
    """
    if len(text) > MOST_CHARACTERS:
        return _refused(name, text, f"This file has more than {MOST_CHARACTERS:,} characters.")
    rows = rows_of(text)
    if len(rows) > MOST_LINES:
        return _refused(name, text, f"This file has more than {MOST_LINES:,} lines.")
    return _Reader(name, text, rows).read()


def _refused(name: str, text: str, message: str) -> st.File:
    problem = Problem(
        "too-much",
        message,
        Span(name, 0, min(len(text), 1)),
        causes=("A pattern of that size is most often something else, pasted by mistake.",),
    )
    return st.File(name, text, (), (problem,))


class _Frame:
    """A line with what is indented under it, while the file is being read."""

    __slots__ = (
        "children",
        "column",
        "comment",
        "inner",
        "lines",
        "odd",
        "place",
        "statement",
        "word",
        "wrong",
    )

    def __init__(self, statement: st.Statement, word: str, place: str, column: int, comment: str) -> None:
        self.statement, self.word, self.place, self.column, self.comment = (
            statement,
            word,
            place,
            column,
            comment,
        )
        self.inner = -1  # the column of the lines under it, once there is one
        self.odd = -1  # the last column that was reported as odd
        self.lines = 0  # how many lines stand under it
        self.wrong = False  # whether a problem of the line itself has been reported
        self.children: list[st.Node | st.Trivia] = []


class _Reader:
    """Reads one file's lines in order."""

    def __init__(self, name: str, text: str, rows: list[TextLine]) -> None:
        self.name, self.text, self.rows = name, text, rows
        self.problems: list[Problem] = []
        self.waiting: list[tuple[int, st.Trivia]] = []
        self.too_deep = False
        root = _Frame(st.Bad(Span(name, 0, 0)), "", "file", -1, "")
        root.inner = min((r.column for r in rows if r.kind in ("code", "prose")), default=0)
        self.stack = [root]

    def read(self) -> st.File:
        """The file."""
        i = 0
        while i < len(self.rows):
            row = self.rows[i]
            i += 1
            if len(self.problems) >= MOST_MISTAKES:
                self.give_up(row)
                break
            if row.kind in ("blank", "comment"):
                span = Span(self.name, row.first, row.comment_end)
                self.waiting.append(
                    (
                        row.column if row.kind == "comment" else -1,
                        st.Trivia(self.text[row.first : row.comment_end], span),
                    )
                )
                continue
            texts: list[TextLine] = []
            if row.kind in ("prose", "code"):
                while i < len(self.rows) and self.rows[i].kind == "text":
                    texts.append(self.rows[i])
                    i += 1
            self.line(row, texts)
        self.close_to(-1)
        root = self.stack[0]
        root.children.extend(t for _, t in self.waiting)
        problems = sorted(self.problems, key=lambda p: (p.span.start, p.span.end))
        return st.File(self.name, self.text, tuple(root.children), tuple(problems))

    def give_up(self, row: TextLine) -> None:
        """Say that the rest of the file is not read: a file with so many mistakes is no pattern."""
        span = Span(self.name, row.first, max(row.last, row.comment_end, row.first + 1))
        message = f"More than {MOST_MISTAKES:,} lines above this one can't be read; the rest is left unread."
        self.problems.append(Problem("too-much", message, span))

    # -- indentation ------------------------------------------------------------------------------------
    def close_to(self, column: int) -> None:
        """Close every heading that a line at `column` does not stand under."""
        while len(self.stack) > 1 and (column < 0 or self.stack[-1].column >= column):
            frame = self.stack.pop()
            if frame.inner >= 0:
                self.adopt_comments(frame, frame.inner)
            beside = isinstance(frame.statement, st.KindStatement) and frame.statement.line is not None
            if frame.word in NEEDS_LINES and not (frame.lines or frame.wrong or beside):
                what = self.text[frame.statement.span.start : frame.statement.span.end]
                self.problems.append(
                    Problem("nothing-under", f"Nothing is indented under `{what[:60]}`.", frame.statement.span)
                )
            self.stack[-1].children.append(st.Node(frame.statement, tuple(frame.children), frame.comment))

    def adopt_comments(self, frame: _Frame, column: int) -> None:
        """Give a closing heading the waiting comments that are indented as its lines are."""
        count = 0
        for i, (at, _) in enumerate(self.waiting):
            if at >= column:
                count = i + 1
        frame.children.extend(t for _, t in self.waiting[:count])
        del self.waiting[:count]

    def line(self, row: TextLine, texts: list[TextLine]) -> None:
        """Read one line and put it where its indentation says."""
        self.close_to(row.column)
        span = Span(self.name, row.first, row.last)
        odd = self.indentation(row, span)
        frame = self.stack[-1]
        frame.children.extend(t for _, t in self.waiting)
        self.waiting.clear()
        if len(self.stack) > DEEPEST:
            self.deep(span)
            return
        frame.lines += 1
        comment = self.text[row.comment : row.comment_end]
        statement, word, problem = self.statement(row, texts, frame.place)
        if found := odd or problem:
            self.problems.append(found)
        place = "size" if isinstance(statement, st.SizeRow) else place_under(word)
        if not place:
            place = "silent" if frame.place == "silent" or (not word and problem) else "leaf"
        self.stack.append(_Frame(statement, word, place, frame.inner, comment))
        self.stack[-1].wrong = found is not None

    def indentation(self, row: TextLine, span: Span) -> Problem | None:
        """Find the heading that a line stands under, whatever its column, and say so when the column is odd.

        A stretch of lines in the same odd column is one mistake.
        """
        frame = self.stack[-1]
        message = "This line is indented neither like the line above it nor like an earlier one."
        if frame.place == "leaf" or (frame.place == "kind" and self.is_claim(row)):
            message = f"This line is indented under `{frame.word}`, and does not belong to it."
            self.close_to(frame.column)
            frame = self.stack[-1]
        elif frame.inner < 0:
            frame.inner = row.column
        if row.column == frame.inner:
            frame.odd = -1
            return None
        if row.column == frame.odd or frame.place == "silent":
            return None
        frame.odd = row.column
        return Problem("odd-indent", message, span, causes=(_ODD,))

    def is_claim(self, row: TextLine) -> bool:
        """Whether a line under a unit's kind is one that belongs to the unit."""
        word, _ = leading_word(self.text[row.first : row.last])
        return word in PLACES["unit"] and word not in PLACES["kind"]

    def deep(self, span: Span) -> None:
        """Report once that headings stand too deep under each other."""
        if not self.too_deep:
            self.too_deep = True
            self.problems.append(Problem("too-much", f"Lines are indented more than {DEEPEST} headings deep.", span))

    # -- one line -----------------------------------------------------------------------------------------
    def statement(self, row: TextLine, texts: list[TextLine], place: str) -> tuple[st.Statement, str, Problem | None]:
        """What a line says, the word it starts with, and its problem."""
        span = Span(self.name, row.first, row.last)
        words = self.text[row.first : row.last]
        if place == "silent":
            return st.Bad(Span(self.name, row.first, texts[-1].last if texts else row.last)), "", None
        if row.kind == "prose":
            word, end = prose_word(words)
            prose, problem = read_prose(self.name, self.text, row, texts, word, end)
            if problem is None and place in ("rows", "sizes"):
                problem = lead_of(place, words, span).problem
            return prose, word, problem
        if len(words) > LONGEST_LINE:
            return (
                st.Bad(span),
                "",
                Problem(
                    "too-much",
                    f"This line has more than {LONGEST_LINE:,} characters.",
                    Span(self.name, row.first, row.first + 60),
                ),
            )
        key = (place, words)
        known = _memo.get(key)
        if known is not None:
            file, at, stated, problem, word = known
            if at == row.first and file == self.name:
                return stated, word, problem
            by = row.first - at
            stated, problem = shift(stated, self.name, by), shift(problem, self.name, by)
        else:
            stated, word, problem = read_line(place, words, span)
            if len(_memo) >= _MEMO_SIZE:
                _memo.clear()
        _memo[key] = self.name, row.first, stated, problem, word
        if texts and isinstance(stated, st.Also):
            prose = text_of(self.name, self.text, texts, "also", Span(self.name, row.first, texts[-1].last))
            stated = msgspec.structs.replace(stated, text=prose)
        return stated, word, problem


def read_line(place: str, words: str, span: Span) -> tuple[st.Statement, str, Problem | None]:
    """Read the words of one line that stands at a place of the language (a key of `PLACES`)."""
    lead = lead_of(place, words, span)
    if not lead.rule:
        return _bad(lead, words, span), "", _as_meant(place, words, span) or lead.problem
    if lead.rule == "option" and lead.word not in OPTION_WORDS and (odd := _as_paged(place, words, span)) is not None:
        return st.Bad(span), "", odd
    if lead.rule == "prose":  # a slip for a word such as `note`: what stands under it is free text, not lines
        return st.Bad(span), "", lead.problem
    stated, problem, worded = _read(lead, words, span)
    problem = lead.problem or problem
    if stated is None:
        return _bad(lead, words, span), lead.word, problem if worded else _as_meant(place, words, span) or problem
    return stated, lead.word, (_as_meant(place, words, span) or problem) if lead.problem else problem


def _as_meant(place: str, words: str, span: Span) -> Problem | None:
    """The problem of a line that is worded as pages word it, with the line rewritten; None for others."""
    return _as_cut(place, words, span) or _as_paged(place, words, span)


def _as_paged(place: str, words: str, span: Span) -> Problem | None:
    """The same for lines that speak of no cutting."""
    from patternkit.syntax.page_lines import offered_line  # only a mistake needs it

    offer = offered_line(place, words)
    if offer is None or not _is_read(place, offer, span):
        return None
    repair = Repair(f"write `{offer}`", span, offer)
    return Problem("not-understood", "This line is written otherwise here.", span, repairs=(repair,))


def _is_read(place: str, offer: str, span: Span) -> bool:
    """Whether a line that is to be offered is read without a problem."""
    here = Span(span.file, 0, len(offer))
    lead = lead_of(place, offer, here)
    return bool(lead.rule) and lead.problem is None and _read(lead, offer, here)[1] is None


def _as_cut(place: str, words: str, span: Span) -> Problem | None:
    """The problem of a line of cutting that is worded as pages word it, with the line rewritten; None for others."""
    from patternkit.syntax.cut_offers import offered_cut  # only a mistake needs it

    offer = offered_cut(words, place == "unit") if place in ("fabric", "unit") else None
    if offer is None or offer == words or not _is_read(place, offer, span):
        return None
    if offer.startswith("cut at"):
        return Problem(
            "not-understood",
            "Where a sewn unit is cut apart is said by an edge of it.",
            span,
            causes=("`cut at middle of top` halves it from top to bottom, `cut at middle of left` from side to side.",),
            repairs=(Repair(f"write `{offer}`", span, offer),),
        )
    return Problem(
        "not-understood",
        "How many strip units are sewn is written otherwise here."
        if offer.startswith("strip")
        else "A line of cutting is written otherwise here.",
        span,
        causes=(
            "How many segments come from each stands behind it: `strip units 3, 16 from each`."
            if offer.startswith("strip")
            else "First the number, then what is cut, then its size: `cut 12 strips 2 1/2`, `cut 31 of 2 x 9 1/4`.",
        ),
        repairs=(Repair(f"write `{offer}`", span, offer),),
    )


def _bad(lead: Lead, words: str, span: Span) -> st.Bad:
    """A line that could not be read, with the name it most likely gives, so that uses of it are not reported too."""
    if lead.word in ("fabric", "unit", "block", "let", "colourway") and (found := _SECOND_WORD.match(words)):
        return st.Bad(span, lead.word, found.group(1).lower())
    if not lead.rule and lead.word and words[len(lead.word) :].lstrip().startswith("="):
        return st.Bad(span, "let", lead.word)  # "side = 9" without its word
    return st.Bad(span, lead.word)


def _read(lead: Lead, words: str, span: Span) -> tuple[st.Statement | None, Problem | None, bool]:
    """Read a line by its rule; on a mistake read it once more to note what could have stood at each word. Last, whether
    a line that can't be meant is worded as the language has it."""
    from patternkit.syntax.grammar import UnexpectedToken, line_parser
    from patternkit.syntax.lexer import LineText, Trouble

    parser = line_parser()
    line = LineText(span.file, span.start, words, lead.token)
    try:
        stated: Any = parser.parse(lead.rule, line)
        return stated, None, True
    except Trouble as error:
        return None, error.problem, error.worded
    except UnexpectedToken:
        line.words = deque(maxlen=4)
    from patternkit.syntax.explain import explain  # only a mistake needs it

    try:
        parser.parse(lead.rule, line)
    except UnexpectedToken as error:
        return None, explain(error, line, lead.rule, parser.keywords), False
    raise AssertionError("the same line read twice gave two answers")
