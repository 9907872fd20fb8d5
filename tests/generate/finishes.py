"""Binding, backing, batting, sleeve."""

from __future__ import annotations

from fractions import Fraction

from .writer import Box, Writer

BIAS = (", bias", ", bias, from a square", ", from a square")


def finishes(w: Writer, size: Box | None) -> list[str]:
    """The finishing lines of a quilt; none where the pattern has no finish."""
    if not w.has("finishing"):
        return []
    lines = [_binding(w, size), _backing(w)]
    if w.chance(0.5):
        lines.append("batting" if w.chance(0.4) else f"batting overage {_round(w, 3)}")
    if w.chance(0.4):
        lines.append(f"sleeve {_round(w, 4)} {w.fabric()}")
    return lines


def _square_fits(w: Writer, size: Box | None, wide: Fraction) -> bool:
    """Whether the cloth has room for a square that all the bias binding comes from."""
    if size is None or w.has("sizes"):
        return False
    return ((size.w + size.h) * 2 + w.m.inch * 22) * wide < (w.m.usable - w.m.inch * 4) ** 2


def _round(w: Writer, inches: Fraction | int) -> str:
    """About so many inches, in a round number of the file's unit."""
    step = {"inches": Fraction(1, 4), "cm": Fraction(1, 2), "mm": Fraction(5)}[w.m.units]
    return w.num(max(1, round(inches * w.m.inch / step)) * step, size=False)


def _binding(w: Writer, size: Box | None) -> str:
    cloth = w.fabric()
    wide = w.m.seam * 8 + w.m.inch / 4
    line = f"binding cut {_round(w, wide / w.m.inch)} {cloth}"
    if w.chance(0.2):
        line = f"binding {w.num(w.m.up(w.m.seam), size=False)} {cloth}"
    line += w.pick("", "", ", straight", ", joined straight", *(BIAS if _square_fits(w, size, wide) else ()))
    if w.chance(0.3):
        line += f", allowance {_round(w, w.numbers.choice((10, 16, 20)))}"
    if w.chance(0.25) and size is not None and "square" not in line and "bias" not in line and not w.has("sizes"):
        line += f", strips {_strips(w, size, wide)}"
    return line


def _strips(w: Writer, size: Box, wide: Fraction) -> int:
    """Strips that are enough for the perimeter with joins and an allowance, whatever of these is said."""
    total = (size.w + size.h) * 2 + w.m.inch * 22
    return int(total / (w.m.usable - wide)) + 1


def _backing(w: Writer) -> str:
    line = f"backing {w.fabric()}"
    if w.chance(0.4):
        line += f", overage {_round(w, w.numbers.choice((2, 4, 5)))}"
    way = w.pick("", "", ", seams horizontal", ", seams vertical", "wide", "panels")
    if way == "wide":
        return f"{line}, wide {_round(w, 108)}"
    if way == "panels":
        return f"{line}, panels 6"  # more than are needed is advice
    return line + way
