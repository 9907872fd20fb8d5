"""The one geometry that pressing, cutting, drawing and words all read: how one of each unit is made.

Coordinates are finished lengths in inches, x to the right, y down, as the block is drawn; outlines run clockwise as
seen. A `Making` is one kind of sewn unit at one size: it is made of parts (cloth or other makings) by seams in sewing
order. Copies of a unit share one making; a mirrored unit that no turn brings back is another making.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from math import radians, tan
from typing import Any, Literal, Union, overload

import msgspec

from patternkit.lengths import ONE, SQRT2, SQRT3, ZERO, Length
from patternkit.piecing.keys import AnyKey, OwnKey, Thing
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name, border_of, english
from patternkit.source import Span

Point = tuple[Length, Length]
Outline = tuple[Point, ...]

_HALF = Length(Fraction(1, 2))
_COS = {0: ONE, 30: SQRT3 / 2, 45: SQRT2 / 2, 60: _HALF, 90: ZERO}


def cosine(degrees: int) -> Length:
    """The exact cosine of a multiple of 30 or 45 degrees. Of another angle a fraction within 10**-8 of it, which with
    that of its sine lies exactly on the circle: what is turned so keeps its shape."""
    d = degrees % 360
    d = 360 - d if d > 180 else d
    if d > 90:
        return -cosine(180 - d)
    return _COS[d] if d in _COS else _near_cosine(d)


@lru_cache(maxsize=90)
def _near_cosine(degrees: int) -> Length:
    """Of an angle below a right one, by the tangent of half of it; of more than 45 degrees the sine of the rest."""
    half = Fraction(tan(radians(min(degrees, 90 - degrees) / 2))).limit_denominator(10_000)
    square = half * half
    return Length((1 - square if degrees < 45 else 2 * half) / (1 + square))


def sine(degrees: int) -> Length:
    """The sine, as `cosine` has the cosine."""
    return cosine(degrees - 90)


LAYERED = "applique"
"""The kind of a unit with shapes laid on it."""


class Place(msgspec.Struct, frozen=True):
    """Where a part lies: mirrored left to right about x = 0 first, then turned clockwise about the origin, then
    moved."""

    dx: Length = ZERO
    dy: Length = ZERO
    turned: int = 0
    mirrored: bool = False

    def point(self, p: Point) -> Point:
        """A point of the part, in the coordinates of the whole."""
        x, y = (-p[0] if self.mirrored else p[0]), p[1]
        t = self.turned
        if t == 90:
            x, y = -y, x
        elif t == 180:
            x, y = -x, -y
        elif t == 270:
            x, y = y, -x
        elif t:
            c, s = cosine(t), sine(t)
            x, y = x * c - y * s, x * s + y * c
        return x + self.dx, y + self.dy

    def outline(self, points: Outline) -> Outline:
        """An outline of the part, in the coordinates of the whole, still clockwise."""
        moved = tuple(self.point(p) for p in points)
        return moved[::-1] if self.mirrored else moved

    def then(self, outer: Place) -> Place:
        """This placement inside a part that itself is placed by `outer`."""
        turned = (outer.turned + (-self.turned if outer.mirrored else self.turned)) % 360
        dx, dy = outer.point((self.dx, self.dy))
        return Place(dx, dy, turned, self.mirrored != outer.mirrored)


class Cloth(msgspec.Struct, frozen=True):
    """One piece of fabric as it shows: finished outline, and the direction of its straight grain.

    `grain` is a vector along the lengthwise or crosswise grain; ZERO vector when nothing is said. `name` tells the
    piece apart (goose, sky, the third log); None for a plain patch. `template` is True when it is cut by template.
    """

    fabric: str
    outline: Outline
    grain: Point = (ONE, ZERO)
    name: Name | None = None
    template: bool = False


Side = Literal["left", "right", "open", "free"]


class Seam(msgspec.Struct, frozen=True):
    """A line of stitching between the finished points `start` and `end`.

    `left` and `right` are the indices of the parts that lie on either side when walking from start to end with y down
    (left of direction (1, 0) is the smaller y). Everything on one side is already sewn together when this seam is sewn:
    seams stand in sewing order. `pressed` is where the allowance lies, "free" when the writer left it to the planner;
    `stated` is the place of the words or mark that pressed it; `open_seam`-like details live in the pressing room.
    `mark` is the place of the seam mark in the text, if one stands for it (the planner may write there). `path` has
    more points than two only for a curve or a set-in seam (start and end included). `spun` is the crossing at which the
    allowance changes sides, its few stitches undone: `pressed` holds from there to the end, the other side before it;
    None for every seam that lies one way.
    """

    start: Point
    end: Point
    left: tuple[int, ...]
    right: tuple[int, ...]
    pressed: Side = "free"
    stated: Span | None = None
    mark: Span | None = None
    set_in: bool = False
    path: Outline = ()
    spun: Point | None = None


class PieceCut(msgspec.Struct, frozen=True):
    """Pieces to cut for one batch of a recipe: `count` rectangles of `fabric`, exact raw size, grid size, and what
    next.

    `then`: "" used as cut; "half" cut once corner to corner (2 triangles each); "quarter" cut twice (4 each); "strip" a
    whole strip across the usable width, `height` high (width ignored); "template" cut by the raw outline `shape` (width
    and height are its bounding box); "bias" a bias strip. `pieces` is how many pieces of the finished unit one cut
    gives (1, 2 or 4). `name` as in Cloth. `exact` sizes come from geometry; `width`/`height` are rounded up.
    """

    fabric: str
    width: Length
    height: Length
    exact_width: Length
    exact_height: Length
    count: int
    then: Literal["", "half", "quarter", "strip", "template", "bias"] = ""
    name: Name | None = None
    shape: Outline = ()
    fixed_grain: bool = False
    stated: Span | None = None  # a `cut` claim that fixed this size
    along: bool = False  # cut along the length of the cloth, in one piece however long
    pitch: Length | None = None
    leans: Literal["", "left", "right"] = ""  # the diagonal of a halved rectangle: right from lower left to upper right
    sewn: Outline = ()  # the seam line of a template: the finished outline in the coordinates of `shape`
    fussy: bool = False  # each round a motif of its own


class Numbers(msgspec.Struct, frozen=True):
    """Lengths of a recipe that neither its cuts nor the unit's outline show: what a maker meets on the way.

    Those of a kind stand beside it, and the words of its methods may ask for them by name.
    """

    @property
    def cut_outline(self) -> Outline:
        """The raw outline of a unit that is cut by a template, in the unit's coordinates; nothing for others."""
        return ()

    @property
    def from_strip_unit(self) -> bool:
        """Whether the unit is a shape cut from a strip unit by a template."""
        return False

    @property
    def segment_width(self) -> Length | None:
        """How wide segments are cut, square to their cuts, where these are slanted; None for others."""
        return None

    @property
    def cut_from(self) -> tuple[str, ...]:
        """The writer's name of that strip unit; nothing for others."""
        return ()

    def mirrored(self, width: Length) -> Numbers:
        """The same of the mirror image of a unit so wide."""
        return self


