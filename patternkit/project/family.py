"""A pattern and its sisters: the same sources in every row of the sizes table and every colourway."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import cached_property

from patternkit.lengths import Length, Number
from patternkit.memory import Memory
from patternkit.model.pattern import Pattern
from patternkit.problems import Problem
from patternkit.project.answers import Answers
from patternkit.project.sources import Reader, Sources
from patternkit.syntax.statements import MethodStatement

Memories = Callable[[str], Memory]
"""What is kept between versions of a text for a row of the sizes table."""


class Project(Answers):
    """One pattern file (with what it includes), for one row of its sizes table and one colourway.

    Everything is worked out on first use and kept; nothing is read or written here but through `reader`. `overrides`
    are exact values by name, in the file's own units: TypeError for a float, which is none. `sources` stand for `text`
    and `reader` where the file has been read already; `memories` are those of a session.
    """

    def __init__(
        self,
        name: str,
        text: str,
        *,
        size: str = "",
        colourway: str = "",
        overrides: Mapping[str, Number] | None = None,
        reader: Reader | None = None,
        as_written: bool = True,
        sources: Sources | None = None,
        memories: Memories | None = None,
    ) -> None:
        values = {key: exact(key, value) for key, value in (overrides or {}).items()}
        memory = memories(size) if memories is not None and not colourway and not values else None
        super().__init__(sources or Sources(name, text, reader), size, colourway, values, as_written, memory)
        self._reader, self._memories = reader, memories
        self._family: dict[tuple[str, str], Project] = {(size, colourway): self}

    def in_size(self, size: str, colourway: str | None = None) -> Project:
        """The same pattern in a row of its sizes table (and a colourway); what is read stays read, and what is known of
        a size is known to whoever asks for it again."""
        way = self.colourway if colourway is None else colourway
        if (size, way) not in self._family:
            new = Project(
                self.name,
                self.read.text,
                size=size,
                colourway=way,
                overrides=self._values,
                reader=self._reader,
                as_written=self._as_written,
                sources=self.read,
                memories=self._memories,
            )
            new._family = self._family
            self._family[size, way] = new
        return self._family[size, way]

    @property
    def reader(self) -> Reader | None:
        """What included files are read by."""
        return self._reader

    def edited(self, text: str, sources: Sources, memories: Memories) -> Project:
        """The same wishes of another text, read as `sources`; what is kept between the two is in `memories`."""
        return Project(
            self.name,
            text,
            size=self.size,
            colourway=self.colourway,
            overrides=self._values,
            reader=self._reader,
            as_written=self._as_written,
            sources=sources,
            memories=memories,
        )

    def leader(self) -> Project | None:
        """The project whose pressing is planned first: a colourway keeps to that of the main fabrics, a size to that of
        the pattern as it stands. None for that one itself."""
        if not self.size and not self.colourway:
            return None
        return self.in_size(self.size if self.colourway else "", "")

    def alone(self, key: str, count: int, method: MethodStatement | None = None) -> Project:
        """So many of one unit and nothing else, as this pattern has it; by another method where one is given."""
        from patternkit.model.reach import alone

        return _Alone(self, alone(self.pattern, key, count, method))

    def with_values(self, values: Mapping[str, Number], text: str | None = None) -> Project:
        """The same pattern with other values (by name, in the file's units), and maybe another text.

        It is not the pattern as written any more: the counts, measures and amounts that the file states as plain
        numbers are not held against it.
        """
        return Project(
            self.name,
            self.read.text if text is None else text,
            size=self.size,
            colourway=self.colourway,
            overrides={**self._values, **values},
            reader=self._reader,
            as_written=False,
            sources=self.read if text is None else None,
        )


class _Alone(Project):
    """A part of a pattern as one of its own."""

    def __init__(self, whole: Project, pattern: Pattern) -> None:
        super().__init__(
            whole.name,
            whole.read.text,
            size=whole.size,
            colourway=whole.colourway,
            overrides=whole._values,
            reader=whole._reader,
            sources=whole.read,
        )
        self._only = pattern

    @cached_property
    def _built(self) -> tuple[Pattern, list[Problem]]:
        return self._only, []

    def leader(self) -> Project | None:
        """None: it is pressed by itself."""
        return None


def exact(name: str, value: object) -> Length:
    """A value set from outside as an exact length; raises TypeError for one that is not exact."""
    if isinstance(value, Length):
        return value
    if isinstance(value, (int, Fraction)) and not isinstance(value, bool):
        return Length(value)
    raise TypeError(
        f"{name} is set to {value!r}, which is no exact number: give a Length, a Fraction or a whole number, such as "
        "Fraction(17, 2) for 8 1/2"
    )
