"""Shapes cut by template out of strip units."""

from __future__ import annotations

from patternkit.lengths import Length
from patternkit.piecing.batch import Action, Batch, CutOut
from patternkit.piecing.kinds.slices_strips import StripTemplate
from patternkit.piecing.kinds.strips import order
from patternkit.piecing.making import Making, PieceCut
from patternkit.piecing.offset import bounding_box, box_size, moved, times
from patternkit.piecing.sewing.desk import Desk, StripWay
from patternkit.piecing.sewing.squares import pressed
from patternkit.piecing.sewing.strips import strip_join
from patternkit.piecing.strip_cuts import half_strip, to_length


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The strips sewn one below the other, the first on top, and as many shapes cut out of each unit as are needed."""
    return [(_unit(making, way, desk), way.times) for way in desk.ways]


def _unit(making: Making, way: StripWay, desk: Desk) -> Batch:
    """One strip unit, and what is cut out of it."""
    laid, ((_, count),) = making.recipe.numbers, way.segments
    assert isinstance(laid, StripTemplate)
    cuts = [_strip(making, fabric, raw, way, desk) for fabric, raw in laid.strips]
    joins: list[Action] = [strip_join(i, i + 1, _toward(making, i - laid.first, i), cuts) for i in order(len(cuts))]
    passages = [(making.recipe.method.phrase, [*joins, _cut_out(making, laid, count, desk)])]
    return desk.batch([desk.piece(c) for c in cuts], passages, [(desk.thing(making), count)])


def _strip(making: Making, fabric: str, raw: Length, way: StripWay, desk: Desk) -> PieceCut:
    """The strip of a fabric that is cut so wide."""
    cuts = making.recipe.cuts
    own = [c for c in cuts if c.fabric == fabric]
    cut = next(c for c in own if c.height == raw)
    return (half_strip if way.half else to_length)(cut, cuts, desk.widths)


def _toward(making: Making, seam: int, strip: int) -> int:
    """The strip to which the seam below a strip is pressed; open where it does not show in the shape."""
    if not 0 <= seam < len(making.seams):
        return -1
    found = making.seams[seam]
    lower = strip + 1
    return pressed(found, *((strip, lower) if found.left < found.right else (lower, strip)))


def _cut_out(making: Making, laid: StripTemplate, count: int, desk: Desk) -> CutOut:
    """The template on the strip unit: what is drawn from left to right lies from top to bottom, and in a mirror image
    from bottom to top."""
    home = times(bounding_box(laid.raw)[0], -1)
    shape, sewn, (width, height) = moved(laid.raw, home), moved(making.outline, home), box_size(laid.raw)
    cut = PieceCut("", width, height, width, height, count, "template", shape=shape, sewn=sewn)
    found = desk.templates.find(cut, False)
    turned = round(found.turned + (270 if making.key.mirrored else 90)) % 360
    pitch = making.recipe.pitch
    assert pitch is not None
    return CutOut(0, found.shape.name, count, laid.from_edge, turned, pitch, found.reversed)
