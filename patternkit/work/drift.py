"""How many seams lie in one line: what small errors at the seams add up along."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import pairwise

from patternkit.piecing.making import Cloth, Making, Part
from patternkit.piecing.reflect import flattened
from patternkit.piecing.setting.borders import MITRED

MANY = 5
"""Seams along one line from which a unit is worth a remedy: common practice, no source."""

Crossed = dict[tuple[int, int], int]
"""What was counted already: seams by a making's identity and the axis."""


def most_seams(making: Making, memo: Crossed | None = None) -> tuple[int, int]:
    """The most seams that lie in one line, and the axis of that line: 0 across the width, 1 down the height."""
    across, down = seams_along(making, 0, memo), seams_along(making, 1, memo)
    return (across, 0) if across >= down else (down, 1)


def seams_along(part: Part, axis: int, memo: Crossed | None = None) -> int:
    """The most seams that one line across a unit crosses, running along x (`axis` 0) or y (1) as it is drawn.

    Rows and the quilt are added up from their parts; inside a unit lines are drawn through its patches.
    """
    memo = {} if memo is None else memo
    if isinstance(part, Cloth):
        return 0
    key = (id(part), axis)
    if key not in memo:
        memo[key] = _crossed(part, axis, memo)
    return memo[key]


def _crossed(making: Making, axis: int, memo: Crossed) -> int:
    if making.is_layered:  # only its ground is sewn
        return seams_along(making.parts[0].what, axis, memo)
    if making.role in ("unit", "block") or any(p.place.turned % 90 for p in making.parts):
        return _through_patches(making, axis)
    inner = []
    for p in making.parts:
        own = axis if p.place.turned % 180 == 0 else 1 - axis
        inner.append(seams_along(p.what, own, memo))
    method = making.recipe.method
    if method.around == "borders":
        band = inner[1] if method is MITRED else 0
        return inner[0] + 2 + band * 2
    beside = method.runs == ("across", "down")[axis]
    return sum(inner) + len(inner) - 1 if beside else max(inner, default=0)


def _through_patches(making: Making, axis: int) -> int:
    shapes = [
        [(float(p[axis]), float(p[1 - axis])) for p in place.outline(cloth.outline)]
        for cloth, place in flattened(making, sewn=True)
    ]
    spans = [(round(min(b for _, b in s), 6), round(max(b for _, b in s), 6)) for s in shapes]
    begin, end = (sorted(span[i] for span in spans) for i in (0, 1))
    levels = sorted({round(y, 6) for shape in shapes for _, y in shape})
    most = 0
    for low, high in pairwise(levels):
        if high - low > 1e-4:
            y = low + (high - low) * 0.4871  # off the middle, where crossings of slanted seams lie
            most = max(most, bisect_left(begin, y) - bisect_right(end, y) - 1)
    return most
