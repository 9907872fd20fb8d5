"""Sizes that nobody gave: which hang together, who mentions them, what would settle them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import msgspec

from patternkit.sizes.causes import Cause, Var
from patternkit.sizes.equations import Equation, SolvedRow
from patternkit.sizes.numbers import Exact, divided

_MOST_CHOSEN = 40  # sizes picked with care when many statements lack; beyond that any independent ones do


class FreeGroup(msgspec.Struct, frozen=True):
    """Sizes that hang together and that nobody gave.

    `missing` is how many statements are lacking; any one of `resolves` would do when it is 1, otherwise all of them
    together would. `mentions` are the statements that speak of these sizes.
    """

    sizes: tuple[Var, ...]
    missing: int
    resolves: tuple[Var, ...]
    mentions: tuple[Cause, ...]


def open_sizes(
    equations: Sequence[Equation], rows: Mapping[Var, SolvedRow], needed: Mapping[Var, None]
) -> dict[Var, None]:
    """The sizes that nothing settles, in the order in which they are mentioned."""
    resolved = {var for var, row in rows.items() if not row.terms}
    mentioned = (var for equation in equations for var in equation.terms if var not in resolved)
    return dict.fromkeys((*mentioned, *(var for var in needed if var not in resolved)))


def free_groups(
    equations: Sequence[Equation],
    rows: Mapping[Var, SolvedRow],
    needed: Mapping[Var, None],
    prefer: Callable[[Var], int] | None,
) -> list[FreeGroup]:
    """The groups, in the order in which their first size is mentioned."""
    order = {var: n for n, var in enumerate(open_sizes(equations, rows, needed))}
    if not order:
        return []
    groups = _components(order, rows)
    mentions: dict[int, list[Cause]] = {}
    for equation in equations:
        for g in sorted({groups[v] for v in equation.terms if v in groups}):
            mentions.setdefault(g, []).append(equation.cause)
    found = []
    for g in sorted(set(groups.values())):
        sizes = tuple(v for v in order if groups[v] == g)
        loose = [v for v in sizes if v not in rows]
        ranked = sorted(sizes, key=lambda v: (prefer(v) if prefer else 0, order[v]))
        resolves = tuple(ranked) if len(loose) == 1 else _independent(ranked, loose, rows)
        found.append(FreeGroup(sizes, len(loose), resolves, tuple(mentions.get(g, ()))))
    return found


def _components(order: Mapping[Var, int], rows: Mapping[Var, SolvedRow]) -> dict[Var, int]:
    """For each open size the number of its group: sizes in one row belong together."""
    parent: dict[Var, Var] = {v: v for v in order}

    def top(v: Var) -> Var:
        while parent[v] != v:
            parent[v] = parent[parent[v]]
            v = parent[v]
        return v

    for v in order:
        if v in rows:
            for other in rows[v].terms:
                a, b = top(v), top(other)
                if a != b:
                    parent[max(a, b, key=order.__getitem__)] = min(a, b, key=order.__getitem__)
    return {v: order[top(v)] for v in order}


def _independent(ranked: list[Var], loose: list[Var], rows: Mapping[Var, SolvedRow]) -> tuple[Var, ...]:
    """As many sizes as are lacking, the best ranked that do not follow from one another."""
    if len(loose) > _MOST_CHOSEN:
        return tuple(loose)
    chosen: list[Var] = []
    basis: dict[Var, dict[Var, Exact]] = {}
    for var in ranked:
        vector: dict[Var, Exact] = dict(rows[var].terms) if var in rows else {var: 1}
        for lead, row in basis.items():
            c = vector.get(lead, 0)
            if c:
                for v, x in row.items():
                    vector[v] = vector.get(v, 0) - c * x
        vector = {v: x for v, x in vector.items() if x}
        if vector:
            lead, c = next(iter(vector.items()))
            basis[lead] = {v: divided(x, c) for v, x in vector.items()}
            chosen.append(var)
            if len(chosen) == len(loose):
                break
    return tuple(chosen)
