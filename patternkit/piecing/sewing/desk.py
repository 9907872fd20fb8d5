"""What a kind is told when it says how a making is sewn, and what all kinds need to say it: pieces, part numbers, edges
by the design's outline, seams as joins."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from math import atan2, degrees, hypot
from typing import NamedTuple

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.batch import (
    OPEN,
    Action,
    Batch,
    Diagonal,
    Edge,
    Fit,
    Form,
    Item,
    Join,
    Measure,
    Passage,
    Piece,
    Thing,
    TrimTo,
    Use,
    piece,
)
from patternkit.piecing.keys import AnyKey
from patternkit.piecing.making import Cloth, Making, Outline, PieceCut, Placed, Point, Recipe, Seam, reversed_ring
from patternkit.piecing.names import HALF_STRIP, SHORT_STRIP
from patternkit.piecing.offset import box_size
from patternkit.piecing.reflect import image_of
from patternkit.piecing.sewing.templates import Templates
from patternkit.piecing.sewn.trimming import untrimmed
from patternkit.piecing.strip_cuts import Widths

XY = tuple[float, float]
NEAR = 1e-6
RIGHT_ANGLE = {"half": {"": 0, "right": 0, "left": 1}, "quarter": {"": 2}}
"""The corner of a triangle at which its right angle is, by form and hand."""
Passages = list[tuple[str, Sequence[Action]]]
"""Runs of actions, each with the key of its phrase."""


class NoCut(LookupError):
    """A piece of cloth for which no cut of a recipe can be found."""


class Part(NamedTuple):
    """A part of a making on the table: what is taken, and for each edge of its drawn outline the number that it has.

    Of what is cut by a template also the raw outline, edges by their numbers: its trimmed tips are edges of their own.
    """

    use: Use
    outline: tuple[XY, ...]  # finished, in the making's coordinates
    edges: tuple[int, ...]
    raw: tuple[XY, ...] = ()


class Foundation(NamedTuple):
    """A foundation for paper piecing: its outline, and its fields in sewing order, as seen from the front."""

    name: str
    outline: Outline
    fields: tuple[Outline, ...]


class StripWay(NamedTuple):
    """So many strip units that are cut alike: how many segments of each making from one. `half`: of half strips."""

    times: int
    segments: tuple[tuple[Making, int], ...]
    half: bool = False


class Desk:
    """What is known of a making that is to be sewn: the seam allowance, how many batches of its recipe are planned and
    how many of it are needed, which fabrics have a direction, how wide cloth is (as long are its strips), how far apart
    the ruler's lines are. Templates are named here, alike ones once."""

    def __init__(
        self,
        seam: Length,
        directional: frozenset[str] = frozenset(),
        widths: Widths = Widths(),
    ) -> None:
        self.seam, self.directional, self.widths, self.ruler = seam, directional, widths, widths.ruler
        self.times, self.needed = 1, 1
        self.ways: tuple[StripWay, ...] = ()  # in which ways strip units are cut across
        self.taken: Length | None = None  # what segments take of the longest, where strips are no longer than that
        self.recipes: dict[int, Recipe] = {}  # by the id of a cloth that stands for a unit: that unit's recipe
        self.templates = Templates()
        self.papers: dict[str, Foundation] = {}
        self.wastes: dict[AnyKey, Making] = {}  # by the key of a unit: what is sewn of its waste

    # -- items --------------------------------------------------------------------------------------------
    def thing(self, making: Making) -> Thing:
        """The item that a making is."""
        return making.thing

    def image(self, making: Making) -> Thing:
        """The item that comes out beside a making where half are mirror images."""
        return image_of(making).thing

    def piece(self, cut: PieceCut, *, then: str | None = None) -> Piece:
        """The item that one cut is, once it is cut as its `then` says (or as another `then`, where that is given)."""
        then = cut.then if then is None else then
        directed = cut.fabric in self.directional or cut.fixed_grain
        if then == "template":
            return self.templates.piece(cut, directed)
        if then == "strip" or cut.name in (SHORT_STRIP, HALF_STRIP):
            return Piece(cut.fabric, "strip", cut.width, cut.height)
        if then == "half":
            return piece(cut.fabric, "half", cut.width, cut.height, hand=lean(cut), directional=directed)
        form: Form = "quarter" if then == "quarter" else "bias" if then == "bias" else "rectangle"
        directed = directed and not self.joined(cut.fabric, max(cut.width, cut.height))
        found = piece(cut.fabric, form, cut.width, cut.height, directional=directed)
        return msgspec.structs.replace(found, fussy=True) if cut.fussy else found

    def joined(self, fabric: str, length: Length) -> bool:
        """Whether a piece is longer than the cloth is wide, and so cut from strips that are joined end to end: these
        run across the cloth, whichever way its print has to lie."""
        return fabric in self.widths.usable and length > self.widths.usable[fabric]

    # -- parts --------------------------------------------------------------------------------------------
    def part(self, making: Making, placed: Placed) -> Part:
        """A part as it is taken: a sewn thing, or a plain rectangle whose cut stands in the making's recipe.

        Raises NoCut for cloth that no cut of the recipe is for.
        """
        outline = placed.place.outline(placed.what.outline)
        if isinstance(placed.what, Making):
            use, cut_out = Use(self.thing(placed.what), placed.place.turned), placed.what.recipe.numbers.cut_outline
            if not cut_out:
                return Part(use, plain(outline), tuple(range(len(outline))))
            raw = plain(placed.place.outline(cut_out))
            along = outer(plain(outline), raw, float(self.seam))
            first = along[0]  # numbered from the raw edge of the first edge that is drawn
            return Part(use, plain(outline), tuple((k - first) % len(raw) for k in along), (*raw[first:], *raw[:first]))
        sewn = untrimmed(making, placed)
        size = box_size(sewn)
        cut = self.cut_for(making, placed.what, size if placed.place.turned % 180 == 0 else (size[1], size[0]))
        return self.lying(self.piece(cut), sewn)._replace(outline=plain(outline))

    def cut_for(self, making: Making, cloth: Cloth, sewn: tuple[Length, Length] | None = None) -> PieceCut:
        """The cut of a plain rectangle of cloth, which shows in the size `sewn` before its unit is trimmed; raises
        NoCut where there is none."""
        raw = tuple(side + self.seam * 2 for side in sewn or box_size(cloth.outline))
        recipe = self.recipes.get(id(cloth))
        own = recipe.cuts if recipe is not None else ()
        apart = any(cut.fussy for cut in own)  # a piece with a motif is no other piece of its size
        for cut in (*own, *making.recipe.cuts) if apart else (*making.recipe.cuts, *own):
            if cut.fabric == cloth.fabric and not cut.then and (cut.exact_width, cut.exact_height) == raw:
                return cut
        for cut in making.recipe.cuts:  # cut along the cloth, or rounded by more than its outline: the name says it
            if cut.fabric == cloth.fabric and not cut.then and cloth.name and cut.name == cloth.name:
                return cut
        raise NoCut(f"{making.key}: no cut for {cloth.fabric}")

    def lying(self, item: Piece, outline: Outline) -> Part:
        """A piece as it lies under a drawn outline: how it is turned, and which number each drawn edge has.

        The directions of the edges must agree; where several turns do, the one in which the sizes do, then the least.
        Right-angled triangles lie right angle on right angle: cut larger, their long edge may slant otherwise.
        """
        drawn = plain(outline)
        if item.form in RIGHT_ANGLE and len(drawn) == 3:
            return triangle(item, drawn)
        ring = self.ring(item)
        n = len(ring)
        best: tuple[float, float, int, tuple[int, ...]] | None = None
        for shift in range(n):
            turns = [turn_of(ring[(i + shift) % n], ring[(i + shift + 1) % n], drawn[i], drawn[(i + 1) % n])
                     for i in range(n)]  # fmt: skip
            if len(drawn) != n or any(abs((t - turns[0] + 180) % 360 - 180) > 1 for t in turns):
                continue
            off = sum(
                (side(ring, i + shift) - side(drawn, i)) ** 2 for i in range(n)
            )  # squares: two sides that are off by turns are worse than two that have the same allowance
            turn = round(turns[0]) % 360
            found = (round(off, 4), float(turn), turn, tuple((i + shift) % n for i in range(n)))
            if best is None or found < best:
                best = found
        if best is None:
            raise NoCut(f"{item} does not lie under {outline}")
        return Part(Use(item, best[2]), drawn, best[3])

    def ring(self, item: Piece) -> tuple[XY, ...]:
        """The outline of a cut piece, corners numbered as `Piece` says."""
        if item.form != "template":
            return raw_ring(item)
        ring = plain(self.templates.named[item.template].outline)
        return reversed_ring(ring) if item.reversed else ring

    # -- actions ------------------------------------------------------------------------------------------
    def measure(self, making: Making) -> Measure:
        """What a making measures from raw edge to raw edge."""
        return Measure(making.width + self.seam * 2, making.height + self.seam * 2)

    def batch(
        self, uses: Sequence[Item | Use], passages: Sequence[tuple[str, Sequence[Action]]],
        gives: Sequence[tuple[Item, int]],
    ) -> Batch:  # fmt: skip
        """A batch from items and named runs of actions; empty runs are left out."""
        taken = tuple(u if isinstance(u, Use) else Use(u) for u in uses)
        return Batch(taken, tuple(Passage(n, tuple(a)) for n, a in passages if a), tuple(gives))

    def joins(self, seam: Seam, parts: Sequence[Part]) -> list[Join]:
        """A drawn seam as joins, one for each straight piece of its path.

        Which edges meet follows from the drawn outlines. Edges that end square meet raw edge to raw edge; others by the
        ends of their seam lines, with tips reaching out. A set-in seam stops a seam before its ends.
        """
        path = [xy(p) for p in (seam.path or (seam.start, seam.end))]
        found = []
        for a, b in pairwise(path):
            left = edges_on(a, b, seam.left, parts)
            right = edges_on(a, b, seam.right, parts)
            square = all(_square_ends(parts[n], j) for n, j in (*left, *right))
            fit: Fit = "level" if square else "points"
            join = Join(
                tuple(Edge(n, parts[n].edges[j]) for n, j in left),
                tuple(Edge(n, parts[n].edges[j]) for n, j in right),
                toward(seam, left, right, parts),
                fit,
                ears=not square,
                spun=seam.spun is not None,
            )
            found.append(msgspec.structs.replace(join, start="seam", stop="seam") if seam.set_in else join)
        return found


