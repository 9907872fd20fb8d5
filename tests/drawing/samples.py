"""Small makings for the drawing tests: built by hand from the geometry contract, in Saltmarsh fabrics."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from patternkit.booklet.drawing.swatches import assign
from patternkit.lengths import ONE, SQRT2, SQRT3, ZERO, Length
from patternkit.piecing.making import (
    Cloth,
    Cut,
    Making,
    Outline,
    Part,
    Place,
    Placed,
    Point,
    Recipe,
    Seam,
    Side,
    rectangle,
)

SWATCHES = assign(
    [
        ("night", "Midnight blue", "#1b2a49", "dark"),
        ("glow", "Lamp yellow", "#f4c95d", "light"),
        ("stone", "Quay stone", "#9aa3ad", "medium"),
        ("reed", "Reed green", "", "medium"),
        ("foam", "Foam white", "", "light"),
        ("rust", "Rusty chain", "", "dark"),
    ]
)
NONE = Recipe("", "")


def L(value: object) -> Length:
    return value if isinstance(value, Length) else Length(Fraction(str(value)))


def P(x: object, y: object) -> Point:
    return L(x), L(y)


def patch(fabric: str, width: object, height: object, name: str = "") -> Cloth:
    return Cloth(fabric, rectangle(L(width), L(height)), name=name)


def size_of(part: Part) -> tuple[Length, Length]:
    if isinstance(part, Making):
        return part.width, part.height
    return max(p[0] for p in part.outline), max(p[1] for p in part.outline)


def made(
    key: str,
    width: object,
    height: object,
    parts: Sequence[Placed],
    seams: Sequence[Seam],
    *,
    role: str = "unit",
    kind: str = "",
    recipe: Recipe = NONE,
    outline: Outline | None = None,
    title: str = "",
) -> Making:
    return Making(
        key,
        key,
        role,
        kind,
        outline or rectangle(L(width), L(height)),
        L(width),
        L(height),
        tuple(parts),
        tuple(seams),
        recipe,
        title,
    )


def line_up(
    key: str,
    parts: Sequence[Part],
    across: bool = True,
    pressed: Sequence[Side] = (),
    role: str = "row",
    recipe: Recipe = NONE,
    title: str = "",
) -> Making:
    """Parts beside each other (or under each other), sewn from the first to the last."""
    placed, seams, at = [], [], ZERO
    wide, high = size_of(parts[0])
    for i, part in enumerate(parts):
        placed.append(Placed(part, Place(at, ZERO) if across else Place(ZERO, at)))
        if i:
            side = pressed[i - 1] if i <= len(pressed) else "free"
            before = tuple(range(i))
            if across:  # walking down: left of (0, 1) is the greater x
                seams.append(Seam((at, ZERO), (at, high), (i,), before, side))
            else:
                seams.append(Seam((ZERO, at), (wide, at), before, (i,), side))
        at = at + size_of(part)[0 if across else 1]
    return made(
        key,
        at if across else wide,
        high if across else at,
        placed,
        seams,
        role=role,
        recipe=recipe,
        title=title,
    )


def half_square(
    a: str = "night", b: str = "glow", side: object = 3, phrase: str = "half-square-pairs", trim: bool = False
) -> Making:
    s = L(side)
    q = Fraction(1, 4)
    growth = {"half-square-four": None, "half-square-eight": s * 2 + (SQRT2 * 2 + 4) * q}.get(
        phrase, s + (SQRT2 + 2) * q
    )
    exact = growth if growth is not None else (s + Fraction(1, 2)) * SQRT2 + Fraction(1, 2)
    up = Length(exact.ceil_to(Fraction(1, 8)))
    then = "half" if phrase.endswith("triangles") else ""
    n = {"half-square-pairs": 2, "half-square-four": 4, "half-square-eight": 8}.get(phrase, 1)
    cuts = tuple(Cut(f, up, up, exact, exact, 1, then) for f in (a, b))
    extra = Length(Fraction(3, 4))
    recipe = Recipe(
        {
            "half-square-pairs": "pairs of squares",
            "half-square-four": "four at a time",
            "half-square-eight": "eight at a time",
        }.get(phrase, "from triangles"),
        phrase,
        cuts,
        n,
        sewn=(s + extra, s + extra) if trim else None,
        trim_to=(s + Fraction(1, 2), s + Fraction(1, 2)) if trim else None,
    )
    return made(
        f"half-square({a}, {b}, {phrase}, {trim})",
        s,
        s,
        [
            Placed(Cloth(a, (P(0, 0), (s, ZERO), (ZERO, s)), (ONE, ZERO))),
            Placed(Cloth(b, ((s, ZERO), (s, s), (ZERO, s)), (ONE, ZERO))),
        ],
        [Seam((s, ZERO), (ZERO, s), (1,), (0,), "right")],
        kind="half-square",
        recipe=recipe,
        title="corner",
    )


def quarter_square(phrase: str = "quarter-square-pairs") -> Making:
    c = P(2, 2)
    corners = [P(0, 0), P(4, 0), P(4, 4), P(0, 4)]
    fabrics = ["night", "glow", "night", "glow"]
    parts = [Placed(Cloth(f, (corners[i], corners[(i + 1) % 4], c))) for i, f in enumerate(fabrics)]
    seams = [
        Seam(c, corners[1], (0,), (1,), "left"),
        Seam(c, corners[3], (2,), (3,), "left"),
        Seam(corners[0], corners[2], (0, 1), (2, 3), "open"),
    ]
    exact = L(4) + (SQRT2 * 2 + 2) * Fraction(1, 4)
    up = Length(exact.ceil_to(Fraction(1, 8)))
    then = "quarter" if phrase.endswith("triangles") else ""
    recipe = Recipe(
        "pairs of squares", phrase, tuple(Cut(f, up, up, exact, exact, 1, then) for f in ("night", "glow")), 2
    )
    return made(
        f"hourglass({phrase})", 4, 4, parts, seams, kind="quarter-square", recipe=recipe, title="hourglass"
    )


def geese(phrase: str = "geese-flip", goose: str = "glow", sky: str = "night") -> Making:
    parts = [
        Placed(Cloth(goose, (P(2, 0), P(4, 2), P(0, 2)), name="goose")),
        Placed(Cloth(sky, (P(0, 0), P(2, 0), P(0, 2)), name="sky")),
        Placed(Cloth(sky, (P(2, 0), P(4, 0), P(4, 2)), name="sky")),
    ]
    seams = [Seam(P(0, 2), P(2, 0), (1,), (0,), "left"), Seam(P(2, 0), P(4, 2), (2,), (0, 1), "left")]
    r = Fraction(1, 4)
    sizes = {
        "geese-flip": ((L("4.5"), L("2.5"), goose, 1, ""), (L("2.5"), L("2.5"), sky, 2, "")),
        "geese-four": (
            (L(4) + (SQRT2 * 2 + 2) * r,) * 2 + (goose, 1, ""),
            (L(2) + (SQRT2 + 2) * r,) * 2 + (sky, 4, ""),
        ),
        "geese-triangles": (
            (L(4) + (SQRT2 * 2 + 2) * r,) * 2 + (goose, 1, "quarter"),
            (L(2) + (SQRT2 + 2) * r,) * 2 + (sky, 4, "half"),
        ),
    }[phrase]
    cuts = tuple(
        Cut(f, Length(w.ceil_to(Fraction(1, 8))), Length(h.ceil_to(Fraction(1, 8))), w, h, n, then)
        for w, h, f, n, then in sizes
    )
    recipe = Recipe(phrase.replace("-", " "), phrase, cuts, {"geese-flip": 1}.get(phrase, 4))
    return made(f"goose({phrase})", 4, 2, parts, seams, kind="geese", recipe=recipe, title="flying goose")


def snowball() -> Making:
    s, c = 6, 2
    corners = [
        ((P(0, 0), P(c, 0), P(0, c)), P(0, c), P(c, 0)),
        ((P(s - c, 0), P(s, 0), P(s, c)), P(s - c, 0), P(s, c)),
        ((P(s, s - c), P(s, s), P(s - c, s)), P(s, s - c), P(s - c, s)),
        ((P(0, s - c), P(c, s), P(0, s)), P(c, s), P(0, s - c)),
    ]
    base = (P(c, 0), P(s - c, 0), P(s, c), P(s, s - c), P(s - c, s), P(c, s), P(0, s - c), P(0, c))
    parts = [Placed(Cloth("foam", base)), *(Placed(Cloth("reed", t)) for t, _, _ in corners)]
    seams = [Seam(a, b, (i + 1,), tuple(range(i + 1)), "left") for i, (_, a, b) in enumerate(corners)]
    cuts = (
        Cut("foam", L("6.5"), L("6.5"), L("6.5"), L("6.5"), 1),
        Cut("reed", L("2.5"), L("2.5"), L("2.5"), L("2.5"), 4),
    )
    return made(
        "snowball", s, s, parts, seams, kind="corners", recipe=Recipe("stitch and flip", "corners-flip", cuts)
    )


def square_in_square(phrase: str = "square-in-square-triangles") -> Making:
    s = 4
    tips = [
        ((P(0, 0), P(2, 0), P(0, 2)), P(0, 2), P(2, 0)),
        ((P(4, 2), P(4, 4), P(2, 4)), P(4, 2), P(2, 4)),
        ((P(2, 0), P(4, 0), P(4, 2)), P(2, 0), P(4, 2)),
        ((P(2, 4), P(0, 4), P(0, 2)), P(2, 4), P(0, 2)),
    ]
    parts = [
        Placed(Cloth("glow", (P(2, 0), P(4, 2), P(2, 4), P(0, 2)))),
        *(Placed(Cloth("rust", t)) for t, _, _ in tips),
    ]
    seams = [Seam(a, b, (i + 1,), tuple(range(i + 1)), "left") for i, (_, a, b) in enumerate(tips)]
    cuts = (
        (
            Cut("glow", L("3.375"), L("3.375"), L("3.33"), L("3.33"), 1),
            Cut("rust", L("2.875"), L("2.875"), L("2.86"), L("2.86"), 2, "half"),
        )
        if phrase.endswith("triangles")
        else (
            Cut("glow", L("4.5"), L("4.5"), L("4.5"), L("4.5"), 1),
            Cut("rust", L("2.5"), L("2.5"), L("2.5"), L("2.5"), 4),
        )
    )
    return made(
        f"lamp({phrase})",
        s,
        s,
        parts,
        seams,
        kind="square-in-square",
        recipe=Recipe("from triangles", phrase, cuts),
        title="lamp",
    )


def half_rectangle() -> Making:
    parts = [
        Placed(Cloth("stone", (P(0, 0), P(3, 0), P(0, 6)))),
        Placed(Cloth("rust", (P(3, 0), P(3, 6), P(0, 6)))),
    ]
    cuts = tuple(Cut(f, L("3.75"), L("7.375"), L("3.66"), L("7.31"), 1, "half") for f in ("stone", "rust"))
    return made(
        "gable",
        3,
        6,
        parts,
        [Seam(P(3, 0), P(0, 6), (1,), (0,), "left")],
        kind="half-rectangle",
        recipe=Recipe("from rectangles", "half-rectangle-pairs", cuts, 2),
    )


def log_cabin(rounds: int = 3, width: object = 1) -> Making:
    w = L(width)
    x0 = y0 = w * rounds
    x1 = y1 = x0 + w * 2
    rects = [("rust", x0, y0, x1, y1)]
    seams: list[Seam] = []
    fabrics = ["glow", "foam", "night", "stone"]
    for i in range(rounds * 4):
        before, k = tuple(range(len(rects))), len(rects)
        if i % 4 == 0:
            rects.append((fabrics[0], x0, y0 - w, x1, y0))
            seams.append(Seam((x0, y0), (x1, y0), (k,), before, "left"))
            y0 = y0 - w
        elif i % 4 == 1:
            rects.append((fabrics[1], x1, y0, x1 + w, y1))
            seams.append(Seam((x1, y0), (x1, y1), (k,), before, "left"))
            x1 = x1 + w
        elif i % 4 == 2:
            rects.append((fabrics[2], x0, y1, x1, y1 + w))
            seams.append(Seam((x1, y1), (x0, y1), (k,), before, "left"))
            y1 = y1 + w
        else:
            rects.append((fabrics[3], x0 - w, y0, x0, y1))
            seams.append(Seam((x0, y1), (x0, y0), (k,), before, "left"))
            x0 = x0 - w
    parts = [
        Placed(Cloth(f, rectangle(c - a, d - b, a, b), name=f"log {i}" if i else "centre"))
        for i, (f, a, b, c, d) in enumerate(rects)
    ]
    return made(
        "hearth",
        x1,
        y1,
        parts,
        seams,
        kind="log-cabin",
        recipe=Recipe("log cabin", "log-cabin"),
        role="block",
    )


def strip_wall(
    names: Sequence[str] = ("stone", "night", "stone"),
    widths: Sequence[object] = (1, 1, 1),
    segment: object = 3,
) -> Making:
    cuts = tuple(
        Cut(f, L(40), L(w) + Fraction(1, 2), L(40), L(w) + Fraction(1, 2), 1, "strip")
        for f, w in dict.fromkeys(zip(names, widths, strict=False))
    )
    total = sum((L(w) for w in widths), ZERO)
    recipe = Recipe(
        "strips", "strips", cuts, segment=L(segment) + Fraction(1, 2), strip_unit=total + Fraction(1, 2)
    )
    sides: list[Side] = ["left" if i % 2 else "right" for i in range(len(names))]
    return line_up(
        f"wall({', '.join(map(str, widths))})",
        [patch(f, w, segment) for f, w in zip(names, widths, strict=False)],
        True,
        sides,
        role="unit",
        recipe=recipe,
        title="wall",
    )


def lantern() -> Making:
    wall, corner = strip_wall(), half_square()
    glow = patch("glow", 3, 3)

    def turned(what: Part, t: int) -> Placed:
        dx, dy = {0: (0, 0), 90: (3, 0), 180: (3, 3), 270: (0, 3)}[t]
        return Placed(what, Place(L(dx), L(dy), t))

    grid = [
        [(corner, 0), (wall, 0), (corner, 90)],
        [(wall, 90), (glow, 0), (wall, 90)],
        [(corner, 270), (wall, 0), (corner, 180)],
    ]
    rows = []
    for r, cells in enumerate(grid):
        placed = [
            Placed(what, Place(p.place.dx + 3 * c, p.place.dy, p.place.turned))
            for c, (what, t) in enumerate(cells)
            for p in (turned(what, t),)
        ]
        seams = [
            Seam(P(3 * c, 0), P(3 * c, 3), (c,), tuple(range(c)), "right" if r % 2 else "left")
            for c in (1, 2)
        ]
        rows.append(made(f"lantern row {r}", 9, 3, placed, seams, role="row"))
    whole = line_up("lantern", rows, False, ("left", "right"), role="block", title="Lantern")
    return whole


def chequer(n: int = 9, side: object = 1) -> Making:
    rows = [
        line_up(f"chequer {n} row {r}", [patch(("night", "foam")[(r + c) % 2], side, side) for c in range(n)])
        for r in (0, 1)
    ]
    return line_up(f"chequer {n}", [rows[r % 2] for r in range(n)], False, role="block", title="chequer")


def bordered(centre: Making, borders: Sequence[tuple[str, object]]) -> Making:
    """Straight borders, sides first."""
    parts, seams, w, h = [Placed(centre)], [], centre.width, centre.height
    for fabric, wide in borders:
        b = L(wide)
        parts = [
            Placed(p.what, Place(p.place.dx + b, p.place.dy + b, p.place.turned, p.place.mirrored))
            for p in parts
        ]
        seams = [
            Seam((s.start[0] + b, s.start[1] + b), (s.end[0] + b, s.end[1] + b), s.left, s.right, s.pressed)
            for s in seams
        ]
        for rect, line, outward in (
            (rectangle(b, h, ZERO, b), ((b, b + h), (b, b)), "left"),
            (rectangle(b, h, b + w, b), ((b + w, b), (b + w, b + h)), "left"),
            (rectangle(w + b * 2, b, ZERO, ZERO), ((ZERO, b), (w + b * 2, b)), "left"),
            (rectangle(w + b * 2, b, ZERO, b + h), ((w + b * 2, b + h), (ZERO, b + h)), "left"),
        ):
            k = len(parts)
            x, y = rect[0]
            parts.append(Placed(Cloth(fabric, rectangle(rect[2][0] - x, rect[2][1] - y)), Place(x, y)))
            seams.append(Seam(line[0], line[1], (k,), tuple(range(k)), outward))
        w, h = w + b * 2, h + b * 2
    return made(
        f"{centre.key} with {len(borders)} borders",
        w,
        h,
        parts,
        seams,
        role="top",
        title="Saltmarsh Lanterns",
    )


def quilt(across: int = 3, down: int = 4) -> Making:
    block = lantern()
    plain = made("plain", 9, 9, [Placed(patch("stone", 9, 9))], [], role="block")
    rows = [
        line_up(
            f"quilt row {r}",
            [block if (r + c) % 2 == 0 else plain for c in range(across)],
            True,
            ["right" if r % 2 else "left"] * (across - 1),
        )
        for r in range(down)
    ]
    return bordered(line_up("centre", rows, False, role="centre"), [("night", 2), ("rust", 4)])


def on_point() -> Making:
    """Two by two blocks of 6 on point with an alternate square, side and corner triangles, in diagonal
    rows."""
    h = SQRT2 * 3  # half a diagonal
    block = line_up(
        "four",
        [
            line_up(f"four {i}", [patch(("glow", "rust")[(i + c) % 2], 3, 3) for c in range(2)])
            for i in (0, 1)
        ],
        False,
        role="block",
    )
    size = h * 4

    def at(
        cx: Length, cy: Length
    ) -> Placed:  # the block's top left corner, turned 45, comes to the top of the diamond
        return Placed(block, Place(cx, cy - h, 45))

    def tri(*points: Point) -> Placed:
        return Placed(Cloth("stone", tuple(points)))

    z = ZERO
    parts = [
        tri((z, z), (h, z), (z, h)),
        at(h, h),
        tri((h, z), (h * 3, z), (h * 2, h)),
        tri((z, h), (h, h * 2), (z, h * 3)),
        at(h * 3, h),
        at(h * 2, h * 2),
        at(h, h * 3),
        tri((h * 3, z), (size, z), (size, h)),
        tri((z, h * 3), (h, size), (z, size)),
        tri((size, h), (size, h * 3), (h * 3, h * 2)),
        at(h * 3, h * 3),
        tri((h, size), (h * 2, h * 3), (h * 3, size)),
        tri((size, h * 3), (size, size), (h * 3, size)),
    ]
    seams: list[Seam] = []  # diagonal rows run from lower left to upper right
    seams.append(Seam((z, h), (h, h * 2), (1,), (3,), "left"))
    seams.append(Seam((h, z), (h * 2, h), (2,), (3, 1), "right"))
    seams.append(Seam((z, h * 3), (h, size), (6,), (8,), "left"))
    seams.append(Seam((h, h * 2), (h * 2, h * 3), (5,), (8, 6), "left"))
    seams.append(Seam((h * 2, h), (h * 3, h * 2), (4,), (8, 6, 5), "left"))
    seams.append(Seam((h * 3, z), (size, h), (7,), (8, 6, 5, 4), "left"))
    seams.append(Seam((h * 2, h * 3), (h * 3, size), (10,), (11,), "left"))
    seams.append(Seam((h * 3, h * 2), (size, h * 3), (9,), (11, 10), "left"))
    seams.append(Seam((h, z), (z, h), (1, 2, 3), (0,), "right"))
    seams.append(Seam((h * 3, z), (z, h * 3), (4, 5, 6, 7, 8), (0, 1, 2, 3), "right"))
    seams.append(Seam((size, h), (h, size), (9, 10, 11), tuple(range(9)), "right"))
    seams.append(Seam((size, h * 3), (h * 3, size), (12,), tuple(range(12)), "right"))
    return made("on point", size, size, parts, seams, role="centre", title="Harbour on point")


def slices() -> Making:
    """A square cut by three lines, each taking off one piece."""
    a, b, c, d = P(2, "5/3"), P(4, "4/3"), P(5, "107/27"), P("3/2", "23/6")
    parts = [
        Placed(Cloth("glow", (a, b, c, d))),
        Placed(Cloth("rust", (b, P(6, 1), P(6, 4), c))),
        Placed(Cloth("foam", (d, P(6, 4), P(6, 6), P(1, 6)))),
        Placed(Cloth("night", (P(0, 2), a, P(1, 6), P(0, 6)))),
        Placed(Cloth("reed", (P(0, 0), P(6, 0), P(6, 1), P(0, 2)))),
    ]
    seams = [
        Seam(b, c, (1,), (0,), "left"),
        Seam(d, P(6, 4), (0, 1), (2,), "right"),
        Seam(a, P(1, 6), (0, 1, 2), (3,), "right"),
        Seam(P(0, 2), P(6, 1), (4,), (0, 1, 2, 3), "left"),
    ]
    return made("gull", 6, 6, parts, seams, kind="slices", recipe=Recipe("slices", "slices"), role="block")


def tumbling() -> Making:
    """Three diamonds that meet in one point: the third is set in."""
    h = SQRT3
    c = (L(2), h)
    a, b, d = (L(0), h), (L(3), ZERO), (L(3), h * 2)
    first = Cloth("foam", (a, (L(1), ZERO), b, c))
    second = Cloth("night", (a, c, d, (L(1), h * 2)))
    third = Cloth("rust", (c, b, (L(4), h), d))
    seams = [Seam(a, c, (0,), (1,), "left"), Seam(b, d, (2,), (0, 1), "open", set_in=True, path=(b, c, d))]
    outline = (a, (L(1), ZERO), b, (L(4), h), d, (L(1), h * 2))
    return made("tumbling", 4, h * 2, [Placed(first), Placed(second), Placed(third)], seams, outline=outline)


def pie() -> Making:
    """A quarter circle in a square, its curve drawn with many points."""
    n = 24
    arc = tuple(
        (
            Length(Fraction(round(math.sin(math.pi / 2 * i / n) * 5000), 1000)),
            Length(Fraction(round((6 - 5 * math.cos(math.pi / 2 * i / n)) * 1000), 1000)),
        )
        for i in range(n + 1)
    )
    wedge = Cloth("glow", (*arc, P(0, 6)), template=True)
    ground = Cloth("night", (P(0, 0), P(6, 0), P(6, 6), *arc[::-1]), template=True)
    return made(
        "pie", 6, 6, [Placed(wedge), Placed(ground)], [Seam(arc[0], arc[-1], (1,), (0,), "left", path=arc)]
    )


def mirrored_pair() -> Making:
    """A half-rectangle and its mirror image beside each other, turned as well."""
    g = half_rectangle()
    return made(
        "roof",
        12,
        6,
        [
            Placed(g),
            Placed(g, Place(L(6), ZERO, 0, True)),
            Placed(g, Place(L(9), L(6), 180, False)),
            Placed(g, Place(L(9), L(6), 180, True)),
        ],
        [Seam(P(3 * i, 0), P(3 * i, 6), (i,), tuple(range(i)), "left") for i in (1, 2, 3)],
        role="block",
    )


def star(name: str, method: str) -> Making:
    """An eight-point star, worked out from its words."""
    from tests.kinds_more.written import made as worked

    text = f"unit {name}\n    eight-point-star night, glow, stone\n    finished 12\n    method {method}\n"
    return worked(text, name)


def everything() -> dict[str, Making]:
    out = {
        m.key: m
        for m in [
            *(half_square(phrase=f"half-square-{p}") for p in ("pairs", "four", "eight", "triangles")),
            half_square(trim=True),
            quarter_square(),
            quarter_square("quarter-square-triangles"),
            *(geese(f"geese-{p}") for p in ("flip", "four", "triangles")),
            snowball(),
            square_in_square(),
            square_in_square("square-in-square-flip"),
            half_rectangle(),
            log_cabin(),
            strip_wall(),
            strip_wall(["stone", "night"] * 3 + ["stone"], ["3/4", "1/2"] * 3 + ["3/4"], 3),
            lantern(),
            chequer(),
            quilt(),
            on_point(),
            slices(),
            tumbling(),
            pie(),
            mirrored_pair(),
            star("star", "straight seams"),
            star("set-star", "set-in"),
            made("plain square", 4, 4, [Placed(patch("reed", 4, 4))], []),
        ]
    }
    return out
