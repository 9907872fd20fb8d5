"""The making order of one size and colourway: cutting, steps, and the runs of its releases.

Facts that follow from others are properties: what a step takes and makes is computed from its batches. The order holds
no words; codes and names are given to items beside it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, Union

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.piecing.batch import Action, Batch, Item, Piece, Thing
from patternkit.piecing.joined import JoinedStrip
from patternkit.piecing.making import Outline
from patternkit.piecing.names import Name

Axis = Literal["w", "h"]


class Purpose(msgspec.Struct, frozen=True):
    """What something is cut for: pieces by their names, or the things that they are taken for. `short` says of strips
    that they are a part of a strip's length (half strips, short strips), `joined` of strips that they are joined end to
    end, and that the names are those of what is cut from them then; `template` by which of the thing's it is."""

    of: tuple[Name | Thing, ...] = ()
    short: Name | None = None
    joined: bool = False
    template: str = ""


class CutStrips(msgspec.Struct, frozen=True, tag=True):
    """Cut `count` strips of raw height `height` across the whole width of the cloth (or, `along`, down its length)."""

    fabric: str
    height: Length
    count: int
    along: bool = False
    use: Purpose = Purpose()


class Motif(msgspec.Struct, frozen=True):
    """The motifs round which pieces are cut: they lie `repeat` apart, across and along the cloth, wherever the first
    one is; those that are cut lie `step` apart, `across` on the width and in so many `rows` on a `length`."""

    repeat: tuple[Length, Length]
    step: tuple[Length, Length]
    across: int
    rows: int
    length: Length


class CutPieces(msgspec.Struct, frozen=True, tag=True):
    """Cut `count` of a piece; `lies` is its size across and along the cloth as the cutting drawing shows it. With a
    `motif` each is cut round one of the print."""

    piece: Piece
    count: int
    lies: tuple[Length, Length]
    use: Purpose = Purpose()
    motif: Motif | None = None


class CutDiagonally(msgspec.Struct, frozen=True, tag=True):
    """Cut `count` rectangles once or twice corner to corner (`ways`); `gives` is the triangle that comes of it.

    `leans` is said of the rectangle as it lies (`lies`), right side up: right from lower left to upper right.
    """

    piece: Piece
    gives: Piece
    count: int
    ways: Literal[1, 2]
    leans: Literal["", "left", "right"]
    lies: tuple[Length, Length]
    use: Purpose = Purpose()


class CutByTemplate(msgspec.Struct, frozen=True, tag=True):
    """Cut `count` by a template that lies with its `face` up or down on the right side of the cloth, in rectangles of
    the size that it takes there (`lies`); or side by side, `each` of them in such a rectangle: `at` says for each how
    far from its left end and from its top the template begins, and by how many degrees it is turned from how it is
    drawn."""

    piece: Piece
    count: int
    face: Literal["up", "down"] = "up"
    lies: tuple[Length, Length] | None = None
    each: int = 0
    use: Purpose = Purpose()
    at: tuple[tuple[Length, Length, int], ...] = ()

    @property
    def by_turns(self) -> bool:
        """Whether those side by side are turned about by turns."""
        return len({turned for *_, turned in self.at}) > 1


class JoinEnds(msgspec.Struct, frozen=True, tag=True):
    """Join `count` strips end to end and cut pieces from them; `gives` are those, `slanted` how the ends are joined,
    `lengths` each length with how many there are, and for what; `joins` which of these come from which joined strips
    (none: from all of them joined to one)."""

    strip: Piece
    count: int
    slanted: bool
    gives: tuple[tuple[Piece, int], ...]
    lengths: tuple[tuple[Length, int, Name | Thing], ...] = ()
    joins: tuple[JoinedStrip, ...] = ()


