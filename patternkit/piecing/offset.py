"""Raw outlines: every raw edge lies one seam outside its finished edge, whatever the angles. Exact.

At a corner of interior angle t each side so grows by ``seam * cot(t / 2)`` (less than nothing at a corner that points
inward). The distance between two lines needs the length of an edge, a square root. Where that root is not a `Length`
(or its radicand too large to be factored quickly) a fraction above it is used, too long by less than 2**-60 of the
edge's length: the raw edge then lies outward by less than that fraction of the seam, so a piece is never cut too small.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import gcd, isqrt
from typing import NamedTuple

from patternkit.lengths import ONE, ZERO, Length, root
from patternkit.piecing.making import Outline, Point

_BITS = 64
_FACTORABLE = 10**10  # up to here a whole number is factored in a few milliseconds


class CannotOffset(ValueError):
    """The outline has no raw outline at this seam; the text says why, in words for the writer."""


# -- vectors ----------------------------------------------------------------------------------------------
def minus(a: Point, b: Point) -> Point:
    """The vector from `b` to `a`."""
    return a[0] - b[0], a[1] - b[1]


def plus(a: Point, b: Point) -> Point:
    """The point `a` moved by the vector `b`."""
    return a[0] + b[0], a[1] + b[1]


def times(v: Point, f: Length | Fraction | int) -> Point:
    """The vector `v` made `f` times as long."""
    return v[0] * f, v[1] * f


def cross(a: Point, b: Point) -> Length:
    """Positive when `b` turns clockwise from `a` (y runs down)."""
    return a[0] * b[1] - a[1] * b[0]


def dot(a: Point, b: Point) -> Length:
    """Positive when the two vectors are less than a right angle apart, nought when they are square."""
    return a[0] * b[0] + a[1] * b[1]


def length_of(v: Point) -> Length:
    """The length of a vector; exact where it is a `Length`, else above the true one by less than 2**-60 of it."""
    square = dot(v, v)
    if not v[0]:
        return abs(v[1])
    if not v[1]:
        return abs(v[0])
    if square.is_fraction:
        # take out the square factors the two coordinates share before the root is asked to factor the rest
        factor, inner = _shared_factor(v)
        if inner is not None:
            return root(inner) * factor if inner <= _FACTORABLE else _root_above(Length(inner)) * factor
        return square_root(square)
    return square_root(square)


def square_root(square: Length) -> Length:
    """The square root of a length; exact where it is a `Length`, else above the true one by less than 2**-60 of it."""
    if square.is_fraction and square.fraction.numerator * square.fraction.denominator > _FACTORABLE:
        return _root_above(square)
    try:
        return square.sqrt()
    except ValueError:
        if square <= 0:
            raise
        return _root_above(square)


def _shared_factor(v: Point) -> tuple[Fraction, int | None]:
    """Split a vector of fractions into a factor and the squared length of the whole-number vector left over."""
    if not (v[0].is_fraction and v[1].is_fraction):
        return Fraction(1), None
    x, y = v[0].fraction, v[1].fraction
    bottom = x.denominator * y.denominator // gcd(x.denominator, y.denominator)
    p, q = int(x * bottom), int(y * bottom)
    shared = gcd(p, q)
    p, q = p // shared, q // shared
    return Fraction(shared, bottom), p * p + q * q


def _root_above(square: Length) -> Length:
    """A fraction not below the square root of a positive length, and less than 2**-60 of it above."""
    fine = Fraction(1)
    while square < fine * fine:  # a small length needs a finer grid for the same closeness
        fine /= 2
    fine /= 2**_BITS
    above = square.q / fine**2  # the square in units of the fine grid's square, every part rounded up
    for n, c in square.roots:
        scaled = c / fine**2
        whole = isqrt(n * scaled.numerator**2 // scaled.denominator**2)
        above += whole + 1 if c > 0 else -whole
    return Length(fine * (isqrt(above.numerator // above.denominator) + 1))


# -- shapes -----------------------------------------------------------------------------------------------
def edges(outline: Outline) -> list[Point]:
    """The vector of each edge; edge i runs from corner i to the next."""
    return [minus(outline[(i + 1) % len(outline)], p) for i, p in enumerate(outline)]


def area(outline: Outline) -> Length:
    """The area enclosed, in square inches; negative when the outline runs anticlockwise as seen."""
    total = ZERO
    for i, p in enumerate(outline):
        total = total + cross(p, outline[(i + 1) % len(outline)])
    return total / 2


def bounding_box(outline: Outline) -> tuple[Point, Point]:
    """The top left and bottom right corners of the upright rectangle round an outline."""
    xs, ys = [p[0] for p in outline], [p[1] for p in outline]
    return (min(xs), min(ys)), (max(xs), max(ys))


def box_size(outline: Outline) -> Point:
    """Width and height of the upright rectangle round an outline."""
    low, high = bounding_box(outline)
    return minus(high, low)


def moved(outline: Outline, by: Point) -> Outline:
    """The outline moved by a vector."""
    return tuple(plus(p, by) for p in outline)


def clean(outline: Sequence[Point]) -> Outline:
    """The outline without repeated points and without points in the middle of a straight edge."""
    points: list[Point] = []
    for p in outline:
        if not points or points[-1] != p:
            points.append(p)
    if len(points) > 1 and points[0] == points[-1]:
        points.pop()
    kept = [p for i, p in enumerate(points) if cross(minus(p, points[i - 1]), minus(points[(i + 1) % len(points)], p))]
    return tuple(kept)


def is_convex(outline: Outline) -> bool:
    """True for a clockwise outline that nowhere turns inward (straight-through corners allowed)."""
    sides = edges(outline)
    return all(cross(sides[i - 1], sides[i]).sign() >= 0 for i in range(len(sides))) and area(outline) > 0


def bias_edges(outline: Outline, grain: Point) -> tuple[int, ...]:
    """The edges off the straight grain: neither along the vector `grain` nor square to it. None without a grain."""
    if not grain[0] and not grain[1]:
        return ()
    return tuple(i for i, e in enumerate(edges(outline)) if cross(e, grain) and dot(e, grain))


# -- raw outlines -----------------------------------------------------------------------------------------
def raw_outline(outline: Outline, seam: Length) -> Outline:
    """The raw outline of a simple clockwise outline, corner for corner, every edge `seam` outside the finished one.

    Raises CannotOffset when an edge between two inward corners is too short to keep, or raw edges would cross.
    """
    sides = edges(outline)
    if any(not e[0] and not e[1] for e in sides):
        raise CannotOffset("two of its corners lie at the same point")
    if area(outline) <= 0:
        raise CannotOffset("its outline encloses nothing, or runs the wrong way round")
    lengths = [length_of(e) for e in sides]
    raw = tuple(
        _corner(outline[i], sides[i - 1], sides[i], lengths[i - 1], lengths[i], seam) for i in range(len(outline))
    )
    if not is_convex(outline):
        _must_be_simple(raw, sides)
    return raw


def _corner(at: Point, d1: Point, d2: Point, l1: Length, l2: Length, seam: Length) -> Point:
    """Solve "one seam outside both edges" for one corner."""
    turn = cross(d1, d2)
    if not turn:
        if dot(d1, d2) < 0:
            raise CannotOffset("it has a corner with no width")
        return at[0] + d1[1] * seam / l1, at[1] - d1[0] * seam / l1
    f = seam / turn
    return at[0] + (d1[0] * l2 - d2[0] * l1) * f, at[1] + (d1[1] * l2 - d2[1] * l1) * f


def _must_be_simple(raw: Outline, sides: list[Point]) -> None:
    """Refuse a raw outline whose edges turned round or cross each other."""
    new, n = edges(raw), len(raw)
    for old, e in zip(sides, new, strict=True):
        if dot(old, e).sign() <= 0:
            raise CannotOffset("an edge between two inward corners is shorter than its seam allowances need")
    for i in range(n):
        for j in range(i + 2, n):
            if (i or j != n - 1) and _cross_over(raw[i], raw[i + 1], raw[j], raw[(j + 1) % n]):
                raise CannotOffset("a notch in it is narrower than two seam allowances")


def _cross_over(a: Point, b: Point, c: Point, d: Point) -> bool:
    """True when the segments a-b and c-d touch."""

    def side(p: Point, q: Point, r: Point) -> int:
        return cross(minus(q, p), minus(r, p)).sign()

    one, two, three, four = side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)
    if not (one or two):  # all on one line: do the stretches overlap?
        along = minus(b, a)
        low, high = sorted((dot(along, minus(c, a)), dot(along, minus(d, a))))
        return high >= 0 and low <= dot(along, along)
    return one * two <= 0 and three * four <= 0


def sharp_corners(outline: Outline) -> tuple[int, ...]:
    """The corners sharper than a right angle: those that leave dog-ears."""
    sides = edges(outline)
    return tuple(i for i in range(len(sides)) if cross(sides[i - 1], sides[i]) > 0 and dot(sides[i - 1], sides[i]) < 0)


def trimmed_outline(outline: Outline, seam: Length, trims: Mapping[int, Sequence[HalfPlane]] | None = None) -> Outline:
    """The raw outline with its dog-ears trimmed off.

    `trims` gives the cuts of each corner; one whose tip does not reach a cut, or that would lose a neighbouring corner
    by it, keeps its point. Where nothing is known of the neighbours (None) every corner sharper than a right angle is
    cut square to the edge that follows it, one seam past the finished corner, where a square-cornered neighbour ends.
    """
    raw, sides = raw_outline(outline, seam), edges(outline)
    if trims is None:
        trims = {i: (_square_end(outline[i], times(sides[i], -1), seam),) for i in sharp_corners(outline)}
    points: list[Point] = []
    for i, tip in enumerate(raw):
        chain = [raw[i - 1], tip, raw[(i + 1) % len(raw)]]
        for cut in trims.get(i, ()):
            chain = _clipped(chain, cut)
        points += chain[1:-1]
    return clean(points) if len(points) != len(raw) else tuple(points)


def _clipped(chain: list[Point], cut: HalfPlane) -> list[Point]:
    """The part of a chain of points that a cut keeps; the whole chain where the cut would reach one of its ends."""

    def out(p: Point) -> int:
        return (dot(cut.normal, p) - cut.reach).sign()

    sides = [out(p) for p in chain]
    if sides[0] > 0 or sides[-1] > 0:
        return chain
    kept = [chain[0]]
    for n in range(1, len(chain)):
        if sides[n - 1] * sides[n] < 0:
            kept.append(_meet(chain[n - 1], minus(chain[n], chain[n - 1]), cut))
        if sides[n] <= 0:
            kept.append(chain[n])
    return kept


class HalfPlane(NamedTuple):
    """A cut that keeps every point p with ``normal . p <= reach``."""

    normal: Point
    reach: Length


def _square_end(corner: Point, along: Point, seam: Length) -> HalfPlane:
    return HalfPlane(along, length_of(along) * seam + dot(along, corner))


def _meet(start: Point, way: Point, trim: HalfPlane) -> Point:
    """Where the line from `start` along `way` reaches a cut."""
    return plus(start, times(way, (trim.reach - dot(trim.normal, start)) / dot(trim.normal, way)))


def unit_vector(v: Point) -> Point:
    """The vector one inch long with the same direction (see the module about exactness)."""
    return times(v, ONE / length_of(v))
