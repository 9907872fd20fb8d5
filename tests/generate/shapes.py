"""Triangle strips, diamonds, hexagons, kites and trapezoids: of any proportion and squared off, alone inside a unit of
slices, or with angles of their own, as wide as these make them."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import ceil, sqrt
from random import Random

from .kinds import maker, method_line
from .writer import Box, Writer, Written

METHODS = ("from strips", "from templates")
FREE = "angle free"
Lines = Callable[[], list[str]]
"""Lines that are written where the fabrics of the unit they belong to are known."""
FIELDS = ("hexagons", "tumbling-block")
"""Kinds of hexagons, which are no part of a box of any size."""
ANGLED = ("diamond", "hexagon", "kite", "trapezoid", "triangle-strip", *FIELDS)
"""Kinds whose width follows from their height."""


def _roomy(w: Writer, box: Box) -> bool:
    return box.short >= w.m.seam * 10 and box.long <= box.short * 3


def angled(w: Writer, word: str, method: str, high: Fraction) -> Written:
    """A block of a shape with angles of its own, as high as that and as wide as it comes out; beside plain cloth now
    and then."""
    if word in FIELDS:
        return w.add(Box(high, high), lambda: _field(w, word, high), role="block")
    says = {
        "diamond": w.pick(["angle 60"], ["angle 45"], []),
        "trapezoid": w.pick([], ["angle 45"], ["angle 60"]),
        "triangle-strip": [f"triangles {w.pick(1, 2, 3)}", *w.pick([], ["ends half"], ["first down"])],
    }.get(word, [])
    if says and word == "trapezoid":
        says = [*says, f"top {w.num(high)}"]
    listed = w.pick(2, 3) if word == "triangle-strip" else 2

    def lines() -> list[str]:
        kind = f"{word} {', '.join(w.fabrics(listed))}"
        return [kind, *says, *method_line(method), f"finished {w.num(high)} high"]

    shape = w.add(Box(high, high), lines, role="block")
    if not w.chance(0.4):
        return shape
    return w.add(Box(high, high), lambda: [f"row {w.used(shape)} | {w.fabric()} {w.num(high / 2)}"], role="block")


def slanted(w: Writer, high: Fraction, by: Random) -> Written:
    """A block of a segment that is cut on the slant, squared off."""
    strips, angle = by.choice((2, 3, 4)), by.choice((45, 60))

    def lines() -> list[str]:
        listed = [f"{fabric} {w.num(high / strips)}" for fabric in w.fabrics(strips)]
        cut = w.raw(w.m.up(w.m.seam * by.choice((6, 8, 10))))
        return [f"strips {' | '.join(listed)}", f"slant {angle}", f"cut {cut}"]

    segment = w.add(Box(high, high), lines)
    turned = by.choice(("turned 90", "turned 270"))
    return w.add(
        Box(high, high),
        lambda: [f"parallelogram {w.used(segment)} {turned}, {w.fabric()}", f"angle {angle}"],
        role="block",
    )


def _field(w: Writer, word: str, high: Fraction) -> list[str]:
    """Hexagons in rows or round a middle, squared off, some of them tumbling blocks."""
    side, rounds = w.m.up(high / 5), w.shapes.random() < 0.5
    if word == "tumbling-block" or not rounds:
        says = [f"side {w.num(side)}"] if word == "tumbling-block" else []
        cube = w.add(Box(side, side), lambda: [f"tumbling-block {', '.join(w.fabrics(3))}", *says])
        cell, other = w.used(cube, 3), w.fabric()
        lines = ["hexagons", f"    {cell} | {other} | {cell}", f"    {cell} | {other}"]
        if word == "tumbling-block":
            return [*lines, f"background {w.fabric()}"]
    else:
        lines = [f"hexagons {w.fabric()}", *(f"round {', '.join(w.fabrics(n))}" for n in (1, 2))]
    return [*lines, f"side {w.num(side)}", f"background {w.fabric()}"]


@maker("hexagons", lambda w, b: False)
def hexagons(w: Writer, box: Box, method: str) -> list[str]:
    return _field(w, "hexagons", box.h)


@maker("tumbling-block", lambda w, b: False)
def tumbling_block(w: Writer, box: Box, method: str) -> list[str]:
    return _field(w, "tumbling-block", box.h)


def banded(w: Writer, high: Fraction) -> Written:
    """A band of segments that step down, of as many strips as it needs."""
    step = w.m.up(high / 2)
    strips = 1 + ceil((float(high) + 0.5858 * float(w.m.seam)) / 0.7071 / float(step))
    rung = w.add(
        Box(step * strips, step),
        lambda: [
            f"strips {' | '.join(f'{f} {w.num(step)}' for f in w.fabrics(strips))}",
            f"finished {w.num(step)} high",
        ],
    )
    stagger = [f"stagger {w.num(step)}"] if w.dealing.random() < 0.5 else []
    size = Box(high * 3, high)
    return w.add(size, lambda: [f"band {w.used(rung)}", *stagger, f"finished {w.size(size)}"], role="block")


@maker("band", lambda w, b: False)
def band(w: Writer, box: Box, method: str) -> list[str]:
    raise AssertionError("a band is a block of its own: see `banded`")


def _alone(w: Writer, box: Box, lines: Lines, slices: list[str]) -> list[str]:
    """A shape with its own outline, and slices of cloth that square it off."""
    inner = w.add(box, lambda: [*lines(), f"finished {w.size(box)}"])
    cloth = w.fabric()
    return [f"slices {w.used(inner)}", *(f"slice {s.format(cloth)}" for s in slices), f"finished {w.size(box)}"]


def _corners(w: Writer, count: int) -> str:
    """One background, or one for each corner."""
    return ", ".join(w.fabrics(w.pick(1, 1, count)))


@maker("diamond", _roomy, *METHODS)
def diamond(w: Writer, box: Box, method: str) -> list[str]:
    says = [FREE, *method_line(method)]
    if w.chance(0.3):
        ends = [(y, x) for y in ("top", "bottom") for x in ("left", "right")]
        slices = [f"from middle of {y} to middle of {x}, {{}} {x}" for y, x in ends]
        return _alone(w, box, lambda: [f"diamond {w.fabric()}", *says], slices)
    return [f"diamond {w.fabric()}, {_corners(w, 4)}", *says, f"finished {w.size(box)}"]


@maker("hexagon", _roomy, *METHODS)
def hexagon(w: Writer, box: Box, method: str) -> list[str]:
    says = [FREE, *method_line(method)]
    if w.chance(0.3):
        slices = [f"from 1/4 of {y} to middle of left, {{}} left" for y in ("top", "bottom")]
        slices += [f"from 3/4 of {y} to middle of right, {{}} right" for y in ("top", "bottom")]
        return _alone(w, box, lambda: [f"hexagon {w.fabric()}", *says], slices)
    return [f"hexagon {w.fabric()}, {_corners(w, 4)}", *says, f"finished {w.size(box)}"]


@maker("kite", _roomy, *METHODS)
def kite(w: Writer, box: Box, method: str) -> list[str]:
    part = w.numbers.choice((Fraction(1, 3), Fraction(1, 2), Fraction(3, 4)))

    def says() -> list[str]:
        return [FREE, f"shoulder {w.num(box.h * part)}", *method_line(method)]

    if w.chance(0.3):
        corners = [(y, x) for y in ("top", "bottom") for x in ("left", "right")]
        slices = [f"from middle of {y} to {part} of {x}, {{}} {x}" for y, x in corners]
        return _alone(w, box, lambda: [f"kite {w.fabric()}", *says()], slices)
    return [f"kite {w.fabric()}, {_corners(w, 4)}", *says(), f"finished {w.size(box)}"]


@maker("trapezoid", lambda w, b: _roomy(w, b) and b.w >= b.h, *METHODS)
def trapezoid(w: Writer, box: Box, method: str) -> list[str]:
    says = method_line(method)
    steep = box.w - box.h * 2  # the short edge where the sides stand at 45 degrees
    if steep >= w.m.seam * 2 and w.chance(0.5):
        lines = [f"trapezoid {w.fabric()}, {_corners(w, 2)}", "angle 45", f"top {w.num(steep)}"]
        return [*lines, *says, f"finished {w.size(box)}"]

    def free() -> list[str]:
        return [FREE, f"top {w.num(box.w / 2)}", *says]

    if w.chance(0.3):
        slices = ["from 1/4 of top to bottom left, {} left", "from 3/4 of top to bottom right, {} right"]
        return _alone(w, box, lambda: [f"trapezoid {w.fabric()}", *free()], slices)
    return [f"trapezoid {w.fabric()}, {_corners(w, 2)}", *free(), f"finished {w.size(box)}"]


@maker("parallelogram", lambda w, b: _roomy(w, b) and b.w >= b.h, *METHODS)
def parallelogram(w: Writer, box: Box, method: str) -> list[str]:
    says = method_line(method)
    level = box.w - box.h  # its level edges where it leans at 45 degrees
    if level >= w.m.seam * 2 and w.chance(0.5):
        lines = [f"parallelogram {w.fabric()}, {_corners(w, 2)}", f"top {w.num(level)}"]
        return [*lines, *says, f"finished {w.size(box)}"]

    def free() -> list[str]:
        return [FREE, f"top {w.num(box.w / 2)}", *says]

    if w.chance(0.3):
        slices = ["from middle of top to bottom left, {} left", "from top right to middle of bottom, {} right"]
        return _alone(w, box, lambda: [f"parallelogram {w.fabric()}", *free()], slices)
    return [f"parallelogram {w.fabric()}, {_corners(w, 2)}", *free(), f"finished {w.size(box)}"]


@maker("triangle-strip", lambda w, b: b.h >= w.m.seam * 8 and b.w >= b.h * Fraction(6, 5), *METHODS)
def triangle_strip(w: Writer, box: Box, method: str) -> list[str]:
    side = float(box.h) / sqrt(3)
    n = max(1, int((float(box.w) - float(w.m.seam) * 2) / side) - 1)
    lines = [f"triangle-strip {', '.join(w.fabrics(w.pick(2, 1, 3)))}", f"triangles {n}"]
    lines.append(w.pick("ends fitted", f"ends fitted, {w.fabric()}"))
    if w.chance(0.4):
        lines.append(f"first {w.pick('up', 'down')}")
    return [*lines, *method_line(method), f"finished {w.size(box)}"]
