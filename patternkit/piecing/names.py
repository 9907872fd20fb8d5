"""What things are, as data. Only a booklet says a name in its language; messages say it by `english`."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from patternkit.english import letters, listed

What: TypeAlias = Literal[
    # pieces of a unit
    "goose",
    "sky",
    "centre",
    "corner",
    "base",
    "background",
    "diamond",
    "corner square",
    "half corner square",
    "side triangle of the star",
    "half side triangle",
    "quarter circle",
    "left side",
    "right side",
    "left end",
    "right end",
    "triangle",
    "blade",
    "half",
    "quarter",
    "log",
    "piece",
    "middle",
    "ground",
    "bias strip",
    # parts of the quilt
    "quilt centre",
    "row",
    "diagonal row",
    "diagonal sashing row",
    "sashing row",
    "sashing",
    "long sashing",
    "edge sashing",
    "cornerstone",
    "side triangle",
    "side triangles",
    "corner triangle",
    "corner triangles",
    "end triangle",
    "end triangles",
    "column",
    "border",
    "ring",
    "with border",
    "with ring",
    # what is cut besides
    "half strip",
    "short strip",
    "binding",
    "bias binding",
    "hanging sleeve",
    "backing strip",
    "also",
    "backing panel",
    "facing",
    "flange",
    "piping",
    "prairie point",
    "cushion back",
]
Side: TypeAlias = Literal["", "sides", "top and bottom", "top and bottom strip", "strip", "cornerstone"]

_IMAGES: dict[What, What] = {
    "left side": "right side",
    "right side": "left side",
    "left end": "right end",
    "right end": "left end",
}


class Name(msgspec.Struct, frozen=True):
    """What a thing is.

    `numbers` are those of logs, rows, borders or rings, from 1 (several for what holds of all of them); those of a
    piece are its section and its number there, the section left out where there is one only. `side` tells what of a
    border it is, `leans` the diagonal along which a triangle was cut. "with border" is the quilt with that border on.
    What is cut besides ("also") has the `title` that the writer gives it.
    """

    what: What
    numbers: tuple[int, ...] = ()
    side: Side = ""
    leans: Literal["", "left", "right"] = ""
    title: str = ""

    @property
    def plain(self) -> Name:
        """The same, however it leans."""
        return msgspec.structs.replace(self, leans="") if self.leans else self

    @property
    def image(self) -> Name:
        """What it is in a mirror."""
        leans: dict[str, Literal["", "left", "right"]] = {"left": "right", "right": "left", "": ""}
        what = _IMAGES.get(self.what, self.what)
        if what == self.what and not self.leans:
            return self
        return msgspec.structs.replace(self, what=what, leans=leans[self.leans])


CENTRE = Name("quilt centre")
"""What lies inside all borders."""
MIDDLE = Name("middle")
"""What lies inside the borders of a unit."""
SET_PARTS: tuple[What, ...] = (
    "middle",
    "quilt centre",
    "row",
    "column",
    "diagonal row",
    "diagonal sashing row",
    "sashing row",
    "border",
    "ring",
    "with border",
    "with ring",
)
"""What a quilt, or a unit that is set like one, is sewn together from."""
SASHING_ROW = Name("sashing row")
"""Sashing and cornerstones, sewn together to lie between two rows."""
SASHING, LONG_SASHING, CORNERSTONE = Name("sashing"), Name("long sashing"), Name("cornerstone")
EDGE_SASHING = Name("edge sashing")
"""Sashing on point that ends on the edge, cut longer to be trimmed there."""
SASHES = (SASHING, LONG_SASHING, EDGE_SASHING)
SIDE_TRIANGLE, CORNER_TRIANGLE = Name("side triangle"), Name("corner triangle")
END_TRIANGLE = Name("end triangle")
"""At both ends of a column of blocks on point that lies half a block lower."""
EDGE_TRIANGLES = {
    SIDE_TRIANGLE: Name("side triangles"),
    CORNER_TRIANGLE: Name("corner triangles"),
    END_TRIANGLE: Name("end triangles"),
}
HALF_STRIP, SHORT_STRIP = Name("half strip"), Name("short strip")
BINDING, BIAS_BINDING, SLEEVE = Name("binding"), Name("bias binding"), Name("hanging sleeve")
BACKING_STRIP, BACKING_PANEL = Name("backing strip"), Name("backing panel")


def with_border(border: Name) -> Name:
    """The quilt with a border (or ring) on."""
    return Name("with ring" if border.what == "ring" else "with border", border.numbers)


def border_of(name: Name) -> Name:
    """The border itself, of a quilt with that border on; any other name as it is."""
    if name.what in ("with border", "with ring"):
        return Name("ring" if name.what == "with ring" else "border", name.numbers)
    return name


def piece_number(name: Name) -> str:
    """A piece's number as it is printed: ``3``, or ``B-2`` where there are several sections (``B2`` is the code of a
    cut piece)."""
    *section, number = name.numbers
    return f"{letters(section[0] - 1)}-{number}" if section else str(number)


def english(name: Name) -> str:
    """The name in English: ``border 2 sides``, ``rows 1, 3 and 5``, ``quilt with border 1``."""
    if name.what in ("row", "column"):
        return f"{name.what}{'s' if len(name.numbers) > 1 else ''} {listed([str(n) for n in name.numbers])}"
    if name.what in ("border", "ring", "with border", "with ring"):
        framing = border_of(name)
        of = " and ".join(f"{framing.what} {n}" for n in framing.numbers)
        return f"quilt with {of}" if framing is not name else f"{of} {name.side}".rstrip()
    if name.title:
        return name.title
    if name.what in ("facing", "flange", "piping"):
        return f"{name.side} of the {name.what}"
    words = f"{name.what} {piece_number(name)}" if name.numbers else name.what
    return f"{words} leaning {name.leans}" if name.leans else words