def lean(cut: PieceCut) -> Diagonal:
    """The diagonal of a halved rectangle; a square has one only."""
    return "" if cut.width == cut.height else cut.leans


def xy(p: Point) -> XY:
    """A point as plain numbers."""
    return float(p[0]), float(p[1])


def plain(outline: Outline) -> tuple[XY, ...]:
    """An outline as plain numbers."""
    return tuple(xy(p) for p in outline)


def raw_ring(item: Piece) -> tuple[XY, ...]:
    """The outline of a cut piece, corners numbered as `Piece` says."""
    w, h = float(item.width), float(item.height)
    if item.form == "half":
        return ((0.0, 0.0), (w, 0.0), (w, h)) if item.hand == "left" else ((0.0, 0.0), (w, 0.0), (0.0, h))
    if item.form == "quarter":
        return (0.0, 0.0), (w, 0.0), (w / 2, h / 2)
    return (0.0, 0.0), (w, 0.0), (w, h), (0.0, h)


def side(ring: Sequence[XY], i: int) -> float:
    """The length of a ring's edge."""
    p, q = ring[i % len(ring)], ring[(i + 1) % len(ring)]
    return hypot(q[0] - p[0], q[1] - p[1])


def triangle(item: Piece, drawn: tuple[XY, ...]) -> Part:
    """A right-angled triangle, right angle on right angle; it may be cut larger, and its long edge slant otherwise."""

    def square(i: int) -> float:
        p, q, r = drawn[i - 1], drawn[i], drawn[(i + 1) % 3]
        return abs((q[0] - p[0]) * (r[0] - q[0]) + (q[1] - p[1]) * (r[1] - q[1]))

    at, own = min(range(3), key=square), RIGHT_ANGLE[item.form][item.hand]
    shift = own - at
    edges = tuple((i + shift) % 3 for i in range(3))
    ring = raw_ring(item)
    turn = turn_of(ring[own], ring[(own + 1) % 3], drawn[at], drawn[(at + 1) % 3])
    return Part(Use(item, round(turn) % 360), drawn, edges)


