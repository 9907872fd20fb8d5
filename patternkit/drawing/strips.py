"""A strip unit: strips sewn side by side, the cuts across, and one segment as it is used."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from math import hypot

import msgspec

from patternkit.document import Drawing
from patternkit.drawing.explode import PageSeam, taken_apart
from patternkit.drawing.geometry import box_of
from patternkit.drawing.layout import (
    NORMAL,
    ROOM,
    SMALL,
    Picture,
    below,
    beside,
    picture,
    scene_of,
    spread,
    titled,
)
from patternkit.drawing.look import LOOK, Look
from patternkit.drawing.making import making_picture
from patternkit.drawing.pieces import DrawnPatch, fabric_words, paint
from patternkit.drawing.scene import (
    INK,
    PAPER,
    SOFT,
    Lettering,
    Path,
    Pt,
    Scene,
    Shape,
    dimension,
    line,
)
from patternkit.drawing.steps import becomes, pressing_mark
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch, swatch_for
from patternkit.lengths import ZERO, Length
from patternkit.piecing.making import Making, Side
from patternkit.text_widths import CAP, shortened, text_width

CUT_DASH = (5.0, 2.5)
_LONGEST = 84.0  # a longer segment is drawn shortened, with a mark on its measure
_SEGMENTS = 3  # full segments drawn before the break


class DrawnStrip(msgspec.Struct, frozen=True):
    """One strip as it shows in the strip unit, top to bottom: fabric, finished height and where it lies (inches)."""

    fabric: str
    top: float
    bottom: float
    height: Length
    name: str = ""


def strips_of(making: Making) -> tuple[list[DrawnStrip], list[PageSeam], bool]:
    """The strips in order, the seams between them, and whether the making's strips stand upright (side by side)."""
    members, lines = taken_apart(making, 1.0, lambda _m, _level: False)
    upright = bool(lines) and abs(lines[0].along[1]) > abs(lines[0].along[0])
    found = []
    for member in members:
        left, top, right, bottom = box_of(member.outline)
        low, high = (left, right) if upright else (top, bottom)
        leaf = member.part
        fabric = getattr(leaf, "fabric", "")
        placed = making.parts[member.top]
        points = placed.place.outline(placed.what.outline)
        spans = [p[0 if upright else 1] for p in points]
        found.append(DrawnStrip(fabric, low, high, max(spans) - min(spans), getattr(leaf, "name", "")))
    found.sort(key=lambda s: s.top)
    return found, lines, upright


def _pressings(lines: Sequence[PageSeam], upright: bool) -> list[tuple[float, int]]:
    """For every settled seam its place across the strip unit and the way of its arrow: -1 up, 1 down, 0 open."""
    out = []
    for seam in lines:
        if seam.pressed == "free":
            continue
        at = seam.way[0][0 if upright else 1]
        across = seam.to_right[0 if upright else 1]
        sign = 0.0 if seam.pressed == "open" else across * (1 if seam.pressed == "right" else -1)
        out.append((at, round(sign)))
    return out


def _bands(strips: Sequence[DrawnStrip], scale: float, seam: float) -> list[tuple[DrawnStrip, float, float]]:
    """Strips with their top and bottom on the page; the outer ones show their outer seam allowance too."""
    start = strips[0].top
    bands = []
    for i, strip in enumerate(strips):
        top = (strip.top - start) * scale + (seam if i else 0.0)
        bottom = (strip.bottom - start) * scale + seam * (2 if i == len(strips) - 1 else 1)
        bands.append((strip, top, bottom))
    return bands


def _broken(x: float, top: float, bottom: float) -> list[Pt]:
    """A broken edge from top to bottom."""
    teeth = max(2, round((bottom - top) / 9))
    step = (bottom - top) / (teeth * 2)
    return [(x + (3.0 if i % 2 else -3.0), top + i * step) for i in range(teeth * 2 + 1)]


def _patch(band: tuple[DrawnStrip, float, float], edge: Sequence[Pt]) -> DrawnPatch:
    """A strip as far as the broken edge."""
    strip, top, bottom = band
    right = [p for p in edge if top < p[1] < bottom]
    points = ((0.0, top), (_at(edge, top), top), *right, (_at(edge, bottom), bottom), (0.0, bottom))
    return DrawnPatch(strip.fabric, points)


