"""Small makings for the drawing tests: strips, blocks and quilts, and the units and fabrics they are made of."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from patternkit.lengths import SQRT2, ZERO, Length
from patternkit.piecing.kinds.flying_geese import FlyingGeese
from patternkit.piecing.kinds.half_square import HalfSquare
from patternkit.piecing.kinds.quarter_square import HOURGLASS_TRIANGLES
from patternkit.piecing.kinds.square_in_square import FLIPPED
from patternkit.piecing.kinds.strips import ONE_SEAM
from patternkit.piecing.making import (
    Cloth,
    Making,
    Part,
    PieceCut,
    Place,
    Placed,
    Point,
    Recipe,
    Seam,
    Side,
    rectangle,
)

from .sample_parts import SWATCHES, L, P, line_up, made, patch
from .sample_units import (
    geese,
    half_rectangle,
    half_square,
    log_cabin,
    mirrored_pair,
    pie,
    quarter_square,
    slices,
    snowball,
    square_in_square,
    star,
    triangles,
    tumbling,
    twist,
)

__all__ = [
    "SWATCHES",
    "L",
    "P",
    "bordered",
    "chequer",
    "everything",
    "geese",
    "half_rectangle",
    "half_square",
    "lantern",
    "line_up",
    "log_cabin",
    "made",
    "mirrored_pair",
    "on_point",
    "patch",
    "pie",
    "quarter_square",
    "quilt",
    "slices",
    "snowball",
    "square_in_square",
    "star",
    "strip_wall",
    "triangles",
    "tumbling",
    "twist",
]


def strip_wall(
    names: Sequence[str] = ("stone", "night", "stone"),
    widths: Sequence[object] = (1, 1, 1),
    segment: object = 3,
) -> Making:
    cuts = tuple(
        PieceCut(f, L(40), L(w) + Fraction(1, 2), L(40), L(w) + Fraction(1, 2), 1, "strip")
        for f, w in dict.fromkeys(zip(names, widths, strict=False))
    )
    total = sum((L(w) for w in widths), ZERO)
    recipe = Recipe(ONE_SEAM, cuts, segment=L(segment) + Fraction(1, 2), strip_unit=total + Fraction(1, 2))
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
        seams = [Seam(P(3 * c, 0), P(3 * c, 3), (c,), tuple(range(c)), "right" if r % 2 else "left") for c in (1, 2)]
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
        parts = [Placed(p.what, Place(p.place.dx + b, p.place.dy + b, p.place.turned, p.place.mirrored)) for p in parts]
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
        [line_up(f"four {i}", [patch(("glow", "rust")[(i + c) % 2], 3, 3) for c in range(2)]) for i in (0, 1)],
        False,
        role="block",
    )
    size = h * 4

    def at(cx: Length, cy: Length) -> Placed:  # the block's top left corner, turned 45, comes to the top of the diamond
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


def everything() -> dict[str, Making]:
    out = {
        str(m.key): m
        for m in [
            *(half_square(method=m) for m in HalfSquare.methods),
            half_square(trim=True),
            quarter_square(),
            quarter_square(HOURGLASS_TRIANGLES),
            *(geese(m) for m in FlyingGeese.methods[:3]),
            snowball(),
            square_in_square(),
            square_in_square(FLIPPED),
            half_rectangle(),
            log_cabin(),
            strip_wall(),
            strip_wall(["stone", "night"] * 3 + ["stone"], ["3/4", "1/2"] * 3 + ["3/4"], 3),
            lantern(),
            chequer(),
            quilt(),
            on_point(),
            slices(),
            twist(),
            twist(clockwise=False),
            tumbling(),
            pie(),
            mirrored_pair(),
            triangles(),
            star("star", "straight seams"),
            star("set-star", "set-in"),
            made("plain square", 4, 4, [Placed(patch("reed", 4, 4))], []),
        ]
    }
    return out
