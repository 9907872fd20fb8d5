"""Eight-point stars: eight diamonds of 45 degrees in a square, with set-in corners and sides or split into straight
seams."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Literal

import msgspec

from patternkit.lengths import ONE, SQRT2, ZERO, Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import chosen, one_length, option, pieces, problems
from patternkit.piecing.forms import NEAR, edge, equal, positive, size
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.kinds.boxed import level_edges
from patternkit.piecing.making import Cloth, Making, Numbers, Outline, PieceCut, Point, Recipe, Seam
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.offset import minus, raw_outline
from patternkit.piecing.shapes import called, making, merged, seam, square
from patternkit.piecing.templates import laid, shape_cut, template_cut, up
from patternkit.piecing.unknowns import of_unit
from patternkit.problems import Problem
from patternkit.units import hair

SET_IN = Method("set-in", "eight-point-star", drawn="set-in", inward=True, holds_units=True)
STRAIGHT = Method("straight seams", "eight-point-star-straight", drawn="wedges", inward=True, holds_units=True)
SIDE = SQRT2 + 2
"""The block's side over the diamond's side."""
SIDE_TRIANGLE = Name("side triangle of the star")


class Diamonds(Numbers, frozen=True):
    """The finished side of a diamond."""

    side: Length


class EightPointStar(Kind):
    """``eight-point-star night, glow, sky``: the diamonds' fabrics in turn, clockwise from the top, then the
    background."""

    words: ClassVar[tuple[str, ...]] = ("eight-point-star",)
    shapes: ClassVar[bool] = True
    written: ClassVar[str] = "eight-point-star night, glow, sky: the diamonds first, the background last"
    methods: ClassVar[tuple[Method, ...]] = (SET_IN, STRAIGHT)
    pieces: ClassVar[tuple[int, int]] = (2, 9)
    options: ClassVar[dict[str, str]] = {"side": "side 2 1/2"}

    def equations(self, unit: Unit, out: Equations) -> None:
        """It is square, and 2 + root 2 times as wide as the side of a diamond."""
        for problem in problems(self, unit):
            out.problem(problem)
        square(unit, out, "is an eight-point star, as wide as it is high")
        diamond = of_unit(unit.key, "diamond")
        out.shown(diamond, f"the side of a diamond of {called(unit)}")
        out.total(
            [(SIDE, diamond)],
            out.outer(unit)[0],
            f"{called(unit)} is 2 + root 2 times as wide as the side of a diamond",
            unit.kind_span,
        )
        stated = option(unit, "side")
        value = one_length(unit, "side", out)
        if stated is not None and value is not None:
            out.stated(diamond, value, f"the diamonds of {called(unit)} have sides of {value.text()}", stated.span)
        for piece in pieces(unit)[:-1]:
            _diamond_unit(unit, piece, out)
        if 8 % max(1, len(pieces(unit)) - 1):
            out.problem(
                Problem(
                    "wrong-pieces",
                    f"{called(unit).capitalize()} lists {len(pieces(unit)) - 1} fabrics for its "
                    "diamonds; 1, 2, 4 or 8 go round evenly.",
                    unit.rows[0].span,
                )
            )

    def make(self, unit: Unit, shop: Shop) -> Making:
        """Diamonds clockwise from the one right of the top, then sides from the top, then corners from the top
        right."""
        fabrics = [shop.fabric(unit, p) for p in pieces(unit)]
        if len(fabrics) < 2 or 8 % (len(fabrics) - 1):
            raise Unsettled(unit.key)
        w, d = shop.width(unit), shop.solved(of_unit(unit.key, "diamond"))
        straight = chosen(self, unit).method is STRAIGHT
        points = Points(w, d)
        diamonds = [
            Cloth(fabrics[i % (len(fabrics) - 1)], points.diamond(i), points.grain(i), Name("diamond"), True)
            for i in range(8)
        ]
        if straight:
            around = [Cloth(fabrics[-1], shape, name=name) for i in range(8) for shape, name in points.halves(i)]
            seams = _straight_seams(points)
        else:
            around = [Cloth(fabrics[-1], points.side(i), points.along(i), SIDE_TRIANGLE) for i in range(4)]
            around += [Cloth(fabrics[-1], points.corner(i), name=Name("corner square")) for i in range(4)]
            seams = _set_in_seams(points)
        return making(unit, w, w, (*diamonds, *around), seams, _recipe(shop, diamonds, around, d, straight))


def _diamond_unit(unit: Unit, piece: Component, out: Equations) -> None:
    """A unit that stands for a diamond has its sides: upright and level ones as they are, slanting ones, at 45 degrees,
    root 2 of what they run to the right."""
    form, diamond = out.form_of(unit, piece), size(of_unit(unit.key, "diamond"), 1.0)
    why = f"{piece.name} is a diamond of {called(unit)}"
    sides = [edge(form, i) for i in range(2)] if form is not None and len(form) == 4 else []
    for x, y in sides:
        if not x.terms or not y.terms:
            equal(out, diamond, positive(y if not x.terms else x), why, piece.span)
        elif abs(abs(x.about) - abs(y.about)) < NEAR:
            equal(out, diamond, positive(x) * SQRT2, why, piece.span)


class Points:
    """The points of a star, by quarter turns: `i` counts diamonds or points clockwise."""

    def __init__(self, w: Length, d: Length) -> None:
        self.w, self.d = w, d
        self.centre: Point = (w / 2, w / 2)

    def turned(self, p: Point, quarters: int) -> Point:
        """The point turned clockwise about the middle of the block."""
        for _ in range(quarters % 4):
            p = (self.w - p[1], p[0])
        return p

    def apex(self, i: int) -> Point:
        """The inner corner of the side triangle at top, right, bottom, left."""
        return self.turned((self.w / 2, self.w / 2 - self.d), i)

    def inner(self, i: int) -> Point:
        """The inner corner of the corner square at top right, bottom right, bottom left, top left."""
        return self.turned((self.w - self.d, self.d), i)

    def tip(self, i: int) -> Point:
        """The outer point of diamond i."""
        first = (self.w - self.d, ZERO) if i % 2 == 0 else (self.w, self.d)
        return self.turned(first, i // 2)

    def diamond(self, i: int) -> Outline:
        """The outline of diamond i, from the centre clockwise."""
        low, high = (
            (self.apex(i // 2), self.inner(i // 2)) if i % 2 == 0 else (self.inner(i // 2), self.apex(i // 2 + 1))
        )
        return self.centre, low, self.tip(i), high

    def grain(self, i: int) -> Point:
        """Along the side of diamond i that comes first, clockwise: as it is cut from a strip."""
        return minus(self.diamond(i)[1], self.centre)

    def side(self, i: int) -> Outline:
        """The side triangle at top, right, bottom, left."""
        return self.tip(2 * i - 1), self.tip(2 * i), self.apex(i)

    def along(self, i: int) -> Point:
        """Along the long edge of a side triangle, which lies at the edge of the block."""
        return (ONE, ZERO) if i % 2 == 0 else (ZERO, ONE)

    def corner(self, i: int) -> Outline:
        """The corner square at top right, bottom right, bottom left, top left."""
        return self.outer(i), self.tip(2 * i + 1), self.inner(i), self.tip(2 * i)

    def outer(self, i: int) -> Point:
        """A corner of the block, from the top right."""
        return self.turned((self.w, ZERO), i)

    def middle(self, i: int) -> Point:
        """The middle of the block's top, right, bottom, left."""
        return self.turned((self.w / 2, ZERO), i)

    def halves(self, i: int) -> tuple[tuple[Outline, Name], tuple[Outline, Name]]:
        """The half side triangle and the half corner square beside diamond i."""
        n, even = i // 2, i % 2 == 0
        if even:
            side = (self.middle(n), self.tip(i), self.apex(n))
            corner = (self.tip(i), self.outer(n), self.inner(n))
        else:
            side = (self.tip(i), self.middle(n + 1), self.apex(n + 1))
            corner = (self.outer(n), self.tip(i), self.inner(n))
        return (side, Name("half side triangle")), (corner, Name("half corner square"))


