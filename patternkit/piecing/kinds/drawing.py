"""Shapes from a drawing of the writer's, laid on a ground."""

from __future__ import annotations

from fractions import Fraction
from typing import ClassVar

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.freeform import GRID, near, plain, without_loops
from patternkit.piecing.kinds.base import Equations, Shop
from patternkit.piecing.kinds.laid_shape import OnePiece
from patternkit.piecing.making import Outline
from patternkit.piecing.shapes import called


class DrawnShape(OnePiece):
    """``drawing "bird.svg", rose 4``: the outline in a file beside the pattern; the length is its width."""

    words: ClassVar[tuple[str, ...]] = ("drawing",)
    written: ClassVar[str] = 'drawing "bird.svg", rose 4: the file, the fabric, then its width'

    def equations(self, unit: Unit, out: Equations) -> None:
        """Its height follows from its width as drawn."""
        super().equations(unit, out)
        if unit.drawing:
            w, h = out.outer(unit)
            high = Length(Fraction(round(max(y for _, y in unit.drawing) * GRID), GRID))
            out.total([(high, w)], h, f"{called(unit)} is as high as it is drawn", unit.kind_span)

    def outline(self, width: Length, height: Length, unit: Unit, shop: Shop) -> Outline:
        """The drawing so wide; its outermost points lie exactly on its box."""
        if not unit.drawing:
            raise ValueError("it has no outline")
        most, scale = max(y for _, y in unit.drawing), float(width)
        found = []
        for x, y in unit.drawing:
            across, down = near((x * scale, y * scale))
            across = ZERO if x <= 0 else width if x >= 1 else across
            found.append((across, ZERO if y <= 0 else height if y >= most else down))
        ring = tuple(p for i, p in enumerate(found) if p != found[i - 1])
        if len(without_loops([plain(p) for p in ring])) != len(ring):
            raise ValueError("its outline crosses itself")
        return ring
