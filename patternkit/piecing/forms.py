"""Outlines in terms of sizes that are not known yet, and how shapes lie where edges of theirs meet.

A *form* is an outline whose corners are sums of unknown finished sizes. Beside each sum stands about how long it is, in
an example of the shape: by these plain numbers edges are told apart, by the sums equations are stated. Once sizes are
known the same outlines are forms too, of inches.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from math import hypot
from typing import NamedTuple, Protocol

import msgspec

from patternkit.lengths import ONE, ZERO, Length
from patternkit.piecing.making import Outline, Point
from patternkit.piecing.unknowns import Unknown, of_quilt
from patternkit.source import Span

NEAR = 1e-6
INCH = of_quilt("inch", "long")
"""Stands in the place of a size where all sizes are known."""
RIGHT, DOWN = (1, 0), (0, 1)
Way = tuple[int, int]


class Sum(msgspec.Struct, frozen=True):
    """Multiples of unknown sizes, added up; and about how much that is."""

    terms: Mapping[Unknown, Length]
    about: float

    def __add__(self, other: Sum) -> Sum:
        terms = dict(self.terms)
        for var, factor in other.terms.items():
            found = terms.pop(var, ZERO) + factor
            if found:
                terms[var] = found
        return Sum(terms, self.about + other.about)

    def __sub__(self, other: Sum) -> Sum:
        return self + other * -1

    def __mul__(self, factor: Length | int) -> Sum:
        times = factor if isinstance(factor, Length) else Length(factor)
        return Sum({v: f * times for v, f in self.terms.items()} if times else {}, self.about * float(times))

    def __truediv__(self, by: int) -> Sum:
        return self * (ONE / by)

    @property
    def inches(self) -> Length:
        """What it comes to where sizes are known."""
        return self.terms.get(INCH, ZERO)


Corner = tuple[Sum, Sum]
Form = tuple[Corner, ...]
NOTHING = Sum({}, 0.0)
ORIGIN: Corner = (NOTHING, NOTHING)


def size(var: Unknown, about: float) -> Sum:
    """One unknown size."""
    return Sum({var: ONE}, about)


def known(outline: Outline) -> Form:
    """An outline whose sizes are known, as a form."""
    return tuple((_inches(x), _inches(y)) for x, y in outline)


def _inches(length: Length) -> Sum:
    return Sum({INCH: length} if length else {}, float(length))


def point(corner: Corner) -> Point:
    """A corner of a form whose sizes are known."""
    return corner[0].inches, corner[1].inches


def solved(form: Form, value: Callable[[Unknown], Length]) -> Outline:
    """The outline that a form is at solved sizes."""

    def at(total: Sum) -> Length:
        found = ZERO
        for var, factor in total.terms.items():
            found = found + value(var) * factor
        return found

    return tuple((at(x), at(y)) for x, y in form)


def upright(width: Sum, height: Sum, x: Sum = NOTHING, y: Sum = NOTHING) -> Form:
    """A rectangle, from its upper left corner."""
    return (x, y), (x + width, y), (x + width, y + height), (x, y + height)


def box(form: Form) -> tuple[Corner, Corner]:
    """The upper left and the lower right corner of what lies round a form."""
    xs, ys = ([c[k] for c in form] for k in (0, 1))

    def about(total: Sum) -> float:
        return total.about

    return (min(xs, key=about), min(ys, key=about)), (max(xs, key=about), max(ys, key=about))


def moved(form: Form, by: Corner) -> Form:
    """A form moved."""
    return tuple((x + by[0], y + by[1]) for x, y in form)


def lying(form: Form, turned: int, mirrored: bool) -> Form:
    """A form mirrored left to right, then turned clockwise by quarter turns; its box's upper left corner at (0, 0)."""
    if mirrored:
        form = tuple((x * -1, y) for x, y in reversed(form))
    for _ in range(turned // 90 % 4):
        form = tuple((y * -1, x) for x, y in form)
    (x, y), _ = box(form)
    return moved(form, (x * -1, y * -1))


def positive(total: Sum) -> Sum:
    """A sum that is more than nothing, or its opposite."""
    return total * -1 if total.about < 0 else total


class Totals(Protocol):
    """Where equations are stated."""

    def total(self, parts: Iterable[tuple[Length | int, Unknown]], whole: Unknown, text: str, span: Span) -> None:
        """Coefficient times size over `parts` is `whole`."""


def equal(out: Totals, a: Sum, b: Sum, text: str, span: Span) -> None:
    """State that two sums are equal, solved for the last of their sizes."""
    terms = (a - b).terms
    if len(terms) > 1:
        *others, last = terms
        out.total([(-(terms[v] / terms[last]), v) for v in others], last, text, span)


def edge(form: Form, i: int) -> Corner:
    """How far edge i of a form runs to the right and down."""
    (ax, ay), (bx, by) = form[i], form[(i + 1) % len(form)]
    return bx - ax, by - ay


def clean(form: Form) -> Form:
    """A form without corners in the middle of a straight edge."""
    kept = []
    for i, corner in enumerate(form):
        a, b = _direction(form, i - 1), _direction(form, i)
        if abs(a[0] * b[1] - a[1] * b[0]) > NEAR:
            kept.append(corner)
    return tuple(kept)


def _direction(form: Form, i: int) -> tuple[float, float]:
    x, y = (side.about for side in edge(form, i % len(form)))
    far = hypot(x, y)
    return x / far, y / far


# -- where edges meet -------------------------------------------------------------------------------------
def joint(a: Form, b: Form, way: Way) -> tuple[int, int, bool]:
    """The edges by which a form meets one that lies to its right (or below it), and whether they have one direction: of
    several pairs that have, those that lie most nearly square to the way. Where two do so equally a row falls, and a
    column goes to the left. Where none has, those that face each other."""
    prefer = (-way[1], way[0])
    ours, others = _facing(a, way, prefer), _facing(b, (-way[0], -way[1]), (-prefer[0], -prefer[1]))
    pairs = [(i, j) for i in ours for j in others if _against(_direction(a, i), _direction(b, j))]
    return (*pairs[0], True) if pairs else (ours[0], others[0], False)


def _facing(form: Form, way: Way, prefer: Way) -> list[int]:
    """The edges that look one way, the squarest to it first."""
    found = []
    for i in range(len(form)):
        x, y = _direction(form, i)
        toward = y * way[0] - x * way[1]
        if toward > NEAR:
            found.append((round(-toward, 6), round(x * prefer[1] - y * prefer[0], 6), i))
    return [i for _, _, i in sorted(found)]


def _against(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return abs(a[0] * b[1] - a[1] * b[0]) < NEAR and a[0] * b[0] + a[1] * b[1] < 0


class Chain(NamedTuple):
    """Forms joined one after the other: the outline of all, where each lies, the ends of the seam before each but the
    first, and the edges that meet there, as how far each runs to the right and down."""

    form: Form
    places: tuple[Corner, ...]
    seams: tuple[tuple[Corner, Corner], ...]
    met: tuple[tuple[Corner, Corner], ...]


class Unlike(ValueError):
    """The edges by which a form and the one before it would meet differ: its `number`, from 0, and how far the edge of
    the one before and its own run to the right and down."""

    def __init__(self, number: int, before: Corner, own: Corner) -> None:
        self.number, self.before, self.own = number, before, own


class Overlap(ValueError):
    """A form meets those before it along more than one edge, or lies over them; `number` is which, from 0."""

    def __init__(self, number: int) -> None:
        self.number = number


def line(forms: Sequence[Form], way: Way, *, fixed: bool = False) -> Chain:
    """Forms side by side, or one below the other, each against the one before it.

    Seams run so that what came before lies on their left. Where sizes are `fixed`, edges must be equally long; else
    those that meet are taken to be. Raises Unlike, Overlap.
    """
    whole, last = forms[0], forms[0]
    places, seams, met = [ORIGIN], list[tuple[Corner, Corner]](), list[tuple[Corner, Corner]]()
    for number, form in enumerate(forms[1:], 1):
        i, j, alike = joint(last, form, way)
        ours, (x, y) = edge(last, i), edge(form, j)
        own = x * -1, y * -1
        if not alike or (fixed and point(ours) != point(own)):
            raise Unlike(number, ours, own)
        form = form if fixed else _scaled(form, _far(ours) / _far(own))
        ends = last[i], last[(i + 1) % len(last)]
        start = form[(j + 1) % len(form)]
        last = moved(form, (ends[0][0] - start[0], ends[0][1] - start[1]))
        places.append((ends[0][0] - start[0], ends[0][1] - start[1]))
        seams.append((ends[1], ends[0]))
        met.append((ours, own))
        whole = _union(whole, last, ends, j, number)
    return Chain(clean(whole), tuple(places), tuple(seams), tuple(met))


def _scaled(form: Form, by: float) -> Form:
    return tuple((msgspec.structs.replace(x, about=x.about * by), msgspec.structs.replace(y, about=y.about * by))
                 for x, y in form)  # fmt: skip


def _far(vector: Corner) -> float:
    return hypot(vector[0].about, vector[1].about)


def _union(whole: Form, new: Form, ends: tuple[Corner, Corner], j: int, number: int) -> Form:
    """The outline round a form and another that meets it along one edge."""
    n = len(whole)
    k = next((k for k in range(n) if _same(whole[k], ends[0]) and _same(whole[(k + 1) % n], ends[1])), None)
    if k is None:
        raise Overlap(number)
    ours = [whole[(k + 1 + s) % n] for s in range(n)]
    others = [new[(j + 2 + s) % len(new)] for s in range(len(new) - 2)]
    found = (*ours, *others)  # ours end where the new one's first kept corner follows
    if any(_meet(found, a, b) for a in range(n - 1) for b in range(n - 1, len(found))):
        raise Overlap(number)
    return found


def _same(a: Corner, b: Corner) -> bool:
    return abs(a[0].about - b[0].about) < NEAR and abs(a[1].about - b[1].about) < NEAR


def _meet(form: Form, a: int, b: int) -> bool:
    """Whether two edges of an outline cross, or lie on each other over some length."""
    p, q, r, s = ((c[0].about, c[1].about) for c in (form[a], form[a + 1], form[b], form[(b + 1) % len(form)]))

    def side(o: tuple[float, float], u: tuple[float, float], v: tuple[float, float]) -> float:
        return (u[0] - o[0]) * (v[1] - o[1]) - (u[1] - o[1]) * (v[0] - o[0])

    around = side(p, q, r), side(p, q, s), side(r, s, p), side(r, s, q)
    if max(map(abs, around[:2])) < NEAR:
        way = q[0] - p[0], q[1] - p[1]
        t = sorted((way[0] * (c[0] - p[0]) + way[1] * (c[1] - p[1])) / (way[0] ** 2 + way[1] ** 2) for c in (r, s))
        return min(t[1], 1.0) - max(t[0], 0.0) > NEAR
    return all(x * y < -NEAR for x, y in (around[:2], around[2:]))
