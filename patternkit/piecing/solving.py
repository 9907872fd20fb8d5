"""A pattern's finished sizes, solved: units and quilt state their equations; what nobody gave is shared or made to
fit."""

from __future__ import annotations

import msgspec

from patternkit.model.pattern import Row, Unit
from patternkit.piecing.setting import setting_equations
from patternkit.piecing.setting.coping import has_copings, solve_copings
from patternkit.piecing.shares import solve_with_shares
from patternkit.piecing.sizing import Sizing
from patternkit.sizes import Solution
from patternkit.sizes.equations import Equation


def solve(sizing: Sizing) -> Solution:
    """Gather all equations of a pattern and solve them.

    Plain patches that nobody sized share what is left of their row; coping strips are made as wide as lets the pieced
    border after them fit.
    """
    sizing.gather()
    quilt = sizing.pattern.quilt
    if quilt is not None:
        setting_equations(sizing.pattern, quilt, sizing)
    sizing.hold_measures()
    kept = sizing.memory.shelf("solution", _LastSolution) if sizing.memory is not None else None
    known = kept.again(sizing) if kept is not None else None
    if known is not None:
        return known
    stated = len(sizing.system.equations)
    solution = solve_with_shares(sizing)
    if has_copings(sizing.pattern):
        return solve_copings(sizing, solution)
    if kept is not None and not sizing.by_value:
        kept.stated, kept.solution, kept.shared = stated, solution, dict(sizing.shared)
        kept.rows = rows_of(sizing)
    return solution


def rows_of(sizing: Sizing) -> tuple[Row, ...]:
    """The rows of the quilt's blocks, with their places."""
    return sizing.pattern.quilt.rows if sizing.pattern.quilt is not None else ()


class _LastSolution:
    """The solution of the last version of a text, with the equations that were stated and those that share."""

    def __init__(self) -> None:
        self.stated = 0
        self.solution: Solution | None = None
        self.shared: dict[int, Unit | None] = {}
        self.rows: tuple[Row, ...] = ()

    def again(self, sizing: Sizing) -> Solution | None:
        """The solution where the new equations are the old ones but for numbers; None where they are not."""
        old, now = self.solution, sizing.system.equations
        if old is None or len(now) != self.stated or list(old.needed) != list(sizing.system.needed):
            return None
        equations: list[Equation] = list(now)
        shared: dict[int, Unit | None] = {}
        for number, equation in enumerate(old.equations[self.stated :], self.stated):
            before = self.shared[number]
            if before is None and rows_of(sizing) == self.rows:  # plain blocks of the same quilt
                equations.append(equation)
                shared[number] = None
                continue
            unit = sizing.pattern.units.get(before.key) if before is not None else None
            if unit is None:
                return None
            if unit is not before:
                cause = msgspec.structs.replace(equation.cause, span=unit.kind_span)
                equation = msgspec.structs.replace(equation, cause=cause)
            equations.append(equation)
            shared[number] = unit
        if all(a is b for a, b in zip(old.equations, equations, strict=True)):
            new: Solution | None = old
        else:
            new = old.with_numbers(equations)
        if new is not None and any(gap for e, _, gap in new.dependent if e >= self.stated):
            return None  # what was shared contradicts the new numbers
        if new is not None:
            sizing.system.equations = new.equations
            sizing.shared, self.shared, self.solution = shared, shared, new
        return new
