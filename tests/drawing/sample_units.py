"""Small units for the drawing tests, one or more for each way of making them."""

from __future__ import annotations

import math
from fractions import Fraction

from patternkit.lengths import ONE, SQRT2, SQRT3, ZERO, Length
from patternkit.piecing.kinds import flipped_corners, flying_geese
from patternkit.piecing.kinds import half_square as half_squares
from patternkit.piecing.kinds import quarter_square as quarter_squares
from patternkit.piecing.kinds import square_in_square as rings
from patternkit.piecing.kinds.log_cabin import ROUND
from patternkit.piecing.kinds.partial_seam import PARTIAL
from patternkit.piecing.kinds.slices import TEMPLATES
from patternkit.piecing.making import (
    Cloth,
    Making,
    PieceCut,
    Place,
    Placed,
    Recipe,
    Seam,
    rectangle,
)
from patternkit.piecing.method import Method
from patternkit.piecing.names import Name

from .sample_parts import L, P, made


def half_square(
    a: str = "night", b: str = "glow", side: object = 3, method: Method = half_squares.TWO, trim: bool = False
) -> Making:
    s = L(side)
    q = Fraction(1, 4)
    exact = half_squares.exact_cut(method, s, Length(q))
    up = Length(exact.ceil_to(Fraction(1, 8)))
    then = "half" if method is half_squares.FROM_TRIANGLES else ""
    cuts = tuple(PieceCut(f, up, up, exact, exact, 1, then) for f in (a, b))
    extra = Length(Fraction(3, 4))
    recipe = Recipe(
        method,
        cuts,
        method.makes,
        sewn=(s + extra, s + extra) if trim else None,
        trim_to=(s + Fraction(1, 2), s + Fraction(1, 2)) if trim else None,
    )
    return made(
        f"half-square({a}, {b}, {method.phrase}, {trim})",
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


def quarter_square(method: Method = quarter_squares.HOURGLASS_PAIRS) -> Making:
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
    then = "" if method is quarter_squares.HOURGLASS_PAIRS else "quarter"
    recipe = Recipe(method, tuple(PieceCut(f, up, up, exact, exact, 1, then) for f in ("night", "glow")), 2)
    return made(
        f"hourglass({method.phrase})", 4, 4, parts, seams, kind="quarter-square", recipe=recipe, title="hourglass"
    )


def geese(method: Method = flying_geese.FLIPPED, goose: str = "glow", sky: str = "night") -> Making:
    parts = [
        Placed(Cloth(goose, (P(2, 0), P(4, 2), P(0, 2)), name=Name("goose"))),
        Placed(Cloth(sky, (P(0, 0), P(2, 0), P(0, 2)), name=Name("sky"))),
        Placed(Cloth(sky, (P(2, 0), P(4, 0), P(4, 2)), name=Name("sky"))),
    ]
    seams = [Seam(P(0, 2), P(2, 0), (1,), (0,), "left"), Seam(P(2, 0), P(4, 2), (2,), (0, 1), "left")]
    r = Fraction(1, 4)
    sizes = {
        flying_geese.FLIPPED: ((L("4.5"), L("2.5"), goose, 1, ""), (L("2.5"), L("2.5"), sky, 2, "")),
        flying_geese.FOUR: (
            (L(4) + (SQRT2 * 2 + 2) * r,) * 2 + (goose, 1, ""),
            (L(2) + (SQRT2 + 2) * r,) * 2 + (sky, 4, ""),
        ),
        flying_geese.FROM_TRIANGLES: (
            (L(4) + (SQRT2 * 2 + 2) * r,) * 2 + (goose, 1, "quarter"),
            (L(2) + (SQRT2 + 2) * r,) * 2 + (sky, 4, "half"),
        ),
    }[method]
    cuts = tuple(
        PieceCut(f, Length(w.ceil_to(Fraction(1, 8))), Length(h.ceil_to(Fraction(1, 8))), w, h, n, then)
        for w, h, f, n, then in sizes
    )
    recipe = Recipe(method, cuts, method.makes)
    return made(f"goose({method.phrase})", 4, 2, parts, seams, kind="geese", recipe=recipe, title="flying goose")


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
        PieceCut("foam", L("6.5"), L("6.5"), L("6.5"), L("6.5"), 1),
        PieceCut("reed", L("2.5"), L("2.5"), L("2.5"), L("2.5"), 4),
    )
    return made("snowball", s, s, parts, seams, kind="corners", recipe=Recipe(flipped_corners.FLIPPED, cuts))


