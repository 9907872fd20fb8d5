"""Sewing pieces of any angle: every piece is taken from what its recipe cuts, then sewn seam by seam.

Plain numbers only. A piece as cut is a polygon on the table; it fits a patch when some turn lays each of its
raw edges exactly one seam outside the patch's finished edge. A seam joins what is sewn by then on its two
sides: both raw edges must lie one seam beyond the stitches all along it.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, hypot, pi

import shapely
from shapely import Polygon
from shapely.affinity import rotate, translate
from shapely.geometry.base import BaseGeometry

from patternkit.lengths import ONE, ZERO
from patternkit.piecing.making import Cloth, Making, Outline, PieceCut, Seam
from patternkit.piecing.names import Name
from tests.kinds.sewing import CLOSE, GRID, XY, Line, Sewn, misfit, sound, together, union

_AXES = ((ZERO, ZERO), (ONE, ZERO), (ZERO, ONE))
WHOLE = {"half": 2, "quarter": 4}
KEPT = 0.5
"""How much of an allowance is there everywhere: tips of one shape are trimmed alike, which may leave a nick in it."""


def apart(a: BaseGeometry, b: BaseGeometry) -> float:
    """The area that only one of two shapes covers. On a grid: edges that nearly coincide are not sound
    otherwise."""
    return float(shapely.symmetric_difference(sound(a), sound(b), grid_size=GRID).area)


def polygon(outline: Outline) -> Polygon:
    """An outline as a shapely polygon."""
    return Polygon([(float(x), float(y)) for x, y in outline])


def pieces_of(cut: PieceCut) -> Iterator[Polygon]:
    """The pieces that one cut of exact size gives, as they may lie on the table."""
    w, h = float(cut.exact_width), float(cut.exact_height)
    if cut.then == "template":
        yield polygon(cut.shape)
    elif cut.then == "half":
        yield Polygon([(0, 0), (w, 0), (0, h)])
        yield Polygon([(0, 0), (w, 0), (w, h)])
    elif cut.then == "quarter":
        yield Polygon([(0, 0), (w, 0), (w / 2, h / 2)])
    else:
        yield Polygon([(0, 0), (w, 0), (w, h), (0, h)])


def normals(patch: Polygon) -> list[tuple[XY, XY]]:
    """For each edge of a patch, a point on it and its outward normal (y down, clockwise)."""
    corners = list(patch.exterior.coords)[:-1]
    found = []
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        length = hypot(b[0] - a[0], b[1] - a[1])
        found.append((a, ((b[1] - a[1]) / length, -(b[0] - a[0]) / length)))
    return found


def laid_on(piece: Polygon, patch: Polygon, seam: float, exact: bool) -> Polygon | None:
    """The piece moved so that its raw edges lie one seam outside the patch; None when they can't."""
    walls = normals(patch)
    first = walls[0]
    second = max(walls[1:], key=lambda n: abs(first[1][0] * n[1][1] - first[1][1] * n[1][0]))
    corners = list(piece.exterior.coords)

    def reach(n: XY) -> float:
        return max(n[0] * x + n[1] * y for x, y in corners)

    def gap(wall: tuple[XY, XY]) -> float:
        (x, y), n = wall
        return n[0] * x + n[1] * y + seam - reach(n)

    (ax, ay), (bx, by) = first[1], second[1]
    det = ax * by - ay * bx
    g, k = gap(first), gap(second)
    moved = translate(piece, (g * by - k * ay) / det, (ax * k - bx * g) / det)
    for (x, y), n in walls:
        off = max(n[0] * px + n[1] * py for px, py in moved.exterior.coords) - (n[0] * x + n[1] * y)
        if off < seam - 1e-7 or (exact and off > seam + 1e-7):
            return None
    room = patch.buffer(seam * KEPT - 1e-7, join_style="bevel")
    return moved if room.difference(moved).area < 1e-6 else None


def taken(
    cloth: Cloth, cuts: tuple[PieceCut, ...], seam: float, left: dict[int, int] | None = None
) -> tuple[Polygon, int]:
    """The raw piece for a patch, where it lies, and the number of the cut that it comes from, while `left` of
    it last."""
    patch = polygon(cloth.outline)
    grain = atan2(float(cloth.grain[1]), float(cloth.grain[0])) * 180 / pi
    for number, cut in enumerate(cuts):
        if cut.fabric != cloth.fabric or not is_for(cut.name, cloth.name) or (left and not left[number]):
            continue
        for piece in pieces_of(cut):
            turns = {grain, grain + 180} if cut.then == "template" else {a * 45.0 for a in range(8)}
            for turn in sorted(turns):
                placed = laid_on(rotate(piece, turn, origin=(0, 0)), patch, seam, cut.then != "")
                if placed is not None:
                    return placed, number
    raise AssertionError(f"nothing that is cut fits the patch {cloth.name} of {cloth.fabric}: {patch}")


def is_for(cut: Name | None, cloth: Name | None) -> bool:
    """Whether pieces cut under one name are patches of the other: the same, but for the way they lean."""
    return (cut.plain if cut is not None else None) == cloth


