"""Equations taken in one by one: what is known so far, and by how much a new one misses it. Exact."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.lengths import ZERO, Length
from patternkit.sizes.causes import Var
from patternkit.sizes.numbers import Exact, divided, lower

_Row = tuple[dict[Var, Exact], Length]


class Ledger:
    """Sizes as far as equations have settled them. Every settled size is kept as a sum of sizes still open."""

    def __init__(self) -> None:
        self._rows: dict[Var, _Row] = {}
        self._users: dict[Var, set[Var]] = {}

    def add(self, terms: Iterable[tuple[Var, Exact]], right: Length) -> Length:
        """Take in ``sum(coefficient * size) == right``; what is missing from it where nothing in it is open any more
        (nought where it agrees, or has settled something)."""
        left: dict[Var, Exact] = {}
        for var, c in terms:
            row = self._rows.get(var)
            if row is None:
                left[var] = left.get(var, 0) + c
                continue
            right = right - row[1] * c
            for other, x in row[0].items():
                left[other] = left.get(other, 0) + c * x
        left = {v: c for v, c in left.items() if c}
        if not left:
            return right
        self._solve_for(left, right)
        return ZERO

    def value(self, var: Var) -> Length | None:
        """The size where it is settled."""
        row = self._rows.get(var)
        return row[1] if row is not None and not row[0] else None

    def _solve_for(self, left: dict[Var, Exact], right: Length) -> None:
        pivot = min(left, key=lambda v: len(self._users.get(v, ())))
        c = left.pop(pivot)
        row = ({v: divided(-x, c) for v, x in left.items()}, right / Length(c))
        self._rows[pivot] = row
        for var in row[0]:
            self._users.setdefault(var, set()).add(pivot)
        for user in self._users.pop(pivot, ()):
            self._put_in(user, pivot, row)

    def _put_in(self, user: Var, pivot: Var, by: _Row) -> None:
        terms, known = self._rows[user]
        c = terms.pop(pivot)
        for var, x in by[0].items():
            total = lower(terms.get(var, 0) + c * x)
            if total:
                terms[var] = total
                self._users.setdefault(var, set()).add(user)
            elif var in terms:
                del terms[var]
                self._users[var].discard(user)
        self._rows[user] = (terms, known + by[1] * c)
