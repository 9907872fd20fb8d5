"""What a way of making a unit is: one record beside each kind, which every room asks instead of its words."""

from __future__ import annotations

from typing import Literal

import msgspec

Ruler = Literal["plain", "diagonal", "cross", "geese", "points", "corners", "leaning"]
Series = Literal[
    "",
    "joins",
    "row",
    "pairs",
    "crossed",
    "geese",
    "flips",
    "rounds",
    "wedges",
    "set-in",
    "partial",
    "leaning",
    "long sides",
]

PAIRS = ("two at a time", "pairs")
FLIP = ("flip", "flipped corners", "sew and flip", "one at a time")
TRIANGLES = ("triangles", "cut triangles")
"""Other words that writers use for the methods of several kinds."""


class Method(msgspec.Struct, frozen=True):
    """One way of making a kind of unit, or of sewing a part of the quilt.

    It stands beside the kind, or the part of the setting, whose way it is; the first of a kind's is its usual one.
    `name` is what the writer calls it after ``method`` ("pairs of squares"), `also` are other words for it; `phrase` is
    the key under which the booklet tells it, empty for what has nothing to tell.
    """

    name: str = ""
    phrase: str = ""
    also: tuple[str, ...] = ()
    makes: int = 1  # units that one batch gives, where that does not hang on its fabrics
    ruler: Ruler = "plain"  # how the ruler is laid to trim what comes out larger
    drawn: Series = ""  # the pictures of the method; "row" only while it is short; none: as a whole that is joined
    formula: str = ""  # the key under which the proof sheet says how its cuts are reckoned
    pressed: str = ""  # how its seams are pressed by custom, where the writer says nothing ("out")
    around: Literal["", "logs", "rings", "borders"] = ""  # what is sewn round what is inside
    runs: Literal["", "across", "down"] = ""  # how the parts lie that are joined to one line
    in_rows: bool = False  # its shapes are drawn apart along their rows, however their edges slant
    in_strips: bool = False  # sewn as long strips, pressed, then cut across
    tube: bool = False  # the strips are sewn to a tube, of which rings are cut that are opened at a seam
    takes_unit: bool = False  # the name of a unit stands behind its own ("paired with light-row")
    on_paper: bool = False  # sewn on a printed foundation
    plain_paper: bool = False  # of these, on paper without lines: what lies on it is as wide as it comes
    adds_up: bool = False  # made of plain pieces side by side: what a cut is rounded up by, it grows by
    as_cut: bool = False  # where it has no seam it is one piece just as it was cut
    exact: bool = False  # cut by template to its raw size: never oversize, nothing is trimmed
    flips: bool = False  # corners are flipped over the first of its pieces, which lies whole under them
    inward: bool = False  # where a unit is turned to its place, its first corner lies on the first corner of that
    holds_units: bool = False  # a unit may stand for the first of its pieces, and is sewn in as it is
    takes_length: bool = False  # a length behind its name says how much is turned under
    long: bool = False  # its pieces are as long as the quilt: joined end to end where the cloth is too narrow

    @property
    def on_printed_paper(self) -> bool:
        """Whether foundations are printed for it."""
        return self.on_paper and not self.plain_paper


PIECED = Method("from templates", "pieced", (*TRIANGLES, "templates"), drawn="joins", exact=True)
"""How a unit of any kind is sewn of which pieces are cut from strip units, or are units of their shape."""


def meant(methods: tuple[Method, ...], words: str) -> Method | None:
    """The method that a writer means by some words; None when there is none."""
    for method in methods:
        if (
            method.takes_unit
            and words.startswith(f"{method.name} ")
            and len(words.split()) == len(method.name.split()) + 1
        ):
            return method
    plain = words.replace("-", " ")
    exact = next((m for m in methods if m.name == words), None)
    return exact or next((m for m in methods if plain == m.name or plain in m.also), None)
