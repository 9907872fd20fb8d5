"""Units of slices: corners and bands taken off, pieces divided again, bent lines, strip units laid under a piece,
outlines of their own."""

from __future__ import annotations

from fractions import Fraction

from .kinds import maker, method_line
from .writer import Box, Writer

PARTS = (Fraction(1, 3), Fraction(1, 2), Fraction(1, 4), Fraction(2, 5))


@maker(
    "slices",
    lambda w, b: b.short >= w.m.seam * 12 and b.long <= b.short * 3,
    "templates",
    "foundation",
    weight=3,
)
def slices(w: Writer, box: Box, method: str) -> list[str]:
    paper = method == "foundation"
    ways = [_corners, _bands, _again] + ([] if paper else [_bent, _laid, _laid, _outlined])
    if w.chance(0.25):
        ways = [_round] if paper else [_round, _arcs]
    way = w.shape.choice(ways)
    left, lines = way(w, box)
    if paper and w.chance(0.7):
        lines.append(f"extra {w.num(w.m.up(w.m.inch / 2), size=False)}")
    if not paper and w.chance(0.4) and way is not _arcs:
        lines.append("dog-ears kept")
    return [f"slices {left}", *lines, *method_line(method), f"finished {w.size(box)}"]


def _part(w: Writer, edge: str, part: Fraction) -> str:
    if part == Fraction(1, 2) and w.chance(0.5):
        return f"middle of {edge}"
    return f"{part} of {edge}" if w.chance(0.7) else f"{edge} {part}"


def _corners(w: Writer, box: Box) -> tuple[str, list[str]]:
    """Corners cut off by points that are parts of edges, or lengths."""
    lines = []
    for level, side in w.shape.sample([(y, x) for y in ("top", "bottom") for x in ("left", "right")], w.pick(1, 2, 4)):
        p, q = w.numbers.choice(PARTS), w.numbers.choice(PARTS)
        if w.chance(0.3, "off-grid"):
            x, y = box.w * p, box.h * q
            x, y = (x if side == "left" else box.w - x), (y if level == "top" else box.h - y)
            start = f"{w.num(x, pair=True)} x {'0' if level == 'top' else w.num(box.h, pair=True)}"
            end = f"{w.num(y)} along {side}"
        else:
            start = _part(w, level, p if side == "left" else 1 - p)
            end = _part(w, side, q if level == "top" else 1 - q)
        lines.append(f"slice from {start} to {end}, {w.fabric()} {side}")
    return w.fabric(), lines


def _round(w: Writer, box: Box) -> tuple[str, list[str]]:
    """A corner cut off, and a line that is drawn in, both again and again round the middle."""
    times = 4 if box.w == box.h else 2
    p = w.numbers.choice((Fraction(1, 3), Fraction(1, 4), Fraction(1, 2)))
    fabrics = ", ".join(w.fabric() for _ in range(w.pick(1, 2)))
    lines = [f"slice from {p} of top to {p} of left, {fabrics}, {times} times round"]
    if w.chance(0.5):
        lines.append(f"slice from 1/5 of left to 1/5 of right, {w.fabric()} top, {times} times round")
    return w.fabric(), lines


def _arcs(w: Writer, box: Box) -> tuple[str, list[str]]:
    """A petal from corner to corner of a square, a corner cut off round, or a bite from an edge."""
    if box.w == box.h and w.chance(0.4):
        ends = "slice from top left to bottom right about"
        return w.fabric(), [f"{ends} bottom left, {w.fabric()} top", f"{ends} top right, {w.fabric()} bottom"]
    if w.chance(0.5):
        far = w.num(box.short * w.numbers.choice((Fraction(1, 2), Fraction(3, 4))))
        return w.fabric(), [f"slice from {far} along top to {far} along left about top left, {w.fabric()} left"]
    return w.fabric(), [f"slice from 3/4 of bottom to 1/4 of bottom about middle of bottom, {w.fabric()} bottom"]


def _bands(w: Writer, box: Box) -> tuple[str, list[str]]:
    """Slanting bands from the top edge to the bottom one."""
    n = w.pick(1, 2, 3)
    starts = [Fraction(i + 1, n + 2) for i in range(n)]
    slant = w.numbers.choice((Fraction(1, 12), Fraction(1, 10), Fraction(0)))
    lines = [f"slice from {x} of top to {x + slant} of bottom, {w.fabric()} left" for x in starts]
    if w.chance(0.5):
        lines.append(f"slice from end {n} to {_part(w, 'right', Fraction(1, 2))}, {w.fabric()} bottom")
    return w.fabric(), lines


def _again(w: Writer, box: Box) -> tuple[str, list[str]]:
    """A piece that was taken off, divided once more."""
    first = f"slice from {_part(w, 'top', Fraction(1, 3))} to {_part(w, 'bottom', Fraction(1, 2))}, {w.fabric()} left"
    again = f"slice 1 again from top left to {w.numbers.choice(PARTS)} of slice 1, {w.fabric()} top"
    more = f"slice from start 1 to {_part(w, 'right', Fraction(1, 2))}, {w.fabric()} top"
    return w.fabric(), [first, again, more] if w.chance(0.5) else [first, again]


def _bent(w: Writer, box: Box) -> tuple[str, list[str]]:
    """A corner sewn in along a bent line."""
    p = w.numbers.choice((Fraction(1, 2), Fraction(1, 3), Fraction(2, 5)))
    inner = w.pair(Box(box.w * p, box.h * p))
    return w.fabric(), [f"slice from {p} of top through {inner} to {p} of left, {w.fabric()} left, set in"]


def _laid(w: Writer, box: Box) -> tuple[str, list[str]]:
    """Pieces cut from a strip unit as large as the whole."""
    n = w.pick(2, 4, 6)
    unit = w.add(box, lambda: [f"strips {' | '.join(w.fabrics(2) * (n // 2))}", f"finished {w.size(box)}"])
    cut = f"slice from {_part(w, 'top', Fraction(1, 3))} to {_part(w, 'bottom', Fraction(1, 2))}"
    if w.chance(0.6):
        return w.used(unit), [f"{cut}, {w.fabric()} left", "lay 0 x 0"]
    return w.fabric(), [f"{cut}, {w.used(unit)} left lay 0 x 0"]


def _outlined(w: Writer, box: Box) -> tuple[str, list[str]]:
    """A triangle that is a unit by itself, of two pieces, squared off by slices."""
    peak = Fraction(1, 2)

    def inner() -> list[str]:
        outline = f"outline {_part(w, 'top', peak)}, bottom right, bottom left"
        cut = f"slice from 1/2 of edge 1 to {w.num(box.w / 4)} along bottom, {w.fabric()} right"
        return [f"slices {w.fabric()}", outline, cut, f"finished {w.size(box)}"]

    unit = w.add(box, inner)
    sides = [f"slice from {peak} of top to bottom {x}, {w.fabric()} {x}" for x in ("left", "right")]
    return w.used(unit), sides