def unit_picture(
    making: Making,
    swatches: Mapping[str, Swatch],
    look: Look,
    scale: float,
    segments: int = _SEGMENTS,
    cut: Sequence[Length] = (),
    tube: bool = False,
) -> Picture:
    """The sewn strips, broken off at the right, with cut lines, pressing and sizes. `cut` are the widths of the
    segments where there are several; the unit's own otherwise. Of a `tube` a bracket joins the last strip to the first,
    and nothing is pressed yet."""
    strips, lines, upright = strips_of(making)
    seam = float(look.seam) * scale
    widths = list(cut) or [making.recipe.segment or ZERO]
    drawn = [(width, min(float(width) * scale, _LONGEST)) for width in widths for _ in range(segments)]
    edges = list(itertools.accumulate((w for _, w in drawn), initial=0.0))
    marked = 1 if len(drawn) > 1 else 0  # the segment that shows which way the seams are pressed
    long = edges[-1] + 30.0
    bands = _bands(strips, scale, seam)
    foot = bands[-1][2]
    edge = _broken(long, 0.0, foot)
    shapes = paint([_patch(band, edge) for band in bands], 1.0, swatches)
    shapes.append(Path((((0.0, 0.0), *edge, (0.0, foot)),), width=1.1))
    for x in edges[1:]:
        shapes += [
            line((x, -6), (x, foot + 6), PAPER, 3.0),
            line((x, -6), (x, foot + 6), INK, 1.1, CUT_DASH),
        ]
    start = strips[0].top
    for n, (at, way) in enumerate([] if tube else sorted(_pressings(lines, upright))):
        y = (at - start) * scale + seam
        across = (0.0, 1.0)
        side: Side = "open" if way == 0 else "right" if way > 0 else "left"
        shapes += pressing_mark(
            (edges[marked] + drawn[marked][1] * (0.38, 0.62)[n % 2], y),
            across,
            side,
            max(5.0, min(7.0, _least(bands) * 0.55)),
        )
    for n in range(0, len(drawn), segments):
        (width, wide), x = drawn[n], edges[n]
        if width:
            shapes += dimension((x, 0.0), (x + wide, 0.0), look.length(width), -11.0)
        if float(width) * scale > wide:
            shapes += _shortened_mark(x + wide * 0.12, -11.0)
    shapes += _names(making, bands, swatches, look)
    if tube:
        shapes.append(Path((((long + 5, foot), (long + 34, foot), (long + 34, 0.0), (long + 5, 0.0)),), closed=False))
        shapes += [line((long + 10, y + d), (long + 5, y)) for y in (0.0, foot) for d in (-3.0, 3.0)]
    if making.recipe.strip_unit:
        shapes += dimension((long, 0.0), (long, foot), look.length(making.recipe.strip_unit), 12.0)
    return picture(shapes)


def _shortened_mark(x: float, y: float) -> list[Shape]:
    """Two short strokes in a level dimension line whose length is not to scale."""
    gap = Path((((x, y), (x + 4, y)),), closed=False, stroke=PAPER, width=2)
    return [gap, *(line((x + d - 1.5, y + 3), (x + d + 1.5, y - 3), SOFT) for d in (0, 4))]


def _least(bands: Sequence[tuple[DrawnStrip, float, float]]) -> float:
    return min(bottom - top for _, top, bottom in bands)


def _at(edge: Sequence[Pt], y: float) -> float:
    for (x0, y0), (x1, y1) in itertools.pairwise(edge):
        if y0 - 1e-9 <= y <= y1 + 1e-9:
            return x0 + (x1 - x0) * ((y - y0) / (y1 - y0) if y1 > y0 else 0.0)
    return edge[-1][0]


