"""From makings to painted patches: leaves in floats, one path for each fabric, letters where they fit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from patternkit.drawing.geometry import (
    NEAR,
    SAME,
    Frame,
    after,
    apply,
    area,
    box_of,
    clipped,
    floats,
    frame_of,
    label_spot,
    overlap,
)
from patternkit.drawing.look import Look
from patternkit.drawing.scene import INK, PAPER, Box, Lettering, Path, Pt, Shape, SymbolUse
from patternkit.drawing.swatches import Swatch, blend, luminance, swatch_for
from patternkit.piecing.making import Cloth, Making, Part, Placed
from patternkit.text_widths import CAP, text_width

LETTER_SIZES = (9.0, 7.5, 6.5)
CHIP_SIZES = (8.0, 7.5, 6.5)
_OUTER, _BLOCKS = 1.3, 0.9


class DrawnPatch(msgspec.Struct, frozen=True):
    """One patch as it shows: fabric, clockwise points, and the index of the top part it belongs to. What is laid on
    others lies in a higher `layer`."""

    fabric: str
    points: tuple[Pt, ...]
    part: int = 0
    layer: int = 0


class Leaves:
    """The patches of makings, worked out once for each making and reused for every copy of it."""

    def __init__(self) -> None:
        """Begin with nothing known."""
        self._known: dict[int, list[DrawnPatch]] = {}

    def of(self, part: Part) -> list[DrawnPatch]:
        """All patches of a part in its own coordinates; `part` numbers the parts of a making."""
        if isinstance(part, Cloth):
            return [DrawnPatch(part.fabric, floats(part.outline))]
        if id(part) not in self._known:
            shown = [self.shown(placed, i) for i, placed in enumerate(part.parts)]
            shown = _stacked(shown) if part.is_layered else shown
            self._known[id(part)] = [leaf for leaves in shown for leaf in leaves]
        return self._known[id(part)]

    def shown(self, part: Placed, index: int = 0) -> list[DrawnPatch]:
        """The patches of a part as far as they show."""
        whole = self.placed(part.what, frame_of(part.place), index)
        if not part.shown:
            return whole
        ring, out = floats(part.shown), []
        for leaf in whole:
            points = leaf.points
            for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
                points = clipped(points, a, b) if len(points) > 2 else ()
            if len(points) > 2 and area(points) > NEAR:
                out.append(DrawnPatch(leaf.fabric, points, index, leaf.layer))
        return out

    def seen(self, part: Placed, frame: Frame) -> list[DrawnPatch]:
        """The same of a part of a whole that is moved by a frame."""
        return _moved(self.shown(part), frame)

    def placed(self, part: Part, frame: Frame, index: int = 0) -> list[DrawnPatch]:
        """The patches of a part moved by a frame."""
        return [msgspec.structs.replace(leaf, part=index) for leaf in _moved(self.of(part), frame)]


def _moved(leaves: Iterable[DrawnPatch], frame: Frame) -> list[DrawnPatch]:
    """Patches moved by a frame, clockwise as seen again where it turns them over."""
    turns = frame[0] * frame[3] - frame[1] * frame[2] < 0
    moved = [(leaf, apply(frame, leaf.points)) for leaf in leaves]
    return [msgspec.structs.replace(leaf, points=points[::-1] if turns else points) for leaf, points in moved]


def _stacked(parts: Sequence[Sequence[DrawnPatch]]) -> list[list[DrawnPatch]]:
    """The patches of parts that lie over each other, each part above all before it."""
    found: list[list[DrawnPatch]] = []
    below = 0
    for leaves in parts:
        found.append([msgspec.structs.replace(leaf, layer=leaf.layer + below) for leaf in leaves])
        below = max((leaf.layer for leaf in found[-1]), default=below) + 1
    return found


def fabrics_of(leaves: Iterable[DrawnPatch], swatches: Mapping[str, Swatch]) -> list[str]:
    """The fabrics used, in the order of the swatches; fabrics without a swatch come last, by name. Prints of a group go
    by that."""
    order = {key: i for i, key in enumerate(swatches)}
    return sorted({_shown(leaf.fabric, swatches) for leaf in leaves}, key=lambda f: (order.get(f, len(order)), f))


def _shown(fabric: str, swatches: Mapping[str, Swatch]) -> str:
    """A fabric, or the group which it is a print of."""
    swatch = swatches.get(fabric)
    return swatch.of or fabric if swatch is not None else fabric


def edge_of(colour: str) -> str:
    """The colour of a patch's outline: dark, but lighter than a dark cloth so that seams within it still show."""
    return blend(colour, "#ffffff", 0.5) if luminance(colour) < 0.05 else INK


