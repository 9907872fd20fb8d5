"""Which single change of a stated number would settle a contradiction, and how good each such change is.

A contradiction is a combination of equations that comes to ``0 == gap``. Changing the right side of an equation with
multiplier ``m`` by ``-gap/m`` makes it come to zero. One typed number may stand in several equations (the two sides of
a square): then their multipliers count together.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from fractions import Fraction

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.sizes.affine import Affine
from patternkit.sizes.causes import Cause
from patternkit.sizes.numbers import Exact, lower
from patternkit.sizes.solution import Contradiction, ContradictionTerm, Solution
from patternkit.source import Span

_LEAST_OFFERED = 3
_MOST_VISITS = 3_000_000  # steps spent on judging changes, some tenths of a second


class SizeChange(msgspec.Struct, frozen=True):
    """Write `new` where `old` stands in `cause` (both in inches).

    `resolves` numbers the conflicts of the solution that agree afterwards, `leaves` counts those that the number bears
    on and that do not; `breaks` counts statements that agreed before and would not any more; `on_grid` tells whether
    the new number lies on the ruler's grid (for every value of the parameters); `seams` is 1 when the new number is
    exactly two seams larger, -1 when smaller.
    """

    cause: Cause
    old: Affine
    new: Affine
    key: Hashable
    resolves: frozenset[int]
    breaks: int
    on_grid: bool
    seams: int = 0
    leaves: int = 0

    @property
    def order(self) -> tuple[bool, bool, int, bool, int, int, Span]:
        """The rank, best first: harms nothing, settles all it bears on, short formula or none, on the ruler, settles
        most, simple."""
        new = self.new.const
        bottom = new.q.denominator if new.is_fraction else 1 << 30
        formula = len(self.new.coefs) + bool(new) if self.new.coefs else 0
        return (
            self.breaks > 0,
            self.leaves > 0,
            formula,
            not self.on_grid,
            -len(self.resolves),
            bottom,
            self.cause.span,
        )


def key_of(part: ContradictionTerm) -> Hashable:
    """Equations with the same key change together."""
    cause = part.cause
    if cause.key is not None:
        return cause.key
    return cause.number if cause.number is not None else part.equation


def changes(solution: Solution, env: Mapping[str, Length], grid: Fraction, seam: Length) -> list[list[SizeChange]]:
    """For every conflict that is open at `env`, in order, the changes that would settle it, best first.

    For the other conflicts the list is empty. Changes that would leave no positive size are not offered. Where a
    condition on parameters is at stake, both the change for every value of them and the one for `env` are given. In a
    system with very many contradictions the last ones may have fewer changes than there are.
    """
    conflicts = solution.conflicts
    judge = _Judge(solution, env)
    found: list[list[SizeChange]] = []
    for conflict in conflicts:
        made: dict[tuple[Hashable, Affine], SizeChange] = {}
        if conflict.open_at(env):
            for part in conflict.parts:
                cause = part.cause
                if not (cause.stated and cause.fixable and cause.typed is not None):
                    continue
                key = key_of(part)
                for new, resolves, breaks, leaves in judge.changed(key, cause.typed, conflict):
                    change = _change(cause, key, new, resolves, breaks, env, grid, seam)
                    made.setdefault((key, new), msgspec.structs.replace(change, leaves=leaves))
        found.append(_worth_offering(list(made.values())))
    return found


def _worth_offering(made: list[SizeChange]) -> list[SizeChange]:
    """Best first, without those that turn one formula into quite another where there is anything better.

    Changes that make others differ, or that leave others as they are, are left out where there is a choice without
    them. Where there is not, they stay, since a single offer would read like a verdict.
    """
    made = [c for c in made if c.old.is_constant or c.old.coefs == c.new.coefs] or made
    made.sort(key=lambda c: c.order)
    harmless = [c for c in made if not c.breaks and not c.leaves]
    return harmless if len(harmless) > 1 else made[:_LEAST_OFFERED]


class _Judge:
    """Works out what a changed number does to every equation that follows from others."""

    def __init__(self, solution: Solution, env: Mapping[str, Length]) -> None:
        self.solution = solution
        self.env = env
        self.gaps = [-left for _, _, left in solution.dependent]
        self.gaps_here = [gap.at(env) for gap in self.gaps]
        self.number = {c.equation: i for i, c in enumerate(solution.conflicts)}
        self.spot = {e: d for d, (e, _, _) in enumerate(solution.dependent)}
        self.tables: dict[Hashable, dict[int, Length]] = {}
        self.left = max(40, _MOST_VISITS // (1 + solution.effort))
        self.equations: dict[Hashable, dict[int, Exact]] = {}
        for e, equation in enumerate(solution.equations):
            cause = equation.cause
            if cause.stated and cause.typed is not None:
                key = key_of(ContradictionTerm(e, {}, equation.right, cause, ZERO))
                self.equations.setdefault(key, {})[e] = lower(cause.per.inverse())

    def _table(self, key: Hashable) -> dict[int, Length] | None:
        """Dependent equations that a number bears on: what their gap gains for one inch more typed."""
        if key not in self.tables:
            if self.left <= 0:
                return None
            self.left -= 1
            self.tables[key] = self.solution.multipliers(self.equations[key])
        return self.tables[key]

    def changed(
        self, key: Hashable, old: Affine, conflict: Contradiction
    ) -> Iterator[tuple[Affine, frozenset[int], int, int]]:
        """The new numbers that settle `conflict`, all the conflicts they settle, what they break and what they leave.

        A claim of a size that no fraction gives is settled by what it was rounded from.
        """
        table = self._table(key)
        d = self.spot[conflict.equation]
        if table is None or d not in table:
            return
        each = -table[d].inverse()
        for gaps in (self.gaps, self.gaps_here):
            delta = gaps[d] * each
            if gaps is self.gaps_here and gaps[d] == self.gaps[d]:
                return  # the same change for every value of the parameters
            resolves, breaks, leaves = set(), 0, 0
            for other, m in table.items():
                agreed, agrees = (self._agrees(other, gap) for gap in (gaps[other], gaps[other] + delta * m))
                if agreed:
                    breaks += not agrees
                elif agrees:
                    resolves.add(self.number[self.solution.dependent[other][0]])
                else:
                    leaves += self._differs(other)
            new = old + delta
            here = new.at(self.env)
            if not here.is_constant or (here.const > ZERO and self._leaves_size(key, delta)):
                yield new, frozenset(resolves), breaks, leaves

    def _agrees(self, dependent: int, gap: Affine) -> bool:
        """Whether the statement of that number holds with such a gap, or is no further off than it was rounded."""
        cause = self.solution.equations[self.solution.dependent[dependent][0]].cause
        return not gap or cause.rounded(gap.at(self.env))

    def _differs(self, dependent: int) -> bool:
        """Whether the statement of that number is a contradiction that is told, for the values of the parameters."""
        gap = self.gaps_here[dependent]
        return bool(gap) and not self._agrees(dependent, gap)

    def _leaves_size(self, key: Hashable, delta: Affine) -> bool:
        """Whether every size that the number says is still one: a cut of two seams finishes nothing."""
        for e in self.equations[key]:
            equation = self.solution.equations[e]
            was = equation.right.at(self.env)
            now = was + delta.at(self.env) * Affine(equation.cause.per.inverse())
            if was.is_constant and now.is_constant and was.const > ZERO >= now.const:
                return False
        return True


def _change(
    cause: Cause,
    key: Hashable,
    new: Affine,
    resolves: frozenset[int],
    breaks: int,
    env: Mapping[str, Length],
    grid: Fraction,
    seam: Length,
) -> SizeChange:
    old = cause.typed if cause.typed is not None else Affine()
    here, delta, two = new.at(env), new - old, seam * 2
    on_grid = here.is_constant and here.const.on_grid(grid)
    seams = 0 if not two else 1 if delta == two else -1 if delta == -two else 0
    return SizeChange(cause, old, new, key, resolves, breaks, on_grid, seams)
