"""The table of all that is cut: each piece with its code, what it is, what for, in which steps it is taken, and how
many there are in each size."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.piece_codes import piece_of
from patternkit.booklet.content.release_cuts import NONE, piece_words
from patternkit.booklet.content.uses import called, count_of, cut_from, each_use, use_of
from patternkit.document import Table
from patternkit.piecing.batch import Item, Piece
from patternkit.work.model import CutBias, CutDiagonally, CutStrips, Cutting, JoinEnds

FEW = 3
"""So many uses of a piece are named."""


class ListedPiece(msgspec.Struct, frozen=True):
    """What is cut, as one line tells it: the key of its fabric (of a group's, for all its prints), its code (empty of
    strips that are joined, and of binding), the fabric that is named, and what it is."""

    cloth: str
    code: str
    fabric: str
    what: str

    @property
    def order(self) -> tuple[bool, int, str]:
        """By the number of the code; what has none comes last."""
        return not self.code, len(self.code), self.code


class TakenFor(msgspec.Struct):
    """What for and in which steps a line's pieces are taken, and how many there are in each size."""

    uses: dict[str, None] = msgspec.field(default_factory=dict)
    steps: set[int] = msgspec.field(default_factory=set)
    counts: dict[Context, int] = msgspec.field(default_factory=dict)


def pieces_table(ctx: Context) -> Table:
    """All that is cut, fabric by fabric in the order of the codes, with a column of counts for each size."""
    found: dict[ListedPiece, TakenFor] = {}
    for c in ctx.family:
        taken = _taken(c)
        for line, uses, piece, n in (one for key in c.plan.fabrics for one in _lines(key, c)):
            own = found.setdefault(line, TakenFor())
            own.uses |= dict.fromkeys(uses)
            own.steps |= taken.get(piece, set()) if piece is not None else set()
            own.counts[c] = own.counts.get(c, 0) + n
    fabrics = list(ctx.pattern.fabrics)
    rows = [
        (
            line.code or NONE,
            ctx.fabric(line.fabric),
            *(str(own.counts.get(c, NONE)) for c in ctx.family),
            line.what,
            _in_short(list(own.uses), ctx),
            ", ".join(map(str, sorted(own.steps))) or NONE,
        )
        for line, own in sorted(found.items(), key=lambda item: (fabrics.index(item[0].cloth), item[0].order))
    ]
    counts = tuple(c.size_name for c in ctx.sizes) or (ctx.say("parts.number"),)
    code, fabric, *others = ctx.phrases.list("cutting.pieces_heads")
    caption = ctx.say("cutting.pieces_caption", sizes=len(ctx.sizes))
    return Table(caption, (code, fabric, *counts, *others), tuple(rows), "ll" + "r" * len(counts) + "lll")


def _in_short(uses: list[str], ctx: Context) -> str:
    """What a piece is for; of many things the first ones, for its steps are told beside them."""
    more = len(uses) - (FEW - 1)
    return ", ".join(uses) if len(uses) <= FEW else ctx.say("cutting.uses", uses=", ".join(uses[: FEW - 1]), n=more)


def _lines(key: str, c: Context) -> Iterator[tuple[ListedPiece, list[str], Piece | None, int]]:
    """What is cut of a fabric in one size: what for, as what it is taken, how many."""
    joined = [x for x in c.order.cutting if isinstance(x, JoinEnds) and x.strip.fabric == key]
    for x in cut_from(key, c):
        piece = piece_of(x, c)
        yield _line(key, piece, x, c), each_use(use_of(x), c), piece, count_of(x)
    for join in joined:
        for piece, n in join.gives:
            names = {length: called(use, c) for length, _, use in join.lengths}
            uses = [names[length] for length in (max(piece.width, piece.height),) if length in names]
            yield (
                ListedPiece(key, c.codes.get(piece, ""), piece.fabric, piece_words(piece, True, c)),
                uses,
                piece,
                n,
            )


def _line(key: str, piece: Piece | None, x: Cutting, c: Context) -> ListedPiece:
    if isinstance(x, CutBias):
        return ListedPiece(key, "", x.fabric, c.say("parts.bias", w=x.width))
    if piece is None:
        assert isinstance(x, CutStrips)
        words = "parts.to_join" if x.use.joined else "cutting.strip_of"
        return ListedPiece(key, "", x.fabric, c.say(words, h=x.height))
    what = piece_words(piece, False, c)
    if isinstance(x, CutDiagonally):
        what = c.say("parts.triangles", w=x.lies[0], h=x.lies[1], ways=x.ways, leans=x.leans)
    return ListedPiece(key, c.codes.get(piece, ""), piece.fabric, what)


def _taken(c: Context) -> dict[Item, set[int]]:
    """The numbers of the steps in which each thing is taken."""
    found: dict[Item, set[int]] = {}
    for step in c.order.steps:
        number = c.number(step.thing)
        if isinstance(number, int):
            for item in step.takes:
                found.setdefault(item, set()).add(number)
    return found
