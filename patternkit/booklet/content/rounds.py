"""What a step says of units sewn round a centre, of logs or of rings of triangles: where the first logs lie, what each
round must measure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from patternkit.booklet.content.context import Context
from patternkit.booklet.content.panels import Sentences
from patternkit.booklet.phrases import Listing, Printed
from patternkit.lengths import Length
from patternkit.piecing.making import Making
from patternkit.piecing.names import Name

ROUND = 4  # logs, or triangles
_Box = tuple[Length, Length, Length, Length]  # left, top, right, bottom


def has_logs(making: Making) -> bool:
    """Whether a unit is sewn of logs that are cut to length (those on paper are kept true by its lines)."""
    return making.recipe.method.around == "logs" and not making.recipe.method.on_paper


def values(making: Making, ctx: Context) -> Mapping[str, object]:
    """For the phrases: the side of the centre on which the first log lies (``start``: top, right, bottom or left), and
    the side of the second (``then``), or of the third where the first two lie on opposite sides; and how many rings of
    triangles there are (``rounds``).

    Read off the drawing, so that a mirrored unit says how it is drawn.
    """
    around = making.recipe.method.around
    if around == "rings":
        return {"rounds": _rounds(making)}
    if around != "logs" or len(making.parts) < 2:
        return {}
    sides = [_side(_box(making, n), _box(making, n + 1)) for n in range(min(len(making.parts) - 1, 3))]
    first = sides[0]
    return {"start": first, "then": next((s for s in sides[1:] if {s, first} not in _OPPOSITE), "")}


def shown(making: Making, ctx: Context) -> Sentences:
    """What the unit must measure when a round is on; nothing of the last round, which makes the unit."""
    return _logs(making, ctx) if has_logs(making) else ()


def _rounds(making: Making) -> int:
    """How many rounds of four lie round the centre."""
    return (len(making.parts) - 1) // ROUND


def _logs(making: Making, ctx: Context) -> Sentences:
    """What it measures with a round's last log on, and what each log shows."""
    ends = range(ROUND, len(making.parts) - 1, ROUND)
    rounds = []
    for n in ends:
        left, top, right, bottom = _box(making, n)
        seams = ctx.seam * 2
        size = Printed("by", (right - left + seams, bottom - top + seams))
        rounds.append(ctx.state("step.round", log=ctx.say("names.log_n", n=n), size=size))
    widths = {_width(making, n) for n in range(1, len(making.parts))}
    found = [ctx.state("step.rounds", rounds=Listing(tuple(rounds)))] if rounds else []
    if len(widths) == 1:
        found.append(ctx.state("step.shows_log", width=next(iter(widths))))
    return tuple(found)


_OPPOSITE = ({"top", "bottom"}, {"left", "right"})


def _box(making: Making, last: int) -> _Box:
    """What is sewn when the part at index `last` is on; the centre is at 0."""
    xs, ys = [], []
    for part in making.parts[: last + 1]:
        for x, y in part.place.outline(part.what.outline):
            xs.append(x)
            ys.append(y)
    return min(xs), min(ys), max(xs), max(ys)


def _side(before: _Box, after: _Box) -> str:
    """On which side something has grown."""
    moved = (after[0] < before[0], after[1] < before[1], after[2] > before[2], after[3] > before[3])
    return ("left", "top", "right", "bottom")[moved.index(True)]


def _width(making: Making, n: int) -> Length:
    """The finished width of a log: what it adds."""
    before, after = _box(making, n - 1), _box(making, n)
    return max(abs(a - b) for a, b in zip(after, before, strict=True))


def first_piece(names: Sequence[Name], making: Making, ctx: Context) -> str:
    """What pieces are called; of the centre also its number, where the fields of a paper are numbered from it."""
    method, listed = making.recipe.method, ctx.listed(list(map(ctx.names.of, names)))
    if not (method.on_paper and method.around == "logs") or list(names) != [Name("centre")]:
        return listed
    return ctx.say("names.first_piece", first=ctx.names.of(Name("piece", (1,))), centre=listed)
