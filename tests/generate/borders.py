"""Borders and rings round a centre, from the inside out."""

from __future__ import annotations

from fractions import Fraction
from math import gcd

from .kinds import unit_of
from .writer import Box, Writer


class Rounds:
    """The borders of one quilt: their lines, and the size of what is inside the next one, where it is known."""

    def __init__(self, w: Writer, size: Box | None, block: Fraction) -> None:
        self.w, self.size, self.block = w, size, block
        self.lines: list[str] = []

    def grow(self, width: Fraction) -> None:
        """One more border of that width."""
        if self.size is not None:
            self.size = Box(self.size.w + width * 2, self.size.h + width * 2)

    def width(self) -> Fraction:
        """A width for a plain border."""
        m = self.w.m
        return m.up(self.w.numbers.choice((m.seam * 4, m.seam * 6, m.seam * 8, self.block / 3)))

    def plain(self) -> None:
        """One fabric; sides or top first, cornerstones, lengthwise, mitred alone or with its neighbours."""
        w = self.w
        way = w.pick("", "", "top first", "sides first", "cornerstones", "mitred", "lengthwise", "mitred bands")
        for _ in range(2 if way == "mitred bands" else 1):
            width = self.width()
            number = f"cut {w.raw(width)}" if w.chance(0.2) and not w.scope.strict else w.num(width)
            line = f"border {number} {w.fabric()}"
            if way == "cornerstones":
                stone = w.chance(0.5)
                w.depth = 0
                line += f", cornerstones {w.used(unit_of(w, Box(width, width))) if stone else w.fabric()}"
            elif way:
                line += f", {way.removesuffix(' bands')}"
            self.lines.append(line)
            self.grow(width)

    def pieced(self, ring: bool) -> None:
        """A unit along each side; a coping strip before it where it would not fit, or by chance."""
        w = self.w
        coped = self.size is None or w.scope.strict or w.has("sizes") or w.chance(0.4)
        if coped:
            self.lines.append(f"border {w.fabric()}")
            long = w.m.up(max(w.m.least, self.block / 3))
        else:
            assert self.size is not None
            long = _shared(self.size.w, self.size.h)
            if long < w.m.least:
                return  # nothing that can be sewn goes into both sides
            for n in (12, 8, 6, 5, 4, 3, 2):
                if long / n >= max(w.m.least, self.block / 4) and w.m.lies(long / n):
                    long = long / n
                    break
        half = long >= w.m.least * 2 and w.m.lies(long / 2)
        high = long * w.numbers.choice((Fraction(1), Fraction(1, 2))) if half else long
        w.depth = w.pick(0, 0, 1)
        unit = unit_of(w, Box(long, high))
        w.depth = 0
        corner = w.used(unit_of(w, Box(high, high))) if w.chance(0.6) else w.fabric()
        if ring:
            two = coped and high <= w.m.inch * 4 and w.chance(0.3)
            row = f"{w.used(unit)} | {w.used(unit)}" if two else w.used(unit)
            self.lines += ["ring", f"    {row}", f"    {corner}"]
        else:
            self.lines.append(f"border {w.used(unit)}, cornerstones {corner}")
        if coped:
            self.size = None
        else:
            self.grow(high)


def _shared(a: Fraction, b: Fraction) -> Fraction:
    """The longest length that goes into both a whole number of times."""
    den = a.denominator * b.denominator
    return Fraction(gcd(int(a * den), int(b * den)), den)


def rounds(w: Writer, size: Box | None, block: Fraction, wish: str = "") -> Rounds:
    """The borders of a quilt."""
    made = Rounds(w, size, block)
    wanted = [wish] if wish else []
    if w.has("borders") and not wish:
        wanted = [w.pick("plain", "plain", "pieced", "ring") for _ in range(w.pick(1, 1, 2, 3))]
    for way in wanted:
        if way == "plain" or (made.size is None and made.lines and made.lines[-1].startswith(("ring", " "))):
            made.plain()
        else:
            made.pieced(way == "ring")
    return made
