"""Diamonds of 45 or 60 degrees, standing on a point, alone or squared off by four corner triangles."""

from __future__ import annotations

from typing import ClassVar

from patternkit.lengths import ONE, SQRT2, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.forms import NOTHING, Form, Sum
from patternkit.piecing.kinds.base import Equations
from patternkit.piecing.kinds.boxed import FREE, Boxed, from_strips_or_templates, level_edges
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.method import Method
from patternkit.piecing.offset import minus
from patternkit.piecing.shapes import SLOPES, called

HALF_SLOPES = {60: SLOPES[30], 45: SQRT2 - ONE}
"""The tangent of half the sharp angle: width over height."""


class Diamond(Boxed):
    """``diamond night, sky``: four equal sides, the sharp corners top and bottom; ``angle 45``, 60 or free."""

    words: ClassVar[tuple[str, ...]] = ("diamond",)
    methods: ClassVar[tuple[Method, ...]] = from_strips_or_templates("diamond")
    pieces: ClassVar[tuple[int, int]] = (1, 5)
    options: ClassVar[dict[str, str]] = {"angle": "angle 60"}
    angles: ClassVar[tuple[int, ...]] = (60, 45)

    def shape(self, unit: Unit, width: Sum, height: Sum) -> Form:
        """Its corners halve the sides of the box."""
        return (width / 2, NOTHING), (width, height / 2), (width / 2, height), (NOTHING, height / 2)

    def like(self, unit: Unit, angle: int) -> tuple[float, float]:
        """Twice as high as wide where it is free."""
        return (float(HALF_SLOPES[angle]) if angle else 0.5), 1.0

    def grain(self, core: Outline) -> Point:
        """Along a side, as it is cut from a strip."""
        return minus(core[1], core[0])

    def proportions(self, unit: Unit, out: Equations, angle: int) -> None:
        """The width is the height times the tangent of half the sharp angle."""
        if angle != FREE:
            w, h = out.outer(unit)
            out.total(
                [(HALF_SLOPES[angle], h)],
                w,
                f"{called(unit)} is a diamond of {angle} degrees, standing on its sharp corner",
                unit.kind_span,
            )

    def pitch(self, shape: Outline) -> Length:
        """Diamonds follow each other along a strip one raw side apart."""
        return level_edges(shape)[0]
