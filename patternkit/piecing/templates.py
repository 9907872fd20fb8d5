"""Pieces cut by template or for paper piecing: what is cut, how it lies on the cloth, congruent pieces counted
together."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

import msgspec

from patternkit.lengths import Length
from patternkit.model.pattern import Unit
from patternkit.piecing.keys import Key
from patternkit.piecing.kinds.base import Shop
from patternkit.piecing.making import Cloth, Making, Numbers, Outline, PieceCut, Placed, Point, Recipe, Seam
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name
from patternkit.piecing.offset import (
    bounding_box,
    box_size,
    minus,
    moved,
    raw_outline,
    times,
    trimmed_outline,
    unit_vector,
)
from patternkit.problems import Problem
from patternkit.units import hair

if TYPE_CHECKING:
    from patternkit.piecing.tips import Trims

Lean = Literal["", "left", "right"]
SHAPE_ALONE = Method("", "shape-alone")
EXTRA = Length(Fraction(1, 4))
"""What a piece for paper piecing is cut larger on every side, in inches (common practice, no source)."""


class PaperExtra(Numbers, frozen=True):
    """What the pieces of a unit for paper piecing are cut larger on every side."""

    extra: Length


def laid(outline: Outline, grain: Point) -> Outline:
    """The outline as it lies on the cloth: turned so that `grain` runs to the right, its box's corner at (0, 0), and
    starting with its topmost, then leftmost corner, so that equal pieces have equal outlines."""
    return laid_with(outline, outline, grain)[0]


def laid_with(outline: Outline, other: Outline, grain: Point) -> tuple[Outline, Outline]:
    """An outline as it lies on the cloth (see `laid`), and another one moved along with it."""
    own, along = turned(outline, grain), turned(other, grain)
    home = times(bounding_box(own)[0], -1)
    return _from_top(moved(own, home)), _from_top(moved(along, home))


def turned(outline: Outline, grain: Point) -> Outline:
    """The outline turned so that a direction in it runs to the right."""
    if grain[0] and grain[1]:
        c, s = unit_vector(grain)
        return tuple((x * c + y * s, y * c - x * s) for x, y in outline)
    if grain[1]:
        return tuple((y, -x) for x, y in outline) if grain[1] > 0 else tuple((-y, x) for x, y in outline)
    return tuple((-x, -y) for x, y in outline) if grain[0] < 0 else outline


def _from_top(outline: Outline) -> Outline:
    first = min(range(len(outline)), key=lambda i: (outline[i][1], outline[i][0]))
    return (*outline[first:], *outline[:first])


def up(value: Length, grid: Fraction) -> Length:
    """The next ruler line that is not below `value`."""
    return Length(value.ceil_to(grid))


def template_cut(cloth: Cloth, shop: Shop, trims: Trims | None = None, count: int = 1) -> PieceCut:
    """The template of a piece: its raw outline, laid on the cloth by its grain, with its dog-ears trimmed where `trims`
    (see `piecing.tips`) says how.

    Raises CannotOffset when the piece has no raw outline.
    """
    return shape_cut(cloth, trimmed_outline(cloth.outline, shop.seam, trims or {}), shop, count)


def shape_cut(cloth: Cloth, raw: Outline, shop: Shop, count: int = 1, pitch: Length | None = None) -> PieceCut:
    """The template of a piece whose raw outline is known, with its seam line. It may lie along either straight
    grain."""
    shape, sewn = laid_with(raw, cloth.outline, cloth.grain)
    w, h = box_size(shape)
    return PieceCut(
        cloth.fabric,
        up(w, shop.grid),
        up(h, shop.grid),
        w,
        h,
        count,
        "template",
        cloth.name,
        shape,
        pitch=pitch,
        sewn=sewn,
    )


def foundation_cut(cloth: Cloth, shop: Shop, extra: Length) -> PieceCut:
    """A rectangle that covers a piece's raw outline, as it lies in the unit, with `extra` on every side."""
    w, h = box_size(raw_outline(cloth.outline, shop.seam))
    return PieceCut(
        cloth.fabric,
        up(w + extra * 2, shop.grid),
        up(h + extra * 2, shop.grid),
        w + extra * 2,
        h + extra * 2,
        1,
        "",
        cloth.name,
    )


