"""The pattern as it is meant: names resolved, parameters applied, arithmetic done; sizes not yet solved.

Values typed by the writer are `Affine`: exact numbers linear in the pattern's parameters (its ``let`` names), in
inches.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import TYPE_CHECKING

import msgspec

from patternkit.lengths import Length
from patternkit.model.cut_lines import AlsoCut, ClaimedCuts, ClaimedStripUnits, CutsFrom
from patternkit.sizes.affine import Affine
from patternkit.source import NOWHERE, Span
from patternkit.syntax.statements import BuysClaim, Mark, MethodStatement, Option, PressStatement, Prose
from patternkit.units import IMPERIAL, Units

if TYPE_CHECKING:
    from patternkit.model.on_ground import OnGround


class Stock(msgspec.Struct, frozen=True):
    """A form in which a fabric is sold other than by length: `form` fat-quarters / fat-eighths / squares / strips /
    pieces, usable size of one, how many to a pack, and how many the maker has already."""

    form: str
    width: Length
    height: Length
    pack: int = 1
    have: int = 0
    span: Span = NOWHERE


class Scrap(msgspec.Struct, frozen=True):
    """`count` pieces of a fabric that the maker has, each of this usable size, `width` across the cloth."""

    count: int
    width: Length
    height: Length
    span: Span = NOWHERE


class Group(msgspec.Struct, frozen=True):
    """Several prints by one name: how many (`count`; None for a bag of any number), the group that they are a part
    `of`, and how many of its prints come `before` theirs."""

    count: int | None
    of: str = ""
    before: int = 0

    @property
    def numbers(self) -> range:
        """The numbers of its prints among those of the whole; none of a bag."""
        return range(self.before + 1, self.before + 1 + (self.count or 0))


class Print(msgspec.Struct, frozen=True):
    """One print of a `group`: the one of this `number`, or that which a copy of a unit gets; those that one unit is
    given are told apart by the `role`, from 1."""

    group: str
    number: int = 0
    role: int = 0


class Fabric(msgspec.Struct, frozen=True):
    """A fabric by the writer's name: printed title, value light/medium/dark, colour, usable width, how it is sold.

    With a `stock` it comes in sheets; `by_length` says that what the sheets at hand do not give is bought by length.
    `scraps` are pieces of any size that are at hand; they are cut up before anything is bought. `buy` is the length
    that the writer tells people to buy, `buy_packs` the number of packs (of sheets, where one makes a pack), `buy_bare`
    where it is a number and nothing else, `buy_sheets` the number of sheets where that is said. `spare` (in inches) and
    `shrinkage` (in percent) are what is bought beyond the cuts, `squaring` what is kept free of the width of each strip
    that is cut across; all three are the pattern's where nothing is said under the fabric. `cuts` are claims of all
    that is cut of it. `repeat` is how far the motifs of the print lie apart, across and along the cloth.

    A `group` stands for any of its prints, piece by piece; what stands for one `print` of a group is a fabric too. Both
    may be `cut_from` the cloth of another. With `buy_each` so much is bought of each print.
    """

    key: str
    title: str
    value: str
    colour: str
    directional: bool
    usable_width: Length
    lot: Fraction  # the step in which it is sold, in inches (1/8 yd = 4 1/2)
    span: Span
    stock: Stock | None = None
    by_length: bool = False
    buy: Affine | None = None
    buy_span: Span | None = None
    buy_packs: int | None = None
    spare: Length = Length(0)
    shrinkage: Fraction = Fraction(0)
    buy_sheets: int | None = None
    buy_bare: bool = False
    scraps: tuple[Scrap, ...] = ()
    squaring: Length = Length(0)
    cuts: tuple[ClaimedCuts, ...] = ()
    by_size: bool = False  # what is bought is said under the row of this size
    repeat: tuple[Length, Length] | None = None
    repeat_span: Span | None = None
    group: Group | None = None
    print: Print | None = None
    cut_from: str = ""
    buy_each: bool = False

    @property
    def cloth(self) -> str:
        """The key of the fabric that is bought for it: its own, or that of the group which it is of."""
        return self.cut_from or self.key

    @property
    def called(self) -> str:
        """The key of the fabric that it is called by: its own, or of any one print of a group that group's."""
        return self.print.group if self.print is not None and self.print.role else self.key

    def is_of(self, key: str) -> bool:
        """Whether it is a fabric, or of the group, of this key."""
        return key in (self.key, self.cloth) or (self.print is not None and self.print.group == key)

    @property
    def in_sheets(self) -> bool:
        """Whether any of it comes in sheets, bought or at hand."""
        return self.stock is not None or any(x.count for x in self.scraps)


