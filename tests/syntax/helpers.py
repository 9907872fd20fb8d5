"""Short ways to read a line or a file in tests."""

from __future__ import annotations

from typing import Any

import msgspec

from patternkit.source import Source, Span
from patternkit.syntax import parse
from patternkit.syntax import statements as st

UNDER = {
    "pattern": 'pattern "T"\n    {}\n',
    "fabric": "fabric f\n    {}\n",
    "unit": "unit u\n    {}\n",
    "kind": "unit u\n    slices\n        {}\n",
    "rows": "unit u\n    rows\n        {}\n",
    "quilt": "quilt\n    {}\n",
    "sizes": "sizes\n    {}\n",
    "colourway": "colourway c\n    {}\n",
    "part": 'part "P"\n    {}\n',
    "file": "{}\n",
}


def read(text: str) -> st.File:
    """A file under the name ``test.pattern``."""
    return parse("test.pattern", text)


def nodes_of(file: st.File) -> list[st.Node]:
    """All statements in the order of the file, headings before what stands under them."""
    found: list[st.Node] = []

    def walk(nodes: tuple[st.Node | st.Trivia, ...]) -> None:
        for node in nodes:
            if isinstance(node, st.Node):
                found.append(node)
                walk(node.children)

    walk(file.nodes)
    return found


def statement(line: str, place: str = "unit") -> Any:
    """The statement of one line at a place, which must be read without a problem."""
    file = read(UNDER[place].format(line))
    problems = [p for p in file.problems if p.code != "nothing-under"]
    assert not problems, problems
    depth = UNDER[place].split("{}")[0].count("\n")
    return nodes_of(file)[depth].statement


def codes(text: str) -> list[str]:
    """The codes of a file's problems, in the order of the file."""
    return [p.code for p in read(text).problems]


def line_codes(line: str, place: str = "unit") -> list[str]:
    """The codes of the problems of one line at a place."""
    return [c for c in codes(UNDER[place].format(line)) if c != "nothing-under"]


def lines_of_problems(text: str) -> list[int]:
    """The numbers of the lines that have a problem, once for each problem."""
    source = Source("test.pattern", text)
    return [source.place(p.span.start)[0] for p in read(text).problems]


def shape(value: Any) -> Any:
    """What a value says, without its places: for comparing the meaning of two texts."""
    if isinstance(value, Span):
        return None
    if isinstance(value, tuple):
        return tuple(shape(v) for v in value)
    if isinstance(value, st.Prose):
        return "Prose", value.word, value.text
    if isinstance(value, msgspec.Struct):
        return type(value).__name__, *(shape(getattr(value, f)) for f in value.__struct_fields__)
    return value


def meaning(file: st.File) -> Any:
    """The meaning of a whole file, comments and blank lines included (blank lines at its end apart)."""
    nodes = list(file.nodes)
    while nodes and isinstance(nodes[-1], st.Trivia) and not nodes[-1].text:
        nodes.pop()
    return shape(tuple(nodes))
