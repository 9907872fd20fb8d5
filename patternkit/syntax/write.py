"""One line written again in its settled form: spaces, fractions, marks and quotes."""

from __future__ import annotations

from collections.abc import Sequence

from lark import Token

from patternkit.syntax.numbers import split_number, split_unit, unit_of

_SPACED_LEADS = {"usable-width": "usable width", "strip-units": "strip units"}
_VALUES = ("NUMBER", "NAME", "_CLOSE")
_QUOTES = '"“”„‟'


def write_number(text: str) -> str:
    """A number with its fraction and unit in the one spelling: ``1-1/4"`` becomes ``1 1/4 in``; decimals stay."""
    body, tail = split_unit(text)
    if "." in body:
        done = body if body[0] != "." else "0" + body
    else:
        whole, above, below = split_number(body)
        part = f"{above}/{below}" if above or below != 1 or any(c in body for c in "/⁄∕") else ""
        done = f"{whole} {part}" if whole and part else part or str(whole)
    if not tail:
        return done
    unit = unit_of(tail)
    return {"°": done, "%": done + "%"}.get(unit, f"{done} {unit}")


def write_text(text: str) -> str:
    """A quoted text in straight quotes, unless a straight quote stands inside it."""
    return text if '"' in text[1:-1] else f'"{text[1:-1]}"'


def _shown(token: Token) -> str:
    if token.type == "NUMBER":
        return write_number(token)
    if token.type == "TEXT":
        return write_text(token)
    if token.type in ("SETTING", "HEAD"):
        return _SPACED_LEADS.get(token, str(token))
    return {"CROSS": "x", "OPEN": "(", "CALL": "(", "_CLOSE": ")"}.get(token.type) or (
        token.lower() if token.type == "COLOUR" else str(token)
    )


def _glued(before: Token, token: Token, earlier: Token | None, after: Token | None) -> bool:
    """Whether no space stands between two tokens; `earlier` stands before both and `after` behind them."""
    if token.type in ("COMMA", "_CLOSE", "CALL") or before.type in ("OPEN", "CALL"):
        return True
    if token.type == "OPEN" and str(before) == "root" and before.end_pos == token.start_pos:  # in other brackets too
        return True
    if before.type == "ADD":  # a sign, not a sum, when no value stands before it
        return earlier is None or earlier.type not in _VALUES
    if token.type == "MUL":
        return not _apart(before, token, after)
    if before.type == "MUL":
        return not _apart(earlier, before, token)
    return False


def _apart(left: Token | None, operator: Token, right: Token | None) -> bool:
    """Whether a division must keep its spaces, because without them it would be read as a fraction."""
    if left is None or right is None or operator != "/":
        return False
    return right.type == "NUMBER" and (left.type == "NUMBER" or "/" in write_number(right))


def write_tokens(tokens: Sequence[Token]) -> str:
    """Tokens with settled spaces between them."""
    out: list[str] = []
    for i, token in enumerate(tokens):
        if i:
            earlier = tokens[i - 2] if i > 1 else None
            after = tokens[i + 1] if i + 1 < len(tokens) else None
            if not _glued(tokens[i - 1], token, earlier, after):
                out.append(" ")
        out.append(_shown(token))
    return "".join(out)


def split_cells(tokens: Sequence[Token]) -> tuple[list[str], list[str]]:
    """The cells of a row of pieces and the marks between them; a row with a repeated group is one cell."""
    cells: list[list[Token]] = [[]]
    marks: list[str] = []
    depth = 0
    for token in tokens:
        if token.type in ("OPEN", "CALL"):
            depth += 1
        elif token.type == "_CLOSE":
            depth -= 1
        if token.type == "TIMES":
            return [write_tokens(tokens)], []
        if token.type in ("MARK", "COMMA") and depth == 0:
            marks.append(", " if token == "," else f" {token} ")
            cells.append([])
        else:
            cells[-1].append(token)
    return [write_tokens(cell) for cell in cells], marks
