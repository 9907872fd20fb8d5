"""The formatter: a file with its indentation, columns, fractions and marks settled, and its meaning as it was."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import msgspec
from lark import Token

from patternkit.source import Span
from patternkit.syntax import statements as st
from patternkit.syntax.grammar import UnexpectedToken, line_parser
from patternkit.syntax.layout import LONGEST_LINE, TextLine, rows_of
from patternkit.syntax.lead import lead_of, place_under
from patternkit.syntax.lexer import LineText, Trouble
from patternkit.syntax.parse import parse
from patternkit.syntax.write import split_cells, write_text, write_tokens

STEP = 4
"""Columns that a line stands to the right of its heading."""

WIDEST_GRID = 200
"""A grid wider than this is written without columns."""

_LEFT_ALONE = frozenset(("odd-indent", "too-much"))


class _Out(msgspec.Struct):
    """A line to be written: its words without indentation, its comment, and the cells it is aligned by (cells and what
    stands between them) with the number of the group whose columns it shares."""

    depth: int
    words: str = ""
    comment: str = ""
    cells: list[str] = []
    gaps: list[str] = []
    group: int = -1
    extra: int = 0


def format_text(text: str) -> str:
    """The same file in its settled form. Formatting twice changes nothing more, and every line still says the same.

    A line that can't be read keeps its words. A file whose indentation is in doubt is given back as it is.
    """
    file = parse("", text)
    if any(p.code in _LEFT_ALONE for p in file.problems):
        return text
    rows = rows_of(text)
    places: dict[int, tuple[int, st.Node | st.Trivia, str, int]] = {}
    _walk(file.nodes, 0, "file", places, [0])
    out: list[_Out] = []
    common = depth = 0
    for i, row in enumerate(rows):
        if row.kind == "text":
            words = text[row.first : row.last].rstrip()
            out.append(_Out(depth + 1, words, extra=row.column - common if words else 0))
            continue
        depth, node, place, parent = places[row.first]
        if isinstance(node, st.Trivia):
            out.append(_Out(depth, text[row.first : row.comment_end]))
            continue
        if row.kind != "text" and i + 1 < len(rows) and rows[i + 1].kind == "text":
            common = _common(rows, i)
        out.append(_line(text, row, node, depth, place, parent))
    _align(out)
    while out and not out[-1].words:
        out.pop()
    return "".join(_written(out))


def _walk(
    nodes: Sequence[st.Node | st.Trivia],
    depth: int,
    place: str,
    places: dict[int, tuple[int, st.Node | st.Trivia, str, int]],
    count: list[int],
) -> None:
    """Note each line's depth, node, place and the number of the heading it stands under, by where it starts."""
    count[0] += 1
    mine = count[0]
    for node in nodes:
        if isinstance(node, st.Trivia):
            places[node.span.start] = depth, node, place, mine
        else:
            places[node.statement.span.start] = depth, node, place, mine
            _walk(node.children, depth + 1, _place_of(node.statement), places, count)


def _place_of(statement: st.Statement) -> str:
    """The place that a statement opens for the lines under it."""
    if isinstance(statement, st.UnitHead):
        return "unit"
    if isinstance(statement, st.KindStatement):
        return place_under(statement.kind)
    if isinstance(statement, st.Tile):
        return "rows"
    if isinstance(statement, st.Bad):
        return place_under(statement.word)
    heads = {
        st.PatternHead: "pattern",
        st.FabricHead: "fabric",
        st.QuiltHead: "quilt",
        st.SizesHead: "sizes",
        st.SizeRow: "size",
        st.ColourwayHead: "colourway",
        st.PartHead: "part",
    }
    return next((place for kind, place in heads.items() if isinstance(statement, kind)), "")


def _common(rows: Sequence[TextLine], i: int) -> int:
    """The indentation that the lines of the free text under row `i` have in common."""
    columns = []
    for row in rows[i + 1 :]:
        if row.kind != "text":
            break
        if row.first < row.last:
            columns.append(row.column)
    return min(columns, default=0)


