"""Templates and paper foundations at true size: 72 points to the inch, exactly."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import hypot

from patternkit.document import Drawing
from patternkit.drawing.geometry import (
    box_fits,
    box_of,
    crosses_box,
    floats,
    grown,
    inside,
    label_spot,
)
from patternkit.drawing.layout import picture, scene_of
from patternkit.drawing.look import LOOK, Look
from patternkit.drawing.scene import (
    INK,
    PAPER,
    SOFT,
    Arrow,
    Box,
    Circle,
    Lettering,
    Path,
    Pt,
    Scene,
    Shape,
    line,
)
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch, swatch_for
from patternkit.lengths import ONE, ZERO
from patternkit.piecing.making import Cloth, Making, Outline, Point
from patternkit.piecing.sewing.along_arcs import corners_of
from patternkit.piecing.sewing.paper import PaperSection
from patternkit.text_widths import ASCENT, CAP, shortened, text_width

INCH = 72.0
SEWING_DASH = (4.0, 2.4)
_HEAD, _BODY = 11.0, 8.5


def _inches(outline: Outline) -> tuple[Pt, ...]:
    return tuple((x * INCH, y * INCH) for x, y in floats(outline))


def _words(
    name: str, fabric: str, count: int | str, mirrored: int, swatches: Mapping[str, Swatch], look: Look
) -> list[tuple[str, float, bool]]:
    """The lines on a template: name, fabric, how many, how many of them mirrored."""
    out = [(name, _HEAD, True)]
    if fabric:
        s = swatch_for(swatches, fabric)
        out.append((f"{s.letter}  {s.title}", _BODY, False))
    cut = look.render("template.cut", n=count)
    if mirrored:
        cut += ", " + look.render("template.mirrored", n=mirrored)
    out.append((cut, _BODY, False))
    return out


def _text_block(words: Sequence[tuple[str, float, bool]], room: Sequence[Pt]) -> tuple[list[Lettering], Box] | None:
    """The lines as a block within an outline; None when they do not fit, even smaller and without long names."""
    for scale, most in ((1.0, 400.0), (0.85, 160.0), (0.75, 90.0)):
        lines = [(shortened(w, size * scale, most, bold), max(size * scale, 6.4), bold) for w, size, bold in words]
        wide = max(text_width(w, size, bold) for w, size, bold in lines)
        high = sum(size * 1.25 for _, size, _ in lines)
        spot = label_spot(room, wide + 6, high + 4)
        if spot:
            return _block_at(lines, spot, wide, high)
    return None


def _block_at(
    lines: Sequence[tuple[str, float, bool]], spot: Pt, wide: float, high: float
) -> tuple[list[Lettering], Box]:
    y = spot[1] - high / 2
    texts = []
    for words, size, bold in lines:
        texts.append(Lettering(spot[0], y + ASCENT * size, words, size, bold=bold, ink=INK))
        y += size * 1.25
    return texts, (spot[0] - wide / 2, spot[1] - high / 2, spot[0] + wide / 2, spot[1] + high / 2)


def _grain_arrow(room: Sequence[Pt], grain: Pt, taken: Sequence[Box]) -> Arrow | None:
    """The longest arrow along the grain that lies within the outline, clear of the texts."""
    long = hypot(*grain)
    if long < 1e-9:
        return None
    ux, uy = grain[0] / long, grain[1] / long
    left, top, right, bottom = box_of(room)
    steps = [i / 16 for i in range(1, 16)]
    for reach in (90.0, 60.0, 40.0, 26.0, 16.0):
        for i in steps:
            for j in steps:
                x, y = left + (right - left) * i, top + (bottom - top) * j
                a, b = (x - ux * reach, y - uy * reach), (x + ux * reach, y + uy * reach)
                if _clear(a, b, room, taken):
                    return Arrow(a, b, INK, 1.0, 6.0, both=True, light=False)
    return None


def _clear(a: Pt, b: Pt, room: Sequence[Pt], taken: Sequence[Box]) -> bool:
    samples = [(a[0] + (b[0] - a[0]) * k / 6, a[1] + (b[1] - a[1]) * k / 6) for k in range(7)]
    return all(box_fits(room, (x - 4, y - 4, x + 4, y + 4)) for x, y in samples) and not any(
        crosses_box(a, b, (t[0] - 4, t[1] - 4, t[2] + 4, t[3] + 4)) for t in taken
    )


def _notch(at: Pt, sewn: Sequence[Pt], raw: Sequence[Pt]) -> list[Shape]:
    """A matching point: a dot on the seam line and a short line from the cut edge to it."""

    def off(a: Pt, b: Pt) -> float:
        dx, dy = b[0] - a[0], b[1] - a[1]
        square = dx * dx + dy * dy or 1.0
        t = min(1.0, max(0.0, ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / square))
        return hypot(at[0] - a[0] - dx * t, at[1] - a[1] - dy * t)

    edges = list(zip(sewn, [*sewn[1:], sewn[0]], strict=False))
    a, b = min(edges, key=lambda e: off(*e))
    long = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    nx, ny = (b[1] - a[1]) / long, -(b[0] - a[0]) / long  # outward
    reach = 0.0
    while reach < 60 and inside((at[0] + nx * (reach + 0.5), at[1] + ny * (reach + 0.5)), raw):
        reach += 0.5
    end = (at[0] + nx * reach, at[1] + ny * reach)
    return [line(end, at, INK, 1.1), Circle(at[0], at[1], 1.6, INK, INK, 0.2)]


def template_scene(
    name: str,
    sewn: Outline,
    raw: Outline,
    swatches: Mapping[str, Swatch] = {},
    look: Look = LOOK,
    *,
    fabric: str = "",
    count: int | str = 1,
    mirrored: int = 0,
    grain: Point = (ONE, ZERO),
    points: Sequence[Point] = (),
) -> Scene:
    """The scene behind `draw_template`."""
    inner, outer = _inches(sewn), _inches(raw)
    shapes: list[Shape] = [Path((outer,), fill=PAPER, width=1.0), Path((inner,), width=0.8, dash=SEWING_DASH)]
    shapes += [Circle(x, y, 1.2, INK, INK, 0.2) for x, y in _inches(corners_of(sewn))]
    for p in points:
        shapes += _notch((float(p[0]) * INCH, float(p[1]) * INCH), inner, outer)
    words = _words(name, fabric, count, mirrored, swatches, look)
    direction = (float(grain[0]), float(grain[1]))
    block = _text_block(words, inner)
    taken = [block[1]] if block else []
    arrow = _grain_arrow(inner, direction, taken)
    left, _, right, foot = box_of(outer)
    if block:
        shapes += block[0]
    else:  # the piece is too small: its words stand under it
        high = sum(size * 1.25 for _, size, _ in words)
        wide = max(text_width(w, size, bold) for w, size, bold in words)
        shapes += _block_at(words, ((left + right) / 2, foot + 5 + high / 2), wide, high)[0]
    if arrow:
        shapes.append(arrow)
    elif hypot(*direction) > 1e-9:
        shapes += _aside(outer, direction, look)
    description = look.render(
        "template.told",
        name=name,
        count=count + mirrored if isinstance(count, int) else count,
        points=look.render("template.points") if points else "",
        fabric=swatch_for(swatches, fabric).title if fabric else look.render("template.any"),
    )
    return scene_of(picture(shapes), look.render("template.title", name=name), description, swatches, true_size=True)


def _aside(outer: Sequence[Pt], grain: Pt, look: Look) -> list[Shape]:
    """The grain arrow at the right of a piece too small to hold it."""
    long = hypot(*grain)
    ux, uy = grain[0] / long * 14, grain[1] / long * 14
    _, top, right, bottom = box_of(outer)
    x, y = right + 22, (top + bottom) / 2
    return [
        Arrow((x - ux, y - uy), (x + ux, y + uy), INK, 1.0, 5.0, both=True, light=False),
        Lettering(x + 18, y + 3, look.render("template.grain"), 7.0, "start", ink=SOFT),
    ]


def draw_template(
    name: str,
    sewn: Outline,
    raw: Outline,
    swatches: Mapping[str, Swatch] = {},
    look: Look = LOOK,
    *,
    fabric: str = "",
    count: int | str = 1,
    mirrored: int = 0,
    grain: Point = (ONE, ZERO),
    points: Sequence[Point] = (),
    key: str = "",
) -> Drawing:
    """A template at true size: the cut edge `raw` solid, the seam line `sewn` dashed, both clockwise outlines in
    inches.

    `count` pieces are cut as drawn (in words where several sizes differ) and `mirrored` more of them turned over;
    `grain` is the direction of the straight grain (a zero vector when nothing is said); `points` are matching points on
    the seam line.
    """
    scene = template_scene(
        name,
        sewn,
        raw,
        swatches,
        look,
        fabric=fabric,
        count=count,
        mirrored=mirrored,
        grain=grain,
        points=points,
    )
    return finished(scene, look.key(key or f"template-{name}"))


def sewing_order(making: Making) -> list[int]:
    """The parts in the order in which they are sewn on; parts that no seam names come last."""
    order: list[int] = []
    for seam in making.seams:
        first, second = sorted((seam.left, seam.right), key=lambda side: (not set(side) & set(order), -len(side), side))
        order += [i for i in (*first, *second) if i not in order]
    return order + [i for i in range(len(making.parts)) if i not in order]


def _whole(making: Making) -> PaperSection:
    """A unit of one section, on one foundation."""
    order = tuple(sewing_order(making))
    fields = (making.parts[i].place.outline(making.parts[i].what.outline) for i in order)
    return PaperSection("", order, making.outline, tuple(fields), ())


def foundation_scene(
    making: Making, swatches: Mapping[str, Swatch], look: Look = LOOK, section: PaperSection | None = None
) -> Scene:
    """The scene behind `draw_foundation`."""
    paper = section or _whole(making)
    right = max(float(x) for x, _ in paper.outline)
    down = min(float(y) for _, y in paper.outline)

    def mirrored(points: Sequence[Pt]) -> tuple[Pt, ...]:
        return tuple(((right - x) * INCH, (y - down) * INCH) for x, y in reversed(points))

    whole = mirrored(floats(paper.outline))
    outer = grown(whole, float(look.seam) * INCH)
    pieces = [mirrored(floats(field)) for field in paper.fields]
    shapes: list[Shape] = [Path((outer,), fill=PAPER, width=1.0), Path(tuple(pieces), width=0.8)]
    shapes += [Path((whole,), stroke=PAPER, width=1.6), Path((whole,), width=0.8, dash=SEWING_DASH)]
    shapes += [Circle(x, y, 2.2, INK, INK, 0.2) for x, y in mirrored(floats(paper.marks))]
    small: list[tuple[str, Pt]] = []
    for n, (index, piece) in enumerate(zip(paper.parts, pieces, strict=True)):
        what, number = making.parts[index].what, paper.label(n)
        letter = f"({swatch_for(swatches, what.fabric).letter})" if isinstance(what, Cloth) else ""
        both = f"{number} {letter}".strip()
        tried = ((words, size) for words in (both, number) for size in (10.0, 8.0, 6.5))
        text = next((t for words, size in tried if (t := _in_piece(piece, words, size))), None)
        if text:
            shapes.append(text)
        else:
            x0, y0, x1, y1 = box_of(piece)
            small.append((both, label_spot(piece, 0.5, 0.5) or ((x0 + x1) / 2, (y0 + y1) / 2)))
    shapes += _outside(small, outer)
    left, _, most, foot = box_of([*outer, *[(t.box[2], t.box[3]) for t in shapes if isinstance(t, Lettering)]])
    name = look.called(making)
    if paper.letter:
        name = look.render("foundation.section", name=name, letter=paper.letter)
    title = shortened(name, 9.0, max(120.0, most - left), True)
    shapes.append(Lettering((left + most) / 2, foot + 16, title, 9.0, bold=True))
    return scene_of(
        picture(shapes),
        look.render("foundation.title", name=name),
        look.render("foundation.told", name=name, n=len(pieces)),
        swatches,
        true_size=True,
    )


def _in_piece(points: Sequence[Pt], words: str, size: float) -> Lettering | None:
    spot = label_spot(points, text_width(words, size, True) + 3, size * 1.02 + 2)
    return Lettering(spot[0], spot[1] + CAP * size / 2, words, size, bold=True) if spot else None


def _outside(labels: Sequence[tuple[str, Pt]], outer: Sequence[Pt]) -> list[Shape]:
    """Numbers of pieces too small to hold them, in a row under the foundation, with fine lines to their pieces."""
    left, _, _, foot = box_of(outer)
    out: list[Shape] = []
    x = left + 10
    for words, at in sorted(labels, key=lambda pair: pair[1][0]):
        wide = text_width(words, 7.0, True)
        out += [
            line((x + wide / 2, foot + 6), at, SOFT, 0.4),
            Circle(at[0], at[1], 0.9, SOFT, SOFT, 0.2),
            Lettering(x, foot + 14, words, 7.0, "start", True),
        ]
        x += wide + 8
    return out


def draw_foundation(
    making: Making,
    swatches: Mapping[str, Swatch],
    look: Look = LOOK,
    section: PaperSection | None = None,
    *,
    key: str = "",
) -> Drawing:
    """A paper foundation at true size, mirrored: a section of a unit (all of it where none is given), its pieces
    numbered in sewing order and lettered by fabric, with dots where a seam between other sections ends."""
    return finished(foundation_scene(making, swatches, look, section), look.key(key or f"foundation-{making.spelled}"))


__all__ = ["INCH", "draw_foundation", "draw_template", "foundation_scene", "sewing_order", "template_scene"]
