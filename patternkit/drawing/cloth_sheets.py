"""One bought piece of cloth (a fat quarter, a square, a strip) and how it is cut, to scale."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from patternkit.document import Drawing
from patternkit.drawing.cuts import SPARE, explained, plate, pointer, scaled, small_letter
from patternkit.drawing.layout import SMALL, Picture, below, caption, picture, scene_of, spread
from patternkit.drawing.look import LOOK, Look
from patternkit.drawing.pieces import edge_of, label_on
from patternkit.drawing.scene import INK, Path, Pt, Scene, Shape, ShapeGroup, dimension
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch, swatch_for
from patternkit.lengths import Length

_SIDE = 146.0  # the longer side of a piece, in points, so that two stand beside each other
_LONG = 380.0  # that of a piece more than three times as long as it is high
_SIZES = (7.5, 6.5)
_NOTE = 46.0  # room for the words beside a band, in two lines
_CUT, _BAND = 0.6, 1.1  # widths of the lines: cuts within a strip, cuts of strips


class PieceRun(msgspec.Struct, frozen=True):
    """`count` equal pieces one after the other in a band: `along` it and from `side` to side as they lie.

    `size` is what a piece measures in the words of the booklet, `label` what it is for; `outlines` are the shapes that
    are cut side by side in each. All in inches.
    """

    label: str
    count: int
    along: Length
    side: Length
    size: str
    outlines: tuple[tuple[Pt, ...], ...] = ()

    @property
    def number(self) -> int:
        """How many pieces come of it."""
        return self.count * max(1, len(self.outlines))


class DrawnBand(msgspec.Struct, frozen=True):
    """`copies` equal strips cut off what remains: `across` they are `size` high, else `size` wide; each is cut into
    `runs` from the left, or from the top."""

    across: bool
    size: Length
    copies: int
    runs: tuple[PieceRun, ...]


class SheetCut(msgspec.Struct, frozen=True):
    """One piece of a fabric, width and height in inches, and its bands in the order in which they are cut; `title`
    stands under it."""

    fabric: str
    width: Length
    height: Length
    bands: tuple[DrawnBand, ...]
    title: str = ""


def is_long(sheet: SheetCut) -> bool:
    """Whether a piece is more than three times as long as it is high, and takes the page's width."""
    return max(sheet.width, sheet.height) > min(sheet.width, sheet.height) * 3


def draw_sheet(sheet: SheetCut, swatches: Mapping[str, Swatch], look: Look = LOOK, *, key: str = "") -> Drawing:
    """A bought piece of cloth to scale: its strips with their sizes beside them, the pieces in them, what is left
    over."""
    return finished(sheet_scene(sheet, swatches, look), look.key(key or f"sheet-{sheet.fabric}"))


def sheet_scene(sheet: SheetCut, swatches: Mapping[str, Swatch], look: Look = LOOK) -> Scene:
    """The scene behind `draw_sheet`."""
    drawn = _Drawn(sheet, swatches, look)
    parts = [drawn.whole()]
    if drawn.keys:
        parts.append(explained(drawn.keys, max(parts[0].width, 200.0)))
    if sheet.title:
        parts.append(caption(sheet.title, max(parts[0].width, 120.0)))
    swatch = drawn.swatch
    bands = [
        look.render("cuts.row", n=look.many("strip", band.copies), size=look.length(band.size))
        + f" ({'; '.join(look.render('cuts.piece', n=r.number, name=r.label, size=r.size) for r in band.runs)})"
        for band in sheet.bands
    ]
    description = look.render(
        "cuts.sheet_told",
        name=swatch.title,
        letter=swatch.letter,
        size=look.size(sheet.width, sheet.height),
        list="; ".join(bands) or look.render("cuts.none"),
    )
    return scene_of(below(parts, 6.0), look.render("cuts.title", name=swatch.title), description, swatches)


