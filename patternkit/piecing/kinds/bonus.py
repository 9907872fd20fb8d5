"""Half-squares from the waste of flipped corners: a second seam beside the first, before the corner is cut off.

The second seam runs two seam allowances outside the first, and the cut between them, a seam allowance from each. Of a
square of side `c` the corner that comes off then measures ``c - 2 root 2 s`` as a half-square: from the square's
diagonal to its corner are ``c / root 2``, the second seam takes ``2 s`` of them, and what is left is half a diagonal.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from patternkit.lengths import SQRT2, ZERO, Length
from patternkit.model.pattern import Component, Unit
from patternkit.piecing.asking import pieces, problems
from patternkit.piecing.kinds.base import Equations, Kind, Shop, Unsettled
from patternkit.piecing.leaves import Leaf, sides
from patternkit.piecing.making import Cloth, Making, Recipe, Seam, Waste
from patternkit.piecing.method import Method
from patternkit.piecing.offset import minus
from patternkit.piecing.shapes import called, making, shown, square
from patternkit.problems import Problem, Repair
from patternkit.units import show

if TYPE_CHECKING:
    from patternkit.piecing.batch import Batch
    from patternkit.piecing.sewing.desk import Desk

BONUS = Method("bonus", "of_waste", ruler="diagonal", formula="bonus")


class Bonus(Kind):
    """``bonus goose``: the unit whose corners are flipped."""

    words: ClassVar[tuple[str, ...]] = ("bonus",)
    written: ClassVar[str] = "bonus goose: the unit whose corners are flipped"
    methods: ClassVar[tuple[Method, ...]] = (BONUS,)

    def equations(self, unit: Unit, out: Equations) -> None:
        """It is square; how large it can be at most follows from the corners, and is looked at when it is made."""
        for problem in problems(self, unit):
            out.problem(problem)
        listed = pieces(unit)
        if listed and listed[0].fabric:
            out.problem(_no_corners(unit, listed[0]))
        square(unit, out, "is a half-square, as wide as it is high")

    def leaves(self, unit: Unit, out: Equations) -> Sequence[Leaf]:
        """It is trimmed to size."""
        return sides(out.outer(unit))

    def make(self, unit: Unit, shop: Shop) -> Making:
        """Two triangles and the seam between them, the base of the flipped unit upper left."""
        if not pieces(unit) or pieces(unit)[0].fabric:
            raise Unsettled(unit.key)
        source, _ = shop.part(unit, pieces(unit)[0])
        cuts = _corners(source) if isinstance(source, Making) else []
        if not cuts or not isinstance(source, Making):
            shop.problem(_no_corners(unit, pieces(unit)[0]))
            raise Unsettled(unit.key)
        if any(shop.is_print(fabric) for base, corner, _ in cuts for fabric in (base, corner)):
            shop.problem(_of_prints(unit, pieces(unit)[0]))
            raise Unsettled(unit.key)
        if len(set(cuts)) > 1:
            shop.problem(_unlike(unit, pieces(unit)[0]))
            raise Unsettled(unit.key)
        (base, corner, side), f = cuts[0], shop.width(unit)
        raw = side - SQRT2 * shop.seam * 2
        if f + shop.seam * 2 > raw:
            _too_large(unit, shop, raw)
            raise Unsettled(unit.key)
        ne, sw = (f, ZERO), (ZERO, f)
        cloths = Cloth(base, ((ZERO, ZERO), ne, sw)), Cloth(corner, (ne, (f, f), sw))
        way = {"left": "right", "right": "left"}.get(source.seams[0].pressed, source.seams[0].pressed)
        seam = Seam(sw, ne, (0,), (1,), way)  # type: ignore[arg-type]
        size = f + shop.seam * 2
        waste = Waste(source.key.plain, len(cuts))
        recipe = Recipe(BONUS, sewn=(raw, raw), trim_to=(size, size), waste=waste)
        return making(unit, f, f, cloths, (seam,), recipe)


def _corners(source: Making) -> list[tuple[str, str, Length]]:
    """For each flipped corner the fabric of the base, that of the corner, and the side of its square as it is cut; none
    of what is sewn in another way, or has more than one round."""
    if source.recipe.method.drawn != "flips" or len(source.seams) > 4 or not isinstance(source.parts[0].what, Cloth):
        return []
    found, base = [], source.parts[0].what
    for seam in source.seams:
        (part,) = seam.left
        placed = source.parts[part]
        if not isinstance(placed.what, Cloth):
            return []
        (corner,) = set(placed.place.outline(placed.what.outline)) - {seam.start, seam.end}
        leg = max(abs(side) for side in minus(seam.start, corner))
        cut = [c for c in source.recipe.cuts if (c.fabric, c.name) == (placed.what.fabric, placed.what.name)]
        if not cut:
            return []
        nearest = min(cut, key=lambda c: abs(c.exact_width - leg))
        found.append((base.fabric, placed.what.fabric, nearest.width))
    return found


# -- what can't be meant ------------------------------------------------------------------------------------
def _no_corners(unit: Unit, piece: Component) -> Problem:
    return Problem(
        "method-cannot",
        f"In {called(unit)}, no corner is cut off of {piece.name}.",
        piece.span,
        causes=(
            "Such half-squares are the waste of plain corners that are flipped onto plain cloth: of flipped-corners, "
            "or of flying-geese and a square-in-a-square by stitch and flip.",
        ),
        repairs=(Repair("write half-square with its two fabrics"),),
    )


def _of_prints(unit: Unit, piece: Component) -> Problem:
    return Problem(
        "method-cannot",
        f"In {called(unit)}, each {piece.name} is of a print of its own, and so is its waste.",
        piece.span,
        causes=("Which print a half-square of waste has is not known before it is cut off.",),
        repairs=(Repair("give it one fabric, or one print by its number"),),
    )


def _unlike(unit: Unit, piece: Component) -> Problem:
    return Problem(
        "method-cannot",
        f"In {called(unit)}, the corners of {piece.name} are not alike, and so is its waste.",
        piece.span,
        causes=("All its corners are of one fabric and one size where their waste is a unit.",),
        repairs=(Repair("write half-square with its two fabrics"),),
    )


def _too_large(unit: Unit, shop: Shop, raw: Length) -> None:
    most = Length(raw.floor_to(shop.grid)) - shop.seam * 2
    why = (
        f"With the second seam {show(shop.seam * 2, shop.units)} beside the first, what is cut off measures "
        f"{show(raw, shop.units)} when it is opened, before it is trimmed."
    )
    repairs = (Repair(f"write finished {shown(most, shop)}"),) if most > ZERO else ()
    shop.problem(
        Problem(
            "does-not-add-up",
            f"{called(unit).capitalize()} finishes {shown(shop.width(unit), shop)}, more than the waste gives.",
            unit.kind_span,
            causes=(why,),
            repairs=(*repairs, Repair("write half-square with its two fabrics")),
        )
    )


# -- as sewn ------------------------------------------------------------------------------------------------
def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """None of its own: it comes out of those of the unit whose waste it is."""
    return []