def _line(text: str, row: TextLine, node: st.Node, depth: int, place: str, parent: int) -> _Out:
    """One statement, written again; a line that can't be read stays as it is."""
    words, stated = text[row.first : row.last], node.statement
    comment = text[row.comment : row.comment_end]
    if isinstance(stated, st.Prose):
        head = words[: len(stated.word)].lower()
        rest = words[len(stated.word) :].strip()
        rest = write_text(rest) if rest[:1] in '"“”„‟' and rest else rest
        return _Out(depth, f"{head} {rest}".rstrip(), comment)
    tokens = None if isinstance(stated, st.Bad) else _tokens(words, place)
    if tokens is None or len(write_tokens(tokens)) > LONGEST_LINE:
        return _Out(depth, text[row.first : max(row.last, row.comment_end)])
    if isinstance(stated, st.PieceLine):
        cells, gaps = split_cells(tokens)
        return _Out(depth, "", comment, cells, gaps, parent)
    if isinstance(stated, st.FabricHead):
        return _Out(depth, "", comment, _fabric(tokens), [" ", "  ", "  ", "  ", "  "], -2)
    if isinstance(stated, st.SizeRow):
        return _Out(depth, "", comment, [str(tokens[0]), write_tokens(tokens[1:])], ["  "], parent)
    return _Out(depth, write_tokens(tokens), comment)


def _fabric(tokens: Sequence[Token]) -> list[str]:
    """A fabric's columns: name, printed name, how many prints of which group, value, colour, direction."""
    cells = [write_tokens(tokens[:2]), "", "", "", "", ""]
    for before, token in pairwise(tokens[1:]):
        column = {"TEXT": 1, "NUMBER": 2, "OF": 2, "COLOUR": 4, "NAME": 4, "DIRECTIONAL": 5}.get(token.type, 3)
        column = 2 if before.type == "OF" else column
        cells[column] = f"{cells[column]} {write_tokens([token])}".strip()
    return cells


def _tokens(words: str, place: str) -> list[Token] | None:
    """What a line that can be read is cut into; None when it can't."""
    lead = lead_of(place, words, Span("", 0, len(words))) if place else None
    if lead is None or lead.problem or not lead.rule:
        return None
    line = LineText("", 0, words, lead.token)
    line.tokens = []
    try:
        line_parser().parse(lead.rule, line)
    except (Trouble, UnexpectedToken):
        return None
    if lead.rule == "counted":
        return _word_first(line.tokens)
    first = [Token(lead.token[0], lead.token[1])] if lead.token else []
    return first + line.tokens


def _word_first(tokens: list[Token]) -> list[Token]:
    """``5 across, 7 down`` as ``across 5, down 7``."""
    found: list[Token] = []
    waiting: list[Token] = []
    for token in tokens:
        if token.type in ("ACROSS", "DOWN"):
            found += [Token("COMMA", ",")] if found else []
            found += [token, *waiting]
            waiting = []
        elif token.type not in ("COMMA", "BLOCK", "BLOCKS"):
            waiting.append(token)
    return found


def _align(out: Sequence[_Out]) -> None:
    """Give the lines of each group the same columns. Fabrics share them only with their neighbours."""
    groups: dict[int, list[_Out]] = {}
    run, before = 10**9, False
    for line in out:
        if line.group == -2:
            run += not before
            line.group = run
        before = line.group >= 10**9 or (before and not line.cells and bool(line.words) and line.depth > 0)
        if line.group >= 0:
            groups.setdefault(line.group, []).append(line)
    for lines in groups.values():
        _columns(lines)


def _columns(lines: Sequence[_Out]) -> None:
    """Write the cells of lines that share columns. A comma stands at its cell and needs no column."""
    most = max(len(line.cells) for line in lines)
    having = [[n for n in lines if len(n.gaps) > k and n.gaps[k] != ", "] for k in range(most)]
    widths = [max((len(line.cells[k]) for line in some), default=0) for k, some in enumerate(having)]
    gaps = [max((len(line.gaps[k]) for line in some), default=0) for k, some in enumerate(having)]
    if sum(widths) + sum(gaps) > WIDEST_GRID:
        widths, gaps = [1] * most, [1] * most
    for line in lines:
        parts: list[str] = []
        for k, gap in enumerate(line.gaps):
            cell = line.cells[k]
            if gap == ", ":
                parts.append(cell + gap)
            elif widths[k]:
                parts.append(cell.ljust(widths[k]) + gap.ljust(gaps[k]))
        line.words = "".join([*parts, line.cells[-1]]).rstrip()


def _written(out: Sequence[_Out]) -> list[str]:
    """The lines with their indentation, and comments in one column where they follow each other."""
    lines = [" " * (STEP * line.depth + line.extra) + line.words if line.words else "" for line in out]
    i = 0
    while i < len(out):
        j = i
        while j < len(out) and out[j].comment:
            j += 1
        column = max((len(line) for line in lines[i:j]), default=0) + 2
        for k in range(i, j):
            lines[k] = lines[k].ljust(column) + out[k].comment
        i = max(j, i + 1)
    return [line + "\n" for line in lines]
