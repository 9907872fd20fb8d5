"""A small sewing simulation, independent of the kinds: cloth is cut, laid face to face, sewn, cut apart,
opened, trimmed.

Plain numbers and polygons only (shapely). Axes as in the project: x to the right, y down. A `Sewn` piece is
what lies on the table face up: the fabrics that show, and the raw shape. Sewing keeps one side of a line of
stitches and opens the upper piece over it, as an iron does; what lies beyond the stitches is allowance,
underneath, and shows nowhere.
"""

from __future__ import annotations

from math import cos, hypot, pi, sin
from typing import NamedTuple

import shapely
from shapely import MultiPolygon, Polygon
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from patternkit.piecing.making import Making
from patternkit.piecing.reflect import flattened

FAR = 1000.0
CLOSE = 1e-6
GRID = 1e-9  # polygons are cut on this grid, which keeps shapely's arithmetic sound
XY = tuple[float, float]


class Line(NamedTuple):
    """A directed line; `side` +1 is to the right of its direction as seen (y down), -1 to the left."""

    at: XY
    way: XY

    def shifted(self, by: float) -> Line:
        """The parallel line `by` to the right."""
        n = self.normal()
        return Line((self.at[0] + n[0] * by, self.at[1] + n[1] * by), self.way)

    def normal(self) -> XY:
        """The unit vector to the right of the direction."""
        length = hypot(*self.way)
        return -self.way[1] / length, self.way[0] / length

    def half(self, side: int) -> Polygon:
        """The half plane on one side, as a very large polygon."""
        length = hypot(*self.way)
        d = self.way[0] / length * FAR, self.way[1] / length * FAR
        n = self.normal()
        w = n[0] * FAR * side, n[1] * FAR * side
        a, b = (self.at[0] - d[0], self.at[1] - d[1]), (self.at[0] + d[0], self.at[1] + d[1])
        return Polygon([a, b, (b[0] + w[0], b[1] + w[1]), (a[0] + w[0], a[1] + w[1])])

    def mirror(self) -> list[float]:
        """The reflection about the line, as shapely wants it."""
        length = hypot(*self.way)
        c, s = self.way[0] / length, self.way[1] / length
        a, b = c * c - s * s, 2 * c * s
        x, y = self.at
        return [a, b, b, -a, x - a * x - b * y, y - b * x + a * y]


class Sewn(NamedTuple):
    """Fabrics that show, and the raw shape of the whole."""

    shown: tuple[tuple[str, BaseGeometry], ...]
    raw: BaseGeometry

    def moved(self, matrix: list[float]) -> Sewn:
        """Moved, turned or (with a mirror) laid face down."""
        return Sewn(tuple((f, affine_transform(g, matrix)) for f, g in self.shown), affine_transform(self.raw, matrix))

    def turned(self, degrees: float, about: XY = (0.0, 0.0)) -> Sewn:
        """Turned clockwise as seen."""
        c, s = cos(degrees * pi / 180), sin(degrees * pi / 180)
        x, y = about
        return self.moved([c, -s, s, c, x - c * x + s * y, y - s * x - c * y])

    def shifted(self, x: float, y: float) -> Sewn:
        """Moved on the table."""
        return self.moved([1, 0, 0, 1, x, y])

    def flipped(self, line: Line) -> Sewn:
        """Turned over about a line."""
        return self.moved(line.mirror())

    def kept(self, shape: BaseGeometry) -> Sewn:
        """What is left after cutting away everything outside a shape."""
        return Sewn(tuple((f, common(g, shape)) for f, g in self.shown), common(self.raw, shape))


def sound(shape: BaseGeometry) -> BaseGeometry:
    """The shape on the grid: turning leaves corners between grid points, which may make an outline cross
    itself."""
    rounded = shapely.make_valid(
        shapely.set_precision(shape, GRID, mode="pointwise"), method="structure", keep_collapsed=False
    )
    return areas(rounded)


def areas(shape: BaseGeometry) -> BaseGeometry:
    """Only what has an area: no points and lines that a touch leaves over."""
    parts = [g for g in shapely.get_parts(shapely.get_parts(shape)) if isinstance(g, Polygon) and not g.is_empty]
    return parts[0] if len(parts) == 1 else MultiPolygon(parts)


def common(a: BaseGeometry, b: BaseGeometry) -> BaseGeometry:
    """What two shapes both cover; edges and corners that only touch cover nothing."""
    return areas(shapely.intersection(sound(a), sound(b), grid_size=GRID))


def union(shapes: list[BaseGeometry]) -> BaseGeometry:
    """Everything that one of the shapes covers."""
    return shapely.union_all([sound(s) for s in shapes], grid_size=GRID)


