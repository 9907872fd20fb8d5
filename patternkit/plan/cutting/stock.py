"""Cloth that comes in pieces: quarters, squares and bundles of strips, alone or before a length is bought."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import product

import msgspec

from patternkit.plan.cutting.bounds import LineBound, proofs
from patternkit.plan.cutting.ease_sheets import eased
from patternkit.plan.cutting.model import CuttingError, CuttingSettings, PieceDemand
from patternkit.plan.cutting.planner import plan
from patternkit.plan.cutting.sheets import TASTES, SheetBand, Taste, fill_sheet
from patternkit.plan.cutting.stock_model import CutSheet, SheetStrip, StockCloth, StockPlan
from patternkit.plan.cutting.task import CutKind, Dealer, check_input, task_of
from patternkit.plan.cutting.verify import bound_of
from patternkit.plan.cutting.verify_sheets import check_sheets, sheets_bound

_Filled = list[tuple[StockCloth, list[SheetBand]]]
WORTH = 1000
"""Worth of the cloth in a piece before any correction."""
MOST_SHEETS = 5000
"""How many sheets are planned at most: a bed's quilt of the smallest squares sold takes half as many."""
AGAIN = 20
"""How often each way of filling sheets is tried with corrected worths."""
FEWEST, FILLED = 5, 220
"""At least so often, and as often as so many sheets in all are filled anew (chosen here)."""
HOLD = (None, True, False)
"""Which half of the sizes is held back for cloth bought by length: none, the larger, the smaller."""


def plan_stock(
    pieces: Sequence[PieceDemand], stock: Sequence[StockCloth], settings: CuttingSettings, by_length: bool = False
) -> StockPlan:
    """Cut pieces from sheets, the stock named first being used first; every cut goes straight across.

    With `by_length`, what the sheets do not give is planned on cloth of the settings' width, and the sheets are filled
    so that little is left to buy. Whole strips come from stock of just their height. Raises `CuttingError` when a piece
    fits no sheet, or when the sheets do not suffice and nothing is bought.
    """
    _check(pieces, stock, settings, by_length)
    flat = [piece for piece in (_flat(p, stock, by_length) for p in pieces) if piece is not None]
    if not by_length:
        _bounded(flat, stock)
    kinds = _kinds(flat)
    held = HOLD if by_length or len(stock) > 1 else HOLD[:1]
    ways = [_cut_up(kinds, stock, settings.trim, way) for way in product(TASTES, held)]
    if by_length:
        return _with_length(pieces, flat, kinds, stock, settings, ways)
    whole = [filled for filled, left in ways if not any(left)]
    if not whole:
        raise _too_few(kinds, min((left for _, left in ways), key=sum))
    bound = sheets_bound(flat, stock)
    best = min(whole, key=lambda filled: _cost(filled, stock))
    best = _eased(_fewer(kinds, stock, settings.trim, best, bound), kinds, settings.trim)
    sheets, _ = _written(best, kinds)
    check_sheets(flat, {}, stock, settings, sheets)
    status = "proved" if _cost(best, stock)[0] == bound else "bounded"
    return StockPlan(sheets, _used(sheets, stock), bound, status)


def _check(
    pieces: Sequence[PieceDemand], stock: Sequence[StockCloth], settings: CuttingSettings, by_length: bool
) -> None:
    """Raise `CuttingError` for what cannot be cut from this stock at all."""
    if not stock:
        raise CuttingError("no stock is named to cut from")
    for one in stock:
        if one.width <= 0 or one.height <= 0 or (one.count is not None and one.count < 0):
            raise CuttingError(f"the stock {one.name!r} needs a width, a height and a count above nothing")
    if len({one.name for one in stock}) < len(stock):
        raise CuttingError("two stocks have the same name: give each its own")
    if by_length and any(one.count is None for one in stock):
        raise CuttingError("say how many sheets there are, if the rest is to be bought by length")
    widest = max([p.width for p in pieces] + [p.height for p in pieces] + [settings.width])
    check_input(pieces, settings if by_length else msgspec.structs.replace(settings, width=widest))
    for piece in pieces if not by_length else ():
        if piece.count and not any(_fits(piece, one) for one in stock):
            raise CuttingError(
                f"the piece {piece.id!r} is {piece.width} x {piece.height} and fits none of the stock: "
                "join it from smaller pieces, or buy cloth by length",
                piece.id,
            )


def _bounded(flat: Sequence[PieceDemand], stock: Sequence[StockCloth]) -> None:
    """Raise `CuttingError` for more cloth than anybody cuts from sheets: it would take as long as it is much."""
    largest = max(one.width * one.height for one in stock)
    area = sum(p.count * p.height * p.width for p in flat)
    if area > largest * MOST_SHEETS:
        raise CuttingError(f"it would take more than {MOST_SHEETS} of the largest sheets")


