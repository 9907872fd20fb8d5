"""From a pool of strips: the plan with the fewest lots, and the easiest one that needs no more lots."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from patternkit.plan.cutting.budget import CELLS, Budget
from patternkit.plan.cutting.ease import cuts_of
from patternkit.plan.cutting.grid import to_buy
from patternkit.plan.cutting.model import CuttingSettings
from patternkit.plan.cutting.task import Layout, Layouts, Task, numbers

SHORT = 10
"""Most kinds of a list for which the integer program looks at more than a few cases."""
NODES, EASY_NODES = 60, 5
"""Most cases that the integer program looks at for the shortest plan, and for an easy one."""
COLUMNS = 60
"""Most strips beside those known that the integer program makes an easy plan from."""
CUT = 100.0
"""Price of a different cut, in strips."""
TRIED = 30_000
"""Most strips that are tried on the way to an easy plan."""
MOST = 250
"""Most strips that an easy plan is made from."""


def longest(lots: int, settings: CuttingSettings) -> int:
    """Give the greatest length for which so many lots are enough; less than nothing where they never are."""
    low, high = -1, int(lots * settings.lot)
    while low < high:
        middle = (low + high + 1) // 2
        if to_buy(middle, settings)[1] <= lots:
            low = middle
        else:
            high = middle - 1
    return low


class Pool:
    """The strips of a pool, with what each would cost a plan beyond the least that the linear program needs."""

    def __init__(self, task: Task, rows: Sequence[Layout], budget: Budget, *, solver: bool = False) -> None:
        """Solve the linear program over the pool; without the solver, each piece is worth its share of the cloth."""
        self.task, self.budget = task, budget
        if not solver:
            self._by_area(rows)
            return
        from patternkit.plan.cutting.master import Master

        dear = 1 + sum(kind.demand * max(h for _, h in kind.sizes) for kind in task.kinds)
        master = Master(task, rows, dear)
        cost, _, prices = master.solve(budget)
        self.least = task.more + cost
        self.prices = [max(0.0, price) for price in prices[: len(task.kinds)]]
        self.extra = dict(zip(master.columns, master.reduced_costs(), strict=True))

    def _by_area(self, rows: Sequence[Layout]) -> None:
        """Price pieces by their area: no strip holds more than its own."""
        task = self.task
        self.prices = [kind.sizes[0][0] * kind.sizes[0][1] / task.width for kind in task.kinds]
        worth = sum(price * kind.demand for price, kind in zip(self.prices, task.kinds, strict=True))
        self.least = task.more + worth - sum(width * length for width, length in task.beds) / task.width
        self.extra = {}
        for row in rows:
            used = sum(self.prices[kind] * number for kind, number in numbers(row).items())
            size = row.height * task.width_of(row.bed) / task.width
            self.extra[row] = size - used

    def within(self, length: int) -> list[Layout]:
        """Give the strips that a plan of this length may hold, those that cost least beyond the least first."""
        room = length - self.least + 1e-6
        return sorted((row for row in self.extra if self.extra[row] <= room), key=lambda row: (self.extra[row], row))

    def shortest(self, below: int) -> Layouts | None:
        """Give the shortest plan that is shorter than `below`, if one is found."""
        if self.least > below - 1 + 1e-6:
            return None
        from patternkit.plan.cutting.mip import Program

        nodes = NODES if len(self.task.kinds) <= SHORT else NODES // 10
        return Program(self.task, self.within(below - 1), below - 1).solve(nodes, 0.99, self.budget, quick=True)

    def easiest(self, length: int, known: Sequence[Layout] = (), cuts: int = 1 << 30) -> Layouts | None:
        """Give the plan of this length or less with the fewest different cuts below `cuts`, then the fewest strips, if
        one is found. Strips `known` to do are among those it is made from."""
        if self.least > length + 1e-6:
            return None
        rows = list(dict.fromkeys([*known, *self.within(length)[:MOST]]))
        found = _Search(self, rows, length).best(cuts)
        return found

    def simplest(self, length: int, known: Sequence[Layout]) -> Layouts | None:
        """Give an easy plan of this length or less by the integer program, from the strips `known` to do and the
        likeliest others; where the search in tries finds none, as lists are long or length is short."""
        from patternkit.plan.cutting.master import INF
        from patternkit.plan.cutting.mip import Program

        rows = list(dict.fromkeys([*known, *self.within(length)[:COLUMNS]]))
        program = Program(self.task, rows, length)
        serving: list[list[int]] = [[] for _ in self.task.kinds]
        for index, row in enumerate(rows):
            program.solver.changeColCost(index, 1.0)
            most = max(-(-self.task.kinds[kind].demand // number) for kind, number in numbers(row).items())
            chosen = program.column(CUT * cuts_of(row), 1.0, {})
            program.solver.addRow(-INF, 0.0, 2, [index, chosen], [1.0, -float(most)])
            for kind in numbers(row):
                serving[kind].append(chosen)
        for chosen_of in serving:  # some strip serves each kind: the solver sees this late by itself
            program.solver.addRow(1.0, INF, len(chosen_of), chosen_of, [1.0] * len(chosen_of))
        return program.solve(EASY_NODES, CUT - 1, self.budget, quick=True)


class _Strip(NamedTuple):
    """A strip of the pool with what the search asks of it."""

    cuts: int
    row: Layout
    gives: tuple[tuple[int, int], ...]


class _Search:
    """Looks for plans with few different cuts: kind by kind, each time some copies of one more strip, as many as until
    one of its kinds is done; a way that must come out too long is given up by the prices of the pieces."""

    def __init__(self, pool: Pool, rows: Sequence[Layout], length: int) -> None:
        self.task, self.budget, self.prices = pool.task, pool.budget, pool.prices
        self.room = length - pool.task.more
        strips = [_Strip(cuts_of(row), row, tuple(sorted(numbers(row).items()))) for row in rows]
        strips.sort(key=lambda s: (s.cuts, pool.extra.get(s.row, 0.0), s.row))
        kinds = range(len(pool.task.kinds))
        self.serving = [[s for s in strips if any(k == kind for k, _ in s.gives)] for kind in kinds]
        self.share = [min((s.cuts / len(s.gives) for s in self.serving[k]), default=0.0) for k in kinds]
        self.beds = [length for _, length in pool.task.beds]
        self.tried = 0
        self.found: Layouts | None = None
        self.strips = 1 << 30

    def best(self, below: int) -> Layouts | None:
        """Give the plan with the fewest cuts, then strips; None if none is found in the tries allowed."""
        wanted = [kind.demand for kind in self.task.kinds]
        least = int(sum(self.share) + 0.999)
        for most in range(least, min(below, 12 * len(wanted))):
            self._grow(wanted, {}, most, float(self.room), 0)
            if self.found is not None or self.tried >= TRIED:
                break
        self.budget.charge(self.tried * CELLS // 2000)
        return self.found

    def _grow(self, left: list[int], plan: Layouts, cuts: int, room: float, strips: int) -> None:
        """Add strips for the first kind that is still wanted, with so many cuts and so much length left."""
        kind = next((k for k, n in enumerate(left) if n > 0), None)
        if kind is None:
            if strips < self.strips:
                self.found, self.strips = dict(plan), strips
            return
        for strip in self.serving[kind]:
            if strip.cuts > cuts:
                break
            if strip.row in plan:
                continue
            for copies in _copies(strip, left):
                self.tried += 1
                if self.tried >= TRIED or strips + copies >= self.strips:
                    continue
                after = list(left)
                for k, n in strip.gives:
                    after[k] = max(0, after[k] - n * copies)
                taken = 0 if strip.row.bed else strip.row.height * copies
                if self._hopeless(after, cuts - strip.cuts, room - taken) or not self._fits(plan, strip, copies):
                    continue
                plan[strip.row] = copies
                self._grow(after, plan, cuts - strip.cuts, room - taken, strips + copies)
                del plan[strip.row]

    def _hopeless(self, left: Sequence[int], cuts: int, room: float) -> bool:
        """Say whether what is still wanted takes more length or more cuts than there are left."""
        if sum(price * n for price, n in zip(self.prices, left, strict=True)) > room + 1e-6 + self._beside():
            return True
        return sum(share for share, n in zip(self.share, left, strict=True) if n) > cuts + 1e-6

    def _beside(self) -> float:
        return float(sum(self.beds))

    def _fits(self, plan: Layouts, strip: _Strip, copies: int) -> bool:
        """Say whether a bed has room for some more strips."""
        bed = strip.row.bed
        if not bed:
            return True
        taken = sum(row.height * n for row, n in plan.items() if row.bed == bed)
        return taken + strip.row.height * copies <= self.beds[bed - 1]


def _copies(strip: _Strip, left: Sequence[int]) -> Iterator[int]:
    """Give how many of a strip are worth trying: until one of its kinds is done, or just not."""
    tried = set()
    for kind, number in strip.gives:
        for copies in (-(-left[kind] // number), left[kind] // number):
            if copies > 0 and copies not in tried:
                tried.add(copies)
                yield copies
