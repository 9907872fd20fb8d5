"""What hands take, do and get, as data: the vocabulary in which a kind of unit says how it is made.

A `Batch` is what is taken once, done, and everything that comes out of it. Its `uses` are the physical pieces on the
table, numbered from 0: the **part numbers**. Corners and edges of a part are numbered clockwise from the upper left of
the piece as it was cut (edge n runs from corner n to corner n + 1), and keep their numbers whatever is sewn to the part
or cut off it. Every line and every seam is named by them, never by a direction in a drawing. No text stands here; all
lengths are exact and are the numbers that will be printed.
"""

from __future__ import annotations

from typing import Literal, Union

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.piecing.keys import Thing as Thing

Form = Literal["strip", "rectangle", "half", "quarter", "template", "bias"]
Diagonal = Literal["", "left", "right"]
End = Literal["edge", "seam"]
Fit = Literal["level", "centred", "start", "end", "slid", "points", "seams", "across", "between", "crossed", "measured"]
OPEN = -1
"""In place of a part number: pressed open."""


class Piece(msgspec.Struct, frozen=True, order=True):
    """A cut piece by value: two cuts that are the same `Piece` are the same item.

    `width` and `height` are raw, as the piece lies on the cloth (width across it): of the rectangle that is cut, for a
    half or quarter the one it comes from, for a template its bounding box. A strip's width is its length along the
    strip. Make one with `piece`, which puts the short side first unless a print's direction or a diagonal keeps the two
    apart. `hand` is the diagonal of a halved rectangle as it lies: ``right`` from lower left to upper right, ``left``
    the other; empty for a square's, which has one only. `template` names the template of a template piece; one that is
    `reversed` is its mirror image, cut with the template turned over. A `fussy` one shows a motif of its own.

    Corners and edges are numbered clockwise from the upper left. Rectangles, strips: 0 the upper left corner, edges 0
    top, 1 right, 2 bottom, 3 left. A half lies with its diagonal at the lower right (hand "" and ``right``: corner 0
    the right angle, 1 at the right, 2 below; edges 0 top, 1 the long one, 2 left) or lower left (``left``: corner 0 at
    the left, 1 the right angle, 2 below; edges 0 top, 1 right, 2 the long one). A quarter has its long edge at the top:
    corner 2 is the right angle, edges 0 the long one, 1 right, 2 left. Templates and things as their outlines go, a
    reversed template as `reversed_ring` says; a piece laid over a field of a foundation as the field's outline goes.
    """

    fabric: str
    form: Form
    width: Length
    height: Length
    hand: Diagonal = ""
    template: str = ""
    reversed: bool = False
    fussy: bool = False


def piece(
    fabric: str,
    form: Form,
    width: Length,
    height: Length,
    *,
    hand: Diagonal = "",
    template: str = "",
    directional: bool = False,
) -> Piece:
    """A `Piece` in its one spelling: short side first, unless a print's direction, a diagonal or a template keeps the
    sides apart."""
    if not directional and not hand and form in ("rectangle", "quarter") and width > height:
        width, height = height, width
    return Piece(fabric, form, width, height, hand, template)


Item = Union[Piece, Thing]


class Use(msgspec.Struct, frozen=True):
    """One physical piece on the table of a batch, lying turned clockwise by `turned` degrees, face up."""

    item: Item
    turned: int = 0


class Corner(msgspec.Struct, frozen=True):
    """Corner `n` of a part."""

    part: int
    n: int


class Edge(msgspec.Struct, frozen=True):
    """Edge `n` of a part, from its corner n to corner n + 1, clockwise as the part lies face up."""

    part: int
    n: int


class Middle(msgspec.Struct, frozen=True):
    """The middle of an edge."""

    part: int
    n: int


Spot = Union[Corner, Middle]


class Line(msgspec.Struct, frozen=True):
    """A straight line through two spots, moved sideways by `beside` seam allowances: positive to the right as walked
    from `start` to `end`, as seen on the part that carries `start` lying face up."""

    start: Spot
    end: Spot
    beside: int = 0


