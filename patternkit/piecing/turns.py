"""Shapes laid one beside the other in a strip: how far apart they must begin, exactly, and the runs that they make.

Two shapes lie clear of each other where, at every height, the right end of the first is not beyond the left end of the
second. Both ends are straight between corners, so that only the heights of corners count. Each shape must lie clear of
all before it: one that is as high as the strip parts it, lower ones do not. What an outline has in hollows that open to
neither side is not used.

Shapes turned about by turns lie on the lower edge of their strip and on its upper edge by turns: in a strip a little
higher than they are, those with tips cut off come as near to each other as they would with their tips.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import Any, NamedTuple, TypeVar

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.piecing.making import Outline
from patternkit.piecing.offset import bounding_box, moved

T = TypeVar("T", Length, float)
Plain = tuple[tuple[float, float], ...]
NEAR = 1e-9
"""Inches within which two corners lie at one height."""
LONGEST = 200
"""Shapes in one run at most: nobody lays more in a row, and more are several runs side by side."""
FRONT = 4
"""Shapes before it that a shape must lie clear of: those before these end further left."""


class LaidSpot(NamedTuple):
    """Where the box of a shape begins in a run, from its left and its top, and by how many degrees it is turned."""

    x: Length
    y: Length
    turned: int


class ShapeRun(msgspec.Struct, frozen=True):
    """Shapes of one outline side by side, as they lie; how long all of them are, and how high their strip."""

    outline: Outline
    spots: tuple[LaidSpot, ...]
    width: Length
    height: Length

    @property
    def by_turns(self) -> bool:
        """Whether some lie turned about."""
        return len({spot.turned for spot in self.spots}) > 1

    def laid(self) -> list[Outline]:
        """The outlines as they lie."""
        ways = {0: self.outline, 180: turned_about(self.outline)}
        return [moved(ways[spot.turned], (spot.x, spot.y)) for spot in self.spots]


def at_home(outline: Outline) -> Outline:
    """An outline with its box's corner at (0, 0)."""
    left, top = bounding_box(outline)[0]
    return tuple((x - left, y - top) for x, y in outline)


def turned_about(outline: Outline) -> Outline:
    """An outline turned by half a turn, its box's corner at (0, 0)."""
    high = bounding_box(outline)[1]
    return tuple((high[0] - x, high[1] - y) for x, y in outline)


def quarter_turned(outline: Outline) -> Outline:
    """An outline turned by a quarter, clockwise, its box's corner at (0, 0)."""
    (x0, _), (_, y1) = bounding_box(outline)
    return tuple((y1 - y, x - x0) for x, y in outline)


@lru_cache(maxsize=4096)
def pitch(first: Outline, second: Outline, lower: Length = ZERO) -> Length:
    """How far right of the first box the second one must begin, both outlines with their box's corner at (0, 0), the
    second `lower` than the first by so much; never less than nothing."""
    return _pitch(first, second, lower)


class _Edge(NamedTuple):
    """An edge between two heights: where it begins and how far right it runs for each inch down, in plain numbers; and
    its ends as they are given."""

    top: float
    foot: float
    x: float
    y: float
    slant: float
    ends: tuple[tuple[Any, Any], tuple[Any, Any]]

    def at(self, y: float) -> float:
        """How far right it lies at a height."""
        return self.x + (y - self.y) * self.slant


def _pitch(first: Sequence[tuple[T, T]], second: Sequence[tuple[T, T]], lower: T) -> T:
    """The same in exact lengths or in plain numbers: exact only where plain numbers leave a doubt."""
    second = [(x, y + lower) for x, y in second]
    heights = [(y, float(y)) for y in _levels((first, second))]
    sides = _edges(first), _edges(second)
    gaps: list[tuple[float, _Edge, _Edge, T]] = []
    for top, foot in pairwise(heights):
        middle = (top[1] + foot[1]) / 2
        right, left = _outermost(sides[0], middle, right=True), _outermost(sides[1], middle, right=False)
        if right is not None and left is not None:
            gaps += [(right.at(near) - left.at(near), right, left, y) for y, near in (top, foot)]
    widest = max((gap[0] for gap in gaps), default=0.0) - NEAR
    exact = [lower - lower]
    exact += [_at(right.ends, y) - _at(left.ends, y) for gap, right, left, y in gaps if gap >= widest]
    return max(exact)


