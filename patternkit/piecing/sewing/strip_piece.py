"""Shapes cut by template out of strip units."""

from __future__ import annotations

from patternkit.lengths import Length
from patternkit.piecing.batch import Action, Batch, CutBetween, CutOut
from patternkit.piecing.kinds.slices_strips import StripTemplate
from patternkit.piecing.kinds.strips import order
from patternkit.piecing.making import Making, PieceCut, Place
from patternkit.piecing.offset import bounding_box, box_size, moved, times
from patternkit.piecing.sewing.desk import Desk, StripWay
from patternkit.piecing.sewing.squares import pressed
from patternkit.piecing.sewing.strips import strip_join
from patternkit.piecing.sewing.templates import Found
from patternkit.piecing.strip_cuts import half_strip, to_length
from patternkit.piecing.turns import LaidShape, at_home, by_turns


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """The strips sewn one below the other, the first on top, and as many shapes cut out of each unit as are needed: of
    one sort, or of two by turns."""
    return [(_unit(making, way, desk), way.times) for way in desk.ways]


def sewn_as(making: Making) -> object:
    """How the strip unit of a shape is sewn: its strips from the top, and for each seam the strip to which it is
    pressed. Equal for two that are sewn alike."""
    laid = making.recipe.numbers
    assert isinstance(laid, StripTemplate)
    toward = tuple(_toward(making, i - laid.first, i) for i in range(len(laid.strips) - 1))
    shown = tuple(s.pressed for s in making.seams if s.pressed == "free")
    return laid.strips, toward, shown


def on_unit(making: Making) -> LaidShape:
    """A shape as it lies on its strip unit, the strips from left to right: what is drawn from left to right lies from
    top to bottom, and in a mirror image from bottom to top."""
    laid = making.recipe.numbers
    assert isinstance(laid, StripTemplate)
    return LaidShape(at_home(Place(turned=_quarters(making)).outline(laid.raw)), laid.from_edge)


def _quarters(making: Making) -> int:
    return 270 if making.key.mirrored else 90


def _unit(making: Making, way: StripWay, desk: Desk) -> Batch:
    """One strip unit, and what is cut out of it."""
    laid, made = making.recipe.numbers, [(m, n) for m, n in way.segments if n]
    assert isinstance(laid, StripTemplate)
    cuts = [_strip(making, fabric, raw, way, desk) for fabric, raw in laid.strips]
    joins: list[Action] = [strip_join(i, i + 1, _toward(making, i - laid.first, i), cuts) for i in order(len(cuts))]
    passages = [(making.recipe.method.phrase, [*joins, _cut_out(made, desk)])]
    return desk.batch([desk.piece(c) for c in cuts], passages, [(desk.thing(m), n) for m, n in made])


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


def _cut_out(made: list[tuple[Making, int]], desk: Desk) -> CutOut:
    """The template on the strip unit, and the one that is laid between, where two sorts are cut by turns."""
    first, count = made[0]
    found, turned, down = _laid(first, desk)
    pitch = first.recipe.pitch
    assert pitch is not None
    between: CutBetween | None = None
    if len(made) > 1:
        second, number = made[1]
        other, way, below = _laid(second, desk)
        both = by_turns(on_unit(first), on_unit(second))
        assert both is not None, "the plan has them by turns"
        pitch, after = both.pitch, both.offset
        between = CutBetween(other.shape.name, number, after, below, way, other.reversed)
    return CutOut(0, found.shape.name, count, down, turned, pitch, found.reversed, between)


def _laid(making: Making, desk: Desk) -> tuple[Found, int, Length]:
    """The template of a shape, by how many degrees it is turned on the strip unit, how far below its upper edge."""
    laid = making.recipe.numbers
    assert isinstance(laid, StripTemplate)
    home = times(bounding_box(laid.raw)[0], -1)
    shape, sewn, (width, height) = moved(laid.raw, home), moved(making.outline, home), box_size(laid.raw)
    cut = PieceCut("", width, height, width, height, 1, "template", shape=shape, sewn=sewn)
    found = desk.templates.find(cut, False)
    return found, round(found.turned + _quarters(making)) % 360, laid.from_edge