class Apart(msgspec.Struct, frozen=True):
    """A piece of a sewn unit that is cut apart: the `whole` as it lies (its upper left corner at (0, 0)), how far from
    its raw left edge it is cut from top to bottom (`columns`), how far from its raw upper edge from side to side
    (`rows`), the `number` of the piece as one reads, from 1, and the `seam` by which it is sewn later. Where the width,
    or the height, is only halved it is cut through the `middles`, without measuring. `seams` are for each seam of the
    piece the unit inside whose seam it is, its number there, and whether its allowances lie to the other side; `at` is
    where the finished upper left corner of the piece lies on the whole."""

    whole: Placed
    columns: tuple[Length, ...]
    rows: tuple[Length, ...]
    number: int
    seam: Length
    middles: tuple[bool, bool] = (False, False)
    seams: tuple[tuple[Making, int, bool], ...] = ()
    at: Point = (ZERO, ZERO)


class Waste(msgspec.Struct, frozen=True):
    """Whose waste a unit is: the key of the unit whose corners are flipped, and how many come of each."""

    key: AnyKey
    each: int


class Recipe(msgspec.Struct, frozen=True):
    """How a making is cut and sewn by its method: one batch of cuts gives `yields` units.

    With them come `mirrored` units that are its mirror images. `trim_to` is the raw size to trim to where the batch
    comes out larger (`sewn` is what it measures before). `segment` is the width cut from a strip unit, `strip_unit` its
    raw height; yields then depends on the usable width and is worked out in the plan. Shapes cut by template from one
    begin each a `pitch` further along it, and the first takes a `segment`. `tied` are seams of the unit that are one
    seam before it is cut apart, or are sewn now as the one and now as the other: by their numbers, and whether one is
    pressed to its left when the other is pressed to its right. What is `apart` is a piece of another unit that is cut
    apart: one batch gives one of each of its pieces. What is sewn of the `waste` of another unit comes out of the
    batches of that.
    """

    method: Method = Method()
    cuts: tuple[PieceCut, ...] = ()
    yields: int = 1
    mirrored: int = 0
    sewn: tuple[Length, Length] | None = None
    trim_to: tuple[Length, Length] | None = None
    segment: Length | None = None
    strip_unit: Length | None = None
    pitch: Length | None = None
    numbers: Numbers = Numbers()
    tied: tuple[tuple[int, int, bool], ...] = ()
    apart: Apart | None = None
    waste: Waste | None = None

    @property
    def segment_width(self) -> Length | None:
        """How wide the segments of a strip unit are cut: as much of its length as each takes, unless they slant."""
        return self.numbers.segment_width or self.segment

    @property
    def one_by_one(self) -> bool:
        """Whether units are sewn one at a time from pieces that are cut corner to corner: then only so many squares are
        cut as give the pieces needed, be that no whole batch."""
        return self.segment is None and any(cut.then in ("half", "quarter") for cut in self.cuts)


