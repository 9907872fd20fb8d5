"""Eight-point stars: diamonds with pieces set in, or with two triangles each and straight seams only."""

from __future__ import annotations

from collections.abc import Callable

from patternkit.piecing.batch import Action, Batch, Edge, TrimBeyond
from patternkit.piecing.kinds.eight_point_star import STRAIGHT
from patternkit.piecing.making import Making
from patternkit.piecing.sewing.cloths import parts_of
from patternkit.piecing.sewing.desk import Desk, Part, Passages
from patternkit.piecing.sewing.shaped import as_drawn, joins

DIAMONDS = 8
NEAR = 1e-6


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """Set-in seams as they are drawn; with straight ones each diamond and its two triangles are trimmed first."""
    method = making.recipe.method
    if method is not STRAIGHT:
        return as_drawn(making, desk)
    parts = parts_of(making, desk)
    wedges: list[Action] = []
    for i in range(DIAMONDS):
        for n in (2 * i, 2 * i + 1):
            wedges += joins(making, n, parts, desk)
        wedges.append(_trimmed(making, i, parts, desk))
    whole = [j for n in range(2 * DIAMONDS, len(making.seams)) for j in joins(making, n, parts, desk)]
    passages: Passages = [(method.phrase, wedges), ("star-wedges", whole), ("measure", [desk.measure(making)])]
    return [(desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)]), desk.times)]


def _trimmed(making: Making, i: int, parts: list[Part], desk: Desk) -> TrimBeyond:
    """A diamond with its triangles, which are cut larger, trimmed level with its inner edges and beyond its tip."""
    w = float(making.width)
    inner = _edges(i, parts, lambda x, y: abs(x - w / 2) + abs(y - w / 2) < NEAR, both=False)
    sides: list[Callable[[float, float], bool]] = [lambda x, _: x < NEAR, lambda x, _: x > w - NEAR,
                                                   lambda _, y: y < NEAR, lambda _, y: y > w - NEAR]  # fmt: skip
    outer = [e for lies in sides for e in _edges(DIAMONDS + 2 * i, parts, lies, both=True)]
    return TrimBeyond(desk.seam, (*inner, *outer), of=i)


def _edges(n: int, parts: list[Part], lies: Callable[[float, float], bool], *, both: bool) -> list[Edge]:
    """The edges of a part of which one end, or both, lie somewhere."""
    ring = parts[n].outline
    on = [lies(*p) for p in ring]
    ends = [on[j] + on[(j + 1) % len(ring)] for j in range(len(ring))]
    return [Edge(n, parts[n].edges[j]) for j in range(len(ring)) if ends[j] > both]