class Lay(msgspec.Struct, frozen=True, tag=True):
    """Lay one hand face down on another: in each pair the first spot is one of the hand that is turned over, the second
    one of the hand that stays. The first pair meets, the second pair lies the same way from it (it says a direction,
    and may name a corner of the same part that is cut off by now)."""

    at: tuple[tuple[Spot, Spot], tuple[Spot, Spot]]


class Sew(msgspec.Struct, frozen=True, tag=True):
    """Stitch through all layers along lines between two spots (a marked line is this line drawn).

    `sides` are how many seam allowances beside the line each row of stitches runs: (0,) on the line, (1, -1) on both
    sides of it. It runs from raw edge to raw edge, or `start` and `stop` say "seam": a seam allowance before the edge.
    """

    line: Line
    sides: tuple[int, ...] = (0,)
    start: End = "edge"
    stop: End = "edge"


class Cut(msgspec.Struct, frozen=True, tag=True):
    """Cut through all layers of the hands that hold the spots of `lines`, all lines before anything moves."""

    lines: tuple[Line, ...]


class Snip(msgspec.Struct, frozen=True, tag=True):
    """Cut the layers of some `parts` alone along a line, with scissors, before they are sewn; of each the larger side
    stays where it lies."""

    line: Line
    parts: tuple[int, ...]


class Discard(msgspec.Struct, frozen=True, tag=True):
    """Put aside the hand that holds a spot: what was cut off and is not used (the corner beyond a flipped square's
    seam). What is cut off and used is no waste: it stays on the table and comes out among the batch's `gives`."""

    corner: Spot


class Open(msgspec.Struct, frozen=True, tag=True):
    """Open every hand on the table that holds parts face to face along its longest line of stitches, and press it.

    `toward` is the part to whose side both allowances are pressed, or a corner where a part lies on both sides (that
    hand's side which held this corner before it was opened), or `OPEN`. Short lines of stitches across a tip are picked
    out (`picked` says that there are such, so that the maker is told). With several seams in `parts` only the hands
    that hold all of these parts are opened. `spun`: toward `toward` only on the half of the seam along which that part
    lies, to the other side on the other half.
    """

    toward: int | Corner
    picked: bool = False
    parts: tuple[int, ...] = ()
    spun: bool = False


class Join(msgspec.Struct, frozen=True, tag=True):
    """Lay two hands right sides together along raw edges, sew a seam allowance inside, open, and press.

    `left` and `right` are the part edges that meet: one each, or all those that lie in one line where rows are joined
    (in any order; those of a curve in order, each side clockwise around its own hand). The hand on the left stays where
    it is, the one on the right comes to it. Both may be one hand: a seam that closes (set in, partial).

    `fit` says how the ends meet: "level" (both ends), "centred" (the middles), "start" (level where the seam begins,
    that is at the first end of `left` walked clockwise around its hand), "end" (level at the other end), "slid" (the
    tips pass each other by `slide` at both ends, the sharper one reaching out; of equally sharp ones that of the right
    side at the first end of `left`, and the other way where it is less than nothing), "points" (the ends of the seam
    lines meet, as dots marked from a template do), "seams" (joints of parts that end on both edges meet), "across"
    (joints that end on the right edge meet the lines of those beyond a plain strip, whose other edge is the left one),
    "between" (the right side's middle lies midway between the outer seams that end on the left one: on the block that
    they bound), "crossed" (the tips reach out beyond the other side's edge, as far at one end as at the other: the
    middles of the seam lines meet, and what is cut larger is trimmed later), "measured" (the right side is cut to the
    length of the left). `ears`: the raw edges may be of different lengths, because tips reach out beyond the other
    edge. `eased`: the right side is eased to the length of the left. `curved`: seam lines are to be equally long, not
    raw edges. `start` and `stop` (at the first and last end of `left`): from the raw edge, or one seam before it
    (set-in seams: the line then runs between the corners of the seam lines). `partial`: "begun" stops halfway, and
    "closed" is the later Join of the same edges (with those that lie beside them by then) that finishes the seam.
    `toward` is the part to whose side both allowances are pressed, or `OPEN`; `spun` as in `Open`. `locks` is how many
    seams end here on both sides with their allowances on opposite sides; None where nothing is told of it.
    """

    left: tuple[Edge, ...]
    right: tuple[Edge, ...]
    toward: int = OPEN
    fit: Fit = "level"
    slide: Length = ZERO
    start: End = "edge"
    stop: End = "edge"
    partial: Literal["", "begun", "closed"] = ""
    ears: bool = False
    eased: bool = False
    curved: bool = False
    spun: bool = False
    locks: int | None = None


