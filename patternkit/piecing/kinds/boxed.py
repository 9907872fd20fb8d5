"""What diamonds, hexagons, kites and trapezoids share: a shape cut by template, alone or with corner triangles round
it.

Alone, the unit has the shape's own outline. With a background, triangles sewn to its slanting sides square it off, so
that it can be joined in rows: every seam is straight, and the outer edges lie on the straight grain.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import chosen, one_length, option, pieces, problems, words_of
from patternkit.piecing.forms import Form, Sum, size, solved
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.making import Cloth, Making, Numbers, Outline, PieceCut, Point, Recipe, Seam, rectangle
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.offset import clean, edges, length_of, raw_outline
from patternkit.piecing.shapes import called, merged, same_as, seam
from patternkit.piecing.templates import (
    laid,
    shape_cut,
    shaped,
    template_cut,
    triangle_cuts,
)
from patternkit.piecing.tips import Trims, dog_ears
from patternkit.piecing.unknowns import of_unit
from patternkit.problems import Problem
from patternkit.syntax.statements import Num, Option, Ref

FREE = 0
"""The angle of a shape whose width and height are both given."""
LEVEL = "shape-templates"
ALONE = "shape-alone"
"""The phrase of a shape that is not squared off, whatever its method."""


def from_strips_or_templates(phrase: str) -> tuple[Method, Method]:
    """The two ways of a shape that is squared off; `phrase` tells the first. By templates all raw edges meet."""
    return Method("from strips", phrase), Method("from templates", LEVEL, ("templates",))


class ShapeSides(Numbers, frozen=True):
    """The finished sides of a shape, as it lies on the cloth; how far beyond its points the unit is trimmed, nothing
    where its corners come out as they should."""

    sides: tuple[Length, ...]
    beyond: Length = ZERO


class Boxed(Kind):
    """A shape in a box. The pieces listed are the shape's fabric, and one background fabric or one for each corner."""

    shapes: ClassVar[bool] = True
    angles: ClassVar[tuple[int, ...]] = (60,)
    corner_name: ClassVar[Name] = Name("corner")

    def shape(self, unit: Unit, width: Sum, height: Sum) -> Form:
        """The shape, clockwise, in a box of that size."""
        raise NotImplementedError

    def like(self, unit: Unit, angle: int) -> tuple[float, float]:
        """About how wide and how high a shape of that angle is, where nobody says it."""
        raise NotImplementedError

    def refused(self, unit: Unit, shop: Shop) -> str:
        """Why a shape of these sizes can't be, as the end of a sentence; nothing where it can."""
        return ""

    def form(self, unit: Unit, out: Equations) -> Form | None:
        """The shape itself, where it is not squared off."""
        if len(pieces(unit)) != 1:
            return None
        angle = angle_of(unit, self.angles)
        wide, high = self.like(unit, FREE if isinstance(angle, Problem) else angle)
        claim = next((c for c in unit.claims if c.height is not None), None)
        if angle == FREE and claim is not None and claim.height is not None:
            wide, high = out.about(claim.width), out.about(claim.height)
        return self.shape(unit, size(of_unit(unit.key, "w"), wide), size(of_unit(unit.key, "h"), high))

    def grain(self, core: Outline) -> Point:
        """The direction in the shape that lies on the straight grain."""
        raise NotImplementedError

    def proportions(self, unit: Unit, out: Equations, angle: int) -> None:
        """What holds between width and height."""
        raise NotImplementedError

    def pitch(self, shape: Outline) -> Length | None:
        """How much of a strip each more template takes, None when its whole width."""
        return None

    def equations(self, unit: Unit, out: Equations) -> None:
        """Its angle ties the height to the width."""
        for problem in problems(self, unit):
            out.problem(problem)
        angle = angle_of(unit, self.angles)
        if isinstance(angle, Problem):
            out.problem(angle)
        else:
            self.proportions(unit, out, angle)
        for shape in pieces(unit)[:1]:
            if shape.is_sewn:
                same_as(unit, shape, out, (1, 1), f"the shape in {called(unit)} is {shape.name}")

    def make(self, unit: Unit, shop: Shop) -> Making:
        """The shape, the corners in clockwise order from the top left, and a seam for each."""
        width, height = shop.width(unit), shop.height(unit)
        refused = self.refused(unit, shop)
        if refused:
            shop.problem(Problem("does-not-add-up", f"In {called(unit)}, {refused}.", unit.kind_span))
            raise Unsettled(unit.key)
        shape = self.shape(unit, size(of_unit(unit.key, "w"), 1.0), size(of_unit(unit.key, "h"), 1.0))
        core = clean(solved(shape, lambda var: {"w": width, "h": height}.get(var.side) or shop.solved(var)))
        fabrics = [shop.fabric(unit, p) for p in pieces(unit)]
        own = Cloth(fabrics[0], core, self.grain(core), template=True)
        gaps = corners(core, width, height) if len(fabrics) > 1 else []
        background = fabrics[1:] if len(fabrics) == len(gaps) + 1 else fabrics[1:2] * len(gaps)
        around = [Cloth(fabric, gap, name=self.corner_name) for fabric, (gap, _) in zip(background, gaps, strict=True)]
        seams = [_joint(n, ends) for n, (_, ends) in enumerate(gaps, 1)]
        recipe = self._recipe(unit, shop, own, around, seams, width, height)
        outline = rectangle(width, height) if gaps else core
        return shaped(unit, outline, (own, *around), seams, recipe)

    def _recipe(
        self,
        unit: Unit,
        shop: Shop,
        shape: Cloth,
        around: Sequence[Cloth],
        seams: Sequence[Seam],
        width: Length,
        height: Length,
    ) -> Recipe:
        method = chosen(self, unit).method
        strips = method is self.methods[0]
        outlines = [shape.outline, *(c.outline for c in around)]
        trims = [{}] * len(outlines) if strips else dog_ears(outlines, seams, shop.seam)
        own = self._shape_cut(shape, shop, trims[0], strips)
        if strips:
            triangles, units = triangle_cuts(around, shop)
        else:
            triangles, units = (
                tuple(template_cut(c, shop, t) for c, t in zip(around, trims[1:], strict=True)),
                1,
            )
        cuts = merged((*[own] * units, *triangles))
        method = method if around else msgspec.structs.replace(method, phrase=ALONE)
        larger = any(c.then == "half" and (c.width, c.height) != (c.exact_width, c.exact_height) for c in cuts)
        sides = tuple(_sides(laid(shape.outline, shape.grain)))
        return Recipe(method, cuts, units, numbers=ShapeSides(sides, shop.seam if larger else ZERO))

    def _shape_cut(self, shape: Cloth, shop: Shop, trims: Trims, strips: bool) -> PieceCut:
        """From strips the shape keeps its points, as a ruler cuts it; a template has its dog-ears trimmed."""
        if not strips:
            return template_cut(shape, shop, trims)
        raw = raw_outline(shape.outline, shop.seam)
        return shape_cut(shape, raw, shop, pitch=self.pitch(laid(raw, shape.grain)))