class Packet(msgspec.Struct, frozen=True):
    """A size in which batting is sold; `name` is what it is called, if anything."""

    name: str
    width: Length
    height: Length


class Settings(msgspec.Struct, frozen=True):
    """What holds for the whole pattern. Lengths in inches; `lot` is the step in which cloth is sold; `spare` is added
    to each fabric's length before rounding; `squaring` is kept free of the usable width of each strip that is cut
    across, and of each strip unit, for squaring up its end; `shrinkage` is in percent; `layers` the bulk limit at a
    joint; `thread` how far a seam may drift (for the accuracy pages); `packets` the sizes in which batting is sold,
    none where they are not known."""

    title: str = "Untitled pattern"
    by: str = ""
    copyright: str = ""
    contact: str = ""
    corrections: str = ""
    number: str = ""
    edition: str = ""
    skill: str = ""
    tools: tuple[str, ...] = ()
    language: str = "en"
    units: Units = IMPERIAL
    seam: Length = Length(Fraction(1, 4))
    usable_width: Length = Length(40)
    squaring: Length = Length(Fraction(1, 2))
    ruler: Fraction = Fraction(1, 8)
    lot: Fraction = Fraction(9, 2)
    spare: Length = Length(1)
    shrinkage: Fraction = Fraction(0)
    layers: int = 12
    thread: Length = Length(Fraction(1, 64))
    trimming: bool = False  # half-squares and geese are cut larger than they need be, and trimmed
    simple: bool = False  # each size in strips of its own
    packets: tuple[Packet, ...] = ()
    press: tuple[PressStatement, ...] = ()
    prose: tuple[Prose, ...] = ()
    span: Span = NOWHERE
    seam_span: Span = NOWHERE  # where the seam allowance is stated


class PieceLay(msgspec.Struct, frozen=True):
    """How a piece is cut from a strip unit: which point the upper left corner of that comes to lie on, measured from
    the upper left corner of the unit that the piece is in; that of the piece itself where nothing is said."""

    at: tuple[Affine, Affine] | None = None


class Component(msgspec.Struct, frozen=True):
    """One piece in a row: a unit (by key) or a plain patch of a fabric, how it lies, and a size stated in place.

    `slot` is unique in its unit: the name of the unknown size of a plain patch. `cut` marks a raw size. `numbers` are
    the places of the two sizes where they stand as plain numbers, which a repair may rewrite. A piece that is `laid` is
    cut from its unit, a strip unit, and has a size of its own, as a patch has.
    """

    slot: str
    name: str
    span: Span
    unit: str = ""
    fabric: str = ""
    turned: int = 0
    mirrored: bool = False
    width: Affine | None = None
    height: Affine | None = None
    cut: bool = False
    numbers: tuple[Span | None, Span | None] = (None, None)
    laid: PieceLay | None = None
    on: OnGround | None = None  # how it is laid on its unit

    @property
    def is_sewn(self) -> bool:
        """Whether it is a unit that is sewn in whole, and not cut from a strip unit."""
        return bool(self.unit) and self.laid is None


class Row(msgspec.Struct, frozen=True):
    """Pieces side by side, with the mark of the seam between each two (len(pieces) - 1 marks)."""

    pieces: tuple[Component, ...]
    marks: tuple[Mark, ...]
    span: Span


class Claim(msgspec.Struct, frozen=True):
    """A size the writer states: `word` finished / measures / cut; both sides equal when she gave one. `numbers` as in
    Component. With a `side` (w or h) it speaks of that side alone, and `width` is its length."""

    word: str
    width: Affine
    height: Affine | None
    span: Span
    numbers: tuple[Span | None, Span | None] = (None, None)
    side: str = ""