def _names(
    making: Making, bands: Sequence[tuple[DrawnStrip, float, float]], swatches: Mapping[str, Swatch], look: Look
) -> list[Shape]:
    """At the left of each strip its letter, title and cut height, spread so that narrow strips keep theirs apart."""
    heights = {(c.fabric, c.exact_height): c.height for c in making.recipe.cuts if c.then == "strip"}
    step = SMALL * 1.3
    spots = spread([(top + bottom) / 2 for _, top, bottom in bands], step)
    out: list[Shape] = []
    for (strip, top, bottom), y in zip(bands, spots, strict=False):
        s = swatch_for(swatches, strip.fabric)
        cut = heights.get((strip.fabric, strip.height + look.seam * 2), strip.height + look.seam * 2)
        words = look.render("strips.cut", height=look.length(cut))
        title = shortened(s.title, SMALL, 118 - text_width(words, SMALL))
        text = f"{s.letter}  {title}, {words}"
        out.append(Lettering(-13.0, y + CAP * SMALL / 2, text, SMALL, "end", ink=INK))
        out.append(
            Path(
                (((-10.5, y), (-6.0, (top + bottom) / 2), (-1.0, (top + bottom) / 2)),),
                closed=False,
                stroke=SOFT,
                width=0.4,
            )
        )
    return out


def _laid(
    making: Making, swatches: Mapping[str, Swatch], look: Look, full: float, cut: Sequence[Length], tube: bool
) -> Picture:
    """Strip unit and segment beside each other where that leaves them large enough, else under each other."""
    size = look.render("measures", size=look.raw(making.width, making.height))

    def used(at: float) -> Picture:
        fitting = min(at, 150.0 / float(max(making.width, making.height)))
        return titled(making_picture(making, swatches, fitting)[0], size, NORMAL, lines=2)

    for shrink, segments in itertools.product((1.0, 0.9, 0.8, 0.7), (_SEGMENTS, 2) if len(cut) < 2 else (2, 1)):
        at = full * shrink
        pic = beside([unit_picture(making, swatches, look, at, segments, cut, tube), becomes(), used(at)], 14.0)
        if pic.width <= ROOM and pic.height < 560:
            return pic
    at = full
    while True:
        pic = below([unit_picture(making, swatches, look, at, 2 if len(cut) < 2 else 1, cut, tube), used(at)], 14.0)
        if (pic.width <= ROOM and pic.height < 560) or at < full * 0.02:
            return pic
        at *= 0.92


def strips_scene(
    making: Making,
    swatches: Mapping[str, Swatch],
    look: Look = LOOK,
    *,
    scale: float | None = None,
    small: bool = False,
    cut: Sequence[Length] = (),
    tube: bool = False,
) -> Scene:
    """The scene behind `draw_strips`."""
    if not making.recipe.segment:
        raise ValueError(f"{making.spelled} is not cut from a strip unit")
    strips, _, _ = strips_of(making)
    least = min(s.bottom - s.top for s in strips)
    whole = hypot(float(making.width), float(making.height))
    full = scale or min(max(14.0 / least, 20.0), 36.0, max(260.0 / whole, 14.0 / least))
    if small:
        full = max(full * 0.6, min(full, 12.0 / least))
    pic = _laid(making, swatches, look, full, cut, tube)
    description = look.render(
        "strips.tube" if tube else "strips.told",
        n=len(strips),
        segment=look.list([look.length(width) for width in cut or (making.recipe.segment,)]),
        fabrics=fabric_words([s.fabric for s in strips], swatches, look),
    )
    return scene_of(pic, look.render("strips.title", name=look.called(making)), description, swatches)


def draw_strips(
    making: Making,
    swatches: Mapping[str, Swatch],
    look: Look = LOOK,
    *,
    key: str = "",
    scale: float | None = None,
    small: bool = False,
    cut: Sequence[Length] = (),
    tube: bool = False,
) -> Drawing:
    """A strip unit with its names, pressing, cut lines and segment size, and beside it the segment.

    `cut` are the widths of its segments where it is cut into several, as rings where it is a `tube`. The making's
    recipe must give a `segment`; raises ValueError where it does not.
    """
    return finished(
        strips_scene(making, swatches, look, scale=scale, small=small, cut=cut, tube=tube),
        look.key(key or f"strips-{making.spelled}"),
    )


__all__ = ["DrawnStrip", "draw_strips", "strips_of", "strips_scene"]
