"""Half-rectangles: triangles laid long edge to long edge with their tips apart, and where the seam lies when the unit
is trimmed."""

from __future__ import annotations

from collections.abc import Mapping
from math import hypot

from patternkit.drawing.geometry import area, clipped
from patternkit.drawing.layout import Picture, picture, titled
from patternkit.drawing.look import Look
from patternkit.drawing.method_pictures import MethodPicture
from patternkit.drawing.pieces import label_on
from patternkit.drawing.scene import INK, PAPER, SMALL_DASH, Circle, Path, Pt, Shape, dimension
from patternkit.drawing.sheets import SIDE, ClothLayer, lying, pieces_picture, square, stitched
from patternkit.drawing.swatches import Swatch, swatch_for
from patternkit.drawing.unit_panel import off_by
from patternkit.lengths import Length
from patternkit.piecing.kinds.half_rectangle import Tips
from patternkit.piecing.making import Cloth, Making

_BASE = 104.0  # points: the long edge of a triangle
_DOT = 2.3  # points: radius of a dot on the seam
_CLEAR = 3.0  # points: what is trimmed off is drawn no narrower

Triangle = tuple[Pt, ...]


def half_rectangle(making: Making, swatches: Mapping[str, Swatch], look: Look) -> list[MethodPicture]:
    """Rectangles cut corner to corner, a triangle of each sewn to the other, the unit with the points of its seam."""
    recipe = making.recipe
    first, second = (p.what for p in making.parts)
    assert isinstance(first, Cloth) and isinstance(second, Cloth) and isinstance(recipe.numbers, Tips)
    fabrics, left = (first.fabric, second.fabric), recipe.cuts[0].leans == "left"
    apart = recipe.numbers.offset if recipe.numbers.offset > 0 else None
    words = look.render("panel.long", seam=look.length(look.seam))
    if apart is not None:
        words += ". " + look.render("panel.tips", apart=look.length(apart))
    last = look.render("panel.open") + ", "
    if making.recipe.trim_to:
        last += look.render("trim", size=look.size(*making.recipe.trim_to))
    else:
        last += look.render("measures", size=look.raw(making.width, making.height))
    last += ". " + look.render("panel.dots", seam=look.length(look.seam))
    yields = look.render("yield", n=making.recipe.yields) if making.recipe.yields > 1 else ""
    pieces = pieces_picture(making.recipe.cuts, swatches, look)
    return [
        MethodPicture(pieces, look.render("panel.pieces")),
        MethodPicture(_laid(making, fabrics, left, look, apart, swatches), words),
        MethodPicture(titled(_opened(making, fabrics, left, look, swatches), yields, room=60.0), last),
    ]


def _cut(making: Making) -> tuple[float, float]:
    """The legs of the triangles as they are cut, in inches."""
    cut = making.recipe.cuts[0]
    return float(cut.width), float(cut.height)


def _inset(making: Making, look: Look) -> float:
    """How far the finished right angle lies inside both raw legs, in inches; as the kind works it out."""
    (x, y), d = _cut(making), hypot(float(making.width), float(making.height))
    area_of = float(making.width) * float(making.height) / d
    return (x * y - hypot(x, y) * (area_of + float(look.seam))) / (x + y)


def _laid(
    making: Making,
    fabrics: tuple[str, str],
    left: bool,
    look: Look,
    apart: Length | None,
    swatches: Mapping[str, Swatch],
) -> Picture:
    """Two triangles face to face, their long edges level below, the stitching along them, the tips measured."""
    x, y = _cut(making)
    long = hypot(x, y)
    assert isinstance(making.recipe.numbers, Tips)
    # The finished edges lie middle on middle; this is how far that is from the tip of the width's leg.
    middle = (long + float(making.recipe.numbers.slide) * (1 if x >= y else -1)) / 2
    scale, side = _BASE / long, 1.0 if left else -1.0
    tips = (-middle, 0.0), (long - middle, 0.0), (x * x / long - middle, -x * y / long)
    under = [(px * scale * side, py * scale) for px, py in tips]
    over = [(-px, py) for px, py in under]
    base, off = 0.0, off_by(look, scale)
    ends = [sorted((min(x for x, _ in t), max(x for x, _ in t))) for t in (under, over)]
    lower, upper = _clockwise(under), _clockwise(over)
    shapes: list[Shape] = lying(
        [
            ClothLayer(lower, fabrics[1], spot=_showing(lower, upper)),
            ClothLayer(
                upper,
                fabrics[0],
                True,
                spot=_showing(upper, ((ends[1][0], base - off - 1), (ends[1][1], base - off - 1))),
            ),
        ],
        swatches,
    )
    inner = max(ends[0][0], ends[1][0]), min(ends[0][1], ends[1][1])
    shapes += stitched([((inner[0], base - off), (inner[1], base - off))])
    if apart is not None:
        words = look.length(apart)
        for i in (0, 1):
            a, b = sorted((ends[0][i], ends[1][i]))
            shapes += dimension((a, base), (b, base), words, 5.0, 7.0)
    return picture(shapes)


def _opened(
    making: Making, fabrics: tuple[str, str], left: bool, look: Look, swatches: Mapping[str, Swatch]
) -> Picture:
    """The unit opened: what is trimmed off, and the two dots that the seam must pass through."""
    w, h, s = float(making.width), float(making.height), float(look.seam)
    scale = SIDE / (max(w, h) + 2 * s)
    more = _CLEAR / scale if making.recipe.trim_to and making.recipe.sewn else 0.0
    if more:
        more = max(more, _inset(making, look) - s)
    edge = s + more
    outer = tuple((x * scale, y * scale) for x, y in square(w + 2 * edge, -edge, -edge, h + 2 * edge))
    trimmed = tuple((x * scale, y * scale) for x, y in square(w + 2 * s, -s, -s, h + 2 * s))
    dots = [(x * scale, y * scale) for x, y in (((0.0, 0.0), (w, h)) if left else ((0.0, h), (w, 0.0)))]
    shapes: list[Shape] = []
    parts = clipped(outer, dots[1], dots[0]), clipped(outer, dots[0], dots[1])
    for points, fabric in zip(parts, fabrics, strict=True):
        s_ = swatch_for(swatches, fabric)
        shapes.append(Path((points,), fabric=fabric, width=0.9))
        inside = points
        for a, b in zip(trimmed, [*trimmed[1:], trimmed[0]], strict=True):
            inside = clipped(inside, a, b)
        text = label_on(inside, s_.letter, s_.colour)
        shapes += [text] if text else []
    shapes.append(Path((outer,), width=1.1))
    if more:
        shapes += [Path((trimmed,), stroke=PAPER, width=2.4), Path((trimmed,), stroke=INK, width=1.0, dash=SMALL_DASH)]
    shapes += [Circle(x, y, _DOT, PAPER, INK, 0.9) for x, y in dots]
    return picture(shapes)


def _clockwise(points: list[Pt]) -> Triangle:
    return tuple(points if area(points) > 0 else points[::-1])


def _showing(one: Triangle, other: tuple[Pt, ...]) -> Triangle:
    """The largest part of a triangle beyond one side of another outline, or beyond one line."""
    parts = [tuple(clipped(one, b, a)) for a, b in zip(other, [*other[1:], other[0]], strict=True)]
    return max((p for p in parts if len(p) > 2), key=lambda p: abs(area(p)), default=one)


__all__ = ["half_rectangle"]
