"""Which copy of a unit gets which print of a group: shared out evenly, and always in the same way.

Each copy of a unit that is given a group gets one of its prints; what is sewn within the copy for the same name in
brackets is of that print. Copies are met as the quilt is put together, row by row and from left to right. Prints are
dealt in rounds: in each, every print comes once, so that at the end no print has come more than once oftener than
another. From round to round they are moved on, so that equal prints do not stand in lines.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from functools import lru_cache

import msgspec

from patternkit.model.pattern import Fabric
from patternkit.piecing.keys import Key
from patternkit.piecing.making import Cloth, Making, Part

Dealt = tuple[tuple[str, int], ...]
"""Which print stands for each key of a fabric that is one print of a group, in the order of the keys."""
_STRIDE = 0.618
"""Prints are dealt in steps of this share of them: near ones in the writer's numbers come far apart."""


class PrintShare(msgspec.Struct, frozen=True):
    """Of a unit that is sewn of single prints: which these are, how many of it are needed of them, and how many of its
    mirror images that come of the same batches."""

    prints: Dealt
    needed: int
    mirrored: int = 0


class Dealing(msgspec.Struct, frozen=True):
    """What is dealt to the copies in a quilt: for each making that is sewn of single prints how many are needed of
    which (`shares`), and for each group how many copies of which unit get each of its prints (`copies`)."""

    shares: Mapping[Making, tuple[PrintShare, ...]] = {}
    copies: Mapping[str, Mapping[Making, Mapping[int, int]]] = {}


@lru_cache(maxsize=64)
def deck(count: int) -> tuple[int, ...]:
    """The prints of a group, numbered from 1, in the order in which they are dealt."""
    from math import gcd

    step = max(1, round(count * _STRIDE))
    while gcd(step, count) != 1:
        step += 1
    return tuple(1 + i * step % count for i in range(count))


class PrintDealer:
    """Deals the prints of groups to copies, in the order in which they are met. Of a bag of any number each copy gets
    prints of its own."""

    def __init__(self, fabrics: Mapping[str, Fabric]) -> None:
        self.fabrics = fabrics
        self._bags: dict[str, int] = {}
        self._copies: dict[str, int] = {}

    def deal(self, keys: Sequence[str]) -> dict[str, int]:
        """A print for each key, different ones for keys of one group."""
        groups: dict[str, list[str]] = {}
        for key in keys:
            one = self.fabrics[key].print
            assert one is not None
            groups.setdefault(one.group, []).append(key)
        found: dict[str, int] = {}
        for group, own in groups.items():
            own.sort(key=self._role)
            found |= dict(zip(own, self._next(group, len(own)), strict=True))
        return found

    def any_of(self, group: str) -> int:
        """The next print, for a piece that any of them will do for."""
        return self._next(group, 1)[0]

    def _role(self, key: str) -> int:
        one = self.fabrics[key].print
        return one.role if one is not None else 0

    def _next(self, group: str, many: int) -> list[int]:
        held = self.fabrics[group].group
        copy = self._copies[group] = self._copies.get(group, -1) + 1
        if held is None or held.count is None:
            first = self._bags.get(group, 0)
            self._bags[group] = first + many
            return list(range(first + 1, first + many + 1))
        count = held.count
        cards, (turn, at) = deck(count), divmod(copy, count)
        at += turn * max(1, count // 3)
        apart = [k * count // many for k in range(many)]
        if many == 2 and count > 2:  # two prints come in other pairs each round
            apart[1] = 1 + (apart[1] - 1 + turn) % (count - 1)
        return [cards[(at + k) % count] for k in apart]


class Roles:
    """Which keys of single prints the cloth of makings has, each making looked at once."""

    def __init__(self, fabrics: Mapping[str, Fabric]) -> None:
        self._one = frozenset(key for key, f in fabrics.items() if f.print is not None and f.print.role)
        self._known: dict[int, tuple[Part, frozenset[str]]] = {}

    def of(self, part: Part) -> frozenset[str]:
        """Those of all cloth in a part."""
        if isinstance(part, Cloth):
            return self._one & {part.fabric}
        if id(part) not in self._known:
            own: frozenset[str] = frozenset(cut.fabric for cut in part.recipe.cuts) & self._one
            own |= self._one.intersection(part.key.arguments) if isinstance(part.key, Key) else frozenset()
            for p in part.parts:
                own |= self.of(p.what)
            self._known[id(part)] = part, own
        return self._known[id(part)][1]


def group_of(key: str) -> str:
    """The group that a fabric's key speaks of a print of, such as ``one shore`` or ``shore(3)``; the key itself for all
    others: names have neither spaces nor brackets."""
    return key.rpartition(" ")[2].partition("(")[0]


def as_written(key: str) -> str:
    """A fabric's key as the file writes it: the print that each copy of a unit gets by the name of its group."""
    return key.rpartition(" ")[2]


def has_single_prints(fabrics: Mapping[str, Fabric]) -> bool:
    """Whether any unit is given a group, of which each copy gets one print."""
    return any(f.print is not None and f.print.role for f in fabrics.values())


def shared_out(roots: Sequence[tuple[Making, int]], fabrics: Mapping[str, Fabric]) -> Dealing:
    """The prints that the copies in a quilt get (or in loose units: `roots` with how many of each)."""
    if not has_single_prints(fabrics):
        return Dealing()
    found: dict[Making, Counter[Dealt]] = {}
    copies: dict[str, dict[Making, Counter[int]]] = {}
    roles, dealer = Roles(fabrics), PrintDealer(fabrics)

    def walk(making: Making, given: Mapping[str, int]) -> None:
        own = roles.of(making)
        if not own:
            return
        before, given = given, known(making, given, roles, dealer)
        for key in given.keys() - before.keys():
            one = fabrics[key].print
            assert one is not None
            copies.setdefault(one.group, {}).setdefault(making, Counter())[given[key]] += 1
        inner = passed_on(making, given)
        here = tuple((key, inner[key]) for key in sorted(own & inner.keys()))
        if here:
            found.setdefault(making, Counter())[here] += 1
        for p in making.parts:
            if isinstance(p.what, Making):
                walk(p.what, inner)

    for root, n in roots:
        for _ in range(n):
            walk(root, {})
    shares = {
        making: tuple(PrintShare(prints, n) for prints, n in sorted(counted.items()))
        for making, counted in found.items()
    }
    return Dealing(shares, copies)


def known(making: Making, given: Mapping[str, int], roles: Roles, dealer: PrintDealer) -> Mapping[str, int]:
    """The prints that a copy of a making is sewn of: those it was `given`, and new ones for those that are its own."""
    bound = set(making.key.arguments) if isinstance(making.key, Key) else set()
    fresh = sorted((roles.of(making) & bound) - given.keys())
    return {**given, **dealer.deal(fresh)} if fresh else given


def passed_on(making: Making, given: Mapping[str, int]) -> Mapping[str, int]:
    """The prints that what is sewn within a making has from it: those that its own line has names for."""
    bound = set(making.key.arguments) if isinstance(making.key, Key) else set()
    return {key: n for key, n in given.items() if key in bound}


__all__ = [
    "Dealing",
    "Dealt",
    "PrintDealer",
    "PrintShare",
    "Roles",
    "as_written",
    "deck",
    "group_of",
    "has_single_prints",
    "known",
    "passed_on",
    "shared_out",
]
