"""Says in the writer's words what is wrong with a line that the grammar does not take."""

from __future__ import annotations

import re
from typing import Any

from lark import Token, UnexpectedToken

from patternkit.problems import Problem, Repair
from patternkit.syntax.lexer import WORD, LineText, accepted
from patternkit.syntax.pieces import added
from patternkit.syntax.suggest import nearest
from patternkit.syntax.words import PRESS_PLAIN

_REASONS = {
    "NAME": "a name",
    "NUMBER": "a length or number",
    "TEXT": "a text in double quotes",
    "COLOUR": "a colour such as `#1b2a49` or `teal`",
    "DATE": "a date such as `2026-03-02`",
    "MARK": "a seam mark (`|`, `>`, `<` or `<>`)",
    "COMMA": "a comma",
    "CROSS": "`x` and a height",
    "_EQUALS": "`=`",
    "_CLOSE": "`)`",
    "CALL": "`(`",
}
_LATER = ("ADD", "MUL", "OPEN", "ROOT")
MOST_CHOICES = 9


def explain(error: UnexpectedToken, line: LineText, rule: str, keywords: dict[str, str]) -> Problem:
    """The problem for a line that stopped making sense at a token. `keywords` maps words to the grammar's names."""
    token: Token = error.token
    state: Any = error.state
    kinds = accepted(state.parse_conf.states, state.state_stack)
    spelled = {name: word for word, name in keywords.items()}
    choices = _choices(kinds - {"NAME"} if rule == "fabric_head" and token.start_pos else kinds, spelled)
    causes = ("Here may stand: " + ", ".join(choices) + ".",) if choices else ("The line should end here.",)
    start, end = token.start_pos or 0, token.end_pos or 0
    meant, guess = _meant(token, line, spelled)
    if rule == "make" and token.type == "NAME":
        return _made(token, line)
    special = _marks(token, line, rule, kinds) or _texts_and_names(token, line, rule, kinds)
    if special is not None and (meant is None or special.code != "not-understood"):
        return special
    if meant is not None:
        span = line.span(meant.start_pos or 0, meant.end_pos or 0)
        return Problem(
            "unknown-word",
            f"`{meant}` has no meaning here. Did you mean `{guess}`?",
            span,
            repairs=(Repair(f"write `{guess}`", span, guess, True),),
        )
    if token.type == "$END":
        return Problem(
            "stops-early",
            f"This line stops too early: after `{line.text[-30:]}` something is missing.",
            line.span(0, line.end),
            causes=causes,
        )
    shown = line.text[start:end]
    if start:
        return Problem(
            "not-understood",
            f"`{shown}` can't stand here, after `{line.text[:start].rstrip()[-30:]}`.",
            line.span(start, end),
            causes=causes,
            repairs=(Repair(f"leave out `{line.text[start:].strip()}`", line.span(start, line.end), ""),),
        )
    return Problem("not-understood", f"A line can't start with `{shown}`.", line.span(start, end), causes=causes)


def _made(token: Token, line: LineText) -> Problem:
    """A word behind how many are made: ``make 4 units``."""
    span = line.span(token.start_pos or 0, token.end_pos or 0)
    message = f"Behind `make` stands how many: `{token}` says nothing."
    return Problem("not-understood", message, span, repairs=(Repair("take the word out", span, "", True),))


