"""Quarter circles: two templates along a curve."""

from __future__ import annotations

from patternkit.piecing.batch import Batch, Edge, Join, Use
from patternkit.piecing.making import Making, PieceCut
from patternkit.piecing.sewing.desk import Desk, Passages


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The disc to the background along their curved edges, which end in short straight ones."""
    disc, ground = making.recipe.cuts
    uses = [Use(desk.piece(cut), round(desk.templates.find(cut, directed(cut, desk)).turned)) for cut in (disc, ground)]
    (seam,) = making.seams
    side = {"left": 0, "right": 1}.get(seam.pressed, -1)
    join = Join(curve(0, disc, desk), curve(1, ground, desk), side, curved=True)
    passages: Passages = [(making.recipe.method.phrase, [join]), ("measure", [desk.measure(making)])]
    return [(desk.batch(uses, passages, [(desk.thing(making), 1)]), desk.times)]


def directed(cut: PieceCut, desk: Desk) -> bool:
    """Whether a piece lies on its cloth as it is drawn."""
    return cut.fabric in desk.directional or cut.fixed_grain


def curve(part: int, cut: PieceCut, desk: Desk) -> tuple[Edge, ...]:
    """The edges of a piece along its curve: all that run neither across nor down."""
    ring = desk.ring(desk.piece(cut))
    slanted = [
        abs(q[0] - p[0]) > 1e-9 and abs(q[1] - p[1]) > 1e-9 for p, q in zip(ring, (*ring[1:], ring[0]), strict=True)
    ]
    n = len(ring)
    first = next(i for i in range(n) if slanted[i] and not slanted[i - 1])
    return tuple(Edge(part, (first + i) % n) for i in range(n) if slanted[(first + i) % n])
