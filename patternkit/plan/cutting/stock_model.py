"""Sheets of cloth and how they are cut: the shapes that the stock planner takes and gives."""

from __future__ import annotations

import msgspec

from patternkit.plan.cutting.model import CrossCut, CutPlan


class StockCloth(msgspec.Struct, frozen=True):
    """Pieces of cloth of one usable size, `width` across the cloth and `height` along its length.

    `count` is how many there are, such as the strips in a bundle; None for as many as are wanted. `squaring` is kept
    free in every strip cut off one, to square up its end, unless it holds a single piece.
    """

    name: str
    width: int
    height: int
    count: int | None = None
    squaring: int = 0


class SheetStrip(msgspec.Struct, frozen=True):
    """`copies` strips of `size` cut off what remains of a sheet, each cross-cut into `cuts`.

    A strip cut `across` is `size` high and as wide as what remains; otherwise it is `size` wide and as high as what
    remains. The `trimmed_to` of a cut is what its side along the strip's size is trimmed to.
    """

    across: bool
    size: int
    copies: int
    cuts: tuple[CrossCut, ...]


class CutSheet(msgspec.Struct, frozen=True):
    """`copies` equal sheets, each cut into the same strips in this order.

    `rest` is width and height of what remains of one.
    """

    stock: str
    copies: int
    strips: tuple[SheetStrip, ...]
    rest: tuple[int, int]


class StockPlan(msgspec.Struct, frozen=True):
    """Which sheets are cut and how; `used` counts the sheets of each stock in the order they were named.

    `bound` is proved: fewer sheets cannot do, of those there are as many of as are wanted; where all are counted, fewer
    in all. With a length bought as well it is 0, `rest` is the plan of that length, and `rest_bound` is the least
    length that any choice of pieces for the sheets leaves to buy. `status` is "proved" when the plan needs no more than
    the bound, else "bounded".
    """

    sheets: tuple[CutSheet, ...]
    used: tuple[tuple[str, int], ...]
    bound: int
    status: str
    rest: CutPlan | None = None
    rest_bound: int = 0
