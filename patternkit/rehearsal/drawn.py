"""The design as plain numbers: what each sewn thing is to look like."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Union

import msgspec

from patternkit.piecing.batch import Thing
from patternkit.piecing.making import Making, Outline, Part, Place, made_from
from patternkit.rehearsal.plane import (
    STAY,
    XY,
    Move,
    Ring,
    along,
    apart,
    bearing,
    carried,
    centroid,
    cross,
    dot,
    holds,
    minus,
    moved,
    shifted,
    swung,
    taken_in,
    then,
    turn_between,
    turning,
    unit,
)
from patternkit.rehearsal.table import Sewn, Shape, carry_seam, deeper

LOOK = 1 / 32
"""Inches inside the corners of a patch at which it is looked at."""

What = Union[str, Thing]
"""What a patch is: a fabric, or a sewn thing."""
MIRROR: Move = (-1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


class Patch(msgspec.Struct, frozen=True):
    """One part of a thing: what it is, where it shows, the points at which it is looked at, and how it lies."""

    what: What
    ring: Ring
    looks: tuple[XY, ...]
    place: Move
    part: bool = False  # whether others are flipped over its corners


class DrawnSeam(msgspec.Struct, frozen=True):
    """One seam: to which side its allowances go as walked (1 right, -1 left, 0 open, None where nothing is said). Where
    it is `spun`, that holds on its second half, and the other side on its first. A `curve` has its ends here only."""

    start: XY
    end: XY
    side: int | None
    spun: bool = False
    curve: bool = False


class Drawn(msgspec.Struct, frozen=True):
    """A thing as it is drawn: finished outline, raw outline, patches and seams. Of what is cut from a sewn thing `cut`
    is that thing, and how it lies under the piece."""

    outline: Ring
    raw: Ring
    patches: tuple[Patch, ...]
    lines: tuple[DrawnSeam, ...]
    cut: Patch | None = None


class Designs:
    """The designs of sewn things as plain numbers, worked out when first asked for. `entire` are the things of which
    every seam is kept: those that are cut apart, and what they are made from."""

    def __init__(self, designs: Mapping[Thing, Making], seam: float) -> None:
        self.designs, self.seam = designs, seam
        self._names = {id(m): t for t, m in reversed(list(designs.items()))}
        self.entire = _entire(designs.values())
        self._drawn: dict[Thing, Drawn | None] = {}
        self._mirrored: dict[Thing, Drawn] = {}
        self._shapes: dict[Thing, Shape] = {}
        self._alike: dict[tuple[Thing, int], bool] = {}

    def drawn(self, thing: Thing) -> Drawn | None:
        """How a thing is drawn; a version of which nothing is drawn looks like the first. None for what nobody drew."""
        if thing not in self._drawn:
            making = self.designs.get(thing) or self.designs.get(Thing(thing.key))
            self._drawn[thing] = self._plain(making) if making is not None else None
        return self._drawn[thing]

    def own(self, thing: Thing) -> bool:
        """Whether this very version of a thing is drawn."""
        return thing in self.designs

    def mirrored(self, thing: Thing) -> Drawn | None:
        """How the mirror image of a thing would be drawn."""
        drawn = self.drawn(thing)
        if drawn is None:
            return None
        if thing not in self._mirrored:
            self._mirrored[thing] = _mirrored(drawn)
        return self._mirrored[thing]

    def shape(self, thing: Thing) -> Shape | None:
        """The raw shape of a thing as drawn, with the seams that run into its edges, or all where it is cut apart; None
        where nobody drew it."""
        drawn = self.drawn(thing)
        if drawn is None:
            return None
        if thing not in self._shapes:
            every = thing in self.entire
            seams = (s for s in self._seams(drawn) if every or _ends_at(drawn.outline, s))
            self._shapes[thing] = Shape(drawn.raw, tuple(seams))
        return self._shapes[thing]

    def _seams(self, drawn: Drawn) -> list[Sewn]:
        """Own seams and those of the things inside, from raw edge to raw edge where they end at the outline."""
        found = []
        for line in drawn.lines:
            way = unit(minus(line.end, line.start))
            ends = [
                along(p, w, self.seam) if _on(drawn.outline, p) else p
                for p, w in ((line.start, (-way[0], -way[1])), (line.end, way))
            ]
            if not line.curve:
                found.append(Sewn(ends[0], ends[1], line.side or 0, line.spun, 1))
        for patch in drawn.patches:
            shape = self.shape(patch.what) if isinstance(patch.what, Thing) else None
            if shape is not None:
                inner = [deeper(carry_seam(patch.place, s)) for s in shape.seams]
                found += [self._shown(drawn.outline, patch.ring, s) for s in inner] if patch.part else inner
        return found

    def _shown(self, outline: Ring, ring: Ring, s: Sewn) -> Sewn:
        """A seam of a part of which a ring shows: an end that lies under what is flipped over it is drawn back to its
        middle, so that it runs to the outline no more."""
        middle, way = along(s.start, minus(s.end, s.start), 0.5), unit(minus(s.end, s.start))
        ends = []
        for p, w in ((s.start, way), (s.end, (-way[0], -way[1]))):
            shows = along(p, w, self.seam)
            ends.append(middle if _on(outline, shows) and not _on(ring, shows) else p)
        return msgspec.structs.replace(s, start=ends[0], end=ends[1])

    def _plain(self, making: Making) -> Drawn:
        outline = ring_of(making.outline)
        patches = []
        for p in making.parts:
            what, place = stands_for(p.what, p.place)
            ring = ring_of(p.shown or place.outline(what.outline))
            known: What = what.fabric if not isinstance(what, Making) else self._names.get(id(what), Thing(what.key))
            patches.append(Patch(known, ring, _looks(ring), move_of(place), bool(p.shown)))
        if making.is_layered:
            patches = list(_uncovered(patches))
        lines: list[DrawnSeam] = []
        sides: dict[str, int | None] = {"left": -1, "right": 1, "open": 0, "free": None}
        for s in making.seams:
            path = s.path or (s.start, s.end)
            curve = len(path) > 4 and not s.set_in
            points = [_xy(path[0]), _xy(path[-1])] if curve else [_xy(p) for p in path]
            lines += [DrawnSeam(a, b, sides[s.pressed], s.spun is not None, curve) for a, b in pairwise(points)]
        raw = shifted(outline, [-self.seam] * len(outline))
        ends = zip(outline, (*outline[1:], outline[0]), raw, (*raw[1:], raw[0]), strict=True)
        if any(dot(minus(q, p), minus(v, u)) < 0 for p, q, u, v in ends):  # in a notch arcs have no raw edges
            raw, _ = taken_in(outline, [-self.seam] * len(outline))
        return Drawn(outline, raw, tuple(patches), tuple(lines), self._cut_from(making, outline))

    def _cut_from(self, making: Making, outline: Ring) -> Patch | None:
        """The sewn thing that a piece is cut from, as it lies under it."""
        apart = making.recipe.apart
        if apart is None:
            return None
        (whole,) = made_from(making)
        a, b, c, d, x, y = move_of(apart.whole.place)
        place = (a, b, c, d, x - float(apart.at[0]), y - float(apart.at[1]))
        return Patch(self._names.get(id(whole), Thing(whole.key)), outline, _looks(outline), place)

    def alike(self, thing: Thing, degrees: float) -> bool:
        """Whether a thing that is turned so looks as before."""
        turn = round(degrees) % 360
        if turn == 0:
            return abs(turn_between(degrees, 0)) < 1
        if (thing, turn) not in self._alike:
            drawn = self.drawn(thing)
            self._alike[thing, turn] = False
            self._alike[thing, turn] = drawn is not None and self._turns(drawn, turn)
        return self._alike[thing, turn]

    def _turns(self, drawn: Drawn, turn: int) -> bool:
        middle = _middle(drawn.outline)
        about = then(then((1.0, 0.0, 0.0, 1.0, -middle[0], -middle[1]), turning(turn)), (1.0, 0.0, 0.0, 1.0, *middle))
        if not _same(drawn.outline, tuple(moved(about, p) for p in drawn.outline)):
            return False
        for p in drawn.patches:
            ring = tuple(moved(about, q) for q in p.ring)
            other = next((o for o in drawn.patches if o.what == p.what and _same(o.ring, ring)), None)
            if other is None:
                return False
            if isinstance(p.what, Thing):
                place = then(p.place, about)
                if not self.alike(p.what, _turned(place) - _turned(other.place)):
                    return False
        return True


def _entire(makings: Iterable[Making]) -> frozenset[Thing]:
    """Everything that is cut apart, and all inside it."""
    found: set[Thing] = set()
    waiting = [inner for m in makings if m.recipe.apart is not None for inner in made_from(m)]
    while waiting:
        making = waiting.pop()
        if making.thing not in found:
            found.add(making.thing)
            waiting += made_from(making)
    return frozenset(found)


def _on(outline: Ring, p: XY) -> bool:
    """Whether a point lies on an outline."""
    for i, a in enumerate(outline):
        way = minus(outline[(i + 1) % len(outline)], a)
        t = dot(minus(p, a), way) / max(dot(way, way), 1e-12)
        if -1e-6 <= t <= 1 + 1e-6 and abs(cross(unit(way), minus(p, a))) < 1e-4:
            return True
    return False


def _ends_at(outline: Ring, s: Sewn) -> bool:
    """Whether a seam runs over an outline."""
    return any(_on(outline, p) or not holds(outline, p) for p in (s.start, s.end))


def stands_for(what: Part, place: Place) -> tuple[Part, Place]:
    """A making of one part is that part."""
    while isinstance(what, Making) and what.is_its_part:
        part = what.parts[0]
        what, place = part.what, part.place.then(place)
    return what, place


def move_of(place: Place) -> Move:
    """A placement as a move."""
    start = MIRROR if place.mirrored else STAY
    a, b, c, d, _, _ = then(start, turning(place.turned))
    return a, b, c, d, float(place.dx), float(place.dy)


def ring_of(points: Outline) -> Ring:
    """An exact outline as plain numbers."""
    return tuple((float(x), float(y)) for x, y in points)


def _xy(p: tuple[object, object]) -> XY:
    return float(p[0]), float(p[1])  # type: ignore[arg-type]


def _looks(ring: Ring) -> tuple[XY, ...]:
    """Points just inside the corners of a patch, where it has room for them; its middle where it has none."""
    inner = shifted(ring, [LOOK] * len(ring))
    inside = tuple(p for p in inner if holds(ring, p))
    if not inside:
        return (centroid(ring),)
    return inside if len(ring) < 12 else inside[::3]


def _uncovered(patches: Sequence[Patch]) -> Iterator[Patch]:
    """Patches that no seam joins, which lie over each other: each with points where no later one lies over it. One of
    which nothing shows is left out."""
    for n, patch in enumerate(patches):
        over = [shifted(p.ring, [-LOOK] * len(p.ring)) for p in patches[n + 1 :]]
        points = [*patch.looks, *(_across(patch.ring) if over else ())]
        looks = tuple(p for p in points if holds(patch.ring, p) and not any(holds(ring, p) for ring in over))
        if looks:
            yield msgspec.structs.replace(patch, looks=looks)


ACROSS = 12


def _across(ring: Ring) -> Iterator[XY]:
    """Points spread evenly over the box of a ring."""
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    for i in range(1, ACROSS):
        for j in range(1, ACROSS):
            x, y = min(xs) + (max(xs) - min(xs)) * i / ACROSS, min(ys) + (max(ys) - min(ys)) * j / ACROSS
            yield x, y


def _mirrored(drawn: Drawn) -> Drawn:
    names = tuple(range(len(drawn.outline)))
    patches = tuple(
        Patch(
            p.what,
            carried(MIRROR, p.ring, tuple(range(len(p.ring))))[0],
            tuple(moved(MIRROR, q) for q in p.looks),
            then(p.place, MIRROR),
            p.part,
        )
        for p in drawn.patches
    )
    lines = tuple(
        DrawnSeam(moved(MIRROR, s.start), moved(MIRROR, s.end), None if s.side is None else -s.side, s.spun, s.curve)
        for s in drawn.lines
    )
    return Drawn(carried(MIRROR, drawn.outline, names)[0], carried(MIRROR, drawn.raw, names)[0], patches, lines)


def _middle(ring: Ring) -> XY:
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _same(a: Ring, b: Ring) -> bool:
    return len(a) == len(b) and all(any(apart(p, q) < 1e-4 for q in b) for p in a)


def _turned(m: Move) -> float:
    return bearing(swung(m, (1.0, 0.0)))
