"""Templates laid on sheets at true size: small ones side by side, large ones in overlapping parts.

Everything is in points, 72 to the inch. Parts carry marks to join them by. A sheet has a band at its foot with two test
squares, so that nobody need look for another page to see whether the printer kept the size.
"""

from __future__ import annotations

import math

import msgspec

from patternkit.document import PrintedTemplate
from patternkit.english import letters
from patternkit.render.labels import Labels
from patternkit.render.names import plain
from patternkit.render.svgclean import Window
from patternkit.text_widths import wrapped

INCH = 72.0
FIVE_CM = 5 / 2.54 * 72
OVERLAP = 36.0  # half an inch that both neighbours show
GAP = 18.0
BAND = FIVE_CM + 16
MOST_PARTS = 80
NARROWEST = 130.0  # what a caption needs
TITLE_SIZE, LINE_SIZE = 9.0, 8.0
MOST_LINES = 16  # of one text under a template


class Area(msgspec.Struct, frozen=True):
    """What a sheet offers between its margins, the band with the squares included."""

    width: float
    height: float


# On a web page nobody knows the paper: what Letter and A4 both hold.
EITHER_PAPER = Area(504.0, 600.0)


class JoinMark(msgspec.Struct, frozen=True):
    """A diamond on a dashed line where two parts meet; x, y on the sheet."""

    x: float
    y: float
    letter: str


class PlacedTemplate(msgspec.Struct, frozen=True):
    """A template, or a part of one, on its sheet; the caption stands under it."""

    template: PrintedTemplate
    window: Window
    caption: tuple[str, ...] = ()


class SheetPart(msgspec.Struct, frozen=True):
    """Which part of a large template a sheet shows, counted from 0."""

    row: int
    column: int
    rows: int
    columns: int


class TemplateSheet(msgspec.Struct, frozen=True):
    """One sheet. `lines` are the dashed joins (x1, y1, x2, y2); `notes` are said beside the squares."""

    key: str
    title: str
    notes: tuple[str, ...]
    area: Area
    placed: tuple[PlacedTemplate, ...]
    part: SheetPart | None = None
    lines: tuple[tuple[float, float, float, float], ...] = ()
    marks: tuple[JoinMark, ...] = ()


def sheets_of(
    templates: tuple[PrintedTemplate, ...], label: Labels, area: Area = EITHER_PAPER
) -> tuple[TemplateSheet, ...]:
    """All templates on sheets, in their order. Raises PatternError for one that needs more than 80 sheets."""
    made: list[TemplateSheet] = []
    waiting: list[PrintedTemplate] = []
    room = Area(area.width, area.height - BAND)
    for template in templates:
        if _fits(template, room):
            waiting.append(template)
            continue
        made += _shared(waiting, area, room)
        waiting = []
        made += _parts(template, area, room, label)
    made += _shared(waiting, area, room)
    total = len(made)
    numbered = enumerate(made, start=1)
    head, of = label("sheet"), label("of")
    return tuple(
        msgspec.structs.replace(s, key=f"sheet-{n}", title=f"{head} {n} {of} {total}: {s.title}") for n, s in numbered
    )


def _caption(template: PrintedTemplate) -> tuple[str, ...]:
    width = max(template.drawing.width, NARROWEST)
    title = wrapped(plain(template.title), TITLE_SIZE, width, lines=3, bold=True)
    lines = (wrapped(plain(line), LINE_SIZE, width, lines=MOST_LINES) for line in template.lines[:6])
    return (*title, *(part for line in lines for part in line))


def _footprint(template: PrintedTemplate) -> tuple[float, float]:
    caption = _caption(template)
    return max(template.drawing.width, NARROWEST), template.drawing.height + 8 + 11 * len(caption)


def _fits(template: PrintedTemplate, room: Area) -> bool:
    width, height = _footprint(template)
    return width <= room.width and height <= room.height


def _shared(templates: list[PrintedTemplate], area: Area, room: Area) -> list[TemplateSheet]:
    """Small templates row by row, each row as high as its highest."""
    sheets: list[TemplateSheet] = []
    placed: list[PlacedTemplate] = []
    x = y = row = 0.0
    for template in templates:
        width, height = _footprint(template)
        if placed and x + width > room.width:
            x, y, row = 0.0, y + row + GAP, 0.0
        if placed and y + height > room.height:
            sheets.append(_shared_sheet(placed, area))
            placed, x, y, row = [], 0.0, 0.0, 0.0
        drawing = template.drawing
        placed.append(PlacedTemplate(template, Window(0, 0, drawing.width, drawing.height, x, y), _caption(template)))
        x, row = x + width + GAP, max(row, height)
    return [*sheets, _shared_sheet(placed, area)] if placed else sheets


