"""Circles that are laid on a ground."""

from __future__ import annotations

from math import pi
from typing import ClassVar

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.freeform import near, plain, swept
from patternkit.piecing.kinds.base import Equations, Shop
from patternkit.piecing.kinds.laid_shape import OnePiece
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.shapes import square


class PlainCircle(OnePiece):
    """``circle rose 2``: the length is its diameter."""

    words: ClassVar[tuple[str, ...]] = ("circle",)
    written: ClassVar[str] = "circle rose 2: the fabric, then its diameter"

    def equations(self, unit: Unit, out: Equations) -> None:
        """It is as wide as it is high."""
        super().equations(unit, out)
        square(unit, out, "is a circle, as wide as it is high")

    def outline(self, width: Length, height: Length, unit: Unit, shop: Shop) -> Outline:
        """Four quarters, each the mirror image of the one beside it."""
        return circle(width / 2)


def circle(radius: Length) -> Outline:
    """A circle in its box, from its uppermost point on."""
    r = float(radius)
    eighth = [plain(near(p)) for p in swept((0.0, 0.0), (0.0, -r), pi / 4)[1:]]
    inner = [*eighth[:-1], near_diagonal(eighth[-1]), *((-y, -x) for x, y in reversed(eighth[:-1]))]
    quarter: list[Point] = [near(p) for p in inner]
    found: list[Point] = [(ZERO, -radius), *quarter, (radius, ZERO)]
    found += [(x, -y) for x, y in reversed(quarter)]
    found += [(ZERO, radius), *((-x, -y) for x, y in quarter), (-radius, ZERO)]
    found += [(-x, y) for x, y in reversed(quarter)]
    return tuple((x + radius, y + radius) for x, y in found)


def near_diagonal(p: tuple[float, float]) -> tuple[float, float]:
    """A point of the diagonal on which both sides are as long."""
    return p[0], -p[0]
