"""What the steps of a making order hold in numbers, and what a maker has to be told of them, by code of the tests' own:
batches, their cloth on the table, remedies, and how often each batch is sewn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import accumulate
from math import radians, sin, tan

import msgspec

from patternkit.booklet.content.context import Context
from patternkit.lengths import Length
from patternkit.piecing.batch import (
    Batch,
    CutAcross,
    CutApart,
    CutMeasured,
    CutOut,
    Join,
    LayOn,
    LayStrip,
    Measure,
    Piece,
    Sew,
    Thing,
    TrimBeyond,
    TrimTo,
)
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.laid_on import LaidOn
from patternkit.piecing.making import Making
from patternkit.plan.web import ROUND
from patternkit.rehearsal.plane import XY, dot, minus, right_of, unit
from patternkit.rehearsal.table import bounds, raw_edges
from patternkit.work.model import EdgeFinish, Step

HALF_TURNS = ((1.0, 0.0), (0.7071067811865476, 0.7071067811865476))
ASLANT = 0.045
"""How far an edge may run aslant and still be measured from: the sine of two degrees and a half."""
GOES = (1, 2, 4)
"""How many batches are told as one, so that triangles come from whole squares."""


def lengths_of(makings: Sequence[Making], ctx: Context) -> set[float]:
    """Every length that the step of some makings may tell, in inches."""
    seam = float(ctx.seam)
    found = {seam, float(ctx.pattern.settings.thread)}
    for making in makings:
        step = ctx.makers[making.thing]
        found |= _sizes(making, seam)
        for batch, _ in step.batches:
            found |= _held(batch.passages)
            for use in batch.uses:
                if isinstance(use.item, Piece):
                    own = _held(use.item)
                    found |= own | {x - seam for x in own} | {x - 2 * seam for x in own}  # what it shows, sewn in
                elif use.item in ctx.designs:
                    found |= _sizes(ctx.designs[use.item], seam)
            for action in _actions(batch):
                if isinstance(action, TrimTo):  # the middle, where points and crossings lie
                    found |= {float(action.width) / 2, float(action.height) / 2}
                if isinstance(action, Sew):  # how far beside a line it is sewn
                    found |= {seam * abs(side) for side in action.sides}
        found |= _on_the_table(step, ctx) | _flanges(making, ctx)
        found |= _held(making.recipe.numbers) if making.recipe.method.on_paper else set()  # how much larger to cut
        found |= _held(getattr(making.recipe.numbers, "beyond", ()))  # how far outside its points a unit is trimmed
        if any("fused" in passage.name for batch, _ in step.batches for passage in batch.passages):
            found.add(float(ROUND))  # what web is cut larger
        for mend in step.remedies:
            found |= _held(mend.changes) | {float(mend.error), float(mend.missing)}
        cuts = [float(a.width) for batch, _ in step.batches for a in _actions(batch) if isinstance(a, CutAcross)]
        found |= set(accumulate(cuts)) | _between_ends(making, step, ctx)
    return found


def _flanges(making: Making, ctx: Context) -> set[float]:
    """What is basted to the quilt before a border is sewn on, told in its step."""
    if not isinstance(making.key, OwnKey) or making.key.name.what != "with border":
        return set()
    border = min(making.key.name.numbers)  # mitred borders side by side are sewn on as one
    edges = [
        x
        for x in ctx.order.finish
        if isinstance(x, EdgeFinish) and x.what in ("flange", "piping") and x.after == border - 1
    ]
    return {x for edge in edges for x in (*_held(edge.pieces), float(edge.shows))}


def _between_ends(making: Making, step: Step, ctx: Context) -> set[float]:
    """How long a diagonal row is between its end triangles, or one of sashing between its end pieces: the sum of what
    lies between, turned by no part of a turn."""
    if making.kind not in ("diagonal-row", "diagonal-sashing"):
        return set()
    seam, along = float(ctx.seam), 0.0
    for use in step.batches[0][0].uses[1:-1]:
        if isinstance(use.item, Thing):
            design = ctx.designs[use.item]
            along += float(design.width if use.turned % 180 == 0 else design.height)
        elif use.item.form == "rectangle":
            along += float(use.item.width if use.turned % 180 == 0 else use.item.height) - 2 * seam
    return {along}


def counts_of(makings: Sequence[Making], ctx: Context) -> set[int]:
    """Every count that the step of some makings may tell."""
    found = set[int]()
    total, taken = Counter[object](), Counter[object]()
    for making in makings:
        step = ctx.makers[making.thing]
        times = [n for _, n in step.batches]
        found |= {*times, sum(times), ctx.count(making).needed, *(n for _, n in step.leaves)}
        for batch, n in step.batches:
            for uses in Counter(use.item for use in batch.uses).values():
                found |= {uses * go for go in GOES}
            gives = [g for _, g in batch.gives]
            found |= {g * go for g in (*gives, sum(gives)) for go in GOES} | {-(-n // go) for go in GOES}
            found |= {a.count for a in _actions(batch) if isinstance(a, (CutAcross, CutOut))}
            found |= {a.through for a in _actions(batch) if isinstance(a, TrimBeyond)}
            apart = [(len(a.columns) + 1) * (len(a.rows) + 1) for a in _actions(batch) if isinstance(a, CutApart)]
            found |= {n for pieces in apart for n in range(1, pieces + 1)}  # they go by number
            found |= {a.part for a in _actions(batch) if isinstance(a, (LayOn, LayStrip))}  # layers do too
        laid = making.recipe.numbers.laid if isinstance(making.recipe.numbers, LaidOn) else ()
        found |= {part.degrees for part in laid}
        for item, n in step.gives.items():
            total[item] += n
        for item, n in step.takes.items():
            taken[item] += n
        for mend in step.remedies:
            found |= {*mend.line, *(n for _, n, _ in mend.changes)}
        found |= _room(making, step, ctx)
    alike = Counter[object]()
    for item, n in total.items():
        alike[item.key.plain if isinstance(item, Thing) else item] += n
    made = {*total.values(), *taken.values(), *alike.values()}
    wanted = {ctx.count(m).needed for m in makings} | {n for t, n in _wanted(ctx).items() if t in total}
    return found | made | wanted | {m - w for m in made for w in wanted}


def _room(making: Making, step: Step, ctx: Context) -> set[int]:
    """How many segments there is room for in strip units, each and all, and how many more than are needed."""
    found, rooms = set[int](), {0}
    for batch, times in step.batches:
        across = {(a.width, a.angle) for a in _actions(batch) if isinstance(a, CutAcross)}
        lengths = [use.item.width for use in batch.uses if isinstance(use.item, Piece) and use.item.form == "strip"]
        high = max((float(use.item.height) for use in batch.uses if isinstance(use.item, Piece)), default=0.0)
        for width, angle in across if lengths else ():
            turn = radians(angle)  # cut on the slant, the ends take what a cut leans over a strip
            fit = int((float(min(lengths)) - abs(high / tan(turn))) * sin(turn) / float(width) + 1e-9)
            found |= {fit, fit - 1}  # a little may go to square up the end
            rooms = {room + n * times for room in rooms for n in (fit, fit - 1)}
    return found | {room - ctx.count(making).needed for room in rooms}


def _wanted(ctx: Context) -> Counter[object]:
    """What the steps take of each thing in all."""
    found = Counter[object]()
    for step in ctx.order.steps:
        for item, n in step.takes.items():
            found[item] += n
    return found


def needed_of(making: Making, ctx: Context) -> dict[str, tuple[float, ...]]:
    """What the reader of a step must find in it, in inches, by what it is for: every size to cut across, to trim to, to
    measure, what is cut to measure, and the size of every piece that is taken and of what comes out."""
    step = ctx.makers[making.thing]
    found: dict[str, tuple[float, ...]] = {}
    if step.thing != making.thing:
        return found  # it came out of another step, and is only taken here
    for batch, _ in step.batches[:1]:
        for n, use in enumerate(batch.uses):
            item = use.item
            if isinstance(item, Piece) and item.form == "strip":
                found[f"strip {n}"] = (float(item.height),)
            elif isinstance(item, Piece) and item.template and (strip := ctx.bias_strip(item.template)) is not None:
                found[f"bias {n}"] = (float(strip[0]), float(strip[1]))
            elif isinstance(item, Piece) and item.form in ("rectangle", "half", "quarter"):
                found[f"piece {n}"] = (float(item.width), float(item.height))
        for n, action in enumerate(_actions(batch)):
            if isinstance(action, TrimTo):
                found[f"trim {n}"] = (float(action.width), float(action.height))
            elif isinstance(action, Sew) and max(map(abs, action.sides)) > 1:  # a second seam beside the first
                found[f"second {n}"] = (float(ctx.seam) * max(map(abs, action.sides)),)
            elif isinstance(action, TrimBeyond):
                found[f"beyond {n}"] = (float(action.beyond),)
            elif isinstance(action, Measure):
                found[f"measure {n}"] = (float(action.width), float(action.height), *map(float, action.shows))
            elif isinstance(action, CutAcross):
                found[f"across {n}"] = (float(action.width),)
            elif isinstance(action, CutApart):
                lines = zip((action.columns, action.rows), action.middles, strict=True)
                found[f"apart {n}"] = tuple(float(x) for at, halved in lines if not halved for x in at)
            elif isinstance(action, LayOn):
                found[f"laid {n}"] = (float(action.across), float(action.down))
            elif isinstance(action, LayStrip):
                points = (action.start, action.end, *((action.about,) if action.about is not None else ()))
                found[f"laid {n}"] = tuple(float(x) for point in points for x in point)
            elif isinstance(action, CutMeasured):
                found[f"measured {n}"] = (float(action.about),)
            elif isinstance(action, Join) and ("seam" in (action.start, action.stop)):
                found["stops"] = (float(ctx.seam),)
    for n, mend in enumerate(step.remedies):
        found[f"remedy {n}"] = (
            float(mend.missing if mend.within != mend.of else mend.error),
            float(mend.changes[0][2]),
        )
    return found


def _actions(batch: Batch) -> Iterator[object]:
    for passage in batch.passages:
        yield from passage.actions


def _sizes(making: Making, seam: float) -> set[float]:
    w, h = float(making.width), float(making.height)
    return {w, h, w + 2 * seam, h + 2 * seam}


def _held(what: object) -> set[float]:
    """All lengths in some data."""
    if isinstance(what, Length):
        return {float(what)}
    if isinstance(what, msgspec.Struct):
        return {x for name in what.__struct_fields__ for x in _held(getattr(what, name))}
    if isinstance(what, (tuple, list)):
        return {x for y in what for x in _held(y)}
    return set()


def _on_the_table(step: Step, ctx: Context) -> set[float]:
    """How wide and high everything is that lies on the table after any action, as it is sewn on simulated cloth: from
    tip to tip, and between raw edges that run alike, and what shows of each of its pieces."""
    found = set[float]()
    n = next(n for n, s in enumerate(ctx.order.steps) if s is step)
    for b in range(len(step.batches)):
        done = ctx.rehearsed.outcomes.get((n, b))
        for state in done.performance.states if done is not None else ():
            for hand in {id(h): h for h in state.hands}.values():
                edges = [(a, b) for a, b in raw_edges(hand) if a != b]
                for way in {*HALF_TURNS, *(_way(a, b) for a, b in edges)}:
                    low, high, left, right = bounds(hand, way)
                    square = right_of(way)
                    level = [edge for edge in edges if abs(dot(unit(minus(edge[1], edge[0])), square)) < ASLANT]
                    at = [dot(p, square) for edge in level for p in edge]
                    shown = [max(dot(p, way) for p in f.ring) - min(dot(p, way) for p in f.ring) for f in hand.facets]
                    found |= {high - low, right - left, max(at, default=0.0) - min(at, default=0.0), *shown}
    return found


def _way(a: XY, b: XY) -> XY:
    """The direction of an edge, as fine as makes the same of parallel ones."""
    x, y = unit(minus(b, a))
    return round(x, 9), round(y, 9)
