"""What one logical line says: typed statements, and the lossless tree that holds them with comments and blanks.

Nothing is looked up or worked out here: names are text, arithmetic is kept as written, every part has its span.
"""

from __future__ import annotations

from typing import Literal, Union

import msgspec

from patternkit.problems import Problem
from patternkit.source import Span

# isort: off
from patternkit.syntax.expressions import (
    Argument as Argument,
    Binary as Binary,
    Call as Call,
    Expr as Expr,
    Mark as Mark,
    MarkText as MarkText,
    Num as Num,
    PieceLine as PieceLine,
    Laid as Laid,
    PieceUse as PieceUse,
    Ref as Ref,
    RepeatedGroup as RepeatedGroup,
    SeamLine as SeamLine,
)
# isort: on


# -- statements -------------------------------------------------------------------------------------------
class PatternHead(msgspec.Struct, frozen=True):
    """``pattern "Title"``"""

    title: str
    span: Span


class Setting(msgspec.Struct, frozen=True):
    """A plain ``word value`` of the pattern or of a fabric.

    Words with text: by, copyright, contact, corrections, number, edition, skill. With an expression: seam,
    usable-width, squaring, ruler, spare, shrinkage, layers, thread. With a word: units, trimming (yes/no), cutting
    (least cloth/simple), language. `tools` has texts.
    """

    word: str
    span: Span
    value: Expr | None = None
    text: str = ""
    texts: tuple[str, ...] = ()


class Include(msgspec.Struct, frozen=True):
    """``include "file.pattern"``"""

    path: str
    span: Span


class Let(msgspec.Struct, frozen=True):
    """``let name = expression``"""

    name: str
    name_span: Span
    value: Expr
    span: Span


class FabricHead(msgspec.Struct, frozen=True):
    """``fabric name "Printed name" dark #1b2a49 directional``; with `many` ``fabrics`` for a group: how many prints
    (None for a bag of any number), and which group they are a part `of`."""

    name: str
    name_span: Span
    span: Span
    title: str = ""
    value: Literal["", "light", "medium", "dark"] = ""
    colour: str = ""
    directional: bool = False
    many: bool = False
    count: Expr | None = None
    of: Ref | None = None


class Sold(msgspec.Struct, frozen=True):
    """How a fabric is sold or had: ``sold by 1/8 yd``, ``sold as squares 10 x 10, 42 to a pack``, ``have 3``, ``have 3
    of 10 x 12``. `word` is by/fat-quarters/fat-eighths/squares/strips/pieces/have. The length behind ``by`` is the
    `width`, the number behind ``have`` the `count`."""

    word: str
    span: Span
    width: Expr | None = None
    height: Expr | None = None
    count: Expr | None = None


class Repeat(msgspec.Struct, frozen=True):
    """``repeat 6 x 8`` of a fabric: how far its motifs lie apart across and along the cloth; one length stands for
    both."""

    width: Expr
    height: Expr | None
    span: Span


class BattingSold(msgspec.Struct, frozen=True):
    """``batting sold as 45 x 60, 72 x 90``: the sizes in which batting is sold; one length stands for a square."""

    sizes: tuple[tuple[Expr, Expr | None], ...]
    span: Span


class UnitHead(msgspec.Struct, frozen=True):
    """``unit name(params) "Printed name"`` or ``block ...``; role says which."""

    role: Literal["unit", "block"]
    name: str
    name_span: Span
    span: Span
    params: tuple[Ref, ...] = ()
    title: str = ""


class KindStatement(msgspec.Struct, frozen=True):
    """The line that says what a unit is: ``half-square night, glow``, ``strips a | b > a``, ``rows`` (children). A
    ``drawing "bird.svg", rose`` names the file of its `outline`, which is there once that has been read: clockwise, its
    box from (0, 0) to 1 across."""

    kind: str
    kind_span: Span
    line: PieceLine | None
    span: Span
    file: Text | None = None
    outline: tuple[tuple[float, float], ...] = ()


class SizeClaim(msgspec.Struct, frozen=True):
    """``finished 3 x 3``, ``measures 9 1/2``, ``cut 2 1/2 x 4 1/2``: one length stands for both sides of a square.
    ``finished 3 high`` speaks of one side alone: its length is the `width`, and `side` says which it is."""

    word: Literal["finished", "measures", "cut"]
    width: Expr
    height: Expr | None
    span: Span
    side: Literal["", "w", "h"] = ""


