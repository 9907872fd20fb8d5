"""Docstrings filled to the width of the code: a line ends where its next word would be too much.

    python -m tests.filled [FILE...]

fills those of the files (of the whole package without any). Lists, and what is set in, stand line by line.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterable, Iterator
from itertools import groupby
from pathlib import Path

PACKAGE = Path(__file__).parents[1] / "patternkit"
WIDTH = 120

_LINE_BY_LINE = re.compile(r"\s|[-*>|]|\d+[.)] |(?:import|from|python) ")
_DOCSTRING = re.compile(r'([rR]?""")(.*)"""', re.DOTALL)


def docstrings(tree: ast.Module) -> Iterator[ast.Constant]:
    """The docstrings of a file, those behind a name that is set too."""
    for node in ast.walk(tree):
        body = node.body if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef)) else []
        for before, here in zip([None, *body], body, strict=False):
            value = here.value if isinstance(here, ast.Expr) else None
            in_place = before is None or isinstance(before, (ast.Assign, ast.AnnAssign))
            if in_place and isinstance(value, ast.Constant) and isinstance(value.value, str):
                yield value


def filled(literal: str, indent: int) -> str:
    """A docstring as it stands in the file, quotes included, with its paragraphs filled; other strings as they are."""
    match = _DOCSTRING.fullmatch(literal)
    if match is None or "\\\n" in match[2]:
        return literal
    lines = [line[indent:] if not line[:indent].strip() else line for line in match[2].split("\n")]
    lines[0] = match[2].split("\n")[0]
    alone = len(lines) > 1 and not lines[-1].strip()  # the closing quotes stand on a line of their own
    blocks = [list(block) for _, block in groupby(lines[:-1] if alone else lines, key=lambda line: bool(line.strip()))]
    alone = alone and len(blocks) > 1
    out: list[str] = []
    for n, block in enumerate(blocks):
        first, last = not out, n == len(blocks) - 1
        if block[0].strip() and not any(_LINE_BY_LINE.match(line) for line in (block[1:] if first else block)):
            out += _fill(block, indent, len(match[1]) if first else 0, 3 if last and not alone else 0)
        else:
            out += [line.rstrip() for line in block]
    text = "\n".join([out[0], *(" " * indent + line if line else "" for line in out[1:])])
    return f'{match[1]}{text}{chr(10) + " " * indent if alone else ""}"""'


def _fill(block: Iterable[str], indent: int, before: int, behind: int) -> list[str]:
    """The lines of a paragraph, `before` what stands before its first line and `behind` what stands behind its last."""
    found = [" " * before]
    for word in " ".join(block).split():
        if len(found[-1]) + len(word) + (found[-1].strip() != "") <= WIDTH - indent:
            found[-1] += f" {word}" if found[-1].strip() else word
        else:
            found.append(word)
    if len(found[-1]) > WIDTH - indent - behind and " " in found[-1].strip():
        found[-1:] = found[-1].rsplit(" ", 1)
    return [found[0][before:], *found[1:]]


def with_docstrings_filled(text: str) -> str:
    """The text of a file with all of its docstrings filled."""
    lines = text.split("\n")
    for value in sorted(docstrings(ast.parse(text)), key=lambda v: -v.lineno):
        assert value.end_lineno is not None and value.end_col_offset is not None
        rows = slice(value.lineno - 1, value.end_lineno)
        tail = lines[value.end_lineno - 1].encode()[value.end_col_offset :].decode()
        whole = "\n".join(lines[rows])
        literal = whole[value.col_offset : len(whole) - len(tail)]
        lines[rows] = (whole[: value.col_offset] + filled(literal, value.col_offset) + tail).split("\n")
    return "\n".join(lines)


if __name__ == "__main__":
    for path in map(Path, sys.argv[1:]) if sys.argv[1:] else sorted(PACKAGE.rglob("*.py")):
        old = path.read_text(encoding="utf-8")
        if (new := with_docstrings_filled(old)) != old:
            path.write_text(new, encoding="utf-8")
            print(path)