class Placed(msgspec.Struct, frozen=True):
    """A part in its place. What of it is `shown`, in the coordinates of the whole, where others are flipped over its
    corners; all of it where nothing is said."""

    what: Part
    place: Place = Place()
    shown: Outline = ()

    @property
    def outline(self) -> Outline:
        """Where it shows, in the coordinates of the whole."""
        return self.shown or self.place.outline(self.what.outline)


class Making(msgspec.Struct, frozen=True, eq=False):
    """One kind of sewn unit at one size. Compared by identity: the workshop hands out one object for each.

    `key` and `version` are unique in the quilt (a version is 1 more for a unit, or a row, that is pressed another way,
    2 more where its seams are the mirror image of those of a unit that looks the same); `unit` is the writer's name,
    `title` what she has printed for it (nothing for the quilt's own parts); `role` "unit", "block", "row", "centre",
    "top"... ; `width`, `height` its finished bounding box with the top left at (0, 0).
    """

    key: AnyKey
    unit: str
    role: str
    kind: str
    outline: Outline
    width: Length
    height: Length
    parts: tuple[Placed, ...]
    seams: tuple[Seam, ...]
    recipe: Recipe
    title: str = ""
    versions: int = 1  # more than one when the writer accepts versions pressed differently
    version: int = 0

    @property
    def thing(self) -> Thing:
        """What it is to whoever sews: its key and version."""
        return Thing(self.key, self.version)

    @property
    def is_its_part(self) -> bool:
        """Whether it is one part and nothing else: nothing is sewn, nor cut from anything sewn."""
        return len(self.parts) == 1 and not self.seams and self.recipe.apart is None

    @property
    def is_layered(self) -> bool:
        """Whether its parts lie over each other, later ones on top, joined by no seam: shapes laid on a ground."""
        return self.kind == LAYERED

    @property
    def is_sewn(self) -> bool:
        """Whether something is done to make it: sewn, laid on, or cut from what is sewn."""
        return bool(self.seams) or self.is_layered or self.recipe.apart is not None

    @property
    def called(self) -> str:
        """What messages call it, in English: ``Star, mirrored``, ``rows 1 and 3``, ``border 2 sides``."""
        if isinstance(self.key, OwnKey):
            return english(border_of(self.key.name))
        piece = f", {english(self.key.piece)}" if self.key.piece is not None else ""
        if self.recipe.apart is not None:
            piece = f", piece {self.key.arguments[-1]}"
        if self.key.shifted:
            piece = f" shifted {self.key.shifted}"
        return f"{self.title or self.unit or str(self.key)}{piece}{', mirrored' if self.key.mirrored else ''}"

    @property
    def spelled(self) -> str:
        """Key and version as one text, for machines and for an order that is always the same."""
        return str(self.thing)


Part = Union[Cloth, Making]


def made_from(making: Making) -> list[Making]:
    """The sewn things that a making is made from, in the order of its parts: a thing as often as it is taken; of a
    piece the unit that it is cut from."""
    if making.recipe.apart is not None:
        whole = making.recipe.apart.whole.what
        return [whole] if isinstance(whole, Making) else []
    return [p.what for p in making.parts if isinstance(p.what, Making)]


def rectangle(width: Length, height: Length, x: Length = ZERO, y: Length = ZERO) -> Outline:
    """A rectangle's outline, clockwise from its top left corner."""
    return (x, y), (x + width, y), (x + width, y + height), (x, y + height)


@overload
def reversed_ring(outline: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]: ...
@overload
def reversed_ring(outline: Sequence[tuple[Length, Length]]) -> tuple[tuple[Length, Length], ...]: ...
def reversed_ring(outline: Any) -> Any:
    """The outline of a template that is turned over left to right: clockwise again, and still from its first corner."""
    return tuple((-x, y) for x, y in (*outline[:1], *reversed(outline[1:])))
