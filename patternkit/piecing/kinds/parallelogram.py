"""Parallelograms with two level edges, leaning to the right, alone or squared off by two corner triangles.

All that is particular to this kind stands here: its equations, its geometry, and how it is sewn.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from patternkit.lengths import ONE, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.forms import NOTHING, Form, Sum, size
from patternkit.piecing.kinds.base import Equations, Shop
from patternkit.piecing.kinds.boxed import FREE, Boxed, from_strips_or_templates, level_edges, state_level_edge
from patternkit.piecing.making import Making, Outline, Point
from patternkit.piecing.method import Method
from patternkit.piecing.shapes import SLOPES, called
from patternkit.piecing.unknowns import of_unit

if TYPE_CHECKING:
    from patternkit.piecing.batch import Batch
    from patternkit.piecing.sewing.desk import Desk


class Parallelogram(Boxed):
    """``parallelogram night, sky``: its upper edge lies further right; ``top 3`` for its level edges, ``angle 60``."""

    words: ClassVar[tuple[str, ...]] = ("parallelogram",)
    written: ClassVar[str] = "parallelogram night, or parallelogram night, sky: the shape first, then its corners"
    methods: ClassVar[tuple[Method, ...]] = from_strips_or_templates("parallelogram")
    pieces: ClassVar[tuple[int, int]] = (1, 3)
    options: ClassVar[dict[str, str]] = {"angle": "angle 45", "top": "top 3"}
    angles: ClassVar[tuple[int, ...]] = (45, 60)

    def shape(self, unit: Unit, width: Sum, height: Sum) -> Form:
        """The upper edge ends at the box's right side, the lower one begins at its left."""
        top = size(of_unit(unit.key, "top"), 1.0)
        return (width - top, NOTHING), (width, NOTHING), (top, height), (NOTHING, height)

    def like(self, unit: Unit, angle: int) -> tuple[float, float]:
        """As high as its level edges are long."""
        return 1 + 1 / float(SLOPES[angle] if angle else ONE), 1.0

    def refused(self, unit: Unit, shop: Shop) -> str:
        """Level edges as long as the unit is wide."""
        short = shop.solved(of_unit(unit.key, "top")) < shop.width(unit)
        return "" if short else "the level edges of the parallelogram are as long as the unit is wide"

    def grain(self, core: Outline) -> Point:
        """Along the two level edges."""
        return ONE, ZERO

    def proportions(self, unit: Unit, out: Equations, angle: int) -> None:
        """It is as wide as a level edge and what it leans, which is the height over the slope."""
        w, h = out.outer(unit)
        state_level_edge(unit, out, "a level edge")
        if angle != FREE:
            out.total(
                [(ONE, of_unit(unit.key, "top")), (ONE / SLOPES[angle], h)],
                w,
                f"the slanting sides of {called(unit)} stand at {angle} degrees",
                unit.kind_span,
            )

    def pitch(self, shape: Outline) -> Length:
        """Parallelograms follow each other along a strip by one level edge."""
        return level_edges(shape)[0]


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """One triangle after the other, as of every shape that is squared off."""
    from patternkit.piecing.sewing import boxed

    return boxed.batches(making, desk)
