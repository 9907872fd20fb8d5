"""Pieces of a `slices` unit that are cut from a strip unit, laid so that the stripes run where the writer wants
them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.division import band
from patternkit.piecing.kinds.base import Shop, Unsettled
from patternkit.piecing.kinds.slices_lines import StripLay
from patternkit.piecing.kinds.slices_points import Places, Unread
from patternkit.piecing.kinds.strips import strip_cuts
from patternkit.piecing.making import Cloth, Making, Numbers, Outline, Place, Placed, Point, Recipe, Seam, Side
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name, english
from patternkit.piecing.offset import (
    bounding_box,
    box_size,
    is_convex,
    minus,
    moved,
    plus,
    times,
    trimmed_outline,
)
from patternkit.piecing.shapes import called, shown
from patternkit.piecing.templates import shaped, up
from patternkit.piecing.turns import pitch, quarter_turned
from patternkit.problems import Problem

if TYPE_CHECKING:
    from patternkit.piecing.tips import Trims

KIND = "strip-piece"
"""The kind of a making that is a shape cut by template from a strip unit."""
FROM_STRIPS = Method("cut from a strip unit", KIND)


class StripTemplate(Numbers, frozen=True):
    """The raw outline of the piece, its tips trimmed, as it lies on the strip unit; its box, and how far from the
    unit's raw left edge that begins. The strips of the unit, from left to right, by fabric and finished width, and the
    number of the first that shows; the name of the unit."""

    raw: Outline
    width: Length
    height: Length
    from_edge: Length
    strips: tuple[tuple[str, Length], ...] = ()
    first: int = 0
    unit: str = ""

    @property
    def cut_outline(self) -> Outline:
        """The template."""
        return self.raw

    @property
    def from_strip_unit(self) -> bool:
        """True: it is."""
        return True

    @property
    def cut_from(self) -> tuple[str, ...]:
        """The strip unit."""
        return (self.unit,)

    def mirrored(self, width: Length) -> StripTemplate:
        """The outline is mirrored with the piece."""
        return msgspec.structs.replace(self, raw=tuple((width - x, y) for x, y in reversed(self.raw)))


def strip_piece(
    unit: Unit,
    shop: Shop,
    leaf: Outline,
    piece: Component,
    at: Point,
    strips: Making,
    place: Place,
    name: Name,
    trims: Trims,
) -> Placed:
    """A piece cut from a strip unit, in its place, its tips trimmed.

    `place` turns the strip unit as the writer says, its box's top left corner at (0, 0), which is moved to `at`. The
    strips run on beyond the unit's ends, not beyond its sides.
    """
    put = msgspec.structs.replace(place, dx=place.dx + at[0], dy=place.dy + at[1])
    shape = _unplaced(put, leaf)
    low, high = bounding_box(shape)
    stripes = _stripes(strips, shop.seam)
    width = stripes[-1].right
    _must_cover(unit, shop, piece, width, low, high)
    if not is_convex(shape):
        shop.problem(
            Problem(
                "cannot-sew",
                f"In {called(unit)}, {english(name)} has a corner that points inward, and can't be cut from a strip "
                "unit.",
                piece.span,
            )
        )
        raise Unsettled(unit.key)
    home = times(low, -1)
    parts: list[Cloth] = []
    edges: list[tuple[Length, Side, Seam]] = []
    shows: list[int] = []
    for n, (cloth, x0, x1, *_) in enumerate(stripes):
        clipped = band(shape, x0, x1)
        if clipped:
            shows.append(n)
            parts.append(Cloth(cloth.fabric, moved(clipped, home), cloth.grain, cloth.name))
    above = {stripe.drawn: stripe.left for stripe in stripes}
    for s in strips.seams:
        x = above[s.start[0]] + home[0]
        if ZERO < x < high[0] - low[0]:
            edges.append((x, s.pressed, s))
    seams = _seams(tuple(parts), sorted(edges, key=lambda e: e[0]))
    outline = moved(shape, home)
    # a tip that points beyond the strip unit is cut level with its raw edge: a seam outside, where no seam is held
    trimmed = band(_unplaced(put, trimmed_outline(leaf, shop.seam, trims)), -shop.seam, width + shop.seam)
    raw = moved(trimmed, home)
    recipe = _recipe(shop, strips, stripes, raw, low[0], shows[0])
    made = shaped(unit, outline, parts, seams, recipe, name, KIND)
    made = msgspec.structs.replace(made, role="unit")
    back = put.point(low)
    return Placed(made, msgspec.structs.replace(put, dx=back[0], dy=back[1]))


def one_strip(piece: Placed, outline: Outline, name: Name | None) -> Cloth | None:
    """The cloth of a piece in which one strip of a strip unit shows, and nothing of the others: it needs no strip unit;
    None where more of it shows."""
    if not isinstance(piece.what, Making) or len(piece.what.parts) != 1:
        return None
    strip = piece.what.parts[0].what
    assert isinstance(strip, Cloth)
    grain = minus(piece.place.point(strip.grain), piece.place.point((ZERO, ZERO)))
    return Cloth(strip.fabric, outline, grain, name, True)


def corner_of(unit: Unit, shop: Shop, leaf: Outline, lay: StripLay | None) -> Point:
    """Where the top left corner of a strip unit lies: at its lay, or at the top left of the piece's box."""
    if lay is None:
        return bounding_box(leaf)[0]
    try:
        return Places(unit, shop, shop.width(unit), shop.height(unit)).point(lay.spot)
    except Unread as wrong:
        shop.problem(
            Problem("not-understood", f"In {called(unit)}, the lay can't be worked out: {wrong.text}.", wrong.span)
        )
        raise Unsettled(unit.key) from None