def _shared_sheet(placed: list[PlacedTemplate], area: Area) -> TemplateSheet:
    return TemplateSheet("", ", ".join(plain(p.template.title) for p in placed), (), area, tuple(placed))


def _count(length: float, room: float) -> int:
    return 1 if length <= room else math.ceil((length - OVERLAP) / (room - OVERLAP))


def _parts(template: PrintedTemplate, area: Area, room: Area, label: Labels) -> list[TemplateSheet]:
    """A large template in equal parts, each sharing a strip with its neighbours."""
    drawing = template.drawing
    columns, rows = _count(drawing.width, room.width), _count(drawing.height, room.height)
    if columns * rows > MOST_PARTS:
        raise _too_large(template, columns * rows)
    across = (drawing.width - OVERLAP) / columns if columns > 1 else drawing.width
    down = (drawing.height - OVERLAP) / rows if rows > 1 else drawing.height
    joins = _joins(columns, rows, across, down, drawing.width, drawing.height)
    sheets = []
    for row in range(rows):
        for column in range(columns):
            width = across + (OVERLAP if columns > 1 else 0)
            height = down + (OVERLAP if rows > 1 else 0)
            window = Window(column * across, row * down, width, height)
            number = row * columns + column + 1
            words = label("tile", part=number, parts=rows * columns, row=row + 1, column=column + 1)
            title = f"{plain(template.title)}. {words}" if rows * columns > 1 else plain(template.title)
            notes = (*template.lines, *((label("tile_join"),) if rows * columns > 1 else ()))
            part = SheetPart(row, column, rows, columns) if rows * columns > 1 else None
            seen_lines = tuple(line for line in map(lambda j: _clipped(j[0], window), joins) if line)
            seen_marks = tuple(m for _, marks in joins for m in _seen(marks, window))
            sheets.append(
                TemplateSheet("", title, notes, area, (PlacedTemplate(template, window),), part, seen_lines, seen_marks)
            )
    return sheets


_Line = tuple[float, float, float, float]


def _joins(
    columns: int, rows: int, across: float, down: float, width: float, height: float
) -> list[tuple[_Line, tuple[JoinMark, ...]]]:
    """Where neighbouring parts meet: the line in the middle of what both show, two diamonds for each pair."""
    joins: list[tuple[_Line, tuple[JoinMark, ...]]] = []
    letter = 0

    def marks(points: list[tuple[float, float]]) -> tuple[JoinMark, ...]:
        nonlocal letter
        letter += len(points)
        return tuple(JoinMark(x, y, letters(letter - len(points) + i)) for i, (x, y) in enumerate(points))

    for column in range(1, columns):
        x = column * across + OVERLAP / 2
        points = [
            (x, (row + share) * down + (OVERLAP if rows > 1 else 0) / 2) for row in range(rows) for share in (0.3, 0.7)
        ]
        joins.append(((x, 0.0, x, height), marks(points)))
    for row in range(1, rows):
        y = row * down + OVERLAP / 2
        points = [
            ((c + share) * across + (OVERLAP if columns > 1 else 0) / 2, y)
            for c in range(columns)
            for share in (0.3, 0.7)
        ]
        joins.append(((0.0, y, width, y), marks(points)))
    return joins


def _clipped(line: _Line, window: Window) -> _Line | None:
    """The part of an upright or level line that shows in the window, in the sheet's own coordinates."""
    x1, y1 = max(line[0], window.x), max(line[1], window.y)
    x2, y2 = min(line[2], window.x + window.width), min(line[3], window.y + window.height)
    return (x1 - window.x, y1 - window.y, x2 - window.x, y2 - window.y) if x1 <= x2 and y1 <= y2 else None


def _seen(marks: tuple[JoinMark, ...], window: Window) -> tuple[JoinMark, ...]:
    inside = (m for m in marks if 0 < m.x - window.x < window.width and 0 < m.y - window.y < window.height)
    return tuple(JoinMark(m.x - window.x, m.y - window.y, m.letter) for m in inside)


def _too_large(template: PrintedTemplate, sheets: int) -> Exception:
    from patternkit.problems import PatternError, Problem

    size = f"{template.drawing.width / INCH:.1f} x {template.drawing.height / INCH:.1f} in"
    message = (
        f'The template "{plain(template.title)}" is {size}: it would take {sheets} sheets, '
        f"and {MOST_PARTS} are the most. Cut this piece by measure, or divide it."
    )
    return PatternError([Problem(code="template-too-large", message=message)])
