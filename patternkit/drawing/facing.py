"""Methods that sew two sheets face to face and cut them apart: half-squares, quarter-squares, geese four at a time."""

from __future__ import annotations

from collections.abc import Mapping

from patternkit.drawing.geometry import area, clipped
from patternkit.drawing.layout import picture
from patternkit.drawing.look import Look
from patternkit.drawing.method_pictures import MethodPicture
from patternkit.drawing.pieces import Leaves
from patternkit.drawing.scene import Path, Pt, Shape
from patternkit.drawing.series import by_groups
from patternkit.drawing.sheets import (
    SIDE,
    ClothLayer,
    Segment,
    beside_line,
    both_sides,
    cut_apart,
    drawn,
    lying,
    pieces_picture,
    reflected,
    square,
    stitched,
)
from patternkit.drawing.swatches import Swatch, luminance, swatch_for
from patternkit.drawing.unit_panel import off_by, unit_panel
from patternkit.piecing.making import Making

_PEEK = 5.0  # how far the lower sheet shows beyond the upper


def _fabrics(making: Making) -> list[str]:
    """The fabrics, first the ones cut first."""
    leaves = [leaf.fabric for leaf in Leaves().of(making)]
    return list(dict.fromkeys([c.fabric for c in making.recipe.cuts] + leaves)) or [""]


def _side(making: Making) -> float:
    """The side of the largest piece to cut, in inches."""
    sizes = [float(max(c.width, c.height)) for c in making.recipe.cuts if c.then in ("", "half", "quarter")]
    return max(sizes, default=float(max(making.width, making.height)) + 1.0)


def _pair(fabrics: list[str], side: float, swatches: Mapping[str, Swatch]) -> list[ClothLayer]:
    """Two squares face to face, the lower one showing a little at the top right; the lighter lies above, for its back
    is the one to draw on."""
    lower, upper = sorted((fabrics[1 % len(fabrics)], fabrics[0]), key=lambda f: _light(f, swatches))
    return [ClothLayer(square(side, _PEEK, -_PEEK), lower, letter=False), ClothLayer(square(side), upper, True)]


def _light(fabric: str, swatches: Mapping[str, Swatch]) -> float:
    return luminance(swatch_for(swatches, fabric).colour)


def half_square(making: Making, swatches: Mapping[str, Swatch], look: Look) -> list[MethodPicture]:
    """Squares face to face: two, four or eight half-squares at a time."""
    makes, side = making.recipe.method.makes, SIDE
    scale = side / _side(making)
    off, top = off_by(look, scale), square(SIDE)
    rising, falling = ((0.0, side), (side, 0.0)), ((0.0, 0.0), (side, side))
    if makes == 4:
        seams = _round_edge(side, off)
        lines: list[Segment] = []
        cuts = [rising, falling]
        words = ("panel.face.edge", "panel.sew.edge", "panel.cut.both")
    elif makes == 8:
        lines = [rising, falling]
        seams = both_sides(lines, off, top)
        cuts = [rising, falling, ((side / 2, 0.0), (side / 2, side)), ((0.0, side / 2), (side, side / 2))]
        words = ("panel.face.two", "panel.sew.both", "panel.cut.all")
    else:
        lines, cuts = [rising], [rising]
        seams = both_sides(lines, off, top)
        words = ("panel.face", "panel.sew.both", "panel.cut.line")
    sheets = _pair(_fabrics(making), side, swatches)
    seam = look.length(look.seam)
    alone = [ClothLayer(top, sheets[1].fabric, True, letter=len(cuts) < 3)]
    if lines:
        spot = _left_of(top, beside_line(rising, -off - 1))
        sheets[1] = ClothLayer(
            top,
            sheets[1].fabric,
            True,
            spot=_left_of(spot, beside_line(falling, -off - 1)) if cuts[1:] else spot,
        )
    laid = [*lying(sheets, swatches), *drawn(lines)]
    return [
        MethodPicture(pieces_picture(making.recipe.cuts, swatches, look), look.say("panel.pieces")),
        MethodPicture(picture(laid), look.say(words[0])),
        MethodPicture(picture([*laid, *stitched(seams)]), look.say(words[1], seam=seam)),
        MethodPicture(picture(cut_apart(alone, cuts, seams, swatches)), look.say(words[2])),
        unit_panel(making, swatches, look, scale),
    ]


def _left_of(points: tuple[Pt, ...], segment: Segment) -> tuple[Pt, ...]:
    return clipped(points, segment[1], segment[0])


def _round_edge(side: float, off: float) -> list[Segment]:
    near, far = off, side - off
    return [
        ((0.0, near), (side, near)),
        ((far, 0.0), (far, side)),
        ((side, far), (0.0, far)),
        ((near, side), (near, 0.0)),
    ]


