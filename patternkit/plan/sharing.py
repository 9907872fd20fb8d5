"""Strip units of the same strips that are cut into segments of different widths: how few of them are enough.

Segments are cut one after the other from strip units as long as the cloth is wide: bins of one size and items of few
sizes. First fit with the widest first needs at most 11/9 of the best and 6/9 more (G. Dosa 2007, from memory). The counts
do not use it yet: each unit still has strip units of its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from patternkit.lengths import Length


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
