"""Trapezoids with two equal slanting sides, the short edge at the top, alone or squared off by two corner triangles."""

from __future__ import annotations

from typing import ClassVar

from patternkit.lengths import ONE, SQRT3, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import option
from patternkit.piecing.forms import NOTHING, Form, Sum, size
from patternkit.piecing.kinds.base import Equations, Shop
from patternkit.piecing.kinds.boxed import FREE, Boxed, from_strips_or_templates, level_edges, state_level_edge
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.method import Method
from patternkit.piecing.shapes import SLOPES, called
from patternkit.piecing.unknowns import of_unit


class Trapezoid(Boxed):
    """``trapezoid night, sky``: half a hexagon; or ``top 3`` for its short edge, ``angle 45``, 60 or free."""

    words: ClassVar[tuple[str, ...]] = ("trapezoid",)
    methods: ClassVar[tuple[Method, ...]] = from_strips_or_templates("trapezoid")
    pieces: ClassVar[tuple[int, int]] = (1, 3)
    options: ClassVar[dict[str, str]] = {"angle": "angle 60", "top": "top 3"}
    angles: ClassVar[tuple[int, ...]] = (60, 45)

    def shape(self, unit: Unit, width: Sum, height: Sum) -> Form:
        """The short edge in the middle of the box's top."""
        inset = (width - size(of_unit(unit.key, "top"), 1.0)) / 2
        return (inset, NOTHING), (width - inset, NOTHING), (width, height), (NOTHING, height)

    def like(self, unit: Unit, angle: int) -> tuple[float, float]:
        """Half a hexagon, or as high as its short edge is long."""
        high = 1.0 if option(unit, "top") is not None else float(SQRT3) / 2
        return 1 + 2 * high / float(SLOPES[angle] if angle else ONE), high

    def refused(self, unit: Unit, shop: Shop) -> str:
        """A short edge as long as the long one."""
        short = shop.solved(of_unit(unit.key, "top")) < shop.width(unit)
        return "" if short else "the short edge of the trapezoid is as long as the long one"

    def grain(self, core: Outline) -> Point:
        """Along the two level edges."""
        return ONE, ZERO

    def proportions(self, unit: Unit, out: Equations, angle: int) -> None:
        """The long edge is the short one and twice the height over the slope; half a hexagon's is twice the short
        one."""
        w, h = out.outer(unit)
        top = of_unit(unit.key, "top")
        if state_level_edge(unit, out, "the short edge") is None:
            out.total(
                [(Length(2), top)],
                w,
                f"{called(unit)} has a long edge twice as long as its short edge",
                unit.kind_span,
            )
        elif option(unit, "angle") is None:
            out.total(
                [(Length(2), top)],
                w,
                f"{called(unit)} is half a hexagon, which has a long edge twice as long as its short edge; with a "
                "line angle 60 it may be lower or higher",
                unit.kind_span,
            )
        if angle != FREE:
            out.total(
                [(ONE, top), (Length(2) / SLOPES[angle], h)],
                w,
                f"the slanting sides of {called(unit)} stand at {angle} degrees",
                unit.kind_span,
            )

    def pitch(self, shape: Outline) -> Length:
        """Turned by turns, trapezoids follow each other along a strip by half their two edges together."""
        top, bottom = level_edges(shape)
        return (top + bottom) / 2
