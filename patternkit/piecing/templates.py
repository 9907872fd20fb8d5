"""Pieces cut by template or for paper piecing: what is cut, how it lies on the cloth, congruent pieces counted together."""

from __future__ import annotations

from fractions import Fraction
from typing import Iterable, Mapping, Sequence

import msgspec

from patternkit.lengths import ONE, ZERO, Length
from patternkit.model.pattern import Unit
from patternkit.piecing.kinds.base import Shop
from patternkit.piecing.making import Cloth, Cut, Making, Outline, Placed, Point, Recipe, Seam
from patternkit.piecing.division import on_segment
from patternkit.piecing.offset import (
    bounding_box,
    box_size,
    minus,
    moved,
    raw_outline,
    sharp_corners,
    times,
    trimmed_outline,
    unit_vector,
)

EXTRA = Length(Fraction(1, 4))
"""What a piece for paper piecing is cut larger on every side, in inches (common practice, no source)."""


def laid(outline: Outline, grain: Point) -> Outline:
    """The outline as it lies on the cloth: turned so that `grain` runs to the right, its box's corner at (0, 0), and
    starting with its topmost, then leftmost corner, so that equal pieces have equal outlines."""
    if grain[0] and grain[1]:
        c, s = unit_vector(grain)
        outline = tuple((x * c + y * s, y * c - x * s) for x, y in outline)
    elif grain[1]:
        outline = tuple((y, -x) for x, y in outline) if grain[1] > 0 else tuple((-y, x) for x, y in outline)
    elif grain[0] and grain[0] < 0:
        outline = tuple((-x, -y) for x, y in outline)
    outline = moved(outline, times(bounding_box(outline)[0], -1))
    first = min(range(len(outline)), key=lambda i: (outline[i][1], outline[i][0]))
    return (*outline[first:], *outline[:first])


def up(value: Length, grid: Fraction) -> Length:
    """The next ruler line that is not below `value`."""
    return Length(value.ceil_to(grid))


def template_cut(cloth: Cloth, shop: Shop, square_to: Mapping[int, int] | None = None, trimmed: bool = True,
                 count: int = 1, pitch: Length | None = None) -> Cut:
    """The template of a piece: its raw outline with dog-ears trimmed, laid on the cloth by its grain.

    Raises CannotOffset when the piece has no raw outline.
    """
    raw = trimmed_outline(cloth.outline, shop.seam, square_to) if trimmed else raw_outline(cloth.outline, shop.seam)
    return shape_cut(cloth, raw, shop, count, pitch)


def sewn_first(outline: Outline, seams: Sequence[Seam]) -> dict[int, int]:
    """For each sharp corner, the one of its two edges that is sewn first: dog-ears are trimmed square to it."""
    n, chosen_edges = len(outline), {}
    for i in sharp_corners(outline):
        edges = ((i - 1) % n, i)
        when = [_sewn(outline[e], outline[(e + 1) % n], seams) for e in edges]
        chosen_edges[i] = edges[0] if when[0] < when[1] else edges[1]
    return chosen_edges


def _sewn(a: Point, b: Point, seams: Sequence[Seam]) -> int:
    for number, s in enumerate(seams):
        path = s.path or (s.start, s.end)
        for p, q in zip(path, path[1:], strict=False):
            if (on_segment(a, p, q) and on_segment(b, p, q)) or (on_segment(p, a, b) and on_segment(q, a, b)):
                return number
    return len(seams)


def shape_cut(cloth: Cloth, raw: Outline, shop: Shop, count: int = 1, pitch: Length | None = None) -> Cut:
    """The template of a piece whose raw outline is known."""
    shape = laid(raw, cloth.grain)
    w, h = box_size(shape)
    return Cut(cloth.fabric, up(w, shop.grid), up(h, shop.grid), w, h, count, "template", cloth.name, shape,
               fixed_grain=True, pitch=pitch)


def foundation_cut(cloth: Cloth, shop: Shop, extra: Length) -> Cut:
    """A rectangle that covers a piece's raw outline, as it lies in the unit, with `extra` on every side."""
    w, h = box_size(raw_outline(cloth.outline, shop.seam))
    return Cut(cloth.fabric, up(w + extra * 2, shop.grid), up(h + extra * 2, shop.grid), w + extra * 2, h + extra * 2,
               1, "", cloth.name)


def counted(cuts: Iterable[Cut]) -> tuple[Cut, ...]:
    """Equal cuts counted together, in the order in which they first came."""
    found: dict[Cut, int] = {}
    for c in cuts:
        key = msgspec.structs.replace(c, count=1)
        found[key] = found.get(key, 0) + c.count
    return tuple(msgspec.structs.replace(c, count=n) for c, n in found.items())


def triangle_cuts(cloths: Iterable[Cloth], shop: Shop) -> tuple[tuple[Cut, ...], int]:
    """Right-angled triangles from rectangles cut once corner to corner, and how many units one batch of them makes.

    A rectangle gives two triangles of the same hand: those that one turn brings onto each other. Where a unit needs
    an odd number of one hand, the batch makes two units.
    """
    groups: dict[tuple[str, Point, str], int] = {}
    for cloth in cloths:
        size, name = box_size(raw_outline(cloth.outline, shop.seam)), cloth.name
        lean = "" if size[0] == size[1] else leaning(cloth.outline)
        key = (cloth.fabric, size, f"{name} leaning {lean}" if lean else name)
        groups[key] = groups.get(key, 0) + 1
    units = 2 if any(n % 2 for n in groups.values()) else 1
    return tuple(Cut(fabric, up(w, shop.grid), up(h, shop.grid), w, h, n * units // 2, "half", name)
                 for (fabric, (w, h), name), n in groups.items()), units


def leaning(triangle: Outline) -> str:
    """How the long side of an upright right-angled triangle leans: "left" as a backslash does, or "right"."""
    sides = [minus(triangle[(i + 1) % 3], p) for i, p in enumerate(triangle)]
    slope = next(e for e in sides if e[0] and e[1])
    return "left" if slope[0].sign() == slope[1].sign() else "right"


def shaped(unit: Unit, outline: Outline, parts: Iterable[Placed | Cloth], seams: Iterable[Seam], recipe: Recipe,
           key: str = "", kind: str = "") -> Making:
    """A making with any outline, its box's top left corner at (0, 0)."""
    w, h = box_size(outline)
    placed = tuple(p if isinstance(p, Placed) else Placed(p) for p in parts)
    return Making(key or unit.key, unit.name, unit.role, kind or unit.kind, outline, w, h, placed, tuple(seams), recipe,
                  unit.title)


def is_rectangle(outline: Outline) -> bool:
    """True when an outline is an upright rectangle, as every unit must be that is joined in rows."""
    (x0, y0), (x1, y1) = bounding_box(outline)
    return set(outline) == {(x0, y0), (x1, y0), (x1, y1), (x0, y1)}


SQUARE_GRAIN: Point = (ONE, ZERO)