def _bent(path: Sequence[Point], left: Sequence[int], right: Sequence[int]) -> Seam:
    return Seam(path[0], path[-1], tuple(left), tuple(right), set_in=True, path=tuple(path))


def _set_in_seams(p: Points) -> list[Seam]:
    """Pairs of diamonds with their side triangles set in; pairs to halves; halves; corner squares set in as they
    come."""
    pairs = [[(2 * i - 1) % 8, 2 * i] for i in range(4)]
    seams = [seam(p.centre, p.apex(i), pairs[i][:1], pairs[i][1:]) for i in range(4)]
    for i in range(4):
        seams.append(_bent((p.tip(2 * i), p.apex(i), p.tip(2 * i - 1)), pairs[i], (8 + i,)))
        pairs[i] = [*pairs[i], 8 + i]
    halves = []
    for i in (0, 2):
        seams.append(seam(p.centre, p.inner(i), pairs[i], pairs[i + 1]))
        half = [*pairs[i], *pairs[i + 1]]
        seams.append(_bent((p.tip(2 * i + 1), p.inner(i), p.tip(2 * i)), half, (12 + i,)))
        halves.append([*half, 12 + i])
    seams.append(seam(p.inner(3), p.inner(1), halves[0], halves[1]))
    whole = [*halves[0], *halves[1]]
    for i in (1, 3):
        seams.append(_bent((p.tip(2 * i + 1), p.inner(i), p.tip(2 * i)), whole, (12 + i,)))
        whole.append(12 + i)
    return seams