def _marks(token: Token, line: LineText, rule: str, kinds: frozenset[str]) -> Problem | None:
    """Mistakes with seam marks, which have clearer names than "can't stand here"."""
    start, end = token.start_pos or 0, token.end_pos or 0
    span = line.span(start, end)
    ended = token.type == "$END"
    if token.type == "MARK" and start and line.text[:start].rstrip().endswith(("|", ">", "<")):
        return Problem(
            "mark-twice",
            "There are two seam marks between the same two pieces.",
            span,
            repairs=(Repair("take this mark out", span, ""),),
        )
    if rule in ("line", "kind") and (token.type == "MARK" or ended) and "NAME" in kinds and "NUMBER" not in kinds:
        if ended and (opened := _never_closed(line.text)) is not None:
            return Problem(
                "stops-early",
                "This bracket is opened and never closed.",
                line.span(opened, opened + 1),
                causes=("A stretch that repeats is written `(a | b |) 3 times`; one that does not needs no brackets.",),
                repairs=(Repair("take the bracket out", line.span(opened, opened + 1), ""),),
            )
        if ended:
            size = 2 if line.text.endswith("<>") else 1
            span = line.span(line.end - size, line.end)
        return Problem(
            "mark-at-edge",
            "A seam mark stands between two pieces; on one side of this one there is none.",
            span,
            repairs=(Repair("take this mark out", span, ""),),
        )
    if token.type == "ADD" and token == "-" and "NUMBER" in kinds and re.match(r"\S\s*\d", line.text[start:]):
        return _negative(line, rule, start)
    if rule in ("line", "kind") and token.type in ("ADD", "MUL") and "MARK" in kinds:
        return added(span, str(token))
    if rule == "option" and token.type == "MARK":
        return Problem(
            "no-rows",
            "Pieces side by side need a word that says how they are joined.",
            line.span(0, line.end),
            causes=("A single row starts with `row`; several rows stand under `rows`, indented.",),
            repairs=(Repair("put `row` before the pieces", line.span(0, 0), "row "),),
        )
    return None


def _negative(line: LineText, rule: str, start: int) -> Problem:
    """A minus sign glued to a number: the other way round for a turn, outside the unit for a point, else a slip."""
    number = re.match(r"-\s*(\d[^\s,x×]*)", line.text[start:])
    assert number is not None  # the caller has seen the digit
    span, whole = line.span(start, start + 1), line.span(start, start + number.end())
    degrees = number.group(1)
    if re.search(r"turned\s*$", line.text[:start]) and degrees.isdigit() and 0 < int(degrees) < 360:
        turn = str(360 - int(degrees))
        message = "A unit is turned clockwise, by degrees with no sign."
        return Problem("not-understood", message, whole, repairs=(Repair(f"write `{turn}`", whole, turn, True),))
    if rule == "option":
        message = "A length below nothing, for a point outside the unit, stands in brackets."
        inside = f"(-{degrees})"
        return Problem("not-understood", message, whole, repairs=(Repair(f"write `{inside}`", whole, inside, True),))
    message = "A length here is more than nothing: no minus sign stands before it."
    return Problem("not-understood", message, span, repairs=(Repair("take the sign out", span, ""),))


def _never_closed(text: str) -> int | None:
    """Where the last bracket stands that nothing closes; None when all are closed."""
    opened: list[int] = []
    for i, char in enumerate(text):
        if char == "(":
            opened.append(i)
        elif char == ")" and opened:
            opened.pop()
    return opened[-1] if opened else None


