"""Small patterns for the setting tests, and the floating-point geometry they are held against."""

from __future__ import annotations

from collections import Counter

from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from patternkit.piecing.making import Cloth, Making, Place
from patternkit.project import Project

HEAD = """pattern "Test"
    units inches
    seam 1/4
    usable width 40

fabric a "A" dark
fabric b "B" light
fabric c "C" medium

let side = 6

block nine
    rows
        a | b | a
        b | a | b
        a | b | a
    finished side

block plain
    patch b
    finished side

unit goose
    flying-geese a, b
    finished 4 x 2

"""


def project(quilt: str, head: str = HEAD) -> Project:
    """A project from a quilt's lines."""
    return Project("test.pattern", head + quilt)


def patches(making: Making, place: Place = Place()) -> list[tuple[str, Polygon]]:
    """Every patch with its polygon in the whole's coordinates, as far as it shows."""
    found: list[tuple[str, Polygon]] = []
    for part in making.parts:
        if making.is_layered:  # what lies below shows round what is laid on it
            over = Polygon([(float(x), float(y)) for x, y in part.place.then(place).outline(part.what.outline)])
            found = [(fabric, p.difference(over)) for fabric, p in found]
        where = part.place.then(place)
        if isinstance(part.what, Cloth):
            points = where.outline(part.what.outline)
            found.append((part.what.fabric, Polygon([(float(x), float(y)) for x, y in points])))
        else:
            inner = patches(part.what, where)
            if part.shown:
                window = Polygon([(float(x), float(y)) for x, y in place.outline(part.shown)])
                inner = [(fabric, p.intersection(window)) for fabric, p in inner if p.intersection(window).area > 1e-9]
            found += inner
    return found


def makings(making: Making) -> list[Making]:
    """The making and all makings in it, each once."""
    found = {id(making): making}
    for part in making.parts:
        if isinstance(part.what, Making):
            for inner in makings(part.what):
                found[id(inner)] = inner
    return list(found.values())


def covers(making: Making) -> None:
    """Patches cover the whole exactly: no gap, no overlap."""
    polygons = [p for _, p in patches(making)]
    whole = Polygon([(float(x), float(y)) for x, y in making.outline])
    assert all(p.is_valid and p.area > 0 for p in polygons)
    assert abs(sum(p.area for p in polygons) - whole.area) < 1e-6 * whole.area
    assert abs(unary_union(polygons).symmetric_difference(whole).area) < 1e-6 * whole.area


def seams_meet(making: Making) -> None:
    """Every seam lies on the edge of what is on its left and of what is on its right, along its whole length."""
    for made in makings(making):
        shapes = []
        for part in made.parts:
            points = part.outline
            shapes.append(Polygon([(float(x), float(y)) for x, y in points]))
        for seam in made.seams:
            line = LineString([(float(x), float(y)) for x, y in (seam.path or (seam.start, seam.end))])
            for side in (seam.left, seam.right):
                edge = unary_union([shapes[i] for i in side]).buffer(1e-9)
                assert line.difference(edge.boundary.buffer(1e-6)).length < 1e-5, (made.key, seam)
            dx, dy = seam.end[0] - seam.start[0], seam.end[1] - seam.start[1]
            mid = ((seam.start[0] + seam.end[0]) / 2, (seam.start[1] + seam.end[1]) / 2)
            step = 1e-4 / (float(dx) ** 2 + float(dy) ** 2) ** 0.5
            left = (float(mid[0]) + float(dy) * step, float(mid[1]) - float(dx) * step)
            inside = Polygon([left, (left[0] + 1e-7, left[1]), (left[0], left[1] + 1e-7)]).centroid
            if not seam.path:
                assert unary_union([shapes[i] for i in seam.left]).buffer(1e-9).contains(inside), (made.key, seam)


def fabrics(making: Making) -> Counter[str]:
    """Area of each fabric, rounded."""
    found: Counter[str] = Counter()
    for name, polygon in patches(making):
        found[name] += polygon.area  # type: ignore[assignment]
    return found
