"""Remedies: from an error (which thing, along which axis) to changed cuts that make up for it.

They are found among the plain pieces that lie beside the thing along that axis, where it is sewn in. A piece changes by
a line of the ruler at most half a seam wide; all pieces that are cut alike change alike, and what they gain together in
every line is what is missing there, so that nothing else has to be changed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.batch import Batch, CutMeasured, Item, Piece, Thing
from patternkit.piecing.making import Making
from patternkit.work.drift import MANY, Crossed, most_seams
from patternkit.work.model import Axis, Mend, Order, Step

Designs = Mapping[Thing, Making]
NEAR = 1e-6
PLAIN = {"rectangle", "strip"}


def with_remedies(order: Order, designs: Designs) -> Order:
    """The order with a remedy at each step that makes a unit of many seams, where there is one."""
    memo: Crossed = {}
    steps = []
    for step in order.steps:
        design = designs[step.thing]
        found: tuple[Mend, ...] = ()
        if design.role in ("unit", "block") and not design.recipe.method.on_paper:
            seams, axis = most_seams(design, memo)
            found = remedies(step, ("w", "h")[axis], order, designs) if seams >= MANY else ()
        steps.append(msgspec.structs.replace(step, remedies=found) if found else step)
    return msgspec.structs.replace(order, steps=tuple(steps))


def remedies(step: Step, axis: Axis, order: Order, designs: Designs) -> tuple[Mend, ...]:
    """What makes up for an error of what a step makes along an axis: its own ends, and pieces beside it."""
    by = Length((order.seam / 2).floor_to(order.ruler.fraction))
    if not by:
        return ()
    own, others = _own_ends(step, axis, by, designs), _beside(step.thing, axis, by, order, designs)
    return (*([own] if own is not None else []), *([others] if others is not None else []))


def _own_ends(step: Step, axis: Axis, by: Length, designs: Designs) -> Mend | None:
    """The two outer ones of three or more pieces that are sewn side by side along the axis."""
    design, batch = designs[step.thing], step.batches[0][0]
    uses = batch.uses
    lines = lines_along(design, axis)
    if len(uses) != len(design.parts) or len(uses) < 3 or [len(line) for line in lines] != [len(uses)]:
        return None
    first, last = (uses[n].item for n in (lines[0][0], lines[0][-1]))
    if not (isinstance(first, Piece) and isinstance(last, Piece)) or not {first.form, last.form} <= PLAIN:
        return None
    if any(isinstance(action, CutMeasured) for action in batch.actions):
        return None  # they are cut to what is measured, whatever they were cut to at first
    changes = ((first, 2, by),) if first == last else ((first, 1, by), (last, 1, by))
    return Mend(step.thing, axis, by * 2, changes, step.thing)


class _Beside(NamedTuple):
    """Pieces that take up an error in one batch: which, how many units and pieces lie in each line."""

    pieces: dict[Piece, int]
    units: int
    beside: int


def _beside(thing: Thing, axis: Axis, by: Length, order: Order, designs: Designs) -> Mend | None:
    """Plain pieces in the lines in which a thing lies, wherever it is sewn in; none where two places differ."""
    places = [
        (step, found)
        for step in order.steps
        for batch, _ in step.batches[:1]
        if any(use.item == thing for use in batch.uses)
        for found in [_in_batch(thing, axis, batch, designs[step.thing])]
    ]
    remedies = [found for _, found in places if found is not None]
    if not remedies or any(f != remedies[0] for f in remedies):
        return None
    found = remedies[0]
    mended = {step.thing for step, f in places if f is not None}
    if any(not found.pieces.keys().isdisjoint(step.takes) for step in order.steps if step.thing not in mended):
        return None  # what is cut alike for another place would differ then
    changes = tuple((piece, n, by) for piece, n in found.pieces.items())
    where = next(step.thing for step, f in places if f is not None)
    error = by * found.beside / found.units
    return Mend(thing, axis, error, changes, where, (found.units, found.beside))


def _in_batch(thing: Thing, axis: Axis, batch: Batch, design: Making) -> _Beside | None:
    """The plain pieces that can take up an error of a thing where a batch joins it, in the order of the batch."""
    items = [use.item for use in batch.uses]
    if len(items) != len(design.parts) or design.recipe.trim_to is not None or design.recipe.method.on_paper:
        return None  # what is trimmed to size, or to the line of its paper, has that size, be what lies in it off
    turns = {design.parts[n].place.turned % 180 for n, item in enumerate(items) if item == thing}
    if len(turns) != 1 or not turns <= {0, 90}:
        return None  # one would be short across, another down
    along: Axis = axis if turns == {0} else "h" if axis == "w" else "w"
    lines = lines_along(design, along)
    beside = {items[n] for line in lines for n in line if any(items[m] == thing for m in line)}
    for chosen in _choices([item for item in beside if isinstance(item, Piece) and item.form in PLAIN]):
        counted = {_counted(line, items, thing, chosen) for line in lines}
        counted.discard((0, 0))
        if len(counted) == 1:
            units, pieces = next(iter(counted))
            if units and pieces and _made_up_in_time((units, pieces), along, design, items, thing, chosen):
                return _Beside({p: items.count(p) for p in sorted(chosen)}, units, pieces)
    return None


def _made_up_in_time(
    whole: tuple[int, int], axis: Axis, design: Making, items: Sequence[Item], thing: Thing, chosen: set[Piece]
) -> bool:
    """Whether each line of it is together before something is sewn to it along the axis: as long as one piece of it is
    missing the error is still there."""
    i, lines = 0 if axis == "w" else 1, lines_along(design, axis)
    sides = [side for s in design.seams if s.start[1 - i] == s.end[1 - i] for side in (s.left, s.right)]
    there = [[n for n in line if n in side] for side in sides for line in lines]
    return all(_counted(line, items, thing, chosen) in ((0, 0), whole) for line in there)


def _choices(pieces: Sequence[Piece]) -> list[set[Piece]]:
    """All of the pieces; else those of one kind."""
    found = sorted(pieces)
    return [set(found), *({piece} for piece in found)] if found else []


def _counted(line: Sequence[int], items: Sequence[Item], thing: Thing, chosen: set[Piece]) -> tuple[int, int]:
    return sum(items[n] == thing for n in line), sum(items[n] in chosen for n in line)


def lines_along(design: Making, axis: Axis) -> list[tuple[int, ...]]:
    """The numbers of the parts that lie one beside the other along an axis, in order, for every line that differs."""
    i = 0 if axis == "w" else 1
    boxes = []
    for n, part in enumerate(design.parts):
        ring = [(float(p[i]), float(p[1 - i])) for p in part.place.outline(part.what.outline)]
        ends, sides = [sorted(p[k] for p in ring) for k in (0, 1)]
        boxes.append((ends[0], sides[0], sides[-1], n))
    levels = sorted({round(edge, 6) for _, low, high, _ in boxes for edge in (low, high)})
    found: dict[tuple[int, ...], None] = {}
    for low, high in pairwise(levels):
        if high - low > NEAR:
            middle = (low + high) / 2
            found[tuple(n for _, a, b, n in sorted(boxes) if a < middle < b)] = None
    return list(found)
