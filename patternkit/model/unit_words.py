"""What the lines of a unit say in vain: counts and methods given twice, texts that are printed nowhere, names in
brackets that nothing uses."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import msgspec

from patternkit.model.pattern import Unit
from patternkit.model.report import Notebook
from patternkit.model.scope import statements
from patternkit.problems import Label
from patternkit.source import Span
from patternkit.syntax.statements import Node, PressStatement, Prose, Ref, UnitHead
from patternkit.syntax.words import ROW_KINDS


def once(first: dict[str, Span], word: str, span: Span, head: UnitHead, notes: Notebook) -> None:
    """Note a line that a unit has once and that is given again; `first` keeps where each word came first."""
    if word in first:
        notes.report(
            "named-twice",
            f"{head.role.capitalize()} {head.name} says {word} a second time.",
            span,
            labels=[Label(first[word], "it is first said here")],
        )
    first.setdefault(word, span)


def untold(
    head: UnitHead, unit: Unit, prose: Iterable[Prose], press: Iterable[PressStatement], notes: Notebook
) -> None:
    """Note texts of a unit that have no place in the booklet, and versions of what has no seam."""
    one = sum(len(row.pieces) for row in unit.rows) == 1
    plain = unit.kind == "patch" or (unit.kind in ROW_KINDS and one)
    inside = unit.rows[0].pieces[0].unit if plain and unit.rows and unit.rows[0].pieces else ""
    called = f"{head.role.capitalize()} {head.name} is {f'{inside} alone' if inside else 'one patch'}"
    for text in prose:
        if text.word == "finishing":
            notes.report(
                "out-of-place",
                f"A text for the finishing is not printed with {head.role} {head.name}.",
                text.span,
                causes=["It stands under quilt or under pattern."],
            )
        elif plain:
            notes.report(
                "out-of-place",
                f"{called} and has no step in which its {text.word} could be printed.",
                text.span,
                causes=[f"It can stand under {inside or 'the unit that the patch is sewn into'}, or under quilt."],
            )
    for also in unit.also if plain else ():
        notes.report(
            "out-of-place",
            f"{called} and has no step in which the {also.title} could be told.",
            also.span,
            causes=[f"The line can stand under {inside or 'the unit that the patch is sewn into'}, or under quilt."],
        )
    for statement in press:
        if plain and statement.how == "versions":
            notes.report(
                "out-of-place",
                f"{called}: it has no seam of its own, and no two versions.",
                statement.span,
            )


def unread(node: Node, head: UnitHead) -> Iterator[Ref]:
    """The parameters of a unit that none of its lines names."""
    names: set[str] = set()
    texts: list[str] = []
    waiting: list[object] = [child.statement for child in _below(node)]
    while waiting:
        value = waiting.pop()
        if isinstance(value, str):
            names.add(value)
        elif isinstance(value, tuple):
            waiting += value
        elif isinstance(value, Prose):
            texts.append(value.text)
        elif isinstance(value, msgspec.Struct) and not isinstance(value, Span):
            waiting += [getattr(value, field) for field in value.__struct_fields__]
    text = "\n".join(texts)
    return (param for param in head.params if param.name not in names and f"{{{param.name}." not in text)


def _below(node: Node) -> Iterator[Node]:
    for child in statements(node.children):
        yield child
        yield from _below(child)