def laid_on(unit: Unit, shop: Shop, piece: Component, outline: Outline) -> tuple[Making, Place, Point]:
    """The strip unit of a `laid` piece, how it is turned, and where its upper left corner lies: on the piece's, or at
    the point that is said; on the slant its middle lies on the piece's."""
    strips, place = shop.strips(piece)
    low = bounding_box(outline)[0]
    if piece.laid is not None and piece.laid.at is not None:
        low = shop.value(piece.laid.at[0]), shop.value(piece.laid.at[1])
    elif piece.turned % 90:
        (x0, y0), (x1, y1) = bounding_box(_unplaced(place, outline))
        middle = place.point(((x0 + x1) / 2, (y0 + y1) / 2))
        low = minus(middle, place.point((strips.width / 2, strips.height / 2)))
    return strips, place, low


def _unplaced(place: Place, outline: Outline) -> Outline:
    """The outline in the coordinates of what lies at `place`."""
    back = Place(turned=-place.turned % 360)
    points = [back.point((x - place.dx, y - place.dy)) for x, y in outline]
    return tuple((-x, y) for x, y in reversed(points)) if place.mirrored else tuple(points)


class Stripe(NamedTuple):
    """A strip of a unit with its left and right edge as it is sewn, its left edge as it is drawn, its raw width."""

    cloth: Cloth
    left: Length
    right: Length
    drawn: Length
    raw: Length


def _stripes(strips: Making, allowance: Length) -> list[Stripe]:
    """The strips from left to right, each as wide as it is once it is cut on the ruler's lines and sewn."""
    found: list[tuple[Length, Length, Cloth]] = []
    for p in strips.parts:
        if isinstance(p.what, Cloth):
            low, high = bounding_box(p.place.outline(p.what.outline))
            grain = minus(p.place.point(p.what.grain), p.place.point((ZERO, ZERO)))
            found.append((low[0], high[0], msgspec.structs.replace(p.what, grain=grain)))
    found.sort(key=lambda f: f[0])
    sewn: list[Stripe] = []
    cuts = strip_cuts(strips, [(cloth.fabric, right - left) for left, right, cloth in found], allowance)
    for (left, _, cloth), cut in zip(found, cuts, strict=True):
        at = sewn[-1].right if sewn else ZERO
        sewn.append(Stripe(cloth, at, at + cut.height - allowance * 2, left, cut.height))
    return sewn


def _must_cover(unit: Unit, shop: Shop, piece: Component, width: Length, low: Point, high: Point) -> None:
    """Refuse a piece that reaches beyond the sides of the strip unit."""
    short = max(-low[0], high[0] - width)
    if short > 0:
        shop.problem(
            Problem(
                "does-not-add-up",
                f"In {called(unit)}, the piece of {piece.name} reaches {shown(short, shop)} "
                f"beyond the side of the strip unit as it is laid.",
                piece.span,
                causes=(
                    f"{piece.name} finishes {shown(width, shop)} across its strips; the piece needs "
                    f"{shown(high[0] - low[0], shop)} across them.",
                ),
            )
        )
        raise Unsettled(unit.key)


def _seams(parts: tuple[Cloth, ...], edges: list[tuple[Length, Side, Seam]]) -> list[Seam]:
    """The seams between the stripes of a piece, from left to right: they are sewn before it is cut."""
    seams = []
    for n, (x, pressed, old) in enumerate(edges, 1):
        ys = [p[1] for p in parts[n].outline if p[0] == x]
        seams.append(Seam((x, max(ys)), (x, min(ys)), tuple(range(n)), (n,), pressed, old.stated, old.mark))
    return seams


def _recipe(shop: Shop, strips: Making, stripes: Sequence[Stripe], raw: Outline, offset: Length, shows: int) -> Recipe:
    """Strips sewn as for the strip unit; the piece is cut from it by template, `segment` of its length each."""
    width, height = box_size(raw)
    first = plus(bounding_box(raw)[0], (offset + shop.seam, ZERO))[0]
    sewn = tuple((stripe.cloth.fabric, stripe.raw) for stripe in stripes)
    across = quarter_turned(raw)  # as it lies on the strip unit, whose strips run from left to right
    return Recipe(
        FROM_STRIPS,
        strips.recipe.cuts,
        segment=up(height, shop.grid),
        strip_unit=strips.recipe.strip_unit,
        pitch=pitch(across, across),
        numbers=StripTemplate(raw, width, height, first, sewn, shows, strips.unit),
    )
