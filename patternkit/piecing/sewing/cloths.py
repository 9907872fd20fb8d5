"""Which cut of a recipe a piece of cloth is, and how that lies under its drawn outline."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, degrees, hypot, radians, sin

from patternkit.piecing.batch import Piece, Use
from patternkit.piecing.making import Cloth, Making, PieceCut, Place, Placed, reversed_ring
from patternkit.piecing.names import english
from patternkit.piecing.offset import box_size, minus, raw_outline, trimmed_outline
from patternkit.piecing.sewing.desk import XY, Desk, NoCut, Part, outer, plain
from patternkit.piecing.templates import leaning, turned
from patternkit.piecing.tips import trims_of

NEAR = 1e-5


def parts_of(making: Making, desk: Desk) -> list[Part]:
    """All parts of a making as they are taken; raises NoCut for cloth that no cut of the recipe is for."""
    return [under(making, p, desk) for p in making.parts]


def under(making: Making, placed: Placed, desk: Desk) -> Part:
    """A part as it lies under its drawn outline."""
    if isinstance(placed.what, Making):
        return desk.part(making, placed)
    own = desk.recipes.get(id(placed.what))
    cuts = [c for c in (*making.recipe.cuts, *(own.cuts if own is not None else ())) if _may_be(c, placed.what, desk)]
    laid = [(c, _lying(c, placed.what, placed.place, making, desk)) for c in cuts]
    found = [(c, lying) for c, lying in laid if lying is not None]
    if not found:
        cloth = placed.what
        what = english(cloth.name) if cloth.name is not None else cloth.fabric
        raise NoCut(f"{making.key}: no cut for {what}")
    if len(found) > 1:  # shapes with one seam line, whose tips are trimmed otherwise
        wanted = _trimmed(making, placed, desk)

        def off(one: tuple[PieceCut, Part]) -> tuple[float, bool]:
            """How far its corners lie off, and whether its print would stand on its head."""
            cut, lying = one
            far = sum(min(hypot(x - p, y - q) for p, q in lying.raw) for x, y in wanted)
            return round(far, 6), cut.then == "template" and lying.use.turned != round(
                _turn(cut, placed, making, desk)
            ) % 360

        found.sort(key=off)
    return found[0][1]


def _turn(cut: PieceCut, placed: Placed, making: Making, desk: Desk) -> float:
    """By how much a template is turned for a piece of cloth whose grain lies as it is drawn."""
    assert isinstance(placed.what, Cloth)
    shape_turned = desk.templates.find(cut, cut.fabric in desk.directional or cut.fixed_grain).turned
    return shape_turned + _grain(placed.what, placed.place, making)


def _grain(cloth: Cloth, place: Place, making: Making) -> float:
    """The direction of the grain of a piece where it lies, in degrees."""
    way = minus(place.point(cloth.grain), place.point((cloth.grain[0] * 0, cloth.grain[1] * 0)))
    return degrees(atan2(float(way[1]), float(way[0]))) + (180 if making.key.mirrored else 0)


def _trimmed(making: Making, placed: Placed, desk: Desk) -> tuple[XY, ...]:
    """The raw outline of a piece as it is drawn, its tips trimmed as the seams are sewn."""
    n = next(i for i, p in enumerate(making.parts) if p is placed)
    outline = placed.place.outline(placed.what.outline)
    return plain(trimmed_outline(outline, desk.seam, trims_of(making, desk.seam)[n]))


def _may_be(cut: PieceCut, cloth: Cloth, desk: Desk) -> bool:
    """Whether a cut is of the fabric, name, size and lean of a piece of cloth."""
    if cut.fabric != cloth.fabric or (cut.name.plain if cut.name is not None else None) != cloth.name:
        return False
    if cut.then == "template":
        return len(cut.sewn) == len(cloth.outline)
    if not cut.then and len(cloth.outline) == 4:
        return (cut.exact_width, cut.exact_height) == box_size(
            turned(raw_outline(cloth.outline, desk.seam), cloth.grain)
        )
    raw = box_size(raw_outline(cloth.outline, desk.seam))
    if cut.then == "quarter":
        return cut.exact_width == max(raw)
    if cut.then == "half" and cut.leans and raw[0] != raw[1] and cut.leans != leaning(cloth.outline):
        return False
    return (cut.exact_width, cut.exact_height) == raw


def _lying(cut: PieceCut, cloth: Cloth, place: Place, making: Making, desk: Desk) -> Part | None:
    """How a cut lies under a piece of cloth; None where it is not its shape."""
    outline = place.outline(cloth.outline)
    item = desk.piece(cut)
    if item.form == "template":
        return _template(cut, item, _grain(cloth, place, making), plain(outline), desk)
    part = desk.lying(item, outline)
    if item.form == "rectangle" and (cut.width, cut.height) == (cut.exact_width, cut.exact_height):
        around = plain(raw_outline(outline, desk.seam))
        return part._replace(raw=tuple(around[part.edges.index(n)] for n in range(len(around))))
    return part


def _template(cut: PieceCut, item: Piece, grain: float, drawn: tuple[XY, ...], desk: Desk) -> Part | None:
    """A piece cut by a template, its seam line on the drawn outline."""
    shape, over, turned = desk.templates.find(cut, cut.fabric in desk.directional or cut.fixed_grain)
    sewn = plain(reversed_ring(shape.sewn) if over else shape.sewn)
    ring = desk.ring(item)
    for turn in (turned + grain, turned + grain + 180):  # a mirrored part of a whole that is not: its grain runs back
        laid = _rotated(sewn, turn)
        at, by = _on(laid, drawn)
        if at:
            edges = outer(sewn, ring, float(desk.seam))
            raw = tuple((x + by[0], y + by[1]) for x, y in _rotated(ring, turn))
            return Part(Use(item, round(turn) % 360), drawn, tuple(edges[k] for k in at), raw)
    return None


def _rotated(ring: Sequence[XY], turn: float) -> list[XY]:
    c, s = cos(radians(turn)), sin(radians(turn))
    return [(x * c - y * s, x * s + y * c) for x, y in ring]


def _on(ring: Sequence[XY], drawn: Sequence[XY]) -> tuple[list[int], XY]:
    """For each corner of a drawn outline the corner of a ring that lies on it, once their middles meet; and how the
    ring is moved for that. No corners where it is another shape."""
    n = len(ring)
    by = tuple((sum(p[k] for p in drawn) - sum(p[k] for p in ring)) / n for k in (0, 1))
    found = []
    for x, y in drawn:
        near = min(range(n), key=lambda k: hypot(ring[k][0] + by[0] - x, ring[k][1] + by[1] - y))
        if hypot(ring[near][0] + by[0] - x, ring[near][1] + by[1] - y) > NEAR:
            return [], (by[0], by[1])
        found.append(near)
    return found, (by[0], by[1])
