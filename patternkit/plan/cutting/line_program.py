"""The linear program behind `patternkit.plan.cutting.slices`: worths of pieces, such that no known line is worth more
than 1."""

from __future__ import annotations

from collections.abc import Sequence

from patternkit.plan.cutting.master import INF, quiet


class LineProgram:
    """A worth for each kind in each way of lying, and what each kind then adds: its worth times its length, in the way
    of lying where that is least. The sum over all pieces is to be as large as can be."""

    def __init__(self, kinds: Sequence[tuple[int, Sequence[int]]]) -> None:
        """Set up kinds as how many there are, and the lengths in each way of lying."""
        self._lp = quiet()
        self._known: set[tuple[tuple[int, int], ...]] = set()
        largest = max((max(lengths) for _, lengths in kinds), default=1) or 1
        self.entries = sum(len(lengths) for _, lengths in kinds)
        for _ in range(self.entries):
            self._lp.addCol(0.0, 0.0, INF, 0, [], [])
        at = 0
        for index, (demand, lengths) in enumerate(kinds):
            self._lp.addCol(-float(demand), 0.0, INF, 0, [], [])
            for length in lengths:  # what the kind adds is no more than in any way of lying
                columns = [at, self.entries + index]
                self._lp.addRow(-INF, 0.0, 2, columns, [-length / largest, 1.0])
                at += 1

    def line(self, numbers: Sequence[tuple[int, int]]) -> bool:
        """Take in that these pieces can lie in one line; False where that is known."""
        key = tuple(numbers)
        if not key or key in self._known:
            return False
        self._known.add(key)
        self._lp.addRow(-INF, 1.0, len(key), [i for i, _ in key], [float(n) for _, n in key])
        return True

    def solve(self) -> list[float]:
        """Give the best worths for the lines known."""
        self._lp.run()
        return list(self._lp.getSolution().col_value)[: self.entries]