def angle_of(unit: Unit, angles: Sequence[int]) -> int | Problem:
    """The angle that a unit says, the kind's usual one when it says none, FREE for ``angle free``."""
    stated = option(unit, "angle")
    if stated is None:
        return FREE if unit.unsized else angles[0]  # it may stand on a line that could not be read
    words = [word for clause in stated.clauses for word in clause]
    if words_of(stated) == ["free"]:
        return FREE
    if len(words) == 1 and isinstance(words[0], Num) and words[0].unit is None and words[0].value in angles:
        return int(words[0].value)
    if len(words) == 1 and isinstance(words[0], Ref) and words[0].name in unit.values:
        return Problem("not-understood", f"In {called(unit)}, the angle is a plain number.", stated.span)
    listed = " or ".join(str(a) for a in angles)
    return Problem(
        "not-understood",
        f"In {called(unit)}, the angle of a {unit.kind} is {listed}, or free.",
        stated.span,
        causes=("With angle free, its width and its height are both stated, and give the angle.",),
    )


def state_level_edge(unit: Unit, out: Equations, edge: str) -> Option | None:
    """The level `edge` of a unit ("a level edge") as its line ``top`` states it, a problem where that is no length; the
    line, where there is one."""
    top, stated = of_unit(unit.key, "top"), option(unit, "top")
    out.shown(top, f"{edge} of {called(unit)}")
    if stated is None:
        return None
    value = one_length(unit, "top", out)
    if value is not None:
        out.stated(top, value, f"{edge} of {called(unit)} finishes {out.render(value)}", stated.span)
    return stated


def corners(core: Outline, width: Length, height: Length) -> list[tuple[Outline, tuple[Point, Point]]]:
    """The triangles between a shape and its box, clockwise from the top left, each with the ends of its seam.

    Walking from the first end to the second, the shape lies on the left and the corner on the right.
    """
    box = rectangle(width, height)
    found: list[tuple[Outline, tuple[Point, Point]]] = []
    for i, corner in enumerate(box):
        if corner in core:
            continue
        before, after = box[i - 1], box[(i + 1) % 4]
        # the shape's last point on the side that leads to the corner, and its first on the side that leaves
        # it
        a = min((p for p in core if _on(p, before, corner)), key=lambda p: _far(p, corner))
        b = min((p for p in core if _on(p, corner, after)), key=lambda p: _far(p, corner))
        found.append(((corner, b, a), (b, a)))
    return found


def _on(p: Point, a: Point, b: Point) -> bool:
    return p[0] == a[0] == b[0] or p[1] == a[1] == b[1]


def _far(p: Point, q: Point) -> Length:
    return abs(p[0] - q[0]) + abs(p[1] - q[1])


def _joint(n: int, ends: tuple[Point, Point]) -> Seam:
    return seam(ends[0], ends[1], range(n), (n,))


def _sides(shape: Outline) -> list[Length]:
    return [length_of(e) for e in edges(shape)]


def level_edges(shape: Outline) -> tuple[Length, Length]:
    """The lengths of the top and bottom edges of a shape as it lies, nought where it has a point."""
    low, high = min(p[1] for p in shape), max(p[1] for p in shape)
    spans = []
    for y in (low, high):
        xs = [p[0] for p in shape if p[1] == y]
        spans.append(max(xs) - min(xs) if xs else ZERO)
    return spans[0], spans[1]
