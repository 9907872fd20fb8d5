"""Good plans without a solver: the heaviest joints that agree, then changes as long as one helps. Deterministic."""

from __future__ import annotations

from itertools import combinations

import msgspec

from patternkit.pressing.bits import Cost, PuzzleComponent
from patternkit.pressing.keeping import Wanted
from patternkit.pressing.parity import Sums, loop_bound
from patternkit.pressing.puzzle import Puzzle

_MOST_FREE = 10  # so many free bits are tried in all combinations
_MOST_SUBSETS = 200  # so many choices of units in two versions are tried


class Answer(msgspec.Struct, frozen=True):
    """An assignment of a component with its score. `bound` is the least that any assignment loses at joints; `proved`
    says that no assignment is better on any level."""

    bits: dict[int, int]
    opened: frozenset[int]
    score: Cost
    bound: int
    proved: bool

    def differs(self, n: int, wanted: Wanted) -> bool:
        """Whether a bit is otherwise than a plan to keep to has it."""
        return (n in self.opened) != (wanted.bit is None) or wanted.bit not in (None, self.bits[n])


def all_nest(puzzle: Puzzle, component: PuzzleComponent) -> Answer | None:
    """The best assignment when all joints of a component can nest, with as few units in two versions as possible."""
    if any(puzzle.fixed[n] == "open" for e in component.edges for n in (e.a, e.b)):
        return None
    first = len(puzzle.seams)
    units: dict[object, list[int]] = {}
    free_rows: list[int] = []
    for b in component.bits:
        if b >= first:
            what = puzzle.slots[b - first].what
            if what in puzzle.rows:
                free_rows.append(b)
            else:
                units.setdefault(what, []).append(b)
    tried = 0
    for size in range(len(units) + 1):
        for chosen in combinations(units, size):
            tried += 1
            if tried > _MOST_SUBSETS:
                return None
            still = {b for what, bits in units.items() if what not in chosen for b in bits}
            for rows in ((), tuple(free_rows)) if free_rows else ((),):
                sums = Sums()
                shut = still | (set(free_rows) - set(rows))
                if all(sums.add((t for t in e.terms if t not in shut), e.want) for e in component.edges):
                    return _by_wish(puzzle, component, sums, shut)
    return None


def _by_wish(puzzle: Puzzle, component: PuzzleComponent, sums: Sums, shut: set[int]) -> Answer:
    """Settle what is left free by the lower levels."""
    open_bits = [b for b in component.bits if b not in shut]
    free = sums.unsettled(open_bits)
    score = puzzle.score

    def built(values: dict[int, int]) -> tuple[Cost, dict[int, int]]:
        bits = dict.fromkeys(shut, 0) | sums.solve(open_bits, values)
        return score(component, bits, frozenset()), bits

    values = dict.fromkeys(free, 0)
    best = built(values)
    alone = all(len(sums.reduced((b,), 0)[0]) <= 1 for b in open_bits if b < len(puzzle.seams) or b in puzzle.wanted)
    if not alone and len(free) <= _MOST_FREE:
        for pattern in range(1, 1 << len(free)):
            now = built({b: (pattern >> i) & 1 for i, b in enumerate(free)})
            best = now if now[0] < best[0] else best
        return Answer(best[1], frozenset(), best[0], 0, True)
    better = True
    while better:  # one round settles it when no seam depends on two free bits
        better = False
        for b in free:
            now = built(values | {b: 1 - values[b]})
            if now[0] < best[0]:
                best, better = now, True
                values[b] = 1 - values[b]
    return Answer(best[1], frozenset(), best[0], 0, alone or not any(best[0]))


