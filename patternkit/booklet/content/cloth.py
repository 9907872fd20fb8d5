"""How each fabric is cut: its table, its drawing to scale, the strips joined for long pieces, what is left. All is read
from the order: what is cut, what for, and from which strip."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import slug
from patternkit.booklet.content.joined import joined_blocks, joins, kept_for_finishing
from patternkit.booklet.content.piece_codes import code_of, coded
from patternkit.booklet.content.sheet_cuts import sheet_blocks
from patternkit.booklet.content.uses import (
    Beside,
    and_then,
    becomes,
    count_of,
    counted,
    for_what,
    lain_side_by_side,
    side_by_side,
    so_many,
    use_of,
)
from patternkit.document import Block, Drawing, Figure, Paragraph, Section, Table
from patternkit.drawing.cuts import WIDE, ClothCut, DrawnCut, DrawnRow, DrawnSegment, StripCut, draw_cuts
from patternkit.lengths import Length
from patternkit.plan.build import room_of
from patternkit.plan.buying import otherwise
from patternkit.rehearsal.side_by_side import laid_shapes
from patternkit.work.model import (
    CutByTemplate,
    CutDiagonally,
    CutPieces,
    LaidPiece,
    LaidSegment,
    LaidStrip,
    Motif,
    Purpose,
)

NONE = "–"
Size = tuple[Length, Length]


def fabric_cuts(ctx: Context, key: str) -> Section:
    """One fabric: table, totals, strips to join, drawing, cloth used."""
    section, title, sheets = cut_key(key, ctx), ctx.fabric(key), sheet_blocks(key, ctx)
    joined = [block for join in joins(key, ctx) for block in joined_blocks(join, ctx)]
    joined += [Paragraph(words) for words in kept_for_finishing(key, ctx)]
    if sheets and not ctx.order.layout[key].strips:
        return Section(section, title, (*sheets[:-1], *joined, sheets[-1]))
    blocks: list[Block] = [*sheets, cutting_table(key, ctx)]
    blocks += [*joined, *(Figure((one,)) for one in fabric_drawings(key, ctx)), Paragraph(fabric_takes(key, ctx))]
    return Section(section, title, tuple(blocks))


def cut_key(key: str, ctx: Context) -> str:
    """Under which key the cuts of a fabric stand, in the size that is told."""
    prefix = f"{slug(ctx.size_name)}-" if ctx.pattern.size else ""
    return f"cut-{prefix}{slug(key)}"


def fabric_drawings(key: str, ctx: Context, share: float = WIDE) -> tuple[Drawing, ...]:
    """One fabric laid out to scale, its width a share of the page's; then the leftovers of it that are cut up, to the
    same scale."""
    whole, own = cloth_cut(key, ctx), cut_key(key, ctx)
    drawn = [draw_cuts(whole, ctx.swatches, ctx.look, key=own, share=share)]
    for rest in leftover_cuts(key, ctx):
        part = share * float(rest.width / whole.width)
        drawn.append(draw_cuts(rest, ctx.swatches, ctx.look, key=f"{own}-rest-{rest.rest}", share=part))
    return tuple(drawn)


def fabric_takes(key: str, ctx: Context) -> str:
    """What the cuts of a fabric take, what to buy for them, and how near that is to the least possible."""
    plan = ctx.plan.fabrics[key]
    sure = {"proved": "proved", "proved for strips": "strips"}.get(plan.plan.status, "gap")
    if sure == "gap" and any(line.motifs is not None for line in plan.lines):
        sure = "motifs"
    bound = ctx.say(f"buy.{sure}", gap=plan.buy - plan.least, joins=plan.joins)
    if plan.planned is not None:
        more = plan.buy - plan.planned
        bound = ctx.say("buy.more", more=more) if more > 0 else ""
    if (other := otherwise(plan)) is not None:
        bound += " " + ctx.say("buy.close" if ctx.pattern.settings.simple else "buy.simple", buy=other)
    lining = ctx.plan.lining(key) if plan.planned is not None else Length(0)
    return ctx.say("cutting.takes", used=plan.used, lining=lining, buy=plan.buy, bound=bound)


# -- strips alike ------------------------------------------------------------------------------------------
class AlikePieces(msgspec.Struct, frozen=True):
    """Pieces of one size that come from one strip, what they are trimmed to, what becomes of them (``half``,
    ``quarter``, ``template``, the ruler's angle or nothing), how a halved rectangle's diagonal leans; what they are
    for, with how many; and their code. Shapes laid side by side are told by the rectangle that such a `run` of them
    takes."""

    size: Size
    trimmed: Length | None
    becomes: str
    leans: str
    run: Beside
    code: str
    uses: tuple[tuple[Purpose, int], ...]

    @property
    def alike(self) -> tuple[Size, Length | None, str, str, Beside, str]:
        """By what they are told from other pieces, however many they are."""
        return self.size, self.trimmed, self.becomes, self.leans, self.run, self.code

    @property
    def number(self) -> int:
        """How many come from one strip."""
        return sum(n for _, n in self.uses)

    def times(self, n: int) -> AlikePieces:
        """The same pieces from `n` rows alike."""
        return msgspec.structs.replace(self, uses=tuple((use, number * n) for use, number in self.uses))

    def and_also(self, uses: Mapping[Purpose, int]) -> AlikePieces:
        """The same pieces, and so many more for each use."""
        both = dict(self.uses)
        for use, number in uses.items():
            both[use] = both.get(use, 0) + number
        return msgspec.structs.replace(self, uses=tuple(both.items()))

    def each(self, ctx: Context) -> str:
        """How many of what size."""
        if self.run.each:
            return coded(self.code, side_by_side(self.number // self.run.each, self.size, self.run, ctx))
        return coded(self.code, so_many(self.number, self.size, self.trimmed, ctx))

    def then(self, n: int, ctx: Context) -> str:
        """What is done with `n` of them next, after a comma; nothing where they stay as they are."""
        return "" if self.run.each else and_then(self.becomes, n, self.leans, ctx)


class AlikeRows(msgspec.Struct, frozen=True):
    """`count` rows of a segment, alike, and the pieces that come from each."""

    height: Length
    count: int
    pieces: tuple[AlikePieces, ...]


class AlikeStrips(msgspec.Struct, frozen=True):
    """Strips that are cut alike: the pieces that come straight from each, and the segments that are cut into rows, each
    with its width; or what they are for, with how many for each, where they are kept whole. Of a length whose pieces
    are cut round a `motif` each, all pieces. `more` are strips told with them: they give the same pieces, for something
    else, and the last of them may give fewer."""

    strip: LaidStrip
    straight: tuple[AlikePieces, ...] = ()
    segments: tuple[tuple[Length, tuple[AlikeRows, ...]], ...] = ()
    uses: tuple[tuple[Purpose, int], ...] = ()
    motif: Motif | None = None
    more: tuple[AlikeStrips, ...] = ()

    @property
    def count(self) -> int:
        """How many strips these are in all."""
        return self.strip.count + sum(row.strip.count for row in self.more)

    def totals(self) -> list[AlikePieces]:
        """What comes from all of the strips."""
        every = [p.times(self.strip.count) for p in self.pieces]
        for row in self.more:
            own = {p.alike: dict(p.times(row.strip.count).uses) for p in row.pieces}
            every = [p.and_also(own.get(p.alike, {})) for p in every]
        return every

    @property
    def pieces(self) -> tuple[AlikePieces, ...]:
        """All that comes from one strip, those of rows alike counted together."""
        rows = (row for _, rows in self.segments for row in rows)
        return (*self.straight, *(p.times(row.count) for row in rows for p in row.pieces))

    def cut(self, ctx: Context, then: bool = False) -> str:
        """How one strip is cut into pieces; with what is done next with them, if asked (`then`)."""

        last = {p.alike: p.number for p in self.more[-1].pieces} if self.more else {}

        def each(pieces: Sequence[AlikePieces]) -> str:
            return "; ".join(p.each(ctx) + (p.then(p.number, ctx) if then else "") + at_last(p) for p in pieces)

        def at_last(p: AlikePieces) -> str:
            n = last.get(p.alike, 0)
            return ctx.say("cutting.from_last", n=n) if self.more and n < p.number else ""

        parts = [each(self.straight)] if self.straight else []
        if self.motif is not None:
            (w, h), (x, y) = self.motif.repeat, self.motif.step
            values = {"pieces": parts.pop(), "across": self.motif.across, "down": self.motif.rows}
            every = [int((a / b).ceil_to(Fraction(1))) for a, b in ((x, w), (y, h))]
            parts.append(ctx.say("cutting.round_motifs", **values, skip=every[0], skip_down=every[1]))
        for width, rows in self.segments:
            lines = [ctx.say("cutting.row", n=row.count, h=row.height, pieces=each(row.pieces)) for row in rows]
            parts.append(ctx.say("cutting.segment", w=width, rows=ctx.listed(lines)))
        return "; ".join(parts)

    def kept(self, ctx: Context) -> str:
        """What is kept of the cloth beside pieces cut along it, after a semicolon; nothing where it is not cut up."""
        rest = self.strip.keeps
        if rest is None:
            return ""
        one = sum(p.number for p in self.pieces) == 1
        size = ctx.phrases.by(rest.width, rest.height)
        return ctx.say("cutting.leftover_kept", one=one, size=size, label=rest.label)

    def first(self, ctx: Context, each: str = "") -> str:
        """How many strips of which height, or (`each`) only of which."""
        strip = self.strip
        key = {"along": "along", "motifs": "length"}.get(strip.kind, "leftover" if strip.source else "strip")
        return ctx.say(f"cutting.{key}{each}", n=self.count, h=strip.height, label=strip.source)


def alike_strips(key: str, ctx: Context) -> list[AlikeStrips]:
    """The strips of a fabric in cutting order; those that are kept whole together by their height."""
    found: list[AlikeStrips] = []
    whole: dict[Length, int] = {}
    for strip in ctx.order.layout[key].strips:
        cuts = [(ctx.order.cutting[p.cutting], p) for p in strip.pieces]
        if strip.kind == "motifs":
            x = cuts[0][0]
            gathered = _alike([msgspec.structs.replace(cuts[0][1], number=count_of(x))], ctx)
            found.append(AlikeStrips(strip, gathered, motif=x.motif if isinstance(x, CutPieces) else None))
        elif strip.kind == "full":
            uses = tuple((use_of(x), strip.count) for x, _ in cuts)
            at = whole.setdefault(strip.height, len(found))
            if at < len(found):
                uses = (*found[at].uses, *uses)
                strip = msgspec.structs.replace(strip, count=found[at].strip.count + strip.count)
            found[at : at + 1] = [AlikeStrips(strip, uses=uses)]
        else:
            straight = (_alike(s.rows[0].pieces, ctx) for s in strip.segments if s.straight)
            rows = tuple(
                (s.width, tuple(AlikeRows(r.height, r.count, _alike(r.pieces, ctx)) for r in s.rows))
                for s in strip.segments
                if not s.straight
            )
            found.append(AlikeStrips(strip, tuple(p for pieces in straight for p in pieces), rows))
    return found


def with_the_last(rows: Sequence[AlikeStrips]) -> list[AlikeStrips]:
    """The strips of a fabric with those that give the same pieces put to the ones before them, the last also where it
    gives fewer: so they are cut at the mat, until there are enough."""
    found: list[AlikeStrips] = []
    for row in rows:
        if found and _goes_on(row, found[-1]):
            found[-1] = msgspec.structs.replace(found[-1], more=(*found[-1].more, row))
        else:
            found.append(row)
    return found


def _goes_on(row: AlikeStrips, first: AlikeStrips) -> bool:
    """Whether strips give pieces of other ones and no others, straight across as those do, one strip also fewer."""
    pair = (first.strip, row.strip)
    plain = all(s.kind == "cut" and not s.source and s.keeps is None for s in pair)
    if not plain or first.segments or row.segments or first.strip.height != row.strip.height:
        return False
    full, own, *others = ({p.alike: p.number for p in one.pieces} for one in (first, row, *first.more))
    if any(p.run.each for p in (*first.pieces, *row.pieces)) or any(other != full for other in others):
        return False
    fewer = bool(own) and all(n <= full.get(key, 0) for key, n in own.items())
    return own == full or (fewer and row.strip.count == 1)


def _alike(pieces: Sequence[LaidPiece], ctx: Context) -> tuple[AlikePieces, ...]:
    """The pieces of a row, those of one size together with what they are for."""
    alike: dict[tuple[Size, Length | None, str, str, Beside, str], dict[Purpose, int]] = {}
    for p in pieces:
        x = ctx.order.cutting[p.cutting]
        run = lain_side_by_side(x, ctx)
        own = alike.setdefault((p.size, p.trimmed, becomes(x, ctx), p.leans, run, code_of(x, ctx)), {})
        own[use_of(x)] = own.get(use_of(x), 0) + p.number * max(1, run.each)
    return tuple(AlikePieces(*one, tuple(uses.items())) for one, uses in alike.items())


def cutting_table(key: str, ctx: Context) -> Table:
    """One fabric's cuts in order: the strips, what comes from each, how many pieces in all, for what."""
    rows = [(row.first(ctx), *_cells(row, ctx)) for row in with_the_last(alike_strips(key, ctx))]
    return Table("", ctx.phrases.list("cutting.heads"), tuple(rows), "llll")


def _cells(row: AlikeStrips, ctx: Context) -> tuple[str, str, str]:
    if row.uses:
        return ctx.say("cutting.keep_whole"), str(row.strip.count), counted(row.uses, ctx)
    every = row.totals()
    totals = [f"{p.number}{p.then(p.number, ctx)}" for p in every]
    whys = [counted(p.uses, ctx) for p in every]
    why = "; ".join(whys if len(set(whys)) > 1 else whys[:1])
    return row.cut(ctx) + row.kept(ctx), "; ".join(totals), why


# -- drawn, and all sizes together ---------------------------------------------------------------------------
def cloth_cut(key: str, ctx: Context) -> ClothCut:
    """The layout as the drawing room takes it, whole strips of one height together; without the strips that are cut
    from its leftovers (`leftover_cuts`)."""
    plan = ctx.plan.fabrics[key]
    laid = [strip for strip in ctx.order.layout[key].strips if not strip.source]
    strips = _strip_cuts(laid, ctx, _ends_joined(key, ctx))
    return ClothCut(key, Length(plan.plan.width) / plan.scale, strips, Length(plan.plan.buy) / plan.scale)


def _ends_joined(key: str, ctx: Context) -> Counter[tuple[Length, Length]]:
    """How many ends of strips of a height, so much of each filled with pieces, are joined to other strips."""
    fabric = ctx.pattern.fabrics[key]
    room = Length(room_of(fabric, ctx.pattern.settings.ruler))
    found = Counter[tuple[Length, Length]]()
    for (own, *_), joined in ctx.plan.rests.items():
        for one in joined if own == key else ():
            if one.of is not None and one.left is not None:
                found[one.of, room - one.left] += one.count
    return found


def leftover_cuts(key: str, ctx: Context) -> list[ClothCut]:
    """The same of each leftover that is cut up."""
    laid = ctx.order.layout[key].strips
    rests = [strip.keeps for strip in laid if strip.keeps is not None]
    cuts = [_strip_cuts([strip for strip in laid if strip.source == rest.label], ctx) for rest in rests]
    return [ClothCut(key, rest.width, own, rest.height, rest.label) for rest, own in zip(rests, cuts, strict=True)]


def _strip_cuts(
    laid: Sequence[LaidStrip], ctx: Context, ends: Counter[tuple[Length, Length]] | None = None
) -> tuple[StripCut, ...]:
    strips: list[StripCut] = []
    left = Counter(ends)
    for strip in laid:
        last, whole = strips[-1] if strips else None, strip.kind == "full"
        if whole and last is not None and last.whole and last.height == strip.height:
            strips[-1] = StripCut(last.height, last.copies + strip.count, (), True)
            continue
        apart = strip.kind == "motifs"
        straight = [p for s in strip.segments if s.straight and not (whole or apart) for p in s.rows[0].pieces]
        segments = tuple(_drawn_segment(s, ctx) for s in strip.segments if apart or not s.straight)
        pieces = tuple(_drawn(p, ctx) for p in straight)
        keeps = strip.keeps.label if strip.keeps is not None else ""
        filled = strip.height, sum((s.width for s in strip.segments), Length(0))
        joined = min(left[filled], strip.count) if strip.kind == "cut" else 0
        left[filled] -= joined
        strips.append(StripCut(strip.height, strip.count, pieces, whole, segments, apart, keeps, joined))
    return tuple(strips)


def _drawn_segment(segment: LaidSegment, ctx: Context) -> DrawnSegment:
    """A segment with each of its rows, one under the other."""
    rows = (DrawnRow(r.height, tuple(_drawn(p, ctx) for p in r.pieces)) for r in segment.rows for _ in range(r.count))
    return DrawnSegment(segment.width, tuple(rows))


def _drawn(p: LaidPiece, ctx: Context) -> DrawnCut:
    done, (w, h) = ctx.order.cutting[p.cutting], p.size
    leans = p.leans if becomes(done, ctx) == "half" and w != h else ""
    outlines = tuple(laid_shapes(ctx.order, done)) if isinstance(done, CutByTemplate) else ()
    size = (done.piece.width, done.piece.height) if outlines and isinstance(done, CutByTemplate) else None
    name, code = for_what(use_of(done), ctx), code_of(done, ctx)
    ways = done.ways if isinstance(done, CutDiagonally) else 0
    return DrawnCut(name, p.number, *p.lies, leans=leans, outlines=outlines, size=size, code=code, ways=ways)
