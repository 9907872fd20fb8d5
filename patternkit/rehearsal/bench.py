"""The table on which a batch is sewn: what lies on it, the raw shapes of what is taken, what went wrong so far."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.batch import (
    Batch,
    Edge,
    Item,
    Piece,
    Thing,
)
from patternkit.piecing.making import reversed_ring
from patternkit.rehearsal.gaps import Gap, slip
from patternkit.rehearsal.plane import XY, Ring, shifted, turning
from patternkit.rehearsal.table import Facet, OnTable, Shape, Sheet, carry, edge_lines, has_arcs, tips_of
from patternkit.work.model import Paper, Template


class Workroom(msgspec.Struct):
    """What a batch is sewn with: the seam allowance in inches, templates and papers by name, and the raw shapes of sewn
    things; `changed` are parts, by number, that are not as their items are; `squaring` what squaring up takes of a
    strip unit, by fabric, in inches."""

    seam: float
    templates: Mapping[str, Template] = {}
    papers: Mapping[str, Paper] = {}
    shapes: Mapping[Item, Shape] = {}
    changed: Mapping[int, Shape] = {}
    squaring: Mapping[str, Length] = {}


def ring_of(points: tuple[tuple[Length, Length], ...]) -> Ring:
    """An exact outline as plain numbers."""
    return tuple((float(x), float(y)) for x, y in points)


def piece_ring(piece: Piece) -> Ring:
    """The outline of a cut piece, corners numbered as `Piece` says."""
    w, h = float(piece.width), float(piece.height)
    if piece.form == "half":
        return ((0.0, 0.0), (w, 0.0), (w, h)) if piece.hand == "left" else ((0.0, 0.0), (w, 0.0), (0.0, h))
    if piece.form == "quarter":
        return (0.0, 0.0), (w, 0.0), (w / 2, h / 2)
    return (0.0, 0.0), (w, 0.0), (w, h), (0.0, h)


def shape_of(item: Item, room: Workroom) -> Shape:
    """The raw shape of a piece or a sewn thing; raises `Slip` where nobody has said it."""
    known = room.shapes.get(item)
    if known is not None:
        return known
    if isinstance(item, Thing):
        raise slip("undrawn", item=item)
    if item.form != "template":
        return Shape(piece_ring(item))
    template = room.templates.get(item.template)
    if template is None:
        raise slip("undrawn", item=item)
    rings = ring_of(template.outline), ring_of(template.sewn)
    ring, sewn = (reversed_ring(r) for r in rings) if item.reversed else rings
    if not sewn or len(sewn) == len(ring) or has_arcs(sewn):
        return Shape(ring)
    return Shape(ring, tips=tips_of(ring, shifted(sewn, [-room.seam] * len(sewn))))


class Bench:
    """The table while a batch is sewn. What is done to it is told by the modules beside this one."""

    def __init__(self, batch: Batch, room: Workroom) -> None:
        self.batch, self.room, self.seam = batch, room, room.seam
        self.shapes = [room.changed.get(n) or shape_of(use.item, room) for n, use in enumerate(batch.uses)]
        self.hands: list[OnTable] = []
        self.gaps: list[Gap] = []
        self.lines: list[tuple[int, XY, XY]] = []
        self.touched: set[int] = set()
        self.now = (-1, -1)
        self.begun: list[tuple[frozenset[int], frozenset[int]]] = []  # what seams hold that are sewn half way
        self.covered: dict[str, list[int]] = {}  # the parts on each paper
        self.trimmed: set[str] = set()  # papers that were trimmed to their outer line
        for n, (use, shape) in enumerate(zip(batch.uses, self.shapes, strict=True)):
            whole = Facet(n, shape.outline, tuple(range(len(shape.outline))), (1.0, 0.0, 0.0, 1.0, 0.0, 0.0))
            hand = OnTable((Sheet((whole,), shape.seams),))
            self.hands.append(carry(turning(use.turned), hand) if use.turned else hand)

    def item(self, part: int) -> Item:
        """What a part is; raises `Slip` for a number that nothing on the table has."""
        if not 0 <= part < len(self.batch.uses):
            raise slip("missing")
        return self.batch.uses[part].item

    def outline(self, part: int) -> Ring:
        """The outline of a part as it was cut."""
        self.item(part)
        return self.shapes[part].outline

    def miss(self, kind: str, stated: Length | float | int | None = None, out: float | None = None) -> None:
        """Note a gap and go on."""
        self.gaps.append(Gap(kind, stated=stated, out=out))

    def with_edges(self, edges: tuple[Edge, ...]) -> int:
        """The number of the hand that holds all of some edges."""
        for e in edges:
            self.item(e.part)
            self.touched.add(e.part)
        for n, hand in enumerate(self.hands):
            if not hand.waste and edges and all(edge_lines(hand, e.part, e.n) for e in edges):
                return n
        raise slip("missing", item=self.item(edges[0].part) if edges else None)
