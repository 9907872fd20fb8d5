"""Coping strips: a plain border without a width, before a pieced one, is as wide as makes the pieced one fit.

The pieced border repeats its pieces a whole number of times along each side. Of the numbers that leave room for a strip
that can be sewn, the least is taken; the strips at the sides and those at top and bottom may differ in width.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Framing, Pattern, Quilt
from patternkit.piecing.unknowns import Unknown, of_border, of_centre, of_layer
from patternkit.sizes import Affine, Solution, structure

if TYPE_CHECKING:
    from patternkit.piecing.sizing import Sizing


def solve_copings(sizing: Sizing, solution: Solution) -> Solution:
    """Work out the coping strips from the inside outward, solving again after each; those of units that are set like
    quilts before those of the quilt."""
    for unit in sizing.pattern.units.values():
        if unit.quilt is not None:
            before = len(sizing.system.equations)
            solution = _copings(unit.quilt, sizing, solution)
            sizing.shared |= dict.fromkeys(range(before, len(sizing.system.equations)), unit)
    return solution if sizing.pattern.quilt is None else _copings(sizing.pattern.quilt, sizing, solution)


def has_copings(pattern: Pattern) -> bool:
    """Whether a border, of the quilt or of a unit that is set like one, has no width."""
    return any(e.width is None and not e.sequence for quilt in pattern.quilts for e in quilt.borders)


def _copings(quilt: Quilt, sizing: Sizing, solution: Solution) -> Solution:
    for i, edge in enumerate(quilt.borders[:-1]):
        pieced = quilt.borders[i + 1]
        if (
            edge.width is None
            and not edge.sequence
            and pieced.sequence
            and solution.value(of_border(edge.nth, "width", quilt.of)) is None
        ):
            if not _state_width(quilt, i, edge, pieced, sizing, solution):
                return solution
            solution = sizing.system.solve()
    return solution


def _state_width(quilt: Quilt, i: int, edge: Framing, pieced: Framing, sizing: Sizing, solution: Solution) -> bool:
    """State the widths of one coping strip; False when the sizes around it are not known."""
    env = sizing.pattern.parameters
    width = _sum(sizing, solution, pieced)
    for side, own, where in (("w", "width", "along the top"), ("h", "height", "along the sides")):
        inner = of_centre(side, quilt.of) if i == 0 else of_layer(quilt.borders[i - 1].nth, side, quilt.of)
        room = solution.value(inner)
        if width is None or room is None or width.value(env) <= 0 or room.value(env) <= 0:
            return False
        # a strip that shows less than a seam allowance is not worth sewing
        least = room.value(env) + sizing.seam * 2
        times = max(1, int((least / width.value(env)).ceil_to(Fraction(1))))
        text = f"{edge.called} is as wide as lets {pieced.called} repeat {times} times {where}"
        repeats = [(v, Length(-times)) for v in _vars(sizing, pieced)]
        sizing.system.add(
            [(of_border(edge.nth, own, quilt.of), Length(2)), (inner, Length(1)), *repeats],
            Affine(0),
            structure(edge.span, text),
        )
    return True


def _vars(sizing: Sizing, pieced: Framing) -> list[Unknown]:
    return [sizing.size_in_quilt(p, pieced.of)[0] for p in pieced.sequence]


def _sum(sizing: Sizing, solution: Solution, pieced: Framing) -> Affine | None:
    total = Affine(ZERO)
    for var in _vars(sizing, pieced):
        value = solution.value(var)
        if value is None:
            return None
        total = total + value
    return total
