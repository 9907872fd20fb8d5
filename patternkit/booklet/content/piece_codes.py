"""The codes of cut pieces where a booklet names them: in its lists, in its tables, in its drawings."""

from __future__ import annotations

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.drawing.look import Look
from patternkit.piecing.batch import Piece
from patternkit.piecing.making import Making
from patternkit.work.model import CutByTemplate, CutDiagonally, CutPieces, CutStrips, Cutting


def piece_of(done: Cutting, ctx: Context) -> Piece | None:
    """The piece that comes of a cutting; None of strips that are joined or from which other things are made."""
    if isinstance(done, (CutPieces, CutByTemplate)):
        return done.piece
    if isinstance(done, CutDiagonally):
        return done.gives
    if isinstance(done, CutStrips):
        full = ctx.order.usable.get(done.fabric)
        strips = [p for p in ctx.codes if (p.form, p.fabric, p.height) == ("strip", done.fabric, done.height)]
        known = [p for p in strips if (p.width == full) == (done.use.short is None)]
        return known[0] if len(known) == 1 and not done.use.joined else None
    return None


def code_of(done: Cutting, ctx: Context) -> str:
    """The code of what is cut, as it lies on the cloth: rectangles alike are laid together whether the template lies on
    them face up or down, and have the codes of both. Nothing of strips that are joined or from which other things are
    made."""
    piece = piece_of(done, ctx)
    if piece is None:
        return ""
    both = [piece]
    if isinstance(done, CutByTemplate) and not done.each:
        own = _unturned(done)
        both = [x.piece for x in ctx.order.cutting if isinstance(x, CutByTemplate) and _unturned(x) == own]
    return ", ".join(dict.fromkeys(ctx.codes[p] for p in both if p in ctx.codes))


def _unturned(done: CutByTemplate) -> CutByTemplate:
    piece = msgspec.structs.replace(done.piece, reversed=False)
    return msgspec.structs.replace(done, piece=piece, count=0, face="up")


def coded(code: str, words: str) -> str:
    """What is told of a piece, behind its code: ``A1: 6 of 5 3/4 x 5 3/4 in``."""
    return f"{code}: {words}" if code else words


def pieces_in(making: Making, ctx: Context) -> tuple[Piece, ...]:
    """The pieces of a making's own cuts."""
    return tuple(ctx.worked.desk.piece(cut) for cut in making.recipe.cuts)


def look_at(making: Making, ctx: Context) -> Look:
    """How the drawings of a making are told: with the codes of its pieces where these are the same in all sizes."""
    own = pieces_in(making, ctx)
    for c in ctx.family:
        other = c.designs.get(making.thing)
        if other is not None and pieces_in(other, c) != own:
            return ctx.look
    return ctx.coded_look
