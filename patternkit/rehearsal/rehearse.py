"""An order carried out: everything cut, every batch sewn, everything counted, and each place where what is told is not
what comes out."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from patternkit.piecing.batch import Batch, Item, Thing
from patternkit.piecing.making import Making
from patternkit.rehearsal.bench import Workroom
from patternkit.rehearsal.cutting import cutting_gaps, ruler_gaps, what_is_cut
from patternkit.rehearsal.drawn import Designs
from patternkit.rehearsal.edges import edge_gaps
from patternkit.rehearsal.finishes import take_finishes
from patternkit.rehearsal.gaps import Gap
from patternkit.rehearsal.outcome import Outcome, outcome
from patternkit.rehearsal.prints import print_gaps
from patternkit.rehearsal.remedies import remedy_gaps
from patternkit.work.model import Order


class Rehearsal(msgspec.Struct):
    """What came of an order: its gaps, the outcome of each batch (by step and batch number), and the steps that have no
    actions yet and were taken as they are drawn."""

    gaps: tuple[Gap, ...]
    outcomes: dict[tuple[int, int], Outcome]
    not_rehearsed: tuple[int, ...]


def rehearse(order: Order, designs: Mapping[Thing, Making]) -> tuple[Gap, ...]:
    """Every gap of an order, in the order in which a maker would meet it; empty when what is told is what comes out."""
    return rehearsal(order, designs).gaps


def rehearsal(order: Order, designs: Mapping[Thing, Making]) -> Rehearsal:
    """The same with everything that was sewn on the way, for drawings and for what is not rehearsed.

    `designs` are the makings of all sewn things, with the sizes as sewn. After a gap a thing goes on as it is drawn.
    """
    drawn = Designs(designs, float(order.seam))
    shapes: dict[Item, object] = {}
    room = Workroom(float(order.seam), order.templates, order.papers, shapes, squaring=order.squaring)  # type: ignore[arg-type]
    found = Rehearsal((), {}, tuple(n for n, s in enumerate(order.steps) if not s.rehearsed))
    gaps = [*cutting_gaps(order), *ruler_gaps(order)]
    pool = what_is_cut(order)
    done: dict[Batch, Outcome] = {}
    for n, step in enumerate(order.steps):
        for b, (batch, times) in enumerate(step.batches):
            gaps += _taken(batch, times, pool, n, b)
            if step.rehearsed:
                _draw(batch, drawn, shapes)
                if batch not in done:
                    done[batch] = outcome(batch, room, drawn)
                    gaps += [msgspec.structs.replace(g, step=n, batch=b) for g in done[batch].gaps]
                found.outcomes[n, b] = done[batch]
                _keep(done[batch], shapes)
            for item, count in batch.gives:
                pool[item] = pool.get(item, 0) + count * times
    gaps += edge_gaps(order, designs)
    gaps += print_gaps(order)
    gaps += _left(order, pool)
    gaps += _again(order)
    gaps += _runs(order)
    gaps += remedy_gaps(order, room)
    found.gaps = tuple(gaps)
    return found


def _draw(batch: Batch, drawn: Designs, shapes: dict[Item, object]) -> None:
    """What was made with a gap, or not rehearsed, is taken as it is drawn."""
    for use in batch.uses:
        if isinstance(use.item, Thing) and use.item not in shapes:
            shape = drawn.shape(use.item)
            if shape is not None:
                shapes[use.item] = shape


def _keep(done: Outcome, shapes: dict[Item, object]) -> None:
    """What was made without a gap is taken as it was sewn."""
    if not done.gaps:
        for thing, shape in done.shapes.items():
            shapes.setdefault(thing, shape)


# -- accounts ---------------------------------------------------------------------------------------------
def _taken(batch: Batch, times: int, pool: dict[Item, int], n: int, b: int) -> list[Gap]:
    """Take what a batch takes; note what is not there."""
    need: dict[Item, int] = {}
    for use in batch.uses:
        need[use.item] = need.get(use.item, 0) + times
    gaps = []
    for item, count in need.items():
        have = pool.get(item, 0)
        if have < count:
            gaps.append(Gap("taken", n, b, item=item, stated=count, out=have))
        pool[item] = max(0, have - count)
    return gaps


def _left(order: Order, pool: dict[Item, int]) -> list[Gap]:
    """In the end there is one top, and what is said to be left."""
    gaps = take_finishes(order, pool)
    stated: dict[Item, int] = {}
    for leaves in (order.leaves, *(s.leaves for s in order.steps)):
        for item, count in leaves:
            stated[item] = stated.get(item, 0) + count
    if order.top is not None:
        tops = pool.pop(order.top, 0) - stated.pop(order.top, 0)
        if tops != 1:
            gaps.append(Gap("top", item=order.top, stated=1, out=tops))
    for item, count in order.wanted:
        have = pool.get(item, 0)
        if have < count:
            gaps.append(Gap("wanted", item=item, stated=count, out=have))
        pool[item] = max(0, have - count)
    for item in [*pool, *(i for i in stated if i not in pool)]:
        have, want = pool.get(item, 0), stated.get(item, 0)
        if have != want:
            makers = [n for n, s in enumerate(order.steps) if item in s.gives]
            gaps.append(Gap("untaken", makers[-1] if makers else None, item=item, stated=want, out=have))
    return gaps


def _again(order: Order) -> list[Gap]:
    """What is put aside and made or cut afresh: by another step, by the cutting, or by one batch too many. Of what is
    sewn of single prints a batch may leave some of each print."""
    gaps = []
    cut = what_is_cut(order)
    for n, step in enumerate(order.steps):
        left = dict(step.leaves)
        for item, count in step.leaves:
            others = sum(s.gives.get(item, 0) for m, s in enumerate(order.steps) if m != n)
            others += cut.get(item, 0) if item in step.gives else 0
            if others:
                gaps.append(Gap("again", n, item=item, stated=count, out=others))
        for b, (batch, times) in enumerate(step.batches):
            over = all(left.get(item, 0) >= count for item, count in batch.gives)
            if step.prints:  # less than a batch of each print; of mirror images that nobody wants any number
                each, whole = len(step.prints), sum(count for _, count in batch.gives)
                over = all(left.get(item, 0) > (count - 1) * each for item, count in batch.gives)
                over = over and sum(left.get(item, 0) for item, _ in batch.gives) > (whole - 1) * each
            if times and batch.gives and over:
                item, count = batch.gives[0]
                gaps.append(Gap("again", n, b, item=item, stated=left[item], out=count))
    return gaps


def _runs(order: Order) -> list[Gap]:
    """The runs of all releases add up to the steps, and no run takes what a later one makes."""
    if not order.runs:
        return []
    gaps = []
    total: dict[tuple[int, int], int] = {}
    pool: dict[Item, int] = {}
    for run in sorted(order.runs, key=lambda r: r.release):
        if not 0 <= run.step < len(order.steps):
            gaps.append(Gap("runs", run.step, stated=0, out=1))
            continue
        step = order.steps[run.step]
        for b, times in run.batches:
            if not 0 <= b < len(step.batches):
                gaps.append(Gap("runs", run.step, b, stated=0, out=times))
                continue
            total[run.step, b] = total.get((run.step, b), 0) + times
            batch = step.batches[b][0]
            short = _taken(batch, times, pool, run.step, b)
            gaps += [msgspec.structs.replace(g, kind="run") for g in short if isinstance(g.item, Thing)]
            for item, count in batch.gives:
                pool[item] = pool.get(item, 0) + count * times
    for n, step in enumerate(order.steps):
        for b, (_, times) in enumerate(step.batches):
            if total.get((n, b), 0) != times:
                gaps.append(Gap("runs", n, b, stated=times, out=total.get((n, b), 0)))
    return gaps
