"""How each fabric is cut: its table, its drawing to scale, the strips joined for long pieces, what is left."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import msgspec

from patternkit.booklet.content.alike_strips import alike
from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.booklet.content.sheet_cuts import sheet_blocks
from patternkit.booklet.content.taking import template_name
from patternkit.booklet.phrases import Listing, Printed
from patternkit.document import Block, Bullets, Drawing, Figure, Paragraph, Section, Table
from patternkit.drawing import from_plan
from patternkit.drawing.cuts import WIDE, ClothCut, StripCut, draw_cuts
from patternkit.lengths import Length
from patternkit.piecing.names import HALF_STRIP, SHORT_STRIP
from patternkit.plan.cutting.model import CrossCut, CutPlan, Strip
from patternkit.plan.lying import lying
from patternkit.plan.model import CutLine, FabricPlan, LongStrip, Uses


def fabric_cuts(ctx: Context, key: str) -> Section:
    """One fabric: table, totals, strips to join, drawing, cloth used."""
    plan = ctx.plan.fabrics[key]
    prefix = f"{slug(ctx.size_name)}-" if ctx.pattern.size else ""
    section, title = f"cut-{prefix}{slug(key)}", ctx.fabric(key)
    sheets = sheet_blocks(plan, ctx, prefix, {line.id: use_of(line, ctx) for line in plan.lines})
    if sheets and not plan.plan.strips:
        joined = [Paragraph(long_words(long, ctx)) for long in ctx.plan.long_strips if long.fabric == key]
        return Section(section, title, (*sheets[:-1], *joined, sheets[-1]))
    blocks: list[Block] = [*sheets, cutting_table(plan, ctx)]
    totals = _totals(plan, ctx)
    if totals:
        blocks += [Paragraph(ctx.say("cutting.totals")), Bullets(tuple(totals))]
    blocks += [Paragraph(long_words(long, ctx)) for long in ctx.plan.long_strips if long.fabric == key]
    blocks += [Figure((fabric_drawing(plan, ctx),)), Paragraph(fabric_takes(plan, ctx))]
    return Section(section, title, tuple(blocks))


def fabric_drawing(plan: FabricPlan, ctx: Context, share: float = WIDE) -> Drawing:
    """One fabric laid out to scale, its width a share of the page's."""
    prefix = f"{slug(ctx.size_name)}-" if ctx.pattern.size else ""
    key = f"cut-{prefix}{slug(plan.fabric.key)}"
    return draw_cuts(cloth_cut(plan, ctx), ctx.swatches, ctx.look, key=key, share=share)


def fabric_takes(plan: FabricPlan, ctx: Context) -> str:
    """What the cuts of a fabric take, what to buy for them, and how near that is to the least possible."""
    bound = ctx.say("buy.proved") if plan.buy == plan.least else ctx.say("buy.gap", gap=plan.buy - plan.least)
    return ctx.say("cutting.takes", used=plan.used, buy=plan.buy, bound=bound)


def as_told(plan: FabricPlan, ctx: Context) -> CutPlan:
    """A fabric's plan with all strips together that a cutter cannot tell apart."""
    return alike(plan, lambda line: use_of(line, ctx))


def cutting_table(plan: FabricPlan, ctx: Context) -> Table:
    """One fabric's cuts in order: the strips, what comes from each, how many pieces in all, for what."""
    by_id = {line.id: line for line in plan.lines}
    rows: list[tuple[str, ...]] = []
    whole: set[int] = set()  # heights of whole strips that have their row
    strips = as_told(plan, ctx).strips
    for strip in strips:
        shapes = [by_id[cut.piece] for cut in strip.cuts if by_id[cut.piece].per_strip]
        if strip.kind == "full" and shapes:
            rows.append(_shapes_row(strip, shapes[0], plan, ctx))
        elif strip.kind == "full" and strip.height not in whole:
            whole.add(strip.height)
            same = [s for s in strips if s.kind == "full" and s.height == strip.height]
            plain = [s for s in same if not any(by_id[c.piece].per_strip for c in s.cuts)]
            rows.append(_whole_row(plain, by_id, plan, ctx))
        elif strip.kind == "full":
            continue
        else:
            rows.append(_strip_row(strip, by_id, plan, ctx))
    return Table("", ctx.phrases.list("cutting.heads"), tuple(rows), "llll")


def _shapes_row(strip: Strip, line: CutLine, plan: FabricPlan, ctx: Context) -> tuple[str, ...]:
    """Strips from which slanted shapes are cut one beside the other."""
    each = ctx.say("cutting.shapes", n=line.per_strip)
    first = ctx.say("cutting.strip", n=strip.copies, h=_inches(strip.height, plan))
    return first, each, str(line.count), use_of(line, ctx)


