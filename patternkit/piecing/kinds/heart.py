"""Hearts that are laid on a ground: a square on its point, with a half circle on each of its upper sides."""

from __future__ import annotations

from fractions import Fraction
from math import pi, sqrt
from typing import ClassVar

from patternkit.lengths import SQRT2, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.freeform import near, swept
from patternkit.piecing.kinds.base import Equations, Shop
from patternkit.piecing.kinds.laid_shape import OnePiece
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.shapes import called

WIDE = SQRT2 / 2 + 1
HIGH = SQRT2 * Fraction(3, 4) + Fraction(1, 2)
"""How wide and how high a heart is whose square has a side of 1."""


class Heart(OnePiece):
    """``heart rose 4``: the length is its width."""

    words: ClassVar[tuple[str, ...]] = ("heart",)
    written: ClassVar[str] = "heart rose 4: the fabric, then its width"

    def equations(self, unit: Unit, out: Equations) -> None:
        """Its height is ``(3/4 root 2 + 1/2) / (1/2 root 2 + 1)`` of its width."""
        super().equations(unit, out)
        w, h = out.outer(unit)
        why = f"{called(unit)} is a heart of a square and two half circles"
        out.total([(HIGH / WIDE, w)], h, why, unit.kind_span)

    def outline(self, width: Length, height: Length, unit: Unit, shop: Shop) -> Outline:
        """From the notch on, the right side first; the left one is its mirror image."""
        side = width / WIDE
        a = float(side)
        middle, start = (a / (2 * sqrt(2)), -a / (2 * sqrt(2))), (0.0, -a / sqrt(2))  # of the half circle; its notch
        eighths: list[list[tuple[float, float]]] = []
        for _ in range(4):
            eighths.append(swept(middle, start, pi / 4)[1:])
            start = eighths[-1][-1]
        top, out = eighths[0][-1], eighths[2][-1]
        points: list[Point] = []
        for p in (p for eighth in eighths for p in eighth):
            x, y = near((p[0], p[1] + float(height) - a / sqrt(2)))
            points.append((width / 2 if p is out else x, ZERO if p is top else y))
        found = [(ZERO, height - side * SQRT2), *points, (ZERO, height), *((-x, y) for x, y in reversed(points))]
        return tuple((x + width / 2, y) for x, y in found)
