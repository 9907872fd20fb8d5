"""The registry of what makes a unit of each kind: found by the kind's keyword, with the methods it can say."""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from .pressing import RARE, pressing
from .writer import Box, Writer, Written

JOINS = ("row", "column", "rows")

Write = Callable[[Writer, Box, str], list[str]]


class Maker(msgspec.Struct, frozen=True):
    """Writes a unit of one kind. `fits` says whether a size can be made; `write` gives the lines under the unit's
    head, for a method (empty for the usual one)."""

    word: str
    fits: Callable[[Writer, Box], bool]
    write: Write
    methods: tuple[str, ...] = ()
    weight: int = 2


LAID, WHOLE = "laid", "whole"
AS_CLOTH = (
    ("half-square", LAID),
    ("quarter-square", LAID),
    ("flying-geese", LAID),
    ("square-in-a-square", WHOLE),
    ("flipped-corners", WHOLE),
)
"""Kinds in which a piece is cut from a strip unit, or is a unit: written as a method is, and said by the pieces."""

MAKERS: dict[str, Maker] = {}


def maker(word: str, fits: Callable[[Writer, Box], bool], *methods: str, weight: int = 2) -> Callable[[Write], Write]:
    """Register what writes a kind."""

    def keep(write: Write) -> Write:
        MAKERS[word] = Maker(word, fits, write, methods, weight)
        return write

    return keep


def wishes() -> list[tuple[str, str]]:
    """Every kind with each of its methods."""
    found = [(word, method) for word, made in MAKERS.items() for method in (made.methods or ("",)) if word != "band"]
    return [*found, *[("slices", "")] * 3, *AS_CLOTH]  # slices have the most to say


def method_line(method: str) -> list[str]:
    """The line that says a method; none for the usual one."""
    return [f"method {method}"] if method else []


def piece(w: Writer, box: Box, times: int = 1) -> str:
    """A unit of a size as it stands among others: a new one or one that is there, turned or mirrored."""
    turned = w.pick(0, 0, 0, 90, 180, 270) if w.has("turned") else 0
    inner = box.turned if turned % 180 else box
    known = [u for u in w.units if u.box == inner and u.kind]
    unit = w.shape.choice(known) if known and w.chance(0.45) and not w.wish else unit_of(w, inner)
    text = w.used(unit, times)
    if unit.kind == "strips" and w.chance(0.1, "turned"):
        text += " shifted 1"
    if w.chance(0.12, "turned"):
        text += " mirrored"
    return f"{text} turned {turned}" if turned else text


def unit_of(w: Writer, box: Box, role: str = "unit") -> Written:
    """A new unit of a size, of a kind that can have it."""
    w.depth -= 1
    word, method, write = _chosen(w, box)
    unit = w.add(box, lambda: write(w, box, method), word, role)
    w.depth += 1
    unit.piece, w.cut_piece = w.cut_piece if word == "cut-apart" else 0, 0
    if w.chance(0.45, "press") or RARE.get(w.press) == word:
        unit.press = pressing(w, unit)
    return unit


def _chosen(w: Writer, box: Box) -> tuple[str, str, Write]:
    if w.wish is not None:
        made = MAKERS[w.wish[0]]
        half = Box(box.w, box.h / 2)
        if made.fits(w, box):
            wish, w.wish = w.wish, None
            return *wish, made.write
        if made.fits(w, half):
            return "column", "", lambda w, _box, _: [f"column {piece(w, half)} | {piece(w, half)}", *w.claims(box)]
    fitting = [m for m in MAKERS.values() if m.fits(w, box)] or [MAKERS["patch"]]
    if w.depth <= 0:
        fitting = [m for m in fitting if m.word not in JOINS]
    if not w.has("kinds"):
        fitting = [m for m in fitting if m.word in ("patch", *JOINS)]
    weights = [m.weight * (3 if m.word in JOINS and w.depth > 1 else 1) for m in fitting]
    made = w.shape.choices(fitting, weights)[0]
    return made.word, w.shape.choice(("", *made.methods)), made.write
