"""Regular hexagons, flat edges at top and bottom, alone or squared off by four corner triangles."""

from __future__ import annotations

from typing import ClassVar

from patternkit.lengths import ONE, SQRT3, ZERO
from patternkit.model.pattern import Unit
from patternkit.piecing.forms import NOTHING, Form, Sum
from patternkit.piecing.kinds.base import Equations
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

    def shape(self, unit: Unit, width: Sum, height: Sum) -> Form:
        """The flat edges are half as long as the hexagon is wide."""
        w, h = width, height
        return (w / 4, NOTHING), (w * 3 / 4, NOTHING), (w, h / 2), (w * 3 / 4, h), (w / 4, h), (NOTHING, h / 2)

    def like(self, unit: Unit, angle: int) -> tuple[float, float]:
        """Six equal sides."""
        return 2.0, float(SQRT3)

    def grain(self, core: Outline) -> Point:
        """Along the flat edges."""
        return ONE, ZERO

    def proportions(self, unit: Unit, out: Equations, angle: int) -> None:
        """From point to point it is 2 / root 3 of what it is from flat to flat."""
        if angle != FREE:
            w, h = out.outer(unit)
            out.total([(SQRT3 * 2 / 3, h)], w, f"{called(unit)} is a hexagon with six equal sides", unit.kind_span)
