"""Strip units of the same strips that are cut into segments of different widths: fewer are needed when they share.

Segments are cut one after the other from strip units as long as the cloth is wide: bins of one size and items of few
sizes. First fit with the widest first needs at most 11/9 of the best and 6/9 more (G. Dosa 2007, from memory);
sharing is used only where it takes less than each by itself.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.piecing.making import Cloth, Making
from patternkit.plan.counts import Count, Layout

MOST_SEGMENTS = 4_000  # packed one by one; a quilt with more keeps its strip units apart


def share_strip_units(found: Sequence[Count], usable: Mapping[str, Length]) -> list[Count]:
    """The counts with equal strip units shared where that takes fewer of them: the first unit of each group gets all the
    batches with what is cut from each, the others say from whose strip units they are cut."""
    groups: dict[object, list[Count]] = {}
    for count in found:
        if count.making.recipe.phrase == "strips" and count.needed and count.yields:
            groups.setdefault(_signature(count.making), []).append(count)
    changed: dict[int, Count] = {}
    for group in groups.values():
        if len(group) > 1 and sum(c.needed for c in group) <= MOST_SEGMENTS:
            changed.update(_shared(group, usable))
    return [changed.get(id(count.making), count) for count in found]


def _signature(making: Making) -> object:
    """What makes two strip units the same: fabrics, widths and pressing, from left to right."""
    strips = []
    for part in making.parts:
        assert isinstance(part.what, Cloth)
        xs = [p[0] for p in part.what.outline]
        strips.append((part.what.fabric, max(xs) - min(xs)))
    return tuple(strips), tuple(s.pressed for s in making.seams)


def _shared(group: list[Count], usable: Mapping[str, Length]) -> dict[int, Count]:
    width = min(usable[c.fabric] for c in group[0].making.recipe.cuts)
    alone = sum((Fraction(c.whole) + (Fraction(1, 2) if c.half else 0) for c in group), Fraction(0))
    layouts = pack([(c.making.recipe.segment or ZERO, c.needed) for c in group], width)
    total = sum(times for times, _ in layouts)
    if total >= alone:
        return {}
    told = tuple(Layout(times, tuple((group[i].making.key, n) for i, n in enumerate(numbers) if n))
                 for times, numbers in layouts)
    first = msgspec.structs.replace(group[0], batches=total, half=0, layouts=told)
    others = {id(c.making): msgspec.structs.replace(c, batches=0, half=0, source=first.making.key) for c in group[1:]}
    return {id(first.making): first, **others}


def pack(segments: Sequence[tuple[Length, int]], width: Length) -> list[tuple[int, tuple[int, ...]]]:
    """Cut segments (width, how many) from strip units of one length: how many strip units are cut in each way, a way being
    how many of each segment come from one. First fit, the widest first."""
    order = sorted(range(len(segments)), key=lambda i: (-float(segments[i][0]), i))
    bins: list[tuple[Length, list[int]]] = []
    for i in order:
        wide, left = segments[i]
        for n, (room, numbers) in enumerate(bins):
            take = min(left, int((room / wide).floor_to(Fraction(1))))
            if take > 0:
                numbers[i] += take
                bins[n] = (room - wide * take, numbers)
                left -= take
            if not left:
                break
        while left > 0:
            take = min(left, int((width / wide).floor_to(Fraction(1))))
            if take <= 0:
                return []
            numbers = [0] * len(segments)
            numbers[i] = take
            bins.append((width - wide * take, numbers))
            left -= take
    ways: dict[tuple[int, ...], int] = {}
    for _, numbers in bins:
        ways[tuple(numbers)] = ways.get(tuple(numbers), 0) + 1
    return [(times, way) for way, times in ways.items()]
