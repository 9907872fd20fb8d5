"""How the blocks are laid: tiles, layouts, sashing, on point, a single centre for a medallion."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from random import Random

from .kinds import piece, unit_of
from .measures import split
from .shapes import ANGLED, FIELDS, angled, banded, slanted
from .writer import Box, Writer

SETTINGS = ("tile", "uneven", "layout", "sashing", "pieced sashing", "on point", "medallion")


@dataclass
class Laid:
    """The lines that lay a quilt's centre, its size where it is a plain number, and whether its counts may change."""

    lines: list[str]
    size: Box | None
    block: Fraction
    counted: tuple[int, int] | None = None
    once: bool = False  # whether every block is laid as often as it is written


def block_side(w: Writer) -> Fraction:
    """The side of a block: so many pieces of a size that the seam allows, on the ruler or off it."""
    m = w.m
    if w.scopes[0].basis is not None and (w.scopes[0].strict or w.chance(0.7)):
        return w.scopes[0].basis[1]
    step = m.ruler * 4  # so that halves and quarters lie on the ruler too
    patch = max(step, round(m.seam * w.numbers.choice((6, 8, 7, 10)) / step) * step)
    if w.has("off-ruler"):
        patch += w.numbers.choice((Fraction(1, 3), Fraction(1, 5), Fraction(1, 7), Fraction(2, 3))) * m.ruler
    most = m.usable / 3
    return max((patch * n for n in (w.numbers.choice((4, 3, 6)), 2) if patch * n <= most), default=patch)


def _block(w: Writer, box: Box) -> str:
    """A block as it lies in the quilt; a plain piece of cloth now and then."""
    if w.wish is None and w.chance(0.15 if w.units else 0.03):
        return f"{w.fabric(box.long)} {w.pair(box)}"
    w.depth = w.pick(3, 2, 1) if w.has("nested") else 1
    if w.wish is not None or not w.units or w.chance(0.4):
        unit = unit_of(w, box, "block")
        turned = f" turned {w.pick(90, 180, 270)}" if box.square and w.chance(0.2, "turned") else ""
        return w.used(unit) + turned
    return piece(w, box)


def _tiled(w: Writer, columns: list[Fraction], rows: list[Fraction], touch: bool = True) -> list[str]:
    """The rows of a tile; marks stand only where blocks `touch`."""
    lines = ["tile"]
    for i, h in enumerate(rows):
        if i and touch and w.chance(0.2, "marks"):
            lines.append(f"    {w.pick('>', '<', '<>')}")
        marks = [w.pick(" | ", " > ", " < ", " <> ") if touch and w.has("marks") else " | " for _ in columns]
        lines.append("    " + "".join((marks[j] if j else "") + _block(w, Box(x, h)) for j, x in enumerate(columns)))
    return lines


def _counts(w: Writer, across: int, down: int) -> list[str]:
    return w.pick(
        [f"across {across}, down {down}"], [f"across {across}", f"down {down}"], [f"{across} across, {down} down"]
    )


def tile(w: Writer, sashing: str = "") -> Laid:
    """A tile of one to four blocks laid over the quilt."""
    side = block_side(w)
    r, c = w.pick(1, 1, 2), w.pick(1, 2, 2)
    across, down = (n * w.pick(1, 2) + w.pick(0, 1) for n in (c, r))
    lines = _counts(w, across, down) + _tiled(w, [side] * c, [side] * r, not sashing)
    size = Box(side * across, side * down)
    if not sashing:
        return Laid(lines, size, side, (across, down))
    width = w.m.up(max(w.m.least, side / 6))
    if sashing == "plain":
        what = w.fabric()
    else:
        w.depth = 1
        what = w.used(unit_of(w, Box(width, side)))
    cut = sashing == "plain" and w.chance(0.2) and not w.scope.strict
    line = f"sashing {f'cut {w.raw(width)}' if cut else w.num(width)} {what}"
    inner = w.chance(0.4)
    if inner:
        line += ", inner"
    if sashing != "plain" or w.chance(0.5):
        w.depth = 0
        stone = w.chance(0.4)
        line += f", cornerstones {w.used(unit_of(w, Box(width, width))) if stone else w.fabric()}"
    more = -1 if inner else 1
    size = Box(size.w + width * (across + more), size.h + width * (down + more))
    return Laid([*lines, line], size, side, (across, down))


def uneven(w: Writer) -> Laid:
    """A tile whose columns and rows have sizes of their own."""
    side = block_side(w)
    columns = [side, side / 2] if w.chance(0.5) else [side / 2, side, side / 2]
    rows = [side, side / 2][: w.pick(1, 2)]
    times = w.pick(1, 2)
    lines = _tiled(w, columns, rows)
    if times > 1:
        lines = [*_counts(w, len(columns) * times, len(rows) * times), *lines]
    return Laid(lines, Box(sum(columns) * times, sum(rows) * times), side)


