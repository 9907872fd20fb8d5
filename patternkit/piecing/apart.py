"""Pieces of a sewn unit that is cut apart: what shows of its cloths and of its seams between the lines.

A piece lies in coordinates of its own, its finished upper left corner at (0, 0). Raw edges lie a seam outside the
finished ones, those of the unit before it is cut and those of the piece.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.piecing.division import stretch_within, within
from patternkit.piecing.keys import Key
from patternkit.piecing.making import (
    Apart,
    Cloth,
    Making,
    Outline,
    Part,
    Place,
    Placed,
    Point,
    Seam,
    Side,
    rectangle,
)
from patternkit.piecing.offset import area, box_size, clean

_OTHER: dict[Side, Side] = {"left": "right", "right": "left", "open": "open", "free": "free"}
Box = tuple[Length, Length, Length, Length]
"""Left, top, right and bottom."""


def whole_size(apart: Apart) -> Point:
    """The finished width and height of the unit before it is cut, as it lies."""
    return box_size(apart.whole.place.outline(apart.whole.what.outline))


def raw_box(apart: Apart) -> Box:
    """Where a piece lies on the unit that it is cut from: its raw edges, from the raw upper left corner of that."""
    width, height = (side + apart.seam * 2 for side in whole_size(apart))
    across, down = (ZERO, *apart.columns, width), (ZERO, *apart.rows, height)
    down_by, right_by = divmod(apart.number - 1, len(apart.columns) + 1)
    return across[right_by], down[down_by], across[right_by + 1], down[down_by + 1]


def cut_piece(apart: Apart) -> tuple[tuple[Placed, ...], tuple[Seam, ...], Apart]:
    """The cloths and the seams of a piece, and whose seams these are."""
    left, top, right, bottom = raw_box(apart)
    two = apart.seam * 2
    box = left, top, right - two, bottom - two  # finished: a seam inside, of a unit whose raw corner is one outside
    cloths: list[tuple[Cloth, Place]] = []
    found: list[_Sewn] = []
    _gather(apart.whole.what, apart.whole.place, cloths, found)
    parts: list[Placed] = []
    numbers: dict[int, int] = {}  # of a cloth of the unit: what it is in the piece
    for n, (cloth, place) in enumerate(cloths):
        outline = _within(place.outline(cloth.outline), box)
        if outline:
            numbers[n] = len(parts)
            grain = Place(turned=place.turned, mirrored=place.mirrored).point(cloth.grain)
            parts.append(Placed(Cloth(cloth.fabric, _moved(outline, box), grain)))
    seams: list[Seam] = []
    whose: list[tuple[Making, int, bool]] = []
    for s in found:
        sides = [tuple(numbers[n] for n in side if n in numbers) for side in (s.left, s.right)]
        for path in _stretches(s.path, box):
            if all(sides):
                new, over = _seam(s, path, sides, box)
                seams.append(new)
                whose.append((s.of, s.number, over))
    return tuple(parts), tuple(seams), msgspec.structs.replace(apart, seams=tuple(whose), at=(left, top))


def pieces_across(apart: Apart) -> int:
    """How many pieces lie side by side."""
    return len(apart.columns) + 1


def cutting_of(making: Making) -> object:
    """What tells one cutting from all others: equal for the pieces that come out of it together."""
    apart = making.recipe.apart
    if apart is None:
        return None
    return making.unit, apart.whole.what, apart.whole.place, apart.columns, apart.rows


def all_pieces(making: Making) -> list[Making]:
    """Every piece that comes out of the cutting of one, in their order; those that nobody uses among them."""
    apart = making.recipe.apart
    assert apart is not None
    return [_numbered(making, apart, n) for n in range(1, pieces_across(apart) * (len(apart.rows) + 1) + 1)]


def _numbered(making: Making, apart: Apart, number: int) -> Making:
    """Another piece of the same cutting."""
    if number == apart.number:
        return making
    assert isinstance(making.key, Key)
    parts, seams, apart = cut_piece(msgspec.structs.replace(apart, number=number))
    left, top, right, bottom = raw_box(apart)
    width, height = right - left - apart.seam * 2, bottom - top - apart.seam * 2
    arguments = (*making.key.arguments[:-1], str(named_number(apart, making.key.mirrored)))
    return msgspec.structs.replace(
        making,
        key=msgspec.structs.replace(making.key, arguments=arguments),
        parts=parts,
        seams=seams,
        width=width,
        height=height,
        outline=rectangle(width, height),
        recipe=msgspec.structs.replace(making.recipe, apart=apart),
    )


def named_number(apart: Apart, mirrored: bool) -> int:
    """The number by which a writer knows a piece: where it lies in the unit that is not seen in a mirror."""
    across = pieces_across(apart)
    row, column = divmod(apart.number - 1, across)
    return row * across + (across - 1 - column if mirrored else column) + 1


def mirrored(apart: Apart, whole: Placed) -> Apart:
    """The same of the unit seen in a mirror, which lies as `whole`."""
    wide = whole_size(apart)[0] + apart.seam * 2
    columns = tuple(wide - x for x in reversed(apart.columns))
    return msgspec.structs.replace(apart, whole=whole, columns=columns, number=named_number(apart, True))


def cut_again(making: Making, whole: Making) -> Making:
    """A piece cut from another version of its unit: pressed, or with other units inside."""
    apart = making.recipe.apart
    assert apart is not None
    if apart.whole.what is whole:
        return making
    parts, seams, apart = cut_piece(msgspec.structs.replace(apart, whole=Placed(whole, apart.whole.place)))
    recipe = msgspec.structs.replace(making.recipe, apart=apart)
    return msgspec.structs.replace(making, parts=parts, seams=seams, recipe=recipe)


class _Sewn(msgspec.Struct, frozen=True):
    """A seam of the unit, or of one inside it: its path, and the cloths on both sides, by number."""

    of: Making
    number: int
    seam: Seam
    path: Outline
    left: tuple[int, ...]
    right: tuple[int, ...]
    spun: Point | None


def _gather(part: Part, place: Place, cloths: list[tuple[Cloth, Place]], seams: list[_Sewn]) -> range:
    """Everything in a part, the seams in sewing order; gives the numbers of its cloths."""
    first = len(cloths)
    if isinstance(part, Cloth):
        cloths.append((part, place))
        return range(first, first + 1)
    numbers = []
    for p in part.parts:
        before = len(seams)
        numbers.append(_gather(p.what, p.place.then(place), cloths, seams))
        if p.shown:
            _as_shown(place.outline(p.shown), numbers[-1], before, cloths, seams)
    for j, s in enumerate(part.seams):
        path = tuple(place.point(p) for p in (s.path or (s.start, s.end)))
        path = path[::-1] if place.mirrored else path  # it runs the other way, and what lay on its left still does
        left, right = (tuple(n for i in side for n in numbers[i]) for side in (s.left, s.right))
        spun = None if s.spun is None else place.point(s.spun)
        seams.append(_Sewn(part, j, s, path, left, right, spun))
    return range(first, len(cloths))


def _as_shown(window: Outline, own: range, first: int, cloths: list[tuple[Cloth, Place]], seams: list[_Sewn]) -> None:
    """Leave of a part's cloths, and of its seams from the first on, what shows where others are flipped over it. A
    cloth that is hidden keeps its number."""
    for n in own:
        cloth, place = cloths[n]
        grain = Place(turned=place.turned, mirrored=place.mirrored).point(cloth.grain)
        kept = within(place.outline(cloth.outline), window)
        cloths[n] = msgspec.structs.replace(cloth, outline=kept, grain=grain), Place()
    seen = [(s, stretch_within(s.path, window)) for s in seams[first:]]
    seams[first:] = [msgspec.structs.replace(s, path=path) for s, path in seen if path]


def _moved(points: Sequence[Point], box: Box) -> Outline:
    return tuple((x - box[0], y - box[1]) for x, y in points)


def _lines(box: Box) -> list[Callable[[Point], Length]]:
    """For each side of a box how far inside it a point lies."""
    left, top, right, bottom = box
    return [lambda p: p[0] - left, lambda p: p[1] - top, lambda p: right - p[0], lambda p: bottom - p[1]]


def _between(p: Point, q: Point, a: Length, b: Length) -> Point:
    """The point on a line that is nothing inside a side, where its ends are `a` and `b` inside."""
    t = a / (a - b)
    return p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t


def _within(outline: Outline, box: Box) -> Outline:
    """What of an outline lies within a box; empty where that is nothing."""
    points = list(outline)
    for inside in _lines(box):
        far = [inside(p) for p in points]
        if all(f >= 0 for f in far):
            continue
        kept: list[Point] = []
        for i, p in enumerate(points):
            j = (i + 1) % len(points)
            if far[i] >= 0:
                kept.append(p)
            if far[i].sign() * far[j].sign() < 0:
                kept.append(_between(p, points[j], far[i], far[j]))
        points = kept
        if len(points) < 3:
            return ()
    ring = clean(points)
    return ring if len(ring) > 2 and area(ring) > 0 else ()


def _stretches(path: Outline, box: Box) -> list[Outline]:
    """The stretches of a path inside a box; what runs along an edge of it is none."""
    found: list[list[Point]] = []
    for p, q in pairwise(path):
        piece = _inside(p, q, box)
        if piece is None:
            continue
        if found and found[-1][-1] == piece[0]:
            found[-1].append(piece[1])
        else:
            found.append([*piece])
    return [tuple(points) for points in found]


def _inside(p: Point, q: Point, box: Box) -> tuple[Point, Point] | None:
    """What of a line lies inside a box."""
    for inside in _lines(box):
        a, b = inside(p), inside(q)
        if a <= 0 and b <= 0:
            return None
        if a < 0:
            p = _between(p, q, a, b)
        elif b < 0:
            q = _between(p, q, a, b)
    return None if p == q else (p, q)


def _seam(s: _Sewn, path: Outline, sides: Sequence[tuple[int, ...]], box: Box) -> tuple[Seam, bool]:
    """A stretch of a seam as one of the piece, and whether its allowances lie to the other side. Of a spun seam that is
    cut where it changes sides only one half is left."""
    points, spun, over = _moved(path, box), None, False
    if s.spun is not None:
        start, way = path[0], (path[-1][0] - path[0][0], path[-1][1] - path[0][1])
        at, end = ((p[0] - start[0]) * way[0] + (p[1] - start[1]) * way[1] for p in (s.spun, path[-1]))
        if 0 < at < end:
            spun = _moved((s.spun,), box)[0]
        else:
            over = at >= end
    pressed: Side = _OTHER[s.seam.pressed] if over else s.seam.pressed
    bent = points if len(points) > 2 else ()
    new = Seam(
        points[0], points[-1], sides[0], sides[1], pressed, s.seam.stated, s.seam.mark, s.seam.set_in, bent, spun
    )
    return new, over