def covering(cloth: Cloth, cuts: tuple[PieceCut, ...], seam: float, extra: float) -> Polygon:
    """A rectangle for paper piecing, laid evenly over its patch: it must cover the raw patch with the extra
    all round."""
    patch = polygon(cloth.outline).buffer(seam, join_style="mitre", mitre_limit=1000)
    x0, y0, x1, y1 = patch.bounds
    for cut in cuts:
        if cut.fabric == cloth.fabric and cut.name == cloth.name:
            w, h = float(cut.exact_width), float(cut.exact_height)
            assert w >= x1 - x0 + 2 * extra - 1e-9 and h >= y1 - y0 + 2 * extra - 1e-9
            x, y = (x0 + x1 - w) / 2, (y0 + y1 - h) / 2
            return Polygon([(x, y), (x + w, y), (x + w, y + h), (x, y + h)])
    raise AssertionError(f"nothing is cut for {cloth.name}")


def raw_parts(making: Making, seam: float, paper: float | None = None) -> list[Sewn]:
    """Every part of a making as cut (or sewn before), where it lies; the cuts must give just the pieces that
    are needed."""
    found, cuts, needed = [], making.recipe.cuts, making.recipe.yields
    left = {i: c.count * WHOLE.get(c.then, 1) for i, c in enumerate(cuts)}
    for part in making.parts:
        if isinstance(part.what, Making):
            inner = sewn_up(part.what, seam) if part.what.kind != "strip-piece" else from_strips(part.what, seam)
            p = part.place
            o, x, y = [[float(v) for v in p.point(q)] for q in _AXES]
            matrix = [x[0] - o[0], y[0] - o[0], x[1] - o[1], y[1] - o[1], *o]
            found.append(inner.moved(matrix))
            continue
        cloth = Cloth(part.what.fabric, part.place.outline(part.what.outline), part.what.grain, part.what.name)
        if paper is not None:
            piece = covering(cloth, making.recipe.cuts, seam, paper)
        else:
            piece, number = taken(cloth, making.recipe.cuts, seam, left)
            left[number] -= needed
        found.append(Sewn(((cloth.fabric, piece),), piece))
    if paper is None and all(isinstance(p.what, Cloth) for p in making.parts):
        assert not any(left.values()), f"these are cut and not used: {left}"
    return found


def from_strips(making: Making, seam: float) -> Sewn:
    """A piece cut by template from a strip unit: its stripes as they show, and its raw outline."""
    raw = polygon(making.outline).buffer(seam, join_style="mitre", mitre_limit=1000)
    bands = []
    edges = [-1e3, *sorted({float(s.start[0]) for s in making.seams}), 1e3]
    for part, low, high in zip(making.parts, edges[:-1], edges[1:], strict=True):
        assert isinstance(part.what, Cloth)
        bands.append((part.what.fabric, raw.intersection(shapely.box(low, -1e3, high, 1e3))))
    assert float(making.recipe.segment or 0) >= raw.bounds[3] - raw.bounds[1] - 2 * seam
    return Sewn(tuple(bands), raw)


def joined(left: Sewn, right: Sewn, s: Seam, seam: float, exact: bool) -> Sewn:
    """Two groups sewn together along a seam; both reach one seam beyond the stitches, all along them."""
    a, b = [(float(p[0]), float(p[1])) for p in (s.start, s.end)]
    line = Line(a, (b[0] - a[0], b[1] - a[1]))
    n = line.normal()
    for group, side in ((left, 1), (right, -1)):
        off = (n[0] * seam * side, n[1] * seam * side)
        near = (off[0] * KEPT, off[1] * KEPT)
        strip = sound(Polygon([a, b, (b[0] + near[0], b[1] + near[1]), (a[0] + near[0], a[1] + near[1])]))
        missing = shapely.difference(strip, sound(group.raw.buffer(CLOSE)), grid_size=GRID).area
        assert missing < CLOSE * 10, f"the allowance lacks {missing}"
        if exact:
            whole = sound(Polygon([a, b, (b[0] + off[0], b[1] + off[1]), (a[0] + off[0], a[1] + off[1])]))
            beyond = sound(translate(whole, off[0] * (1 + 1e-4), off[1] * (1 + 1e-4)))
            assert beyond.intersection(sound(group.raw)).area < CLOSE * 10, "the raw edges do not meet"
    return together(left.kept(line.half(-1)), right.kept(line.half(1)))


def raw_of(shapes: list[Polygon], seam: float) -> Polygon:
    """The raw outline of what is sewn together from finished shapes."""
    whole = union([s.buffer(1e-7, join_style="mitre") for s in shapes])
    return whole.simplify(1e-6).buffer(seam, join_style="mitre", mitre_limit=1000)


def sewn_up(making: Making, seam: float, paper: float | None = None) -> Sewn:
    """The making, sewn seam by seam in its order; every seam must be straight."""
    plain = all(isinstance(p.what, Cloth) for p in making.parts)  # a piece of a strip unit keeps its dog-ears
    finished = [polygon(p.place.outline(p.what.outline)) for p in making.parts]
    groups: dict[frozenset[int], Sewn] = {
        frozenset((i,)): part for i, part in enumerate(raw_parts(making, seam, paper))
    }
    for s in making.seams:
        left, right = frozenset(s.left), frozenset(s.right)
        assert not s.set_in and left in groups and right in groups, "what is joined was not sewn by then"
        sewn = joined(groups.pop(left), groups.pop(right), s, seam, paper is None and plain)
        groups[left | right] = sewn.kept(raw_of([finished[i] for i in left | right], seam))  # dog-ears are trimmed
    assert len(groups) == 1
    return next(iter(groups.values()))


def wrong_with(making: Making, seam: float, paper: float | None = None) -> str:
    """What is wrong with the making as sewn; "" when it is the stated unit."""
    middle = (float(making.width) / 2, float(making.height) / 2)
    return misfit(sewn_up(making, seam, paper), making, seam, middle, 0.0, 1.0 if paper is not None else KEPT)
