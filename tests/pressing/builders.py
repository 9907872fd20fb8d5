"""Small makings for the pressing tests: patches, rows, columns, triangles, turned and mirrored parts."""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.lengths import ZERO, Length
from patternkit.piecing.keys import Key
from patternkit.piecing.making import Cloth, Making, Part, Place, Placed, Point, Recipe, Seam, Side, rectangle
from patternkit.piecing.names import Name

NO_RECIPE = Recipe()
HERE = Place()


def inches(value: int | str | Length) -> Length:
    return Length(value)


def point(x: int | str | Length, y: int | str | Length) -> Point:
    return inches(x), inches(y)


def poly(*points: tuple[int | str | Length, int | str | Length]) -> tuple[Point, ...]:
    return tuple(point(x, y) for x, y in points)


def patch(fabric: str, width: int | str | Length = 1, height: int | str | Length | None = None) -> Cloth:
    w = inches(width)
    return Cloth(fabric, rectangle(w, w if height is None else inches(height)))


def box(part: Part, place: Place = HERE) -> tuple[Length, Length, Length, Length]:
    """Left, top, right and bottom of a placed part."""
    points = place.outline(part.outline)
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def at(
    part: Part, x: int | str | Length = 0, y: int | str | Length = 0, turned: int = 0, mirrored: bool = False
) -> Placed:
    """A part whose bounding box, after mirroring and turning, has its top left at (x, y)."""
    left, top, _, _ = box(part, Place(turned=turned, mirrored=mirrored))
    return Placed(part, Place(inches(x) - left, inches(y) - top, turned, mirrored))


Item = Part | tuple[Part, int] | tuple[Part, int, bool]


def _loose(item: Item) -> tuple[Part, int, bool]:
    if isinstance(item, tuple):
        return item[0], item[1], item[2] if len(item) > 2 else False
    return item, 0, False


def row(
    key: str,
    *items: Item,
    pressed: str | Sequence[Side] = "",
    role: str = "unit",
    versions: int = 1,
    unit: str | None = None,
) -> Making:
    """Parts side by side, sewn from left to right; `pressed` is "<", ">", "o", "." for each seam, or
    sides."""
    x, parts, seams = ZERO, [], []
    sides = _sides(pressed, len(items) - 1)
    for i, item in enumerate(items):
        what, turned, mirrored = _loose(item)
        placed = at(what, x, 0, turned, mirrored)
        _left, _, right, height = box(what, placed.place)
        if i:  # the seam runs upwards, so that the earlier parts lie on its left
            seams.append(Seam(point(x, height), point(x, 0), tuple(range(i)), (i,), sides[i - 1]))
        parts.append(placed)
        x = right
    height = box(parts[0].what, parts[0].place)[3]
    return Making(
        Key(key),
        unit if unit is not None else key,
        role,
        "row",
        rectangle(x, height),
        x,
        height,
        tuple(parts),
        tuple(seams),
        NO_RECIPE,
        versions=versions,
    )


def column(
    key: str,
    *items: Item,
    pressed: str | Sequence[Side] = "",
    role: str = "unit",
    versions: int = 1,
    unit: str | None = None,
) -> Making:
    """Parts below each other, sewn from the top; "left" is up, "right" is down."""
    y, parts, seams = ZERO, [], []
    sides = _sides(pressed, len(items) - 1)
    for i, item in enumerate(items):
        what, turned, mirrored = _loose(item)
        placed = at(what, 0, y, turned, mirrored)
        _, _, width, bottom = box(what, placed.place)
        if i:
            seams.append(Seam(point(0, y), point(width, y), tuple(range(i)), (i,), sides[i - 1]))
        parts.append(placed)
        y = bottom
    width = box(parts[0].what, parts[0].place)[2]
    return Making(
        Key(key),
        unit if unit is not None else key,
        role,
        "rows",
        rectangle(width, y),
        width,
        y,
        tuple(parts),
        tuple(seams),
        NO_RECIPE,
        versions=versions,
    )


def _sides(pressed: str | Sequence[Side], n: int) -> list[Side]:
    names: dict[str, Side] = {"<": "left", ">": "right", "o": "open", ".": "free"}
    if not pressed:
        return ["free"] * n
    return [names[c] for c in pressed] if isinstance(pressed, str) else list(pressed)


def half_square(key: str, upper: str, lower: str, side: int | str | Length = 2, pressed: Side = "free") -> Making:
    """A half-square triangle: first fabric upper left; the seam runs from lower left to upper right, upper on
    its left."""
    s = inches(side)
    parts = (
        Placed(Cloth(upper, poly((0, 0), (s, 0), (0, s)))),
        Placed(Cloth(lower, poly((s, 0), (s, s), (0, s)))),
    )
    return Making(
        Key(key),
        key,
        "unit",
        "half-square",
        rectangle(s, s),
        s,
        s,
        parts,
        (Seam(point(0, s), point(s, 0), (0,), (1,), pressed),),
        NO_RECIPE,
    )


