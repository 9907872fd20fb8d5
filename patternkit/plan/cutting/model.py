"""What the cutting planner is given and what it gives back: whole numbers on the ruler grid, nothing else.

Width runs across the cloth, height along its length. A caller with fractions multiplies every length by
`patternkit.plan.cutting.grid.grid` first and divides the answers by it again.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TypeAlias

import msgspec

Exact: TypeAlias = int | Fraction


class CuttingError(ValueError):
    """A list of pieces or settings that cannot be planned; `piece` names the piece at fault, if one is."""

    def __init__(self, message: str, piece: str | None = None) -> None:
        """Keep the message for the reader and the piece's id for the caller's own wording."""
        super().__init__(message)
        self.piece = piece


class PieceDemand(msgspec.Struct, frozen=True):
    """`count` equal rectangles to cut, `width` across the cloth and `height` along its length.

    `may_turn` is false for directional cloth or a fixed grain. A `full` piece is a whole strip across the usable width
    (its own width is ignored). An `along` piece is cut along the length of the cloth first, as long borders are; what
    is left beside it serves for other pieces.
    """

    id: str
    width: int
    height: int
    count: int
    may_turn: bool = True
    full: bool = False
    along: bool = False


class CuttingSettings(msgspec.Struct, frozen=True):
    """How the cloth is used and sold.

    `width` is the usable width; `squaring` is kept free of it in every strip that is cut across, to square up its end
    (a single piece as wide as the cloth is a whole strip, and keeps all). With `trim` a shorter piece may lie in a
    taller strip, at the price of one trimming cut. Cloth is sold in steps of `lot`; `spare` is added for squaring up
    and mistakes; `shrinkage` is the loss in washing in thousandths of the length. `lot` and `spare` may be fractions of
    the grid (so a metric shop does not force a finer grid on the ruler). `steps` is the budget of the search, a second
    or two for the default, and alone decides the answer; `seconds` is a net for a very slow machine, and a plan that it
    cut short says so. With `solver` false, or without the solver installed, the shelf plan is given with a proved
    bound. With `rows` (and `trim`) a strip may be cut across into segments, and these into rows; without it, strips are
    cut straight into pieces. `within` is a length that is there (0 where none is known): a plan that fits it comes
    before any that does not. With `simple` each size has strips of its own. With a `reach` other than 0 no strip that
    is cut into rows is higher, unless a single piece is: a ruler does not reach farther.
    """

    width: int
    trim: bool = True
    lot: Exact = 1
    spare: Exact = 0
    shrinkage: Exact = 0
    steps: int = 2000
    seconds: float = 20.0
    solver: bool = True
    squaring: int = 0
    rows: bool = True
    within: Exact = 0
    simple: bool = False
    reach: int = 0

    @property
    def room(self) -> int:
        """Give the width that pieces cut from one strip may take."""
        return self.width - self.squaring


class CrossCut(msgspec.Struct, frozen=True):
    """`number` pieces `piece` cut from one row, `width` across and `height` along the cloth, as they lie.

    `turned` says that the piece's own width lies along the cloth. `trimmed_to` is the height after the one trimming
    cut, or None when the row already has the piece's height.
    """

    piece: str
    number: int
    width: int
    height: int
    turned: bool = False
    trimmed_to: int | None = None


class StripRow(msgspec.Struct, frozen=True):
    """A row `height` high of a segment, cross-cut into `cuts` from the left."""

    height: int
    cuts: tuple[CrossCut, ...]


class StripSegment(msgspec.Struct, frozen=True):
    """A length of a strip, `width` long, cut into `rows` from the top; a single row as high as the strip is cut
    straight from it. What the rows leave of the height falls away."""

    width: int
    rows: tuple[StripRow, ...]


class Strip(msgspec.Struct, frozen=True):
    """`copies` equal strips of `height`, each cut across into `segments` from the left.

    `kind` is "cut" (cut across), "full" (used whole) or "along" (cut along the length first). `source` is empty for the
    cloth itself, or the label of the leftover that the strips are cut from.
    """

    height: int
    copies: int
    segments: tuple[StripSegment, ...]
    kind: str = "cut"
    source: str = ""

    @property
    def cuts(self) -> tuple[CrossCut, ...]:
        """All cuts of one strip, segment by segment and row by row."""
        return tuple(cut for segment in self.segments for row in segment.rows for cut in row.cuts)


def one_row(height: int, cuts: Sequence[CrossCut]) -> tuple[StripSegment, ...]:
    """Give the single segment of a strip that is cut straight into pieces."""
    return (StripSegment(sum(cut.width * cut.number for cut in cuts), (StripRow(height, tuple(cuts)),)),)


class Leftover(msgspec.Struct, frozen=True):
    """`number` equal pieces of cloth that remain after the strip at index `strip`; `serves` if cut again."""

    label: str
    width: int
    height: int
    number: int
    strip: int
    serves: bool = False


class OtherWay(msgspec.Struct, frozen=True):
    """The strips and the length of the plan that was not taken: simple ones beside the closest, or the closest."""

    strips: tuple[Strip, ...]
    length: int


class CutPlan(msgspec.Struct, frozen=True):
    """A checked plan: strips in cutting order, what remains, and how far from the best possible it can be.

    `length` is the cloth cut up; `buy` the length to buy (a multiple of the lot, `lots` of it). `free` and `free_buy`
    are what is needed however the cloth is cut, `bound` and `bound_buy` what is needed by plans of this sort: strips
    cut up further, or with `CuttingSettings.rows` false strips cut straight into pieces. `status` says what is proved
    of the length to buy: "proved" (it cannot be less, however the cloth is cut), "proved for strips" (nor by plans of
    this sort) or "bounded". `simple_buy` is what would be bought with each size in strips of its own, `close_buy` with
    the least cloth; one of them is `buy`, and `other` has the strips of the other. `gap` is the possible excess as a
    fraction of the bound. `hurried` says that the net of seconds ended the search early.
    """

    width: int
    strips: tuple[Strip, ...]
    leftovers: tuple[Leftover, ...]
    other: OtherWay
    length: int
    buy: Exact
    lots: int
    bound: int
    bound_buy: Exact
    free: int
    free_buy: Exact
    simple_buy: Exact
    close_buy: Exact
    gap: Fraction
    gap_buy: Fraction
    status: str
    method: str = "shelf"
    steps: int = 0
    hurried: bool = False