def triangle_cuts(cloths: Iterable[Cloth], shop: Shop) -> tuple[tuple[PieceCut, ...], int]:
    """Right-angled triangles from rectangles cut once corner to corner, and how many units one batch of them makes.

    A rectangle gives two triangles of the same hand: those that one turn brings onto each other. Where a unit needs an
    odd number of one hand, the batch makes two units.
    """
    groups: dict[tuple[str, Point, Name | None, Lean], int] = {}
    for cloth in cloths:
        size, name = box_size(raw_outline(cloth.outline, shop.seam)), cloth.name
        lean: Lean = "" if size[0] == size[1] else leaning(cloth.outline)
        if name is not None and lean:
            name = msgspec.structs.replace(name, leans=lean)
        key = (cloth.fabric, size, name, lean)
        groups[key] = groups.get(key, 0) + 1
    units = 2 if any(n % 2 for n in groups.values()) else 1
    return tuple(
        PieceCut(fabric, up(w, shop.grid), up(h, shop.grid), w, h, n * units // 2, "half", name, leans=lean)
        for (fabric, (w, h), name, lean), n in groups.items()
    ), units


def leaning(triangle: Outline) -> Literal["left", "right"]:
    """How the long side of an upright right-angled triangle leans: "left" as a backslash does, or "right"."""
    sides = [minus(triangle[(i + 1) % 3], p) for i, p in enumerate(triangle)]
    slope = next(e for e in sides if e[0] and e[1])
    return "left" if slope[0].sign() == slope[1].sign() else "right"


def shaped(
    unit: Unit,
    outline: Outline,
    parts: Iterable[Placed | Cloth],
    seams: Iterable[Seam],
    recipe: Recipe,
    piece: Name | None = None,
    kind: str = "",
) -> Making:
    """A making with any outline, its box's top left corner at (0, 0); `piece` as in `Key`."""
    w, h = box_size(outline)
    placed = tuple(p if isinstance(p, Placed) else Placed(p) for p in parts)
    return Making(
        Key(unit.name, unit.arguments, piece=piece),
        unit.name,
        unit.role,
        kind or unit.kind,
        outline,
        w,
        h,
        placed,
        tuple(seams),
        recipe,
        unit.title,
    )


def is_rectangle(outline: Outline) -> bool:
    """True when an outline is an upright rectangle, as every unit must be that is joined in rows."""
    if len(outline) != 4:
        return False
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = outline
    across = ay == by and bx == cx and cy == dy and dx == ax
    return across or (ax == bx and by == cy and cx == dx and dy == ay)


# -- shapes alone -----------------------------------------------------------------------------------------
def is_alone(unit: Unit) -> bool:
    """Whether a unit lists one piece, which is its shape alone."""
    return bool(unit.rows) and len(unit.rows[0].pieces) == 1


def no_method(unit: Unit) -> Problem:
    """The problem of a method of a shape that stands alone."""
    message = f"In {unit.role} {unit.whole}, a {unit.kind} of one fabric is one piece, and has no method."
    assert unit.method is not None
    return Problem("out-of-place", message, unit.method.span)


def lone(unit: Unit, shop: Shop, cloth: Cloth) -> Making:
    """A triangle of half or a quarter of a square.

    It is cut from that square corner to corner where the square lies so near to a line of the ruler that eight
    triangles in a row are a hair off, otherwise by a template: what is sewn to it on two sides leaves nothing to trim.
    """
    w, h = box_size(raw_outline(cloth.outline, shop.seam))
    near = Length(w.round_to(shop.grid))
    if abs(near - w) > hair(shop.units) / 8:
        return shaped(unit, cloth.outline, (cloth,), (), Recipe(SHAPE_ALONE, (template_cut(cloth, shop),)))
    then: Literal["half", "quarter"] = "half" if w == h else "quarter"
    cut = PieceCut(cloth.fabric, near, near, w, w, 1, then)
    return shaped(unit, cloth.outline, (cloth,), (), Recipe(SHAPE_ALONE, (cut,), 2 if w == h else 4))
