"""Shapes laid on a ground, one after the other, and the ground trimmed where it was cut larger."""

from __future__ import annotations

from patternkit.lengths import Length
from patternkit.piecing.batch import Action, Batch, Item, LayOn, LayStrip, Measure, TrimTo, Use
from patternkit.piecing.by_angle import bias_strip
from patternkit.piecing.kinds.laid_shape import FUSED, RAW
from patternkit.piecing.laid_on import STRIP, LaidOn, LaidPart
from patternkit.piecing.making import Cloth, Making, Placed, Point
from patternkit.piecing.sewing.cloths import under
from patternkit.piecing.sewing.desk import Desk, NoCut


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """All that is laid on, in order: a passage for each run of shapes that are laid on in one way."""
    laid_on = making.recipe.numbers
    assert isinstance(laid_on, LaidOn)
    uses = [_ground(making, desk)]
    passages: list[tuple[str, list[Action]]] = []
    for n, (placed, part) in enumerate(zip(making.parts[1:], laid_on.laid, strict=True), 1):
        uses.append(_strip(making, placed, part, desk) if part.track is not None else _shape(making, placed, desk))
        name = _passage(part)
        if not passages or passages[-1][0] != name:
            passages.append((name, []))
        passages[-1][1].append(_laid(n, part, laid_on.larger, desk.seam))
    size = making.width + desk.seam * 2, making.height + desk.seam * 2
    last: list[Action] = [TrimTo(*size)] if any(laid_on.larger) else []
    passages.append(("applique-trim" if last else passages[-1][0], [*last, Measure(*size, parts=(0,))]))
    if not last:
        name, measured = passages.pop()
        passages[-1][1].extend(measured)
    return [(desk.batch(uses, passages, [(desk.thing(making), 1)]), desk.times)]


def _ground(making: Making, desk: Desk) -> Use:
    """What all is laid on: a sewn unit, or a patch, be it cut larger."""
    what = making.parts[0].what
    if isinstance(what, Making):
        return Use(desk.thing(what), making.parts[0].place.turned)
    recipe = desk.recipes.get(id(what))
    if recipe is None or not recipe.cuts:
        raise NoCut(f"{making.key}: no cut for its ground")
    cut = recipe.cuts[0]
    item = desk.piece(cut)  # its short side first, however the ground lies
    return Use(item, 0 if (item.width, item.height) == (cut.width, cut.height) else 90)


def _shape(making: Making, placed: Placed, desk: Desk) -> Use:
    """A unit, or the piece that it is, turned as it is laid on."""
    if isinstance(placed.what, Making):
        return Use(desk.thing(placed.what), placed.place.turned)
    return under(making, placed, desk).use


def _strip(making: Making, placed: Placed, part: LaidPart, desk: Desk) -> Use:
    """A bias strip, by its fabric and its length."""
    assert isinstance(placed.what, Cloth) and part.track is not None
    long, wide = part.cut
    for cut in making.recipe.cuts:
        if cut.name == STRIP and cut.fabric == placed.what.fabric and bias_strip(cut.shape, cut.sewn) == (wide, long):
            item: Item = desk.piece(cut)
            return Use(item)
    raise NoCut(f"{making.key}: no cut for a strip")


def _passage(part: LaidPart) -> str:
    kind = "strip" if part.track is not None else "shape"
    way = "fused" if part.way is FUSED else "raw" if part.way is RAW else "turned"
    return f"applique-{kind}-{way}"


def _laid(n: int, part: LaidPart, larger: Point, seam: Length) -> Action:
    """One thing laid on; the ground's raw edges lie a seam, and half of what it is larger, outside finished ones."""

    def raw(p: Point) -> Point:
        return p[0] + seam + larger[0] / 2, p[1] + seam + larger[1] / 2

    if part.track is None:
        return LayOn(n, 0, *raw(part.at), part.turned)
    about = raw(part.track.about) if part.track.about is not None else None
    start, end = raw(part.track.start), raw(part.track.end)
    return LayStrip(n, 0, start, end, part.turned, about, part.track.reversed, part.caught)