def _fits(piece: PieceDemand, one: StockCloth) -> bool:
    """Say whether a piece can be cut from a sheet of this stock."""
    if piece.full:
        return piece.height == one.height
    turned = piece.may_turn and not piece.along and piece.height <= one.width and piece.width <= one.height
    return turned or (piece.width <= one.width and piece.height <= one.height)


def _flat(piece: PieceDemand, stock: Sequence[StockCloth], by_length: bool) -> PieceDemand | None:
    """Give a piece as a plain rectangle to cut from sheets; None where only the length will do."""
    if not piece.count or (by_length and (piece.full or piece.along)):
        return None
    if piece.full:
        width = next(one.width for one in stock if one.height == piece.height)
        return msgspec.structs.replace(piece, width=width, full=False, may_turn=False)
    return msgspec.structs.replace(piece, along=False, may_turn=piece.may_turn and not piece.along)


def _kinds(flat: Sequence[PieceDemand]) -> tuple[CutKind, ...]:
    """Merge equal pieces; how they may lie is not limited by any one sheet."""
    return task_of(flat, max((max(p.width, p.height) for p in flat), default=1), True).kinds


def _fewer(kinds: Sequence[CutKind], stock: Sequence[StockCloth], trim: bool, first: _Filled, bound: int) -> _Filled:
    """Try again with other worths, in the hope of fewer sheets: kinds in ill-filled sheets come earlier.

    The worth of a kind follows what a sheet it lay in wasted (sequential value correction, after G. Belov and G.
    Scheithauer; reference from memory).
    """
    best = first
    rounds = max(FEWEST, min(AGAIN, FILLED // max(1, len(first))))  # many sheets take long to fill
    for taste in TASTES:
        worth = [WORTH] * len(kinds)
        filled = first
        for _ in range(rounds):
            if _cost(best, stock)[0] <= bound:
                return best
            worth = _corrected(kinds, filled, worth)
            filled, left = _cut_up(kinds, stock, trim, (taste, None), worth)
            if not any(left):
                best = min(best, filled, key=lambda one: _cost(one, stock))
    return best


def _corrected(kinds: Sequence[CutKind], filled: _Filled, worth: Sequence[int]) -> list[int]:
    """Move the worth of each kind toward what the sheets with its pieces took for each bit of cloth used."""
    target, pieces = [0] * len(kinds), [0] * len(kinds)
    for one, bands in filled:
        parts = [part for band in bands for part in band.parts]
        used = sum(w * h * n for _, w, h, n in parts)
        for kind, _, _, number in parts:
            target[kind] += number * WORTH * one.width * one.height // used
            pieces[kind] += number
    return [(2 * old + aim // many) // 3 if many else old for old, aim, many in zip(worth, target, pieces, strict=True)]


def _cut_up(
    kinds: Sequence[CutKind],
    stock: Sequence[StockCloth],
    trim: bool,
    way: tuple[Taste, bool | None],
    worth: Sequence[int] | None = None,
) -> tuple[_Filled, list[int]]:
    """Fill sheet after sheet; give what is cut from each and what is left of each kind."""
    taste, larger = way
    left = [kind.demand for kind in kinds]
    held = [0] * len(left)
    if larger is not None:
        order = sorted(range(len(left)), key=lambda i: max(kinds[i].sizes[0]), reverse=larger)
        for index in order[: len(order) // 2]:
            held[index], left[index] = left[index], 0
    filled: _Filled = []
    for stage in (0, 1):  # what was held back may still use sheets that nothing else needs
        if stage:
            left = [a + b for a, b in zip(left, held, strict=True)]
        used = Counter(one.name for one, _ in filled)
        for one in stock:
            free = one.count - used[one.name] if one.count is not None else None
            while any(left) and (free is None or free > 0):
                bands = fill_sheet((one.width, one.height), kinds, left, trim, taste, worth, one.squaring)
                if not bands:
                    break
                filled.append((one, bands))
                free = None if free is None else free - 1
        if larger is None:
            break
    return filled, left


def _eased(filled: _Filled, kinds: Sequence[CutKind], trim: bool) -> _Filled:
    """The same sheets with fewer strips."""
    return [(one, eased((one.width, one.height), bands, kinds, trim, one.squaring)) for one, bands in filled]


def _cost(filled: _Filled, stock: Sequence[StockCloth]) -> tuple[int, int, int, int]:
    """Rank ways of cutting sheets: those that must be got (all of them, where each is counted), then sheets, strips,
    different strips."""
    bands = [band for _, row in filled for band in row]
    counted = all(one.count is not None for one in stock)
    got = sum(counted or one.count is None for one, _ in filled)
    return got, len(filled), len(bands), len(set(bands))


def _written(filled: _Filled, kinds: Sequence[CutKind]) -> tuple[tuple[CutSheet, ...], Dealer]:
    """Write the sheets in order, equal ones together, with owners; give also what is still owed."""
    dealer = Dealer(kinds)
    sheets: list[CutSheet] = []
    for one, bands in filled:
        strips: list[SheetStrip] = []
        width, height = one.width, one.height
        for band in bands:
            width, height = (width, height - band.size) if band.across else (width - band.size, height)
            cuts = []
            for part in band.parts:
                side = part[2] if band.across else part[1]
                cuts += dealer.deal(part, side if side < band.size else None)
            strip = SheetStrip(band.across, band.size, 1, tuple(cuts))
            if strips and msgspec.structs.replace(strips[-1], copies=1) == strip:
                strips[-1] = msgspec.structs.replace(strip, copies=strips[-1].copies + 1)
            else:
                strips.append(strip)
        sheet = CutSheet(one.name, 1, tuple(strips), (width, height))
        if sheets and msgspec.structs.replace(sheets[-1], copies=1) == sheet:
            sheets[-1] = msgspec.structs.replace(sheet, copies=sheets[-1].copies + 1)
        else:
            sheets.append(sheet)
    return tuple(sheets), dealer


def _used(sheets: Sequence[CutSheet], stock: Sequence[StockCloth]) -> tuple[tuple[str, int], ...]:
    """Count the sheets of each stock."""
    return tuple((one.name, sum(s.copies for s in sheets if s.stock == one.name)) for one in stock)


def _too_few(kinds: Sequence[CutKind], left: Sequence[int]) -> CuttingError:
    """Say what the sheets do not suffice for."""
    names = [owner[0] for kind, number in zip(kinds, left, strict=True) if number for owner in kind.owners]
    return CuttingError(
        f"the stock gives {sum(left)} pieces too few ({', '.join(map(repr, names[:3]))}): "
        "take more of it, or buy the rest by length",
        names[0],
    )


def _with_length(
    pieces: Sequence[PieceDemand],
    flat: Sequence[PieceDemand],
    kinds: tuple[CutKind, ...],
    stock: Sequence[StockCloth],
    settings: CuttingSettings,
    ways: Sequence[tuple[_Filled, list[int]]],
) -> StockPlan:
    """Choose the way that leaves least to buy, and plan that length in full."""
    quick = msgspec.structs.replace(settings, solver=False)
    tried = []
    for filled, _ in ((_eased(filled, kinds, settings.trim), left) for filled, left in ways):
        sheets, dealer = _written(filled, kinds)
        rest = _rest(pieces, kinds, dealer)
        bought = plan(rest, quick)
        tried.append(((bought.lots, bought.length, *_cost(filled, stock)), sheets, rest))
    _, sheets, rest = min(tried, key=lambda t: t[0])
    bought = plan(rest, settings)
    given = {p.id: p.count - next((r.count for r in rest if r.id == p.id), 0) for p in flat}
    check_sheets(flat, given, stock, settings, sheets)
    bound = min(bought.length, _rest_bound(pieces, stock, settings))
    status = "proved" if bound == bought.length else "bounded"
    return StockPlan(sheets, _used(sheets, stock), 0, status, bought, bound)


def _rest(pieces: Sequence[PieceDemand], kinds: Sequence[CutKind], dealer: Dealer) -> list[PieceDemand]:
    """Give the pieces that the sheets do not give."""
    owed = {
        name: due
        for kind, dues in zip(kinds, dealer.owed, strict=True)
        for (name, _, _), due in zip(kind.owners, dues, strict=True)
    }
    return [msgspec.structs.replace(p, count=owed.get(p.id, p.count)) for p in pieces]


def _rest_bound(pieces: Sequence[PieceDemand], stock: Sequence[StockCloth], settings: CuttingSettings) -> int:
    """Bound the length to buy: all pieces, less the most that the sheets can hold of them."""
    plain = [msgspec.structs.replace(p, along=False, may_turn=p.may_turn and not p.along) for p in pieces]
    task = task_of(plain, settings.width, settings.trim)
    beds = tuple((min(s.width, settings.width), s.height * (s.count or 0)) for s in stock)
    whole = sum(p.height * p.count for p in pieces if p.full)
    task = msgspec.structs.replace(task, beds=beds, more=whole)
    wide = any(s.width > settings.width for s in stock)
    shown = [bound_of(task, proof) for proof in proofs(task) if isinstance(proof, LineBound)]
    return whole if wide else max([whole, *shown])
