"""Putting pictures together: beside each other, under each other, with captions, keys of fabrics and a margin."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from patternkit.drawing.scene import (
    MOST_WIDE,
    SOFT,
    Lettering,
    Path,
    Scene,
    Shape,
    ShapeGroup,
    bounds,
)
from patternkit.drawing.swatches import Swatch
from patternkit.text_widths import ASCENT, longest_word, shortened, text_width, wrapped

MARGIN = 4.0
SMALL, NORMAL = 7.5, 8.5


class Picture(msgspec.Struct, frozen=True):
    """Shapes with their room: the top left corner at (0, 0)."""

    items: tuple[Shape, ...]
    width: float
    height: float


def picture(items: Iterable[Shape], symbols: dict[str, tuple[Shape, ...]] | None = None) -> Picture:
    """Shapes as a picture, moved so that they begin at (0, 0)."""
    shapes = tuple(items)
    left, top, right, bottom = bounds(shapes, symbols)
    return Picture((ShapeGroup(shapes, -left, -top),), right - left, bottom - top)


def beside(pictures: Sequence[Picture], gap: float = 24.0, align: float = 0.5) -> Picture:
    """Pictures from left to right; `align` 0 lines up their tops, 0.5 their middles, 1 their feet."""
    high = max((p.height for p in pictures), default=0.0)
    items, x = [], 0.0
    for p in pictures:
        items.append(ShapeGroup(p.items, x, (high - p.height) * align))
        x += p.width + gap
    return Picture(tuple(items), max(0.0, x - gap), high)


def below(pictures: Sequence[Picture], gap: float = 8.0, align: float = 0.5) -> Picture:
    """Pictures from top to bottom; `align` as in `beside`, from left to right."""
    wide = max((p.width for p in pictures), default=0.0)
    items, y = [], 0.0
    for p in pictures:
        items.append(ShapeGroup(p.items, (wide - p.width) * align, y))
        y += p.height + gap
    return Picture(tuple(items), wide, max(0.0, y - gap))


def smaller(scale: float, over: float, step: float, least: float = 0.0) -> float:
    """The next scale to try for a picture that is `over` times as large as its room: down by steps, past those that
    can't do. Part of a picture keeps its size (gaps, captions), so that it needs a scale `over` times smaller at
    least."""
    wanted = scale / over
    scale *= step
    while scale > wanted and scale >= least:
        scale *= step
    return scale


def caption(
    text: str,
    room: float,
    size: float = NORMAL,
    bold: bool = False,
    lines: int = 3,
    ink: str = SOFT,
    centred: bool = True,
) -> Picture:
    """A text in lines no wider than `room`."""
    rows = wrapped(text, size, max(room, longest_word(text, size, bold)), lines, bold)
    wide = max((text_width(r, size, bold) for r in rows), default=0.0)
    step = size * 1.25
    x = wide / 2 if centred else 0.0
    items = tuple(
        Lettering(x, ASCENT * size + i * step, r, size, "middle" if centred else "start", bold, ink)
        for i, r in enumerate(rows)
    )
    return Picture(items, wide, step * len(rows))


def titled(p: Picture, text: str, size: float = NORMAL, room: float = 0.0, lines: int = 3, gap: float = 5.0) -> Picture:
    """A picture with a caption centred under it; nothing is added for an empty text."""
    if not text:
        return p
    return below([p, caption(text, max(room, p.width), size, lines=lines)], gap)


def wrap(
    pictures: Sequence[Picture], room: float, gap: float = 22.0, down: float = 14.0, align: float = 0.0
) -> Picture:
    """Pictures in as many rows as they need."""
    rows: list[list[Picture]] = [[]]
    wide = 0.0
    for p in pictures:
        if rows[-1] and wide + gap + p.width > room:
            rows.append([])
            wide = 0.0
        wide += p.width + (gap if rows[-1] else 0.0)
        rows[-1].append(p)
    return below([beside(row, gap, align) for row in rows if row], down, 0.0 if len(rows) > 1 else 0.5)


def fabric_key(fabrics: Iterable[str], swatches: Mapping[str, Swatch], room: float) -> Picture:
    """Chips of the fabrics with letter and title, in as many rows as they need."""
    from patternkit.drawing.swatches import swatch_for

    entries = []
    for fabric in fabrics:
        s = swatch_for(swatches, fabric)
        name = shortened(f"{s.letter}  {s.title}", SMALL, min(room, 220.0) - 24)
        chip = Path((((0, 0), (18, 0), (18, 11), (0, 11)),), fabric=fabric, width=0.6)
        entries.append(Picture((chip, Lettering(22, 8.4, name, SMALL, "start")), 22 + text_width(name, SMALL), 11.6))
    return in_columns(entries, room)


def in_columns(entries: Sequence[Picture], room: float, gap: float = 14.0) -> Picture:
    """Entries of a key in one row where they fit, else in columns of equal width."""
    if sum(e.width + gap for e in entries) - gap <= room or not entries:
        return beside(entries, gap)
    wide = max(e.width for e in entries)
    return wrap([Picture(e.items, wide, e.height) for e in entries], room, gap, 5.0)


def scene_of(
    p: Picture,
    title: str,
    description: str,
    swatches: Mapping[str, Swatch],
    symbols: dict[str, tuple[Shape, ...]] | None = None,
    *,
    true_size: bool = False,
    texture_scale: float = 1.0,
) -> Scene:
    """A picture with its margin as a scene."""
    return Scene(
        round(p.width + 2 * MARGIN, 2),
        round(p.height + 2 * MARGIN, 2),
        (ShapeGroup(p.items, MARGIN, MARGIN),),
        title,
        description,
        dict(swatches),
        symbols or {},
        true_size,
        texture_scale,
    )


def spread(wanted: Sequence[float], step: float) -> list[float]:
    """Places near the wanted ones (which rise) and at least a step apart: groups that are too close share their
    middle."""
    groups: list[list[float]] = []
    for y in wanted:
        groups.append([y])
        while (
            len(groups) > 1
            and _middle(groups[-1]) - _middle(groups[-2]) < step * (len(groups[-1]) + len(groups[-2])) / 2
        ):
            last = groups.pop()
            groups[-1] += last
    return [_middle(g) + (i - (len(g) - 1) / 2) * step for g in groups for i in range(len(g))]


def _middle(values: Sequence[float]) -> float:
    return sum(values) / len(values)


ROOM = MOST_WIDE - 2 * MARGIN
