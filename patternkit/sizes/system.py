"""Equations between sizes, solved exactly, each step remembered.

Elimination over the fractions (and roots): the solver keeps for every size that an equation settled a *row*,
the size as a combination of sizes not settled yet, of parameters, and of a plain length; and for every row a
*node* that says of which equations it was made. The equations kept are independent, so an equation that
follows from them does so in exactly one way: when it contradicts them, the statements in that combination
are all needed for the contradiction (leave one out and it is gone), and their multipliers give the repair
each of them would need.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from math import lcm
from typing import TypeVar

from patternkit.lengths import Number
from patternkit.sizes.affine import Affine, AffineLike
from patternkit.sizes.causes import Cause, Var
from patternkit.sizes.equations import Equation, Known, Node, SolvedRow, Symbol, Terms
from patternkit.sizes.numbers import Exact, bits, divided, lower
from patternkit.sizes.solution import Solution

_V = TypeVar("_V", bound=Var)

_WORK_EACH = 15  # coefficient operations allowed for each term given, on average,
_WORK_LEAST = 120_000  # and this many on top: together well under a second for any pattern one could print
_MOST_BITS = 20_000  # a coefficient larger than this is no size any more
_MOST_SCALE = 1 << 40


class System:
    """Collects equations; `solve` gives the sizes, the contradictions and what stayed open."""

    def __init__(self) -> None:
        self.equations: list[Equation] = []
        self.needed: dict[Var, None] = {}
        self._solver: _Solver | None = None

    def add(self, terms: Mapping[_V, Number] | Iterable[tuple[_V, Number]], right: AffineLike, cause: Cause) -> int:
        """Add ``sum(coefficient * size) == right`` and return its number. A size named twice is added up."""
        row: Terms = {}
        for var, c in terms.items() if isinstance(terms, Mapping) else terms:
            total = row.pop(var, 0) + lower(c)
            if total:
                row[var] = total
        self.equations.append(Equation(row, Affine.of(right), cause))
        return len(self.equations) - 1

    def need(self, var: Var) -> None:
        """Say that this size is wanted, even if no equation speaks of it."""
        self.needed[var] = None

    def solve(self, work: int | None = None, *, claims_last: bool = True) -> Solution:
        """Work everything out. `work` bounds the effort; what was left out then is in ``unchecked``.

        With `claims_last` a claim is held against what the pieces give; without, sizes are taken in as they are met, so
        that a contradiction shows as near to its statements as may be.
        """
        self._solver = _Solver(self.equations, self.needed, work, claims_last)
        return self._solver.run()

    def go_on(self) -> Solution:
        """Take in the equations added since the last `solve`, keeping what was worked out then. The solution that
        `solve` gave is used up by it."""
        if self._solver is None or not 0 < len(self._solver.done) <= len(self.equations):
            return self.solve()
        return self._solver.run(len(self._solver.done))


class _TooMuch(Exception):
    pass


class _Solver:
    def __init__(
        self, equations: list[Equation], needed: Mapping[Var, None], work: int | None, claims_last: bool
    ) -> None:
        self.equations = equations
        self.claims_last = claims_last
        self.needed = needed
        self.one = Symbol("")
        self.symbols: dict[str, Symbol] = {}
        self.scale = self._common_scale()
        self.rows: dict[Var, SolvedRow] = {}
        self.inside: dict[Var, set[Var]] = {}  # open size -> settled sizes whose rows mention it
        self.nodes: list[Node] = []
        self.dependent: list[tuple[int, int, Known]] = []  # equation, node, what is left of it
        self.uses: dict[Var, list[int]] = {}
        self.unknown: list[int] = []
        self.done = bytearray()
        self.ready: deque[int] = deque()
        self.ready_claims: deque[int] = deque()
        given = sum(len(e.terms) for e in equations)
        self.work = work if work is not None else _WORK_LEAST + _WORK_EACH * given

    def _common_scale(self) -> int:
        """A common denominator of the plain lengths, so that most of the work is on whole numbers."""
        scale = 1
        for d in {e.right.const.q.denominator for e in self.equations}:
            scale = lcm(scale, d)
            if scale > _MOST_SCALE:
                return 1
        return scale

    # -- the order of work --------------------------------------------------------------------------------
    def run(self, start: int = 0) -> Solution:
        """Take in the equations from number `start` on; those before have been taken in already."""
        numbers = range(start, len(self.equations))
        for e in numbers:
            terms = self.equations[e].terms
            self.unknown.append(sum(not self._valued(var) for var in terms) if start else len(terms))
            for var in terms:
                self.uses.setdefault(var, []).append(e)
        self.done.extend(bytes(len(numbers)))
        for e in numbers:
            if self.unknown[e] <= 1:
                self._queue(e)
        unchecked: list[int] = []
        try:
            self._propagate()
            rest = sorted(
                (e for e in numbers if not self.done[e]),
                key=lambda e: (self.unknown[e], self._waits(e), e),
            )
            for e in rest:
                if not self.done[e]:
                    self._take(e)
                    self._propagate()
        except _TooMuch:
            unchecked = [e for e in range(len(self.equations)) if not self.done[e]]
            self.done = bytearray()  # there is no going on from here
        return Solution(
            self.equations,
            self.rows,
            self.nodes,
            self.dependent,
            unchecked,
            self.one,
            self.scale,
            self.needed,
        )

    def _valued(self, var: Var) -> bool:
        row = self.rows.get(var)
        return row is not None and not row.terms

    def _queue(self, e: int) -> None:
        (self.ready_claims if self._waits(e) else self.ready).append(e)

    def _waits(self, e: int) -> bool:
        """Whether an equation is a claim, to be taken in when nothing else is left."""
        return self.claims_last and self.equations[e].cause.claim

    def _propagate(self) -> None:
        """Equations with one open size at most, sizes of pieces first, claims when nothing else is left."""
        ready, claims, done = self.ready, self.ready_claims, self.done
        while ready or claims:
            e = ready.popleft() if ready else claims.popleft()
            if not done[e]:
                self._take(e)

    def _note_valued(self, var: Var) -> None:
        """A size has become known: equations in which it stood may be ready now."""
        unknown, done = self.unknown, self.done
        for e in self.uses.get(var, ()):
            left = unknown[e] - 1
            unknown[e] = left
            if left <= 1 and not done[e]:
                self._queue(e)

    # -- elimination --------------------------------------------------------------------------------------
    def _take(self, e: int) -> None:
        """Reduce an equation by what is settled; it settles one more size, agrees, or contradicts."""
        equation = self.equations[e]
        terms: Terms = {}
        known: Known = {}
        self._right(equation.right, known)
        made: list[tuple[int, Exact]] = [(~e, 1)]
        rows, work = self.rows, len(equation.terms)
        for var, c in equation.terms.items():
            row = rows.get(var)
            if row is None:
                terms[var] = terms[var] + c if var in terms else c
                continue
            made.append((row.node, -c))
            for s, x in row.known.items():
                known[s] = known[s] + c * x if s in known else c * x
            if row.terms:
                work += len(row.terms)
                for other, x in row.terms.items():
                    terms[other] = terms[other] + c * x if other in terms else c * x
        self._spend(work)
        self.done[e] = 1
        terms = {v: c for v, c in terms.items() if c}
        if terms:
            self._solve_for(terms, known, made)
        else:
            self.nodes.append(tuple(made))
            self.dependent.append((e, len(self.nodes) - 1, {s: x for s, x in known.items() if x}))

    def _right(self, right: Affine, known: Known) -> None:
        """Start `known` as minus the right side of an equation."""
        if right.const:
            known[self.one] = -lower(right.const * self.scale)
        for name, c in right.coefs.items():
            symbol = self.symbols.get(name) or self.symbols.setdefault(name, Symbol(name))
            known[symbol] = -lower(c)

    def _spend(self, work: int) -> None:
        self.work -= work
        if self.work < 0:
            raise _TooMuch

    def _solve_for(self, terms: Terms, known: Known, made: list[tuple[int, Exact]]) -> None:
        """Solve ``terms + known == 0`` for one of its sizes and put that into every row that mentions it."""
        pivot = self._choose(terms)
        c = terms.pop(pivot)
        node = len(self.nodes)
        if c == 1:
            self.nodes.append(tuple(made))
            row = SolvedRow({v: -x for v, x in terms.items()}, {s: -x for s, x in known.items() if x}, node)
        else:
            self.nodes.append(tuple((n, divided(m, c)) for n, m in made))
            row = SolvedRow(
                {v: divided(-x, c) for v, x in terms.items()},
                {s: divided(-x, c) for s, x in known.items() if x},
                node,
            )
        self.rows[pivot] = row
        for var in row.terms:
            self.inside.setdefault(var, set()).add(pivot)
        if not row.terms:
            self._note_valued(pivot)
        users = self.inside.pop(pivot, None)
        if users:
            for user in users:
                self._put_in(user, pivot, row)

    def _choose(self, terms: Terms) -> Var:
        """The size to solve for: the one that fewest rows mention, with a plain coefficient if possible."""
        if len(terms) == 1:
            return next(iter(terms))
        inside = self.inside

        def cost(item: tuple[Var, Exact]) -> tuple[int, int]:
            return len(inside.get(item[0], ())), 0 if item[1] in (1, -1) else 1

        return min(terms.items(), key=cost)[0]

    def _put_in(self, user: Var, pivot: Var, by: SolvedRow) -> None:
        row = self.rows[user]
        # The limits come first: a row is changed wholly or not at all, so what was settled stays right.
        c = row.terms[pivot]
        size = bits(c)
        self._spend((2 + len(by.terms) + len(by.known)) * (1 + size // 32))
        if size > _MOST_BITS:
            raise _TooMuch
        del row.terms[pivot]
        for var, x in by.terms.items():
            total = row.terms.get(var, 0) + c * x
            if total:
                row.terms[var] = total
                self.inside.setdefault(var, set()).add(user)
            elif var in row.terms:
                del row.terms[var]
                self.inside[var].discard(user)
        for s, x in by.known.items():
            row.known[s] = row.known.get(s, 0) + c * x
        self.nodes.append(((row.node, 1), (by.node, c)))
        row.node = len(self.nodes) - 1
        if not row.terms:
            row.known = {s: x for s, x in row.known.items() if x}
            self._note_valued(user)
