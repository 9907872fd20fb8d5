"""An independent exact run for published instances: which piece begins a strip, and which lie in whose strip.

The model is that of A. Lodi, S. Martello and D. Vigo, "Models and bounds for two-dimensional level packing problems"
(Journal of Combinatorial Optimization 8, 2004; reference from memory). It shares nothing with the planner but the
solver, and is slow beyond some forty pieces.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from patternkit.plan.cutting import PieceDemand


def level_optimum(pieces: Sequence[PieceDemand], width: int, seconds: float) -> tuple[int | None, int]:
    """Give the least length of strips with trimming, nothing turned, or None if unproved, and a bound."""
    import highspy

    rows = sorted(((p.height, p.width) for p in pieces for _ in range(p.count)), reverse=True)
    solver: highspy.Highs = highspy.Highs()  # type: ignore[no-untyped-call]
    for option, value in (
        ("output_flag", False),
        ("threads", 1),
        ("time_limit", seconds),
        ("mip_rel_gap", 0.0),
    ):
        solver.setOptionValue(option, value)
    number = len(rows)
    begins = list(range(number))
    joins: dict[tuple[int, int], int] = {}
    for i in range(number):  # piece i begins a strip as tall as itself
        solver.addCol(float(rows[i][0]), 0.0, 1.0, 0, [], [])
    for i in range(number):  # piece j, no taller, lies in the strip begun by i
        for j in range(i + 1, number):
            if rows[i][1] + rows[j][1] <= width:
                joins[i, j] = number + len(joins)
                solver.addCol(0.0, 0.0, 1.0, 0, [], [])
    for column in range(number + len(joins)):
        solver.changeColIntegrality(column, highspy.HighsVarType.kInteger)
    for j in range(number):
        columns = [begins[j], *(joins[i, j] for i in range(j) if (i, j) in joins)]
        solver.addRow(1.0, 1.0, len(columns), columns, [1.0] * len(columns))
    for i in range(number):
        inside = [(column, float(rows[j][1])) for (k, j), column in joins.items() if k == i]
        columns = [begins[i], *(column for column, _ in inside)]
        values = [-float(width - rows[i][1]), *(value for _, value in inside)]
        solver.addRow(-highspy.kHighsInf, 0.0, len(columns), columns, values)
    solver.run()
    info = solver.getInfo()
    bound = ceil(info.mip_dual_bound - 1e-6) if abs(info.mip_dual_bound) < 1e15 else 0
    proved = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return (round(info.objective_function_value) if proved else None), bound
