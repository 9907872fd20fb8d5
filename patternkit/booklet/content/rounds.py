"""What a step says of units sewn round a centre, of logs or of rings of triangles: where the first logs lie, what each
round must measure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.panels import Sentences
from patternkit.booklet.phrases import Listing, Printed
from patternkit.lengths import Length
from patternkit.piecing.batch import Batch, Join, Measure, Piece
from patternkit.piecing.making import Making
from patternkit.piecing.names import Name

ROUND = 4  # logs, or triangles
SIDES = ("top", "right", "bottom", "left")
"""The edges of a rectangle by their numbers, where it is not turned."""
_OPPOSITE = ({"top", "bottom"}, {"left", "right"})


def has_logs(making: Making) -> bool:
    """Whether a unit is sewn of logs that are cut to length (those on paper are kept true by its lines)."""
    return making.recipe.method.around == "logs" and not making.recipe.method.on_paper


def values(making: Making, ctx: Context) -> Mapping[str, object]:
    """For the phrases: the side of the centre on which the first log lies (``start``: top, right, bottom or left), and
    the side of the second (``then``), or of the third where the first two lie on opposite sides; and how many rings of
    triangles there are (``rounds``)."""
    if making.recipe.method.around == "rings":
        return {"rounds": (len(making.parts) - 1) // ROUND}
    if not has_logs(making) or len(making.parts) < 2:
        return {}
    batch = ctx.makers[making.thing].batches[0][0]
    first, *others = (_side(join, n, batch) for n, join in enumerate(_joins(batch)[:3], 1))
    return {"start": first, "then": next((side for side in others if {side, first} not in _OPPOSITE), "")}


def shown(making: Making, ctx: Context) -> Sentences:
    """What the unit must measure when a round is on, which is measured then; nothing of the last round, which makes the
    unit. What each log shows, where that is the same of all."""
    if not has_logs(making):
        return ()
    batch = ctx.makers[making.thing].batches[0][0]
    *measured, _ = (a for a in batch.actions if isinstance(a, Measure))
    rounds = [
        ctx.state("step.round", log=ctx.say("names.log_n", n=n * ROUND), size=Printed("by", (m.width, m.height)))
        for n, m in enumerate(measured, 1)
    ]
    widths = {_width(join, n, batch, ctx) for n, join in enumerate(_joins(batch), 1)}
    found = [ctx.state("step.rounds", rounds=Listing(tuple(rounds)))] if rounds else []
    if len(widths) == 1:
        found.append(ctx.state("step.shows_log", width=next(iter(widths))))
    return tuple(found)


def _joins(batch: Batch) -> list[Join]:
    """How the logs are sewn on, one after the other."""
    return [a for a in batch.actions if isinstance(a, Join)]


def _side(join: Join, log: int, batch: Batch) -> str:
    """On which side of what is sewn so far a log is sewn on."""
    edge = next(e for e in (*join.left, *join.right) if e.part != log)
    return SIDES[(edge.n + batch.uses[edge.part].turned // 90) % 4]


def _width(join: Join, log: int, batch: Batch, ctx: Context) -> Length:
    """What a log adds: its side that is not sewn, without its allowances."""
    edge, item = next(e for e in (*join.left, *join.right) if e.part == log), batch.uses[log].item
    w, h = (item.width, item.height) if isinstance(item, Piece) else ctx.raw(ctx.designs[item])
    return (w if edge.n % 2 else h) - ctx.seam * 2


def first_piece(names: Sequence[Name], making: Making, ctx: Context) -> str:
    """What pieces are called; of the centre also its number, where the fields of a paper are numbered from it."""
    method, listed = making.recipe.method, ctx.listed(list(map(ctx.names.of, names)))
    if not (method.on_paper and method.around == "logs") or list(names) != [Name("centre")]:
        return listed
    return ctx.say("names.first_piece", first=ctx.names.of(Name("piece", (1,))), centre=listed)
