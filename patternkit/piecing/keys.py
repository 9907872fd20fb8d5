"""What tells one kind of sewn thing from all others of a quilt: a unit with its arguments, or a part of the quilt."""

from __future__ import annotations

from typing import TypeAlias, Union

import msgspec

from patternkit.piecing.names import CENTRE, Name, english


class Key(msgspec.Struct, frozen=True):
    """A unit of the writer's with the arguments it is asked for, as they are shown; mirrored where no turn brings the
    mirror image back. `piece` names a piece of the unit that is a sewn thing itself: cut from a strip unit, or a row,
    the middle, a border of a unit that is set like a quilt. `place` as in `OwnKey`. Of a strip unit so many strips are
    `shifted` to its end."""

    unit: str
    arguments: tuple[str, ...] = ()
    mirrored: bool = False
    piece: Name | None = None
    place: tuple[int, int] | None = None
    shifted: int = 0

    @property
    def of(self) -> str:
        """The unit's key in the pattern, ``star(night, glow)``; empty for a mere piece of a unit."""
        return "" if self.piece is not None else self.within

    @property
    def within(self) -> str:
        """The key in the pattern of the unit that it is, or is a piece of."""
        moved = f" shifted {self.shifted}" if self.shifted else ""
        return f"{self.unit}({', '.join(self.arguments)}){moved}" if self.arguments else f"{self.unit}{moved}"

    @property
    def part(self) -> Name | None:
        """Which part of its unit it is; None for the unit itself."""
        return self.piece

    @property
    def plain(self) -> Key:
        """The same that is not mirrored."""
        return msgspec.structs.replace(self, mirrored=False) if self.mirrored else self

    @property
    def image(self) -> Key:
        """The same seen in a mirror."""
        return msgspec.structs.replace(self, mirrored=not self.mirrored)

    def __str__(self) -> str:
        """As one text, for machines and for an order that is always the same."""
        piece = f", {english(self.piece)}" if self.piece is not None else ""
        return f"{self.within}{piece}{', mirrored' if self.mirrored else ''}{_placed(self.place)}"


class OwnKey(msgspec.Struct, frozen=True):
    """A part of the quilt's own: a row, the centre, the quilt with a border on.

    Rows that are one by what lies in them and are pressed apart by the writer are told apart by `place`: how many of
    the row were met before, and the number of the part.
    """

    name: Name
    place: tuple[int, int] | None = None

    @property
    def of(self) -> str:
        """No unit of the pattern."""
        return ""

    @property
    def within(self) -> str:
        """No unit of the pattern."""
        return ""

    @property
    def part(self) -> Name:
        """Which part of the quilt it is."""
        return self.name

    @property
    def mirrored(self) -> bool:
        """Nothing of the quilt's own is ever the mirror image of another."""
        return False

    @property
    def plain(self) -> OwnKey:
        """The same."""
        return self

    @property
    def image(self) -> OwnKey:
        """The same: it is never seen in a mirror."""
        return self

    def __str__(self) -> str:
        """As one text, for machines and for an order that is always the same."""
        name = "centre" if self.name == CENTRE else english(self.name)
        return name + _placed(self.place)


def _placed(place: tuple[int, int] | None) -> str:
    return "" if place is None else f", place {place[0]}.{place[1]}"


AnyKey: TypeAlias = Union[Key, OwnKey]
NO_KEY = Key("")
"""Of parts at hand that are no unit yet."""


class Thing(msgspec.Struct, frozen=True):
    """A sewn thing: `key` is the key of its making, `version` tells two ways of pressing or seaming apart."""

    key: AnyKey
    version: int = 0

    def __str__(self) -> str:
        """As one text, for machines and for an order that is always the same."""
        seams = ", its seams the other way round" if self.version & 2 else ""
        return f"{self.key}{seams}{', pressed the other way' if self.version & 1 else ''}"


__all__ = ["NO_KEY", "AnyKey", "Key", "OwnKey", "Thing"]
