"""Bands of segments that step down, trimmed along the steps."""

from __future__ import annotations

from patternkit.piecing.batch import Action, Batch, Edge, Join, TrimBand
from patternkit.piecing.making import Making, Seam
from patternkit.piecing.sewing.desk import XY, Desk, Part, edges_on, toward, xy
from patternkit.piecing.stepped import Steps


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """All segments of one band joined, each lower than the one before, the band trimmed and measured."""
    steps = making.recipe.numbers
    assert isinstance(steps, Steps)
    parts = [desk.part(making, p) for p in making.parts]
    joins: list[Action] = [_join(seam, parts, steps) for seam in making.seams]
    trim = TrimBand(0, len(parts) - 1, steps.width, steps.height)
    passages: list[tuple[str, list[Action]]] = [("band", joins), ("trim", [trim]), ("measure", [desk.measure(making)])]
    return [(desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)]), desk.times)]


def _join(seam: Seam, parts: list[Part], steps: Steps) -> Join:
    """Two segments along their long edges, the later one slid along the seam."""
    a, b = xy(seam.start), xy(seam.end)
    left = edges_on(a, b, seam.left[-1:], parts)
    right = edges_on(a, b, seam.right, parts)
    (n, i), (m, j) = left[0], right[0]
    start, end = _edge(parts[n], i)
    ahead = _middle(*_edge(parts[m], j)), _middle(start, end)
    along = sum((p - q) * (e - s) for p, q, s, e in zip(*ahead, start, end, strict=True))
    slide = -steps.lower if along > 0 else steps.lower
    return Join(
        (Edge(n, parts[n].edges[i]),),
        (Edge(m, parts[m].edges[j]),),
        toward(seam, left, right, parts),
        "slid",
        slide,
        ears=True,
    )


def _edge(part: Part, i: int) -> tuple[XY, XY]:
    ring = part.outline
    return ring[i], ring[(i + 1) % len(ring)]


def _middle(p: XY, q: XY) -> XY:
    return (p[0] + q[0]) / 2, (p[1] + q[1]) / 2
