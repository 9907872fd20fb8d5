"""The places where a cut can usefully lie: sums of widths, and sums of heights, of the pieces that there are.

Whatever lies on a strip can be pushed to the left and up, so no other place is needed (normal patterns: J. C. Herz, IBM
Journal of Research and Development 16, 1972; N. Christofides and C. Whitlock, Operations Research 25, 1977; both from
memory).
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from patternkit.plan.cutting.task import Size, Task

TALL = 2
"""Strips are no taller than this many times the tallest piece: taller ones save next to nothing in any list tried."""


class CutPoints(msgspec.Struct, frozen=True):
    """Widths (0 first) and heights (0 first) that cuts can have, and the ways in which each kind can lie.

    Strips of the cloth are no taller than `tallest`; those of a bed no taller than the bed is long.
    """

    widths: tuple[int, ...]
    heights: tuple[int, ...]
    ways: tuple[tuple[int, int, int], ...]  # height, width, kind: lowest first
    tallest: int


def points(task: Task, longest: int) -> CutPoints:
    """Give the places for a task whose strips of the cloth are no taller than `longest`.

    Among the widths is that of the cloth and of each bed.
    """
    most = max([longest, *(length for _, length in task.beds)])
    ways = [(h, w, i) for i, kind in enumerate(task.kinds) for w, h in kind.sizes if w <= task.width and h <= most]
    piece = max((h for h, _, _ in ways), default=0)
    limit = min(most, max(piece, min(TALL * piece, task.reach)) if task.reach else TALL * piece)
    widths = sums(((w, task.kinds[i].demand) for _, w, i in ways), task.width)
    ends: Iterable[int] = (task.width, *(width for width, _ in task.beds))
    heights = sums(((h, task.kinds[i].demand) for h, _, i in ways), limit)
    return CutPoints(tuple(sorted({*widths, *ends})), tuple(heights), tuple(sorted(ways)), min(longest or limit, limit))


def sums(sizes: Iterable[tuple[int, int]], limit: int) -> list[int]:
    """Give all sums up to a limit of sizes, each taken no more often than it is there."""
    reached, mask = 1, (1 << limit + 1) - 1
    for size, many in sizes:
        left, number = min(many, limit // size), 1
        while left:
            number = min(number, left)
            reached |= (reached << size * number) & mask
            left -= number
            number *= 2
    return [at for at, bit in enumerate(reversed(bin(reached)[2:])) if bit == "1"]


def cloths(task: Task, points: CutPoints) -> list[Size]:
    """Give the width and the greatest height of strips of the cloth and of each bed."""
    return [(task.width, points.tallest), *task.beds]
