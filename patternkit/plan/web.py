"""The paper-backed web that fused shapes take: a rectangle round each, laid in rows across the web."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from patternkit.lengths import ZERO, Length
from patternkit.piecing.kinds.laid_shape import FUSED
from patternkit.piecing.laid_on import LaidOn
from patternkit.piecing.making import Making
from patternkit.plan.counts import Count
from patternkit.plan.model import Web

WIDE = Length(17)
"""How wide web is that is sold by length, in inches (common practice, no source)."""
ROUND = Length(Fraction(1, 4))
"""What is left round each shape, in inches, where it is cut out before it is fused (common practice, no source)."""


def web_for(counts: Iterable[Count]) -> Web | None:
    """What all fused shapes of a plan take; None where nothing is fused. Rectangles stand in rows, the highest first,
    each in the first row that has room for it; what is wider than the web lies along it."""
    boxes = sorted(_boxes(counts), key=lambda box: (box[1], box[0]), reverse=True)
    if not boxes:
        return None
    rows: list[tuple[Length, Length]] = []  # the height of each, and what it has left
    for wide, high in boxes:
        found = next((n for n, (top, left) in enumerate(rows) if left >= wide and top >= high), None)
        if found is None:
            rows.append((high, WIDE - wide))
        else:
            rows[found] = rows[found][0], rows[found][1] - wide
    return Web(WIDE, sum((high for high, _ in rows), ZERO), len(boxes))


def _boxes(counts: Iterable[Count]) -> Iterator[tuple[Length, Length]]:
    """A rectangle for each fused shape, the shorter side across the web."""
    for count in counts:
        for wide, high in _fused(count.making):
            short, long = sorted((wide + ROUND * 2, high + ROUND * 2))
            lies = (long, short) if long <= WIDE else (short, long)
            yield from (lies for _ in range(count.needed))


def _fused(making: Making) -> Iterator[tuple[Length, Length]]:
    if making.recipe.method is FUSED:
        yield making.width, making.height
    numbers = making.recipe.numbers
    for part in numbers.laid if isinstance(numbers, LaidOn) else ():
        if part.track is not None and part.way is FUSED:
            yield part.cut
