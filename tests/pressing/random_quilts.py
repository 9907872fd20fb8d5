"""Small quilts at random: nested rows and columns, triangles and geese, turned and mirrored parts, shared
units."""

from __future__ import annotations

from random import Random

from patternkit.piecing.keys import Key
from patternkit.piecing.making import Making, Part, Side

from .builders import at, column, geese, half_square, hourglass, patch, pinwheel, quilt, row

FABRICS = ("night", "glow", "stone")
VALUES = {"night": "dark", "glow": "light", "stone": "medium"}


def unit(rnd: Random, number: int, fixed: bool) -> Making:
    """A pieced unit, 4 by 4."""

    def side() -> Side:
        return rnd.choice(("left", "right", "left", "right", "open")) if fixed and rnd.random() < 0.4 else "free"

    def cloth(w: int, h: int) -> Part:
        return patch(rnd.choice(FABRICS), w, h)

    key, kind = f"u{number}", rnd.randrange(6)
    if kind == 0:
        return half_square(key, "night", "glow", 4, side())
    if kind == 1:
        goose = geese(f"{key} goose", "night", "glow", 2, (side(), side()))
        return column(key, goose, (goose, 180, bool(rnd.randrange(2))), pressed=[side()])
    if kind == 2:
        return hourglass(key, "night", "glow", 4, side(), side())
    if kind == 3:
        return pinwheel(half_square(f"{key} blade", "night", "glow", 2, side()), side(), side(), key)
    widths = rnd.choice(((1, 3), (2, 2), (3, 1)))
    if kind == 4:
        return row(key, *(cloth(w, 4) for w in widths), pressed=[side()])
    lines = [
        row(
            f"{key} row {i}",
            *(cloth(w, 2) for w in rnd.choice(((1, 3), (2, 2), (3, 1)))),
            pressed=[side()],
            unit=key,
            role="row",
        )
        for i in range(2)
    ]
    return column(key, *lines, pressed=[side()])


def small_quilt(seed: int, fixed: bool = True) -> Making:
    """A quilt of two or three rows of units, with two or three kinds of them."""
    rnd = Random(seed)
    kinds = [unit(rnd, i, fixed) for i in range(rnd.choice((1, 2, 2, 3)))]
    across, down = rnd.choice(((2, 2), (3, 2), (2, 3)))
    return quilt(
        [[(rnd.choice(kinds), 90 * rnd.randrange(4), rnd.random() < 0.3) for _ in range(across)] for _ in range(down)]
    )


def turned_quilt(seed: int) -> Making:
    """A small quilt put on point."""
    inner = small_quilt(seed)
    placed = at(inner, 0, 0, 45)
    corners = placed.place.outline(inner.outline)
    return Making(
        Key("on point"), "on point", "quilt", "", corners, inner.width, inner.height, (placed,), (), inner.recipe
    )
