"""Sums of bits: whether all joints of a component can nest, the loops that forbid it, and what a loop must cost."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence

from patternkit.pressing.bits import ParityConstraint


class Sums:
    """Equations between bits, mod 2, put into echelon form one by one (union-find by parity is the case of two
    bits)."""

    def __init__(self) -> None:
        self._rows: dict[int, tuple[frozenset[int], int]] = {}  # highest bit -> the rest of the bits, and the sum

    def reduced(self, terms: Iterable[int], want: int) -> tuple[frozenset[int], int]:
        """An equation with every settled bit replaced."""
        left: set[int] = set()
        todo = list(terms)
        while todo:
            t = todo.pop()
            row = self._rows.get(t)
            if row is None:
                left ^= {t}
            else:
                todo += row[0]
                want ^= row[1]
        return frozenset(left), want

    def add(self, terms: Iterable[int], want: int) -> bool:
        """Take an equation in; False when it contradicts those already there."""
        left, want = self.reduced(terms, want)
        if not left:
            return not want
        top = max(left)
        self._rows[top] = (left - {top}, want)
        return True

    def solve(self, bits: Iterable[int], free: dict[int, int]) -> dict[int, int]:
        """Values for `bits`, with `free` (default 0) for those that no equation settles."""
        out = {}
        for b in bits:
            left, want = self.reduced((b,), 0)
            for t in left:
                want ^= free.get(t, 0)
            out[b] = want
        return out

    def unsettled(self, bits: Iterable[int]) -> list[int]:
        """The bits that no equation settles, in order."""
        found: set[int] = set()
        for b in bits:
            found |= self.reduced((b,), 0)[0]
        return sorted(found)


def shortest_loop(edges: Sequence[ParityConstraint], through: ParityConstraint | None = None) -> list[ParityConstraint]:
    """The shortest loop of joints that cannot all nest, by breadth-first search over (bit, parity); [] when none.

    Only edges between one or two bits count; an edge with one bit ties it to what the writer fixed (node -1). With
    `through` the loop has to use that edge.
    """
    near: dict[int, list[tuple[int, int, ParityConstraint]]] = {}
    for e in edges:
        if len(e.terms) <= 2 and e is not through:
            u, v = _nodes(e)
            near.setdefault(u, []).append((v, e.want, e))
            near.setdefault(v, []).append((u, e.want, e))
    best: list[ParityConstraint] = []
    if through is not None:
        if len(through.terms) > 2:
            return []
        u, v = _nodes(through)
        path = _walk(near, u, v, 1 - through.want)
        return [] if path is None else [through, *path]
    for e in edges:
        if not e.terms and e.want:
            return [e]
    for start in near:
        path = _walk(near, start, start, 1, len(best) or None)
        if path is not None and (not best or len(path) < len(best)):
            best = path
    return best


def _nodes(edge: ParityConstraint) -> tuple[int, int]:
    if not edge.terms:
        return -1, -1
    return (edge.terms[0], edge.terms[1]) if len(edge.terms) == 2 else (-1, edge.terms[0])


def _walk(
    near: dict[int, list[tuple[int, int, ParityConstraint]]],
    start: int,
    goal: int,
    parity: int,
    limit: int | None = None,
) -> list[ParityConstraint] | None:
    """A shortest walk from start to goal whose wants sum to `parity`, shorter than `limit`."""
    came: dict[tuple[int, int], tuple[tuple[int, int], ParityConstraint] | None] = {(start, 0): None}
    if (start, 0) == (goal, parity):
        return []
    queue = deque([((start, 0), 0)])
    while queue:
        state, steps = queue.popleft()
        if limit is not None and steps + 1 >= limit:
            return None
        for other, want, edge in near.get(state[0], ()):
            new = (other, state[1] ^ want)
            if new in came:
                continue
            came[new] = (state, edge)
            if new == (goal, parity):
                return _back(came, new)
            queue.append((new, steps + 1))
    return None


def _back(
    came: dict[tuple[int, int], tuple[tuple[int, int], ParityConstraint] | None], state: tuple[int, int]
) -> list[ParityConstraint]:
    out = []
    step = came[state]
    while step is not None:
        out.append(step[1])
        step = came[step[0]]
    return out[::-1]


def loop_bound(edges: Sequence[ParityConstraint]) -> int:
    """A true lower bound of the weight that does not nest in any plan: loops are packed, each costing its lightest
    joint, whose weight is then taken off all of its joints. In every loop at least one joint does not nest."""
    left: dict[int, int] = {i: e.weight for i, e in enumerate(edges)}
    total = 0
    while True:
        alive = [e._replace(weight=left[i], a=i) for i, e in enumerate(edges) if left[i] > 0]
        loop = shortest_loop(alive)
        if not loop:
            return total
        used = {e.a for e in loop}
        least = min(left[i] for i in used)
        total += least
        for i in used:
            left[i] -= least


def forced(edges: Sequence[ParityConstraint]) -> list[tuple[tuple[int, ...], int]]:
    """Sums of two bits that hold in every plan that loses least: joints between two groups of bits that weigh more than
    all other joints of one of the groups together. Groups grow as sums are found. Node -1 stands for what is fixed."""
    group: dict[int, tuple[int, int]] = {}  # bit -> (its group, its parity within it)
    members: dict[int, list[int]] = {}
    for e in edges:
        for t in e.terms:
            group.setdefault(t, (t, 0))
    group[-1] = (-1, 0)
    for n in group:
        members[n] = [n]
    found: list[tuple[tuple[int, ...], int]] = []
    while True:
        links = _links(edges, group)
        total: dict[int, int] = {}
        for ends, weight in links.items():
            for g in ends:
                total[g] = total.get(g, 0) + abs(weight)
        touched: set[int] = set()
        for (g, h), weight in sorted((k, w) for k, w in links.items() if len(k) == 2):
            if g in touched or h in touched:
                continue  # the weights of merged groups are counted anew first
            for small, big in ((h, g), (g, h)):
                if small != -1 and 2 * abs(weight) > total[small]:
                    want = int(weight > 0)
                    found.append(((small, big) if big != -1 else (small,), want))
                    for n in members.pop(small):
                        group[n] = (big, group[n][1] ^ want)
                        members[big].append(n)
                    touched |= {small, big}
                    break
        if not touched:
            return found


def _links(edges: Sequence[ParityConstraint], group: dict[int, tuple[int, int]]) -> dict[tuple[int, ...], int]:
    """The net weight between groups: positive when they should differ. Constraints over more groups count at each,
    apart."""
    links: dict[tuple[int, ...], int] = {}
    for e in edges:
        want = e.want
        ends: set[int] = set()
        for t in e.terms:
            g, parity = group[t]
            ends ^= {g}
            want ^= parity
        ends.discard(-1)
        if len(ends) == 1:
            ends.add(-1)
        if ends:
            key = tuple(sorted(ends))
            links[key] = links.get(key, 0) + (e.weight if want else -e.weight)
    return links
