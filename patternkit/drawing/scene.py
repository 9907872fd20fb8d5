"""A scene: the shapes of one drawing in points (72 to the inch), x to the right, y down, before they become SVG.

Everything that must be checked by geometry is plain data here: texts know their boxes, arrows their lines, patches
their fabric. `patternkit.drawing.audit` reads a scene, `patternkit.drawing.svg` writes it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal, Union

import msgspec

from patternkit.drawing.swatches import Swatch
from patternkit.text_widths import ASCENT, DESCENT, text_width

Pt = tuple[float, float]
Box = tuple[float, float, float, float]  # left, top, right, bottom

INK = "#22252b"  # near black: outlines, text
SOFT = "#5d646f"  # secondary text and dimension lines; 5.9 to 1 on white
PAPER = "#ffffff"
SEWN = "#c2185b"  # stitching: the one strong colour of the line work; 5.9 to 1 on white
FINE, LINE = 0.4, 0.8  # the two line widths
DASHED, SMALL_DASH = (3.2, 2.0), (2.4, 1.6)

MOST_WIDE, MOST_HIGH = 500.0, 640.0  # a drawing that is not true to size is never larger than this


class Path(msgspec.Struct, frozen=True):
    """Loops (or open lines, when not `closed`) with one fill and one stroke.

    `fabric` fills with that swatch's colour and texture; else `fill` is a colour or "none". `wrong` shows the wrong
    side of the cloth: paler, without its texture.
    """

    loops: tuple[tuple[Pt, ...], ...]
    closed: bool = True
    fabric: str = ""
    wrong: bool = False
    fill: str = "none"
    stroke: str = INK
    width: float = LINE
    dash: tuple[float, ...] = ()


class Circle(msgspec.Struct, frozen=True):
    """A circle: the ground of a number."""

    x: float
    y: float
    r: float
    fill: str = PAPER
    stroke: str = INK
    width: float = LINE


class Arrow(msgspec.Struct, frozen=True):
    """A straight arrow from `start` to `end`; `both` has a head at each end; `light` has a white edge to stand on
    cloth."""

    start: Pt
    end: Pt
    ink: str = INK
    width: float = LINE
    head: float = 5.0
    both: bool = False
    light: bool = True


class Lettering(msgspec.Struct, frozen=True):
    """One line of text; `x`, `y` the anchor on the base line. `ground` is the colour behind it, `halo` its edge's
    width.

    `turned` is 0, or 270 for a text that reads upwards.
    """

    x: float
    y: float
    text: str
    size: float = 8.0
    anchor: Literal["start", "middle", "end"] = "middle"
    bold: bool = False
    ink: str = INK
    ground: str = PAPER
    halo: float = 0.0
    turned: int = 0

    @property
    def box(self) -> Box:
        """The room the text takes."""
        wide = text_width(self.text, self.size, self.bold)
        back = {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        up, down = ASCENT * self.size, DESCENT * self.size
        if self.turned:
            return self.x - up, self.y - wide + back, self.x + down, self.y + back
        return self.x - back, self.y - up, self.x - back + wide, self.y + down


class SymbolUse(msgspec.Struct, frozen=True):
    """A symbol of the scene drawn again, moved."""

    name: str
    dx: float
    dy: float


class ShapeGroup(msgspec.Struct, frozen=True):
    """Shapes moved together."""

    items: tuple[Shape, ...]
    dx: float = 0.0
    dy: float = 0.0


Shape = Union[Path, Circle, Arrow, Lettering, SymbolUse, ShapeGroup]


class Scene(msgspec.Struct, frozen=True):
    """A drawing before it is written: size in points, shapes from back to front, words, and the swatches it may use."""

    width: float
    height: float
    items: tuple[Shape, ...]
    title: str
    description: str
    swatches: dict[str, Swatch] = {}
    symbols: dict[str, tuple[Shape, ...]] = {}
    true_size: bool = False
    texture_scale: float = 1.0


def flat(items: Iterable[Shape], dx: float = 0.0, dy: float = 0.0) -> Iterator[tuple[Shape, float, float]]:
    """Every shape that is not a group, with how far it is moved."""
    for item in items:
        if isinstance(item, ShapeGroup):
            yield from flat(item.items, dx + item.dx, dy + item.dy)
        else:
            yield item, dx, dy


def moved(box: Box, dx: float, dy: float) -> Box:
    """A box moved."""
    return box[0] + dx, box[1] + dy, box[2] + dx, box[3] + dy


def around(boxes: Iterable[Box]) -> Box:
    """The smallest box around all of them; a box of nothing at (0, 0) when there are none."""
    all_ = list(boxes)
    if not all_:
        return 0.0, 0.0, 0.0, 0.0
    return (
        min(b[0] for b in all_),
        min(b[1] for b in all_),
        max(b[2] for b in all_),
        max(b[3] for b in all_),
    )


def _box(shape: Shape) -> Box | None:
    if isinstance(shape, Lettering):
        return shape.box
    if isinstance(shape, Path):
        half = shape.width / 2 if shape.stroke != "none" else 0.0
        xs = [p[0] for loop in shape.loops for p in loop]
        ys = [p[1] for loop in shape.loops for p in loop]
        return (min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half) if xs else None
    if isinstance(shape, Circle):
        r = shape.r + shape.width / 2
        return shape.x - r, shape.y - r, shape.x + r, shape.y + r
    if isinstance(shape, Arrow):
        (x0, y0), (x1, y1), h = shape.start, shape.end, shape.head / 2.5
        return min(x0, x1) - h, min(y0, y1) - h, max(x0, x1) + h, max(y0, y1) + h
    return None


def bounds(items: Iterable[Shape], symbols: dict[str, tuple[Shape, ...]] | None = None) -> Box:
    """The box around all shapes, line widths included."""
    known: dict[str, Box] = {}
    for name, inner in (symbols or {}).items():  # a symbol only uses symbols that stand before it
        known[name] = _bounds(inner, known)
    return _bounds(items, known)


def _bounds(items: Iterable[Shape], known: dict[str, Box]) -> Box:
    found = []
    for shape, dx, dy in flat(items):
        if isinstance(shape, SymbolUse):
            if shape.name in known:
                found.append(moved(known[shape.name], dx + shape.dx, dy + shape.dy))
        elif (box := _box(shape)) is not None:
            found.append(moved(box, dx, dy))
    return around(found)


def line(start: Pt, end: Pt, ink: str = INK, width: float = LINE, dash: tuple[float, ...] = ()) -> Path:
    """A straight line."""
    return Path(((start, end),), closed=False, stroke=ink, width=width, dash=dash)


def seam_line(points: Iterable[Pt]) -> list[Path]:
    """A line of stitching: dashes on a white edge, so that it shows on any cloth."""
    way = tuple(points)
    return [
        Path((way,), closed=False, stroke=PAPER, width=2.6),
        Path((way,), closed=False, stroke=SEWN, width=1.1, dash=DASHED),
    ]


def dimension(start: Pt, end: Pt, text: str, away: float, size: float = 7.5) -> list[Shape]:
    """A dimension line beside the straight edge from `start` to `end` (level or upright), `away` points off it.

    A positive `away` lies to the right or below. The text stands outside the line; an upright one reads upwards.
    """
    level = abs(start[1] - end[1]) < 1e-6
    dx, dy = (0.0, away) if level else (away, 0.0)
    a, b = (start[0] + dx, start[1] + dy), (end[0] + dx, end[1] + dy)
    tick = 2.5
    ticks = [
        line(
            (p[0] - (0 if level else tick), p[1] - (tick if level else 0)),
            (p[0] + (0 if level else tick), p[1] + (tick if level else 0)),
            SOFT,
            FINE,
        )
        for p in (a, b)
    ]
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    if level:
        label = Lettering(x, y + (size + 1.5 if away > 0 else -3), text, size, ink=SOFT)
    else:
        label = Lettering(x + (size + 1.5 if away > 0 else -3.2), y, text, size, ink=SOFT, turned=270)
    return [line(a, b, SOFT, FINE), *ticks, label]
