"""The check of plans for sheets, and how many sheets cannot do; whole numbers only."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import ceil

from patternkit.plan.cutting.model import CuttingSettings, PieceDemand
from patternkit.plan.cutting.stock_model import CutSheet, SheetStrip, StockCloth
from patternkit.plan.cutting.verify import need
from patternkit.plan.cutting.weights import Weight, choices, weigh


def check_sheets(
    flat: Sequence[PieceDemand],
    given: Mapping[str, int],
    stock: Sequence[StockCloth],
    settings: CuttingSettings,
    sheets: Sequence[CutSheet],
) -> None:
    """Raise `BadPlan` unless each sheet exists, every strip fits what remains, and the pieces are those due.

    `given` says how many of each piece the sheets owe where that is not all of them.
    """
    by_name = {one.name: one for one in stock}
    by_id = {piece.id: piece for piece in flat}
    got: Counter[str] = Counter()
    used: Counter[str] = Counter()
    for sheet in sheets:
        need(sheet.stock in by_name and sheet.copies > 0, f"there is no stock {sheet.stock!r}")
        used[sheet.stock] += sheet.copies
        one = by_name[sheet.stock]
        width, height = one.width, one.height
        for strip in sheet.strips:
            for name, number in _strip(strip, (width, height), by_id, settings.trim, one.squaring).items():
                got[name] += number * strip.copies * sheet.copies
            if strip.across:
                height -= strip.size * strip.copies
            else:
                width -= strip.size * strip.copies
            need(width >= 0 and height >= 0 and strip.copies > 0, "strips take more than the sheet has")
        need(sheet.rest == (width, height), "what remains of a sheet is stated wrongly")
    for one in stock:
        need(one.count is None or used[one.name] <= one.count, f"more of {one.name!r} is cut than there is")
    due = {p.id: given.get(p.id, p.count) for p in flat}
    need(dict(got) == {name: number for name, number in due.items() if number}, "the sheets give other pieces")


def _strip(
    strip: SheetStrip, left: tuple[int, int], by_id: Mapping[str, PieceDemand], trim: bool, squaring: int
) -> Counter[str]:
    """Check one strip cut off what remains, and count its pieces."""
    got: Counter[str] = Counter()
    alone = sum(cut.number for cut in strip.cuts) == 1
    room = left[0 if strip.across else 1] - (0 if alone else squaring)
    taken = 0
    for cut in strip.cuts:
        piece = by_id[cut.piece]
        own = (piece.height, piece.width) if cut.turned else (piece.width, piece.height)
        need((cut.width, cut.height) == own and (piece.may_turn or not cut.turned), f"{cut} is not {piece}")
        along, side = (cut.width, cut.height) if strip.across else (cut.height, cut.width)
        need(side == strip.size or (trim and side < strip.size), f"{cut} does not lie in its strip")
        need(cut.trimmed_to == (side if side < strip.size else None), f"{cut} hides a trimming cut")
        taken += along * cut.number
        got[cut.piece] += cut.number
    need(0 < taken <= room, "the pieces of a strip do not fit it")
    return got


def sheets_bound(flat: Sequence[PieceDemand], stock: Sequence[StockCloth]) -> int:
    """Prove how many sheets are needed at least: of those of which there are as many as are wanted, the others all cut
    up first; where all are counted, of any, taking each to be as wide and as high as the largest.

    A sheet's weight is the product of a weight for widths and one for heights, and so is a piece's; with both
    superadditive, no way of cutting a sheet gives more weight than the sheet has (S. P. Fekete and J. Schepers, "A
    general framework for bounds for higher-dimensional orthogonal packing problems", 2004; reference from memory).
    """
    width, height = max(s.width for s in stock), max(s.height for s in stock)
    sides = {side for p in flat for side in (p.width, p.height)}
    wanted = [s for s in stock if s.count is None]
    counted = [s for s in stock if s.count is not None] if wanted else []
    apart = [not any(_ways(p, s.width, s.height) for s in counted) for p in flat]
    across = _tables(sides, width, {s.width for s in stock})
    down = _tables(sides, height, {s.height for s in stock})
    best = Fraction(0)
    for full_w, by_w in across:
        for full_h, by_h in down:
            loads = [p.count * min(by_w[w] * by_h[h] for w, h in _ways(p, width, height)) for p in flat]
            given = sum(by_w[s.width] * by_h[s.height] * s.count for s in stock if s.count) if wanted else 0
            only = sum(load for load, none in zip(loads, apart, strict=True) if none)  # what fits none of those at hand
            each = max((by_w[s.width] * by_h[s.height] for s in wanted), default=full_w * full_h)
            if each:
                best = max(best, Fraction(max(sum(loads) - given, only), each))
    return ceil(best)


def _ways(piece: PieceDemand, width: int, height: int) -> list[tuple[int, int]]:
    """Give the ways a piece may lie on a sheet."""
    sizes = [(piece.width, piece.height), (piece.height, piece.width)]
    return [s for s in sizes[: 1 + piece.may_turn] if s[0] <= width and s[1] <= height]


def _tables(sides: set[int], length: int, sheets: set[int], most: int = 24) -> list[tuple[int, dict[int, int]]]:
    """Give a few weights, each as its weight of the whole, of every side that fits and of the sheets' own sides."""
    fits = {side for side in sides if side <= length}
    if not fits:
        return []
    names: list[Weight] = list(choices(fits, length))[:most]
    return [(weigh(n, length, length), {s: weigh(n, s, length) for s in fits | sheets}) for n in names]