def _straight_seams(p: Points) -> list[Seam]:
    """Two triangles to each diamond; two of these make a quarter; quarters to halves; halves."""
    seams, wedges = [], []
    for i in range(8):
        _, low, tip, high = p.diamond(i)
        side, corner = 8 + 2 * i, 9 + 2 * i
        first, second = (side, corner) if i % 2 == 0 else (corner, side)
        seams.append(seam(tip, low, (i,), (first,)))
        seams.append(seam(high, tip, (i, first), (second,)))
        wedges.append([i, first, second])
    quarters = []
    for i in range(4):
        seams.append(seam(p.centre, p.outer(i), wedges[2 * i], wedges[2 * i + 1]))
        quarters.append([*wedges[2 * i], *wedges[2 * i + 1]])
    seams.append(seam(p.centre, p.middle(1), quarters[0], quarters[1]))
    seams.append(seam(p.centre, p.middle(3), quarters[2], quarters[3]))
    # from top to bottom, the right-hand half lies on the left
    seams.append(seam(p.middle(0), p.middle(2), [*quarters[0], *quarters[1]], [*quarters[2], *quarters[3]]))
    return seams


def _recipe(shop: Shop, diamonds: Sequence[Cloth], around: Sequence[Cloth], d: Length, straight: bool) -> Recipe:
    s, background = shop.seam, around[0].fabric
    cuts: list[PieceCut] = []
    for cloth in diamonds:
        raw = raw_outline(cloth.outline, s)
        cuts.append(shape_cut(cloth, raw, shop, pitch=level_edges(laid(raw, cloth.grain))[0]))
    triangle = s * 2 + s * SQRT2
    if straight:
        cuts += [
            _square(background, d * SQRT2 / 2 + triangle, 4, shop, "half", Name("half side triangle")),
            _square(background, d + triangle, 4, shop, "half", Name("half corner square")),
        ]
    else:
        cuts += [
            _set_in(around[0], d * SQRT2 + s * 2 + s * SQRT2 * 2, shop, "quarter"),
            _set_in(around[-1], d + s * 2, shop, ""),
        ]
    return Recipe(STRAIGHT if straight else SET_IN, merged(cuts), numbers=Diamonds(d))


def _set_in(cloth: Cloth, exact: Length, shop: Shop, then: Literal["", "quarter"]) -> PieceCut:
    """The four pieces of one shape that are set in: held on two sides, they must be neither larger nor smaller.

    The square that gives them is cut on the nearest line of the ruler where that is so near that eight of them in a row
    are a hair off, otherwise they are cut by a template.
    """
    near, little = Length(exact.round_to(shop.grid)), hair(shop.units) / 8
    if abs(near - exact) > little:
        return msgspec.structs.replace(template_cut(cloth, shop), count=4)
    return PieceCut(cloth.fabric, near, near, exact, exact, 1 if then else 4, then, cloth.name)


def _square(fabric: str, exact: Length, count: int, shop: Shop, then: str, name: Name) -> PieceCut:
    side = up(exact, shop.grid)
    if then == "half":
        return PieceCut(fabric, side, side, exact, exact, count, "half", name)
    if then == "quarter":
        return PieceCut(fabric, side, side, exact, exact, count, "quarter", name)
    return PieceCut(fabric, side, side, exact, exact, count, "", name)
