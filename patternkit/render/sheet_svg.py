"""A sheet of templates drawn as one SVG in points: templates, captions, joins, test squares."""

from __future__ import annotations

from html import escape

from patternkit.render.labels import Labels
from patternkit.render.names import plain
from patternkit.render.sheets import (
    FIVE_CM,
    INCH,
    LINE_SIZE,
    TITLE_SIZE,
    JoinMark,
    PlacedTemplate,
    SheetPart,
    TemplateSheet,
)
from patternkit.render.svgclean import inline_svg, number

_INK, _PALE, _JOIN = "#1f2b2a", "#f6f2e9", "#93402b"
_EDGE = 1.0  # points between the squares and the sheet's edge, so that no stroke is cut
ONE_INCH_LEFT = _EDGE + FIVE_CM + 14  # where the small square stands; the words beside the squares start right of it
NOTES_LEFT = ONE_INCH_LEFT + INCH + 16


def sheet_svg(sheet: TemplateSheet, name: str, label: Labels, font: str = "") -> str:
    """The sheet as a whole `<svg>` element, sized in points, nothing scaled; ids start with `name`."""
    width, height = number(sheet.area.width), number(sheet.area.height)
    family = font or "Open Sans, DejaVu Sans, sans-serif"
    inside = [
        *(_placed(p, f"{name}-{i}", font) for i, p in enumerate(sheet.placed)),
        *(_join(*line) for line in sheet.lines),
        *(_mark(mark) for mark in sheet.marks),
        _squares(sheet.area.height, label),
        _map(sheet.part, sheet.area.height - FIVE_CM - _EDGE) if sheet.part else "",
    ]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" id="{name}" role="img" aria-labelledby="{name}-t {name}-d" '
        f'viewBox="0 0 {width} {height}" width="{width}pt" height="{height}pt" '
        f'font-family="{escape(family)}" fill="{_INK}">'
        f'<title id="{name}-t">{escape(plain(sheet.title))}</title>'
        f'<desc id="{name}-d">{escape(spoken(sheet, label))}</desc>' + "".join(inside) + "</svg>"
    )


def spoken(sheet: TemplateSheet, label: Labels) -> str:
    """What the sheet shows, for readers who can't see it."""
    shown = [plain(p.template.drawing.description or p.template.drawing.title).rstrip(".") + "." for p in sheet.placed]
    return " ".join([*shown, label("test_squares")])


def _text(x: float, y: float, size: float, words: str, extra: str = "") -> str:
    place = f'x="{number(x)}" y="{number(y)}" font-size="{number(size)}"{extra}'
    return f"<text {place}>{escape(words, quote=False)}</text>"


def _placed(placed: PlacedTemplate, name: str, font: str) -> str:
    window = placed.window
    parts = [inline_svg(placed.template.drawing, name, font=font, described=False, window=window)]
    y = window.at_y + window.height + 13
    for index, line in enumerate(placed.caption):
        bold = ' font-weight="bold"' if index == 0 else ""
        parts.append(_text(window.at_x, y + 11 * index, TITLE_SIZE if index == 0 else LINE_SIZE, line, bold))
    return "".join(parts)


def _line(x1: float, y1: float, x2: float, y2: float, style: str) -> str:
    ends = zip(("x1", "y1", "x2", "y2"), (x1, y1, x2, y2), strict=True)
    return "<line" + "".join(f' {key}="{number(value)}"' for key, value in ends) + f" {style}/>"


def _join(x1: float, y1: float, x2: float, y2: float) -> str:
    return _line(x1, y1, x2, y2, f'stroke="{_JOIN}" stroke-width="0.75" stroke-dasharray="6 4"')


def _mark(mark: JoinMark) -> str:
    x, y = mark.x, mark.y
    points = " ".join(f"{number(a)},{number(b)}" for a, b in ((x, y - 6), (x + 6, y), (x, y + 6), (x - 6, y)))
    diamond = f'<polygon class="join" points="{points}" fill="#ffffff" stroke="{_JOIN}" stroke-width="0.75"/>'
    return diamond + _text(x, y + 2.2, 6, mark.letter, f' text-anchor="middle" font-weight="bold" fill="{_JOIN}"')


def _square(x: float, bottom: float, side: float, words: str, name: str) -> str:
    top = bottom - side
    rect = (
        f'<rect class="{name}" x="{number(x)}" y="{number(top)}" width="{number(side)}" '
        f'height="{number(side)}" fill="none" stroke="{_INK}" stroke-width="0.5"/>'
    )
    return rect + _text(x + side / 2, top + side / 2 + 4, 11, words, ' text-anchor="middle"')


def _squares(bottom: float, label: Labels) -> str:
    bottom -= _EDGE
    metric = _square(_EDGE, bottom, FIVE_CM, plain(label("square_metric")), "test-5cm")
    return metric + _square(ONE_INCH_LEFT, bottom, INCH, plain(label("square_inch")), "test-1in")


def _map(part: SheetPart, top: float) -> str:
    """A small plan of all parts with this one filled in."""
    cell = min(INCH / part.columns, 56 / part.rows, 20.0)
    drawn = []
    for row in range(part.rows):
        for column in range(part.columns):
            here = (row, column) == (part.row, part.column)
            place = f'x="{number(ONE_INCH_LEFT + column * cell)}" y="{number(top + row * cell)}"'
            size = f'width="{number(cell)}" height="{number(cell)}"'
            drawn.append(f'<rect {place} {size} fill="{_JOIN if here else _PALE}" stroke="{_INK}" stroke-width="0.5"/>')
    return "".join(drawn)
