"""Bias strips along a line or an arc: how long they are, and what of them shows.

The length is that of the middle line: of a straight one exact, of an arc within 2**-40 above the true one. Each end is
turned under as the sides are; an end on the ground's edge runs on into the seam instead, where it is caught.
"""

from __future__ import annotations

from fractions import Fraction
from math import hypot, pi

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.division import within
from patternkit.piecing.freeform import angle_between, near, plain, swept
from patternkit.piecing.kinds.base import Shop
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.offset import length_of, minus
from patternkit.piecing.shapes import shown
from patternkit.piecing.templates import up

XY = tuple[float, float]
ON_EDGE = 1e-6
SQUARE_ENOUGH = 0.35
"""The least cosine between a strip's end and the edge it runs into: about 70 degrees off square."""


class StripPath(msgspec.Struct, frozen=True):
    """The middle line of a strip: from `start` to `end`, straight, or the shorter arc about a point (a half circle
    clockwise, unless it is `reversed`: seen in a mirror)."""

    start: Point
    end: Point
    about: Point | None = None
    reversed: bool = False

    def mirrored(self, width: Length) -> StripPath:
        """The same in the mirror image of a unit so wide."""
        points = [None if p is None else (width - p[0], p[1]) for p in (self.start, self.end, self.about)]
        assert points[0] is not None and points[1] is not None
        return StripPath(points[0], points[1], points[2], not self.reversed)

    @property
    def angle(self) -> float:
        """The angle of the arc, clockwise positive, in radians; 0 of a straight line."""
        if self.about is None:
            return 0.0
        found = angle_between(plain(self.about), plain(self.start), plain(self.end))
        return -found if self.reversed and abs(abs(found) - pi) < 1e-9 else found


class Track(msgspec.Struct, frozen=True):
    """A strip laid out: its middle line, the outline that shows, how long it is cut, and which ends a seam catches."""

    path: StripPath
    outline: Outline
    cut: Length
    caught: tuple[bool, bool]


def on_track(path: StripPath, size: tuple[Length, Length], ground: Outline, beyond: Length, shop: Shop) -> Track:
    """A strip on a ground whose raw edge lies so far `beyond` its finished one; `size` is how wide it shows, and how
    much is turned under. Raises ValueError, with words, where none can lie so."""
    (start, end, about), (wide, turned) = (path.start, path.end, path.about), size
    if start == end:
        raise ValueError("it ends where it begins")
    if about is not None:
        one, other = (length_of(minus(p, about)) for p in (start, end))
        if abs(float(one) - float(other)) > 1 / 256:
            raise ValueError(
                f"its ends lie {shown(up(one, shop.grid), shop)} and {shown(up(other, shop.grid), shop)} "
                "from the middle of the arc, which must be equally far from both"
            )
        if one * 2 <= wide:
            raise ValueError(f"an arc of a radius of {shown(one, shop)} is too tight for a strip "
                             f"{shown(wide, shop)} wide")  # fmt: skip
    ring = [plain(p) for p in ground]
    reach = [_reach(p, way, float(wide), float(beyond), ring) for p, way in _ends(path)]
    more = sum(_above(r) if r else turned for r in reach)
    cut, high = up(line_length(path) + more, shop.grid), wide + turned * 2
    if cut < high:
        raise ValueError(
            f"cut {shown(high, shop)} wide it would be only {shown(cut, shop)} long; what is wider than it is long "
            "is a unit of one patch, laid on with its middle at a point"
        )
    outline = _band(path, float(wide), [r or 0.0 for r in reach])
    if any(reach):
        outline = within(outline, ground)
    if any(_beyond(plain(p), ring) > 1e-3 for p in outline):
        raise ValueError("it runs over the edge of its ground")
    return Track(path, outline, cut, (reach[0] > 0, reach[1] > 0))


def line_length(path: StripPath) -> Length:
    """The length of the middle line."""
    if path.about is None:
        return length_of(minus(path.end, path.start))
    return _above(abs(path.angle) * float(length_of(minus(path.start, path.about))))


