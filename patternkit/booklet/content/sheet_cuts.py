"""Fabrics that come in sheets (fat quarters, squares, strips): how many to buy, and how each sheet is cut."""

from __future__ import annotations

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.booklet.content.piece_codes import code_of, coded
from patternkit.booklet.content.prints import any_will_do, prints_alike, prints_bought, prints_named, prints_shared
from patternkit.booklet.content.uses import (
    and_then,
    becomes,
    for_what,
    lain_side_by_side,
    side_by_side,
    so_many,
    use_of,
)
from patternkit.document import Block, Drawing, Figure, Paragraph, Table
from patternkit.drawing.cloth_sheets import DrawnBand, PieceRun, SheetCut, draw_sheet, is_long
from patternkit.lengths import Length
from patternkit.plan.model import FabricPlan
from patternkit.rehearsal.side_by_side import laid_shapes
from patternkit.work.model import CutByTemplate, CutStrips, LaidPiece, LaidSheet, LaidStrip


def sheet_count(plan: FabricPlan, ctx: Context, n: int | None = None) -> str:
    """``5 fat quarters``: as many as are cut, or `n`."""
    assert plan.fabric.stock is not None
    if plan.each is not None:
        return ctx.say("prints.lengths", n=plan.sheet_count if n is None else n, each=plan.each)
    return ctx.say(f"sheets.{plan.fabric.stock.form.replace('-', '_')}", n=plan.sheet_count if n is None else n)


def _scraps(n: int, width: Length, height: Length, ctx: Context) -> str:
    """``3 pieces of 10 x 12 in``"""
    return ctx.say("sheets.scraps", n=n, size=ctx.phrases.by(width, height))


def sheet_taking(plan: FabricPlan, ctx: Context) -> str:
    """What the cuts take: scraps, sheets, and a length where the sheets at hand do not do."""
    taken = [_scraps(n, one.width, one.height, ctx) for one, n in plan.scraps_cut]
    taken += [sheet_count(plan, ctx)] if plan.sheet_count else []
    return ctx.listed(taken + ([ctx.phrases.length(plan.used)] if plan.used else []))


def sheet_buying(plan: FabricPlan, ctx: Context) -> str:
    """What to buy: packs where they come in packs, else sheets, less what is at hand; and a length besides."""
    stock, bought = plan.fabric.stock, list[str]()
    if plan.prints and stock is not None and stock.pack == 1:
        return prints_bought(plan, lambda n: sheet_count(plan, ctx, n), ctx)
    if stock is not None and plan.packs:
        packs = ctx.say("sheets.packs", n=plan.packs, pack=sheet_count(plan, ctx, stock.pack))
        bought.append(packs if stock.pack > 1 else sheet_count(plan, ctx, plan.packs))
    bought += [ctx.phrases.yardage(plan.buy)] if plan.buy else []
    there = [sheet_count(plan, ctx, stock.have)] if stock is not None and stock.have else []
    there += [_scraps(x.count, x.width, x.height, ctx) for x in plan.fabric.scraps if x.count]
    at_hand = [ctx.say("sheets.have", what=ctx.listed(there))] if there else []
    return "; ".join([ctx.listed(bought), *at_hand] if bought else at_hand) or ctx.phrases.yardage(plan.buy)