class CutBias(msgspec.Struct, frozen=True, tag=True):
    """Cut bias strips of raw width `width`: from a square of side `square` sewn into a tube (`rounds` whole rounds), or
    `count` strips across a `length` of cloth; `gives` their length in all before they are joined."""

    fabric: str
    width: Length
    gives: Length
    square: Length | None = None
    length: Length | None = None
    rounds: int = 0
    count: int = 0
    lies: tuple[Length, Length] | None = None
    use: Purpose = Purpose()


Cutting = Union[CutStrips, CutPieces, CutDiagonally, CutByTemplate, JoinEnds, CutBias]


def fabric_of(cutting: Cutting) -> str:
    """Which fabric is cut."""
    if isinstance(cutting, (CutStrips, CutBias)):
        return cutting.fabric
    return (cutting.strip if isinstance(cutting, JoinEnds) else cutting.piece).fabric


class LaidPiece(msgspec.Struct, frozen=True):
    """`number` pieces side by side in a strip of cloth: of which cutting (its place among the order's), their `size` as
    they are called (of a rectangle to halve as it lies, with the diagonal that `leans`), the size across and along the
    cloth in which they lie once they are trimmed, and what they are `trimmed` to where the strip is wider."""

    cutting: int
    number: int
    size: tuple[Length, Length]
    lies: tuple[Length, Length]
    leans: Literal["", "left", "right"] = ""
    trimmed: Length | None = None


class LaidRow(msgspec.Struct, frozen=True):
    """`count` rows `height` high of a segment, with the pieces that are cut from each."""

    height: Length
    pieces: tuple[LaidPiece, ...]
    count: int = 1


class LaidSegment(msgspec.Struct, frozen=True):
    """A length of a strip, `width` long, that is cut into rows from the top; a single row is the strip itself, cut
    straight into pieces."""

    width: Length
    rows: tuple[LaidRow, ...]

    @property
    def straight(self) -> bool:
        """Whether the pieces are cut straight from the strip."""
        return len(self.rows) == 1 and self.rows[0].count == 1


class KeptRest(msgspec.Struct, frozen=True):
    """The cloth, raw `width` across it and `height` along it, that stays beside pieces cut along the length and is cut
    up later as the leftover of this `label`."""

    label: str
    width: Length
    height: Length


class LaidStrip(msgspec.Struct, frozen=True):
    """`count` strips of raw height `height` with the segments that each is cut into: "cut" across the cloth, kept whole
    ("full"), cut "along" its length first; cut round "motifs", each segment from the left edge of one to that of the
    next; of a sheet cut "across" or "down" what remains of it. `source` is the label of the leftover that they are cut
    from, `keeps` what is kept beside a strip cut along the length."""

    height: Length
    count: int
    kind: Literal["cut", "full", "along", "motifs", "across", "down"]
    segments: tuple[LaidSegment, ...]
    source: str = ""
    keeps: KeptRest | None = None

    @property
    def pieces(self) -> tuple[LaidPiece, ...]:
        """All pieces that are cut from one strip, those of equal rows counted together."""
        rows = (row for segment in self.segments for row in segment.rows)
        return tuple(msgspec.structs.replace(p, number=p.number * row.count) for row in rows for p in row.pieces)


class LaidSheet(msgspec.Struct, frozen=True):
    """`count` sheets of cloth of one size that are cut alike. `form` is what they are sold as; empty for scraps at
    hand. Of a group they are of the `prints` of these numbers, as many of each."""

    count: int
    form: str
    width: Length
    height: Length
    strips: tuple[LaidStrip, ...]
    prints: tuple[int, ...] = ()


class LaidCloth(msgspec.Struct, frozen=True):
    """How a fabric is cut: its strips in cutting order, and its sheets, those cut alike together."""

    strips: tuple[LaidStrip, ...] = ()
    sheets: tuple[LaidSheet, ...] = ()


class Template(msgspec.Struct, frozen=True):
    """A shape cut by template: raw outline, and the seam line inside it (the finished outline), face up. One that has
    an `angle` needs no template: a ruler cuts it from a strip as high as it is, along its line of so many degrees. Nor
    does a `bias_strip`, which is so wide and so long, and lies across the cloth at 45 degrees."""

    name: str
    outline: Outline
    sewn: Outline = ()
    angle: int = 0
    bias_strip: tuple[Length, Length] | None = None