def quarter_square(making: Making, swatches: Mapping[str, Swatch], look: Look) -> list[MethodPicture]:
    """Quarter-squares and three-patches from pairs of squares: half-squares first, then those face to face."""
    fabrics = _fabrics(making)
    scale = SIDE / _side(making)
    off, seam = off_by(look, scale), look.length(look.seam)
    rising, falling = ((0.0, SIDE), (SIDE, 0.0)), ((0.0, 0.0), (SIDE, SIDE))
    seams = both_sides([rising], off, square(SIDE))
    lower, upper = _pair(fabrics, SIDE, swatches)
    upper = ClothLayer(upper.points, upper.fabric, True, spot=_left_of(upper.points, beside_line(rising, -off - 1)))
    laid = [*lying([lower, upper], swatches), *drawn([rising]), *stitched(seams)]
    small = SIDE * 0.92
    half: list[Shape] = lying(
        [
            ClothLayer(((0, 0), (small, 0), (0, small)), fabrics[0]),
            ClothLayer(((small, 0), (small, small), (0, small)), fabrics[1 % len(fabrics)]),
        ],
        swatches,
    )
    k = small / SIDE
    line = ((falling[0][0] * k, falling[0][1] * k), (falling[1][0] * k, falling[1][1] * k))
    under = [
        ClothLayer(tuple((x + _PEEK, y - _PEEK) for x, y in points), fabric, letter=False)
        for points, fabric in (
            (((0.0, 0.0), (small, 0.0), (0.0, small)), fabrics[0]),
            (((small, 0.0), (small, small), (0.0, small)), fabrics[1 % len(fabrics)]),
        )
    ]
    pair: list[Shape] = [
        *lying(under, swatches),
        *_wrong_half(fabrics, small),
        *drawn([line]),
        *stitched(both_sides([line], off, square(small))),
    ]
    return [
        MethodPicture(pieces_picture(making.recipe.cuts, swatches, look), look.say("panel.pieces")),
        MethodPicture(picture(laid), look.say("panel.face") + ". " + look.say("panel.sew.both", seam=seam)),
        MethodPicture(picture(half), look.say("panel.cut.line") + ". " + look.say("panel.open")),
        MethodPicture(picture(pair), look.say("panel.pair") + ". " + look.say("panel.sew.both", seam=seam)),
        unit_panel(making, swatches, look, scale),
    ]


def _wrong_half(fabrics: list[str], side: float) -> list[Shape]:
    """A half-square seen from its wrong side."""
    return [
        Path((((0, 0), (side, 0), (0, side)),), fabric=fabrics[1 % len(fabrics)], wrong=True, width=0.7),
        Path((((side, 0), (side, side), (0, side)),), fabric=fabrics[0], wrong=True, width=0.7),
        Path((square(side),), width=0.9),
    ]


def geese_four(making: Making, swatches: Mapping[str, Swatch], look: Look) -> list[MethodPicture]:
    """Four flying geese from one large and four small squares."""
    cuts = sorted((c for c in making.recipe.cuts if not c.then), key=lambda c: -float(c.width))
    if len(cuts) < 2:
        return by_groups(making, swatches, look)
    goose, sky = cuts[0].fabric, cuts[-1].fabric
    scale = SIDE / float(cuts[0].width)
    small, off, seam = float(cuts[-1].width) * scale, off_by(look, scale), look.length(look.seam)
    falling = ((0.0, 0.0), (SIDE, SIDE))
    sheets = [
        ClothLayer(square(SIDE), goose, letter=False),
        ClothLayer(square(small), sky, True, False),
        ClothLayer(square(small, SIDE - small, SIDE - small), sky, True, False),
    ]
    seams = both_sides([falling], off, square(SIDE))
    first = [*lying(sheets, swatches), *drawn([falling]), *stitched(seams)]
    heart = _heart(goose, sky, small, off, swatches)
    corner = square(small, SIDE - small, 0.0)
    last = ((SIDE, 0.0), (SIDE - small, small))
    added = [
        *heart,
        *lying([ClothLayer(corner, sky, True, False)], swatches),
        *drawn([last]),
        *stitched(both_sides([last], off, corner)),
    ]
    return [
        MethodPicture(pieces_picture(cuts, swatches, look, stacked=True), look.say("panel.pieces")),
        MethodPicture(picture(first), look.say("panel.small.two") + ". " + look.say("panel.sew.both", seam=seam)),
        MethodPicture(picture(cut_apart(sheets, [falling], seams, swatches)), look.say("panel.cut.line")),
        MethodPicture(picture(heart), look.say("panel.open")),
        MethodPicture(picture(added), look.say("panel.small.one") + ". " + look.say("panel.sew.both", seam=seam)),
        unit_panel(making, swatches, look, scale, "panel.cut.press"),
    ]


def _heart(goose: str, sky: str, small: float, off: float, swatches: Mapping[str, Swatch]) -> list[Shape]:
    """The upper right half after the first seam, its two small triangles opened out."""
    step = off * 2**0.5
    axis: Segment = ((step, 0.0), (SIDE, SIDE - step))  # the stitching, which lies to the right of the cut
    ears: list[ClothLayer] = []
    for x in (0.0, SIDE - small):
        ear: tuple[Pt, ...] = ((x, x), (x + small, x), (x + small, x + small))
        seen = [p for p in (reflected(p, axis) for p in ear)]
        ears.append(ClothLayer(tuple(seen if area(seen) > 0 else seen[::-1]), sky))
    cloth = ((step, 0.0), (SIDE, 0.0), (SIDE, SIDE - step))
    return lying([*[ClothLayer(_below(e.points, axis), e.fabric) for e in ears], ClothLayer(cloth, goose)], swatches)


def _below(points: tuple[Pt, ...], axis: Segment) -> tuple[Pt, ...]:
    """The part of an opened triangle beyond the stitching."""
    return clipped(points, *axis) or points
