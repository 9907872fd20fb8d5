"""Where everything lies in a setting on point: diagonal rows and the sashing between them, cut by the quilt's edges.

A row has a frame of its own: x runs up to the right along it, its blocks begin at x = 0 and are `side` high, y runs
down to the right. Each frame is placed turned by 315 degrees. Shapes are drawn in it as far as the quilt reaches: a
stretch of the row or of the sashing, cut by the four edges of the quilt.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Literal, NamedTuple

import msgspec

from patternkit.lengths import SQRT2, ZERO, Length
from patternkit.model.pattern import Quilt
from patternkit.piecing.making import Outline, Place, Point, rectangle
from patternkit.piecing.offset import clean
from patternkit.piecing.setting.grid import BlockGrid
from patternkit.piecing.setting.straight import inner_only

Lattice = Literal["", "round", "inner"]
"""Sashing: none, round every block, or only as far as it ends on the edge between two points."""


WELL_INSIDE = 1e-3
"""Inches from an edge at which plain numbers tell on which side of it a point lies."""


class QuiltEdge(NamedTuple):
    """An edge of the quilt in the frame of a row, which keeps every point with ``a x + b y >= least``."""

    a: int
    b: int
    least: Length


class Cell(NamedTuple):
    """A block of a diagonal row: where it lies (in halves of the pitch's diagonal), its level row, its place there."""

    ux: int
    uy: int
    level: int
    nth: int


def lattice_of(quilt: Quilt) -> Lattice:
    """What sashing the blocks have."""
    if quilt.sashing is None:
        return ""
    return "inner" if inner_only(quilt.sashing) else "round"


def kept(outline: Outline, cuts: Sequence[QuiltEdge]) -> Outline:
    """What the edges leave of a convex outline, exactly; nothing where that has no area."""
    ring: list[Point] = list(outline)
    for cut in cuts:
        if all(float(x) * cut.a + float(y) * cut.b - float(cut.least) > WELL_INSIDE for x, y in ring):
            continue  # exact numbers take time, and are needed only near the edge
        off = [_side(cut, p) for p in ring]
        new: list[Point] = []
        for i, p in enumerate(ring):
            if off[i] * off[i - 1] < 0:
                new.append(_crossing(cut, ring[i - 1], p))
            if off[i] >= 0:
                new.append(p)
        ring = new
        if len(ring) < 3:
            return ()
    return tuple(ring)


def _side(cut: QuiltEdge, p: Point) -> int:
    """Inside (1), on the edge (0) or outside (-1)."""
    off = float(p[0]) * cut.a + float(p[1]) * cut.b - float(cut.least)
    return (1 if off > 0 else -1) if abs(off) > WELL_INSIDE else (p[0] * cut.a + p[1] * cut.b - cut.least).sign()


def _crossing(cut: QuiltEdge, p: Point, q: Point) -> Point:
    """Where a line between two points crosses an edge; one that runs along the frame needs no division."""
    if p[1] == q[1]:
        return (cut.least - p[1] * cut.b) * cut.a, p[1]
    if p[0] == q[0]:
        return p[0], (cut.least - p[0] * cut.a) * cut.b
    d, e = (x * cut.a + y * cut.b - cut.least for x, y in (p, q))
    part = d / (d - e)
    return p[0] + (q[0] - p[0]) * part, p[1] + (q[1] - p[1]) * part


def moved(outline: Outline, dx: Length, dy: Length) -> Outline:
    """An outline moved."""
    return tuple((x + dx, y + dy) for x, y in outline)


class Diagonals(msgspec.Struct, frozen=True, dict=True):
    """The diagonal rows of a setting: blocks of a `side`, sashing `strip` wide (nothing without), and how far the
    points of the blocks float inside the edge.

    With sashing round every block the edges run through the middles of the outer cornerstones. Sashing that is inner
    ends on them, and the points of the outer blocks lie there.
    """

    grid: BlockGrid
    side: Length
    strip: Length
    lattice: Lattice
    rooms: tuple[Length, Length] = (ZERO, ZERO)  # at the sides, at top and bottom
    lower: bool = False  # half a block at both ends, instead of corners

    @cached_property
    def pitch(self) -> Length:
        """From block to block along a row."""
        return self.side + self.strip

    @cached_property
    def half(self) -> Length:
        """Half of a pitch's diagonal."""
        return self.pitch * SQRT2 / 2

    @cached_property
    def leads(self) -> tuple[Length, Length]:
        """How far the outermost crossings of the lattice lie inside the edges at the sides, and at top and bottom."""
        return (self.strip * SQRT2 / -2,) * 2 if self.lattice == "inner" else self.rooms

    @cached_property
    def width(self) -> Length:
        """The finished width of the centre."""
        return self.half * (2 * self.grid.across) + self.leads[0] * 2

    @cached_property
    def height(self) -> Length:
        """The finished height of the centre."""
        return self.half * (2 * self.grid.down) + self.leads[1] * 2

    @cached_property
    def rows(self) -> dict[int, list[Cell]]:
        """The blocks of each diagonal row, from 1 at the upper left, from their lower left end."""
        found: dict[int, list[Cell]] = {}
        for k in range(2 * self.grid.down - 1):
            for j in range(self.grid.across - k % 2):
                ux, uy = 2 * j + 1 + k % 2, k + 1
                found.setdefault((ux + uy) // 2, []).append(Cell(ux, uy, k, j))
        for row in found.values():
            row.sort()
        return found

    @property
    def last(self) -> int:
        """The number of the last row."""
        return self.grid.across + self.grid.down - 1

    def corner(self, p: int) -> Point:
        """The left corner of a row's first block, in the quilt: where the row's frame begins."""
        first = self.rows[p][0]
        across, down = self.leads
        return self.half * first.ux + across - self.side * SQRT2 / 2, self.half * first.uy + down

    def place(self, p: int, shift: Point = (ZERO, ZERO)) -> Place:
        """Where a row's frame lies in the quilt, with the point `shift` of what is placed at the frame's beginning."""
        turned = Place(turned=315)
        (x, y), (dx, dy) = self.corner(p), turned.point(shift)
        return Place(x - dx, y - dy, 315)

    @cached_property
    def _edges(self) -> dict[int, tuple[QuiltEdge, ...]]:
        return {}

    def edges(self, p: int) -> tuple[QuiltEdge, ...]:
        """The quilt's edges in a row's frame: left, right, top, bottom."""
        if p not in self._edges:
            self._edges[p] = self._edges_of(p)
        return self._edges[p]

    def _edges_of(self, p: int) -> tuple[QuiltEdge, ...]:
        x, y = self.corner(p)
        return (
            QuiltEdge(1, 1, x * SQRT2 * -1),
            QuiltEdge(-1, -1, (x - self.width) * SQRT2),
            QuiltEdge(-1, 1, y * SQRT2 * -1),
            QuiltEdge(1, -1, (y - self.height) * SQRT2),
        )

    def stretch(self, p: int, x1: Length | None, x2: Length | None, y1: Length, y2: Length) -> Outline:
        """What lies in the quilt of a stretch of a row's frame; without an end, as far as the edge."""
        far = self.width + self.height
        low, high = (-far if x1 is None else x1), (far if x2 is None else x2)
        return kept(rectangle(high - low, y2 - y1, low, y1), self.edges(p))

    def ends(self, p: int) -> tuple[Outline, Outline]:
        """The triangles at the left and the right end of a row."""
        n, b = len(self.rows[p]), self.side
        after = self.pitch * n if self.strip else b * n
        if not self.lattice and self.rooms[0] == self.rooms[1]:
            return self._end(p - self.grid.down, ZERO, -1), self._end(p - self.grid.across, after, 1)
        return self.stretch(p, None, -self.strip, ZERO, b), self.stretch(p, after, None, ZERO, b)

    def _end(self, past: int, x: Length, way: int) -> Outline:
        """What `stretch` finds for an end without sashing, by formula: `past` tells rows before the corner, at it and
        behind it apart; `way` is -1 to the left, 1 to the right. Clockwise, without points that fall together."""
        b, t = self.side, self.rooms[0] * SQRT2
        near, far, half = (x + y * way for y in (t, b + t, b / 2 + t))
        out = [(near, ZERO), (half, b / 2), (near, b)] if past == 0 else [(near, ZERO), (far, b)]
        if past > 0:
            out = [(far, ZERO), (near, b)]
        ring = [(x, b), (x, ZERO), *out] if way > 0 else [(x, ZERO), (x, b), *reversed(out)]
        return tuple(q for k, q in enumerate(ring) if q != ring[k - 1])

    def outline(self, p: int, ends: tuple[Outline, Outline]) -> Outline:
        """The outline of a row between its ends."""
        if self.lattice == "inner":
            return self.stretch(p, None, None, ZERO, self.side)
        left, right = ends
        x, y = max(x for x, _ in left), min(x for x, _ in right)
        i, j = left.index((x, self.side)), right.index((y, ZERO))
        return clean((*left[i:], *left[:i], *right[j:], *right[:j]))

    def at_corner(self, p: int) -> tuple[bool, bool]:
        """Whether the triangles at the left and the right end of a row lie in a corner of the quilt."""
        return (False, False) if self.lower else (p == self.grid.down, p == self.grid.across)

    def bar(self, p: int, i: int) -> Outline:
        """The sashing before block `i` of a row (after the last one for as many as there are)."""
        x = self.pitch * i
        return self.stretch(p, x - self.strip, x, ZERO, self.side)

    def between(self, q: int) -> tuple[int, Length]:
        """Sashing below row `q` (0: above the first): the row in whose frame it is drawn, how far down it begins."""
        return (q + 1, -self.strip) if q < self.last else (q, self.side)

    def beams(self, q: int) -> list[tuple[str, Outline]]:
        """Below row `q`: cornerstones (``post``) and sashing (``beam``) from the left, as far as the quilt reaches."""
        p, y = self.between(q)
        found: list[tuple[str, Outline]] = []
        for k in range(-2, len(self.rows[p]) + 3):
            x = self.pitch * k
            for what, low, high in (("post", x - self.strip, x), ("beam", x, x + self.side)):
                shape = self.stretch(p, low, high, y, y + self.strip)
                if shape:
                    found.append((what, shape))
        return found

    def long_strip(self, q: int) -> Outline:
        """Below row `q`: the sashing in one piece."""
        p, y = self.between(q)
        return self.stretch(p, None, None, y, y + self.strip)

    def corner_leg(self) -> Length:
        """The short edges of the triangles in the upper left and lower right corner, along the quilt's edges."""
        x, y = self.corner(1)
        return x + y - (self.strip * SQRT2 if self.strip else ZERO)

    @property
    def side_leg(self) -> Length:
        """The short edges of a side triangle, but for a float."""
        return self.side - self.strip if self.lattice == "inner" else self.side

    @property
    def corner_base(self) -> Length:
        """The long edge of a corner triangle, but for a float."""
        return self.side - self.strip * 2 if self.lattice == "inner" else self.side
