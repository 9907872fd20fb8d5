"""A patch: one rectangle of plain cloth."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

import msgspec

from patternkit.lengths import ONE, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.asking import chosen, pieces, problems
from patternkit.piecing.kinds.base import Equations, Kind, Shop
from patternkit.piecing.leaves import Leaf, sides
from patternkit.piecing.making import Cloth, Making, PieceCut, Recipe, rectangle
from patternkit.piecing.method import Method, meant
from patternkit.piecing.shapes import called, cloth_cut, making, sizes_in_place
from patternkit.piecing.templates import up
from patternkit.problems import Problem

OVERSIZE = ONE
"""What a ground is cut larger each way, in inches, where the writer says no number (common practice, no source)."""
PATCH = Method("patch", adds_up=True, as_cut=True)
FUSSY = Method("fussy cut", also=("fussy",), adds_up=True, as_cut=True)


def is_fussy(unit: Unit) -> bool:
    """Whether each piece of a patch shows a motif of its own."""
    return unit.kind == "patch" and unit.method is not None and meant((FUSSY,), unit.method.words) is FUSSY


class PlainPatch(Kind):
    """``patch stone``: any size; ``finished 3 x 4`` or ``cut 3 1/2 x 4 1/2`` under it, or a size beside the fabric."""

    words: ClassVar[tuple[str, ...]] = ("patch",)
    methods: ClassVar[tuple[Method, ...]] = (PATCH, FUSSY)
    oversize: ClassVar[bool] = True
    cloth_only: ClassVar[str] = "A unit needs no patch round it: write its name where this one is used."
    written: ClassVar[str] = "patch stone, with its size under it or beside the fabric"

    def equations(self, unit: Unit, out: Equations) -> None:
        """The patch is its one piece."""
        for problem in problems(self, unit, sizes=("finished", "cut"), own_cut=True):
            out.problem(problem)
        if chosen(self, unit).oversize and not unit.laid_on:
            out.problem(_nothing_on_it(unit))
        for piece in pieces(unit)[:1]:
            for own, whole in zip(out.size_of(unit, piece), out.outer(unit), strict=True):
                out.total([(1, own)], whole, f"{called(unit)} is one patch of {piece.name}", unit.kind_span)
            sizes_in_place(unit, piece, out)
            if piece.width is not None and piece.height is None:
                sizes_in_place(unit, piece, out, "h")  # one length stands for both sides of a square

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """Both sides."""
        fixed = any(p.cut for p in pieces(unit)) or any(claim.word == "cut" for claim in unit.claims)
        return sides(out.outer(unit), fixed, plain=True)

    def make(self, unit: Unit, shop: Shop) -> Making:
        """One cloth, no seams."""
        fabric = shop.fabric(unit, pieces(unit)[0])
        width, height = shop.width(unit), shop.height(unit)
        cloth = Cloth(fabric, rectangle(width, height), (ONE, ZERO))
        cut, method = cloth_cut(cloth, shop, lines=shop.stated_cuts(unit)), chosen(self, unit).method
        choice = chosen(self, unit)
        if choice.oversize:  # the sewing draws it in; trimmed once all is laid on
            larger = OVERSIZE if choice.value is None else shop.value(choice.value)
            cut = cut_larger(cut, larger, shop)
        if method is FUSSY:  # upright, as the motif is
            cut = msgspec.structs.replace(cut, fussy=True, fixed_grain=True)
        recipe = Recipe(method, (cut,))
        return making(unit, width, height, (cloth,), (), recipe)


def cut_larger(cut: PieceCut, by: Length, shop: Shop) -> PieceCut:
    """A rectangle cut so much larger each way, on the ruler's lines."""
    wide, high = (up(side + by, shop.grid) for side in (cut.exact_width, cut.exact_height))
    return msgspec.structs.replace(
        cut, width=wide, height=high, exact_width=cut.exact_width + by, exact_height=cut.exact_height + by, stated=None
    )


def _nothing_on_it(unit: Unit) -> Problem:
    return Problem(
        "out-of-place",
        f"In {called(unit)}, oversize says nothing: a patch is cut just as large as it is sewn.",
        unit.method.span if unit.method is not None else unit.kind_span,
        causes=("A ground is cut larger, and trimmed once everything is laid on it: applique stands under it then.",),
    )