class CutFromEdge(msgspec.Struct, frozen=True):
    """``cut 2 1/8, 2 1/8 from left``: how wide the pieces are that come off a sewn unit at one `side`, one after the
    other, raw edge to raw edge. ``cut at middle of top``: through the middle of a side, and square to it; without
    `lengths`. `side` is left, right, top or bottom."""

    lengths: tuple[Expr, ...]
    side: str
    span: Span


class CountedCut(msgspec.Struct, frozen=True):
    """So many strips or pieces of a size: ``12 strips 2 1/2``, ``31 of 2 x 9 1/4``, ``6 squares 7 1/4 night, twice``.
    `noun` is strips, squares or pieces; `corners` is once or twice where they are cut corner to corner; `fabric` is
    what stands behind the size, of a group a print by its number."""

    count: Expr
    noun: str
    width: Expr
    height: Expr | None
    span: Span
    corners: str = ""
    fabric: PieceUse | None = None


class CutsClaim(msgspec.Struct, frozen=True):
    """``cut 12 strips 2 1/2`` under a fabric or a unit. Of several cuts on one line each is cut from those before it:
    ``cut 2 strips 9 1/4, 31 of 2 x 9 1/4``. `each` for ``from each``: so many from each sheet."""

    cuts: tuple[CountedCut, ...]
    span: Span
    each: bool = False


class Also(msgspec.Struct, frozen=True):
    """``also 2 of 4 x 20 kelp "handles"``: what is cut besides, for the whole quilt or for each of a unit; `text` is
    the free text under it, which says what is made of it."""

    cut: CountedCut
    title: str
    span: Span
    text: Prose | None = None


class StripUnitsClaim(msgspec.Struct, frozen=True):
    """``strip units 3, 16 from each``: how many are sewn, and the segments cut from one."""

    count: Expr
    each: Expr | None
    span: Span


class CountClaim(msgspec.Struct, frozen=True):
    """``make 18``; ``make 7, 6 mirrored`` where some are mirror images"""

    value: Expr
    span: Span
    mirrored: Expr | None = None


class BuyClaim(msgspec.Struct, frozen=True):
    """``buy 1 1/4 yd`` of a fabric; ``buy 29 strips``, ``buy 2 packs``: `form` is fat-quarters, fat-eighths, squares,
    strips, pieces or packs, empty behind a length or a bare number. `each` for ``from each``: so much of each print."""

    value: Expr
    span: Span
    form: str = ""
    each: bool = False


class BuysClaim(msgspec.Struct, frozen=True):
    """``buy night 3 yd, glow 1 yd`` under a row of ``sizes``: each fabric with what is bought of it in that size."""

    bought: tuple[tuple[Ref, BuyClaim], ...]
    span: Span


class MethodStatement(msgspec.Struct, frozen=True):
    """``method eight at a time``, ``method oversize 1/4``: words joined by single spaces, and a length if one stands
    there."""

    words: str
    value: Expr | None
    span: Span


class PressStatement(msgspec.Struct, frozen=True):
    """``press toward night``, ``press away from glow``, ``press open``, ``press rows alternately``, ``press half of
    them the other way``; `how` is toward / away / open / out / in / left / right / up / down / plain / spun /
    rows-alternately / darker / versions; `name` the fabric or unit for toward and away."""

    how: str
    name: str
    name_span: Span | None
    span: Span


class Option(msgspec.Struct, frozen=True):
    """A line that only one kind of unit understands (``logs night, stone``, ``slice from 0 0 to 3 2 glow``): clauses
    are separated by commas, each a run of expressions, sizes, texts, pieces and bare words (as Ref)."""

    word: str
    word_span: Span
    clauses: tuple[tuple[Expr | SizePair | Text | PieceUse, ...], ...]
    span: Span


class SizePair(msgspec.Struct, frozen=True):
    """``3 x 4`` as an argument."""

    width: Expr
    height: Expr
    span: Span


class Text(msgspec.Struct, frozen=True):
    """A quoted text as an argument."""

    text: str
    span: Span


class Prose(msgspec.Struct, frozen=True):
    """A block of the writer's own words: intro, note, tip, caution, before, after, finishing. `text` has its common
    indentation taken off; `text_span` covers it in the file; `offsets` gives the file offset of each text line."""

    word: str
    text: str
    text_span: Span
    offsets: tuple[int, ...]
    span: Span


