"""Shapes laid on blocks of a pattern that is made already, by chances of their own, in units added for them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from random import Random

from .measures import Measures, typed

HEAD = re.compile(r"block ([\w'-]+)")
SIZE = re.compile(r"    finished ([\d ./]+?)(?: x ([\d ./]+))?$")
NOT_UNDER = ("    strips", "    cut-apart")
WAYS = ("needle-turn", "raw edge", "fused")


def with_shapes_laid_on(lines: list[str], seed: int, m: Measures) -> list[str]:
    """The lines with shapes on some blocks."""
    by = Random(f"laid {seed}")
    fabrics = [line.split()[1] for line in lines if line.startswith("fabric ")]
    found: list[str] = []
    added = 0
    for first, last in _parts(lines):
        part = lines[first:last]
        size = _size(part)
        if size is not None and fabrics and by.random() < 0.5 and min(size) >= m.inch * 2:
            added += 1
            shapes, on = _laid(f"shape-{added}", size, fabrics, by, m)
            while part and not part[-1]:
                part.pop()
            plain = any(line.startswith("    patch ") for line in part) and not any("method" in line for line in part)
            larger = [f"    method oversize {typed(m.up(m.inch / 2))}"] if plain else []
            part = [*shapes, "", *part, *larger, *on, ""]
        found += part
    return found


def _parts(lines: list[str]) -> Iterator[tuple[int, int]]:
    """What stands between lines that begin at the margin."""
    starts = [i for i, line in enumerate(lines) if line[:1].strip()]
    yield 0, starts[0] if starts else len(lines)
    yield from zip(starts, [*starts[1:], len(lines)], strict=True)


def _size(part: list[str]) -> tuple[Fraction, Fraction] | None:
    """Width and height of a block that something can be laid on, where both stand there as plain numbers."""
    if not part or not HEAD.match(part[0]) or any(line.startswith(NOT_UNDER) for line in part):
        return None
    said = next((found for line in part if (found := SIZE.match(line)) is not None), None)
    if said is None:
        return None
    wide, high = (sum(map(Fraction, (said[n] or said[1]).split()), Fraction(0)) for n in (1, 2))
    return wide, high


def _laid(
    name: str, size: tuple[Fraction, Fraction], fabrics: list[str], by: Random, m: Measures
) -> tuple[list[str], list[str]]:
    """A unit that is one shape, and the lines that lay it and perhaps a strip on a block."""
    wide, high = size
    across = m.down(min(wide, high) / 2)
    kind = by.choice(("circle", "petal", "heart"))
    fabric = by.choice(fabrics)
    shape = f"{typed(m.up(across / 2))} x {typed(across)}" if kind == "petal" else typed(across)
    unit = [f"unit {name}", f"    {kind} {fabric} {shape}"]
    way = by.choice(WAYS)
    turned = m.inch / 4 if by.random() < 0.3 else None
    if way != "needle-turn" or turned is not None:
        unit.append(f"    method {way}" + (f" {typed(m.up(turned))}" if way == "needle-turn" and turned else ""))
    if across >= m.seam * 16 and by.random() < 0.3:
        unit = [f"unit {name}", *_plate(across, fabric, fabrics, by, m)]
    x, y = m.down(wide / 2), m.down(high / 2)
    on = []
    if by.random() < 0.5:
        stem = m.up(m.inch / 2)
        way = "" if by.random() < 0.5 else f", {by.choice(WAYS[1:])}"
        on.append(f"    applique {by.choice(fabrics)} {typed(stem)} wide from {typed(x)} x {typed(y)} "
                  f"to {typed(x)} x {typed(high)}{way}")  # fmt: skip
    at = f"{typed(x)} x {typed(y)}"
    on.append(f"    applique {name} at {at}{by.choice(('', ' turned 20', ' turned 90', ' turned 315'))}")
    return unit, on


def _plate(across: Fraction, fabric: str, fabrics: list[str], by: Random, m: Measures) -> list[str]:
    """A plate or a fan of two fabrics."""
    fan, ends = by.random() < 0.4, by.choice(("pointed", "round", "straight"))
    blades = by.choice((3, 4, 5)) if fan else by.choice((8, 12))
    lines = [f"    plate {fabric}, {by.choice(fabrics)}", f"    blades {blades}", f"    hole {typed(m.up(across / 2))}"]
    lines += ["    sweep 90"] if fan else []
    return [*lines, f"    ends {ends}", f"    finished {typed(across)}"]
