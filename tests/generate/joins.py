"""Pieces in a row, in a column, in several rows: fabrics and units by turns, with every seam mark."""

from __future__ import annotations

from fractions import Fraction

from .kinds import maker, piece
from .measures import split
from .writer import Box, Writer

OPEN = (" | ", " | ", " > ", " < ", " <> ")


def _mark(w: Writer) -> str:
    return w.shape.choice(OPEN) if w.has("marks") and w.press != "spun" else " | "


def _plain(w: Writer, box: Box, along: str, say: bool) -> str:
    """A fabric in a row or column, with the size that its place needs."""
    fabric = w.fabric(box.long)
    if not say:
        return fabric
    cut = "cut " if w.chance(0.2) else ""
    if along == "both":
        return f"{fabric} {cut}{w.raw_pair(box) if cut else w.pair(box)}"
    side = box.w if along == "w" else box.h
    return f"{fabric} {cut}{w.raw(side) if cut else w.num(side)}"


def _member(w: Writer, box: Box, along: str, say: bool = True, times: int = 1) -> str:
    """One piece: a unit where there is room and leave for it, else a fabric."""
    if box.short >= w.m.seam * 3 and w.depth > 0 and (w.wish is not None or w.chance(0.6)):
        return piece(w, box, times)
    return _plain(w, box, along, say)


def _of_shapes(w: Writer, box: Box, word: str) -> list[str]:
    """Trapezoids side by side, up and down by turns, the ends of their rows squared off; nothing where there is no room
    for them, and mostly."""
    rows, n = (1, 2) if word == "row" else (2, 1) if word == "column" else (2, 2)
    long = w.m.up(box.w * Fraction(7, 10) / (n * Fraction(3, 4) + Fraction(1, 4)))
    high = box.h / rows
    roomy = long >= w.m.seam * 12 and high >= w.m.seam * 10 and w.m.lies(high) and long <= high * 4
    if w.shapes.random() > (0.5 if word == "column" else 0.15) or not roomy or w.scope.strict or w.depth <= 0:
        return []

    def shape() -> list[str]:
        return [
            f"trapezoid {w.fabric()}",
            "angle free",
            f"top {w.num(long / 2)}",
            f"finished {w.num(long)} x {w.num(high)}",
        ]

    boat = w.add(Box(long, high), shape)
    one, other = w.used(boat, rows), f"{w.used(boat, rows)} turned 180"
    ends = [f"ends fitted, {w.fabric()}", f"finished {w.size(box)}"]
    if word == "rows":
        return ["rows", f"    {one} | {other}", f"    {other} | {one}", *ends]
    return [f"{word} {one}{_mark(w)}{other}", *ends]


def _along(w: Writer, box: Box, row: bool) -> list[str]:
    word, whole = ("row", box.w) if row else ("column", box.h)
    if shapes := _of_shapes(w, box, word):
        return shapes
    n = max(2, min(w.pick(2, 2, 3, 4), int(whole / w.m.least)))
    if n >= 3 and w.chance(0.3) and w.m.lies(whole / 5) and whole / 5 >= w.m.least:
        return _grouped(w, box, row)
    parts = split(w.numbers, whole, n, w.m, w.chance(0.6))
    boxes = [Box(x, box.h) if row else Box(box.w, x) for x in parts]
    along = "w" if row else "h"
    line = "".join(f"{_mark(w) if i else ''}{_member(w, b, along)}" for i, b in enumerate(boxes))
    if w.chance(0.15) and "|" in line:  # the pieces may stand on lines under the word
        return [word, f"    {line}", *w.claims(box)]
    return [f"{word} {line}", *w.claims(box)]


def _grouped(w: Writer, box: Box, row: bool) -> list[str]:
    """Two pieces by turns, the stretch in brackets."""
    times = 2
    part = (box.w if row else box.h) / (times * 2 + 1)
    inner = Box(part, box.h) if row else Box(box.w, part)
    along = "w" if row else "h"
    a, b = _member(w, inner, along, times=times), _member(w, inner, along, times=times)
    last = _plain(w, inner, along, True)
    mark = _mark(w).strip()
    line = f"({a}{_mark(w)}{b} {mark}) {times} times {last}"
    return [f"{'row' if row else 'column'} {line}", *w.claims(box)]


@maker("row", lambda w, b: b.w >= w.m.least * 2 and b.h >= w.m.seam * 3, weight=3)
def row(w: Writer, box: Box, method: str) -> list[str]:
    return _along(w, box, True)


@maker("column", lambda w, b: b.h >= w.m.least * 2 and b.w >= w.m.seam * 3, weight=3)
def column(w: Writer, box: Box, method: str) -> list[str]:
    return _along(w, box, False)


def _can_be_cut(w: Writer, box: Box) -> bool:
    """Whether a unit twice as large is no larger than a cloth, and a piece of it is worth sewing on."""
    return w.depth > 0 and box.short >= w.m.seam * 6 and box.long * 3 <= w.m.usable


@maker("cut-apart", _can_be_cut, weight=1)
def cut_apart(w: Writer, box: Box, method: str) -> list[str]:
    """A piece from a corner of a unit that is twice as wide, or twice as high, or both."""
    across, down = w.pick((2, 1), (1, 2), (2, 2))
    whole = Box(box.w * across, box.h * down)
    sewn = w.add(whole, lambda: rows(w, whole, ""), "rows")
    lines = [f"cut-apart {w.used(sewn)}"]
    number = 1
    if across > 1:
        side = w.pick("left", "right")
        lines.append(f"cut {w.raw(box.w)} from {side}")
        number += side == "right"
    if down > 1:
        side = w.pick("top", "bottom")
        lines.append(f"cut {w.raw(box.h)} from {side}")
        number += across * (side == "bottom")
    w.cut_piece = number
    return [*lines, *(w.claims(box) if w.chance(0.5) else [])]


@maker("rows", lambda w, b: b.short >= w.m.least * 2, weight=5)
def rows(w: Writer, box: Box, method: str) -> list[str]:
    """A grid with columns that line up, or rows that are each divided in a way of their own."""
    if shapes := _of_shapes(w, box, "rows"):
        return shapes
    down = max(2, min(w.pick(2, 2, 3, 3, 4), int(box.h / w.m.least)))
    across = max(2, min(w.pick(2, 2, 3, 3, 4), int(box.w / w.m.least)))
    heights = split(w.numbers, box.h, down, w.m, w.chance(0.7))
    if across == 3 and down == 3 and w.chance(0.2):  # nothing but fabrics: their sizes follow
        return ["rows", *(f"    {' | '.join(w.fabrics(3))}" for _ in range(3)), f"finished {w.size(box)}"]
    same = w.chance(0.7)
    if w.press == "spun":
        down, across, same, heights = 2, 2, True, [box.h / 2] * 2
    widths = split(w.numbers, box.w, across, w.m, w.chance(0.6))
    lines = ["rows"]
    for i, h in enumerate(heights):
        if i and w.press != "spun" and w.chance(0.3, "marks"):
            lines.append(f"    {w.pick('>', '<', '<>')}")
        if not same:
            widths = split(w.numbers, box.w, w.pick(across, across - 1 or 1), w.m, w.chance(0.5))
        cells = [_member(w, Box(x, h), "both") for x in widths]
        lines.append("    " + "".join(f"{_mark(w) if j else ''}{cell}" for j, cell in enumerate(cells)))
    return [*lines, *w.claims(box)]