class QuiltHead(msgspec.Struct, frozen=True):
    """``quilt``"""

    span: Span


class Across(msgspec.Struct, frozen=True):
    """``across 5, down 7`` (either alone too)."""

    across: Expr | None
    down: Expr | None
    span: Span


class Tile(msgspec.Struct, frozen=True):
    """``tile`` (repeated over the quilt), ``layout`` (the quilt's rows once as written) or ``ring`` (medallion
    round)."""

    word: Literal["tile", "layout", "ring"]
    span: Span


class Finish(msgspec.Struct, frozen=True):
    """A finishing line of the quilt: setting, sashing, border, binding, backing, batting, sleeve.

    ``border 4 stone, mitred`` has value 4, use stone, words ("mitred",). ``sashing 1 stone, cornerstones glow`` has
    cornerstones, ``backing kelp, strip sail`` a strip. ``binding cut 2 1/4 night, bias`` has cut True. ``setting on
    point`` has words ("on point",).
    """

    word: str
    span: Span
    value: Expr | None = None
    cut: bool = False
    use: PieceUse | None = None
    cornerstones: PieceUse | None = None
    sides: PieceUse | None = None  # of a setting on point: what the triangles there are
    corners: PieceUse | None = None
    strip: PieceUse | None = None
    words: tuple[str, ...] = ()
    extra: Expr | None = None  # ``float 1``, ``overage 4``: the length behind the first such word
    # each such word with its length: ``wide 108, overage 4`` has two
    extras: tuple[tuple[str, Expr], ...] = ()
    places: tuple[Span, ...] = ()  # of each of the words
    size: SizePair | Expr | None = None  # ``measures 68 x 80``, ``cut 72 x 90``


class SizesHead(msgspec.Struct, frozen=True):
    """``sizes``"""

    span: Span


class SizeRow(msgspec.Struct, frozen=True):
    """``queen across 9, down 11, side 8``: name and settings."""

    name: str
    name_span: Span
    values: tuple[tuple[Ref, Expr], ...]
    span: Span
    title: str = ""


class ColourwayHead(msgspec.Struct, frozen=True):
    """``colourway name "Printed name"``"""

    name: str
    name_span: Span
    title: str
    span: Span


class Swap(msgspec.Struct, frozen=True):
    """``night = teal`` inside a colourway"""

    name: Ref
    other: Ref
    span: Span


class PartHead(msgspec.Struct, frozen=True):
    """``part "Week one" 2026-03-02``"""

    title: str
    date: str
    span: Span


class Makes(msgspec.Struct, frozen=True):
    """``makes wall, corner`` in a part; a count may stand before a name: ``makes 9 lantern, wall``"""

    names: tuple[tuple[Expr | None, Ref], ...]
    span: Span


class Bad(msgspec.Struct, frozen=True):
    """A line that could not be read; its problem has been reported. `word` is the word it starts with and `name` the
    name it gives, as far as they are known: a use of that name is no second mistake."""

    span: Span
    word: str = ""
    name: str = ""


Statement = Union[
    PatternHead,
    Setting,
    Include,
    Let,
    FabricHead,
    Sold,
    Repeat,
    BattingSold,
    UnitHead,
    KindStatement,
    SizeClaim,
    CutFromEdge,
    CutsClaim,
    StripUnitsClaim,
    Also,
    CountClaim,
    BuyClaim,
    BuysClaim,
    MethodStatement,
    PressStatement,
    Option,
    Prose,
    QuiltHead,
    Across,
    Tile,
    Finish,
    SizesHead,
    SizeRow,
    ColourwayHead,
    Swap,
    PartHead,
    Makes,
    PieceLine,
    SeamLine,
    Bad,
]


# -- the tree ---------------------------------------------------------------------------------------------
class Trivia(msgspec.Struct, frozen=True):
    """A blank line or a comment on a line of its own, kept for the formatter."""

    text: str
    span: Span


class Node(msgspec.Struct, frozen=True):
    """A statement with what is indented under it, in order, and the comment at the end of its line."""

    statement: Statement
    children: tuple[Node | Trivia, ...] = ()
    comment: str = ""


class File(msgspec.Struct, frozen=True):
    """A whole file: everything it says, in order, and the problems met on the way."""

    name: str
    text: str
    nodes: tuple[Node | Trivia, ...]
    problems: tuple[Problem, ...] = ()