def _levels(outlines: Sequence[Sequence[tuple[T, T]]]) -> list[T]:
    """The heights of all corners, from the top, those that lie at one height once."""
    found: list[T] = []
    last = 0.0
    for y in sorted({p[1] for outline in outlines for p in outline}, key=float):
        if not found or float(y) - last > NEAR:
            found.append(y)
            last = float(y)
    return found


def _edges(outline: Sequence[tuple[T, T]]) -> list[_Edge]:
    """The edges of an outline that are not level."""
    plain = [(float(x), float(y)) for x, y in outline]
    found = []
    for n, (bx, by) in enumerate(plain):
        ax, ay = plain[n - 1]
        if ay != by:
            ends = outline[n - 1], outline[n]
            found.append(_Edge(min(ay, by), max(ay, by), ax, ay, (bx - ax) / (by - ay), ends))
    return found


def _outermost(edges: Sequence[_Edge], middle: float, right: bool) -> _Edge | None:
    """The outermost of the edges that pass a height; None where there is none."""
    passing = [edge for edge in edges if edge.top < middle < edge.foot]
    return (max if right else min)(passing, key=lambda edge: edge.at(middle), default=None)


def _at(edge: tuple[tuple[T, T], tuple[T, T]], y: T) -> T:
    """How far right an edge, or the line that goes on from it, lies at a height."""
    (ax, ay), (bx, by) = edge
    if y == ay or ax == bx:
        return ax
    return bx if y == by else ax + (y - ay) * (bx - ax) / (by - ay)


def laid_in(
    outline: Outline, room: Length, may_turn: bool, most: int | None = None, higher: Length = ZERO
) -> ShapeRun | None:
    """The run of most shapes that fits in a length (no more than `most` of them): all the same way up, or turned about
    by turns where they may be turned and that brings more, or takes less. None where not even one fits. The strip may
    be `higher` than the shapes."""
    home = at_home(outline)
    most = LONGEST if most is None else min(most, LONGEST)
    best = _best(_plain(home), float(room), may_turn, most, float(higher))
    if best is None:
        return None
    _, _, (turns, tops) = best
    wide, high = bounding_box(home)[1]
    ways = {turned: home if turned == 0 else turned_about(home) for turned in turns}
    exact = {True: higher, False: ZERO}
    ups = tuple(exact[top > 0] for top in tops)
    spots = [LaidSpot(*spot) for spot in _spots(ways, wide, room, turns, ups, most)]
    return ShapeRun(home, tuple(spots), spots[-1].x + wide, high + max(ups)) if spots else None


def estimate(
    outline: Outline, room: Length, may_turn: bool, most: int | None = None, higher: Length = ZERO
) -> tuple[int, float] | None:
    """How many shapes the run of `laid_in` has, and how long it is, in plain numbers, which are quick."""
    most = LONGEST if most is None else min(most, LONGEST)
    best = _best(_plain(at_home(outline)), float(room), may_turn, most, float(higher))
    return None if best is None else (-best[0], best[1])


def _plain(outline: Outline) -> Plain:
    return tuple((float(x), float(y)) for x, y in outline)


@lru_cache(maxsize=1024)
def _best(
    outline: Plain, room: float, may_turn: bool, most: int | None, higher: float
) -> tuple[int, float, tuple[tuple[int, ...], tuple[float, ...]]] | None:
    """The order of turns, and how far from the top each lies, that brings most and takes least; with how many it brings
    (less than nothing, so that the best is the least) and how long they are."""
    wide, high = max(p[0] for p in outline), max(p[1] for p in outline)
    ways = {0: outline, 180: tuple((wide - x, high - y) for x, y in outline)}
    tried: list[tuple[tuple[int, ...], tuple[float, ...]]] = [((0,), (0.0,))]
    if may_turn:
        ups = ((higher, 0.0), (0.0, higher)) if higher else ((0.0, 0.0),)
        tried += [(turns, up) for turns in ((0, 180), (180, 0)) for up in ups]
    found = []
    for turns, tops in tried:
        spots = _spots(ways, wide, room + NEAR, turns, tops, most)
        if spots:
            found.append((-len(spots), round(spots[-1][0] + wide, 9), (turns, tops)))
    return min(found, key=lambda f: f[:2], default=None)


