"""Strip units: strips sewn along their long edges, then cut across."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from patternkit.piecing.batch import Action, Batch, CloseTube, CutAcross, Edge, Join, Measure, OpenRing
from patternkit.piecing.kinds.slanted import Slant
from patternkit.piecing.making import Cloth, Making, PieceCut, Placed
from patternkit.piecing.offset import box_size
from patternkit.piecing.sewing.desk import Desk, StripWay, trimming
from patternkit.piecing.sewing.squares import cloths_of, pressed
from patternkit.piecing.sewn.trimming import untrimmed
from patternkit.piecing.strip_cuts import half_strip, to_length
from patternkit.piecing.tubes import begins_at, pressed_to


def batches(making: Making, desk: Desk) -> list[tuple[Batch, int]]:
    """A batch for each way in which strip units are cut across; half strips come last. The strips lie one below the
    other, the first on top. Segments of several units are cut from one strip unit where they are sewn alike."""
    return [(_unit(making, way, desk), way.times) for way in desk.ways]


def _unit(making: Making, way: StripWay, desk: Desk) -> Batch:
    """One strip unit, cut across for every unit that has segments of it."""
    made = [(m, n) for m, n in way.segments if n]
    strips = [_strip(making, placed, way, desk) for placed in making.parts]
    joins: list[Action] = []
    for seam in making.seams:
        upper, lower = (seam.left[-1], seam.right[0]) if seam.left < seam.right else (seam.right[-1], seam.left[0])
        first, second = (upper, lower) if seam.left < seam.right else (lower, upper)
        joins.append(strip_join(upper, lower, pressed(seam, first, second), strips))
    cuts: list[Action]
    slant = making.recipe.numbers if isinstance(making.recipe.numbers, Slant) else None
    if slant is not None:
        joins = [_staggered(join, slant, strips) for join in joins]
        angle = 180 - slant.angle if slant.falls else slant.angle
        cuts = [CutAcross(0, slant.width, n, angle) for _, n in made]
    else:
        cuts = [CutAcross(0, m.recipe.segment, n) for m, n in made if m.recipe.segment is not None]
    tube: list[Action] = []
    opened = [(m, begins_at(making, m)) for m, _ in made] if making.recipe.method.tube else []
    if opened and any(begins_at(making, m) for w in desk.ways for m, n in w.segments if n):
        tube, cuts = _tube(making, opened, cuts)
    across = Edge(0, 1)  # an end of the first strip: the strips lie one below the other, and show side by side
    trims = [msgspec.structs.replace(t, along=across) for t in trimming(making, "even", desk.ruler)]
    only = made[0][0] if len(made) == 1 else None
    passages = [
        (making.recipe.method.phrase, joins),
        ("strips_tube", tube),
        ("strips_cut", [*cuts]),
        ("trim", [*trims]),
        ("measure", [_measure(only, desk)] if only is not None and slant is None and not trims else []),
    ]
    return desk.batch([desk.piece(c) for c in strips], passages, [(desk.thing(m), n) for m, n in made])  # type: ignore[arg-type]


def strip_join(upper: int, lower: int, toward: int, strips: Sequence[PieceCut]) -> Join:
    """Two strips of a strip unit, by their numbers: level where they begin, the one from a wider cloth runs on."""
    join = Join((Edge(upper, 2),), (Edge(lower, 0),), toward)
    if strips[upper].width == strips[lower].width:
        return join
    return msgspec.structs.replace(join, fit="end", ears=True)


def _tube(
    making: Making, opened: Sequence[tuple[Making, int]], cuts: Sequence[Action]
) -> tuple[list[Action], list[Action]]:
    """The seam that makes a tube of a strip unit; rings cut, and those of each segment opened where it begins."""
    n = len(making.parts)
    rings: list[Action] = []
    for cut, (segment, by) in zip(cuts, opened, strict=True):
        rings += [cut, OpenRing(Edge((by - 1) % n, 2), Edge(by, 0), pressed_to(segment, by))]
    return [CloseTube(Edge(n - 1, 2), Edge(0, 0))], rings


def _staggered(join: Action, slant: Slant, strips: Sequence[PieceCut]) -> Join:
    """Two strips of which the lower one begins further out; middles pass each other by as much, and by half of what one
    is longer."""
    assert isinstance(join, Join)
    upper, lower = join.left[0].part, join.right[0].part
    out = slant.steps[upper] * (1 if slant.falls else -1)
    slide = out + (strips[upper].width - strips[lower].width) / 2
    return msgspec.structs.replace(join, fit="slid", slide=slide, ears=True)


def _strip(making: Making, placed: Placed, way: StripWay, desk: Desk) -> PieceCut:
    """The strip that shows as a piece of a segment: of its fabric, and as wide as that asks for."""
    cuts = making.recipe.cuts
    assert isinstance(placed.what, Cloth)
    raw = box_size(untrimmed(making, placed))[0] + desk.seam * 2
    own = [c for c in cuts if c.fabric == placed.what.fabric]
    cut = next((c for c in own if c.exact_height == raw), own[0])
    return half_strip(cut, cuts, desk.widths) if way.half else to_length(cut, cuts, desk.widths, desk.taken)


def _measure(making: Making, desk: Desk) -> Measure:
    """A segment, with what its strips show from one end to the other, the outer ones still with their allowance."""
    shows = [box_size(cloth.outline)[0] for cloth in cloths_of(making)]
    shows[0], shows[-1] = shows[0] + desk.seam, shows[-1] + desk.seam
    return Measure(making.width + desk.seam * 2, making.height + desk.seam * 2, tuple(shows))
