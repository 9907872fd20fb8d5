"""Shapes cut by template from strip units sewn alike: one kind the one way up, the other the other way, by turns.

Two units want their stripes in opposite orders: a wedge whose tip is of the first strip, and one whose tip is of the
last. Each alone leaves the cloth between its tips; laid by turns each fills what the other leaves. They are cut so only
where that takes fewer strip units.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations

import msgspec

from patternkit.model.pattern import Pattern
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.strip_piece import on_unit, sewn_as
from patternkit.piecing.strip_cuts import Widths
from patternkit.piecing.turns import by_turns
from patternkit.plan.counts import Count, segments_from
from patternkit.plan.shared import Shared
from patternkit.plan.sharing import Way, cost

PartOf = Callable[[Count], int | None]


def with_upended(counts: Sequence[Count], pattern: Pattern, widths: Widths, part_of: PartOf) -> list[Count]:
    """The same counts, with shapes from strip units that are sewn alike cut by turns where that saves strip units, and
    both fall to one part of a sew-along (`part_of`)."""
    own = [
        c for c in counts if c.making.recipe.numbers.from_strip_unit and c.shared is None and c.needed and not c.shares
    ]
    found: dict[int, Count] = {}
    for first, second in combinations(own, 2):
        if id(first.making) in found or id(second.making) in found or part_of(first) is None:
            continue
        if part_of(first) != part_of(second) or not _alike(first.making, second.making, pattern):
            continue
        ways = _ways(first, second, widths)
        if ways is None or cost(ways) >= _alone(first) + _alone(second):
            continue
        shared = Shared((first.making, second.making), tuple(ways))
        for n, c in enumerate((first, second)):
            batches, half = (0, 0) if n else (shared.batches, shared.half)
            found[id(c.making)] = msgspec.structs.replace(c, batches=batches, half=half, shared=shared)
    return [found.get(id(c.making), c) for c in counts]


def _alone(count: Count) -> int:
    """What the strip units of a count take, in half ones."""
    return count.batches * 2 - (1 if count.half else 0)


def _alike(a: Making, b: Making, pattern: Pattern) -> bool:
    """Whether their strip units are sewn and pressed alike."""
    return sewn_as(a) == sewn_as(b) and all(c.fabric in pattern.fabrics for c in a.recipe.cuts)


def _ways(first: Count, second: Count, widths: Widths) -> list[Way] | None:
    """How strip units are cut: so many of both from each, then what is left of either; the last one of half strips
    where those are enough. None where the two do not lie by turns."""
    a, b = first.making, second.making
    laid = by_turns(on_unit(a), on_unit(b))
    if laid is None:
        return None
    rooms = [widths.room(a.recipe.cuts, half) for half in (False, True)]
    most = [laid.fits(room) for room in rooms]
    if not all(most[0]):
        return None
    left, batches = [first.needed, second.needed], list[tuple[int, int]]()
    while any(left):
        if all(left):
            take = (min(left[0], most[0][0]), min(left[1], most[0][1]))
        else:
            alone = [segments_from(c.making, rooms[0]) for c in (first, second)]
            take = (min(left[0], alone[0]), min(left[1], alone[1]))
        batches.append(take)
        left = [left[0] - take[0], left[1] - take[1]]
    last = batches[-1]
    short = (
        all(last[n] <= most[1][n] for n in (0, 1))
        if all(last)
        else sum(last) <= segments_from((a if last[0] else b), rooms[1])
    )
    whole = batches[:-1] if short else batches
    ways = [Way(whole.count(take), take) for take in dict.fromkeys(whole)]
    return [*ways, *([Way(1, last, half=True)] if short else [])]
