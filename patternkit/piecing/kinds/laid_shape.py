"""What all shapes that are laid on a ground have in common: one piece of cloth with any outline, cut by a template.

How its edge is kept is its method: turned under by an allowance, or raw, or raw and fused to the ground by a web.
"""

from __future__ import annotations

from fractions import Fraction
from typing import ClassVar

from patternkit.lengths import ONE, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import chosen, pieces, problems
from patternkit.piecing.freeform import grown
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.making import Cloth, Making, Numbers, Outline, Recipe
from patternkit.piecing.method import Method
from patternkit.piecing.shapes import called, shown, sizes_beside
from patternkit.piecing.templates import shape_cut, shaped
from patternkit.problems import Problem

TURNED = Method("needle-turn", "", ("turned edge", "turned"), as_cut=True, exact=True, takes_length=True)
RAW = Method("raw edge", "", ("raw",), as_cut=True, exact=True)
FUSED = Method("fused", "", ("fusible", "fusible web"), as_cut=True, exact=True)
WAYS = (TURNED, RAW, FUSED)
ALLOWANCE = Length(Fraction(3, 16))
"""What is turned under all round, in inches, where the writer says nothing (common practice, no source)."""


class TurnedUnder(Numbers, frozen=True):
    """What is turned under all round; nothing where the edge is raw."""

    turned: Length


class OnePiece(Kind):
    """A kind of shape: its outline in a box of its size. One length beside the fabric is its width."""

    methods: ClassVar[tuple[Method, ...]] = WAYS
    cloth_only: ClassVar[str] = "A unit is laid on as it is: name it behind applique in its place."

    def outline(self, width: Length, height: Length, unit: Unit, shop: Shop) -> Outline:
        """The finished shape, clockwise, its box's upper left corner at (0, 0). Raises ValueError, with words, where
        there is none of that size."""
        raise NotImplementedError

    def equations(self, unit: Unit, out: Equations) -> None:
        """The size beside its fabric is its own."""
        for problem in problems(self, unit, sizes=("finished",)):
            out.problem(problem)
        for piece in pieces(unit)[:1]:
            for own, whole in zip(out.size_of(unit, piece), out.outer(unit), strict=True):
                out.total([(1, own)], whole, f"{called(unit)} is one piece of {piece.name}", unit.kind_span)
            sizes_beside(piece, out.outer(unit), called(unit), out)

    def make(self, unit: Unit, shop: Shop) -> Making:
        """One cloth, no seams; its raw outline lies the allowance outside."""
        fabric, choice = shop.fabric(unit, pieces(unit)[0]), chosen(self, unit)
        width, height = shop.width(unit), shop.height(unit)
        turned = ALLOWANCE if choice.value is None else shop.value(choice.value)
        turned = turned if choice.method is TURNED else ZERO
        try:
            outline = self.outline(width, height, unit, shop)
            raw = grown(outline, turned) if turned else outline
        except ValueError as wrong:
            shop.problem(Problem("cannot-sew", f"{called(unit).capitalize()} can't be made: {wrong}.", unit.kind_span))
            raise Unsettled(unit.key) from None
        if turned * 2 >= min(width, height):
            why = f"of {shown(min(width, height), shop)} no {shown(turned, shop)} can be turned under on both sides"
            shop.problem(Problem("cannot-sew", f"{called(unit).capitalize()} can't be made: {why}.", unit.kind_span))
            raise Unsettled(unit.key)
        cloth = Cloth(fabric, outline, (ONE, ZERO), template=True)
        cut = shape_cut(cloth, raw, shop)
        recipe = Recipe(choice.method, (cut,), numbers=TurnedUnder(turned))
        return shaped(unit, outline, (cloth,), (), recipe)