class Paper(msgspec.Struct, frozen=True):
    """A foundation: its fields in sewing order as seen from the front of the finished unit; the print is mirrored."""

    name: str
    outline: Outline
    fields: tuple[Outline, ...]


class Mend(msgspec.Struct, frozen=True):
    """A remedy: where things come out off by `error` along an axis, the changed cuts that make up for it.

    `changes` are pieces with how many there are and how much each is cut larger (negative: smaller) along the axis of
    the error, where what is `within` is sewn: the thing itself (its two outer pieces), or one that takes it. In a
    `line` along the axis there lie so many of the thing and so many of the pieces.
    """

    of: Thing
    axis: Axis
    error: Length
    changes: tuple[tuple[Piece, int, Length], ...]
    within: Thing | None = None
    line: tuple[int, int] = (1, 2)

    @property
    def missing(self) -> Length:
        """What is missing in one line, which its pieces make up for together."""
        return self.error * self.line[0]


class PrintBatches(msgspec.Struct, frozen=True):
    """What of a step is sewn of some single prints: which print stands for each key of one, and how often each batch is
    done with them (`times`: the number of the batch, how often)."""

    prints: tuple[tuple[str, int], ...]
    times: tuple[tuple[int, int], ...]


class Step(msgspec.Struct, frozen=True):
    """One numbered step: batches with how many times each is done. `leaves` are items that no later step takes; of what
    is sewn of single prints `prints` says how often with which."""

    thing: Thing
    batches: tuple[tuple[Batch, int], ...]
    leaves: tuple[tuple[Item, int], ...] = ()
    remedies: tuple[Mend, ...] = ()
    rehearsed: bool = True  # False where its kind has no actions yet
    prints: tuple[PrintBatches, ...] = ()

    @property
    def takes(self) -> dict[Item, int]:
        """Everything that is taken, with how many."""
        found: dict[Item, int] = {}
        for batch, times in self.batches:
            for use in batch.uses:
                found[use.item] = found.get(use.item, 0) + times
        return found

    @property
    def gives(self) -> dict[Item, int]:
        """Everything that comes out, with how many."""
        found: dict[Item, int] = {}
        for batch, times in self.batches:
            for item, n in batch.gives:
                found[item] = found.get(item, 0) + n * times
        return found

    @property
    def actions(self) -> tuple[Action, ...]:
        """All actions in order, each batch once."""
        return tuple(a for batch, _ in self.batches for a in batch.actions)


class Run(msgspec.Struct, frozen=True):
    """So many of a step's batches that one release makes: (batch number, times)."""

    release: int
    step: int
    batches: tuple[tuple[int, int], ...]


class Between(msgspec.Struct, frozen=True):
    """A strip of another cloth in a backing: `strip` raw width, joined to `length` from `count` strips, or in these
    ways."""

    fabric: str
    strip: Length
    length: Length
    count: int
    joins: tuple[JoinedStrip, ...] = ()


class Panels(msgspec.Struct, frozen=True, tag=True):
    """Backing or batting: `count` panels of `width` by `length` joined side by side with seams of `seam`, `upright` or
    across the quilt, and trimmed to a size, which is the quilt's and `beyond` on every side. A strip lies `between` the
    first two panels, or between the halves of the only one. Panels that are `cut` are among the cutting of their
    fabric; then the `last` may be cut only so wide."""

    what: Literal["backing", "batting"]
    fabric: str
    count: int
    width: Length
    length: Length
    seam: Length
    upright: bool
    trimmed: tuple[Length, Length]
    beyond: Length
    between: Between | None = None
    cut: bool = False
    last: Length | None = None


