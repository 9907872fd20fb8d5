"""Strings: a square of odd strips that lie from corner to corner, sewn on plain paper as they come.

Nobody knows how wide scraps are. They are drawn and reckoned as strips of one width that they have on average (common
practice, no source); the middle one may be of a fabric and a width of its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, ClassVar

from patternkit.lengths import ONE, ZERO, Length, root
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import option, pieces, problems, width_on
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.making import Cloth, Making, Numbers, Outline, PieceCut, Point, Recipe, Seam
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.offset import box_size, raw_outline
from patternkit.piecing.shapes import called, merged, shown, square
from patternkit.piecing.templates import EXTRA, shaped, turned, up
from patternkit.problems import Problem
from patternkit.syntax.statements import Option
from patternkit.units import INCHES_IN

if TYPE_CHECKING:
    from patternkit.piecing.batch import Batch
    from patternkit.piecing.sewing.desk import Desk

ON_PAPER = Method("foundation", "strings", drawn="joins", formula="strings", on_paper=True, plain_paper=True)
AVERAGE, SPREAD = Length(Fraction(7, 4)), Length(Fraction(3, 4))
"""How wide strips of scraps are cut on average, and by how much they are narrower and wider, in inches (common
practice, no source)."""
METRIC = Length(INCHES_IN["cm"] * Fraction(9, 2)), Length(INCHES_IN["cm"] * 2)
"""The same in a metric pattern."""
MOST = 40
"""Strings between the middle and a corner."""
ALONG: Point = (ONE, -ONE)
"""The way that the strips run, from the lower left to the upper right."""


class StringWidths(Numbers, frozen=True):
    """How wide strips are cut on average, from which width to which, and how much longer than they need be."""

    average: Length
    low: Length
    high: Length
    extra: Length
    own: bool  # the middle string has a width of its own


class Strings(Kind):
    """``strings scraps``, or ``strings red 1, scraps``: the string in the middle first."""

    words: ClassVar[tuple[str, ...]] = ("strings",)
    written: ClassVar[str] = "strings scraps, or strings red 1, scraps: the string in the middle first"
    methods: ClassVar[tuple[Method, ...]] = (ON_PAPER,)
    options: ClassVar[dict[str, str]] = {"string": "string cut 1 3/4"}
    pieces: ClassVar[tuple[int, int]] = (1, 2)
    cloth_only: ClassVar[str] = "Strings are strips of cloth: write a fabric, or a group of them."

    def equations(self, unit: Unit, out: Equations) -> None:
        """It is square."""
        for problem in problems(self, unit, sizes=("finished", "cut")):
            out.problem(problem)
        o = option(unit, "string")
        if o is not None and (wrong := _misread(unit, o)) is not None:
            out.problem(wrong)
        square(unit, out, "is square, as its strings lie from corner to corner")

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The middle string, then strings to both corners by turns."""
        if not pieces(unit):
            raise Unsettled(unit.key)
        side, average = shop.width(unit), _average(unit, shop)
        first, usual = pieces(unit)[0], pieces(unit)[-1]
        shows = average - shop.seam * 2
        middle = shows
        if first.width is not None:
            middle = shop.value(first.width) - (shop.seam * 2 if first.cut else ZERO)
        rows = _rows(side, middle, shows)
        if rows is None or shows <= 0 or middle <= 0:
            _refuse(unit, shop, side)
        assert rows is not None
        outlines, seams = _divided(side, rows)
        fabrics = [shop.fabric(unit, first), *[shop.fabric(unit, usual)] * (len(outlines) - 1)]
        cloths = [
            Cloth(fabric, outline, ALONG, Name("piece", (n,)))
            for n, (fabric, outline) in enumerate(zip(fabrics, outlines, strict=True), 1)
        ]
        spread = _usual(shop)[1]
        low = max(average - spread, shop.seam * 2 + EXTRA)
        numbers = StringWidths(average, low, average + spread, EXTRA, first.width is not None)
        recipe = Recipe(ON_PAPER, merged(_cut(cloth, shop) for cloth in cloths), numbers=numbers)
        whole = ((ZERO, ZERO), (side, ZERO), (side, side), (ZERO, side))
        return shaped(unit, whole, cloths, seams, recipe)


