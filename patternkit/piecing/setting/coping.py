"""Coping strips: a plain border without a width, before a pieced one, is as wide as makes the pieced one fit.

The pieced border repeats its pieces a whole number of times along each side. Of the numbers that leave room for a strip
that can be sewn, the least is taken; top and sides must come to one width of strip.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Edge, Quilt
from patternkit.problems import Problem
from patternkit.sizes import Affine, Solution, structure
from patternkit.units import show

if TYPE_CHECKING:
    from patternkit.piecing.sizing import Sizing


def solve_copings(sizing: Sizing, solution: Solution) -> Solution:
    """Work out the coping strips from the inside outward, solving again after each."""
    quilt = sizing.pattern.quilt
    if quilt is None:
        return solution
    for i, edge in enumerate(quilt.borders[:-1]):
        pieced = quilt.borders[i + 1]
        if edge.width is None and not edge.sequence and pieced.sequence and solution.value((edge.word, "width")) is None:
            if not _settle(quilt, i, edge, pieced, sizing, solution):
                return solution
            solution = sizing.system.solve()
    return solution


def _settle(quilt: Quilt, i: int, edge: Edge, pieced: Edge, sizing: Sizing, solution: Solution) -> bool:
    """State the width of one coping strip; False when the sizes around it are not known or nothing fits."""
    env = sizing.pattern.parameters
    inner = "centre" if i == 0 else f"inside {quilt.borders[i - 1].word} out"
    width = _sum(sizing, solution, pieced)
    sides = [solution.value((inner, side)) for side in "wh"]
    if width is None or sides[0] is None or sides[1] is None:
        return False
    unit, room = width.value(env), [s.value(env) for s in sides if s is not None]
    if unit <= 0 or min(room) <= 0:
        return False
    least = sizing.seam  # a strip that shows less than a seam allowance is not worth sewing
    options = [_widths(r, unit, least) for r in room]
    common = [(c, n, m) for c, n in options[0] for d, m in options[1] if c == d]
    if not common:
        units = sizing.pattern.settings.units
        sizing.problem(Problem("border-does-not-close", f"No width of {edge.word} lets {pieced.word} fit all four sides.",
                               edge.span, causes=(
                                   f"Inside it the quilt finishes {show(room[0], units)} x {show(room[1], units)}, and what "
                                   f"{pieced.word} repeats is {show(unit, units)} long.",
                                   "The difference between the two sides must be a whole number of repeats.")))
        return False
    _, n, _ = common[0]
    text = f"{edge.word} is as wide as lets {pieced.word} repeat {n} times along the top"
    sizing.system.add([((edge.word, "width"), Length(2)), ((inner, "w"), Length(1)), *((v, Length(-n)) for v in _vars(sizing, pieced))], Affine(0), structure(edge.span, text))
    return True


def _widths(room: Length, unit: Length, least: Length) -> list[tuple[Length, int]]:
    """Widths of the strip and how often the pieces repeat, least first: six choices."""
    n = max(1, int(((room + least * 2) / unit).ceil_to(Fraction(1))))
    return [((unit * (n + k) - room) / 2, n + k) for k in range(6)]


def _vars(sizing: Sizing, pieced: Edge) -> list[tuple[str, str]]:
    return [sizing.size_in("quilt", p)[0] for p in pieced.sequence]


def _sum(sizing: Sizing, solution: Solution, pieced: Edge) -> Affine | None:
    total = Affine(ZERO)
    for var in _vars(sizing, pieced):
        value = solution.value(var)
        if value is None:
            return None
        total = total + value
    return total