def _texts_and_names(token: Token, line: LineText, rule: str, kinds: frozenset[str]) -> Problem | None:
    """Mistakes with texts, names and sizes that have a clearer name than "can't stand here"."""
    start, end = token.start_pos or 0, token.end_pos or 0
    span, shown = line.span(start, end), line.text[start:end]
    if "CROSS" in kinds and token == "by":
        message = "Between a width and a height stands `x`."
        return Problem("unknown-word", message, span, repairs=(Repair("write `x`", span, "x", True),))
    if kinds == {"TEXT"} and token.type != "$END" and (quoted := re.search(r'["“”„‟]', line.text[start:])):
        stray = line.span(start, start + quoted.start())
        before = line.text[start : start + quoted.start()].strip()
        message = f"`{before}` can't stand here: a text in double quotes comes first."
        return Problem("not-understood", message, stray, repairs=(Repair("take it out", stray, ""),))
    if kinds == {"TEXT"} and token.type != "$END":
        rest = line.span(start, line.end)
        repair = Repair("put the text in quotes", rest, f'"{line.text[start:]}"', True)
        if rule != "unit_head":
            return Problem("needs-quotes", "A text stands in double quotes.", rest, repairs=(repair,))
    if rule == "setting_text" and token.type == "NAME" and (lead := line.lead) is not None:
        first = lead[2] + len(line.text[lead[2] :]) - len(line.text[lead[2] :].lstrip())
        rest = line.span(first, line.end)
        repair = Repair("put the text in quotes", rest, f'"{line.text[first:]}"', True)
        return Problem("needs-quotes", "A text stands in double quotes.", rest, repairs=(repair,))
    if rule == "fabric_head" and token.type == "NUMBER" and line.text[:start].count(" ") > 1:
        return Problem(
            "not-understood",
            f"`{shown}` can't stand here, after `{line.text[:start].rstrip()[-30:]}`.",
            span,
            causes=(
                "How wide it is, is said under the fabric, indented: `usable width 42`; how much to buy by `buy`.",
            ),
        )
    if rule in ("kind", "line") and (repeated := _repeated(line)) is not None:
        return repeated
    if rule == "kind" and line.text.lower().startswith("row") and token.type == "NUMBER":
        message = "Rows have no numbers: under `rows`, indented, each line is a row."
        return Problem("not-understood", message, span)
    if token.type == "NUMBER" and "NAME" in kinds and "NUMBER" not in kinds:
        message = f"A name has to stand here, and a name starts with a letter, not with `{shown}`."
        causes = ("A stretch that repeats is written `(a | b |) 3 times`.",) if rule == "line" else ()
        name = re.match(rf"\s*({WORD})", line.text[end:]) if rule in ("line", "kind") else None
        repairs = []
        if name is not None:
            whole = line.span(start, end + name.end())
            repairs = [Repair("put the size behind the name", whole, f"{name.group(1)} {shown}")]
        return Problem("not-understood", message, span, causes=causes, repairs=tuple(repairs))
    if rule in ("unit_head", "fabric_head") and token.type == "NAME" and (line.words or ()):
        before = line.text[:start].rstrip()
        if re.fullmatch(rf"\S+\s+{WORD}", before):
            gap = line.span(len(before), start)
            message = f"`{before.split()[1]} {shown}` can't be a name: a name is one word, with hyphens if need be."
            repair = Repair("put a hyphen between them", gap, "-")
            return Problem(
                "not-understood", message, line.span(before.rindex(before.split()[1]), end), repairs=(repair,)
            )
    return None


_REPEATED = (
    re.compile(r"(?P<stretch>\([^()]*\))\s*[x×*]\s*(?P<times>\w+)(?!\s*times)"),
    re.compile(r"(?<![\w)])(?P<times>\d+)\s*(?:times|x|×|\*)?\s*(?P<stretch>\([^()]*\))(?!\s*\d)"),
)


def _repeated(line: LineText) -> Problem | None:
    """A stretch in brackets with how often it repeats written otherwise: ``(a | b) x 3``, ``3 times (a | b)``."""
    for pattern in _REPEATED:
        if (found := pattern.search(line.text)) is not None and re.search(r"[|<>]", found["stretch"]):
            span, meant = line.span(found.start(), found.end()), f"{found['stretch']} {found['times']} times"
            message = "How often a stretch repeats stands behind its brackets."
            return Problem("not-understood", message, span, repairs=(Repair(f"write `{meant}`", span, meant, True),))
    return None


def _meant(token: Token, line: LineText, spelled: dict[str, str]) -> tuple[Token | None, str]:
    """The last word, up to the one that could not be read, that is near a keyword possible at its place."""
    for word, states, stack in reversed(line.words or ()):
        if token.type != "$END" and (word.start_pos or 0) > (token.start_pos or 0):
            continue
        near = nearest(str(word), _keywords(accepted(states, stack), spelled))
        if near:
            return word, near
    return None, ""


def _keywords(kinds: frozenset[str], spelled: dict[str, str]) -> list[str]:
    words = [spelled[kind] for kind in kinds if kind in spelled]
    return words + list(PRESS_PLAIN) if "PRESS_PLAIN" in kinds else words


def _choices(kinds: frozenset[str], spelled: dict[str, str]) -> list[str]:
    """What may stand at a place, as a writer would call it."""
    found = [reasons for kind, reasons in _REASONS.items() if kind in kinds]
    if "NUMBER" in kinds and "NAME" in kinds and "a name" in found:
        found.remove("a name")
    if "OPEN" in kinds and "`(`" in found:
        found.remove("`(`")
    found += sorted(f"`{word}`" for word in _keywords(kinds - set(_LATER), spelled))
    if not found:
        found = [{"ADD": "`+` or `-`", "MUL": "`*` or `/`", "OPEN": "`(`"}[k] for k in _LATER[:3] if k in kinds]
    return found if len(found) <= MOST_CHOICES else [*found[:MOST_CHOICES], "and more"]
