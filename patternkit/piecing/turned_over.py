"""Outlines turned over: whether a turn lays the mirror image of a shape on the shape again."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, degrees, hypot

from patternkit.piecing.making import Outline, reversed_ring

NEAR = 1e-6


def own_image(outline: Outline) -> float | None:
    """By how many degrees the mirror image of a shape is turned to lie on the shape; None where no turn does it."""
    ring = [(float(x), float(y)) for x, y in outline]
    over, n = reversed_ring(ring), len(ring)
    sides, others = _walked(ring), _walked(over)
    for shift in range(n):
        turn = sides[shift][1] - others[0][1]
        if all(
            abs(sides[(i + shift) % n][0] - others[i][0]) < NEAR
            and abs((sides[(i + shift) % n][1] - others[i][1] - turn + 180) % 360 - 180) < NEAR
            for i in range(n)
        ):
            return turn % 360
    return None


def _walked(ring: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Each edge of a ring: its length, and its direction in degrees, clockwise from the right."""
    pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
    return [(hypot(q[0] - p[0], q[1] - p[1]), degrees(atan2(q[1] - p[1], q[0] - p[0]))) for p, q in pairs]