def turn_of(a: XY, b: XY, p: XY, q: XY) -> float:
    """By how many degrees, clockwise, the direction from a to b is turned to that from p to q."""
    return degrees(atan2(q[1] - p[1], q[0] - p[0]) - atan2(b[1] - a[1], b[0] - a[0])) % 360


def edges_on(a: XY, b: XY, numbers: Sequence[int], parts: Sequence[Part]) -> list[tuple[int, int]]:
    """The drawn edges of some parts that lie on the line from a to b: part and edge of its outline, in order."""
    far = hypot(b[0] - a[0], b[1] - a[1])
    way = (b[0] - a[0]) / far, (b[1] - a[1]) / far
    found = []
    for n in numbers:
        ring = parts[n].outline
        for j, p in enumerate(ring):
            q = ring[(j + 1) % len(ring)]
            off = [abs((r[0] - a[0]) * way[1] - (r[1] - a[1]) * way[0]) for r in (p, q)]
            t = sorted((r[0] - a[0]) * way[0] + (r[1] - a[1]) * way[1] for r in (p, q))
            if max(off) < NEAR and min(t[1], far) - max(t[0], 0.0) > NEAR:
                found.append((t[0], n, j))
    found.sort()
    return [(n, j) for _, n, j in found]


def outer(sewn: Sequence[XY], raw: Sequence[XY], seam: float) -> list[int]:
    """For each edge of a seam line the raw edge that lies a seam outside it."""
    found = []
    for k, p in enumerate(sewn):
        q = sewn[(k + 1) % len(sewn)]
        far = hypot(q[0] - p[0], q[1] - p[1])
        way = (q[0] - p[0]) / far, (q[1] - p[1]) / far

        def off(i: int, p: XY = p, way: XY = way) -> float:
            """How far the ends of a raw edge lie from the line a seam to the left."""
            ends = raw[i], raw[(i + 1) % len(raw)]
            return max(abs((r[0] - p[0]) * way[1] - (r[1] - p[1]) * way[0] - seam) for r in ends)

        found.append(min(range(len(raw)), key=off))
    return found


