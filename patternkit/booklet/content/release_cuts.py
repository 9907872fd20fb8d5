"""What is cut for one release, piece by piece, with a column of counts for each size: told from the runs of the making
order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.document import Block, Paragraph, Table
from patternkit.piecing.batch import Piece, Thing
from patternkit.piecing.making import Making
from patternkit.piecing.names import BACKING_PANEL, BACKING_STRIP, BIAS_BINDING, BINDING, SLEEVE
from patternkit.work.model import Bind, CutBias, CutDiagonally, Panels, Sleeve
from patternkit.work.runs import TOP_ROLES, RunShare

NONE = "–"
Shares = Sequence[tuple[Context, RunShare]]
"""One release in every size that it is told in."""


class CutRow(msgspec.Struct, frozen=True):
    """What tells one line of a release's cut list from another: the piece's code, its fabric's key, and what is cut."""

    code: str
    fabric: str
    what: str


class CutCell(msgspec.Struct, frozen=True):
    """How many of a line one size cuts, in words, and what for."""

    number: str
    uses: tuple[str, ...]


def cut_blocks(shares: Shares, ctx: Context) -> list[Block]:
    """The cut list of a release, and how strips are joined; nothing where nothing is cut."""
    found: dict[CutRow, dict[str, CutCell]] = {}
    for c, share in shares:
        for row, cell in cut_rows(share, c):
            found.setdefault(row, {})[c.size_name] = cell
    if not found:
        return []
    names = [c.size_name for c in ctx.sizes]
    heads = (*ctx.phrases.list("parts.heads"), *(names or [ctx.say("parts.number")]))
    fabrics = list(ctx.pattern.fabrics)
    rows = []
    for row, cells in sorted(found.items(), key=lambda item: fabrics.index(item[0].fabric)):
        uses = list(dict.fromkeys(use for cell in cells.values() for use in cell.uses))
        numbers = [cells[n].number if n in cells else NONE for n in names] or [c.number for c in cells.values()]
        rows.append((row.code, ctx.fabric(row.fabric), row.what, ctx.listed(uses), *numbers))
    blocks: list[Block] = [Table(ctx.say("parts.caption"), heads, tuple(rows), "llll" + "r" * (len(names) or 1))]
    for slanted in sorted({j.slanted for _, share in shares for j in share.joined}):
        blocks.append(Paragraph(ctx.say("parts.joined", slanted=slanted)))
    return blocks


def cut_rows(share: RunShare, c: Context) -> Iterator[tuple[CutRow, CutCell]]:
    """The lines of one size: pieces by code, the strips that are joined for some of them, strips for the finishing."""
    squares = {action.gives: (action, n) for action, n in share.squares}
    diagonal = {a.gives: (a, 0) for a in c.order.cutting if isinstance(a, CutDiagonally)}
    joined = {piece for join in share.joined for piece, _ in join.gives}
    uses = _uses(share, c)
    for piece, n in share.pieces:
        code, number = c.codes.get(piece, ""), str(n)
        if piece.form in ("half", "quarter") and piece in diagonal:
            action, cut = squares.get(piece, diagonal[piece])
            number = c.say("parts.squares", n=cut, made=n)
            w, h = action.lies
            what = c.say("parts.triangles", w=w, h=h, ways=action.ways, leans=action.leans)
        else:
            what = piece_words(piece, piece in joined, c)
        yield CutRow(code, piece.fabric, what), CutCell(number, uses[piece])
    for join in share.joined:
        for_what = tuple(dict.fromkeys(use for piece, _ in join.gives for use in uses.get(piece, ())))
        what = c.say("parts.to_join", h=join.strip.height)
        yield CutRow("", join.strip.fabric, what), CutCell(str(join.count), for_what)
    if share.finishes:
        yield from _finishing(c)


