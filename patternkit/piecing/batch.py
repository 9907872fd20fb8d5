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

Form = Literal["strip", "rectangle", "half", "quarter", "template", "bias"]
Hand = Literal["", "left", "right"]
OPEN = -1
"""In place of a part number: pressed open."""


class Piece(msgspec.Struct, frozen=True, order=True):
    """A cut piece by value: two cuts that are the same `Piece` are the same item.

    `width` and `height` are raw, as the piece lies on the cloth (width across it): of the rectangle that is cut, for a
    half or quarter the one it comes from, for a template its bounding box. A strip's width is its length along the
    strip. Make one with `piece`, which puts the short side first unless a print's direction or a diagonal keeps the
    two apart. `hand` is the diagonal of a halved rectangle as it lies: ``right`` from lower left to upper right,
    ``left`` the other; empty for a square's, which has one only. `template` names the template of a template piece.
    """

    fabric: str
    form: Form
    width: Length
    height: Length
    hand: Hand = ""
    template: str = ""


def piece(
    fabric: str,
    form: Form,
    width: Length,
    height: Length,
    *,
    hand: Hand = "",
    template: str = "",
    directional: bool = False,
) -> Piece:
    """A `Piece` in its one spelling: short side first, unless a print's direction, a diagonal or a template keeps the
    sides apart.
    """
    if not directional and not hand and form in ("rectangle", "quarter") and width > height:
        width, height = height, width
    return Piece(fabric, form, width, height, hand, template)


class Thing(msgspec.Struct, frozen=True):
    """A sewn thing: `key` is the key of its making, `version` tells two ways of pressing or seaming apart."""

    key: object  # the making's Key
    version: int = 0


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
    from `start` to `end`, as seen on the part that carries `start` lying face up.
    """

    start: Spot
    end: Spot
    beside: int = 0


class Lay(msgspec.Struct, frozen=True, tag=True):
    """Lay the hand that holds part `upper` face down on the hand that holds part `onto`: the first two spots meet, the
    second two lie the same way from them.
    """

    upper: int
    onto: int
    at: tuple[tuple[Spot, Spot], tuple[Spot, Spot]]  # (spot of upper, spot of onto), twice


class Sew(msgspec.Struct, frozen=True, tag=True):
    """Stitch through all layers along lines between two spots (a marked line is this line drawn).

    `sides` are how many seam allowances beside the line each row of stitches runs: (0,) on the line, (1, -1) on both
    sides of it. It runs from raw edge to raw edge, or `start` and `stop` say "seam": a seam allowance before the edge.
    """

    line: Line
    sides: tuple[int, ...] = (0,)
    start: Literal["edge", "seam"] = "edge"
    stop: Literal["edge", "seam"] = "edge"


class Cut(msgspec.Struct, frozen=True, tag=True):
    """Cut through all layers of the hands that hold the spots of `lines`, all lines before anything moves."""

    lines: tuple[Line, ...]


class Discard(msgspec.Struct, frozen=True, tag=True):
    """Put aside what was cut off and holds no stitches that open (the corner beyond a flipped square's seam)."""

    corner: Spot  # a spot that lies in what is put aside


class Open(msgspec.Struct, frozen=True, tag=True):
    """Open every hand on the table that holds parts face to face along its longest line of stitches, and press it.

    `toward` is the part to whose side both allowances are pressed, or `OPEN`. Short lines of stitches across a tip are
    picked out (`picked` says that there are such, so that the maker is told). With several seams in `parts` only the
    hands that hold all of these parts are opened.
    """

    toward: int
    picked: bool = False
    parts: tuple[int, ...] = ()


class Join(msgspec.Struct, frozen=True, tag=True):
    """Lay two hands right sides together along raw edges, sew a seam allowance inside, open, and press.

    `left` and `right` are the chains of part edges that meet, each in its own clockwise order around its hand (so they
    run against each other); usually one edge each, several where rows are joined. `fit` says how the ends meet:
    "level" (both ends), "centred" (the middles), "slid" (the tips pass each other by `slide` at both ends), "start"
    (level where the seam begins; the rest reaches out), "measured" (cut after measuring the other). `eased`: of
    other lengths (a curve, a border eased in). `start` and `stop`: from the raw edge, or one seam before it (set-in
    seams); `partial` stops halfway (a seam ended by a later one). `toward` is a part number or `OPEN`;
    `spun` that the seam's halves are pressed to either side of a crossing. `curved`: seam lines must be equally long,
    not raw edges.
    """

    left: tuple[Edge, ...]
    right: tuple[Edge, ...]
    toward: int = OPEN
    fit: Literal["level", "centred", "slid", "start", "measured"] = "level"
    slide: Length = ZERO
    start: Literal["edge", "seam"] = "edge"
    stop: Literal["edge", "seam"] = "edge"
    partial: Literal["", "begun", "closed"] = ""
    eased: bool = False
    curved: bool = False
    spun: bool = False


class CutAcross(msgspec.Struct, frozen=True, tag=True):
    """Square up one end of the strip unit that holds part `part` and cut it across: `count` segments `width` wide."""

    part: int
    width: Length
    count: int


class CutOut(msgspec.Struct, frozen=True, tag=True):
    """Lay a template on the strip unit that holds part `part`, its marks on the seams, and cut `count` pieces."""

    part: int
    template: str
    count: int


class TrimTo(msgspec.Struct, frozen=True, tag=True):
    """Trim every hand (or those that hold all of `parts`) to a raw size.

    `way` says what lies where on the ruler: "even" the same from opposite sides; "diagonal" a seam runs into two
    corners; "cross" the crossing of seams in the middle; "point" the point of a goose half way and a seam inside;
    "points" every point a seam inside its edge.
    """

    width: Length
    height: Length
    way: Literal["even", "diagonal", "cross", "point", "points"] = "even"
    parts: tuple[int, ...] = ()


class TrimBeyond(msgspec.Struct, frozen=True, tag=True):
    """Trim the raw edges beyond the points where seams end, `beyond` outside them, with no size to find on a ruler."""

    beyond: Length
    edges: tuple[Edge, ...] = ()


class Measure(msgspec.Struct, frozen=True, tag=True):
    """What must be measured now, raw edge to raw edge; `shows` what plain pieces show from left to right (or from top
    to bottom with `down`), outer ones with the seam allowance that they still carry. `parts` as in `Open`.
    """

    width: Length
    height: Length
    shows: tuple[Length, ...] = ()
    down: bool = False
    parts: tuple[int, ...] = ()


class Field(msgspec.Struct, frozen=True, tag=True):
    """Foundation: lay part `part` so that it covers field `field` (numbered in sewing order) of paper `paper`, sew on
    the printed line, trim to a seam beyond it, fold over.
    """

    part: int
    field: int
    paper: str


class TearAway(msgspec.Struct, frozen=True, tag=True):
    """Trim the foundation `paper` to its outer line (a seam beyond the finished edge); the paper goes later."""

    paper: str


Action = Union[Lay, Sew, Cut, Discard, Open, Join, CutAcross, CutOut, TrimTo, TrimBeyond, Measure, Field, TearAway]


class Passage(msgspec.Struct, frozen=True):
    """A run of actions that is told in one breath; `name` is the key of its phrase ("half-square-pairs")."""

    name: str
    actions: tuple[Action, ...]


class Batch(msgspec.Struct, frozen=True):
    """What is taken once (`uses`), done, and everything that comes out: `gives`, items with how many of each."""

    uses: tuple[Use, ...]
    passages: tuple[Passage, ...]
    gives: tuple[tuple[Item, int], ...]
