"""Cuts one line into tokens. A keyword is one only where the parser would take it there; elsewhere it is a name."""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Iterable, Iterator
from typing import Any

from lark import Token
from lark.common import LexerConf
from lark.lexer import Lexer
from lark.parsers.lalr_analysis import Shift

from patternkit.problems import Problem, Repair
from patternkit.source import Span
from patternkit.syntax.numbers import NO_LETTERS, NUMBER
from patternkit.syntax.words import PRESS_PLAIN

MOST_BRACKETS = 40
MOST_STEPS = 100

TEXT = r'"[^"\r\n]*"|[“”„‟][^“”„‟\r\n]*[“”]|[“”„‟][^"\r\n]*"|"[^"\r\n]*”'
"""A quoted text. A straight quote closes a straight one where it can, a curly one a curly one."""

_LETTER = rf"(?:[^\W{NO_LETTERS}]|[\u0300-\u036f])"
WORD = rf"[^\W\d_{NO_LETTERS}]{_LETTER}*(?:['’‐‑-]{_LETTER}+)*"
"""A word: letters and digits, with hyphens and apostrophes inside it."""

_TOKEN = re.compile(
    rf"(?P<WS>[\s\u200b-\u200d\u2060\ufeff]+)|(?P<NAME>{WORD})|(?P<DATE>[0-9]{{4}}-[0-9]{{2}}-[0-9]{{2}}(?![\w-]))"
    rf"|(?P<NUMBER>{NUMBER})|(?P<MARK><>|[|<>])|(?P<COMMA>,)|(?P<TEXT>{TEXT})"
    r"|(?P<COLOUR>#[0-9A-Fa-f]{6}(?![0-9A-Za-z]))|(?P<CROSS>×)|(?P<ADD>[-+−–])|(?P<MUL>[*/⁄∕·÷])|(?P<EQUALS>=)|(?P<OPEN>\()"
    r"|(?P<CLOSE>\))",
    re.IGNORECASE,
)
_GLUED_CROSS = re.compile(r"[xX](?=[0-9]|$)")
_HYPHENS = str.maketrans("’‐‑", "'--")


class Trouble(Exception):
    """A mistake found in a line; carries the one problem that is reported for it. `worded` where the line is worded as
    the language has it, and only can't be meant."""

    def __init__(self, problem: Problem, worded: bool = False) -> None:
        super().__init__(problem.message)
        self.problem, self.worded = problem, worded


def trouble(code: str, message: str, span: Span, *repairs: Repair, causes: tuple[str, ...] = ()) -> Trouble:
    """A mistake with its code, place and wording."""
    return Trouble(Problem(code, message, span, repairs=repairs, causes=causes))


def fold(word: str) -> str:
    """A word as names are kept: small letters, plain hyphens and apostrophes."""
    return word.lower() if word.isascii() else word.lower().translate(_HYPHENS)


class LineText:
    """What the lexer reads: a line's text, the offset of its start in the file, and the word it starts with."""

    __slots__ = ("base", "end", "file", "lead", "text", "tokens", "words")

    def __init__(self, file: str, base: int, text: str, lead: tuple[str, str, int] | None) -> None:
        self.file, self.base, self.text, self.lead = file, base, text, lead
        self.end = len(text)
        # for the second reading of a line with a mistake: the last names met, and where the parser stood then
        self.words: deque[tuple[Token, Any, list[Any]]] | None = None
        self.tokens: list[Token] | None = None  # what the line is cut into, for the formatter

    def span(self, start: int, end: int) -> Span:
        """The span in the file of a stretch of this line."""
        return Span(self.file, self.base + start, self.base + end)


def takes(states: Any, stack: list[Any], kind: str) -> bool:
    """Whether the parser, standing at `stack`, would take a token of this kind.

    A state's table also lists tokens that only other rules would take after the pending reductions, so those are
    followed on a copy of the stack.
    """
    stack = list(stack)
    while True:
        entry = states[stack[-1]].get(kind)
        if entry is None:
            return False
        if entry[0] is Shift:
            return True
        rule = entry[1]
        if rule.expansion:
            del stack[-len(rule.expansion) :]
        stack.append(states[stack[-1]][rule.origin.name][1])


def accepted(states: Any, stack: list[Any]) -> frozenset[str]:
    """All kinds of token the parser would take here, ``$END`` apart."""
    return frozenset(
        kind for kind in states[stack[-1]] if kind.isupper() and kind != "$END" and takes(states, stack, kind)
    )


def keywords_of(terminals: Iterable[Any]) -> dict[str, str]:
    """The grammar's quoted words with the names lark gives them."""
    return {t.pattern.value: t.name for t in terminals if t.pattern.type == "str"}