def _finishing(c: Context) -> Iterator[tuple[CutRow, CutCell]]:
    for done in c.order.finish:
        if isinstance(done, Panels) and done.between is not None:
            strip = done.between
            what = c.say("cutting.strip_of", h=strip.strip)
            yield CutRow("", strip.fabric, what), CutCell(str(strip.count), (c.names.of(BACKING_STRIP),))
        if isinstance(done, Panels) and done.cut:
            yield from _panels(done, c)
        if isinstance(done, Sleeve) and done.along:
            row = CutRow("", done.fabric, c.phrases.by(done.strip, done.length))
            yield row, CutCell("1", (c.names.of(SLEEVE),))
        elif isinstance(done, (Bind, Sleeve)) and done.count:
            name = c.names.of(BINDING if isinstance(done, Bind) else SLEEVE)
            yield CutRow("", done.fabric, c.say("cutting.strip_of", h=done.strip)), CutCell(str(done.count), (name,))
    for action in c.order.cutting:
        if isinstance(action, CutBias):
            row = CutRow("", action.fabric, c.say("parts.bias", w=action.width))
            yield row, CutCell(c.phrases.length(action.gives), (c.names.of(BIAS_BINDING),))


def _panels(done: Panels, c: Context) -> Iterator[tuple[CutRow, CutCell]]:
    """The panels of a backing that are cut with the rest of its fabric."""
    name, whole = (c.names.of(BACKING_PANEL),), done.count - (done.last is not None)
    if whole:
        yield CutRow("", done.fabric, c.say("cutting.strip_of", h=done.length)), CutCell(str(whole), name)
    if done.last is not None:
        yield CutRow("", done.fabric, c.phrases.by(done.last, done.length)), CutCell("1", name)


def piece_words(piece: Piece, joined: bool, c: Context) -> str:
    """What is cut: its size, the strip that is kept whole, or the template it is cut by."""
    if piece.template and (strip := c.bias_strip(piece.template)) is not None:
        return c.say("parts.bias_strip", w=strip[0], long=strip[1])
    if piece.template and (angle := c.angle(piece.template)):
        return c.say("parts.ruled", h=piece.height, angle=angle)
    if piece.template:
        return c.say("parts.template", name=c.listed(template_titles(piece, c)), over=piece.reversed)
    if piece.form == "strip" and piece.width == c.order.usable.get(piece.fabric):
        return c.say("cutting.strip_of", h=piece.height)
    if piece.form == "strip":
        return c.say("parts.strips", w=piece.width, h=piece.height)
    if joined:
        return c.say("parts.from_joined", w=piece.width, h=piece.height)
    return c.phrases.by(piece.width, piece.height)


def template_titles(piece: Piece, c: Context) -> list[str]:
    """What the printed templates are called by which a piece is cut: those that have its shape, however turned."""
    takers = [step.thing for step in c.order.steps if piece in step.takes]
    names = [c.template_names.get((thing, piece.template)) for thing in takers]
    if None in names:  # a unit of one piece is taken as that, and the template has its name
        names = [name for (_, template), name in c.template_names.items() if template == piece.template]
    return list(dict.fromkeys(name for name in names if name is not None))


def _uses(share: RunShare, c: Context) -> dict[Piece, tuple[str, ...]]:
    """What each piece is for: the titles of what its batches give; of a border what the piece is called there, and the
    rows of a quilt under one word."""
    found: dict[Piece, dict[str, None]] = {}
    for run in share.runs:
        step = c.order.steps[run.step]
        for b, _ in run.batches:
            batch, _ = step.batches[b]
            made = [c.designs[item] for item, _ in batch.gives if isinstance(item, Thing) and item in c.designs]
            for use in batch.uses:
                if isinstance(use.item, Piece):
                    names = [name for making in made for name in _called(use.item, making, c)]
                    found.setdefault(use.item, {}).update(dict.fromkeys(names))
    return {piece: tuple(titles) for piece, titles in found.items()}


def _called(piece: Piece, making: Making, c: Context) -> list[str]:
    if making.role == "row":
        return [c.say("parts.rows")]
    if making.role in TOP_ROLES:
        inner = [p.what for p in making.parts if isinstance(p.what, Making) and not p.what.seams]
        cuts = [cut for one in (making, *inner) for cut in one.recipe.cuts]
        names = [c.names.of(cut.name) for cut in cuts if cut.name and c.worked.desk.piece(cut) == piece]
        if names:
            return names
    return [c.title(making)]
