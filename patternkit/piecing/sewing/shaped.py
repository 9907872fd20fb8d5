"""Pieces that are sewn together as they are drawn: shapes cut by template, triangles, things that are sewn already."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

import msgspec

from patternkit.piecing.batch import Action, Batch, Edge, Fit, Join, Piece, Thing
from patternkit.piecing.making import Making, Point, Seam
from patternkit.piecing.offset import cross, minus
from patternkit.piecing.sewing.along_arcs import curved, is_curve
from patternkit.piecing.sewing.cloths import parts_of
from patternkit.piecing.sewing.desk import XY, Desk, Part, tips_on, xy
from patternkit.piecing.templates import is_rectangle

TRIANGLES = ("half", "quarter")
LEVEL = 1 / 64
"""Raw edges that end so near to each other are level, in inches: less than a ruler shows."""


def as_drawn(
    making: Making, desk: Desk, *, trimmed: bool = False, ending: Sequence[Action] = ()
) -> list[tuple[Batch, int]]:
    """All pieces of one unit, seam by seam, as often as the unit is made; `ending` is how it is trimmed.

    `trimmed` says that the tips of templates are trimmed so that raw edges meet.
    """
    parts, recipe = parts_of(making, desk), making.recipe
    seams: list[Action] = [j for n in range(len(making.seams)) for j in joins(making, n, parts, desk, trimmed=trimmed)]
    measured = [desk.measure(making)] if is_rectangle(making.outline) else []
    passages = [(recipe.method.phrase, seams), ("trim", ending), ("measure", measured)]
    found = desk.batch([p.use for p in parts], passages, [(desk.thing(making), 1)])
    return [(found, desk.needed if recipe.one_by_one else desk.times * recipe.yields)]


def joins(making: Making, n: int, parts: Sequence[Part], desk: Desk, *, trimmed: bool = False) -> list[Join]:
    """A seam of a making as joins, one for each straight piece of it.

    Edges that end square meet raw edge to raw edge. The tips of triangles that are cut from squares or rectangles cross
    the other edge evenly; trimmed templates meet raw edge to raw edge; others by the ends of their seam lines. A seam
    stops a seam allowance before a corner into which it is set, or into which a later one is.
    """
    seam, found = making.seams[n], list[Join]()
    if is_curve(seam):
        return [curved(seam, parts)]
    path = seam.path or (seam.start, seam.end)
    bends = {p for later in making.seams[n:] if not is_curve(later) for p in later.path[1:-1]}
    for i, join in enumerate(desk.joins(seam, parts)):
        # the left side lies clockwise: it begins where the line ends
        stop, start = ("seam" if p in bends else "edge" for p in path[i : i + 2])
        new = msgspec.structs.replace(join, start=start, stop=stop)
        if "seam" in (start, stop):
            new = msgspec.structs.replace(new, fit=_met(new, making.seams[:n], path[i : i + 2], parts), ears=True)
        elif join.fit == "points":
            new = _tips(new, making.seams[: n + 1], path[i : i + 2], parts, desk) if trimmed else _crossed(new, parts)
        found.append(new)
    return found


def _met(join: Join, sewn: Sequence[Seam], ends: Sequence[Point], parts: Sequence[Part]) -> Fit:
    """How the ends of seam lines meet: at both ends, or where one edge goes on beyond a corner, at the other end. The
    left edge runs from the end of the line to its start. What of an edge was sewn before counts no more."""
    far = hypot(*(p - q for p, q in zip(xy(ends[1]), xy(ends[0]), strict=True)))
    before = behind = False
    for edge in (*join.left, *join.right):
        ring, k = parts[edge.part].outline, parts[edge.part].edges.index(edge.n)
        reach = [_along(p, ends) for p in (ring[k], ring[(k + 1) % len(ring)])]
        gone = [_along(xy(p), ends) for p in _sewn_on(edge.part, sewn, ends)]
        before = before or (min(reach) < -LEVEL and not any(t < -LEVEL for t in gone))
        behind = behind or (max(reach) > far + LEVEL and not any(t > far + LEVEL for t in gone))
    return "start" if before else "end" if behind else "points"


def _along(p: XY, ends: Sequence[Point]) -> float:
    """How far a point lies along the line from the one end to the other."""
    (x1, y1), (x2, y2) = xy(ends[0]), xy(ends[1])
    return ((p[0] - x1) * (x2 - x1) + (p[1] - y1) * (y2 - y1)) / hypot(x2 - x1, y2 - y1)


def _sewn_on(part: int, sewn: Sequence[Seam], ends: Sequence[Point]) -> list[Point]:
    """The ends of what has been sewn to a part on the same line."""
    way, found = minus(ends[1], ends[0]), list[Point]()
    for seam in sewn:
        if part in seam.left or part in seam.right:
            for p, q in pairwise(seam.path or (seam.start, seam.end)):
                if not cross(way, minus(p, ends[0])) and not cross(way, minus(q, ends[0])):
                    found += [p, q]
    return found


def _crossed(join: Join, parts: Sequence[Part]) -> Join:
    """Triangles that were cut from rectangles cross the other edge evenly; others meet by the ends of seam lines."""
    items = [parts[e.part].use.item for e in (*join.left, *join.right)]
    triangles = any(isinstance(item, Piece) and item.form in TRIANGLES for item in items)
    return msgspec.structs.replace(join, fit="crossed") if triangles else join


def _tips(join: Join, seams: Sequence[Seam], ends: Sequence[Point], parts: Sequence[Part], desk: Desk) -> Join:
    """Edges of templates with trimmed tips, level at both ends where all of them are so cut. The tips of what is sewn
    already that are cut along the same raw edge are part of it. The last of the seams is sewn, the others are."""
    parts = [_whole(part, float(desk.seam)) for part in parts]
    a, b, beyond = xy(ends[0]), xy(ends[1]), float(desk.seam)
    left = tuple(Edge(*at) for at in tips_on(a, b, seams[-1].left, parts, beyond) if not _sewn_in(*at, parts, seams))
    right = tuple(Edge(*at) for at in tips_on(a, b, seams[-1].right, parts, -beyond) if not _sewn_in(*at, parts, seams))
    new = msgspec.structs.replace(join, left=(*join.left, *left), right=(*join.right, *right), fit="level", ears=False)
    one, other = _run(new.left, parts, a, b), _run(new.right, parts, a, b)
    level = one and other and all(abs(x - y) < LEVEL for x, y in zip(one, other, strict=True))
    return new if level else _crossed(join, parts)  # a unit that is one shape alone keeps its points


def _whole(part: Part, seam: float) -> Part:
    """A part with its raw outline: what is sewn already keeps its points, a seam outside those of its seam lines."""
    if part.raw or not isinstance(part.use.item, Thing):
        return part
    ring, raw = part.outline, []
    for i, (x, y) in enumerate(ring):
        (px, py), (qx, qy) = ring[i - 1], ring[(i + 1) % len(ring)]
        before, behind = hypot(x - px, y - py), hypot(qx - x, qy - y)
        u, v = ((x - px) / before, (y - py) / before), ((qx - x) / behind, (qy - y) / behind)
        slant = 1 + u[0] * v[0] + u[1] * v[1]
        raw.append((x + seam * (u[1] + v[1]) / slant, y - seam * (u[0] + v[0]) / slant))
    return part._replace(raw=tuple(raw))


def _run(edges: Sequence[Edge], parts: Sequence[Part], a: XY, b: XY) -> tuple[float, float] | None:
    """From where to where raw edges run along the line from a to b; None where that is not known."""
    far = hypot(b[0] - a[0], b[1] - a[1])
    rings = [parts[e.part].raw for e in edges]
    if not all(rings):
        return None
    ends = [ring[(e.n + k) % len(ring)] for e, ring in zip(edges, rings, strict=True) for k in (0, 1)]
    along = [((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / far for x, y in ends]
    return min(along), max(along)


def _sewn_in(part: int, n: int, parts: Sequence[Part], seams: Sequence[Seam]) -> bool:
    """Whether an edge of a part lies in the allowance of an earlier seam."""
    raw = parts[part].raw
    ends = raw[n], raw[(n + 1) % len(raw)]
    for seam in seams[:-1]:
        if part in seam.left or part in seam.right:
            path = seam.path or (seam.start, seam.end)
            (ax, ay), (bx, by) = xy(path[0]), xy(path[-1])
            side = 1 if part in seam.left else -1  # of the line, where the allowance of the part lies
            if all(side * ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) > -1e-6 for x, y in ends):
                return True
    return False
