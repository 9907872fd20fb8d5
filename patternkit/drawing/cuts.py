"""One fabric's cutting drawing: the cloth to scale, strips from the top, the pieces in them, what is left over
shaded."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import msgspec

from patternkit.document import Drawing
from patternkit.drawing.layout import (
    MARGIN,
    ROOM,
    SMALL,
    Picture,
    below,
    in_columns,
    picture,
    scene_of,
    spread,
)
from patternkit.drawing.look import LOOK, Look
from patternkit.drawing.pieces import chips_on, edge_of, label_on
from patternkit.drawing.scene import (
    INK,
    MOST_HIGH,
    PAPER,
    SOFT,
    Lettering,
    Path,
    Pt,
    Scene,
    Shape,
    dimension,
)
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch, swatch_for
from patternkit.english import letters
from patternkit.lengths import Length
from patternkit.text_widths import CAP, shortened, text_width

SPARE = "#e6e8ec"
_LEFT, _RIGHT = 92.0, 26.0  # room beside the cloth, for strips and keys
_LABEL = 150.0  # how long the name of a strip may be: its size must not be cut off
WIDE = 0.66  # how much of the room the cloth takes: a page should hold the cuts of several fabrics
_SIZES = (7.5, 6.5)
_STEP, _DOWN = SMALL * 1.3, CAP * SMALL / 2  # from label to label; from its middle to its base line
_MOST_CLOTH = 380.0  # points: cloth is drawn no longer, so that its table stands on the same page
_BESIDE = 0.6  # of that, where leftovers of the cloth are drawn under it
_REPEAT = 8.0  # the broken band that stands for further equal strips


class DrawnCut(msgspec.Struct, frozen=True):
    """`count` equal pieces side by side in one strip, `high` of them one above the other; raw sizes in inches.

    They are then cut corner to corner in so many `ways`; `leans` is the diagonal, as they lie, along which rectangles
    are halved: right from lower left to upper right. `outlines` are the shapes that are cut side by side in each, from
    its left upper corner, each of a `size`. A piece with a `code` bears it, any other is told with its label, count and
    size.
    """

    label: str
    count: int
    width: Length
    height: Length
    high: int = 1
    leans: str = ""
    outlines: tuple[tuple[Pt, ...], ...] = ()
    size: tuple[Length, Length] | None = None
    code: str = ""
    ways: int = 0

    @property
    def number(self) -> int:
        """How many pieces come of it."""
        return self.count * max(1, len(self.outlines))

    @property
    def measures(self) -> tuple[Length, Length]:
        """The size of one of the pieces."""
        return self.size or (self.width, self.height)


class DrawnRow(msgspec.Struct, frozen=True):
    """A row of a segment, `height` high, cut into `pieces` from the left."""

    height: Length
    pieces: tuple[DrawnCut, ...]


class DrawnSegment(msgspec.Struct, frozen=True):
    """A length of a strip, `width` long, cut into rows from the top."""

    width: Length
    rows: tuple[DrawnRow, ...]


class StripCut(msgspec.Struct, frozen=True):
    """`copies` equal strips of a height (`apart`: a length in which pieces lie apart, round motifs), each cut into
    `pieces` from the left and then into segments that are cut into rows; `whole` when it is used as it is. What is left
    over is kept as the leftover of the label `keeps`, if there is one; of so many of them (`joined`) it is joined to
    other strips."""

    height: Length
    copies: int
    pieces: tuple[DrawnCut, ...] = ()
    whole: bool = False
    segments: tuple[DrawnSegment, ...] = ()
    apart: bool = False
    keeps: str = ""
    joined: int = 0


class ClothCut(msgspec.Struct, frozen=True):
    """One fabric's cutting: its usable width and the strips from the top; `length` is the cloth to buy, when settled.
    Or that of the leftover of the label `rest`, and its width."""

    fabric: str
    width: Length
    strips: tuple[StripCut, ...]
    length: Length | None = None
    rest: str = ""


class _Row(msgspec.Struct, frozen=True):
    """A strip on the page: top, height drawn, and whether it is broken (drawn lower than it is)."""

    strip: StripCut
    top: float
    high: float
    broken: bool


class _Laid(NamedTuple):
    """What lies in a strip: outlines, runs of alike pieces with the area that each takes and the outlines in it, lines
    along which to halve."""

    loops: list[tuple[Pt, ...]]
    runs: list[tuple[DrawnCut, tuple[Pt, ...], Sequence[tuple[Pt, ...]]]]
    halved: list[tuple[Pt, ...]]


def _rows(cloth: ClothCut, scale: float, room: float) -> tuple[list[_Row], float, int]:
    """The strips with their places, the foot, and how many strips are not drawn because there are too many."""
    strips = list(cloth.strips)
    heights = [max(float(s.height) * scale, 4.0) for s in strips]
    fixed = [(_REPEAT if s.copies > 1 else 0.0) for s in strips]
    hidden = 0
    while sum(fixed) + 12.0 * len(strips) > room and len(strips) > 1:  # only the first strips can be shown
        hidden += strips.pop().copies
        heights.pop()
        fixed.pop()
    cap = max(heights, default=0.0)
    while sum(min(h, cap) for h in heights) + sum(fixed) > room and cap > 12.0:
        cap *= 0.95
    rows, y = [], 0.0
    for strip, high, extra in zip(strips, heights, fixed, strict=False):
        rows.append(_Row(strip, y, min(high, cap), high > cap + 0.5))
        y += min(high, cap) + extra
    return rows, y, hidden


def _zigzag(x0: float, x1: float, y: float) -> list[Pt]:
    teeth = max(4, round((x1 - x0) / 14))
    step = (x1 - x0) / teeth
    return [(x0 + i * step, y + (1.8 if i % 2 else -1.8)) for i in range(teeth + 1)]


class _Sheet:
    """Builds the shapes of one cloth."""

    def __init__(self, cloth: ClothCut, swatches: Mapping[str, Swatch], look: Look, scale: float) -> None:
        self.cloth, self.look, self.scale = cloth, look, scale
        self.swatch = swatch_for(swatches, cloth.fabric)
        self.wide = float(cloth.width) * scale
        self.shapes: list[Shape] = []
        self.keys: dict[tuple[str, str], str] = {}
        self.outside: list[tuple[float, str]] = []  # letters of pieces that hold none, by height

    def cell(self, x0: float, y0: float, x1: float, y1: float) -> tuple[Pt, ...]:
        return (x0, y0), (x1, y0), (x1, y1), (x0, y1)

    def row(self, row: _Row) -> None:
        """One strip: pieces, what is left over, a break in it when it is too high to show, and further copies."""
        y0, y1 = row.top, row.top + row.high
        tall = row.high / max(float(row.strip.height), 1e-9)
        spare = self.cell(0, y0, self.wide, y1)
        self.shapes.append(Path((spare,), fill="none" if row.strip.whole else SPARE, stroke="none"))
        laid = _Laid([], [], [])
        x = self.lay(row.strip.pieces, (0.0, y0), row, laid)
        segments: list[tuple[Pt, ...]] = []
        for segment in row.strip.segments:
            top, wide = y0, float(segment.width) * self.scale
            for inner in segment.rows:
                self.lay(inner.pieces, (x, top), row, laid)
                top += float(inner.height) * tall
            segments += [] if row.strip.apart else [self.cell(x, y0, min(x + wide, self.wide), y1)]
            x += wide
        if row.strip.whole:
            laid.loops.append(spare)
            x = self.wide
        if laid.loops:
            edge = edge_of(self.swatch.colour)
            self.shapes.append(Path(tuple(laid.loops), fabric=self.cloth.fabric, stroke=edge, width=0.6))
            if laid.halved:
                self.shapes.append(Path(tuple(laid.halved), closed=False, stroke=edge, width=0.6))
        self.shapes.append(Path((spare, *segments), width=1.1))
        if row.broken and row.high > 16:
            middle = (y0 + y1) / 2
            self.shapes += [
                Path((tuple(_zigzag(0, self.wide, middle)),), closed=False, stroke=PAPER, width=4.0),
                *(
                    Path((tuple(_zigzag(0, self.wide, middle + d)),), closed=False, stroke=SOFT, width=0.6)
                    for d in (-2.0, 2.0)
                ),
            ]
        outside = [key for run in laid.runs if (key := self.label(*run, row))]
        if outside:
            self.outside.append(((y0 + y1) / 2, ", ".join(dict.fromkeys(outside))))
        if self.wide - x > 30 and not row.strip.whole:
            room = self.cell(x, y0, self.wide, y1 if not row.broken else (y0 + y1) / 2 - 5)
            text = label_on(room, self.rest(row.strip), SPARE, _SIZES[1:], bold=False)
            self.shapes += [text] if text else []
        if row.strip.copies > 1:
            self.repeat(y1)

    def rest(self, strip: StripCut) -> str:
        """What becomes of what a strip leaves at its end."""
        if strip.keeps:
            return self.look.render("cuts.rest", label=strip.keeps)
        if strip.joined >= strip.copies:
            return self.look.render("cuts.joined")
        return self.look.render("cuts.some_joined" if strip.joined else "cuts.spare", n=strip.joined)

    def lay(self, pieces: Sequence[DrawnCut], corner: Pt, row: _Row, laid: _Laid) -> float:
        """Lay pieces from a corner to the right, in a strip or in a row of it; gives where they end."""
        (x, y0), y1 = corner, row.top + row.high
        tall = row.high / max(float(row.strip.height), 1e-9)
        for piece in pieces:
            w, h, high = float(piece.width) * self.scale, float(piece.height) * tall, max(1, piece.high)
            columns, first = -(-piece.count // high), len(laid.loops)
            for n in range(piece.count):
                left, top = x + (n // high) * w, y0 + (n % high) * h
                if top > y1 - 0.5:
                    continue
                if left > self.wide - 0.5:  # more than the strip holds: such a plan is a problem elsewhere
                    break
                if piece.outlines:
                    laid.loops.extend(scaled(piece.outlines, (left, top), (self.scale, tall)))
                    continue
                laid.loops.append(self.cell(left, top, min(left + w, self.wide), min(top + h, y1)))
                if piece.ways and not row.broken:
                    laid.halved.extend(_diagonals(laid.loops[-1], piece.ways, piece.leans))
            if x < self.wide - 0.5:
                area = self.cell(x, y0, min(x + columns * w, self.wide), min(y0 + h, y1))
                laid.runs.append((piece, area, laid.loops[first:]))
            x += columns * w
        return x

    def repeat(self, y: float) -> None:
        """A broken band under a strip that is cut more than once."""
        foot = y + _REPEAT
        self.shapes += [
            Path((self.cell(0, y, self.wide, foot),), fill=PAPER, width=1.1),
            Path((tuple(_zigzag(0, self.wide, y + _REPEAT / 2)),), closed=False, stroke=SOFT, width=0.7),
        ]

    def label(self, piece: DrawnCut, area: tuple[Pt, ...], cells: Sequence[tuple[Pt, ...]], row: _Row) -> str:
        """The code on each piece, or words on a run of pieces without one, where they fit. What to write beside the
        cloth where they do not: the code, or a small letter that is explained under it."""
        if row.broken:
            half = (row.top + row.top + row.high) / 2 - 5
            area, *cells = (tuple((x, min(y, half)) for x, y in one) for one in (area, *cells))
        if piece.code:
            chips = chips_on(cells, piece.code) or chips_on([area], piece.code)
            self.shapes += chips
            return "" if chips else piece.code
        size = self.look.size(*piece.measures)
        for words in (
            self.look.render("cuts.piece", n=piece.number, name=piece.label, size=size) if piece.label else size,
        ):
            if text := label_on(area, words, self.swatch.colour, _SIZES, bold=False):
                self.shapes += [plate(text, self.swatch.colour), text]
                return ""
        key = self.keys.setdefault((piece.label, size), small_letter(len(self.keys)))
        if text := label_on(area, key, self.swatch.colour, _SIZES):
            self.shapes += [plate(text, self.swatch.colour), text]
            return ""
        return key

    def names(self, rows: Sequence[_Row]) -> None:
        """How many strips and how high at the left, letters at the right, with fine lines to the strips."""
        for (middle, words), y in zip(self.outside, spread([y for y, _ in self.outside], _STEP), strict=True):
            self.shapes.append(Lettering(self.wide + 12, y + _DOWN, words, SMALL, "start", ink=INK))
            self.shapes.append(pointer(self.wide + 10, y, self.wide + 1.5, middle))
        places = spread([r.top + r.high / 2 for r in rows], _STEP)
        for row, y in zip(rows, places, strict=False):
            words = self.look.render(
                "cuts.row",
                n=self.look.many("strip", row.strip.copies),
                size=self.look.length(row.strip.height),
            )
            short = shortened(words, SMALL, _LABEL)
            self.shapes.append(Lettering(-14.0, y + _DOWN, short, SMALL, "end", ink=INK))
            self.shapes.append(pointer(-12.0, y, -1.5, row.top + row.high / 2))


def scaled(outlines: Sequence[Sequence[Pt]], corner: Pt, scale: Pt) -> list[tuple[Pt, ...]]:
    """Outlines in points, from a corner."""
    return [tuple((corner[0] + x * scale[0], corner[1] + y * scale[1]) for x, y in ring) for ring in outlines]


def _diagonals(cell: Sequence[Pt], ways: int, leans: str) -> list[tuple[Pt, ...]]:
    """The lines along which a rectangle is halved, or quartered."""
    both: list[tuple[Pt, ...]] = [(cell[3], cell[1]), (cell[0], cell[2])]
    return both if ways > 1 else both[1:] if leans == "left" else both[:1]


def plate(text: Lettering, ground: str) -> Path:
    """Plain ground under words, so that the cuts do not run through them."""
    half = text_width(text.text, text.size, text.bold) / 2 + 1.2
    top, foot = text.y - CAP * text.size - 1.4, text.y + 0.24 * text.size
    loop = ((text.x - half, top), (text.x + half, top), (text.x + half, foot), (text.x - half, foot))
    return Path((loop,), fill=ground, stroke="none")


def pointer(x: float, y: float, to_x: float, to_y: float) -> Path:
    """A fine line from a label to its strip, with a bend where the label had to move."""
    bend = (x + to_x) / 2
    return Path((((x, y), (bend, to_y), (to_x, to_y)),), closed=False, stroke=SOFT, width=0.4)


def small_letter(index: int) -> str:
    """a, b, c ... by index from 0."""
    return letters(index).lower()


def explained(keys: Mapping[tuple[str, str], str], room: float) -> Picture:
    """The letters of pieces that hold no words, by label and size, with what they stand for."""
    entries: list[tuple[Shape, ...]] = []
    wide = 0.0
    for (label, size), key in keys.items():
        numbers = f", {size}"  # of a long name the end may be missing, never a number
        words = shortened(label, SMALL, 200.0 - text_width(numbers, SMALL)) + numbers if label else size
        wide = max(wide, text_width(words, SMALL) + 16)
        entries.append((Lettering(0, 8, key, SMALL, "start", True), Lettering(14, 8, words, SMALL, "start")))
    return in_columns([Picture(entry, wide, 11.0) for entry in entries], room, 16.0)


def cuts_scene(cloth: ClothCut, swatches: Mapping[str, Swatch], look: Look = LOOK, share: float = WIDE) -> Scene:
    """The scene behind `draw_cuts`."""
    scale = min((ROOM - _LEFT - _RIGHT) * share / max(float(cloth.width), 1e-6), 24.0)
    most = MOST_HIGH - 2 * MARGIN
    room = _MOST_CLOTH * (_BESIDE if any(strip.keeps for strip in cloth.strips) else 1)
    while True:
        sheet, pic = _drawn(cloth, swatches, look, scale, room)
        whole = below([pic, explained(sheet.keys, ROOM)], 8.0) if sheet.keys else pic
        if whole.width > ROOM and scale > 0.5:  # many letters beside a strip
            scale *= min(0.97, 1 - (whole.width - ROOM) / (sheet.wide + 1) * 0.9)
        elif whole.height > most and room > 60:  # many letters to explain
            room -= max(10.0, (whole.height - most) * 0.5)
        else:
            break
    listed = [
        look.render("cuts.row", n=look.many("strip", s.copies), size=look.length(s.height)) + _contents(s, look)
        for s in cloth.strips
    ]
    swatch = sheet.swatch
    description = look.render(
        "cuts.rest_told" if cloth.rest else "cuts.told",
        label=cloth.rest,
        name=swatch.title,
        letter=swatch.letter,
        width=look.length(cloth.width),
        list="; ".join(listed[:12]) or look.render("cuts.none"),
    )
    return scene_of(whole, look.render("cuts.title", name=swatch.title), description, swatches)


def _drawn(
    cloth: ClothCut, swatches: Mapping[str, Swatch], look: Look, scale: float, room: float
) -> tuple[_Sheet, Picture]:
    rows, foot, hidden = _rows(cloth, scale, room)
    sheet = _Sheet(cloth, swatches, look, scale)
    for row in rows:
        sheet.row(row)
    sheet.names(rows)
    width = look.render(
        "cuts.rest_width" if cloth.rest else "cuts.width", label=cloth.rest, width=look.length(cloth.width)
    )
    sheet.shapes += dimension((0.0, 0.0), (sheet.wide, 0.0), width, -8.0)
    if hidden:
        sheet.shapes.append(Lettering(sheet.wide / 2, foot + 12, look.render("cuts.more", n=hidden), SMALL, ink=SOFT))
    return sheet, picture(sheet.shapes)


def _contents(strip: StripCut, look: Look) -> str:
    if strip.whole:
        return f" ({look.render('cuts.whole')})"
    rows = [row.pieces for segment in strip.segments for row in segment.rows]
    if strip.apart:
        rows = [(msgspec.structs.replace(rows[0][0], count=len(rows)),)]
    inner = [
        look.render("cuts.piece", n=p.number, name=p.label, size=look.size(*p.measures))
        for pieces in (strip.pieces, *rows)
        for p in pieces
    ]
    return f" ({'; '.join(inner)})" if inner else ""


def draw_cuts(
    cloth: ClothCut, swatches: Mapping[str, Swatch], look: Look = LOOK, *, key: str = "", share: float = WIDE
) -> Drawing:
    """How one fabric is cut, to scale across its width; the cloth takes a `share` of the page's.

    Strips cut more than once are drawn once with a broken band under them; strips too high for the page are broken; a
    piece too small for its words bears a small letter that is explained under the cloth.
    """
    return finished(cuts_scene(cloth, swatches, look, share), look.key(key or f"cuts-{cloth.fabric}"))


__all__ = ["WIDE", "ClothCut", "DrawnCut", "DrawnRow", "DrawnSegment", "StripCut", "cuts_scene", "draw_cuts"]