def _whole_row(strips: list[Strip], by_id: dict[str, CutLine], plan: FabricPlan, ctx: Context) -> tuple[str, ...]:
    """Strips of one height that are used whole, for whatever they are."""
    uses = whole_uses(strips, by_id, ctx)
    n = sum(s.copies for s in strips)
    first = ctx.say("cutting.strip", n=n, h=_inches(strips[0].height, plan))
    return first, ctx.say("cutting.keep_whole"), str(n), _counted(uses, ctx)


def whole_uses(strips: Sequence[Strip], by_id: dict[str, CutLine], ctx: Context) -> dict[str, int]:
    """What whole strips are for, with how many of them for each."""
    uses: dict[str, int] = {}
    for strip in strips:
        for cut in strip.cuts:
            use = use_of(by_id[cut.piece], ctx)
            uses[use] = uses.get(use, 0) + strip.copies
    return uses


class StripPiece(msgspec.Struct, frozen=True):
    """Pieces of one kind that come from one strip: in words, how many, what they are for, what becomes of them
    (``half``, ``quarter``, ``template`` or nothing), and how a halved rectangle's diagonal leans."""

    each: str
    number: int
    uses: dict[str, int]
    becomes: str
    leans: str = ""

    def then(self, n: int, ctx: Context) -> str:
        """What is done with `n` of them next, after a comma; nothing where they stay as they are."""
        if self.becomes == "template":
            return ", " + ctx.say("cutting.template")
        if self.becomes in ("half", "quarter"):
            n *= 2 if self.becomes == "half" else 4
            return f", {ctx.say(f'cutting.{self.becomes}', n=n, leans=self.leans)}"
        return ""

    def in_all(self, copies: int, ctx: Context) -> str:
        """How many come from so many strips, and what is done with them next."""
        n = self.number * copies
        return f"{n}{self.then(n, ctx)}"


def strip_pieces(strip: Strip, by_id: dict[str, CutLine], ctx: Context) -> list[StripPiece]:
    """What is cut from one strip, pieces of one size together."""
    pieces: dict[tuple[str, Length | None, str, str], dict[str, int]] = {}
    for cut in strip.cuts:
        line = by_id[cut.piece]
        # width before height as the piece is named in its unit; what is halved as it lies, for its diagonal's sake
        lain = lying(line.cut, cut.turned)
        size = ctx.phrases.by(lain.width, lain.height)
        uses = pieces.setdefault((size, _trimmed(cut, line), lain.then, lain.leans), {})
        uses[use_of(line, ctx)] = uses.get(use_of(line, ctx), 0) + cut.number
    found = []
    for (size, height, becomes, leans), uses in pieces.items():
        n = sum(uses.values())
        told = "cutting.trimmed" if height is not None else "cutting.piece"
        found.append(StripPiece(ctx.say(told, n=n, size=size, h=height), n, uses, becomes, leans))
    return found


def _trimmed(cut: CrossCut, line: CutLine) -> Length | None:
    """To which of its sides a piece is trimmed that is cut from a higher strip; None where the strip has its height."""
    if cut.trimmed_to is None:
        return None
    return line.cut.width if cut.turned else line.cut.height


def _strip_row(strip: Strip, by_id: dict[str, CutLine], plan: FabricPlan, ctx: Context) -> tuple[str, ...]:
    height = _inches(strip.height, plan)
    key = "cutting.along" if strip.kind == "along" else "cutting.leftover" if strip.source else "cutting.strip"
    pieces = strip_pieces(strip, by_id, ctx)
    totals = [p.in_all(strip.copies, ctx) for p in pieces]
    whys = [_counted({use: m * strip.copies for use, m in p.uses.items()}, ctx) for p in pieces]
    return (
        ctx.say(key, n=strip.copies, h=height, label=strip.source),
        "; ".join(p.each for p in pieces),
        "; ".join(totals),
        "; ".join(whys if len(set(whys)) > 1 else whys[:1]),
    )


def use_of(line: CutLine, ctx: Context) -> str:
    """What a line is for; long pieces by each of their names."""
    if line.cut.then == "template":
        making = next((c.making for c in ctx.plan.counts if line.cut in c.making.recipe.cuts), None)
        return template_name(making, line.cut, ctx) if making is not None else _said(line.use, ctx)
    told = _said((*line.use, *line.also), ctx)
    if line.cut.name == HALF_STRIP:
        return ctx.say("names.half_strip", title=told)
    if line.cut.name == SHORT_STRIP:
        return ctx.say("names.short_strip", title=told)
    return told if line.also else ", ".join(_long_uses(line, ctx)) or told


def _said(uses: Uses, ctx: Context) -> str:
    return ctx.listed(list(dict.fromkeys(map(ctx.names.said, uses))))


