"""What every drawing is told besides its subject: units, seam, words, and a prefix for its key.

All words that can appear in a drawing stand in `patternkit.drawing.words`.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

import msgspec

from patternkit.drawing.words import ENGLISH
from patternkit.english import listed
from patternkit.lengths import Length
from patternkit.piecing.batch import Piece
from patternkit.piecing.making import Making, PieceCut
from patternkit.units import IMPERIAL, Units, show, show_size


class Look(msgspec.Struct, frozen=True):
    """Units to print in, finished seam allowance (inches), words, and a prefix for the drawing's key."""

    units: Units = IMPERIAL
    seam: Length = Length(Fraction(1, 4))
    words: Mapping[str, str] = {}  # keys that are missing here are taken from the English
    prefix: str = ""
    title: str = ""  # what all that is drawn is called, where it is not called by its own name

    def render(self, key: str, **values: object) -> str:
        """The words for a key, filled in; the values are taken as they are, never as templates."""
        return (self.words.get(key) or ENGLISH[key]).format(**values)

    def method(self, name: str) -> str:
        """What a method is called where its drawing is told."""
        return name

    def many(self, key: str, n: int) -> str:
        """A count with its noun, in the singular where it is one."""
        return self.render(f"{key}.one" if n == 1 else key, n=n)

    def list(self, items: list[str]) -> str:
        """Items as a list in words."""
        return listed(items, last=self.render("and"))

    def called(self, making: Making) -> str:
        """What the reader calls a making."""
        return self.title or making.called

    def code(self, cut: PieceCut) -> str:
        """The code of what one cut of a recipe gives, where drawings show it; fabrics have their letters otherwise."""
        return ""

    def piece_code(self, piece: Piece) -> str:
        """The same of a piece."""
        return ""

    def length(self, value: Length) -> str:
        """One length with its unit."""
        return show(value, self.units)

    def size(self, width: Length, height: Length) -> str:
        """Width and height with their unit."""
        return show_size(width, height, self.units)

    def raw(self, width: Length, height: Length) -> str:
        """A finished size as it measures on the table, a seam larger on each side."""
        return self.size(width + self.seam * 2, height + self.seam * 2)

    def key(self, *parts: object) -> str:
        """The key of a drawing from the words that tell it apart."""
        return "-".join(str(p) for p in (self.prefix, *parts) if str(p))


LOOK = Look()  # inches, a quarter-inch seam, English words