class LineLexer(Lexer):
    """A lexer for lark: one regular expression, and the parser's state to tell keywords from names."""

    __future_interface__ = 2

    def __init__(self, conf: LexerConf) -> None:
        self.keywords = keywords_of(conf.terminals)

    def lex(self, lexer_state: Any, parser_state: Any) -> Iterator[Token]:
        """Yield the line's tokens; raises Trouble for a character or a text that cannot be read."""
        line: LineText = lexer_state.text
        text, end, match = line.text, line.end, _TOKEN.match
        states, stack = parser_state.parse_conf.states, parser_state.state_stack
        pos = depth = steps = 0
        if line.lead:
            first, word, pos = line.lead
            yield Token(first, word, 0, 1, 1, 1, 1, pos)
        before = ""
        while pos < end:
            found = match(text, pos)
            if found is None:
                raise _odd(line, pos)
            kind, start, pos = found.lastgroup or "", pos, found.end()
            if kind == "WS":
                continue
            value: str = found.group()
            if kind == "NAME":
                value, kind, pos = self._word(line, value, start, pos, states, stack)
            elif kind == "OPEN":
                depth += 1
                kind = "CALL" if before == "NAME" and text[start - 1 : start].strip() else "OPEN"
            elif kind == "CLOSE":
                depth, kind = depth - 1, "_CLOSE"
            elif kind == "COMMA":
                if not depth and text[start - 1 : start].isdigit() and text[pos : pos + 1].isdigit():
                    raise _glued_comma(line, start)
            elif kind == "ADD" or kind == "MUL":
                steps += 1
                value = _operator(line, value, start)
            elif kind == "EQUALS":
                kind = "_EQUALS"
            if depth > MOST_BRACKETS or steps > MOST_STEPS:
                raise trouble(
                    "too-much",
                    f"This line has more than {MOST_BRACKETS} brackets inside each other, or a "
                    f"sum of more than {MOST_STEPS} steps.",
                    line.span(start, pos),
                )
            before = kind
            token = Token(kind, value, start, 1, 1, 1, 1, pos)
            if line.tokens is not None:
                line.tokens.append(token)
            yield token

    def _word(
        self, line: LineText, value: str, start: int, end: int, states: Any, stack: list[Any]
    ) -> tuple[str, str, int]:
        """Whether a word is a keyword here, the ``x`` of a size, or a name."""
        word, state = fold(value), states[stack[-1]]
        keyword = self.keywords.get(word)
        if keyword is not None and keyword in state and takes(states, stack, keyword):
            return word, keyword, end
        if "CROSS" in state and word[0] == "x" and _GLUED_CROSS.match(word):
            return "x", "CROSS", start + 1
        if word in PRESS_PLAIN and "PRESS_PLAIN" in state:
            return word, "PRESS_PLAIN", end
        if line.words is not None:
            line.words.append((Token("NAME", word, start, 1, 1, 1, 1, end), states, list(stack)))
        return word, "NAME", end


def _operator(line: LineText, value: str, start: int) -> str:
    """The plain form of an operator; a ``-`` glued between two numbers is not taken for a subtraction."""
    if value in "-−–":
        before, after = line.text[start - 1 : start], line.text[start + 1 : start + 2]
        if before.strip() and after.strip() and before not in "(*/" and after != "(":
            span = line.span(start, start + 1)
            raise trouble(
                "glued-minus",
                "A `-` with no spaces round it could be a hyphen, a mixed number or a subtraction.",
                span,
                Repair("put a space on both sides to subtract", span, " - "),
            )
        return "-"
    return {"⁄": "/", "∕": "/", "÷": "/", "·": "*"}.get(value, value)


def _glued_comma(line: LineText, start: int) -> Trouble:
    """The problem of a comma between two digits: a decimal comma, or a list."""
    span = line.span(start, start + 1)
    return trouble(
        "glued-comma",
        "A `,` with no space behind it could be a decimal comma or stand between two numbers.",
        span,
        Repair("write a point for a decimal number", span, "."),
        Repair("put a space behind it for two numbers", line.span(start + 1, start + 1), " "),
    )


def _odd(line: LineText, pos: int) -> Trouble:
    """The problem for a character that starts nothing."""
    char, rest = line.text[pos], line.text[pos:]
    if char in '"“”„‟':
        return trouble(
            "unfinished-text",
            "This text starts with a quote mark and has none at its end.",
            line.span(pos, line.end),
            Repair("close the text with a quote mark", line.span(line.end, line.end), '"'),
        )
    if char == "#":
        word = re.match(r"#\S*", rest)
        stop = pos + (word.end() if word else 1)
        return trouble(
            "odd-hash",
            f"`{line.text[pos:stop]}` is neither a comment nor a colour.",
            line.span(pos, stop),
            Repair("put a space behind `#` for a comment", line.span(pos + 1, pos + 1), " ", True),
            causes=(
                "A comment is `#` followed by a space; a colour is `#` followed by six digits or "
                "letters a to f, such as `#1b2a49`.",
            ),
        )
    if char == ":":
        span = line.span(pos, pos + 1)
        return trouble("odd-character", "A line needs no colon.", span, Repair("take the colon out", span, "", True))
    if char in "—―":
        mark = line.span(pos, pos + 1)
        mend = Repair("write `|` for it", mark, " | ")
        why = "Between two pieces stands a seam mark, such as `|`."
        return trouble("odd-character", f"`{char}` has no meaning in a pattern.", mark, mend, causes=(why,))
    if char in "'‘’":
        return trouble(
            "odd-character",
            "Texts stand in double quotes, not in single ones.",
            line.span(pos, pos + 1),
            causes=('Write `"Stone"`.',),
        )
    if char in "{};":
        span = line.span(pos, pos + 1)
        cause = "What belongs to a line is indented under it, one statement a line."
        return trouble(
            "odd-character", f"`{char}` is not needed.", span, Repair("take it out", span, "", True), causes=(cause,)
        )
    name = f"`{char}`" if char.isprintable() else f"the invisible character U+{ord(char):04X}"
    return trouble("odd-character", f"{name} has no meaning in a pattern.", line.span(pos, pos + 1))
