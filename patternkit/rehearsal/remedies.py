"""Remedies tried: a thing is made short and long by what is told, the changed cuts are made, and all must meet."""

from __future__ import annotations

import msgspec

from patternkit.piecing.batch import Batch, Item, Piece
from patternkit.rehearsal.bench import Workroom, shape_of
from patternkit.rehearsal.gaps import Gap
from patternkit.rehearsal.perform import Performance, perform
from patternkit.rehearsal.plane import XY, back, dot, moved, stretching, swung, unit
from patternkit.rehearsal.table import Facet, Shape, bounds
from patternkit.work.model import Mend, Order

MEET = 1 / 64 + 1e-6


def remedy_gaps(order: Order, room: Workroom) -> list[Gap]:
    """Every remedy that does not bring things together, or can't be cut."""
    gaps = []
    grid = order.ruler.fraction
    for n, step in enumerate(order.steps):
        for mend in step.remedies:
            for piece, _, by in mend.changes:
                if not by.on_grid(grid):
                    gaps.append(Gap("ruler", n, item=piece, stated=by))
                if abs(by) * 2 > order.seam:
                    gaps.append(Gap("remedy", n, item=mend.of, stated=mend.error, out=by, other=piece))
            out = _tried(order, mend, room)
            if out is not None:
                gaps.append(Gap("remedy", n, item=mend.of, stated=mend.error, out=out))
    return gaps


def _tried(order: Order, mend: Mend, room: Workroom) -> float | None:
    """How much is left when a remedy is carried out, short and long; None when all meets."""
    changed = {piece for piece, _, _ in mend.changes}
    found = False
    worst = 0.0
    for step in order.steps:
        for batch, _ in step.batches:
            items = {use.item for use in batch.uses}
            own = mend.of == step.thing == mend.within
            if not items & changed or not step.rehearsed or not (own or mend.of in items):
                continue
            found = True
            for sign in (1, -1):
                left = _left(batch, mend, room, sign, own)
                worst = max(worst, left)
    if not found:
        return float(mend.error)
    return worst if worst > MEET else None


def _left(batch: Batch, mend: Mend, room: Workroom, sign: int, own: bool) -> float:
    """How far what comes out is from what it is without error and remedy."""
    as_stated = perform(batch, room)
    if as_stated.broken:
        return 0.0  # told already
    way = _from_end_to_end(as_stated, batch) if own else _axis(as_stated, batch, mend)
    if way is None:
        return float(mend.error)
    change = _ends if own else _changed
    new = perform(batch, msgspec.structs.replace(room, changed=change(batch, mend, room, as_stated, way, sign)))
    if new.broken:
        gap = new.gaps[-1]
        if isinstance(gap.stated, (int, float)) and isinstance(gap.out, (int, float)):
            return max(abs(float(gap.stated) - float(gap.out)), 2 * MEET)
        return float(mend.error)
    sizes = [bounds(p.hands[0], way) for p in (as_stated, new)]
    return abs((sizes[0][1] - sizes[0][0]) - (sizes[1][1] - sizes[1][0]))


def _facet(done: Performance, part: int) -> Facet | None:
    return next((f for h in done.hands for f in h.facets if f.part == part), None)


def _axis(done: Performance, batch: Batch, mend: Mend) -> XY | None:
    """The direction on the table along which the thing is off."""
    for part, use in enumerate(batch.uses):
        facet = _facet(done, part) if use.item == mend.of else None
        if facet is not None:
            return unit(swung(facet.place, (1.0, 0.0) if mend.axis == "w" else (0.0, 1.0)))
    return None


def _from_end_to_end(done: Performance, batch: Batch) -> XY | None:
    """The direction on the table from the first part to the last."""
    first, last = _facet(done, 0), _facet(done, len(batch.uses) - 1)
    if first is None or last is None:
        return None
    (ax, ay), (bx, by) = _middle(first), _middle(last)
    return unit((bx - ax, by - ay))


def _middle(facet: Facet) -> XY:
    n = len(facet.ring)
    return sum(x for x, _ in facet.ring) / n, sum(y for _, y in facet.ring) / n


def _ends(batch: Batch, mend: Mend, room: Workroom, done: Performance, way: XY, sign: int) -> dict[int, Shape]:
    """The parts of a thing that is off by itself: an inner one with the whole error, the outer two with the remedy."""
    last = len(batch.uses) - 1
    by: dict[Item, float] = {piece: float(x) for piece, _, x in mend.changes}
    amounts = {1: -float(mend.error), **{n: by.get(batch.uses[n].item, 0.0) for n in (0, last)}}
    new: dict[int, Shape] = {}
    for part, amount in amounts.items():
        facet = _facet(done, part)
        if facet is not None:
            own = unit(swung(back(facet.place), way))
            new[part] = _resized(shape_of(batch.uses[part].item, room), own, sign * amount)
    return new


def _changed(batch: Batch, mend: Mend, room: Workroom, done: Performance, way: XY, sign: int) -> dict[int, Shape]:
    """The parts of a batch with the error and the remedy."""
    new: dict[int, Shape] = {}
    left = {piece: count for piece, count, _ in mend.changes}
    by = {piece: float(x) for piece, _, x in mend.changes}
    for part, use in enumerate(batch.uses):
        facet = _facet(done, part)
        if facet is None:
            continue
        own = unit(swung(back(facet.place), way))
        if use.item == mend.of:
            new[part] = _resized(shape_of(use.item, room), own, -sign * float(mend.error))
        elif isinstance(use.item, Piece) and left.get(use.item, 0) > 0:
            left[use.item] -= 1
            new[part] = _resized(shape_of(use.item, room), own, sign * by[use.item])
    return new


def _resized(shape: Shape, way: XY, by: float) -> Shape:
    """A shape made longer along a direction."""
    far = [dot(p, way) for p in shape.outline]
    size = max(far) - min(far)
    move = stretching(shape.outline[far.index(min(far))], way, (size + by) / size)
    return Shape(tuple(moved(move, p) for p in shape.outline))