class Unit(msgspec.Struct, frozen=True):
    """A unit or block with its parameters applied.

    `key` is unique: the name, and the `arguments` (as they are shown) if there are any. `rows` holds the pieces: one
    row for most kinds, the grid for ``rows``. `row_marks` are the marks between rows. `values` are the names that its
    options may use. `fabrics` maps the names that stand for fabrics (its parameters included) to fabric keys. `named`
    holds the pieces that its options name (a fabric or a unit, as it lies there) by their place in the text. `broken`
    is True when what it is made of could not be read (a problem says why): its stated sizes hold, nothing else is known
    of it. `unsized` is True when a size stated of it could not be read. `laid_on` is what is laid on it, in that order.
    """

    key: str
    name: str
    title: str
    role: str
    kind: str
    kind_span: Span
    span: Span
    rows: tuple[Row, ...] = ()
    row_marks: tuple[Mark | None, ...] = ()
    claims: tuple[Claim, ...] = ()
    options: tuple[Option, ...] = ()
    method: MethodStatement | None = None
    method_value: Affine | None = None
    other_methods: tuple[MethodStatement, ...] = ()  # offered beside it
    optional: Span | None = None  # where it is said that it is made besides the quilt, if one wishes
    press: tuple[PressStatement, ...] = ()
    prose: tuple[Prose, ...] = ()
    make: int | None = None
    make_span: Span | None = None
    make_mirrored: int | None = None  # of them in mirror image, where that is said beside the others
    values: Mapping[str, Affine] = {}
    fabrics: Mapping[str, str] = {}
    named: Mapping[Span, Component] = {}
    broken: bool = False
    unsized: bool = False
    arguments: tuple[str, ...] = ()
    cuts: tuple[ClaimedCuts, ...] = ()  # for one of it
    strip_units: ClaimedStripUnits | None = None
    also: tuple[AlsoCut, ...] = ()  # for each of it
    trimmed: bool = False  # cut larger and trimmed where its kind is, as the pattern says
    lines: tuple[CutsFrom, ...] = ()  # by which what it is made of is cut apart
    piece: int = 0  # which of the pieces of that it is, numbered as one reads
    shifted: int = 0  # by how many strips its segments are moved on
    shifted_from: str = ""  # the key of the unit whose strips these are, in the order in which they are named
    quilt: Quilt | None = None  # how it is set together, of a unit that is made like a quilt
    middle_of: str = ""  # the key of the unit with borders of which it is the middle
    laid_on: tuple[Component, ...] = ()
    drawing: tuple[tuple[float, float], ...] = ()  # the outline of a file, its box from (0, 0) to 1 across

    @property
    def components(self) -> list[Component]:
        """Everything that its lines name as a piece."""
        pieces = [p for row in self.rows for p in row.pieces]
        return [*pieces, *self.named.values(), *self.laid_on]

    @property
    def cloths(self) -> set[str]:
        """The keys of all fabrics that its lines name: in its pieces, in what is cut for it, in what is cut besides, in
        the triangles round its blocks."""
        found = {piece.fabric for piece in self.components}
        found |= {cut.fabric for line in self.cuts for cut in line.cuts}
        found |= {also.cut.fabric for also in self.also}
        if self.quilt is not None and self.quilt.setting is not None:
            found.add(self.quilt.setting.fabric)
        return found - {""}

    @property
    def whole(self) -> str:
        """Its key, without the number of the piece that it is."""
        if not self.piece:
            return self.key
        given = ", ".join(self.arguments[:-1])
        return f"{self.name}({given})" if given else self.name


class Framing(msgspec.Struct, frozen=True):
    """Sashing or a border of the quilt: finished width, what it is made of, corners. `word` is sashing, border or ring,
    `nth` the number of a border or ring from the inside outward. `sequence` is what a pieced border repeats along each
    side, its top to the outside."""

    word: str
    span: Span
    width: Affine | None = None
    cut: bool = False
    number: Span | None = None
    piece: Component | None = None
    corner: Component | None = None
    words: tuple[str, ...] = ()
    sequence: tuple[Component, ...] = ()
    nth: int = 0
    marks: tuple[Mark, ...] = ()  # of the seams between the pieces of a ring's sequence
    extras: Mapping[str, Affine] = {}  # what is claimed of its strips and lengths; what mitred ones have extra
    numbers: Mapping[str, Span] = {}  # where a phrase has a plain number behind it, for repairs
    of: str = ""  # the key of the unit that has it; of the quilt's own none

    @property
    def called(self) -> str:
        """What messages call it: ``sashing``, ``border 2``."""
        return f"{self.word} {self.nth}" if self.nth else self.word


class Finishing(msgspec.Struct, frozen=True):
    """Binding, backing, batting, sleeve, facing, flange or prairie points: the number behind the word (`width`),
    fabric, words, lengths behind words, the fabric of a `strip` that a backing is pieced with, and the size that is
    claimed of a backing or a batting."""

    word: str
    span: Span
    width: Affine | None = None
    cut: bool = False
    fabric: str = ""
    words: tuple[str, ...] = ()
    extras: Mapping[str, Affine] = {}
    strip: str = ""
    size: tuple[Affine, Affine] | None = None
    numbers: Mapping[str, Span] = {}  # where a phrase has plain numbers behind it, for repairs
    sides: Component | None = None  # of a setting on point: what its side and its corner triangles are
    corners: Component | None = None
    after: int = 0  # how many borders its line stands behind


