"""Names of a file before they are used: fabrics, unit heads with their bodies, values."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec

from patternkit.model.report import Notebook
from patternkit.problems import Label
from patternkit.source import Span
from patternkit.syntax.statements import Bad, FabricHead, Include, Let, Node, PatternHead, Statement, Trivia, UnitHead


class Heads(msgspec.Struct, frozen=True):
    """The top level of a pattern, sorted by what it is, in order."""

    pattern: Node | None
    lets: tuple[Let, ...]
    fabrics: Mapping[str, Node]
    units: Mapping[str, Node]
    rest: tuple[Node, ...]
    broken: frozenset[str] = frozenset()  # names given by lines that could not be read


def statements(nodes: Iterable[Node | Trivia]) -> Iterable[Node]:
    """The nodes that say something."""
    return (n for n in nodes if isinstance(n, Node))


def collect(nodes: Iterable[Node | Trivia], notes: Notebook) -> Heads:
    """Sort the top level. A name given twice is noted; the first giving holds."""
    pattern: Node | None = None
    lets: list[Let] = []
    fabrics: dict[str, Node] = {}
    units: dict[str, Node] = {}
    rest: list[Node] = []
    given: dict[str, Span] = {}
    broken: set[str] = set()
    for node in statements(nodes):
        s: Statement = node.statement
        if isinstance(s, PatternHead):
            if pattern is not None:
                notes.report(
                    "named-twice",
                    "A file has one line that begins with pattern; this is another.",
                    s.span,
                    labels=[Label(pattern.statement.span, "the first is here")],
                )
            pattern = pattern or node
        elif isinstance(s, (Let, FabricHead, UnitHead)):
            if s.name in given:
                notes.report(
                    "named-twice",
                    f"The name {s.name} is given twice.",
                    s.name_span,
                    labels=[Label(given[s.name], f"{s.name} is first named here")],
                    causes=["Each name stands for one thing, wherever it is used."],
                )
                continue
            given[s.name] = s.name_span
            if isinstance(s, Let):
                lets.append(s)
            elif isinstance(s, FabricHead):
                fabrics[s.name] = node
            else:
                units[s.name] = node
        elif not isinstance(s, Include):
            if isinstance(s, Bad):
                notes.blind = notes.blind or s.word == "include"
                broken.update({s.name} - {""})
            rest.append(node)
    notes.broken |= broken
    return Heads(pattern, tuple(lets), fabrics, units, tuple(rest), frozenset(broken))
