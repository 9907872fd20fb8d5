"""What lies beside a seam: the pieces of cloth that touch it on either side, found without flattening the tree."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import msgspec

from patternkit.lengths import ONE, ZERO, Length
from patternkit.piecing.making import Cloth, Making, Part, Place, Placed, Point, Seam, cosine, sine
from patternkit.piecing.names import english
from patternkit.piecing.prints import group_of

VALUES = {"light": 0, "medium": 1, "dark": 2}


Memo = dict[object, Any]
"""Answers about the pieces of one tree: what touches a stretch of a making, and about where parts lie."""
Box = tuple[tuple[float, float], tuple[float, float]]
_HAIR = 1e-6  # far more than plain numbers are wrong by, far less than cloth is cut by


class Touch(msgspec.Struct, frozen=True):
    """A piece that touches a seam from `t0` to `t1` (fractions of its length); `names` are the fabric and the name of
    the piece, and the names of the units it belongs to, innermost first."""

    fabric: str
    names: tuple[str, ...]
    t0: Length
    t1: Length


def inside(place: Place, p: Point) -> Point:
    """A point of the whole, in the coordinates of the part that `place` puts there."""
    x, y = p[0] - place.dx, p[1] - place.dy
    if place.turned:
        c, s = cosine(place.turned), sine(place.turned)
        x, y = x * c + y * s, y * c - x * s
    return (-x if place.mirrored else x), y


def beside(parts: Sequence[Placed], seam: Seam, memo: Memo | None = None) -> tuple[list[Touch], list[Touch]]:
    """The pieces that touch a seam on its left and on its right, in order. A curve is asked at its middle stretch.

    `memo` keeps answers for seams of the same tree.
    """
    memo = {} if memo is None else memo
    a, b = seam.start, seam.end
    if len(seam.path) > 2:
        middle = len(seam.path) // 2
        a, b = seam.path[middle - 1], seam.path[middle]
    sides = []
    for side in (seam.left, seam.right):
        found: list[Touch] = []
        for i in near(parts, side, a, b, memo):
            found += touches(parts[i], a, b, memo)
        sides.append(sorted(found, key=lambda t: t.t0))
    return sides[0], sides[1]


def near(parts: Sequence[Placed], which: Sequence[int], a: Point, b: Point, memo: Memo) -> list[int]:
    """Those of some parts that may touch the stretch from a to b: most parts of a long row lie nowhere near it, which
    plain numbers tell at once."""
    boxes = _boxes(parts, memo)
    (left, top), (right, bottom) = _box((a, b))
    return [
        i
        for i in which
        if boxes[i][0][0] <= right and boxes[i][1][0] >= left and boxes[i][0][1] <= bottom and boxes[i][1][1] >= top
    ]


def _box(points: Sequence[Point]) -> Box:
    """Plain numbers that some points lie between, a hair more on every side."""
    xs, ys = [float(x) for x, _ in points], [float(y) for _, y in points]
    return (min(xs) - _HAIR, min(ys) - _HAIR), (max(xs) + _HAIR, max(ys) + _HAIR)


def _boxes(parts: Sequence[Placed], memo: Memo) -> list[Box]:
    """Where each part lies, about."""
    key = ("boxes", id(parts))
    if key not in memo:  # the parts are kept with their boxes, so that no others can take their id
        memo[key] = parts, [_box(p.place.outline(p.what.outline)) for p in parts]
    known: list[Box] = memo[key][1]
    return known


def touches(part: Placed, a: Point, b: Point, memo: Memo) -> list[Touch]:
    """The pieces of a placed part that touch the stretch from a to b."""
    if part.shown:
        return _showing(part, a, b)
    a, b = inside(part.place, a), inside(part.place, b)
    what = part.what
    if isinstance(what, Cloth):
        span = _overlap(what.outline, a, b)
        if not span:
            return []
        cloth = dict.fromkeys((what.fabric, group_of(what.fabric)))
        names = (*cloth, english(what.name)) if what.name is not None else tuple(cloth)
        return [Touch(what.fabric, names, *span)]
    key = (what, a, b)
    if key not in memo:
        own = (what.unit, what.called, *what.recipe.numbers.cut_from)
        memo[key] = (
            [Touch(t.fabric, (*t.names, *own), t.t0, t.t1) for p in what.parts for t in touches(p, a, b, memo)]
            if _near(what, a, b)
            else []
        )
    known: list[Touch] = memo[key]
    return known


def _showing(part: Placed, a: Point, b: Point) -> list[Touch]:
    """The pieces that touch a stretch of a part over whose corners others are flipped, as far as they show."""
    from patternkit.piecing.reflect import showing

    what, found = part.what, list[Touch]()
    own = (what.unit, what.called) if isinstance(what, Making) else ()
    for cloth in showing(part):
        span = _overlap(cloth.outline, a, b)
        if span:
            names = dict.fromkeys((cloth.fabric, group_of(cloth.fabric), *own))
            found.append(Touch(cloth.fabric, tuple(names), *span))
    return found


def _near(part: Making, a: Point, b: Point) -> bool:
    """Whether a stretch can touch a making at all: it may not lie wholly beyond one side of its box."""
    for i, size in ((0, part.width), (1, part.height)):
        if (a[i] <= ZERO and b[i] <= ZERO and (a[i], b[i]) != (ZERO, ZERO)) or (
            a[i] >= size and b[i] >= size and (a[i], b[i]) != (size, size)
        ):
            return False
    return True


def _overlap(outline: Sequence[Point], a: Point, b: Point) -> tuple[Length, Length] | None:
    """The stretch of a to b that runs along an edge of an outline, as fractions of a to b; None when there is none."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    axis = 0 if abs(dx) >= abs(dy) else 1
    run = (dx, dy)[axis]
    for p, q in zip(outline, (*outline[1:], outline[0]), strict=False):
        if not (_along(a, dx, dy, p) and _along(a, dx, dy, q)):
            continue
        t, u = (p[axis] - a[axis]) / run, (q[axis] - a[axis]) / run
        t, u = (t, u) if t < u else (u, t)
        low, high = (t if t > ZERO else ZERO), (u if u < ONE else ONE)
        if low < high:
            return low, high
    return None


def _along(a: Point, dx: Length, dy: Length, p: Point) -> bool:
    if not dx:
        return p[0] == a[0]
    if not dy:
        return p[1] == a[1]
    return dx * (p[1] - a[1]) == dy * (p[0] - a[0])


def darkness(touching: Sequence[Touch], values: Mapping[str, str]) -> Length | None:
    """The mean value of the pieces along a side, 0 light to 2 dark; None when a value was not given."""
    total, length = ZERO, ZERO
    for t in touching:
        value = VALUES.get(values.get(t.fabric, ""))
        if value is None:
            return None
        total, length = total + (t.t1 - t.t0) * value, length + (t.t1 - t.t0)
    return total / length if length else None


def seams_in(part: Part) -> int:
    """How many seams a part has, all levels together."""
    if isinstance(part, Cloth):
        return 0
    return len(part.seams) + sum(seams_in(p.what) for p in part.parts)