def scaled(points: Iterable[Pt], scale: float) -> tuple[Pt, ...]:
    """Points in inches as points of the page."""
    return tuple((x * scale, y * scale) for x, y in points)


def paint(
    leaves: Iterable[DrawnPatch],
    scale: float,
    swatches: Mapping[str, Swatch],
    plain: bool = False,
    width: float = 0.6,
) -> list[Shape]:
    """The patches as one path for each fabric, the dark ones last, layer by layer; all white when `plain`."""
    loops: dict[tuple[int, str], list[tuple[Pt, ...]]] = {}
    for leaf in leaves:
        loops.setdefault((leaf.layer, "" if plain else leaf.fabric), []).append(scaled(leaf.points, scale))
    if plain:
        return [Path(tuple(loops[at]), fill=PAPER, width=width) for at in sorted(loops)]
    colours = {fabric: swatch_for(swatches, fabric).colour for _, fabric in loops}
    return [
        Path(tuple(loops[n, f]), fabric=f, stroke=edge_of(colours[f]), width=width)
        for n, f in sorted(loops, key=lambda at: (at[0], -luminance(colours[at[1]]), at[1]))
    ]


def label_on(
    points: Sequence[Pt],
    text: str,
    ground: str,
    sizes: Sequence[float] = LETTER_SIZES,
    bold: bool = True,
    taken: Sequence[Box] = (),
) -> Lettering | None:
    """A text within a patch (points of the page), as large as fits; None when not even the smallest does."""
    from patternkit.drawing.swatches import best_ink

    for size in sizes:
        wide, high = text_width(text, size, bold), CAP * size
        spot = label_spot(points, wide + 3, size * 1.02 + 1.6, taken)
        if spot:
            return Lettering(
                spot[0],
                spot[1] + high / 2,
                text,
                size,
                bold=bold,
                ink=best_ink(ground),
                ground=ground,
                halo=2.6,
            )
    return None


def chips_on(cells: Iterable[Sequence[Pt]], code: str, sizes: Sequence[float] = CHIP_SIZES) -> list[Shape]:
    """The code of a piece, dark on a white chip, on each of some outlines that have room for it."""
    found: list[Shape] = []
    known: dict[tuple[Pt, ...], tuple[float, float, float] | None] = {}
    for cell in cells:
        x0, y0, _, _ = box_of(cell)
        shape = tuple((round(x - x0, 2), round(y - y0, 2)) for x, y in cell)
        if shape not in known:
            text = label_on(cell, code, PAPER, sizes)
            known[shape] = (text.x - x0, text.y - y0, text.size) if text else None
        if at := known[shape]:
            found += chip(x0 + at[0], y0 + at[1], code, at[2])
    return found


def chip(x: float, y: float, code: str, size: float) -> tuple[Path, Lettering]:
    """A code on its chip, `y` its base line."""
    half, top, foot = text_width(code, size, True) / 2 + 1.4, y - CAP * size - 1.3, y + 1.3
    loop = ((x - half, top), (x + half, top), (x + half, foot), (x - half, foot))
    return Path((loop,), fill=PAPER, width=0.5), Lettering(x, y, code, size, bold=True)


def letters(
    leaves: Iterable[DrawnPatch], scale: float, swatches: Mapping[str, Swatch], taken: Sequence[Box] = ()
) -> tuple[list[Lettering], set[str]]:
    """A letter on every patch that has room for one, and the fabrics that nowhere had."""
    found: list[Lettering] = []
    lettered: set[str] = set()
    seen: set[str] = set()
    known: dict[tuple[tuple[float, float], ...], tuple[float, float, float] | None] = {}
    leaves = list(leaves)
    above = [(leaf.layer, box_of(scaled(leaf.points, scale))) for leaf in leaves if leaf.layer]
    for leaf in leaves:
        s = swatch_for(swatches, leaf.fabric)
        seen.add(_shown(leaf.fabric, swatches))
        points = scaled(leaf.points, scale)
        x0, y0, x1, y1 = box_of(points)
        shape = (*tuple((round(x - x0, 2), round(y - y0, 2)) for x, y in points), (len(s.letter), 0.0))
        over = [box for layer, box in above if layer > leaf.layer and overlap(box, (x0, y0, x1, y1))]
        at = known.get(shape)
        if shape not in known or taken or over:  # equal patches get their letter at the same place
            text = label_on(points, s.letter, s.colour, taken=(*taken, *over))
            at = (text.x - x0, text.y - y0, text.size) if text else None
            if not over:
                known[shape] = at
        if at:
            lettered.add(_shown(leaf.fabric, swatches))
            found.append(
                Lettering(x0 + at[0], y0 + at[1], s.letter, at[2], bold=True, ink=s.ink, ground=s.colour, halo=2.6)
            )
    return found, seen - lettered


