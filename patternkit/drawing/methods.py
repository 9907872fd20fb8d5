"""How a unit is made by its method, as a row of small numbered pictures: cut, lay together, sew, cut
apart, press."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import msgspec

from patternkit.booklet.document import Drawing
from patternkit.drawing.layout import ROOM, SMALL, Picture, below, caption, scene_of
from patternkit.drawing.look import LOOK, Look
from patternkit.drawing.pieces import Leaves, fabric_words, fabrics_of, named
from patternkit.drawing.scene import INK, MOST_HIGH, Scene, Shape, ShapeGroup
from patternkit.drawing.svg import finished
from patternkit.drawing.swatches import Swatch
from patternkit.piecing.making import Making
from patternkit.piecing.method import Series

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
    """Panels with numbers in as few rows as hold them, evenly filled; the captions of a row begin at one
    height."""
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


def painters() -> Mapping[Series, Painter]:
    """The painter for each series of pictures that a method may ask for."""
    from patternkit.drawing import facing, flipping, leaning, series

    return {
        "joins": series.by_groups,
        "row": series.by_groups,
        "pairs": facing.half_square,
        "crossed": facing.quarter_square,
        "geese": facing.geese_four,
        "flips": flipping.flipped,
        "rounds": series.rounds,
        "wedges": series.wedges,
        "set-in": series.set_in,
        "leaning": leaning.half_rectangle,
        "long sides": series.long_sides,
    }


def method_scene(making: Making, swatches: Mapping[str, Swatch], look: Look = LOOK) -> Scene:
    """The scene behind `draw_method`."""
    panels = painters()[making.recipe.method.drawn or "joins"](making, swatches, look)
    pic = panel_rows(panels)
    while pic.height > MOST_HIGH - 20 and len(panels) > 2:  # far too many seams: the middle ones are left to the steps
        panels = [*panels[: len(panels) - 2], panels[-1]]
        pic = panel_rows(panels)
    method = look.method(making.recipe.method.name) or making.kind or making.role
    told = look.say(
        "method.told",
        method=method[:1].upper() + method[1:],
        name=named(making),
        n=len(panels),
        list="; ".join(f"{i}. {p.words}" for i, p in enumerate(panels, 1)),
    )
    told += " " + look.say(
        "step.fabrics", fabrics=fabric_words(fabrics_of(Leaves().of(making), swatches), swatches, look)
    )
    return scene_of(pic, look.say("method.title", name=named(making), method=method), told, swatches)


def draw_method(making: Making, swatches: Mapping[str, Swatch], look: Look = LOOK, *, key: str = "") -> Drawing:
    """The making's method in numbered pictures, in the series that the method asks for.

    Some have their own pictures (squares face to face, corners flipped, logs round a centre ...); any other is
    drawn from its seams, group by group in sewing order.
    """
    return finished(method_scene(making, swatches, look), look.key(key or f"method-{making.key}"))