class Mitre(msgspec.Struct, frozen=True, tag=True):
    """Mitre a corner: fold so that the two strips `left` and `right` lie face to face, sew from where their seams end
    to the outer corner, cut a seam beyond it, and press to the side of part `toward`, or `OPEN`."""

    left: int
    right: int
    toward: int = OPEN


class CutAcross(msgspec.Struct, frozen=True, tag=True):
    """Square up one end of the strip unit that holds part `part` and cut it across: `count` segments `width` wide.

    Several in a row go on from where the one before stopped. What is left of the strip unit is waste. The cuts stand at
    `angle` degrees to the strips, from lower left to upper right where it is less than 90, from upper left to lower
    right where it is more; then one end is cut so first, as far out as all strips reach.
    """

    part: int
    width: Length
    count: int
    angle: int = 90


class CloseTube(msgspec.Struct, frozen=True, tag=True):
    """Sew a strip unit to a tube: the raw edge `left` of its last strip to the raw edge `right` of its first, right
    sides inside. What is cut across then are rings."""

    left: Edge
    right: Edge


class OpenRing(msgspec.Struct, frozen=True, tag=True):
    """Take out the stitches between edge `left` and edge `right`, which lay against each other, of all rings that are
    cut and closed still: each becomes a segment that begins with the part of `right` and ends with that of `left`. Its
    seams are pressed anew: for each, from the first to the last, `toward` is the part to whose side, or `OPEN`."""

    left: Edge
    right: Edge
    toward: tuple[int, ...]


class CutApart(msgspec.Struct, frozen=True, tag=True):
    """Cut the hand that holds part `part`, as it lies, straight through: from top to bottom so far from its left edge
    (`columns`), from side to side so far from its upper edge (`rows`); all lines before anything moves. Where the
    width, or the height, is only halved (`middles`) nothing is measured."""

    part: int
    columns: tuple[Length, ...]
    rows: tuple[Length, ...]
    middles: tuple[bool, bool] = (False, False)


class CutMeasured(msgspec.Struct, frozen=True, tag=True):
    """Measure what a plain piece is to be sewn to, and cut part `part` to that length: about `about`, which nobody
    needs to find on a ruler. `edge` is the one that is to be so long; without it, the longer side of the piece."""

    part: int
    about: Length
    edge: int | None = None


class CutBetween(msgspec.Struct, frozen=True):
    """Shapes cut by a template between others of a strip unit: how it lies and how many there are, as in `CutOut`; the
    first one begins `after` the first of the others."""

    template: str
    count: int
    after: Length
    down: Length = ZERO
    turned: int = 0
    reversed: bool = False


class CutOut(msgspec.Struct, frozen=True, tag=True):
    """Lay a template on the strip unit that holds part `part`, turned over first where it is `reversed`, then turned
    clockwise by `turned`, its highest point `down` below the strip unit's upper raw edge, and cut `count` pieces, each
    `pitch` from the one before (their width, where that is nothing); and those `between` them, where there are any."""

    part: int
    template: str
    count: int
    down: Length = ZERO
    turned: int = 0
    pitch: Length = ZERO
    reversed: bool = False
    between: CutBetween | None = None


class TrimTo(msgspec.Struct, frozen=True, tag=True):
    """Trim every hand (or those that hold all of `parts`) to a raw size.

    `way` says what lies where on the ruler: "even" the same from opposite sides; "diagonal" a seam runs into two
    corners; "cross" the crossing of seams in the middle; "point" two seams meet half way along the upper edge, a seam
    inside it; "points" every point a seam inside its edge. The side that is `kept` has its size already, on whatever
    line that lies, and nothing is cut off it. Where a unit does not lie as drawn, the width runs `along` an edge of a
    part. Only the hand is trimmed that is `holding` a corner, the smallest of several, where one is named.
    """

    width: Length
    height: Length
    way: Literal["even", "diagonal", "cross", "point", "points"] = "even"
    parts: tuple[int, ...] = ()
    kept: Literal["", "width", "height"] = ""
    along: Edge | None = None
    holding: Corner | None = None


