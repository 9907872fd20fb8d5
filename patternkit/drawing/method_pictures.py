"""The small numbered pictures of a method, and how they are set in rows."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import msgspec

from patternkit.drawing.layout import ROOM, SMALL, Picture, below, caption
from patternkit.drawing.look import Look
from patternkit.drawing.scene import INK, Shape, ShapeGroup
from patternkit.drawing.swatches import Swatch
from patternkit.piecing.making import Making

CELL = 76.0
GAP = 12.0
CLOSE = 60.0, 7.0  # cells and gaps where all pictures of a method then fit into one row
WIDEST = 124.0  # no caption is set wider


class MethodPicture(msgspec.Struct, frozen=True):
    """One picture of a method and the words under it."""

    picture: Picture
    words: str


Painter = Callable[[Making, Mapping[str, Swatch], Look], list[MethodPicture]]


def panel_rows(panels: Sequence[MethodPicture], room: float = ROOM, gap: float = GAP) -> Picture:
    """Panels with numbers in as few rows as hold them, evenly filled; the captions of a row begin at one height."""
    close = _in_rows(_cells(panels, CLOSE[0]), len(panels), room, CLOSE[1])
    if len(close) == 1 and len(_in_rows(_cells(panels, CELL), len(panels), room, gap)) > 1:
        return _row(close[0], CLOSE[1])
    cells = _cells(panels, CELL)
    rows: list[list[tuple[MethodPicture, Picture, float]]] = []
    for count in range(1, len(cells) + 1):
        rows = _in_rows(cells, -(-len(cells) // count), room, gap)
        if len(rows) <= count:
            break
    most = max(map(len, rows), default=1)
    wider = _cells(panels, min(WIDEST, (room - gap * (most - 1)) / most))  # captions in fewer lines
    again = _in_rows(wider, most, room, gap)
    return below([_row(row, gap) for row in (again if len(again) <= len(rows) else rows)], 16.0, 0.0)


def _cells(panels: Sequence[MethodPicture], least: float) -> list[tuple[MethodPicture, Picture, float]]:
    cells = []
    for n, panel in enumerate(panels, 1):
        wide = max(panel.picture.width, least)
        words = caption(f"{n}. {panel.words}", wide, SMALL, lines=9, ink=INK)
        cells.append((panel, words, max(wide, words.width)))
    return cells


def _in_rows(
    cells: Sequence[tuple[MethodPicture, Picture, float]], most: int, room: float, gap: float
) -> list[list[tuple[MethodPicture, Picture, float]]]:
    rows: list[list[tuple[MethodPicture, Picture, float]]] = [[]]
    used = 0.0
    for cell in cells:
        if rows[-1] and (len(rows[-1]) == most or used + gap + cell[2] > room):
            rows.append([])
            used = 0.0
        used += cell[2] + (gap if rows[-1] else 0.0)
        rows[-1].append(cell)
    return rows


def _row(row: Sequence[tuple[MethodPicture, Picture, float]], gap: float) -> Picture:
    high = max(panel.picture.height for panel, _, _ in row)
    items: list[Shape] = []
    x = 0.0
    for panel, words, wide in row:
        p = panel.picture
        items.append(ShapeGroup(p.items, x + (wide - p.width) / 2, (high - p.height) / 2))
        items.append(ShapeGroup(words.items, x + (wide - words.width) / 2, high + 6.0))
        x += wide + gap
    return Picture(tuple(items), x - gap, high + 6.0 + max(words.height for _, words, _ in row))
