"""Half-rectangles: a rectangle of two triangles that meet on its diagonal, leaning left or right."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import ClassVar, Literal, TypeAlias

from patternkit.lengths import ONE, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import chosen, option, pieces, problems, where
from patternkit.piecing.chosen import one_for_all, resolve
from patternkit.piecing.kinds.base import Equations, Kind, Shop
from patternkit.piecing.leaves import Leaf, sides
from patternkit.piecing.making import Cloth, Making, Numbers, PieceCut, Point, Recipe
from patternkit.piecing.method import Method
from patternkit.piecing.offset import length_of
from patternkit.piecing.shapes import called, making, merged, seam
from patternkit.problems import Problem
from patternkit.source import Span

GRAIN: Point = (ONE, ZERO)
Way: TypeAlias = Literal["left", "right"]
WAYS = {"left": "left", "right": "right"}
TWO = Method(
    "pairs of rectangles",
    "half-rectangle-pairs",
    makes=2,
    ruler="leaning",
    drawn="leaning",
    formula="half-rectangle-pairs",
)
LOST = Length(Fraction(1, 32))
"""Inches by which tips may lie off: half of that is missing at a corner, and lost in the turn of the cloth."""


class Tips(Numbers, frozen=True):
    """How far the tips of two triangles reach past each other at both ends of their seam, between lines of the ruler;
    and the same less than nothing where it is the blunter ones that do."""

    offset: Length
    slide: Length


def raw_legs(a: Length, b: Length, s: Length) -> tuple[Length, Length]:
    """The rectangle to cut corner to corner, exactly, for right triangles with finished legs `a` and `b`.

    Every raw edge lies one seam outside the finished one: a leg grows by ``s`` at the right angle and by ``s cot(t/2) =
    s (hypotenuse + a) / b`` at the sharp corner of angle t between leg a and the hypotenuse. The cut keeps the finished
    proportion, so that its diagonal runs along the seam. A rectangle with both sides rounded up still holds the exact
    triangle, long edge on long edge, whatever its proportion: with w <= x, h <= y and steepness y/x >= h/w that asks
    for ``x sqrt(x^2 + y^2) sqrt(w^2 + h^2) >= w (w x + h y)``, true by Cauchy's inequality.
    """
    d = length_of((a, b))
    return a + s * (ONE + (d + a) / b), b + s * (ONE + (d + b) / a)


def inset(x: Length, y: Length, a: Length, b: Length, s: Length) -> Length:
    """How far the finished right angle lies inside both raw legs, of triangles cut with legs `x` and `y`.

    Finished legs `a` and `b`, the finished long edge one seam inside the raw one; the pieces are slid along the seam
    until the excess lies equally at both legs. It is the seam allowance itself when the cut is exact.
    """
    long = length_of((x, y))
    return (x * y - long * (a * b / length_of((a, b)) + s)) / (x + y)


def middles(x: Length, y: Length, a: Length, b: Length, s: Length) -> tuple[Length, Length]:
    """The least and the most that the middle of the finished long edge may lie from the end of the x leg, along the raw
    long edge of triangles cut with legs `x` and `y`.

    The exact raw triangle is similar to the finished one, ``k = 1 + s (1 + (d + a) / b) / a`` times as large; its right
    angle lies ``k a b / d`` above its long edge, ``k a^2 / d`` from the end of leg a. Laid long edge on long edge it
    leaves the one that is cut at an end, or with its right angle.
    """
    d, long = length_of((a, b)), length_of((x, y))
    k = ONE + s * (ONE + (d + a) / b) / a
    high, foot = k * a * b / d, k * a * a / d
    low, top = high * x / y - foot, min(long - high * y / x - foot, long - d * k)
    to_middle = s * (d + a) / b + d / 2
    return max(low, ZERO) + to_middle, top + to_middle


def slid(x: Length, y: Length, a: Length, b: Length, s: Length, grid: Fraction) -> tuple[Length, Length]:
    """By how much the tip of one triangle lies beyond the other's at each end of the seam, the sharper one reaching
    out, on half a line of the ruler; and how far it may be from where both triangles would still hold the unit.

    The long edge grows by ``s cot(t/2)`` at either sharp corner, more at the sharper one, and the two triangles lie the
    opposite way round: matched tip to tip they would give a crooked unit.
    """
    long, sharp = length_of((x, y)), 1 if x >= y else -1
    ends = sorted((m * 2 - long) * sharp for m in middles(x, y, a, b, s))
    low, high = Length(ends[0].ceil_to(grid / 2)), Length(ends[1].floor_to(grid / 2))
    middle = Length(((ends[0] + ends[1]) / 2).round_to(grid / 2))
    if low > high:
        return middle, max(ends[0] - middle, middle - ends[1])
    even = ZERO if x == y or middle < 0 else middle  # tips that are equally sharp lie level where they can
    return min(max(even, low), high), ZERO


def as_sewn(legs: tuple[Length, Length], near: Length, slide: Length, s: Length) -> tuple[Length, Length]:
    """Width and height between raw edges of two triangles of `legs` x and y whose tips pass each other by `slide`.

    From the end of the first triangle's x leg to that of the second's y leg, the other way round, it is p across and q
    down; along the seam that is ``x p - y q = +- slide L``, and square to it the two allowances, ``y p + x q = -2 s
    L``. Which way the tips pass is that which comes near to the width wanted, `near`.
    """
    (x, y), long = legs, length_of(legs)
    found = []
    for d in (slide, -slide):
        p, q = (d * x - s * y * 2) / long, (-(s * x * 2) - d * y) / long
        found.append((x + p, y + q))
    return min(found, key=lambda size: abs(size[0] - near))


def halves(
    shop: Shop,
    size: tuple[Length, Length],
    fabrics: Sequence[str],
    way: Way,
    sides: tuple[Length, Length],
    method: Method,
    stated: Span | None = None,
) -> Recipe:
    """Two triangles of rectangles of those sides, which are a line of the ruler larger where at none of its lines both
    would hold the unit of that finished size, unless their sides are `stated`."""
    (w, h), s = size, shop.seam
    exact = raw_legs(w, h, s)
    slide, off = slid(sides[0], sides[1], w, h, s, shop.grid)
    while stated is None and off > LOST:
        sides = sides[0] + shop.grid, sides[1] + shop.grid
        slide, off = slid(sides[0], sides[1], w, h, s, shop.grid)
    leans = "" if sides[0] == sides[1] else way  # a square has one diagonal only, however it is laid
    cuts = merged(
        PieceCut(fabric, sides[0], sides[1], exact[0], exact[1], 1, "half", leans=leans, stated=stated)
        for fabric in fabrics
    )
    raw = (w + s * 2, h + s * 2)
    sewn = as_sewn((sides[0], sides[1]), inset(sides[0], sides[1], w, h, s) * 2 + w, slide, s)
    return Recipe(
        method,
        cuts,
        method.makes,
        sewn=sewn if sides != exact else None,
        trim_to=raw if sides != exact else None,
        numbers=Tips(abs(slide), slide),
    )


class HalfRectangle(Kind):
    """``half-rectangle a, b`` with ``leaning left`` or ``leaning right``: the first fabric above the diagonal."""

    words: ClassVar[tuple[str, ...]] = ("half-rectangle",)
    written: ClassVar[str] = "half-rectangle night, glow"
    methods: ClassVar[tuple[Method, ...]] = (TWO,)
    oversize: ClassVar[bool] = True
    options: ClassVar[dict[str, str]] = {"leaning": "leaning left, or leaning right"}
    pieces: ClassVar[tuple[int, int]] = (2, 2)

    def equations(self, unit: Unit, out: Equations) -> None:
        """Nothing binds its width to its height."""
        for problem in problems(self, unit, sizes=("cut",), own_cut=True):
            out.problem(problem)
        stated = option(unit, "leaning")
        if stated is not None:
            found = where(WAYS, stated, unit)
            if isinstance(found, Problem):
                out.problem(found)
            elif len(found) > 1:
                message = f"In {called(unit)}, it leans one way: leaning left, or leaning right."
                out.problem(Problem("not-understood", message, stated.span))

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """It is trimmed to size."""
        return sides(out.outer(unit))

    def make(self, unit: Unit, shop: Shop) -> Making:
        """Two triangles and the seam between them."""
        w, h = shop.width(unit), shop.height(unit)
        fabrics = [shop.fabric(unit, p) for p in pieces(unit)[:2]]
        nw, ne, se, sw = (ZERO, ZERO), (w, ZERO), (w, h), (ZERO, h)
        way = leaning(unit)
        if way == "right":
            shapes, line = ((nw, ne, sw), (ne, se, sw)), seam(sw, ne, (0,), (1,))
        else:
            shapes, line = ((nw, ne, se), (nw, se, sw)), seam(nw, se, (0,), (1,))
        cloths = [Cloth(fabric, shape, GRAIN) for fabric, shape in zip(fabrics, shapes, strict=True)]
        return making(unit, w, h, cloths, (line,), self._recipe(unit, shop, w, h, fabrics, way))

    def _recipe(self, unit: Unit, shop: Shop, w: Length, h: Length, fabrics: list[str], way: Way) -> Recipe:
        choice = chosen(self, unit)
        sides, place = resolve(
            unit,
            shop,
            choice,
            lambda more, seam: raw_legs(w + more, h + more, seam),
            one_for_all(unit, shop),
            "rectangles",
        )
        return halves(shop, (w, h), fabrics, way, (sides[0], sides[1]), choice.method, place)


def leaning(unit: Unit) -> Way:
    """Which way the diagonal leans: ``right`` is from lower left to upper right, as a slash does."""
    stated = option(unit, "leaning")
    found = where(WAYS, stated, unit) if stated is not None else []
    return "left" if not isinstance(found, Problem) and found and found[0][0] == "left" else "right"
