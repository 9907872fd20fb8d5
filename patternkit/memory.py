"""What is kept between one version of a text and the next, so that an edit costs what it changes.

Each room keeps its own things under its own name; what it keeps must be right whatever was edited, so every entry
carries what it depends on. Nothing here is shared between sizes of a pattern: each has a memory of its own.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Generic, TypeVar

K = TypeVar("K")
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


class Carried(Generic[K, T]):
    """Things by name as they were in the last version of a text (`old`) and as they are in this one (`now`).

    What was kept counts only while the `frame` is equal: all that every one of the things leans on. What a thing leans
    on besides is kept with it, and looked at by whoever takes it.
    """

    def __init__(self) -> None:
        self.old: dict[K, T] = {}
        self.now: dict[K, T] = {}
        self._frame: object = None

    def begin(self, frame: object) -> Carried[K, T]:
        """A new version starts."""
        self.old, self.now = (self.now if frame == self._frame else {}), {}
        self._frame = frame
        return self


class Recent(Generic[K, T]):
    """Answers about things that come and go with the versions of a text, each right whatever was edited."""

    def __init__(self) -> None:
        self._answers: dict[K, T] = {}

    def among(self, things: int) -> dict[K, T]:
        """All answers. They are forgotten once they are many more than the things there are now, for most are then
        about things that are gone."""
        if len(self._answers) > 4 * things + 100:
            self._answers = {}
        return self._answers
