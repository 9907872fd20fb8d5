"""Which units keep their size: rounded so that no seam misses one that it meets in the design."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from patternkit.model.pattern import Pattern
from patternkit.piecing.making import Making
from patternkit.piecing.setting import make_quilt
from patternkit.piecing.sewn.model import SewnSizes
from patternkit.piecing.sewn.rounding import sew_sizes
from patternkit.piecing.sizing import Sizing
from patternkit.piecing.workshop import Presser, Workshop
from patternkit.sizes import Solution

MOST_TRIES = 4

Meetings = Callable[[Making], Counter[frozenset[str]]]
"""How often seams of two makings meet in a whole, by the units of the two."""


def sewn_sizes(pattern: Pattern, sizing: Sizing, solution: Solution, press: Presser, meetings: Meetings) -> SewnSizes:
    """The sizes that come out when everything is cut by the ruler, where the sizes solved agree.

    A unit that would keep its size by its ends or by trimming moves its seams a little. Where one of them would miss a
    seam that it meets in the design, the unit is not kept at its size.
    """
    spread: frozenset[str] = frozenset()
    before: Counter[frozenset[str]] | None = None
    for _ in range(MOST_TRIES):
        sewn = sew_sizes(pattern, sizing, solution, spread, sizing.memory)
        kept = {c.owner for c in sewn.changes if c.how != "spread" and c.owner in pattern.units}
        if not kept:
            return sewn
        if before is None:
            before = _all(pattern, Workshop(pattern, sizing, solution, press), meetings)
        lost = before - _all(pattern, Workshop(pattern, sizing, sewn, press), meetings)
        missed = kept & {key for joint in lost for key in joint}
        if not missed:
            return sewn
        spread |= missed
    return sewn


def _all(pattern: Pattern, shop: Workshop, meetings: Meetings) -> Counter[frozenset[str]]:
    """How often seams of two makings meet in the quilt, or in each of the units where there is none."""
    made = shop.make_all()
    top = make_quilt(pattern, shop)
    found: Counter[frozenset[str]] = Counter()
    for whole in [top] if top is not None else made.values():
        found.update(meetings(whole))
    return found
