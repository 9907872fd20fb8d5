"""Lines that tell of cuts: claims of what is cut, what is cut besides, and how a sewn unit is cut apart."""

from __future__ import annotations

import msgspec

from patternkit.sizes.affine import Affine
from patternkit.source import Span
from patternkit.syntax.statements import Prose


class ClaimedCut(msgspec.Struct, frozen=True):
    """So many strips, squares or pieces (`noun`) of a raw size that the writer says are cut of a `fabric` (its key).

    `corners` is once or twice where they are cut corner to corner; a strip has no `height`: its `width` is how wide it
    is cut. `number` is where the count stands as a plain number, for repairs.
    """

    fabric: str
    count: int
    noun: str
    width: Affine
    height: Affine | None
    corners: str
    span: Span
    number: Span | None = None
    named: str = ""  # the fabric as it stands behind the size


class ClaimedCuts(msgspec.Struct, frozen=True):
    """A line of counted cuts, each cut from those before it; with `each` so many from each sheet of the cloth."""

    cuts: tuple[ClaimedCut, ...]
    span: Span
    each: bool = False


class AlsoCut(msgspec.Struct, frozen=True):
    """What is cut besides: so many pieces or strips of a raw size, what they are called, and the words that say what is
    made of them. `numbers` are the places of the two sizes where they stand as plain numbers."""

    cut: ClaimedCut
    title: str
    prose: tuple[Prose, ...]
    span: Span
    numbers: tuple[Span | None, Span | None] = (None, None)


class CutsFrom(msgspec.Struct, frozen=True):
    """Lines by which a sewn unit is cut apart: so wide are the pieces that come off it at one `side` (left, right, top
    or bottom), raw edge to raw edge; without `widths` one line through the middle of that side, square to it."""

    side: str
    widths: tuple[Affine, ...]
    span: Span
    numbers: tuple[Span | None, ...] = ()

    @property
    def upright(self) -> bool:
        """Whether the lines run from top to bottom: widths come off at the left and right, a middle is that of the top
        or the bottom."""
        return (self.side in ("left", "right")) == bool(self.widths)


class ClaimedStripUnits(msgspec.Struct, frozen=True):
    """How many strip units are said to be sewn of a unit, and how many segments to be cut from one (0: not said)."""

    count: int
    each: int
    span: Span
    number: Span | None = None
    each_number: Span | None = None