def geese(key: str, goose: str, sky: str, height: int = 2, pressed: tuple[Side, Side] = ("free", "free")) -> Making:
    """A flying goose, twice as wide as high, nose up; each seam has the sky on its left."""
    h, w = inches(height), inches(2 * height)
    parts = (
        Placed(Cloth(goose, poly((h, 0), (w, h), (0, h)), name=Name("goose"))),
        Placed(Cloth(sky, poly((0, 0), (h, 0), (0, h)), name=Name("sky"))),
        Placed(Cloth(sky, poly((h, 0), (w, 0), (w, h)), name=Name("sky"))),
    )
    seams = (
        Seam(point(0, h), point(h, 0), (1,), (0,), pressed[0]),
        Seam(point(h, 0), point(w, h), (2,), (0, 1), pressed[1]),
    )
    return Making(Key(key), key, "unit", "geese", rectangle(w, h), w, h, parts, seams, NO_RECIPE)


def hourglass(key: str, dark: str, light: str, side: int = 2, half: Side = "free", long: Side = "free") -> Making:
    """An hourglass: two alike halves, each sewn from two triangles, one of them turned, joined along the
    diagonal.

    The half is the upper left of the square: its short seam runs from the centre to the upper left corner.
    """
    s, c = inches(side), inches(side) / 2
    top = Cloth(dark, poly((0, 0), (s, 0), (c, c)))
    left = Cloth(light, poly((0, 0), (c, c), (0, s)))
    pair = Making(
        Key(f"{key} half"),
        f"{key} half",
        "unit",
        "pair",
        poly((0, 0), (s, 0), (0, s)),
        s,
        s,
        (Placed(top), Placed(left)),
        (Seam(point(c, c), point(0, 0), (1,), (0,), half),),
        NO_RECIPE,
    )
    parts = (Placed(pair), Placed(pair, Place(s, s, 180)))
    return Making(
        Key(key),
        key,
        "unit",
        "hourglass",
        rectangle(s, s),
        s,
        s,
        parts,
        (Seam(point(0, s), point(s, 0), (0,), (1,), long),),
        NO_RECIPE,
    )


def _turned_pair(key: str, unit: Making, side: Side) -> Making:
    """Two copies of a square unit side by side, one turned against the other."""
    s = unit.width
    outline, seam = rectangle(s * 2, s), Seam(point(s, s), point(s, 0), (0,), (1,), side)
    parts = (at(unit, 0, 0, 90), at(unit, s, 0, 180))
    return Making(Key(f"{key} half"), f"{key} half", "unit", "row", outline, s * 2, s, parts, (seam,), NO_RECIPE)


def pinwheel(
    blade: Making, halves: Side = "free", long: Side = "free", key: str = "pinwheel", spun: bool = False
) -> Making:
    """Four equal half-squares turned about the centre, sewn as two equal halves, one turned."""
    s = blade.width
    half = _turned_pair(key, blade, halves)
    return Making(
        Key(key),
        key,
        "block",
        "pinwheel",
        rectangle(s * 2, s * 2),
        s * 2,
        s * 2,
        (at(half, 0, 0), at(half, 0, s, 180)),
        (Seam(point(0, s), point(s * 2, s), (0,), (1,), long, spun=point(s, s) if spun else None),),
        NO_RECIPE,
    )


def eight_point(
    key: str, dark: str, light: str, side: int = 2, quarter: Side = "free", half: Side = "free", long: Side = "free"
) -> Making:
    """Eight triangles that meet in the centre: quarters of two, halves of two quarters, all turned copies."""
    s = inches(side)
    wedge = half_square(f"{key} quarter", dark, light, side, quarter)  # its seam has to run into the centre
    pair = _turned_pair(key, wedge, half)
    return Making(
        Key(key),
        key,
        "block",
        "eight",
        rectangle(s * 2, s * 2),
        s * 2,
        s * 2,
        (at(pair, 0, 0), at(pair, 0, s, 180)),
        (Seam(point(0, s), point(s * 2, s), (0,), (1,), long),),
        NO_RECIPE,
    )


def checkerboard(across: int, down: int, darker: str = "night", lighter: str = "glow", to_dark: bool = True) -> Making:
    """Rows of squares of two fabrics in turn, everything pressed toward the dark."""
    rows = []
    for r in range(down):
        fabrics = [(darker, lighter)[(r + c) % 2] for c in range(across)]
        marks = "".join("<" if f == darker else ">" for f in fabrics[:-1])
        rows.append(row(f"row {r + 1}", *(patch(f) for f in fabrics), pressed=marks if to_dark else "", role="row"))
    return column("quilt", *rows, pressed=">" * (down - 1) if to_dark else "", role="quilt")


def quilt(
    grid: Sequence[Sequence[Item]], key: str = "quilt", role: str = "quilt", pressed: str = ".", between: str = "."
) -> Making:
    """Rows of equal squares, each row a making of its own; `pressed` for the seams in rows, `between` for the
    others."""
    rows = [
        row(f"{key} row {i + 1}", *line, pressed=pressed * (len(line) - 1), role="row") for i, line in enumerate(grid)
    ]
    return column(key, *rows, pressed=between * (len(rows) - 1), role=role)


def on_point(inner: Making, key: str = "quilt") -> Making:
    """A making turned 45 degrees; its outline is the turned square (side triangles are left to the other
    builders)."""
    placed = at(inner, 0, 0, 45)
    _, _, w, h = box(inner, placed.place)
    return Making(
        Key(key), key, "quilt", "on point", placed.place.outline(inner.outline), w, h, (placed,), (), NO_RECIPE
    )
