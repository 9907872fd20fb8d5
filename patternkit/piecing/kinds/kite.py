"""Kites, the sharp corner at the top, alone or squared off by four corner triangles."""

from __future__ import annotations

from typing import ClassVar

from patternkit.lengths import ONE, SQRT3, ZERO
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import one_length, option
from patternkit.piecing.forms import NOTHING, Form, Sum, size
from patternkit.piecing.kinds.base import Equations, Shop
from patternkit.piecing.kinds.boxed import FREE, Boxed, angle_of, from_strips_or_templates
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.method import Method
from patternkit.piecing.shapes import called
from patternkit.piecing.unknowns import of_unit
from patternkit.problems import Problem


class Kite(Boxed):
    """``kite night, sky``: 60, 90, 120 and 90 degrees; or ``angle free`` with ``shoulder 2`` below the top."""

    words: ClassVar[tuple[str, ...]] = ("kite",)
    methods: ClassVar[tuple[Method, ...]] = from_strips_or_templates("kite")
    pieces: ClassVar[tuple[int, int]] = (1, 5)
    options: ClassVar[dict[str, str]] = {"angle": "angle free", "shoulder": "shoulder 2"}
    angles: ClassVar[tuple[int, ...]] = (60,)

    def shape(self, unit: Unit, width: Sum, height: Sum) -> Form:
        """Its side corners touch the box at the shoulder, three quarters down when the angles are 60, 90, 120 and
        90."""
        shoulder = height * 3 / 4
        if angle_of(unit, self.angles) == FREE:
            shoulder = size(of_unit(unit.key, "shoulder"), height.about / 2)
        return (width / 2, NOTHING), (width, shoulder), (width / 2, height), (NOTHING, shoulder)

    def like(self, unit: Unit, angle: int) -> tuple[float, float]:
        """Half root 3 as wide as high."""
        return float(SQRT3), 2.0

    def refused(self, unit: Unit, shop: Shop) -> str:
        """A shoulder at the foot."""
        if angle_of(unit, self.angles) != FREE or shop.solved(of_unit(unit.key, "shoulder")) < shop.height(unit):
            return ""
        return "the shoulder lies as low as the kite is high"

    def grain(self, core: Outline) -> Point:
        """Along the middle, from point to point."""
        return ZERO, ONE

    def proportions(self, unit: Unit, out: Equations, angle: int) -> None:
        """A kite of 60, 90, 120 and 90 degrees is half root 3 as wide as it is high; a free one has a stated
        shoulder."""
        stated = option(unit, "shoulder")
        if angle != FREE:
            w, h = out.outer(unit)
            out.total([(SQRT3 / 2, h)], w, f"{called(unit)} is a kite of 60, 90, 120 and 90 degrees", unit.kind_span)
            if stated is not None:
                out.problem(
                    Problem(
                        "out-of-place",
                        f"In {called(unit)}, the shoulder follows from the angles; with angle free it can be stated.",
                        stated.span,
                    )
                )
            return
        shoulder = of_unit(unit.key, "shoulder")
        out.shown(shoulder, f"the shoulder of {called(unit)}")
        value = one_length(unit, "shoulder", out)
        if stated is None:
            out.problem(
                Problem(
                    "not-understood",
                    f"In {called(unit)}, a kite of a free angle needs its shoulder: how far below "
                    "the top it is widest.",
                    unit.kind_span,
                    causes=("It is written shoulder 2.",),
                )
            )
        elif value is not None:
            out.stated(
                shoulder,
                value,
                f"the shoulder of {called(unit)} lies {out.render(value)} below the top",
                stated.span,
            )
