"""Strip units that are cut in pairs: ``method paired with light-row`` lays two of them right sides together, seams
nested, and cuts them across at once; the segments are sewn as they lie."""

from __future__ import annotations

from collections.abc import Iterator

from patternkit.model.pattern import Pattern, Unit
from patternkit.piecing.making import Making, Placed, Point, Seam
from patternkit.piecing.tubes import lies

WORDS = "paired with "


def partner_of(unit: Unit) -> str:
    """The unit with which a strip unit is cut; nothing where it is cut by itself."""
    if unit.kind != "strips" or unit.method is None or not unit.method.words.startswith(WORDS):
        return ""
    return unit.method.words.removeprefix(WORDS)


def partners(pattern: Pattern) -> dict[str, str]:
    """For each unit that is cut in pairs the other, by their keys."""
    found: dict[str, str] = {}
    for key, unit in pattern.units.items():
        other = partner_of(unit)
        if other and other in pattern.units:
            found[key] = other
            found[other] = key
    return found


def joined_pairs(making: Making, one: str, other: str) -> Iterator[tuple[Seam, Placed, Placed]]:
    """The seams of a making that join a segment of one unit to one of the other, with both."""
    for seam in making.seams:
        if len(seam.left) == len(seam.right) == 1:
            a, b = making.parts[seam.left[0]], making.parts[seam.right[0]]
            names = [p.what.key.of if isinstance(p.what, Making) else "" for p in (a, b)]
            if names == [one, other]:
                yield seam, a, b
            elif names == [other, one]:
                yield seam, b, a


def ends_on(seam: Seam, part: Placed) -> dict[Point, tuple[Point, bool] | None]:
    """Where seams of a segment end on a seam that joins it to another, each with the way its allowances point there;
    None for one that is not pressed to a side."""
    assert isinstance(part.what, Making)
    found: dict[Point, tuple[Point, bool] | None] = {}
    zero = part.place.point((seam.start[0] * 0, seam.start[0] * 0))
    for own in part.what.seams:
        for end in (part.place.point(own.start), part.place.point(own.end)):
            if _between(seam, end):
                way = lies(own)
                one = part.place.point((seam.start[0] * 0 + 1, seam.start[0] * 0))
                side = one[0] - zero[0], one[1] - zero[1]
                found[end] = (side, way == "high") if way in ("low", "high") else None
    return found


def nests(a: tuple[Point, bool] | None, b: tuple[Point, bool] | None) -> bool:
    """Whether allowances that meet lie to opposite sides."""
    if a is None or b is None:
        return False
    alike = a[0] == b[0]
    return alike != (a[1] == b[1])


def _between(seam: Seam, p: Point) -> bool:
    (ax, ay), (bx, by) = seam.start, seam.end
    if (bx - ax) * (p[1] - ay) != (by - ay) * (p[0] - ax):
        return False
    return min(ax, bx) <= p[0] <= max(ax, bx) and min(ay, by) <= p[1] <= max(ay, by)
