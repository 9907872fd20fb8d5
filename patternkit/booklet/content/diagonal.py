"""The diagonal rows of a setting on point, told in one step: what to take for all of them, and a table of rows, those
that are alike in one line."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby, pairwise

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.figures import beside, design, rows_wide
from patternkit.booklet.content.panels import Depicted, Listed, Panel, Remark, Sentences, lines, text
from patternkit.booklet.content.pressing import press_sentences, press_ways
from patternkit.booklet.content.taking import take_all
from patternkit.booklet.phrases import Sentence
from patternkit.document import Figure, Table
from patternkit.lengths import Length
from patternkit.piecing.keys import Key
from patternkit.piecing.making import Cloth, Making, Placed
from patternkit.piecing.names import CORNERSTONE, EDGE_SASHING
from patternkit.piecing.setting.edge_triangles import end_sort, is_whole
from patternkit.piecing.setting.on_point import Sashed
from patternkit.plan.counts import Count

KINDS = {"diagonal-row": "diagonal", "diagonal-sashing": "sashes"}
"""The makings that are told so, with where their phrases stand."""
BY_TURNS = 4  # pieces from which two kinds by turns are told as such


class Alike(msgspec.Struct, frozen=True):
    """Diagonal rows that are told in one line: their numbers, what lies in them from their left end to their right one,
    how they are pressed, how far it is from the seam of one end triangle to that of the other."""

    numbers: tuple[int, ...]
    pieces: tuple[Sentence | str, ...]
    press: Sentences
    length: Length

    each: int = 1  # how many there are of each
    sort: str = "diagonal"
    of: str = ""  # the title of the unit that they are of; of the quilt itself none
    blocks: bool = False  # whether whole blocks lie at ends

    def name(self, ctx: Context) -> str:
        """``diagonal rows 1 and 8``."""
        name = ctx.names.diagonal(list(self.numbers), self.sort == "sashes")
        return f"{self.of}, {name}" if self.of else name


def is_diagonal(making: Making) -> bool:
    """Whether a making is a row of a setting on point, or the sashing between two."""
    return making.kind in KINDS


def sort_of(making: Making) -> str:
    """Where the phrases for a diagonal row stand, or for a row of sashing."""
    return KINDS[making.kind]


def rows_of(making: Making) -> str:
    """What tells the diagonal rows of one unit from those of others; nothing for those of the quilt."""
    key = making.key
    return str(msgspec.structs.replace(key.plain, piece=None)) if isinstance(key, Key) else ""


def title_of(making: Making, ctx: Context) -> str:
    """The title of the step in which diagonal rows are sewn, or rows of sashing."""
    title, sort = ctx.names.whole(making), sort_of(making)
    return ctx.say(f"{sort}.title_of", title=title) if rows_of(making) else ctx.say(f"{sort}.title")


def alike(makings: Sequence[Making], ctx: Context) -> list[Alike]:
    """Diagonal rows with those together that read the same, in the order of the first of each."""
    found: dict[tuple[tuple[Sentence | str, ...], Sentences, Length, int], list[int]] = {}
    for making in makings:
        each = ctx.count(making).needed
        key = (_pieces(making, ctx), press_sentences(press_ways(making, ctx)), between_triangles(making), each)
        found.setdefault(key, []).append(number(making))
    sort = sort_of(makings[0])
    of = ctx.names.whole(makings[0]) if rows_of(makings[0]) else ""
    blocks = _ends(makings).get("blocks", False)
    return [Alike(tuple(numbers), *key, sort, of, blocks) for key, numbers in found.items()]


def number(making: Making) -> int:
    """Which diagonal row it is, from the upper left."""
    name = making.key.part
    assert name is not None
    return name.numbers[0]


def between_triangles(making: Making) -> Length:
    """Along a sewn row, from the seam of one end triangle to that of the other: the sum of its blocks.

    The row's ends are slanted and trimmed at last, so this is what can be measured.
    """
    along = [seam.start[0] for seam in making.seams]
    return max(along) - min(along)


def _pieces(making: Making, ctx: Context) -> tuple[Sentence | str, ...]:
    """``side triangle; 2 lantern blocks and 1 plain block by turns; corner triangle``. That sashing lies between all of
    them is told once."""
    what = [p.what for p in making.parts]
    if making.kind == "diagonal-sashing":
        edge = _is_edge(what[0]) and _is_edge(what[-1])
        return (_end(what[0], ctx), *_run(what[1:-1], ctx), _end(what[-1], ctx)) if edge else tuple(_run(what, ctx))
    sashed = isinstance(making.recipe.numbers, Sashed)
    inner = _run(what[2:-2:2] if sashed else what[1:-1], ctx)
    first, last = (_edge_piece(p, ctx) for p in (making.parts[0], making.parts[-1]))
    return (first, *inner, last)


def _edge_piece(part: Placed, ctx: Context) -> Sentence | str:
    """What lies at an end of a row: a triangle, or a block that is cut through."""
    if is_whole(part):
        return ctx.state("diagonal.at_edge", what=_counted([part.what], ctx))
    return _end(part.what, ctx)


def _run(inner: Sequence[Cloth | Making], ctx: Context) -> list[Sentence | str]:
    """Pieces one after the other, those that are alike together."""
    kinds = list(dict.fromkeys(_kind(p) for p in inner))
    unlike_neighbours = all(_kind(a) != _kind(b) for a, b in pairwise(inner))
    if len(kinds) == 2 and len(inner) >= BY_TURNS and unlike_neighbours:
        first, second = ([p for p in inner if _kind(p) == kind] for kind in kinds)
        blocks: list[Sentence | str] = [
            ctx.state("diagonal.turns", first=_counted(first, ctx), second=_counted(second, ctx))
        ]
    else:
        blocks = [_counted(list(run), ctx) for _, run in groupby(inner, key=_kind)]
    return blocks


def _kind(part: Cloth | Making) -> object:
    if isinstance(part, Making):
        return id(part)
    return part.name if part.name is not None else (part.fabric, part.outline)


def _is_edge(part: Cloth | Making) -> bool:
    return isinstance(part, Cloth) and part.name == EDGE_SASHING


def _counted(same: Sequence[Cloth | Making], ctx: Context) -> Sentence | str:
    one, n = same[0], len(same)
    if isinstance(one, Making) and (one.seams or not one.recipe.method.as_cut):
        return ctx.noun(one, n)
    if isinstance(one, Cloth) and one.name is not None:
        return ctx.state(f"diagonal.{'posts' if one.name == CORNERSTONE else 'beams'}", n=n)
    fabric = one.recipe.cuts[0].fabric if isinstance(one, Making) else one.fabric
    return ctx.state("diagonal.plain", n=n, fabric=ctx.fabric(fabric))


def _end(part: Cloth | Making, ctx: Context) -> str:
    if isinstance(part, Cloth):
        return ctx.names.of(part.name) if part.name is not None else ""
    return ctx.title(part)


def diagonal_panels(counts: Sequence[Count], ctx: Context) -> list[Panel]:
    """What the step of the diagonal rows says in one size."""
    makings = [c.making for c in counts]
    rows, sort = alike(makings, ctx), sort_of(makings[0])
    numbers = makings[0].recipe.numbers
    sashing = numbers.lattice if isinstance(numbers, Sashed) else ""
    high = makings[0].height + ctx.seam * 2
    own = set(map(id, makings))
    wholes = [c.making for c in ctx.plan.counts if any(id(p.what) in own for p in c.making.parts)]
    found = [
        Panel("take", Listed(ctx.state(f"{sort}.take"), take_all(counts, ctx))),
        *lines(
            "method",
            ctx.state(f"method.{makings[0].recipe.method.phrase}", seam=ctx.seam, sashing=sashing, **_ends(makings)),
        ),
        Panel("rows", tuple(rows), lambda: (_table(rows, ctx),)),
    ]
    if wholes and sort == "diagonal":
        shown = tuple(design(whole, {}) for whole in wholes)
        found.append(Panel("figure", Depicted(shown), lambda: (_figure(wholes, ctx),)))
    if _one_press(rows):
        found.append(Panel("press", Remark(rows[0].press)))
    found += lines(
        "measure",
        Remark((ctx.state(f"{sort}.measures", high=high, **_measured(makings)),), "checkpoint"),
    )
    return found


def _ends(makings: Sequence[Making]) -> dict[str, bool]:
    """What lies at the ends of diagonal rows: blocks, side triangles, corner triangles."""
    if makings[0].kind != "diagonal-row":
        return {}
    found = {end_sort(p) for making in makings for p in (making.parts[0], making.parts[-1])}
    return {"blocks": "block" in found, "sides": "side" in found, "corners": "corner" in found}


def _measured(makings: Sequence[Making]) -> dict[str, int]:
    """What is asked of the rows that are measured: whether blocks lie at their ends, the number of the first."""
    return {"blocks": _ends(makings).get("blocks", False), "first": min(map(number, makings))}


def _one_press(rows: Sequence[Alike]) -> bool:
    return len({row.press for row in rows}) == 1


def _table(rows: Sequence[Alike], ctx: Context) -> Table:
    """A line for each kind of row; how each is pressed, where that is not the same in all."""
    once, heads, render = _one_press(rows), ctx.phrases.list(_heads(rows[0])), ctx.phrases.render
    cells = [
        (
            _numbered(row, ctx),
            "; ".join(map(render, row.pieces)),
            *([] if once else [text(row.press, ctx)]),
            ctx.phrases.length(row.length),
        )
        for row in rows
    ]
    return Table("", heads if not once else (*heads[:2], heads[3]), tuple(cells), "llr" if once else "lllr")


def _heads(row: Alike) -> str:
    return "diagonal.heads_blocks" if row.blocks else f"{row.sort}.heads"


def _numbered(row: Alike, ctx: Context) -> str:
    """The numbers of rows, and how many there are of each."""
    rows = ctx.listed([str(n) for n in row.numbers])
    return ctx.say("diagonal.each", rows=rows, n=row.each) if row.each > 1 else rows


def _figure(wholes: Sequence[Making], ctx: Context) -> Figure:
    """The centre, or its different columns, with the pieces of their numbered rows apart."""
    from patternkit.drawing.assembly import draw_assembly

    found, look = [], ctx.look
    for n, whole in enumerate(wholes):
        wide = beside(ctx) if ctx.many else min(rows_wide(whole), 400.0 / len(wholes))
        key, shown = f"diagonal-rows{n + 1 if n else ''}", ctx.as_shown(whole)
        drawn = draw_assembly(
            shown, ctx.swatches, look, key=key, arrows=False, rows=True, wide=wide, legend=len(wholes) == 1
        )
        found.append(drawn)
    return Figure(tuple(found))
