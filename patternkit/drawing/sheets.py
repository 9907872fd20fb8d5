"""Sheets of cloth on the table, as the method pictures need them: lying, turned over, sewn through, cut apart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import hypot

import msgspec

from patternkit.drawing.layout import Picture, below, beside, picture, titled, wrap
from patternkit.drawing.look import Look
from patternkit.drawing.pieces import chips_on, edge_of, label_on
from patternkit.drawing.scene import INK, PAPER, Circle, Path, Pt, Shape, line, seam_line
from patternkit.drawing.swatches import Swatch, swatch_for
from patternkit.piecing.making import PieceCut

Segment = tuple[Pt, Pt]
CUT_DASH = (4.5, 2.2)
SIDE = 68.0  # how large a sheet is drawn, in points


class ClothLayer(msgspec.Struct, frozen=True):
    """One layer of cloth: convex outline clockwise in points, fabric, wrong side up or not, and its letter or none; a
    piece that was cut bears its `code` instead, if it has one.

    `spot` is the part where the letter may stand, clear of lines; everywhere when empty.
    """

    points: tuple[Pt, ...]
    fabric: str
    wrong: bool = False
    letter: bool = True
    spot: tuple[Pt, ...] = ()
    code: str = ""


def square(side: float, x: float = 0.0, y: float = 0.0, high: float | None = None) -> tuple[Pt, ...]:
    """A square (or rectangle, with `high`) with its top left corner at x, y."""
    h = side if high is None else high
    return (x, y), (x + side, y), (x + side, y + h), (x, y + h)


def lying(sheets: Iterable[ClothLayer], swatches: Mapping[str, Swatch]) -> list[Shape]:
    """Sheets from the lowest to the topmost, with their letters where there is room."""
    out: list[Shape] = []
    for sheet in sheets:
        s = swatch_for(swatches, sheet.fabric)
        out.append(
            Path(
                (sheet.points,),
                fabric=sheet.fabric,
                wrong=sheet.wrong,
                width=0.9,
                stroke=INK if sheet.wrong else edge_of(s.colour),
            )
        )
        out.append(Path((sheet.points,), width=0.9))
        if sheet.letter:
            out += labelled(sheet.spot or sheet.points, sheet.fabric, swatches, sheet.code, sheet.wrong)
    return out


def labelled(
    points: Sequence[Pt], fabric: str, swatches: Mapping[str, Swatch], code: str, wrong: bool = False
) -> list[Shape]:
    """The code of a piece on its chip, or the letter of its fabric where it has none or the chip has no room."""
    chips = chips_on([points], code) if code else []
    s = swatch_for(swatches, fabric)
    text = None if chips else label_on(points, s.letter, s.back if wrong else s.colour)
    return chips or ([text] if text else [])


def drawn(lines: Iterable[Segment]) -> list[Shape]:
    """Lines drawn on the cloth with a pencil."""
    return [line(a, b, INK, 0.6) for a, b in lines]


def stitched(lines: Iterable[Segment]) -> list[Shape]:
    """Lines of stitching."""
    return [shape for a, b in lines for shape in seam_line((a, b))]


def cutting(lines: Iterable[Segment], scissors: bool = True) -> list[Shape]:
    """Cuts to come: dashes a little beyond the cloth, with scissors at the start."""
    out: list[Shape] = []
    for a, b in lines:
        long = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
        ux, uy = (b[0] - a[0]) / long, (b[1] - a[1]) / long
        start, end = (a[0] - ux * 5, a[1] - uy * 5), (b[0] + ux * 5, b[1] + uy * 5)
        out += [line(start, end, PAPER, 2.6), line(start, end, INK, 0.9, CUT_DASH)]
        out += _scissors(start, ux, uy) if scissors else []
    return out


def _scissors(at: Pt, ux: float, uy: float) -> list[Shape]:
    def put(along: float, aside: float) -> Pt:
        return at[0] + ux * along - uy * aside, at[1] + uy * along + ux * aside

    blades = [line(put(-6, -2.2), put(4, 1.6), INK, 1.0), line(put(-6, 2.2), put(4, -1.6), INK, 1.0)]
    return [*blades, *(Circle(*put(-7.5, side * 2.8), 1.8, PAPER, INK, 0.9) for side in (-1, 1))]


def pieces_picture(
    cuts: Sequence[PieceCut], swatches: Mapping[str, Swatch], look: Look, side: float = 46.0, stacked: bool = False
) -> Picture:
    """The pieces to cut, to one scale, each with its letter, count and size; diagonal cuts are shown as they lean. Side
    by side, or one below the other where they are to be `stacked`."""
    found = [c for c in cuts if c.then in ("", "half", "quarter") or c.shape]
    if not found:
        return Picture((), 0.0, 0.0)
    scale = side / max(float(max(c.width, c.height)) for c in found)
    shown = []
    for c in found:
        words = look.render("cut.n", n=c.count, size=look.size(c.width, c.height))
        if c.shape:
            words = look.render("cut.shape", n=c.count)
        shown.append(titled(picture(_piece(c, scale, swatches, look.code(c))), words, 7.0, 44.0))
    if stacked:
        return below(shown, 6.0)
    return beside(shown, 8.0, 1.0) if len(shown) < 3 else wrap(shown, 190.0, 8.0, 8.0, 1.0)


def _piece(c: PieceCut, scale: float, swatches: Mapping[str, Swatch], code: str) -> list[Shape]:
    """A piece as it is cut, by template or straight, and the diagonals it is then cut on."""
    if c.shape:
        outline = tuple((float(x) * scale, float(y) * scale) for x, y in c.shape)
        return lying([ClothLayer(outline, c.fabric, code=code)], swatches)
    wide, high = max(float(c.width) * scale, 5.0), max(float(c.height) * scale, 5.0)
    shapes = lying([ClothLayer(square(wide, high=high), c.fabric, letter=not c.then, code=code)], swatches)
    if not c.then:
        return shapes
    rising, sinking = ((0.0, high), (wide, 0.0)), ((0.0, 0.0), (wide, high))
    falling = c.leans == "left"
    slashes: list[Segment] = [rising, sinking] if c.then == "quarter" else [sinking if falling else rising]
    half = ((0.0, 0.0), (wide, 0.0), (wide, high) if falling else (0.0, high))
    shapes += cutting(slashes)
    return [*shapes, *labelled(_quarters(wide, high)[0] if c.then == "quarter" else half, c.fabric, swatches, code)]


def _quarters(wide: float, high: float) -> list[tuple[Pt, ...]]:
    return [((0.0, 0.0), (wide, 0.0), (wide / 2, high / 2))]
