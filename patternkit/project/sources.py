"""The text of a pattern and of the files that it includes, read once for all its sizes and colourways."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property

from msgspec import structs

from patternkit.model.pattern import SizeOption
from patternkit.problems import Problem
from patternkit.source import Source, Span
from patternkit.syntax.parse import parse
from patternkit.syntax.statements import File, Include, KindStatement, Node, Text, Trivia, UnitHead
from patternkit.units import Units

MOST_INCLUDES = 50

Reader = Callable[[str, str], tuple[str, str]]
"""Takes the including file's name and the path as written; gives the included file's name and text, or raises
OSError."""


class Sources:
    """A file and what it includes; nothing is read but through `reader`, and that on first use of `nodes`.

    `files` has the text of every file by its name; `problems` what was met in reading, complete once `nodes` has been
    asked for.
    """

    def __init__(self, name: str, text: str, reader: Reader | None = None) -> None:
        self.name, self.text = name, text
        self.files: dict[str, Source] = {name: Source(name, text)}
        self.problems: list[Problem] = []
        self.tables: dict[Units, tuple[SizeOption, ...]] = {}  # the sizes table, once it has been read
        self._reader = reader
        self._outlines: dict[tuple[str, str], tuple[tuple[float, float], ...]] = {}

    @cached_property
    def nodes(self) -> tuple[Node | Trivia, ...]:
        """What the file says, with included files in their places."""
        return tuple(node for file in self._parsed() for node in self._included(file, [self.name]))

    @property
    def blind(self) -> bool:
        """Whether an included file is missing, so that a name that nobody gave is no problem."""
        self.nodes  # noqa: B018  reads the files
        return any(p.code == "cannot-include" for p in self.problems)

    def real(self, span: Span) -> Span:
        """A place that a statement carries as a place of one of the `files`; here they are the same."""
        return span

    def words(self, span: Span) -> str:
        """The text at a place."""
        place = self.real(span)
        return self.files[place.file].words(place)

    def _parsed(self) -> Iterable[File]:
        """The file itself, in one part or in several, statement by statement."""
        return (parse(self.name, self.text),)

    def _included(self, file: File, chain: list[str]) -> list[Node | Trivia]:
        self.problems.extend(file.problems)
        nodes: list[Node | Trivia] = []
        for node in file.nodes:
            statement = node.statement if isinstance(node, Node) else None
            drawn = isinstance(node, Node) and isinstance(statement, UnitHead)
            nodes.append(self._drawn(node, chain[-1]) if drawn and isinstance(node, Node) else node)
            if isinstance(statement, Include):
                nodes.extend(self._include(statement, chain))
        return nodes

    def _include(self, statement: Include, chain: list[str]) -> list[Node | Trivia]:
        if self._reader is None:
            return self._refuse(
                Problem("cannot-include", f"The file {statement.path} can't be read from here.", statement.span)
            )
        try:
            name, text = self._reader(chain[-1], statement.path)
        except (OSError, UnicodeDecodeError, ValueError) as error:
            reason = getattr(error, "strerror", None) or "it is not plain text"
            return self._refuse(
                Problem("cannot-include", f"The file {statement.path} can't be read: {reason}.", statement.span)
            )
        if name in chain:
            return self._refuse(
                Problem("cannot-include", f"The file {statement.path} includes itself.", statement.span)
            )
        if name in self.files:
            return []
        if len(self.files) >= MOST_INCLUDES:
            return self._refuse(Problem("too-large", f"More than {MOST_INCLUDES} files are included.", statement.span))
        self.files[name] = Source(name, text)
        return self._included(parse(name, text), [*chain, name])

    def _drawn(self, unit: Node, including: str) -> Node:
        """A unit with the outline of the drawing that it names."""
        children: list[Node | Trivia] = []
        for child in unit.children:
            s = child.statement if isinstance(child, Node) else None
            if isinstance(child, Node) and isinstance(s, KindStatement) and s.file is not None:
                outline = self._outline(s.file, including)
                child = structs.replace(child, statement=structs.replace(s, outline=outline))
            children.append(child)
        return (
            unit
            if all(a is b for a, b in zip(children, unit.children, strict=True))
            else structs.replace(unit, children=tuple(children))
        )

    def _outline(self, file: Text, including: str) -> tuple[tuple[float, float], ...]:
        """The outline of a drawing, read once; nothing after noting why it can't be used."""
        from patternkit.syntax.outlines import NoOutline, outline_of  # only drawings need it

        key = including, file.text
        if key not in self._outlines:
            self._outlines[key] = ()
            try:
                if self._reader is None:
                    raise NoOutline("it can't be read from here")
                self._outlines[key] = outline_of(self._reader(including, file.text)[1])
            except NoOutline as wrong:
                self._unusable(file, str(wrong))
            except UnicodeDecodeError:
                self._unusable(file, "it is not plain text")
            except (OSError, ValueError) as error:
                self._unusable(file, getattr(error, "strerror", None) or str(error))
        return self._outlines[key]

    def _unusable(self, file: Text, why: str) -> None:
        self.problems.append(Problem("drawing-unusable", f"The drawing {file.text} can't be used: {why}.", file.span))

    def _refuse(self, problem: Problem) -> list[Node | Trivia]:
        """A file that is not taken in: a problem, and no statements."""
        self.problems.append(problem)
        return []
