"""The least length of strips that are cut up further, by counting: which numbers of each piece a row, a segment, a
strip and a plan can hold. For tiny lists; it shares no code with the planner."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import product

Counts = tuple[int, ...]
Kind = tuple[tuple[tuple[int, int], ...], int]  # ways of lying (width, height), how many
FAR = 10**6


def least_length(
    kinds: list[Kind], width: int, trim: bool, beds: list[tuple[int, int]] | None = None, reach: int = 0
) -> int:
    """Give the least length of strips of the cloth, no taller than twice the tallest piece; beds are there besides.

    With a `reach`, strips are no taller than that unless some piece is as tall.
    """
    tallest = max(h for sizes, _ in kinds for w, h in sizes if w <= width)
    limit = max(tallest, min(2 * tallest, reach)) if reach else 2 * tallest
    heights = sorted({h for sizes, _ in kinds for _, h in sizes})
    nothing = (0,) * len(kinds)

    def row(counts: Counts, height: int) -> int:
        """The width of a row: each piece lies as narrow as its height allows."""
        total = 0
        for (sizes, _), number in zip(kinds, counts, strict=True):
            fits = [w for w, h in sizes if (h <= height if trim else h == height)]
            if number:
                total += number * min(fits, default=FAR)
        return total

    @cache
    def segment(counts: Counts, height: int) -> int:
        if counts == nothing:
            return 0 if trim or height == 0 else FAR
        best = FAR
        for r in heights:
            if r <= height:
                for part, rest in splits(counts):
                    wide = row(part, r)
                    if wide < best:
                        best = min(best, max(wide, segment(rest, height - r)))
        return best

    @cache
    def strip(counts: Counts, height: int) -> int:
        if counts == nothing:
            return 0
        return min(segment(part, height) + strip(rest, height) for part, rest in splits(counts))

    @cache
    def lowest(counts: Counts, across: int, most: int) -> int:
        low = (h for h in range(1, most + 1) if not reach or h <= reach or h in heights)
        return next((h for h in low if strip(counts, h) <= across), FAR)

    @cache
    def plan(counts: Counts, across: int, most: int) -> int:
        """The least length of strips, each no taller than `most`."""
        if counts == nothing:
            return 0
        return min(lowest(part, across, most) + plan(rest, across, most) for part, rest in splits(counts))

    def whole(counts: Counts, left: list[tuple[int, int]]) -> int:
        if not left:
            return plan(counts, width, limit)
        across, long = left[0]
        choices = [nothing_in for nothing_in in product(*(range(n + 1) for n in counts))]
        fits = [part for part in choices if plan(part, across, min(limit, long)) <= long]
        rests = [tuple(n - m for n, m in zip(counts, part, strict=True)) for part in fits]
        return min(whole(rest, left[1:]) for rest in rests)

    return whole(tuple(number for _, number in kinds), beds or [])


def splits(counts: Counts) -> Iterator[tuple[Counts, Counts]]:
    """Every part of some counts that is not nothing, and what is left."""
    for part in product(*(range(n + 1) for n in counts)):
        if any(part):
            yield part, tuple(n - m for n, m in zip(counts, part, strict=True))
