"""What is cut besides, by the writer's word: for the whole quilt, or for each of a unit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from patternkit.lengths import Length
from patternkit.model.cut_lines import AlsoCut
from patternkit.model.pattern import Pattern
from patternkit.piecing.keys import Key, Thing
from patternkit.piecing.making import PieceCut
from patternkit.piecing.names import Name
from patternkit.plan.counts import Count


def name_of(also: AlsoCut) -> Name:
    """What the pieces are called in plans and orders."""
    return Name("also", title=also.title)


def also_cuts(counts: Sequence[Count], pattern: Pattern) -> Iterator[tuple[PieceCut, int, Thing | None]]:
    """Each thing that is cut besides, how many of it in all, and for each of which thing, if not for the quilt.

    What is cut for units and is longer than the cloth is wide is cut along it; of the quilt's it is joined from strips.
    """
    of_units = any(unit.also for unit in pattern.units.values())
    for count in counts if of_units else ():
        key = count.making.key
        unit = pattern.units.get(key.of) if isinstance(key, Key) else None
        for also in unit.also if unit is not None and count.needed else ():
            cut = _cut(also, pattern)
            usable = pattern.fabrics[cut.fabric].usable_width
            if not cut.then and max(cut.width, cut.height) > usable:
                short, long = sorted((cut.width, cut.height))
                size = {"width": short, "exact_width": short, "height": long, "exact_height": long}
                cut = msgspec.structs.replace(cut, along=True, **size)
            yield cut, also.cut.count * count.needed, count.making.thing
    for also in pattern.quilt.also if pattern.quilt is not None else ():
        yield _cut(also, pattern), also.cut.count, None


def _cut(also: AlsoCut, pattern: Pattern) -> PieceCut:
    """One piece as it is stated, raw; a strip is as long as its cloth is wide."""
    stated, values = also.cut, pattern.parameters
    width = stated.width.value(values)
    if stated.noun == "strips":
        long = pattern.fabrics[stated.fabric].usable_width
        return PieceCut(stated.fabric, long, width, long, width, 1, "strip", name_of(also), stated=stated.span)
    height: Length = width if stated.height is None else stated.height.value(values)
    return PieceCut(stated.fabric, width, height, width, height, 1, name=name_of(also), stated=stated.span)
