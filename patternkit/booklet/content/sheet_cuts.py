"""Fabrics that come in sheets (fat quarters, squares, strips): how many to buy, and how each sheet is cut."""

from __future__ import annotations

from fractions import Fraction

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.booklet.document import Block, Figure, Paragraph, Table
from patternkit.booklet.drawing.cuts import ClothCut, PieceCut, StripCut, draw_cuts
from patternkit.lengths import Length
from patternkit.plan.cutting.stock_model import Sheet, SheetStrip
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
    """What to buy: packs where they come in packs, else sheets, less what is at hand; and a length
    besides."""
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
        for i, strip in enumerate(sheet.strips):
            first = ctx.say("sheets.each", n=sheet.copies, what=sheet_count(plan, ctx, sheet.copies)) if not i else ""
            rows.append((first, *_strip(strip, plan, lines, uses, ctx)))
        drawn = _drawn(sheet, plan, uses)
        if drawn is not None:
            key = f"cut-{prefix}{slug(plan.fabric.key)}-{number}"
            drawings.append(draw_cuts(drawn, ctx.swatches, ctx.look, key=key))
    size = ctx.phrases.by(stock.width, stock.height)
    done: list[Block] = [Paragraph(ctx.say("sheets.intro", size=size))]
    done.append(Table("", ctx.phrases.list("sheets.heads"), tuple(rows), "llll"))
    done += [Figure((drawing,)) for drawing in drawings]
    bound = (
        ""
        if plan.sheets.rest is not None
        else ctx.say("buy.proved")
        if plan.sheets.status == "proved"
        else ctx.say("sheets.bound", n=plan.sheets.bound)
    )
    done.append(
        Paragraph(ctx.say("sheets.takes", used=sheet_taking(plan, ctx), buy=sheet_buying(plan, ctx), bound=bound))
    )
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
        told = "cutting.trimmed" if cut.trimmed_to is not None else "cutting.piece"
        text = ctx.say(told, n=cut.number, size=ctx.phrases.by(line.cut.width, line.cut.height))
        if line.cut.then in ("half", "quarter"):
            text += ", " + ctx.say(f"cutting.{line.cut.then}", n=cut.number * (2 if line.cut.then == "half" else 4))
        elif line.cut.then == "template":
            text += ", " + ctx.say("cutting.template")
        pieces.append(text)
    for_what = dict.fromkeys(uses[cut.piece] for cut in strip.cuts)
    first = ctx.say(way, n=strip.copies, h=_inches(strip.size, plan))
    return first, "; ".join(pieces), "; ".join(for_what)


def _drawn(sheet: Sheet, plan: FabricPlan, uses: dict[str, str]) -> ClothCut | None:
    """A sheet that is cut straight across, to scale; None when strips are cut down its length too."""
    stock = plan.fabric.stock
    if stock is None or stock.form == "strips" or not all(strip.across for strip in sheet.strips):
        return None
    strips = []
    for strip in sheet.strips:
        pieces = tuple(
            PieceCut(
                uses[cut.piece],
                cut.number,
                _inches(cut.width, plan),
                _inches(cut.height if cut.trimmed_to is None else cut.trimmed_to, plan),
            )
            for cut in strip.cuts
        )
        strips.append(StripCut(_inches(strip.size, plan), strip.copies, pieces))
    return ClothCut(plan.fabric.key, stock.width, tuple(strips), stock.height)


def _inches(value: int, plan: FabricPlan) -> Length:
    return Length(Fraction(value, plan.scale))
