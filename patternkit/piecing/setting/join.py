"""What all settings share: marks to pressing, and the cuts of plain cloth that is sewn in as it is."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from patternkit.lengths import Length
from patternkit.piecing.making import Cloth, Cut, Outline, Placed, Recipe, Side
from patternkit.piecing.workshop import Workshop
from patternkit.source import Span
from patternkit.syntax.statements import Mark

_SIDES: dict[str, Side] = {"|": "free", ">": "right", "<": "left", "<>": "open", ",": "free"}


def pressed(mark: Mark | None) -> tuple[Side, Span | None, Span | None]:
    """Pressing, the place of the words for it, and the place of the mark, for a seam whose `right` is the next piece."""
    if mark is None:
        return "free", None, None
    side = _SIDES[mark.mark]
    return side, (None if side == "free" else mark.span), mark.span


def rectangle_cut(cloth: Cloth, count: int, seam: Length, grid: Fraction, fixed: bool = False) -> Cut:
    """The cut of a plain rectangle: finished size and one seam on every side."""
    xs = [p[0] for p in cloth.outline]
    ys = [p[1] for p in cloth.outline]
    width, height = max(xs) - min(xs) + seam * 2, max(ys) - min(ys) + seam * 2
    return Cut(cloth.fabric, Length(width.ceil_to(grid)), Length(height.ceil_to(grid)), width, height, count,
               name=cloth.name, fixed_grain=fixed)


def cloth_recipe(phrase: str, parts: Iterable[Placed], shop: Workshop) -> Recipe:
    """A recipe that sews its parts together: the cuts are those of the plain rectangles among them."""
    counts: dict[tuple[str, str, Outline], int] = {}
    for part in parts:
        if isinstance(part.what, Cloth):
            key = (part.what.fabric, part.what.name, part.what.outline)
            counts[key] = counts.get(key, 0) + 1
    cuts = tuple(rectangle_cut(Cloth(fabric, outline, name=name), n, shop.seam, shop.grid)
                 for (fabric, name, outline), n in counts.items())
    return Recipe("joined", phrase, cuts)
