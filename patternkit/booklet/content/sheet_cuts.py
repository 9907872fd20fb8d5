"""Fabrics that come in sheets (fat quarters, squares, strips): how many to buy, and how each sheet is cut."""

from __future__ import annotations

from fractions import Fraction

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.document import Block, Figure, Paragraph, Table
from patternkit.drawing.cloth_sheets import DrawnBand, PieceRun, SheetCut, draw_sheet
from patternkit.lengths import Length
from patternkit.plan.cutting.model import CrossCut
from patternkit.plan.cutting.stock_model import CutSheet, SheetStrip
from patternkit.plan.model import CutLine, FabricPlan


def sheet_count(plan: FabricPlan, ctx: Context, n: int | None = None) -> str:
    """``5 fat quarters``: as many as are cut, or `n`."""
    assert plan.fabric.stock is not None
    return ctx.say(f"sheets.{plan.fabric.stock.form.replace('-', '_')}", n=plan.sheet_count if n is None else n)


def sheet_taking(plan: FabricPlan, ctx: Context) -> str:
    """What the cuts take: sheets, and a length where the sheets at hand do not do."""
    taken = [sheet_count(plan, ctx)] if plan.sheet_count else []
    return ctx.listed(taken + ([ctx.phrases.length(plan.used)] if plan.used else []))


def sheet_buying(plan: FabricPlan, ctx: Context) -> str:
    """What to buy: packs where they come in packs, else sheets, less what is at hand; and a length besides."""
    stock = plan.fabric.stock
    assert stock is not None
    if stock.pack > 1:
        told = ctx.say("sheets.packs", n=plan.packs, pack=sheet_count(plan, ctx, stock.pack))
    else:
        told = sheet_count(plan, ctx, plan.packs)
    bought = [told] if plan.packs else []
    bought += [ctx.phrases.yardage(plan.buy)] if plan.buy else []
    at_hand = [ctx.say("sheets.have", what=sheet_count(plan, ctx, stock.have))] if stock.have else []
    return ", ".join([ctx.listed(bought), *at_hand] if bought else at_hand) or ctx.phrases.yardage(plan.buy)


def sheet_blocks(plan: FabricPlan, ctx: Context, prefix: str, uses: dict[str, str]) -> list[Block]:
    """Table and drawings of the sheets, and how many there are. `uses` says what each cutting line is for."""
    stock = plan.fabric.stock
    if plan.sheets is None or stock is None:
        return []
    rows: list[tuple[str, ...]] = []
    drawings = []
    lines = {line.id: line for line in plan.lines}
    for number, sheet in enumerate(plan.sheets.sheets, 1):
        title = ctx.say("sheets.each", n=sheet.copies, what=sheet_count(plan, ctx, sheet.copies))
        for i, strip in enumerate(sheet.strips):
            rows.append(("" if i else title, *_strip(strip, plan, lines, uses, ctx)))
        drawn = _drawn(sheet, plan, lines, uses, title, ctx)
        if drawn is not None:
            key = f"cut-{prefix}{slug(plan.fabric.key)}-{number}"
            drawings.append(draw_sheet(drawn, ctx.swatches, ctx.look, key=key))
    size = ctx.phrases.by(stock.width, stock.height)
    done: list[Block] = [Paragraph(ctx.say("sheets.intro", size=size))]
    done.append(Table("", ctx.phrases.list("sheets.heads"), tuple(rows), "llll"))
    done += [Figure(tuple(drawings))] if drawings else []
    bound = (
        ""
        if plan.sheets.rest is not None
        else ctx.say("buy.proved")
        if plan.sheets.status == "proved"
        else ctx.say("sheets.bound", n=plan.sheets.bound)
    )
    if plan.packs or plan.buy:
        told = ctx.say("sheets.takes", used=sheet_taking(plan, ctx), buy=sheet_buying(plan, ctx), bound=bound)
    else:
        told = ctx.say("sheets.enough", used=sheet_taking(plan, ctx), have=sheet_buying(plan, ctx), bound=bound)
    done.append(Paragraph(told))
    return done