def layout(w: Writer) -> Laid:
    """Rows of different heights, each divided in a way of its own."""
    side = block_side(w)
    whole = side * w.pick(2, 3)
    heights = [side * w.pick(Fraction(1), Fraction(1, 2), Fraction(3, 2)) for _ in range(w.pick(1, 2, 3))]
    lines = ["layout"]
    for h in heights:
        widths = split(w.numbers, whole, w.pick(2, 3, 1), w.m, w.chance(0.7))
        lines.append("    " + " | ".join(_block(w, Box(x, h)) for x in widths))
    return Laid(lines, Box(whole, sum(heights, Fraction(0))), side, once=True)


def medallion(w: Writer) -> Laid:
    """One block in the middle."""
    side = block_side(w)
    wide = side * w.pick(Fraction(2), Fraction(1), Fraction(3, 2))
    word = w.pick("layout", "tile")
    return Laid([word, f"    {_block(w, Box(side * 2, wide))}"], Box(side * 2, wide), side, once=True)


def _sashed(w: Writer, side: Fraction) -> str:
    """Sashing for blocks on point, of plain cloth: narrow enough for the corner triangles inside it."""
    line = f"sashing {w.num(w.m.up(max(w.m.least, side / 6)))} {w.fabric()}"
    line += w.pick("", ", inner") if w.m.least * 3 < side else ""
    return line + (f", cornerstones {w.fabric()}" if w.chance(0.6) else "")


def on_point(w: Writer) -> Laid:
    """Blocks cornerwise, plain ones or others between them."""
    side = block_side(w)
    across, down = w.pick((2, 2), (3, 2), (1, 2), (2, 3), (1, 1))
    r = 1 if (across, down) == (1, 1) else w.pick(1, 2)
    lines = [*_counts(w, across, down), *_tiled(w, [side], [side] * r, False)]
    cloth = w.fabric()
    says = [f"setting on point {cloth}", f"setting on point, triangles {cloth}"]
    if r == 2 and len(lines[-1].split()) == 1 and w.chance(0.5):
        lines[-1], says = f"    {w.fabric()}", ["setting on point"]  # the triangles are of the plain blocks' fabric
    line = w.shape.choice(says)
    if w.chance(0.35):
        line += f", float {w.num(w.m.up(w.m.seam * 2))}"
    elif w.chance(0.6) and not w.scope.strict:
        root, seam, b = 2**0.5, float(w.m.seam), float(side)
        if across + down > 2:
            line += f", sides cut {w.num(w.m.up(b * root + seam * (2 + 2 * root)), size=False)}"
        line += f", corners cut {w.num(w.m.up(b * root / 2 + seam * (2 + root)), size=False)}"
    elif w.chance(0.8):
        return Laid([line, *lines, _sashed(w, side)], None, side, (across, down))
    elif w.chance(0.5) and (down > 1 or across == 1) and r == 1:
        line = f"setting zigzag {cloth}"
    elif "setting on point," in line:
        line = f"setting on point, sides {cloth}, corners {w.fabric()}"
    return Laid([line, *lines], None, side, (across, down))


def _by_seed(w: Writer, what: str) -> bool:
    """A chance of its own, which changes nothing else of a pattern."""
    return Random(f"{what} {w.dealing.getstate()[1][1]}").random() < 0.06


def shaped(w: Writer) -> Laid:
    """One block of a shape with angles of its own: the quilt is as wide as they make it."""
    side = w.m.up(w.m.seam * w.numbers.choice((12, 16, 20)))
    if w.wish is not None and w.wish[0] in ANGLED:
        (word, method), w.wish = w.wish, None
        block = angled(w, word, method, side)
    else:
        block = banded(w, side) if _by_seed(w, "band") else slanted(w, side, w.dealing)
    turned = " turned 180" if w.chance(0.5, "turned") else ""
    across, down = w.pick(1, 2, 3), w.pick(2, 1, 3)
    lines = [*_counts(w, across, down), "tile", f"    {w.used(block)} | {w.used(block)}{turned}"]
    return Laid(lines, None, side, (across, down))


def straight(w: Writer) -> Laid:
    """A tile with its setting said."""
    sloping = w.has("kinds") and (_by_seed(w, "slanted") or _by_seed(w, "band"))
    wished = w.wish and w.wish[0] in ANGLED and (w.chance(0.6) or w.wish[0] in FIELDS)
    laid = shaped(w) if sloping or wished else tile(w)
    if w.chance(0.4):
        laid.lines.insert(0, "setting straight")
    return laid


LAY: dict[str, Callable[[Writer], Laid]] = {
    "tile": straight,
    "uneven": uneven,
    "layout": layout,
    "sashing": lambda w: tile(w, "plain"),
    "pieced sashing": lambda w: tile(w, "pieced"),
    "on point": on_point,
    "medallion": medallion,
}
