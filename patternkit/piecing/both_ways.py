"""Units that come out in two versions by halves: each place in a quilt is given one of them.

Of a pair of squares sewn to hourglasses one has its long seam on the other diagonal. They look alike, and their joints
differ; so half of the places take the one and half the other. Where a unit with an odd number of such places is made
several times, it comes in two versions itself, and so on outward: what is left over at last is one unit at most for
each such unit.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from patternkit.piecing.keys import OwnKey
from patternkit.piecing.making import Making, made_from
from patternkit.piecing.names import Name
from patternkit.piecing.reflect import OTHER_SEAMS, image_of, same_turned

ROWS = ("row", "diagonal row")
"""What is named by the numbers of its own places in the quilt."""
Balance = Mapping[Making, int]
"""By how many more of each unit are as drawn than the other way round."""


class TwoWays(msgspec.Struct, frozen=True):
    """A making with its places given out, the same with every place given the other version (None where that makes no
    difference to the numbers), and the balance of the first."""

    first: Making
    other: Making | None
    balance: Balance = {}


def in_both_ways(top: Making) -> Making:
    """A quilt whose places take both versions of each unit that comes out in two, as many of one as of the other. What
    needs no choice stays the same object."""
    if not any(_comes_in_two(m) for m in _makings(top)):
        return top
    return _Places().halves(top).first


def by_halves(roots: Sequence[tuple[Making, int]]) -> list[tuple[Making, int]]:
    """The same for units that are in no quilt, with how many of each: half of them the other way round."""
    places, found = _Places(), list[tuple[Making, int]]()
    for making, n in roots:
        if not any(_comes_in_two(m) for m in _makings(making)):
            found.append((making, n))
            continue
        half = places.halves(making)
        others = n // 2 if half.other is not None else 0
        found.append((half.first, n - others))
        if half.other is not None and others:
            found.append((half.other, others))
    return found


def _makings(top: Making) -> Iterable[Making]:
    seen: dict[Making, None] = {}
    waiting = [top]
    while waiting:
        making = waiting.pop()
        if making not in seen:
            seen[making] = None
            waiting += made_from(making)
    return seen


def _comes_in_two(making: Making) -> bool:
    """Whether half of what a batch gives looks like the unit and has its seams the other way round."""
    return making.recipe.mirrored > 0 and not making.version and same_turned(making) is not None


class _Places:
    """Places given out, each making once."""

    def __init__(self) -> None:
        self._known: dict[Making, TwoWays] = {}

    def halves(self, making: Making) -> TwoWays:
        """Both versions of a making, from the inside out."""
        if making not in self._known:
            if making.recipe.apart is not None:
                from patternkit.piecing.apart import cut_again  # only a unit that is cut apart needs it

                self._known[making] = TwoWays(cut_again(making, self.halves(made_from(making)[0]).first), None)
            elif _comes_in_two(making):
                self._known[making] = TwoWays(making, image_of(making), {making: 1})
            else:
                self._known[making] = self._given_out(making)
        return self._known[making]

    def _given_out(self, making: Making) -> TwoWays:
        inner = [self.halves(p.what) if isinstance(p.what, Making) else None for p in making.parts]
        places: dict[Making, list[int]] = {}
        alike: dict[frozenset[tuple[Making, int]], dict[Making, list[int]]] = {}
        for n, half in enumerate(inner):
            if half is not None and half.other is not None:
                places.setdefault(half.first, []).append(n)
                alike.setdefault(frozenset(half.balance.items()), {})[half.first] = places[half.first]
        others: set[int] = set()
        balance: dict[Making, int] = {}
        for each, group in alike.items():
            many = sum(map(len, group.values()))
            more = many // 2
            if many % 2 and _off(balance, dict(each), -1) < _off(balance, dict(each), 1):
                more += 1
            others.update(_chosen(list(group.values()), more))
            for unit, n in each:
                balance[unit] = balance.get(unit, 0) + n * (many - 2 * more)
        first = self._with(making, inner, others, places)
        if not any(balance.values()):
            return TwoWays(first, None)
        swapped = {n for numbers in places.values() for n in numbers} - others
        other = self._with(making, inner, swapped, places)
        return TwoWays(first, msgspec.structs.replace(other, version=making.version ^ OTHER_SEAMS), balance)

    def _with(
        self, making: Making, inner: list[TwoWays | None], others: set[int], places: Mapping[Making, list[int]]
    ) -> Making:
        """The making with the other version at some places. Rows that were one go by their own numbers then."""
        parts, named = list(making.parts), self._rows(others, places)
        for n, half in enumerate(inner):
            if half is not None:
                what = half.other if n in others and half.other is not None else half.first
                parts[n] = msgspec.structs.replace(making.parts[n], what=named.get(what, what))
        same = all(a.what is b.what for a, b in zip(parts, making.parts, strict=True))
        return making if same else msgspec.structs.replace(making, parts=tuple(parts))

    def _rows(self, others: set[int], places: Mapping[Making, list[int]]) -> dict[Making, Making]:
        """Rows of the quilt of which some take the other version: each by the numbers of its own places."""
        named: dict[Making, Making] = {}
        for row, numbers in places.items():
            half = next(h for h in self._known.values() if h.first is row)
            key = row.key
            if not isinstance(key, OwnKey) or key.name.what not in ROWS or half.other is None:
                continue  # the number of a strip is that of its border
            if len(key.name.numbers) != len(numbers):
                continue
            for what, mine in ((half.first, False), (half.other, True)):
                own = tuple(k for k, n in zip(key.name.numbers, numbers, strict=True) if (n in others) == mine)
                if own:
                    name = Name(key.name.what, own, key.name.side)
                    renamed = msgspec.structs.replace(key, name=name)
                    named[what] = msgspec.structs.replace(what, key=renamed, version=row.version)
        return named


def _off(balance: Balance, more: Balance, sign: int) -> int:
    """How far from even things are with one more place of a unit, taken one way or the other."""
    units = {*balance, *more}
    return sum(abs(balance.get(u, 0) + sign * more.get(u, 0)) for u in units)


def _chosen(places: list[list[int]], many: int) -> list[int]:
    """So many of some places for the other version: all those of some units where their numbers come to that, so that
    no unit comes in two versions itself; else every other place, so that neighbours differ."""
    sums: dict[int, list[int]] = {0: []}  # which units' places come to a number
    for i in range(1, len(places)):
        for total, which in list(sums.items()):
            sums.setdefault(total + len(places[i]), [*which, i])
    if many in sums:
        return [n for i in sums[many] for n in places[i]]
    numbers = sorted(n for own in places for n in own)
    return numbers[1::2] if many == len(numbers) // 2 else numbers[::2]