class TrimBand(msgspec.Struct, frozen=True, tag=True):
    """Trim what parts are joined to on the slant: to a rectangle of a raw size, its width along the line from the
    middle of part `first` to the middle of part `last`, its middle half way between these."""

    first: int
    last: int
    width: Length
    height: Length


class TrimBeyond(msgspec.Struct, frozen=True, tag=True):
    """Trim raw edges `beyond` outside the points where seams meet, with no size to find on a ruler: the edges named
    (those in one line are one cut), or all four sides. Where it is said of which part (`of`), the points are that
    part's corners a seam inside its raw edges. At top and bottom, as the work lies, it is `ends`, if that is given. The
    cuts may run corner to corner `through` so many whole blocks, whose raw edges lie aslant to them: level and upright
    as the work lies."""

    beyond: Length
    edges: tuple[Edge, ...] = ()
    of: int | None = None
    ends: Length | None = None
    through: int = 0


class Measure(msgspec.Struct, frozen=True, tag=True):
    """What must be measured now, raw edge to raw edge; `shows` what the pieces along one line show from left to right
    (or from top to bottom with `down`), outer ones with the seam allowance that they still carry. `parts` as in `Open`,
    `holding` as in `TrimTo`."""

    width: Length
    height: Length
    shows: tuple[Length, ...] = ()
    down: bool = False
    parts: tuple[int, ...] = ()
    holding: Corner | None = None


class Field(msgspec.Struct, frozen=True, tag=True):
    """Foundation: lay part `part` so that it covers field `field` (numbered from 0 in sewing order) of paper `paper`,
    sew on the printed line, trim to a seam beyond it, fold over."""

    part: int
    field: int
    paper: str


class TearAway(msgspec.Struct, frozen=True, tag=True):
    """Trim the foundation `paper` to its outer line (a seam beyond the finished edge); the paper goes later."""

    paper: str


class LayOn(msgspec.Struct, frozen=True, tag=True):
    """Turn the edge of part `part` under by `turned` all round (nothing: it stays raw), lay it right side up on the
    hand that holds part `onto`, as it lies, and stitch it down. Its middle (that of the box round what shows of it, as
    it was cut) comes to lie `across` from that hand's left raw edge and `down` from its upper one."""

    part: int
    onto: int
    across: Length
    down: Length
    turned: Length


class LayStrip(msgspec.Struct, frozen=True, tag=True):
    """The same with a bias strip: its middle line runs from `start` to `end`, straight or along the shorter arc `about`
    a point (of a half circle clockwise, unless it is `reversed`). The points are measured as in `LayOn`. The ends that
    are `caught`, the first and the last, run on to the raw edge of what the strip is laid on."""

    part: int
    onto: int
    start: tuple[Length, Length]
    end: tuple[Length, Length]
    turned: Length
    about: tuple[Length, Length] | None = None
    reversed: bool = False
    caught: tuple[bool, bool] = (False, False)


Action = Union[
    Lay,
    Sew,
    Cut,
    Snip,
    Discard,
    Open,
    Join,
    Mitre,
    CutAcross,
    CloseTube,
    OpenRing,
    CutApart,
    CutMeasured,
    CutOut,
    TrimTo,
    TrimBand,
    TrimBeyond,
    Measure,
    Field,
    TearAway,
    LayOn,
    LayStrip,
]


class Passage(msgspec.Struct, frozen=True):
    """A run of actions that is told in one breath; `name` is the key of its phrase ("half-square-pairs")."""

    name: str
    actions: tuple[Action, ...]


class Batch(msgspec.Struct, frozen=True):
    """What is taken once (`uses`), done, and everything that comes out: `gives`, items with how many of each.

    Where it is `rough`, what comes out may be larger than drawn along some edges, and is trimmed in a later step (rows
    on point with their triangles).
    """

    uses: tuple[Use, ...]
    passages: tuple[Passage, ...]
    gives: tuple[tuple[Item, int], ...]
    rough: bool = False

    @property
    def actions(self) -> tuple[Action, ...]:
        """All that is done, in order."""
        return tuple(action for passage in self.passages for action in passage.actions)