def cloth(fabric: str, *points: XY) -> Sewn:
    """A piece of cloth as cut."""
    shape = Polygon(points)
    return Sewn(((fabric, shape),), shape)


def rect(fabric: str, width: float, height: float, x: float = 0.0, y: float = 0.0) -> Sewn:
    """A rectangle of cloth."""
    return cloth(fabric, (x, y), (x + width, y), (x + width, y + height), (x, y + height))


def together(*parts: Sewn) -> Sewn:
    """Several pieces lying on the table as one layer."""
    return Sewn(tuple(s for p in parts for s in p.shown), union([p.raw for p in parts]))


def sew(lower: Sewn, upper: Sewn, stitches: Line, keep: int) -> Sewn:
    """Sew two pieces that lie face to face (the upper is face down) along a line, keep one side, open the
    upper."""
    half = stitches.half(keep)
    opened = upper.kept(half).flipped(stitches)
    return together(lower.kept(half), opened)


def half_square(first: Sewn, second: Sewn, corner: XY, other: XY, seam: float, keep: int) -> Sewn:
    """Two squares face to face, a line drawn from corner to corner, sewn one seam to one side of it, cut on
    the line."""
    diagonal = Line(corner, (other[0] - corner[0], other[1] - corner[1]))
    half = diagonal.half(keep)
    return sew(first.kept(half), second.kept(half), diagonal.shifted(seam * keep), keep)


def right_triangle(fabric: str, leg_x: float, leg_y: float) -> Sewn:
    """Half a rectangle cut corner to corner: the right angle at (0, 0), one leg along x, one along y."""
    return cloth(fabric, (0, 0), (leg_x, 0), (0, leg_y))


def misfit(sewn: Sewn, making: Making, seam: float, centre: XY, degrees: float, kept: float = 1.0) -> str:
    """What is wrong with a sewn piece as the making, its middle at `centre` and turned clockwise; "" when it
    is right.

    The unit trimmed to its finished outline with a seam on every side must be covered by cloth, and every
    patch must show its own fabric all over and no other. Where templates of one shape are trimmed alike a
    nick may be left in the allowance: then so much of it must be `kept` all round.
    """
    c, s = cos(degrees * pi / 180), sin(degrees * pi / 180)
    mx, my = float(making.width) / 2, float(making.height) / 2
    matrix = [c, -s, s, c, centre[0] - c * mx + s * my, centre[1] - s * mx - c * my]
    outline = affine_transform(Polygon([(float(x), float(y)) for x, y in making.outline]), matrix)
    trimmed = outline.buffer(seam * kept, join_style="mitre", mitre_limit=50)
    missing = shapely.difference(trimmed, sewn.raw.buffer(CLOSE), grid_size=GRID).area
    if missing > CLOSE:
        return f"the trimmed unit lacks {missing:.6f} square inches of cloth"
    for piece, place in flattened(making):
        patch = affine_transform(Polygon([(float(x), float(y)) for x, y in place.outline(piece.outline)]), matrix)
        for fabric in {f for f, _ in sewn.shown} | {piece.fabric}:
            shows = common(union([g for f, g in sewn.shown if f == fabric]), patch).area
            want = patch.area if fabric == piece.fabric else 0.0
            if abs(shows - want) > CLOSE * 10:
                return f"a patch of {piece.fabric} shows {shows:.6f} of {fabric}, not {want:.6f}"
    return ""


def fits(
    sewn: Sewn, making: Making, seam: float, centre: XY, angles: range | tuple[float, ...] = range(0, 360, 45)
) -> bool:
    """True when some turn (never a mirror) makes the sewn piece the making."""
    return any(not misfit(sewn, making, seam, centre, a) for a in angles)


def covers(making: Making) -> str:
    """What is wrong with a making's patches: they must cover its outline, with no gaps and no overlaps; ""
    when right."""
    outline = Polygon([(float(x), float(y)) for x, y in making.outline])
    patches = [
        Polygon([(float(x), float(y)) for x, y in place.outline(piece.outline)]) for piece, place in flattened(making)
    ]
    total, whole = sum(p.area for p in patches), union(list(patches))
    if any(
        not p.is_valid or not p.exterior.is_ccw for p in patches
    ):  # clockwise with y down is anticlockwise with y up
        return "a patch is not a clockwise outline"
    if abs(total - outline.area) > CLOSE or whole.symmetric_difference(outline).area > CLOSE:
        return f"patches of {total:.6f} on an outline of {outline.area:.6f}"
    return ""