class Symbols:
    """Paints a making with `use` elements for sub-makings that come back in the same orientation."""

    def __init__(
        self,
        making: Making,
        scale: float,
        swatches: Mapping[str, Swatch],
        plain: bool,
        width: float,
        share: bool = True,
    ) -> None:
        """Count how often each making stands in each orientation; without `share` everything is drawn in full."""
        self.share = share
        self.scale, self.swatches, self.plain, self.width = scale, swatches, plain, width
        self.leaves = Leaves()
        self.symbols: dict[str, tuple[Shape, ...]] = {}
        self._names: dict[tuple[int, int, bool], str] = {}
        self._count: dict[tuple[int, int, bool], int] = {}
        self._tally(making, 0, False)

    def _tally(self, making: Making, turned: int, mirrored: bool) -> None:
        key = (id(making), turned, mirrored)
        self._count[key] = self._count.get(key, 0) + 1
        if self._count[key] == 1:
            for placed in making.parts:
                if isinstance(placed.what, Making):
                    self._tally(placed.what, *_orient(placed.place.turned, placed.place.mirrored, turned, mirrored))

    def shapes(self, making: Making, frame: Frame = SAME, turned: int = 0, mirrored: bool = False) -> tuple[Shape, ...]:
        """The making painted in a frame whose orientation is `turned` and `mirrored`."""
        own: list[DrawnPatch] = []
        uses: list[Shape] = []
        if making.is_layered:
            leaves = self.leaves.placed(making, frame)
            return tuple(paint(leaves, self.scale, self.swatches, self.plain, self.width))
        for placed in making.parts:
            inner = after(frame_of(placed.place), frame)
            if isinstance(placed.what, Cloth):
                own += self.leaves.placed(placed.what, inner)
                continue
            if placed.shown:
                own += self.leaves.seen(placed, frame)
                continue
            t, m = _orient(placed.place.turned, placed.place.mirrored, turned, mirrored)
            if self.share and self._count[id(placed.what), t, m] > 1 and len(self.leaves.of(placed.what)) > 2:
                uses.append(
                    SymbolUse(self._symbol(placed.what, inner, t, m), inner[4] * self.scale, inner[5] * self.scale)
                )
            else:
                uses += self.shapes(placed.what, inner, t, m)
        return (*paint(own, self.scale, self.swatches, self.plain, self.width), *uses)

    def _symbol(self, making: Making, frame: Frame, turned: int, mirrored: bool) -> str:
        key = (id(making), turned, mirrored)
        if key not in self._names:
            still = (*frame[:4], 0.0, 0.0)
            shapes = self.shapes(making, still, turned, mirrored)
            self._names[key] = f"m{len(self._names)}"
            self.symbols[self._names[key]] = shapes
        return self._names[key]


def _orient(turned: int, mirrored: bool, outer: int, outer_mirrored: bool) -> tuple[int, bool]:
    return (outer + (-turned if outer_mirrored else turned)) % 360, mirrored != outer_mirrored


def outline_path(making: Making, frame: Frame, scale: float, width: float = _OUTER) -> Path:
    """The outer edge of a making as a heavier line."""
    return Path((scaled(apply(frame, floats(making.outline)), scale),), width=width)


def part_lines(making: Making, scale: float, width: float = _BLOCKS) -> list[Shape]:
    """The edges of the sewn parts within a making (blocks within a quilt) as middling lines."""
    loops = tuple(
        scaled(floats(p.shown) if p.shown else apply(frame_of(p.place), floats(p.what.outline)), scale)
        for p in making.parts
        if isinstance(p.what, Making)
    )
    return [Path(loops, width=width)] if loops else []


def measure_words(making: Making, look: Look, measure: str) -> str:
    """The making's size in words: "finished", "raw" or "both"; empty for anything else."""
    finished, raw = look.size(making.width, making.height), look.raw(making.width, making.height)
    if measure == "both":
        return look.render("both", finished=finished, raw=raw)
    if measure == "raw":
        return look.render("measures", size=raw)
    return look.render("finishes", size=finished) if measure == "finished" else ""


def fabric_words(fabrics: Iterable[str], swatches: Mapping[str, Swatch], look: Look) -> str:
    """Fabrics with their letters in words."""
    return look.list([f"{s.title} ({s.letter})" for s in (swatch_for(swatches, f) for f in fabrics)])
