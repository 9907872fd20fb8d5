"""The diagonal rows of a setting on point, told in one step: what to take for all of them, and a table of rows, those
that are alike in one line."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby, pairwise

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.pressing import press_sentences
from patternkit.booklet.content.taking import take_all
from patternkit.document import Block, Bullets, Callout, Figure, Paragraph, Table
from patternkit.lengths import Length
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.making import Cloth, Making
from patternkit.plan.counts import Count

KIND = "diagonal-row"
BY_TURNS = 4  # pieces from which two kinds by turns are told as such


class Alike(msgspec.Struct, frozen=True):
    """Diagonal rows that are told in one line: their numbers, what lies in them from their left end to their right one,
    how they are pressed, how far it is from the seam of one end triangle to that of the other."""

    numbers: tuple[int, ...]
    pieces: str
    press: str
    length: Length

    def name(self, ctx: Context) -> str:
        """``diagonal rows 1 and 8``."""
        return ctx.names.diagonal(list(self.numbers))


def is_diagonal(making: Making) -> bool:
    """Whether a making is a row of a setting on point."""
    return making.kind == KIND


def alike(makings: Sequence[Making], ctx: Context) -> list[Alike]:
    """Diagonal rows with those together that read the same, in the order of the first of each."""
    found: dict[tuple[str, str, Length], list[int]] = {}
    for making in makings:
        press = " ".join(press_sentences(making, ctx))
        key = (_pieces(making, ctx), press, between_triangles(making))
        found.setdefault(key, []).append(number(making))
    return [Alike(tuple(numbers), *key) for key, numbers in found.items()]


def number(making: Making) -> int:
    """Which diagonal row it is, from the upper left."""
    assert isinstance(making.key, OwnKey)
    return making.key.name.numbers[0]


def between_triangles(making: Making) -> Length:
    """Along a sewn row, from the seam of one end triangle to that of the other: the sum of its blocks.

    The row's ends are slanted and trimmed at last, so this is what can be measured.
    """
    along = [seam.start[0] for seam in making.seams]
    return max(along) - min(along)


def _pieces(making: Making, ctx: Context) -> str:
    """``side triangle; 2 lantern blocks and 1 plain block by turns; corner triangle``."""
    what = [p.what for p in making.parts]
    inner = what[1:-1]
    kinds = list(dict.fromkeys(_kind(p) for p in inner))
    unlike_neighbours = all(_kind(a) != _kind(b) for a, b in pairwise(inner))
    if len(kinds) == 2 and len(inner) >= BY_TURNS and unlike_neighbours:
        first, second = ([p for p in inner if _kind(p) == kind] for kind in kinds)
        told = [ctx.say("diagonal.turns", first=_counted(first, ctx), second=_counted(second, ctx))]
    else:
        told = [_counted(list(run), ctx) for _, run in groupby(inner, key=_kind)]
    return "; ".join([_end(what[0], ctx), *told, _end(what[-1], ctx)])


def _kind(part: Cloth | Making) -> object:
    return id(part) if isinstance(part, Making) else (part.fabric, part.outline)


def _counted(same: Sequence[Cloth | Making], ctx: Context) -> str:
    one, n = same[0], len(same)
    if isinstance(one, Making) and (one.seams or not one.recipe.method.as_cut):
        return ctx.noun(one, n)
    fabric = one.recipe.cuts[0].fabric if isinstance(one, Making) else one.fabric
    return ctx.say("diagonal.plain", n=n, fabric=ctx.fabric(fabric))


def _end(part: Cloth | Making, ctx: Context) -> str:
    if isinstance(part, Cloth):
        return ctx.names.of(part.name) if part.name is not None else ""
    return ctx.title(part)


def diagonal_told(counts: Sequence[Count], ctx: Context) -> list[tuple[str, tuple[Block, ...]]]:
    """What the step of the diagonal rows says in one size, each group of blocks with its place."""
    makings = [c.making for c in counts]
    rows = alike(makings, ctx)
    once = rows[0].press if len({row.press for row in rows}) == 1 else ""
    heads = ctx.phrases.list("diagonal.heads")
    table = Table(
        "",
        heads if not once else (*heads[:2], heads[3]),
        tuple(
            (
                ctx.listed([str(n) for n in row.numbers]),
                row.pieces,
                *([] if once else [row.press]),
                ctx.phrases.length(row.length),
            )
            for row in rows
        ),
        "llr" if once else "lllr",
    )
    told: list[tuple[str, tuple[Block, ...]]] = [
        ("take", (Paragraph(ctx.say("diagonal.take")), Bullets(tuple(take_all(counts, ctx))))),
        ("method", (Paragraph(ctx.say("method.row-on-point", seam=ctx.seam)),)),
        ("rows", (table,)),
        ("figure", _figures(makings, ctx)),
    ]
    if once:
        told.append(("press", (Paragraph(once),)))
    high = makings[0].height + ctx.seam * 2
    told.append(("measure", (Callout("checkpoint", ctx.say("diagonal.measures", high=high)),)))
    return told


def _figures(rows: Sequence[Making], ctx: Context) -> tuple[Figure, ...]:
    """The centre with the pieces of its numbered rows apart."""
    from patternkit.booklet.content.figures import beside, rows_wide
    from patternkit.drawing.assembly import draw_assembly

    centre = next((c.making for c in ctx.plan.counts if any(p.what is rows[0] for p in c.making.parts)), None)
    if centre is None:
        return ()
    wide = beside(ctx) if ctx.many else rows_wide(centre)
    drawn = draw_assembly(centre, ctx.swatches, ctx.look, key="diagonal-rows", arrows=False, rows=True, wide=wide)
    return (Figure((drawn,)),)