class Quilt(msgspec.Struct, frozen=True):
    """How the top is put together and finished. `tile` repeats over across x down blocks; `layout` is laid once.
    `broken` is True when a line that bears on its size could not be read (a problem says why). A unit that is made like
    a quilt has one, too: `of` is the key of that unit."""

    span: Span
    across: int | None = None
    down: int | None = None
    rows: tuple[Row, ...] = ()
    row_marks: tuple[Mark | None, ...] = ()
    layout: bool = False
    setting: Finishing | None = None
    sashing: Framing | None = None
    borders: tuple[Framing, ...] = ()
    finishing: tuple[Finishing, ...] = ()
    claims: tuple[Claim, ...] = ()
    press: tuple[PressStatement, ...] = ()
    prose: tuple[Prose, ...] = ()
    also: tuple[AlsoCut, ...] = ()
    broken: bool = False
    of: str = ""
    called: str = "the quilt"  # by messages

    @property
    def pieces(self) -> tuple[Component, ...]:
        """Every piece that its lines name: blocks, what the triangles round them are, sashing, cornerstones,
        borders."""
        found = [piece for row in self.rows for piece in row.pieces]
        if self.setting is not None:
            found += [piece for piece in (self.setting.sides, self.setting.corners) if piece is not None]
        for edge in (*self.borders, *((self.sashing,) if self.sashing is not None else ())):
            found += [piece for piece in (*(edge.sequence or (edge.piece,)), edge.corner) if piece is not None]
        return tuple(found)

    @property
    def frames(self) -> tuple[Framing, ...]:
        """Its sashing, if it has any, and its borders."""
        return (*((self.sashing,) if self.sashing is not None else ()), *self.borders)

    @property
    def on_point(self) -> bool:
        """Whether blocks stand on point, in diagonal rows or in a zigzag."""
        return self.setting is not None and any(w in ("on point", "zigzag") for w in self.setting.words)


class SizeOption(msgspec.Struct, frozen=True):
    """A row of the sizes table: a name and the values it sets (by name; across and down among them)."""

    name: str
    title: str
    values: Mapping[str, Length]
    span: Span
    numbers: Mapping[str, Span] = {}  # where each value stands as a plain number, for repairs
    buys: tuple[BuysClaim, ...] = ()  # what is bought for it, by the lines under it


class Colourway(msgspec.Struct, frozen=True):
    """Another assignment of fabrics: from a fabric key to the fabric key used in its place."""

    name: str
    title: str
    swaps: Mapping[str, str]
    span: Span
    prose: tuple[Prose, ...] = ()


class Release(msgspec.Struct, frozen=True):
    """A dated part that makes some of the units; a count or None for all of them."""

    title: str
    date: str
    makes: tuple[tuple[int | None, str, Span], ...]
    prose: tuple[Prose, ...]
    span: Span


class Pattern(msgspec.Struct, frozen=True):
    """Everything a file says, for one row of its sizes table and one colourway.

    `parameters` are the ``let`` names with a plain value, in inches, at which this pattern is to be laid out. `broken`
    holds names whose own line could not be read, `idle` the units with parameters that nothing uses, with their place.
    """

    settings: Settings
    fabrics: Mapping[str, Fabric]
    units: Mapping[str, Unit]
    quilt: Quilt | None
    parameters: Mapping[str, Length]
    sizes: tuple[SizeOption, ...] = ()
    colourways: tuple[Colourway, ...] = ()
    parts: tuple[Release, ...] = ()
    size: str = ""
    colourway: str = ""
    spans: Mapping[str, Span] = {}  # where each parameter is given
    as_written: bool = True  # False in another size, or with values set from outside
    broken: frozenset[str] = frozenset()
    idle: Mapping[str, Span] = {}
    unread: Mapping[Span, tuple[str, str]] = {}  # names in brackets that their unit never uses: unit and name
    lets: Mapping[str, Span] = {}  # where each name with a value is given
    numbers: Mapping[str, Span] = {}  # where a parameter's number stands: in its `let`, or in the row of this size

    @property
    def quilts(self) -> list[Quilt]:
        """The quilt, and how the units are set together that are made like one."""
        found = (self.quilt, *(unit.quilt for unit in self.units.values()))
        return [quilt for quilt in found if quilt is not None]
