"""Quarter circles: a quarter of a disc in the corner of a square, sewn to its background along a curve."""

from __future__ import annotations

from fractions import Fraction
from typing import ClassVar

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import one_length, option, pieces, problems
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.making import Cloth, Making, Numbers, Outline, PieceCut, Point, Recipe, Seam
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.offset import box_size, moved, square_root
from patternkit.piecing.shapes import called, making, shown, square
from patternkit.piecing.templates import up
from patternkit.piecing.unknowns import of_unit
from patternkit.problems import Problem

TEMPLATE = Method("from templates", "quarter-circle", ("templates",), drawn="joins")
STEPS = 48
"""Straight steps that stand for a quarter of an arc in outlines: none lies further than 0.0002 of the radius from
it."""


class Radii(Numbers, frozen=True):
    """The radius of the seam, and those of the two raw edges."""

    finished: Length
    disc: Length
    background: Length


class QuarterCircle(Kind):
    """``quarter-circle night, sky`` with ``radius 5`` under it: the first fabric is the quarter disc, upper left."""

    words: ClassVar[tuple[str, ...]] = ("quarter-circle",)
    written: ClassVar[str] = "quarter-circle night, sky: the quarter disc first, then what lies round it"
    methods: ClassVar[tuple[Method, ...]] = (TEMPLATE,)
    pieces: ClassVar[tuple[int, int]] = (2, 2)
    cloth_only: ClassVar[str] = "Along a curve nobody sews one unit to another: lay it on, or divide it by slices."
    options: ClassVar[dict[str, str]] = {"radius": "radius 5"}

    def equations(self, unit: Unit, out: Equations) -> None:
        """It is square; the radius is stated."""
        for problem in problems(self, unit):
            out.problem(problem)
        square(unit, out, "is a quarter circle in a square, as wide as it is high")
        stated, radius = option(unit, "radius"), of_unit(unit.key, "radius")
        out.shown(radius, f"the radius of {called(unit)}")
        value = one_length(unit, "radius", out)
        if stated is None:
            out.problem(
                Problem(
                    "not-understood",
                    f"{called(unit).capitalize()} needs the radius of its quarter circle.",
                    unit.kind_span,
                    causes=("It is written radius 5: the finished radius.",),
                )
            )
        elif value is not None:
            out.stated(radius, value, f"the radius of {called(unit)} is {out.render(value)}", stated.span)

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The quarter disc, the background and the curved seam between them."""
        f, r, s = shop.width(unit), shop.solved(of_unit(unit.key, "radius")), shop.seam
        _must_fit(unit, shop, f, r)
        disc, background = (shop.fabric(unit, p) for p in pieces(unit)[:2])
        curve = arc(r)
        cloths = (
            Cloth(disc, ((ZERO, ZERO), *curve), name=Name("quarter circle"), template=True),
            Cloth(background, ((f, ZERO), (f, f), (ZERO, f), *curve[::-1]), name=Name("background"), template=True),
        )
        if f == r:
            cloths = (cloths[0], Cloth(background, ((f, f), *curve[::-1]), name=Name("background"), template=True))
        joint = Seam(curve[-1], curve[0], (0,), (1,), path=curve[::-1])
        shapes = raw_shapes(f, r, s)
        cuts = tuple(_cut(cloth, shape, shop) for cloth, shape in zip(cloths, shapes, strict=True))
        recipe = Recipe(TEMPLATE, cuts, numbers=Radii(r, r + s, r - s))
        return making(unit, f, f, cloths, (joint,), recipe)


def _must_fit(unit: Unit, shop: Shop, f: Length, r: Length) -> None:
    """Refuse a radius that leaves no background, or a curve too tight for the seam."""
    if r > f:
        why = f"a radius of {shown(r, shop)} does not fit into {shown(f, shop)}"
    elif r <= shop.seam * 2:
        why = f"a radius of {shown(r, shop)} is too small for a seam of {shown(shop.seam, shop)}"
    else:
        return
    shop.problem(Problem("cannot-sew", f"{called(unit).capitalize()} can't be made: {why}.", unit.kind_span))
    raise Unsettled(unit.key)


def arc(radius: Length, low: Point | None = None, high: Point | None = None) -> Outline:
    """Points on the quarter of a circle about (0, 0) from the right down to the bottom, ends included.

    They lie exactly on the circle: ``((1 - t^2) / (1 + t^2), 2 t / (1 + t^2))``. `low` and `high` replace the ends.
    """
    points = []
    for i in range(STEPS + 1):
        t = Fraction(i, STEPS)
        if i > STEPS // 2:  # the second half mirrors the first, so that steps stay even and the ends are exact
            t = Fraction(STEPS - i, STEPS)
        u = _even(t)
        c, d = (1 - u * u) / (1 + u * u), 2 * u / (1 + u * u)
        points.append((radius * c, radius * d) if i <= STEPS // 2 else (radius * d, radius * c))
    return (low or points[0], *points[1:-1], high or points[-1])


def _even(part: Fraction) -> Fraction:
    """A fraction near the tangent of half the angle at that part of a quarter turn, for parts up to a half."""
    from math import pi, tan

    return Fraction(tan(float(part) * pi / 4)).limit_denominator(10_000)


def raw_shapes(f: Length, r: Length, s: Length) -> tuple[Outline, Outline]:
    """The raw outlines of the quarter disc (arc ``r + s``) and of the background (arc ``r - s``), edges ``s`` outside.

    The arcs run on until they meet the raw straight edges, ``root((r + s)^2 - s^2)`` and ``root((r - s)^2 - s^2)`` from
    the corner of the square.
    """
    far, near = square_root(r * r + r * s * 2), square_root(r * r - r * s * 2)
    outer, inner = arc(r + s), arc(r - s)
    disc = ((-s, -s), (far, -s), *outer, (-s, far))
    background = ((near, -s), (f + s, -s), (f + s, f + s), (-s, f + s), (-s, near), *inner[::-1])
    return disc, background


def _cut(cloth: Cloth, raw: Outline, shop: Shop) -> PieceCut:
    low = (min(p[0] for p in raw), min(p[1] for p in raw))
    home = (-low[0], -low[1])
    shape, sewn = moved(raw, home), moved(cloth.outline, home)
    w, h = box_size(shape)
    return PieceCut(cloth.fabric, up(w, shop.grid), up(h, shop.grid), w, h, 1, "template", cloth.name, shape, sewn=sewn)