class _Drawn:
    """Builds the shapes of one piece of cloth."""

    def __init__(self, sheet: SheetCut, swatches: Mapping[str, Swatch], look: Look) -> None:
        self.sheet, self.look = sheet, look
        self.swatch = swatch_for(swatches, sheet.fabric)
        wide, high = float(sheet.width), float(sheet.height)
        longer = max(wide, high, 1e-6)
        self.scale = (_LONG if is_long(sheet) else _SIDE) / longer
        self.wide, self.high = wide * self.scale, high * self.scale
        self.shapes: list[Shape] = []
        self.labels: list[Shape] = []
        self.keys: dict[tuple[str, str], str] = {}
        self.beside: list[tuple[float, str]] = []  # at the left of bands across, by their middles
        self.under: list[tuple[float, str]] = []  # under bands down

    def whole(self) -> Picture:
        """The cloth with its bands, then the words on and beside it."""
        self.shapes.append(Path((_box(0, 0, self.wide, self.high),), fill=SPARE, stroke="none"))
        x = y = 0.0
        for band in self.sheet.bands:
            depth = float(band.size) * self.scale
            for copy in range(band.copies):
                at = depth * copy
                self.strip(band, *((x, y + at) if band.across else (x + at, y)))
            self.words(band, x, y)
            words = self.look.render(
                "cuts.row", n=self.look.many("strip", band.copies), size=self.look.length(band.size)
            )
            taken = depth * band.copies
            if band.across:
                self.beside.append((y + taken / 2, words))
                y += taken
            else:
                self.under.append((x + taken / 2, words))
                x += taken
        if text := label_on(
            _box(x, y, self.wide, self.high), self.look.render("cuts.spare"), SPARE, _SIZES[1:], bold=False
        ):
            self.labels.append(text)
        self.shapes.append(Path((_box(0, 0, self.wide, self.high),), width=_BAND))
        self.notes()
        size = self.look.length
        self.shapes += dimension((0, 0), (self.wide, 0), size(self.sheet.width), -6.0)
        self.shapes += dimension((self.wide, 0), (self.wide, self.high), size(self.sheet.height), 6.0)
        return picture([*self.shapes, *self.labels])

    def strip(self, band: DrawnBand, x: float, y: float) -> None:
        """One strip of a band with its pieces; what a piece leaves of the strip stays shaded."""
        depth, at = float(band.size) * self.scale, 0.0
        loops = []
        for run in band.runs:
            along, side = float(run.along) * self.scale, float(run.side) * self.scale
            for _ in range(run.count):
                corner = (x + at, y) if band.across else (x, y + at)
                end = (along, side) if band.across else (side, along)
                rings = (
                    run.outlines if band.across else [[(float(run.side) - q, p) for p, q in o] for o in run.outlines]
                )
                loops += scaled(rings, corner, (self.scale, self.scale)) or [
                    _box(*corner, corner[0] + end[0], corner[1] + end[1])
                ]
                at += along
        if loops:
            edge = edge_of(self.swatch.colour)
            self.shapes.append(Path(tuple(loops), fabric=self.sheet.fabric, stroke=edge, width=_CUT))
        corner = (self.wide, y + depth) if band.across else (x + depth, self.high)
        self.shapes.append(Path((_box(x, y, *corner),), width=_BAND))

    def words(self, band: DrawnBand, x: float, y: float) -> None:
        """What the pieces are, over all strips of a band; a letter, explained below, where there is no room."""
        at = 0.0
        for run in band.runs:
            along = float(run.along) * self.scale * run.count
            # trimmed pieces leave a gap to the next strip: their words stand in the first
            deep = float(run.side) * self.scale * (band.copies if run.side == band.size else 1)
            area = (
                _box(x + at, y, x + at + along, y + deep) if band.across else _box(x, y + at, x + deep, y + at + along)
            )
            n = run.number * band.copies
            words = self.look.render("cuts.piece", n=n, name=run.label, size=run.size) if run.label else run.size
            text = label_on(area, words, self.swatch.colour, _SIZES, bold=False)
            if text is None:
                key = self.keys.setdefault((run.label, run.size), small_letter(len(self.keys)))
                text = label_on(area, key, self.swatch.colour, _SIZES)
            if text is not None:
                self.labels += [plate(text, self.swatch.colour), text]
            at += along

    def notes(self) -> None:
        """How many strips and how wide: at the left of those across, under those down, with fine lines to them."""
        captions = [(at, caption(words, _NOTE, SMALL, lines=2, ink=INK)) for at, words in self.beside]
        step = max((c.height for _, c in captions), default=0.0) + 2.0
        for (at, note), y in zip(captions, spread([at for at, _ in captions], step), strict=True):
            self.shapes.append(ShapeGroup(note.items, -14.0 - note.width, y - note.height / 2))
            self.shapes.append(pointer(-12.0, y, -1.5, at))
        captions = [(at, caption(words, _NOTE, SMALL, lines=2, ink=INK)) for at, words in self.under]
        step = max((c.width for _, c in captions), default=0.0) + 6.0
        for (at, note), x in zip(captions, spread([at for at, _ in captions], step), strict=True):
            self.shapes.append(ShapeGroup(note.items, x - note.width / 2, self.high + 11.0))
            bend = self.high + 6.0
            line = ((at, self.high + 1.5), (at, bend - 2), (x, self.high + 10.0))
            self.shapes.append(Path((line,), closed=False, stroke=INK, width=0.4))


def _box(x0: float, y0: float, x1: float, y1: float) -> tuple[Pt, ...]:
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1)


__all__ = ["DrawnBand", "PieceRun", "SheetCut", "draw_sheet", "sheet_scene"]