# -- as written ---------------------------------------------------------------------------------------------
def _misread(unit: Unit, o: Option) -> Problem | None:
    if width_on(o) is not None:
        return None
    message = f"In {called(unit)}, behind string stands one width."
    return Problem("not-understood", message, o.span, causes=("It is written string cut 1 3/4, or string 1 1/4.",))


def _average(unit: Unit, shop: Shop) -> Length:
    """How wide strips are cut on average."""
    o = option(unit, "string")
    found = width_on(o) if o is not None else None
    if found is None:
        return _usual(shop)[0]
    expression, raw = found
    value = shop.length(unit, expression)
    if value is None:
        raise Unsettled(unit.key)
    return value if raw else value + shop.seam * 2


def _usual(shop: Shop) -> tuple[Length, Length]:
    """How wide strips are on average, and how far they are from that, in a pattern's units."""
    return (AVERAGE, SPREAD) if not shop.units.decimals else METRIC


def _refuse(unit: Unit, shop: Shop, side: Length) -> None:
    shop.problem(
        Problem(
            "does-not-add-up",
            f"In {called(unit)}, {shown(side, shop)} wide, such strings leave no room for one in each corner.",
            unit.kind_span,
            causes=("From the middle string to a corner at least one string has to show.",),
        )
    )
    raise Unsettled(unit.key)


# -- as drawn -----------------------------------------------------------------------------------------------
def _rows(side: Length, middle: Length, shows: Length) -> list[Length] | None:
    """How far from a corner, along an edge, the lines between the strings begin, the nearest to the middle first; 0 for
    the corner itself. None where the middle string leaves too little."""
    diagonal = root(2)
    first = side - diagonal * middle / 2
    if first <= 0 or shows <= 0 or middle <= 0:
        return None
    many = 1
    while diagonal * shows * (many + 1) <= first:
        many += 1
        if many > MOST:
            return None
    return [first * (many - n) / many for n in range(many + 1)]


def _divided(side: Length, rows: Sequence[Length]) -> tuple[list[Outline], list[Seam]]:
    """The outlines in sewing order, the seams with which they are sewn on; everything is pressed toward what is
    added."""

    def over(ring: Outline) -> Outline:
        return tuple((side - x, side - y) for x, y in ring)

    first = rows[0]
    low = side - first
    outlines: list[Outline] = [((first, ZERO), (side, ZERO), (side, low), (low, side), (ZERO, side), (ZERO, first))]
    seams: list[Seam] = []
    for near, far in pairwise(rows):
        ring: Outline = ((far, ZERO), (near, ZERO), (ZERO, near), *(((ZERO, far),) if far else ()))
        for outline, line in ((ring, ((near, ZERO), (ZERO, near))), (over(ring), over(((near, ZERO), (ZERO, near))))):
            done = tuple(range(len(outlines)))
            seams.append(Seam(line[0], line[1], done, (len(outlines),), "right"))
            outlines.append(outline)
    return outlines, seams


def _cut(cloth: Cloth, shop: Shop) -> PieceCut:
    """A strip that covers a string, longer at both ends."""
    long, wide = box_size(turned(raw_outline(cloth.outline, shop.seam), ALONG))
    w, h = long + EXTRA * 2, wide
    return PieceCut(cloth.fabric, up(w, shop.grid), up(h, shop.grid), w, h, 1, "", cloth.name)


# -- as sewn ------------------------------------------------------------------------------------------------
def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """String by string on a square of paper."""
    from patternkit.piecing.sewing.paper import on_paper

    return on_paper(making, desk)