def _strip(
    strip: SheetStrip, plan: FabricPlan, lines: dict[str, CutLine], uses: dict[str, str], ctx: Context
) -> tuple[str, str, str]:
    """One strip of a sheet: how it is cut off, what is cut from it, what that is for."""
    if not strip.across and all(lines[cut.piece].cut.then == "strip" for cut in strip.cuts):
        # as wide as the sheet: nothing is cut down its length
        n = strip.copies * sum(cut.number for cut in strip.cuts)
        first = ctx.say("sheets.across", n=n, h=lines[strip.cuts[0].piece].cut.height)
        return (
            first,
            ctx.say("cutting.keep_whole"),
            "; ".join(dict.fromkeys(uses[cut.piece] for cut in strip.cuts)),
        )
    way = "sheets.across" if strip.across else "sheets.down"
    pieces = []
    for cut in strip.cuts:
        line = lines[cut.piece]
        if line.cut.then == "strip":
            pieces.append(ctx.say("cutting.keep_whole"))
            continue
        height = _inches(cut.trimmed_to, plan) if cut.trimmed_to is not None else None
        told = "cutting.trimmed" if height is not None else "cutting.piece"
        text = ctx.say(told, n=cut.number, size=ctx.phrases.by(line.cut.width, line.cut.height), h=height)
        if line.cut.then in ("half", "quarter"):
            n = cut.number * (2 if line.cut.then == "half" else 4)
            text += ", " + ctx.say(f"cutting.{line.cut.then}", n=n, leans=line.cut.leans)
        elif line.cut.then == "template":
            text += ", " + ctx.say("cutting.template")
        pieces.append(text)
    for_what = dict.fromkeys(uses[cut.piece] for cut in strip.cuts)
    first = ctx.say(way, n=strip.copies, h=_inches(strip.size, plan))
    return first, "; ".join(pieces), "; ".join(for_what)


def _drawn(
    sheet: CutSheet, plan: FabricPlan, lines: dict[str, CutLine], uses: dict[str, str], title: str, ctx: Context
) -> SheetCut | None:
    """A sheet to scale; None when nothing is cut from it but what it is."""
    stock = plan.fabric.stock
    assert stock is not None
    bands: list[DrawnBand] = []
    room = stock.width  # across what remains
    for strip in sheet.strips:
        size = _inches(strip.size, plan)
        runs = tuple(_run(cut, strip.across, lines[cut.piece], uses, plan, ctx) for cut in strip.cuts)
        if not strip.across and size == room and strip.copies == 1:
            # as wide as what remains: its pieces are strips across
            bands += [
                DrawnBand(True, r.along, r.count, (msgspec.structs.replace(r, count=1, along=r.side, side=r.along),))
                for r in runs
            ]
        else:
            bands.append(DrawnBand(strip.across, size, strip.copies, runs))
        if not strip.across:
            room -= size * strip.copies
    first = bands[0] if bands else None
    if first is None or (
        len(bands) == 1 and first.copies == 1 and first.size == stock.height and _uncut(first, stock.width)
    ):
        return None
    return SheetCut(plan.fabric.key, stock.width, stock.height, tuple(bands), title)


def _uncut(band: DrawnBand, width: Length) -> bool:
    return band.across and len(band.runs) == 1 and band.runs[0].count == 1 and band.runs[0].along == width


def _run(cut: CrossCut, across: bool, line: CutLine, uses: dict[str, str], plan: FabricPlan, ctx: Context) -> PieceRun:
    along, side = (cut.width, cut.height) if across else (cut.height, cut.width)
    size = ctx.phrases.by(line.cut.width, line.cut.height)
    return PieceRun(uses[cut.piece], cut.number, _inches(along, plan), _inches(side, plan), size)


def _inches(value: int, plan: FabricPlan) -> Length:
    return Length(Fraction(value, plan.scale))
