"""How long cloth must be however it is cut, from what lines across it and along it can meet.

Let every piece have a worth, such that no pieces that fit side by side across the cloth are worth more than `F`
together. Each line across the cloth is then worth at most `F`, and the cloth must be as long as the worths times the
heights of all pieces, divided by `F`. The best worths are a linear program over all lines, whose rows are found by a
knapsack (the continuous relaxation that S. Martello, M. Monaci and D. Vigo give for strips, INFORMS Journal on
Computing 15, 2003; reference from memory).

Cloth of a given length can be tried both ways at once: pieces moved apart in the order in which they lie, across by
their worths `f` and then along by worths `g`, still overlap nowhere, and lie in a rectangle of `F` by `G`; so `f` times
`g` of all pieces is no more than `F` times `G`, or the cloth is too short (conservative scales: S. P. Fekete and J.
Schepers, Mathematics of Operations Research 29, 2004; that the two may be bettered in turn: A. Caprara and M. Monaci,
Mathematical Programming 118, 2009; both from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

import msgspec

from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.free import FreeCloth
from patternkit.plan.cutting.knapsack import Filled, most_worth
from patternkit.plan.cutting.task import Size
from patternkit.plan.cutting.worths import Worths, likely_worths

SCALE = 1 << 20
"""Worths are rounded to this fraction of what the whole line may be worth."""
ROUNDS = 150
"""Most lines added to one linear program."""
TURNS = 6
"""Most times that the worths across and along are bettered in turn."""


class LinesAcross(msgspec.Struct, frozen=True):
    """The length that these worths of pieces, in a line across the cloth, show to be needed."""

    across: Worths


class TooShort(msgspec.Struct, frozen=True):
    """Cloth of this length cannot hold the pieces: worths across and along, in the ways that fit its length."""

    length: int
    across: Worths
    along: Worths


class _Side(NamedTuple):
    """One direction of the cloth: how much of it each kind takes in each way of lying, and how much there is."""

    takes: tuple[tuple[int, ...], ...]
    room: int


def slices(cloth: FreeCloth, budget: Budget, goal: int | None = None) -> LinesAcross:
    """Find the worths that prove most; the search may end once they prove `goal`."""
    side = _Side(tuple(tuple(w for w, _ in kind.sizes) for kind in cloth.kinds), cloth.width)
    other = tuple(tuple(h for _, h in kind.sizes) for kind in cloth.kinds)
    enough = None if goal is None else Fraction(goal - 1 - cloth.more)
    return LinesAcross(_best_worths(cloth, side, other, enough, budget))


def too_short(cloth: FreeCloth, length: int, across: Worths, budget: Budget) -> TooShort | None:
    """Find worths across and along that show a length to be too short, if any are found.

    `across` are worths to begin with; the likeliest of some known ones and the area are begun with besides.
    """
    room = length - cloth.more
    ways = tuple(tuple(s for s in kind.sizes if s[1] <= room) for kind in cloth.kinds)
    if not all(ways):
        nothing: Worths = tuple((0,) * len(kind.sizes) for kind in cloth.kinds)
        return TooShort(length, nothing, nothing)
    fitting = msgspec.structs.replace(
        cloth, kinds=tuple(msgspec.structs.replace(k, sizes=w) for k, w in zip(cloth.kinds, ways, strict=True))
    )
    wide = _Side(tuple(tuple(w for w, _ in way) for way in ways), cloth.width)
    tall = _Side(tuple(tuple(h for _, h in way) for way in ways), room)
    kept = tuple(
        tuple(worth for worth, size in zip(worths, kind.sizes, strict=True) if size in way)
        for worths, kind, way in zip(across, cloth.kinds, ways, strict=True)
    )
    for begin in (kept, *likely_worths(fitting, wide.room, tall.room), wide.takes):
        found = _in_turn(fitting, wide, tall, begin, budget)
        if found is not None:
            return TooShort(length, *(_spread(worths, cloth, ways) for worths in found))
        if budget.spent():
            break
    return None


def _spread(worths: Worths, cloth: FreeCloth, ways: Sequence[Sequence[Size]]) -> Worths:
    """Give worths of all ways of lying, 0 for those that were left out."""
    found = [dict(zip(way, one, strict=True)) for way, one in zip(ways, worths, strict=True)]
    return tuple(tuple(one.get(size, 0) for size in kind.sizes) for one, kind in zip(found, cloth.kinds, strict=True))


def _in_turn(
    cloth: FreeCloth, wide: _Side, tall: _Side, across: Worths, budget: Budget
) -> tuple[Worths, Worths] | None:
    """Better the worths along for given ones across, then those across, until the length is too short."""
    along: Worths = tall.takes
    last = Fraction(0)
    for turn in range(TURNS):
        if turn % 2:
            across = _best_worths(cloth, wide, along, _limit(cloth, tall, along), budget)
        else:
            along = _best_worths(cloth, tall, across, _limit(cloth, wide, across), budget)
        most = _most(cloth, wide, across) * _most(cloth, tall, along)
        if not most:
            return None  # worths of nothing show nothing
        share = Fraction(load(cloth, across, along), most)
        if share > 1:
            return across, along
        if share <= last + Fraction(1, 10_000) or budget.spent():
            return None
        last = share
    return None


def load(cloth: FreeCloth, across: Worths, along: Worths) -> int:
    """Add up, over all pieces, the worth across times the worth along in the way of lying where that is least."""
    return sum(
        kind.demand * min(f * g for f, g in zip(one, other, strict=True))
        for kind, one, other in zip(cloth.kinds, across, along, strict=True)
    )


def _limit(cloth: FreeCloth, side: _Side, worths: Worths) -> Fraction:
    """What the worths of the other direction must prove: more than a line in this direction can be worth."""
    return Fraction(_most(cloth, side, worths))


def _most(cloth: FreeCloth, side: _Side, worths: Worths) -> int:
    return _filled(cloth, side, worths).worth


def _filled(cloth: FreeCloth, side: _Side, worths: Worths) -> Filled:
    entries = [
        (take, worth, kind.demand)
        for kind, takes, given in zip(cloth.kinds, side.takes, worths, strict=True)
        for take, worth in zip(takes, given, strict=True)
    ]
    return most_worth(entries, side.room)


def _best_worths(cloth: FreeCloth, side: _Side, lengths: Worths, enough: Fraction | None, budget: Budget) -> Worths:
    """Find worths in one direction that make the most of given lengths in the other.

    Ends early once they prove more than `enough`. Worths by size are the first, so that area always counts.
    """
    from patternkit.plan.cutting.line_program import LineProgram

    best = side.takes
    filled = _filled(cloth, side, best)
    top = Fraction(load(cloth, best, lengths), max(1, filled.worth))
    program = LineProgram([(kind.demand, one) for kind, one in zip(cloth.kinds, lengths, strict=True)])
    takes = [take for one in side.takes for take in one]
    for index, (take, demand) in enumerate(
        (take, kind.demand) for kind, one in zip(cloth.kinds, side.takes, strict=True) for take in one
    ):
        program.line([(index, min(demand, side.room // take))])
    program.line(filled.numbers)
    for _ in range(ROUNDS):
        if (enough is not None and top > enough) or budget.spent():
            break
        values = program.solve()
        budget.charge(len(takes) * (side.room // 2 + 900) + 20_000)
        worths = _whole(values, side.takes)
        filled = _filled(cloth, side, worths)
        if filled.worth and (proved := Fraction(load(cloth, worths, lengths), filled.worth)) > top:
            best, top = worths, proved
        if filled.worth <= SCALE + len(takes) or not program.line(filled.numbers):
            break
    return best


def _whole(values: Sequence[float], like: Sequence[Sequence[int]]) -> Worths:
    """Round worths to whole numbers, kind by kind."""
    rest = iter(values)
    return tuple(tuple(max(0, round(next(rest) * SCALE)) for _ in one) for one in like)