def by_hand(puzzle: Puzzle, component: PuzzleComponent, effort: int = 24, bound: bool = True) -> Answer:
    """A good assignment of any component: joints taken in by weight as long as they agree, then the best of single
    changes (press the other way, open or close, another version), then kicks that turn a loop over; with a true
    bound."""
    search = _Search(puzzle, component)
    search.descend()
    best = search.snapshot()
    order = [b for b in component.bits if not (b < len(puzzle.seams) and puzzle.fixed[b])]
    for kick in range(effort if len(order) > 1 else 0):
        for step in range(2 + kick % 3):
            search.flip(order[(kick * 7919 + step * 104729) % len(order)])
        search.descend()
        now = search.snapshot()
        if now[0] < best[0]:
            best = now
        else:
            search.restore(best)
    least = least_lost(puzzle, component) if bound else 0
    return Answer(best[1], best[2], best[0], least, best[0] == (least, 0, 0, 0, 0, 0, 0))


def least_lost(puzzle: Puzzle, component: PuzzleComponent) -> int:
    """What any assignment loses at joints, at the least: loops among the joints between bits, and what joints with a
    seam fixed open lose whatever happens."""
    shut = [e for e in component.edges if "open" in (puzzle.fixed[e.a], puzzle.fixed[e.b])]
    return sum(e.weight for e in shut) + loop_bound([e for e in component.edges if e not in shut])


class _Search:
    """One assignment under change."""

    def __init__(self, puzzle: Puzzle, component: PuzzleComponent) -> None:
        self.puzzle, self.component = puzzle, component
        sums = Sums()
        first = len(puzzle.seams)
        for e in sorted(component.edges, key=lambda e: -e.weight):
            if e.terms:
                plain = [t for t in e.terms if t < first]
                sums.add(plain, e.want)
        self.bits = sums.solve([b for b in component.bits if b < first], {}) | {
            b: 0 for b in component.bits if b >= first
        }
        self.opened: set[int] = set()
        self.near: dict[int, list[int]] = {}
        for i, e in enumerate(component.edges):
            for n in {*e.terms, e.a, e.b}:
                self.near.setdefault(n, []).append(i)
        self.moves: list[tuple[str, tuple[int, ...]]] = []
        for b in component.bits:
            self.moves.append(("flip", (b,)))
            if b < first and puzzle.can_open(b):
                self.moves.append(("open", (b,)))
        pairs = dict.fromkeys((e.a, e.b) for e in component.edges if e.a != e.b)
        self.moves += [("open", p) for p in pairs if all(n in self.bits and puzzle.can_open(n) for n in p)]
        self.moves += [("flip", e.terms) for e in component.edges if len(e.terms) > 1]

    def flip(self, bit: int) -> None:
        """Turn a bit over."""
        self.bits[bit] ^= 1

    def _do(self, move: tuple[str, tuple[int, ...]]) -> None:
        for n in move[1]:
            if move[0] == "flip":
                self.bits[n] ^= 1
            else:
                self.opened ^= {n}

    def _part(self, near: set[int]) -> int:
        edges, lost = self.component.edges, self.puzzle.lost
        return sum(edges[i].weight for i in near if lost(edges[i], self.bits, self.opened))

    def descend(self) -> None:
        """Take changes that help until none does."""
        better = True
        while better:
            better = False
            for move in self.moves:
                near = {i for n in move[1] for i in self.near.get(n, ())}
                before = self._part(near)
                self._do(move)
                change = self._part(near) - before
                if change < 0 or (change == 0 and self._small(move)):
                    better = True
                else:
                    self._do(move)

    def _small(self, move: tuple[str, tuple[int, ...]]) -> bool:
        """Whether a change that has just been made, and loses nothing at the joints, helps on the lower levels."""
        score, component = self.puzzle.score, self.component
        after = score(component, self.bits, self.opened)
        self._do(move)
        before = score(component, self.bits, self.opened)
        self._do(move)
        return after < before

    def snapshot(self) -> tuple[Cost, dict[int, int], frozenset[int]]:
        """The score with a copy of the assignment."""
        return (
            self.puzzle.score(self.component, self.bits, self.opened),
            dict(self.bits),
            frozenset(self.opened),
        )

    def restore(self, kept: tuple[Cost, dict[int, int], frozenset[int]]) -> None:
        """Go back to a snapshot."""
        self.bits, self.opened = dict(kept[1]), set(kept[2])
