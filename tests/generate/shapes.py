"""Triangle strips, diamonds, hexagons, kites and trapezoids: squared off to fit, of their own angles beside a
plain piece that takes what is left, or alone inside a unit of slices."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import sqrt

from .kinds import maker, method_line
from .writer import Box, Writer

METHODS = ("from strips", "from templates")
FREE = "angle free"
Lines = Callable[[], list[str]]
"""Lines that are written where the fabrics of the unit they belong to are known."""


def _roomy(w: Writer, box: Box) -> bool:
    return box.short >= w.m.seam * 10 and box.long <= box.short * 3


def _beside(w: Writer, box: Box, width: float, lines: Lines) -> list[str] | None:
    """A unit as high as the box whose width follows from its angles, and plain cloth beside it; None where there is
    no room for both."""
    if float(box.w) - width < float(w.m.least):
        return None
    inner = w.add(
        Box(Fraction(width).limit_denominator(64), box.h), lambda: [*lines(), f"finished {w.num(box.h)} high"]
    )
    plain = w.fabric()
    return [f"row {w.used(inner)} | {plain}", f"finished {w.size(box)}"]


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
    says = method_line(method)
    way = w.pick("free", 60, 45, "alone")
    if way in (60, 45):
        tangent = sqrt(3) / 3 if way == 60 else sqrt(2) - 1
        angle = [f"angle {way}"] if way == 45 or w.chance(0.5) else []
        made = _beside(
            w, box, float(box.h) * tangent, lambda: [f"diamond {w.fabric()}, {_corners(w, 4)}", *angle, *says]
        )
        if made:
            return made
    if way == "alone":
        ends = ("left", "right", "right", "left")
        ways = ("middle of top to middle of left", "middle of top to middle of right")
        ways += ("middle of bottom to middle of right", "middle of bottom to middle of left")
        slices = [f"from {x}, {{}} {e}" for x, e in zip(ways, ends, strict=True)]
        return _alone(w, box, lambda: [f"diamond {w.fabric()}", FREE, *says], slices)
    return [f"diamond {w.fabric()}, {_corners(w, 4)}", FREE, *says, f"finished {w.size(box)}"]


@maker("hexagon", _roomy, *METHODS)
def hexagon(w: Writer, box: Box, method: str) -> list[str]:
    says = method_line(method)
    way = w.pick("free", 60, "alone")
    if way == 60:
        made = _beside(w, box, float(box.h) * 2 / sqrt(3), lambda: [f"hexagon {w.fabric()}, {_corners(w, 4)}", *says])
        if made:
            return made
    if way == "alone":
        slices = [f"from 1/4 of {y} to middle of left, {{}} left" for y in ("top", "bottom")]
        slices += [f"from 3/4 of {y} to middle of right, {{}} right" for y in ("top", "bottom")]
        return _alone(w, box, lambda: [f"hexagon {w.fabric()}", FREE, *says], slices)
    return [f"hexagon {w.fabric()}, {_corners(w, 4)}", FREE, *says, f"finished {w.size(box)}"]


@maker("kite", _roomy, *METHODS)
def kite(w: Writer, box: Box, method: str) -> list[str]:
    says = method_line(method)
    way = w.pick("free", 60, "alone")
    if way == 60:
        made = _beside(w, box, float(box.h) * sqrt(3) / 2, lambda: [f"kite {w.fabric()}, {_corners(w, 4)}", *says])
        if made:
            return made
    part = w.numbers.choice((Fraction(1, 3), Fraction(1, 2), Fraction(3, 4)))

    def lines() -> list[str]:
        return [FREE, f"shoulder {w.num(box.h * part)}", *says]

    if way == "alone":
        slices = [
            f"from middle of {y} to {part} of {x}, {{}} {x}" for y in ("top", "bottom") for x in ("left", "right")
        ]
        return _alone(w, box, lambda: [f"kite {w.fabric()}", *lines()], slices)
    return [f"kite {w.fabric()}, {_corners(w, 4)}", *lines(), f"finished {w.size(box)}"]


@maker("trapezoid", lambda w, b: _roomy(w, b) and b.w >= b.h, *METHODS)
def trapezoid(w: Writer, box: Box, method: str) -> list[str]:
    says = method_line(method)
    way = w.pick("free", "half", 60, 45, "alone")
    if way == "half":  # half a hexagon: 4 / root 3 times as wide as high
        made = _beside(w, box, float(box.h) * 4 / sqrt(3), lambda: [f"trapezoid {w.fabric()}, {_corners(w, 2)}", *says])
        if made:
            return made
    if way == 60:
        made = _beside(
            w,
            box,
            float(box.h) + float(box.h) * 2 / sqrt(3),
            lambda: [f"trapezoid {w.fabric()}, {_corners(w, 2)}", "angle 60", f"top {w.num(box.h)}", *says],
        )
        if made:
            return made
    if way == 45 and box.w - box.h * 2 >= w.m.seam * 2:
        angle = ["angle 45", f"top {w.num(box.w - box.h * 2)}"]
        return [f"trapezoid {w.fabric()}, {_corners(w, 2)}", *angle, *says, f"finished {w.size(box)}"]

    def top() -> list[str]:
        return [FREE, f"top {w.num(box.w / 2)}", *says]

    if way == "alone":
        slices = ["from 1/4 of top to bottom left, {} left", "from 3/4 of top to bottom right, {} right"]
        return _alone(w, box, lambda: [f"trapezoid {w.fabric()}", *top()], slices)
    return [f"trapezoid {w.fabric()}, {_corners(w, 2)}", *top(), f"finished {w.size(box)}"]


@maker("triangle-strip", lambda w, b: b.h >= w.m.seam * 8 and b.w >= b.h * Fraction(6, 5), *METHODS)
def triangle_strip(w: Writer, box: Box, method: str) -> list[str]:
    first = [f"first {w.pick('up', 'down')}"] if w.chance(0.4) else []
    says, side = method_line(method), float(box.h) / sqrt(3)

    def kind() -> str:
        return f"triangle-strip {', '.join(w.fabrics(w.pick(2, 1, 3)))}"

    if w.chance(0.4):
        n = max(1, int((float(box.w) - float(w.m.least)) / side) - 1)
        ends = w.pick("", "ends half", "ends half, ")

        def lines() -> list[str]:
            last = [ends + (w.fabric() if ends.endswith(", ") else "")] if ends else []
            return [kind(), f"triangles {n}", *last, *first, *says]

        made = _beside(w, box, (n + 1) * side, lines)
        if made:
            return made
    n = max(1, int((float(box.w) - float(w.m.seam) * 2) / side) - 1)
    fitted = w.pick("ends fitted", f"ends fitted, {w.fabric()}")
    return [kind(), f"triangles {n}", fitted, *first, *says, f"finished {w.size(box)}"]
