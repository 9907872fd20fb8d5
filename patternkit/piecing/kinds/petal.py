"""Petals and leaves: two equal arcs that meet in two points, laid on a ground."""

from __future__ import annotations

from typing import ClassVar

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import pieces
from patternkit.piecing.freeform import angle_between, near, swept
from patternkit.piecing.kinds.base import Equations, Shop
from patternkit.piecing.kinds.laid_shape import OnePiece
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.shapes import called
from patternkit.problems import Problem


class Petal(OnePiece):
    """``petal rose 2 x 5``: two equal arcs; the points lie at the ends of its longer side."""

    words: ClassVar[tuple[str, ...]] = ("petal",)
    written: ClassVar[str] = "petal rose 2 x 5: the fabric, then how wide and how high it is"

    def equations(self, unit: Unit, out: Equations) -> None:
        """Width and height are both stated."""
        super().equations(unit, out)
        for piece in pieces(unit)[:1]:
            if piece.width is not None and piece.height is None:
                out.problem(
                    Problem(
                        "not-understood",
                        f"{called(unit).capitalize()} needs two lengths: how wide and how high the petal is.",
                        piece.span,
                        causes=(f"It is written {self.written}.",),
                    )
                )

    def outline(self, width: Length, height: Length, unit: Unit, shop: Shop) -> Outline:
        """Both arcs have the radius ``(a^2 + b^2) / (4 a)`` of a chord b and a rise of a / 2."""
        if width == height:
            raise ValueError("a petal as wide as it is high is a circle")
        if width < height:
            return petal(width, height)
        lying = petal(height, width)
        return tuple((y, height - x) for x, y in (*lying[1:], lying[0]))


def petal(width: Length, height: Length) -> Outline:
    """A petal that stands on its point, from its upper point on."""
    w, h = float(width), float(height)
    centre = ((w * w - h * h) / (4 * w), 0.0)  # of the arc on the right; points measured from the petal's middle
    top, side = (0.0, -h / 2), (w / 2, 0.0)
    quarter: list[Point] = [near(p) for p in swept(centre, top, angle_between(centre, top, side))[1:-1]]
    found: list[Point] = [(ZERO, -height / 2), *quarter, (width / 2, ZERO)]
    found += [(x, -y) for x, y in reversed(quarter)]
    found += [(ZERO, height / 2), *((-x, -y) for x, y in quarter), (-width / 2, ZERO)]
    found += [(-x, y) for x, y in reversed(quarter)]
    return tuple((x + width / 2, y + height / 2) for x, y in found)