def square_in_square(method: Method = rings.FROM_TRIANGLES) -> Making:
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
            PieceCut("glow", L("3.375"), L("3.375"), L("3.33"), L("3.33"), 1),
            PieceCut("rust", L("2.875"), L("2.875"), L("2.86"), L("2.86"), 2, "half"),
        )
        if method is rings.FROM_TRIANGLES
        else (
            PieceCut("glow", L("4.5"), L("4.5"), L("4.5"), L("4.5"), 1),
            PieceCut("rust", L("2.5"), L("2.5"), L("2.5"), L("2.5"), 4),
        )
    )
    return made(
        f"lamp({method.phrase})",
        s,
        s,
        parts,
        seams,
        kind="square-in-square",
        recipe=Recipe(method, cuts),
        title="lamp",
    )


def half_rectangle(way: str = "left", method: str = "oversize") -> Making:
    """A half-rectangle, worked out from its words."""
    from tests.kinds_more.written import made as worked

    lines = ("unit gable", "half-rectangle stone, glow", "finished 3 x 6", f"leaning {way}", f"method {method}")
    return worked("\n    ".join(lines) + "\n", "gable")


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
        Placed(Cloth(f, rectangle(c - a, d - b, a, b), name=Name("log", (i,)) if i else Name("centre")))
        for i, (f, a, b, c, d) in enumerate(rects)
    ]
    return made(
        "hearth",
        x1,
        y1,
        parts,
        seams,
        kind="log-cabin",
        recipe=Recipe(ROUND),
        role="block",
    )


def twist(clockwise: bool = True) -> Making:
    """Four rectangles that turn round a square, one way or the other."""
    rects = [("rust", 2, 2, 4, 4)]
    if clockwise:
        rects += [("glow", 0, 0, 4, 2), ("foam", 4, 0, 6, 4), ("night", 2, 4, 6, 6), ("stone", 0, 2, 2, 6)]
        seams = [
            Seam(P(4, 2), P(0, 2), (0, 4), (1,), "right"),
            Seam(P(4, 4), P(4, 0), (0, 1), (2,), "right"),
            Seam(P(2, 4), P(6, 4), (0, 2), (3,), "right"),
            Seam(P(2, 2), P(2, 6), (0, 3), (4,), "right"),
        ]
    else:
        rects += [("glow", 2, 0, 6, 2), ("foam", 4, 2, 6, 6), ("night", 0, 4, 4, 6), ("stone", 0, 0, 2, 4)]
        seams = [
            Seam(P(6, 2), P(2, 2), (0, 2), (1,), "right"),
            Seam(P(2, 0), P(2, 4), (0, 1), (4,), "right"),
            Seam(P(0, 4), P(4, 4), (0, 4), (3,), "right"),
            Seam(P(4, 6), P(4, 2), (0, 3), (2,), "right"),
        ]
    parts = [Placed(Cloth(f, rectangle(L(c - a), L(d - b), L(a), L(b)))) for f, a, b, c, d in rects]
    return made(
        "twist" if clockwise else "twirl", 6, 6, parts, seams, kind="partial-seam", recipe=Recipe(PARTIAL), role="block"
    )


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
    return made("gull", 6, 6, parts, seams, kind="slices", recipe=Recipe(TEMPLATES), role="block")


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
    return made("pie", 6, 6, [Placed(wedge), Placed(ground)], [Seam(arc[0], arc[-1], (1,), (0,), "left", path=arc)])


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


def triangles() -> Making:
    """A short strip of triangles, worked out from its words."""
    from tests.kinds_more.written import made as worked

    return worked("unit teeth\n    triangle-strip night, glow\n    triangles 3\n    finished 2 high\n", "teeth")


def star(name: str, method: str) -> Making:
    """An eight-point star, worked out from its words."""
    from tests.kinds_more.written import made as worked

    text = f"unit {name}\n    eight-point-star night, glow, stone\n    finished 12\n    method {method}\n"
    return worked(text, name)
