"""What things are, as data. Only a booklet says a name in its language; messages say it by `english`."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from patternkit.english import listed

What: TypeAlias = Literal[
    "quilt centre",
    "row",
    "diagonal row",
    "sashing row",
    "border",
    "ring",
    "with border",
    "with ring",
]
Side: TypeAlias = Literal["", "sides", "top and bottom", "top and bottom strip", "strip", "cornerstone"]


class Name(msgspec.Struct, frozen=True):
    """What a thing is.

    `numbers` are those of rows, borders or rings, from 1 (several for what holds of all of them); `side` tells what of
    a border it is. "with border" is the quilt with that border on.
    """

    what: What
    numbers: tuple[int, ...] = ()
    side: Side = ""


CENTRE = Name("quilt centre")
"""What lies inside all borders."""
SASHING_ROW = Name("sashing row")
"""Sashing and cornerstones, sewn together to lie between two rows."""


def with_border(border: Name) -> Name:
    """The quilt with a border (or ring) on."""
    return Name("with ring" if border.what == "ring" else "with border", border.numbers)


def border_of(name: Name) -> Name:
    """The border itself, of a quilt with that border on; any other name as it is."""
    if name.what in ("with border", "with ring"):
        return Name("ring" if name.what == "with ring" else "border", name.numbers)
    return name


def english(name: Name) -> str:
    """The name in English: ``border 2 sides``, ``rows 1, 3 and 5``, ``quilt with border 1``."""
    if name.what == "row":
        return f"row{'s' if len(name.numbers) > 1 else ''} {listed([str(n) for n in name.numbers])}"
    if name.what in ("border", "ring", "with border", "with ring"):
        framing = border_of(name)
        of = " and ".join(f"{framing.what} {n}" for n in framing.numbers)
        return f"quilt with {of}" if framing is not name else f"{of} {name.side}".rstrip()
    return " ".join([name.what, *map(str, name.numbers)])


__all__ = ["CENTRE", "SASHING_ROW", "Name", "Side", "What", "border_of", "english", "with_border"]
