"""How the makings of the drawing tests are built by hand from the geometry contract, in Saltmarsh fabrics."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from patternkit.drawing.swatches import assign
from patternkit.lengths import ZERO, Length
from patternkit.piecing.keys import Key
from patternkit.piecing.making import (
    Cloth,
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
from patternkit.piecing.names import Name

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
NONE = Recipe()


def L(value: object) -> Length:
    return value if isinstance(value, Length) else Length(Fraction(str(value)))


def P(x: object, y: object) -> Point:
    return L(x), L(y)


def patch(fabric: str, width: object, height: object, name: Name | None = None) -> Cloth:
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
        Key(key),
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
