"""A pattern's finished sizes, solved: units and quilt state their equations; what nobody gave is shared or made to fit."""

from __future__ import annotations

from patternkit.piecing.setting import setting_equations
from patternkit.piecing.setting.coping import solve_copings
from patternkit.piecing.shares import solve_with_shares
from patternkit.piecing.sizing import Sizing
from patternkit.sizes import Solution


def solve(sizing: Sizing) -> Solution:
    """Gather all equations of a pattern and solve them.

    Plain patches that nobody sized share what is left of their row; coping strips are made as wide as lets the pieced
    border after them fit.
    """
    sizing.gather()
    quilt = sizing.pattern.quilt
    if quilt is not None:
        setting_equations(sizing.pattern, quilt, sizing)
    solution = solve_with_shares(sizing)
    if quilt is not None and any(e.width is None and not e.sequence for e in quilt.borders):
        solution = solve_copings(sizing, solution)
    return solution