def sheet_blocks(key: str, ctx: Context) -> list[Block]:
    """Table and drawings of the sheets of a fabric, and how many there are; nothing of cloth by length."""
    plan = ctx.plan.fabrics[key]
    stock = plan.fabric.stock
    if plan.sheets is None or not (plan.sheets.sheets or stock is not None):
        return []
    prefix = f"{slug(ctx.size_name)}-" if ctx.pattern.size or ctx.many else ""
    rows: list[tuple[str, ...]] = []
    figures: list[tuple[Drawing, ...]] = [()]  # short pieces stand beside each other, each long one by itself
    for number, sheet in enumerate(ctx.order.layout[key].sheets, 1):
        n = sheet.count
        what = sheet_count(plan, ctx, n) if sheet.form else _scraps(n, sheet.width, sheet.height, ctx)
        title, drawn_as = ctx.say("sheets.each", n=n, what=what), key
        if (alike := next((x for x in plan.prints if 0 <= number - 1 - x.first < x.many), None)) is not None:
            own = n // len(alike.numbers)
            title = prints_alike(alike, key, own, sheet_count(plan, ctx, own), ctx)
            drawn_as = prints_named(alike.numbers, key, ctx) or key
        rows += [("" if i else title, *_strip(strip, not i, ctx)) for i, strip in enumerate(sheet.strips)]
        drawn = _drawn(sheet, drawn_as, title, ctx)
        if drawn is not None:
            one = draw_sheet(drawn, ctx.swatches, ctx.look, key=f"cut-{prefix}{slug(key)}-{number}")
            figures[-1:] = [figures[-1], (one,), ()] if is_long(drawn) else [(*figures[-1], one)]
    intro = ctx.say("sheets.intro", size=ctx.phrases.by(stock.width, stock.height) if stock is not None else "")
    done: list[Block] = [Paragraph(intro)]
    if plan.prints:
        done = [Paragraph(words) for words in prints_shared(plan, ctx)]
    done.append(Table("", ctx.phrases.list("sheets.heads"), tuple(rows), "llll"))
    done += [Figure(drawings) for drawings in figures if drawings]
    bound = ""
    if plan.sheets.rest is None:
        proved = plan.sheets.status == "proved"
        bound = ctx.say("buy.proved") if proved else ctx.say("sheets.bound", n=plan.sheets.bound)
        bound = "" if any_will_do(plan, ctx) else bound
    used, buy = sheet_taking(plan, ctx), sheet_buying(plan, ctx)
    if plan.packs or plan.buy:
        return [*done, Paragraph(ctx.say("sheets.takes", used=used, buy=buy, bound=bound))]
    return [*done, Paragraph(ctx.say("sheets.enough", used=used, have=buy, bound=bound))]


def _strip(strip: LaidStrip, is_first: bool, ctx: Context) -> tuple[str, str, str]:
    """One strip of a sheet, the first or one of what is left: how it is cut off, what is cut from it, what that is
    for."""
    cuts = [(ctx.order.cutting[p.cutting], p) for p in strip.pieces]
    whys = "; ".join(dict.fromkeys(for_what(use_of(x), ctx) for x, _ in cuts))
    whole = [x for x, _ in cuts if isinstance(x, CutStrips)]
    if strip.kind == "down" and len(whole) == len(cuts):  # as wide as the sheet: nothing is cut down its length
        n = strip.count * sum(p.number for p in strip.pieces)
        return ctx.say("sheets.across", n=n, h=whole[0].height), ctx.say("cutting.keep_whole"), whys
    pieces = []
    for x, p in cuts:
        if isinstance(x, CutStrips):
            pieces.append(ctx.say("cutting.keep_whole"))
            continue
        if isinstance(x, CutByTemplate) and x.each:
            pieces.append(coded(code_of(x, ctx), side_by_side(p.number, p.size, lain_side_by_side(x, ctx), ctx)))
            continue
        words = so_many(p.number, p.size, p.trimmed, ctx) + and_then(becomes(x, ctx), p.number, p.leans, ctx)
        pieces.append(coded(code_of(x, ctx), words))
    cut_off = ctx.say(f"sheets.{strip.kind}", n=strip.count, h=strip.height, first=is_first)
    return cut_off, "; ".join(pieces), whys


def _drawn(sheet: LaidSheet, key: str, title: str, ctx: Context) -> SheetCut | None:
    """A sheet to scale; None when nothing is cut from it but what it is."""
    bands: list[DrawnBand] = []
    room = sheet.width  # across what remains
    for strip in sheet.strips:
        across, size = strip.kind == "across", strip.height
        runs = tuple(_run(p, across, ctx) for p in strip.pieces)
        if not across and size == room and strip.count == 1:
            # as wide as what remains: its pieces are strips across
            bands += [
                DrawnBand(True, r.along, r.count, (msgspec.structs.replace(r, count=1, along=r.side, side=r.along),))
                for r in runs
            ]
        else:
            bands.append(DrawnBand(across, size, strip.count, runs))
        if not across:
            room -= size * strip.count
    first = bands[0] if bands else None
    if first is None or (
        len(bands) == 1 and first.copies == 1 and first.size == sheet.height and _uncut(first, sheet.width)
    ):
        return None
    return SheetCut(key, sheet.width, sheet.height, tuple(bands), title)


def _uncut(band: DrawnBand, width: Length) -> bool:
    return band.across and len(band.runs) == 1 and band.runs[0].count == 1 and band.runs[0].along == width


def _run(p: LaidPiece, across: bool, ctx: Context) -> PieceRun:
    along, side = p.lies if across else (p.lies[1], p.lies[0])
    done = ctx.order.cutting[p.cutting]
    outlines = tuple(laid_shapes(ctx.order, done)) if isinstance(done, CutByTemplate) else ()
    called = code_of(done, ctx) or for_what(use_of(done), ctx)
    return PieceRun(called, p.number, along, side, ctx.phrases.by(*p.size), outlines)
