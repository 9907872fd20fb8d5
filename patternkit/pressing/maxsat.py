"""The exact solver for components in which not all joints can nest: weighted MaxSAT with the RC2 algorithm.

python-sat is imported here and nowhere else, when a component needs it. RC2 is due to A. Ignatiev, A. Morgado and J.
Marques-Silva ("RC2: an efficient MaxSAT solver", JSAT 11, 2019). It works upwards from a lower bound, so that being
stopped leaves that bound and no solution; the planner then keeps the best plan it found itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from threading import Timer
from typing import Any

import msgspec

from patternkit.piecing.making import Making
from patternkit.pressing.bits import Cost, ParityConstraint, PuzzleComponent
from patternkit.pressing.parity import forced
from patternkit.pressing.puzzle import Puzzle


class Solved(msgspec.Struct, frozen=True):
    """What the solver said. `bits` and `opened` are the best assignment it met (None when it met none), `bound` the
    least weight that does not nest in any plan, `proved` True when the assignment is best on every level."""

    bits: dict[int, int] | None
    opened: frozenset[int]
    bound: int
    proved: bool


def available() -> bool:
    """Whether the solver is installed."""
    from importlib.util import find_spec

    return find_spec("pysat") is not None


class _Clauses:
    """Hard and soft clauses of one component. Variable numbers are handed out as they are asked for."""

    def __init__(self, puzzle: Puzzle, component: PuzzleComponent, scales: Sequence[int]) -> None:
        self.puzzle, self.scales = puzzle, scales
        self.hard: list[list[int]] = []
        self.soft: list[tuple[list[int], int]] = []
        self.lost_anyway = 0  # weight that does not nest whatever is chosen
        self._count = 0
        seams = [n for n in component.bits if n < len(puzzle.seams)]
        self.bit = {n: self.fresh() for n in component.bits}
        self.open = {n: self.fresh() for n in seams if scales[2] and puzzle.can_open(n)}
        for group in _alike(component.edges):
            self._pair(group)
        for terms, want in forced([e for e in component.edges if "open" not in (puzzle.fixed[e.a], puzzle.fixed[e.b])]):
            self.hard += self._sum(terms, want)
        self._units(component)
        for var in self.open.values():
            self.soft_if([-var], scales[3])
        for n in seams:
            for wish, scale in [ws for w in puzzle.wishes[n] for ws in zip(w, scales[4:6], strict=True)]:
                if wish >= 0:
                    self.soft_if([self.bit[n] if wish else -self.bit[n], *self._opens(n)], scale)
        self._keep(component)

    def fresh(self) -> int:
        """A new variable."""
        self._count += 1
        return self._count

    def soft_if(self, clause: list[int], weight: int) -> None:
        """A soft clause, left out when it costs nothing."""
        if weight > 0:
            self.soft.append((clause, weight))

    def _opens(self, *seams: int) -> list[int]:
        return [self.open[n] for n in dict.fromkeys(seams) if n in self.open]

    def _units(self, component: PuzzleComponent) -> None:
        """One soft clause for each unit that may be pressed in two versions."""
        first = len(self.puzzle.seams)
        units: dict[Making, list[int]] = {}
        for n in component.bits:
            if n >= first:
                units.setdefault(self.puzzle.slots[n - first].what, []).append(self.bit[n])
        for what, bits in units.items():
            if what not in self.puzzle.rows:
                used = self.fresh()
                self.hard += [[-b, used] for b in bits]
                self.soft_if([-used], self.scales[1])

    def _keep(self, component: PuzzleComponent) -> None:
        """A price for everything that is otherwise than in the plan to keep to."""
        for n in component.bits:
            kept = self.puzzle.wanted.get(n)
            if kept is None:
                continue
            price = kept.weight * self.scales[6]
            if kept.bit is not None:
                self.soft_if([self.bit[n] if kept.bit else -self.bit[n]], price)
            if n in self.open:
                self.soft_if([self.open[n] if kept.bit is None else -self.open[n]], price)

    def _sum(self, terms: Sequence[int], want: int) -> list[list[int]]:
        """Clauses that hold exactly when the bits sum to `want`; chained by fresh variables when there are many."""
        bits = [self.bit[t] for t in terms]
        while len(bits) > 3:
            total = self.fresh()
            self.hard += _parity([bits[0], bits[1], total], 0)
            bits = [*bits[2:], total]
        return _parity(bits, want)

    def _pair(self, edges: Sequence[ParityConstraint]) -> None:
        """The joints of two seams over the same bits. Those that want them to differ and those that want them to agree
        cannot both nest: the lighter weight is lost in any case, and only the difference is to be decided."""
        fixed, first = self.puzzle.fixed, edges[0]
        wants = [sum(e.weight for e in edges if e.want == w) for w in (0, 1)]
        if "open" in (fixed[first.a], fixed[first.b]):
            self.lost_anyway += sum(wants)
            self._rough(first, [], sum(wants))
            return
        if not first.terms:
            self.lost_anyway += wants[1]
            self._rough(first, [], wants[1])
            if wants[0]:
                self._nest(first, 0, wants[0], wants[0])
            return
        more = 0 if wants[0] >= wants[1] else 1
        self.lost_anyway += wants[1 - more]
        self._nest(first, more, wants[more] - wants[1 - more], wants[more])
        opens = self._opens(first.a, first.b)
        if opens and wants[1 - more]:  # an open seam loses the lighter ones too
            shut = self.fresh()
            self.hard += [[shut, -o] for o in opens]
            self.soft_if([-shut], wants[1 - more] * self.scales[0])
        if self.scales[2] and wants[1 - more]:
            lost = self.fresh()  # the lighter ones, only for their roughness
            self.hard += [[lost, *clause] for clause in self._sum(first.terms, 1 - more)]
            self.hard += [[lost, -o] for o in opens]
            self._rough(first, [-lost], wants[1 - more])

    def _nest(self, edge: ParityConstraint, want: int, weight: int, all_of_it: int) -> None:
        """A price for an edge that does not nest; an open seam nests nowhere."""
        lost = self.fresh()
        self.hard += [[lost, *clause] for clause in self._sum(edge.terms, want)]
        self.hard += [[lost, -o] for o in self._opens(edge.a, edge.b)]
        self.soft_if([-lost], weight * self.scales[0])
        self._rough(edge, [-lost], all_of_it)

    def _rough(self, edge: ParityConstraint, unless: list[int], weight: int) -> None:
        """A price for each seam of a lost edge that is not open."""
        for n in (edge.a, edge.b):
            if self.puzzle.fixed[n] != "open" and (n in self.open or unless):
                self.soft_if([*unless, *self._opens(n)], weight * self.scales[2])


def _alike(edges: Sequence[ParityConstraint]) -> list[list[ParityConstraint]]:
    """Constraints over the same bits and seams together."""
    groups: dict[tuple[tuple[int, ...], int, int], list[ParityConstraint]] = {}
    for e in edges:
        groups.setdefault((e.terms, e.a, e.b), []).append(e)
    return list(groups.values())


def _parity(bits: Sequence[int], want: int) -> list[list[int]]:
    """Every clause that forbids a wrong sum of the bits."""
    out: list[list[int]] = []
    for pattern in range(1 << len(bits)):
        values = [(pattern >> i) & 1 for i in range(len(bits))]
        if sum(values) % 2 != want:
            out.append([-b if v else b for b, v in zip(bits, values, strict=True)])
    return out


def scales(puzzle: Puzzle, component: PuzzleComponent) -> Cost:
    """A price for one step of each level, so large that no sum of lower levels reaches it."""
    seams = sum(n < len(puzzle.seams) for n in component.bits)
    wishes = sum(len(puzzle.wishes[n]) for n in component.bits if n < len(puzzle.seams))
    plain = 2 * sum(puzzle.wanted[n].weight for n in component.bits if n in puzzle.wanted) + 1
    dark = plain * (wishes + 1)
    opened = dark * (wishes + 1)
    rough = opened * (seams + 1)
    units = rough * (2 * sum(e.weight for e in component.edges) + 1)
    return units * (len(component.bits) - seams + 1), units, rough, opened, dark, plain, 1


def solve(puzzle: Puzzle, component: PuzzleComponent, seconds: float) -> Solved:
    """The best assignment of a component on all levels at once; when time runs out, once more for the first level
    alone, which is easier."""
    found = _run(puzzle, component, scales(puzzle, component), seconds / 2)
    if found.proved:
        return found
    first = _run(puzzle, component, (1, 0, 0, 0, 0, 0, 0), seconds / 2)
    best = [s for s in (found, first) if s.bits is not None]
    if not best:
        return msgspec.structs.replace(found, bound=max(found.bound, first.bound))
    best.sort(key=lambda s: puzzle.score(component, s.bits or {}, s.opened))
    return msgspec.structs.replace(best[0], bound=max(found.bound, first.bound), proved=False)


def _run(puzzle: Puzzle, component: PuzzleComponent, steps: Sequence[int], seconds: float) -> Solved:
    """One run of the solver under a time limit."""
    from pysat.formula import WCNF

    clauses = _Clauses(puzzle, component, steps)
    formula: Any = WCNF()
    for clause in clauses.hard:
        formula.append(clause)
    for clause, weight in clauses.soft:
        formula.append(clause, weight=weight)
    if not clauses.soft:
        formula.append([1, -1], weight=1)
    with _watched()(formula, solver="g4", adapt=True, exhaust=True, minz=True) as solver:
        timer = Timer(seconds, solver.stop)
        timer.daemon = True
        timer.start()
        try:
            model, done = solver.compute(), True
        except _Stopped:
            model, done = solver.met, False
        timer.cancel()
        # the lower levels together are less than one step of the first, so that the bound rounds down
        bound = clauses.lost_anyway + (solver.cost if done else solver.safe) // steps[0]
    if model is None:
        return Solved(None, frozenset(), bound, False)
    true = {v for v in model if v > 0}
    bits = {n: int(v in true) for n, v in clauses.bit.items()}
    opened = frozenset(n for n, v in clauses.open.items() if v in true)
    lost = puzzle.score(component, bits, opened)[0]
    return Solved(bits, opened, lost if done else min(bound, lost), done and steps[1] > 0)


class _Stopped(Exception):
    """The time is up."""


def _watched() -> Any:
    """The solver's class, made to stop cleanly and to remember the best assignment it met."""
    from pysat.examples.rc2 import RC2Stratified

    class Watched(RC2Stratified):  # type: ignore[misc]
        """Left at once when stopped: the library goes on with an interrupted call as if it had proved something, and
        the cost would then be no bound any more."""

        stopped = False
        safe = 0  # the cost when it was last known to be a bound
        met: list[int] | None = None

        def stop(self) -> None:
            """Stop at the next call of the solver, or during it. First the bound is frozen, then the call broken
            off."""
            self.stopped = True
            if self.oracle is not None:
                self.oracle.interrupt()

        def _call_oracle(self, assumptions: Sequence[int] = (), expect_interrupt: bool = True) -> Any:
            if not self.stopped:
                self.safe = self.cost
            answer = super()._call_oracle(assumptions=list(assumptions), expect_interrupt=True)
            if self.stopped:
                raise _Stopped
            return answer

        def finish_level(self) -> None:
            """Keep the assignment that the finished level ends with."""
            inner = self.oracle.get_model()
            if inner is not None:
                outer = self.vmap.i2e
                self.met = [outer[abs(v)] * (1 if v > 0 else -1) for v in inner if abs(v) in outer]
            super().finish_level()

    return Watched