def tips_on(a: XY, b: XY, numbers: Sequence[int], parts: Sequence[Part], beyond: float) -> list[tuple[int, int]]:
    """The trimmed tips of some parts that are cut along the raw edge `beyond` the line from a to b, to its right: part
    and number of the edge."""
    far = hypot(b[0] - a[0], b[1] - a[1])
    way = (b[0] - a[0]) / far, (b[1] - a[1]) / far
    found = []
    for n in numbers:
        raw, own = parts[n].raw, set(parts[n].edges)
        for k, p in enumerate(raw):
            ends = p, raw[(k + 1) % len(raw)]
            off = [abs((r[1] - a[1]) * way[0] - (r[0] - a[0]) * way[1] - beyond) for r in ends]
            if k not in own and max(off) < NEAR:
                found.append((n, k))
    return found


def toward(seam: Seam, left: Sequence[tuple[int, int]], right: Sequence[tuple[int, int]], parts: Sequence[Part]) -> int:
    """The part to whose side a seam is pressed: one that lies at its end (edges stand from its start to its end)."""
    side = left if seam.pressed == "left" else right if seam.pressed == "right" else ()
    return side[-1][0] if side else OPEN


def _square_ends(part: Part, j: int) -> bool:
    """Whether an outline has right angles at both ends of an edge."""
    ring = part.outline
    n = len(ring)
    for i in (j, (j + 1) % n):
        p, q, r = ring[i - 1], ring[i], ring[(i + 1) % n]
        if abs((q[0] - p[0]) * (r[0] - q[0]) + (q[1] - p[1]) * (r[1] - q[1])) > NEAR:
            return False
    return True


def trimming(making: Making, way: str, ruler: Fraction | None = None) -> list[TrimTo]:
    """The trimming to the unit's raw size, where its recipe has one. A side that is sewn to its size, on no line of the
    ruler that is given, is kept."""
    size, sewn = making.recipe.trim_to, making.recipe.sewn
    if size is None:
        return []
    kept = ""
    if ruler is not None and sewn is not None:
        sides = zip(("width", "height"), size, sewn, strict=True)
        kept = next((side for side, a, b in sides if a == b and not a.on_grid(ruler)), "")
    return [TrimTo(size[0], size[1], way, (), kept)]  # type: ignore[arg-type]