def _long_uses(line: CutLine, ctx: Context) -> list[str]:
    """The long pieces that are cut from a line's strips joined end to end; none of any other line."""
    if line.cut.then != "strip":
        return []
    for long in ctx.plan.long_strips:
        if long.fabric == line.fabric and long.use == line.use:
            return sorted({ctx.names.said(name) for _, _, name in long.lengths})  # one order in all sizes
    return []


def uses(ctx: Context, key: str) -> str:
    """All that a fabric is for, each thing once."""
    told = [use for x in ctx.plan.fabrics[key].lines for use in _long_uses(x, ctx) or [use_of(x, ctx)]]
    names = list(dict.fromkeys(told))
    return ("; " if any(", " in name for name in names) else ", ").join(names)


def _counted(uses: dict[str, int], ctx: Context) -> str:
    return next(iter(uses)) if len(uses) == 1 else ", ".join(f"{use} ({n})" for use, n in uses.items())


def _totals(plan: FabricPlan, ctx: Context) -> list[str]:
    """Pieces that come from more than one line of the table, added up."""
    lines: dict[str, int] = {}
    for strip in as_told(plan, ctx).strips:
        for cut in strip.cuts:
            lines[cut.piece] = lines.get(cut.piece, 0) + (strip.kind != "full")
    found: dict[tuple[str, str], int] = {}
    often: set[tuple[str, str]] = set()
    for line in plan.lines:
        if line.cut.then == "strip":
            continue
        key = (ctx.phrases.by(line.cut.width, line.cut.height), use_of(line, ctx))
        found[key] = found.get(key, 0) + line.count
        if lines.get(line.id, 0) > 1:
            often.add(key)
    return [
        ctx.say("cutting.total", n=n, size=size, use=use) for (size, use), n in found.items() if (size, use) in often
    ]


def long_words(long: LongStrip, ctx: Context) -> str:
    """The strips joined end to end, and what is cut from them."""
    fabric, items = ctx.fabric(long.fabric), ctx.phrases.render(long_items(long, ctx))
    return ctx.say("cutting.long", n=long.strips, h=long.height, fabric=fabric, items=items)


def long_items(long: LongStrip, ctx: Context) -> Listing:
    """What is cut from strips joined end to end."""
    merged: dict[tuple[Length, str], int] = {}
    for length, n, name in long.lengths:
        key = (length, ctx.names.said(name))
        merged[key] = merged.get(key, 0) + n
    items = ((Printed("length", (length,)), n, name) for (length, name), n in merged.items())
    return Listing(tuple(ctx.state("cutting.long_item", n=n, length=size, name=name) for size, n, name in items))


def cloth_cut(plan: FabricPlan, ctx: Context) -> ClothCut:
    """The cutting plan as the drawing room is told it, whole strips of one height together."""
    labels = {line.id: use_of(line, ctx) for line in plan.lines}
    leans = {
        (line.id, turned): lying(line.cut, turned).leans
        for line in plan.lines
        if line.cut.then == "half" and line.cut.width != line.cut.height
        for turned in (False, True)
    }
    drawn = from_plan.cloth_cut(plan.fabric.key, as_told(plan, ctx), plan.scale, labels, leans)
    strips: list[StripCut] = []
    for strip in drawn.strips:
        last = strips[-1] if strips else None
        if strip.whole and last is not None and last.whole and last.height == strip.height:
            strips[-1] = StripCut(last.height, last.copies + strip.copies, (), True)
        else:
            strips.append(strip)
    return ClothCut(drawn.fabric, drawn.width, tuple(strips), drawn.length)


def _inches(value: int, plan: FabricPlan) -> Length:
    return Length(Fraction(value, plan.scale))


def pieces_by_size(ctx: Context) -> Table:
    """All pieces to cut with a column of counts for each size."""
    rows: dict[tuple[str, str, str], list[str]] = {}
    for i, c in enumerate(ctx.sizes):
        for line in c.plan.lines:
            what = (
                c.say("cutting.strip_of", h=line.cut.height)
                if line.cut.then == "strip"
                else c.phrases.by(line.cut.width, line.cut.height)
            )
            row = rows.setdefault((ctx.fabric(line.fabric), what, use_of(line, c)), ["–"] * len(ctx.sizes))
            row[i] = str(line.count + (int(row[i]) if row[i] != "–" else 0))
    heads = (*ctx.phrases.list("cutting.pieces_heads"), *(c.size_name for c in ctx.sizes))
    order = [ctx.fabric(key) for key in ctx.pattern.fabrics]
    ordered = sorted(rows.items(), key=lambda item: order.index(item[0][0]))
    return Table(
        ctx.say("cutting.pieces_caption"),
        heads,
        tuple((*k, *v) for k, v in ordered),
        "lll" + "r" * len(ctx.sizes),
    )