class Bind(msgspec.Struct, frozen=True, tag=True):
    """Bind the quilt: `strip` raw width, `length` joined, round `perimeter`, with `allowance` for corners and ends;
    from `count` strips across the cloth (0 for bias), joined on the slant or `straight`; `joins` of what, where ends of
    other strips are among it."""

    fabric: str
    strip: Length
    length: Length
    perimeter: Length
    allowance: Length
    count: int = 0
    straight: bool = False
    joins: tuple[JoinedStrip, ...] = ()


class Sleeve(msgspec.Struct, frozen=True, tag=True):
    """A hanging sleeve on a quilt `across` wide: `strip` raw width, joined to `length` from `count` strips, or in these
    ways; or one piece cut `along` the cloth."""

    fabric: str
    strip: Length
    length: Length
    across: Length
    count: int = 0
    joins: tuple[JoinedStrip, ...] = ()
    along: bool = False


class Extra(msgspec.Struct, frozen=True, tag=True):
    """What is cut besides by the writer's word and sewn as she says: `count` pieces in all of a `name`, for the quilt
    or for each `of` a thing."""

    name: Name
    piece: Piece
    count: int
    of: Thing | None = None


class EdgeFinish(msgspec.Struct, frozen=True, tag=True):
    """What is sewn to the edges of the quilt, with its pieces and how many of each: a facing (`strip` raw width, folded
    in half; first the sides', then those of top and bottom, of which `turn` is turned in at either end), a flange (the
    same, round the quilt with so many borders on as it comes `after`), a piping (such strips round a cord as thick as
    `shows`), prairie points (squares of the side `strip`, so many `along` the top and a side, and so far `apart`), the
    back of a cushion (two halves that lie over each other by `overlap`, each with a hem that takes `turn`). `shows` is
    what lies beyond the seam."""

    what: Literal["facing", "flange", "piping", "prairie points", "cushion back"]
    fabric: str
    pieces: tuple[tuple[Piece, int], ...]
    strip: Length
    shows: Length
    turn: Length
    after: int = 0
    overlap: Length = ZERO
    along: tuple[int, int] = (0, 0)
    apart: tuple[Length, Length] = (ZERO, ZERO)


class RoundedCorners(msgspec.Struct, frozen=True, tag=True):
    """Round the corners of the quilted layers: from a point that is `raw` from both raw edges an arc of that radius is
    drawn in each corner, and cut along. Once a seam is taken off they are rounded by `radius`."""

    radius: Length
    raw: Length


Finish = Union[Panels, Bind, Sleeve, Extra, EdgeFinish, RoundedCorners]


class Order(msgspec.Struct, frozen=True):
    """The whole making of one size in one colourway. `bought` is cloth to buy, in inches of length, by fabric; `usable`
    the usable width, and `squaring` what is kept of it for squaring up; `codes` the letter and number of each cut
    piece, in the order in which they are met; `leaves` what is cut and taken by nothing (a third and fourth triangle of
    a square); `wanted` what is made for its own sake, where there is no top: loose units, with how many; `layout` how
    each fabric is cut, where its cloth is planned; `prints` which fabrics stand for one print of a group: of which
    cloth they are cut, and how many of its prints come before the first that they may be."""

    size: str
    colourway: str
    seam: Length
    ruler: Length
    cutting: tuple[Cutting, ...]
    steps: tuple[Step, ...]
    top: Thing | None
    finish: tuple[Finish, ...] = ()
    runs: tuple[Run, ...] = ()
    templates: Mapping[str, Template] = {}
    papers: Mapping[str, Paper] = {}
    codes: Mapping[Piece, str] = {}
    usable: Mapping[str, Length] = {}
    squaring: Mapping[str, Length] = {}
    bought: Mapping[str, Length] = {}
    leaves: tuple[tuple[Item, int], ...] = ()
    wanted: tuple[tuple[Item, int], ...] = ()
    layout: Mapping[str, LaidCloth] = {}
    prints: Mapping[str, tuple[str, int]] = {}