def _spots(
    ways: Mapping[int, Sequence[tuple[T, T]]],
    wide: T,
    room: T,
    turns: tuple[int, ...],
    tops: tuple[T, ...],
    most: int | None,
) -> list[tuple[T, T, int]]:
    """Shapes turned in this order, again and again, as long as there is room, each so far from the top."""
    steps: dict[tuple[int, int], tuple[T, float]] = {}
    spots: list[tuple[T, T, int]] = []
    near: list[float] = []  # where they begin in plain numbers: exact ones only where these leave a doubt
    long, most_room = float(wide), float(room)
    while most is None or len(spots) < most:
        n = len(spots)
        turned, y = turns[n % len(turns)], tops[n % len(tops)]
        before = range(max(0, n - FRONT), n)
        for m in before:
            key = m % len(turns), n % len(turns)
            if key not in steps:
                step = _pitch(ways[spots[m][2]], ways[turned], y - spots[m][1])
                steps[key] = step, float(step)
        far = [near[m] + steps[m % len(turns), n % len(turns)][1] for m in before]
        last = max(far, default=0.0) - NEAR
        at = wide - wide
        for m, x in zip(before, far, strict=True):
            if x >= last:
                at = max(at, spots[m][0] + steps[m % len(turns), n % len(turns)][0])
        begins = float(at)
        if begins + long > most_room - NEAR and at + wide > room:
            break
        spots.append((at, y, turned))
        near.append(begins)
    return spots


class LaidShape(NamedTuple):
    """An outline, its box's corner at (0, 0), and how far below the upper edge of a strip it lies."""

    outline: Outline
    down: Length


class ByTurns(NamedTuple):
    """Two shapes by turns: how far each begins after the one of its sort before it, and how far the second sort begins
    after the first; how long each is."""

    pitch: Length
    offset: Length
    lengths: tuple[Length, Length]

    def fits(self, room: Length) -> tuple[int, int]:
        """How many of each fit in a length."""
        first, second = (
            0 if begins + long > room else int(((room - begins - long) / self.pitch).floor_to(Fraction(1))) + 1
            for begins, long in zip((ZERO, self.offset), self.lengths, strict=True)
        )
        return first, second


@lru_cache(maxsize=256)
def by_turns(first: LaidShape, second: LaidShape) -> ByTurns | None:
    """How near two shapes lie by turns, each at its height in the strip; None where they do not come round evenly."""
    spots: list[tuple[Length, LaidShape]] = []
    for n in range(6):
        shape = (first, second)[n % 2]
        before = spots[-FRONT:]
        at = max((x + pitch(s.outline, shape.outline, shape.down - s.down) for x, s in before), default=ZERO)
        spots.append((at, shape))
    steps = {spots[n + 2][0] - spots[n][0] for n in range(4)}
    if len(steps) != 1 or not spots[2][0] > 0:
        return None
    lengths = (bounding_box(first.outline)[1][0], bounding_box(second.outline)[1][0])
    return ByTurns(spots[2][0], spots[1][0], lengths)


def is_box(outline: Outline) -> bool:
    """Whether an outline is a rectangle as it lies, which nothing can be laid into."""
    (x0, y0), (x1, y1) = bounding_box(outline)
    return set(outline) == {(x0, y0), (x1, y0), (x1, y1), (x0, y1)}


def area_of(outline: Outline) -> Length:
    """The area of an outline."""
    doubled = sum(
        (a[0] * b[1] - a[1] * b[0] for a, b in zip(outline, (*outline[1:], outline[0]), strict=True)), start=ZERO
    )
    return abs(doubled) / 2
