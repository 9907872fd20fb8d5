"""What is kept between one version of a text and the next, so that an edit costs what it changes.

Each room keeps its own things under its own name; what it keeps must be right whatever was edited, so every
entry carries what it depends on. Nothing here is shared between sizes of a pattern: each has a memory of its
own.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

T = TypeVar("T")


class Memory:
    """A shelf for each room."""

    def __init__(self) -> None:
        self._shelves: dict[str, Any] = {}

    def shelf(self, room: str, make: Callable[[], T]) -> T:
        """The room's own shelf, made on first use."""
        if room not in self._shelves:
            self._shelves[room] = make()
        found: T = self._shelves[room]
        return found