def _above(value: float) -> Length:
    """A fraction just above a plain number."""
    return Length(Fraction(int(value * 2**40) + 1, 2**40))


def _ends(path: StripPath) -> list[tuple[XY, XY]]:
    """Both ends of the middle line, each with the direction in which it runs out there."""
    a, b = plain(path.start), plain(path.end)
    if path.about is None:
        far = hypot(b[0] - a[0], b[1] - a[1])
        way = ((b[0] - a[0]) / far, (b[1] - a[1]) / far)
        return [(a, (-way[0], -way[1])), (b, way)]
    c, sign = plain(path.about), 1 if path.angle > 0 else -1
    found = []
    for p, back in ((a, -1), (b, 1)):
        x, y = p[0] - c[0], p[1] - c[1]
        far = hypot(x, y)
        found.append((p, (-y / far * sign * back, x / far * sign * back)))
    return found


def _reach(p: XY, way: XY, wide: float, seam: float, ring: list[XY]) -> float:
    """How far a strip that ends on the edge of its ground runs on, so that its whole end is caught in the seam; nothing
    for an end that lies inside. In a corner it runs beyond both edges."""
    found = 0.0
    for i, a in enumerate(ring):
        b = ring[(i + 1) % len(ring)]
        x, y = b[0] - a[0], b[1] - a[1]
        far = hypot(x, y)
        outer = (y / far, -x / far)
        off = (p[0] - a[0]) * outer[0] + (p[1] - a[1]) * outer[1]
        if abs(off) > ON_EDGE or not -ON_EDGE <= ((p[0] - a[0]) * x + (p[1] - a[1]) * y) / far <= far + ON_EDGE:
            continue
        square = way[0] * outer[0] + way[1] * outer[1]
        if square > SQUARE_ENOUGH:
            found = max(found, (seam + wide / 2 * abs(way[0] * outer[1] - way[1] * outer[0])) / square)
    return found


def _beyond(p: XY, ring: list[XY]) -> float:
    worst = float("-inf")
    for i, a in enumerate(ring):
        b = ring[(i + 1) % len(ring)]
        x, y = b[0] - a[0], b[1] - a[1]
        worst = max(worst, ((p[0] - a[0]) * y - (p[1] - a[1]) * x) / hypot(x, y))
    return worst


def _band(path: StripPath, wide: float, reach: list[float]) -> Outline:
    """The outline of a strip along a path, its ends drawn out straight; clockwise."""
    (a, out_a), (b, out_b) = _ends(path)
    middle = [a, b]
    if path.about is not None:
        middle = swept(plain(path.about), a, path.angle, hypot(*minus_plain(a, plain(path.about))) + wide / 2)
    ways = [(-out_a[0], -out_a[1]), *(_tangent(p, path) for p in middle[1:-1]), out_b]
    if reach[0]:
        middle, ways = [(a[0] + out_a[0] * reach[0], a[1] + out_a[1] * reach[0]), *middle], [ways[0], *ways]
    if reach[1]:
        middle, ways = [*middle, (b[0] + out_b[0] * reach[1], b[1] + out_b[1] * reach[1])], [*ways, ways[-1]]
    half = wide / 2
    left = [(x + wy * half, y - wx * half) for (x, y), (wx, wy) in zip(middle, ways, strict=True)]
    right = [(x - wy * half, y + wx * half) for (x, y), (wx, wy) in zip(middle, ways, strict=True)]
    return tuple(near(p) for p in (*left, *reversed(right)))


def minus_plain(p: XY, q: XY) -> XY:
    """The vector from `q` to `p`."""
    return p[0] - q[0], p[1] - q[1]


def _tangent(p: XY, path: StripPath) -> XY:
    assert path.about is not None
    x, y = minus_plain(p, plain(path.about))
    far, sign = hypot(x, y), 1 if path.angle > 0 else -1
    return -y / far * sign, x / far * sign
