"""What a system of sizes came to: values, contradictions with the statements involved, sizes nobody gave."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import TYPE_CHECKING

import msgspec

from patternkit.lengths import Length
from patternkit.sizes.affine import Affine
from patternkit.sizes.causes import Cause, Var
from patternkit.sizes.equations import Symbol
from patternkit.sizes.numbers import Exact, lower
from patternkit.sizes.open_sizes import FreeGroup

if TYPE_CHECKING:
    from patternkit.sizes.equations import Equation, Node, SolvedRow


class ContradictionTerm(msgspec.Struct, frozen=True):
    """One equation of a contradiction, with the number it is multiplied by."""

    equation: int
    terms: Mapping[Var, Exact]
    right: Affine
    cause: Cause
    multiplier: Length


class Contradiction(msgspec.Struct, frozen=True):
    """Statements that can't all hold: their combination says that `gap` is zero.

    When `gap` has no parameter they never hold together; otherwise they do exactly when `gap` is zero (a
    *condition*). No part can be left out. `equation` is the number of the one that was set aside.
    """

    parts: tuple[ContradictionTerm, ...]
    gap: Affine
    equation: int

    def open_at(self, env: Mapping[str, Length]) -> bool:
        """True unless the statements agree when the parameters have these values."""
        gap = self.gap.at(env)
        return bool(gap) and not any(p.cause.rounded(gap) for p in self.parts if p.equation == self.equation)


class Solution:
    """The result of `System.solve`; nothing in it changes."""

    def __init__(
        self,
        equations: list[Equation],
        rows: dict[Var, SolvedRow],
        nodes: list[Node],
        dependent: list[tuple[int, int, dict[Symbol, Exact]]],
        unchecked: list[int],
        one: Symbol,
        scale: int,
        needed: Mapping[Var, None],
    ) -> None:
        self.equations = equations
        self._rows = rows
        self._nodes = nodes
        self._one = one
        self._scale = scale
        self._needed = needed
        self._values: dict[Var, Affine] = {}
        self.dependent = [(e, node, self._left(e, left)) for e, node, left in dependent]
        self.unchecked: list[Cause] = [equations[e].cause for e in unchecked]
        self._conflicts: list[Contradiction] | None = None
        self.before: Solution | None = None
        self.changed: frozenset[Var] = frozenset()

    def _affine(self, known: Mapping[Symbol, Exact]) -> Affine:
        const = Length(known.get(self._one, 0))
        if self._scale != 1:
            const = const / self._scale
        return Affine(const, {s.name: c for s, c in known.items() if s is not self._one})

    def _left(self, e: int, known: Mapping[Symbol, Exact]) -> Affine:
        """What is left of an equation that follows from others; nothing where it was only rounded."""
        left = self._affine(known)
        return Affine() if left and self.equations[e].cause.rounded(left) else left

    # -- values -------------------------------------------------------------------------------------------
    def value(self, var: Var) -> Affine | None:
        """The size in inches, for every value of the parameters; None where nothing settles it."""
        found = self._values.get(var)
        if found is None:
            row = self._rows.get(var)
            if row is None or row.terms:
                return None
            found = self._values[var] = self._affine(row.known)
        return found

    @property
    def needed(self) -> Mapping[Var, None]:
        """The sizes that are wanted whether or not a statement speaks of them."""
        return self._needed

    @property
    def finished(self) -> bool:
        """False when the work was given up before every statement was checked."""
        return not self.unchecked

    def refusal(self) -> str:
        """What to tell the writer when the work was given up; empty when it was not."""
        if self.finished:
            return ""
        n = len(self.unchecked)
        return (
            f"the sizes hang together in too many ways to be worked out: {n} statement{'s' * (n != 1)} "
            f"could not be checked. Stating the finished size of some units would settle it"
        )

    # -- contradictions -----------------------------------------------------------------------------------
    @property
    def conflicts(self) -> list[Contradiction]:
        """Every set of statements that can't all hold, conditions on parameters included."""
        if self._conflicts is None:
            self._conflicts = [self._conflict(e, node, gap) for e, node, gap in self.dependent if gap]
        return self._conflicts

    @property
    def number_of_conflicts(self) -> int:
        """How many there are; quicker than asking for them."""
        return sum(bool(gap) for _, _, gap in self.dependent)

    def disagrees_at(self, env: Mapping[str, Length]) -> bool:
        """Whether some statements can't all hold when the parameters have these values."""
        return any(gap.at(env) for _, _, gap in self.dependent if gap)

    @property
    def contradictions(self) -> list[Contradiction]:
        """Those that hold for no value of the parameters taken alone."""
        return [c for c in self.conflicts if c.gap.is_constant]

    @property
    def conditions(self) -> list[Contradiction]:
        """Those that hold for some values of the parameters."""
        return [c for c in self.conflicts if not c.gap.is_constant]

    def _conflict(self, e: int, node: int, left: Affine) -> Contradiction:
        parts = []
        for number, m in sorted(self._unrolled(node).items()):
            equation = self.equations[number]
            parts.append(ContradictionTerm(number, equation.terms, equation.right, equation.cause, Length(m)))
        return Contradiction(tuple(parts), -left, e)

    def _unrolled(self, node: int) -> dict[int, Exact]:
        """The equations a node was made of, with their multipliers."""
        from heapq import heappop, heappush

        made: dict[int, Exact] = {}
        weight: dict[int, Exact] = {node: 1}
        heap = [-node]
        while heap:
            n = -heappop(heap)
            w = weight.pop(n)
            if not w:
                continue
            for other, m in self._nodes[n]:
                if other < 0:
                    made[~other] = made.get(~other, 0) + w * m
                elif other in weight:
                    weight[other] += w * m
                else:
                    weight[other] = w * m
                    heappush(heap, -other)
        return {e: m for e, m in made.items() if m}

    @property
    def effort(self) -> int:
        """How many multipliers the elimination left behind: the cost of one call of `multipliers`."""
        return sum(map(len, self._nodes))

    def multipliers(self, share: Mapping[int, Exact]) -> dict[int, Length]:
        """For each dependent equation (by its place in `dependent`) the sum of its multipliers, each times its
        equation's `share`; those for which that is zero are left out."""
        reach = self._reach(share)
        return {d: Length(reach[node]) for d, (_, node, _) in enumerate(self.dependent) if reach[node]}

    # -- the same statements with other numbers ----------------------------------------------------------
    def with_numbers(self, equations: list[Equation]) -> Solution | None:
        """The solution of equations that differ from this one's in their right sides and causes only; None where that
        is not so, or where a right side differs in its parameters. `changed` then names the sizes that differ.

        Which equations settle which sizes does not depend on the right sides, so each size and each gap moves by the
        difference times its multiplier.
        """
        moved: dict[int, Exact] = {}
        if len(equations) != len(self.equations) or not self.finished:
            return None
        for e, (old, new) in enumerate(zip(self.equations, equations, strict=True)):
            if new is not old:
                if new.terms != old.terms or new.right.coefs != old.right.coefs or new.cause.claim != old.cause.claim:
                    return None
                if new.right.const != old.right.const:
                    moved[e] = lower((new.right.const - old.right.const) * self._scale)
        again = Solution(equations, dict(self._rows), self._nodes, [], [], self._one, self._scale, self._needed)
        reach = self._reach(moved) if moved else []
        changed = []
        for var, row in self._rows.items() if moved else ():
            if reach[row.node]:
                known = dict(row.known)
                known[self._one] = known.get(self._one, 0) + reach[row.node]
                again._rows[var] = msgspec.structs.replace(row, known=known)
                changed.append(var)
        for e, node, gap in self.dependent:
            move = Affine(Length(reach[node]) / self._scale) if moved and reach[node] else None
            again.dependent.append((e, node, gap if move is None else gap - move))
        again.before, again.changed = self, frozenset(changed)
        if self.before is not None:
            self.before.before = None  # two versions back is as far as anyone looks
        return again

    def differs_from(self, other: Solution) -> frozenset[Var] | None:
        """The sizes that may differ from those of another solution, where both come from one and the same by way of
        `with_numbers`; None where they do not."""
        known: dict[int, frozenset[Var]] = {}
        here: Solution | None = other
        met: frozenset[Var] = frozenset()
        while here is not None:
            known[id(here)] = met
            met, here = met | here.changed, here.before
        here, met = self, frozenset()
        while here is not None:
            if id(here) in known:
                return met | known[id(here)]
            met, here = met | here.changed, here.before
        return None

    def _reach(self, share: Mapping[int, Exact]) -> list[Exact]:
        """For every node the sum of its equations' multipliers, each times the equation's `share`."""
        reach: list[Exact] = []
        for node in self._nodes:
            total: Exact = 0
            for other, m in node:
                x = share.get(~other, 0) if other < 0 else reach[other]
                if x:
                    total = total + m * x
            reach.append(total)
        return reach

    # -- sizes nobody gave --------------------------------------------------------------------------------
    def open_sizes(self) -> Collection[Var]:
        """Sizes that nothing settles."""
        from patternkit.sizes.open_sizes import open_sizes

        return open_sizes(self.equations, self._rows, self._needed) if self.finished else ()

    def free(self, prefer: Callable[[Var], int] | None = None) -> list[FreeGroup]:
        """Sizes that nothing settles, in groups that hang together.

        `prefer` ranks the sizes a writer would rather state (lowest first); without it, the order in which they were
        mentioned decides.
        """
        from patternkit.sizes.open_sizes import free_groups

        return free_groups(self.equations, self._rows, self._needed, prefer) if self.finished else []
