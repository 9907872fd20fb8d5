"""Regular hexagons, flat edges at top and bottom, alone or squared off by four corner triangles."""

from __future__ import annotations

from typing import ClassVar

from patternkit.lengths import ONE, SQRT3, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.kinds.base import Equations, Shop
from patternkit.piecing.kinds.boxed import FREE, Boxed, from_strips_or_templates
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.method import Method
from patternkit.piecing.shapes import called


class Hexagon(Boxed):
    """``hexagon night, sky``: its height is the measure from flat edge to flat edge, its width from point to point."""

    words: ClassVar[tuple[str, ...]] = ("hexagon",)
    methods: ClassVar[tuple[Method, ...]] = from_strips_or_templates("hexagon")
    pieces: ClassVar[tuple[int, int]] = (1, 5)
    options: ClassVar[dict[str, str]] = {"angle": "angle free"}
    angles: ClassVar[tuple[int, ...]] = (60,)

    def core(self, width: Length, height: Length, unit: Unit, shop: Shop) -> Outline:
        """The flat edges are half as long as the hexagon is wide."""
        w, h = width, height
        return (w / 4, ZERO), (w * 3 / 4, ZERO), (w, h / 2), (w * 3 / 4, h), (w / 4, h), (ZERO, h / 2)

    def grain(self, core: Outline) -> Point:
        """Along the flat edges."""
        return ONE, ZERO

    def proportions(self, unit: Unit, out: Equations, angle: int) -> None:
        """From point to point it is 2 / root 3 of what it is from flat to flat."""
        if angle != FREE:
            w, h = out.outer(unit)
            out.total([(SQRT3 * 2 / 3, h)], w, f"{called(unit)} is a hexagon with six equal sides", unit.kind_span)
