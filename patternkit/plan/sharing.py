"""How few strip units are enough where segments of several widths are cut from strip units sewn alike.

Strip units are bins of one size, segments are items of few sizes. First fit with the widest first needs at most 11/9 of
the best and 6/9 more (G. Dosa 2007, from memory). Two widths are packed exactly; with more of them, where first fit
needs more than the cloth proves, a search in steps, not in seconds, looks for fewer. The last strip unit is of half
strips where those are enough. Everything is in whole numbers.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from math import lcm

import msgspec

from patternkit.lengths import Length

PAIRS = 300_000  # steps that packing two widths exactly may take
STEPS = 8000  # of the search, shared out over the kinds of segment; then what was found so far stands

Numbers = tuple[int, ...]


class Way(msgspec.Struct, frozen=True):
    """So many strip units (`times`) are cut alike: `numbers` of each kind of segment from one of them. `half` where
    they are of half strips."""

    times: int
    numbers: Numbers
    half: bool = False


def share(segments: Sequence[tuple[Length, int]], room: Length, half: Length | None = None) -> list[Way]:
    """Cut segments (width, how many) from the fewest strip units with room for that length, the last one of half
    strips, with room for `half`, where that is enough; nothing where a segment is wider than that length. The ways that
    come up most stand first, half strips last."""
    return list(_shared(tuple(segments), room, room / 2 if half is None else half))


@lru_cache(maxsize=1024)
def _shared(segments: tuple[tuple[Length, int], ...], whole: Length, half: Length) -> tuple[Way, ...]:
    """`share`, remembered: an edit of a pattern seldom touches its strip units, and many are alike."""
    sizes, (room, half_room) = _whole([w for w, _ in segments], whole, half)
    numbers = tuple(n for _, n in segments)
    if any(size > room for size, n in zip(sizes, numbers, strict=True) if n) or not any(numbers):
        return ()
    found = [_searched(sizes, numbers, room, half_room), _of_two(sizes, numbers, room, half_room)]
    plans = [_ways(_tidied(sizes, bins, room), last) for bins, last in filter(None, found)]
    best = min(plans, key=lambda ways: (cost(ways), len(ways)))  # of equally few strip units, the most cut alike
    return tuple(best)


def _ways(bins: Sequence[Numbers], last: Sequence[Numbers]) -> list[Way]:
    times: dict[Numbers, int] = {}
    for cut in bins:
        times[cut] = times.get(cut, 0) + 1
    found = sorted(((n, way) for way, n in times.items()), key=lambda x: (-x[0], tuple(-n for n in x[1])))
    return [*(Way(n, way) for n, way in found), *(Way(1, way, half=True) for way in last)]


def cost(ways: Sequence[Way]) -> int:
    """What ways of cutting take, in half strip units."""
    return sum(way.times * (1 if way.half else 2) for way in ways)


def pack(segments: Sequence[tuple[Length, int]], width: Length) -> list[tuple[int, Numbers]]:
    """Cut segments (width, how many) from whole strip units of one length: how many strip units are cut in each way, a
    way being how many of each segment come from one. First fit, the widest first; nothing where a segment does not
    fit."""
    sizes, (room,) = _whole([w for w, _ in segments], width)
    numbers = tuple(n for _, n in segments)
    if any(size > room for size, n in zip(sizes, numbers, strict=True) if n):
        return []
    ways: dict[Numbers, int] = {}
    for way in _first_fit(sizes, numbers, room):
        ways[way] = ways.get(way, 0) + 1
    return [(times, way) for way, times in ways.items()]


def packable(segments: Sequence[tuple[Length, int]], room: Length, bins: int) -> bool | None:
    """Whether segments (width, how many) can be cut from so many strip units of one length; None where a search in
    steps finds neither a way nor that there is none."""
    sizes, (whole,) = _whole([w for w, _ in segments], room)
    numbers = tuple(n for _, n in segments)
    if any(size > whole for size, n in zip(sizes, numbers, strict=True) if n):
        return False
    if len(_first_fit(sizes, numbers, whole)) <= bins:
        return True
    two = _of_two(sizes, numbers, whole, 0)
    if two is not None:
        return len(two[0]) <= bins
    search = _Search(sizes, STEPS)
    return search.fits(numbers, whole, bins)


def _whole(widths: Sequence[Length], *rooms: Length) -> tuple[list[int], list[int]]:
    """Widths in whole numbers of one small length, and so the rooms of strip units."""
    fractions = [w.fraction for w in widths]
    usable = [max(r.fraction if r.is_fraction else r.floor_to(Fraction(1, 64)), Fraction(0)) for r in rooms]
    scale = lcm(*(f.denominator for f in (*fractions, *usable)))
    return [int(f * scale) for f in fractions], [int(f * scale) for f in usable]


def _first_fit(sizes: Sequence[int], numbers: Numbers, room: int, rooms: Sequence[int] = ()) -> list[Numbers]:
    """The widest first, each into the first strip unit that has room: into those of `rooms`, then into further ones of
    `room`."""
    bins = [(free, [0] * len(sizes)) for free in rooms]
    for i in sorted(range(len(sizes)), key=lambda i: (-sizes[i], i)):
        left = numbers[i]
        for n, (free, cut) in enumerate(bins):
            take = min(left, free // sizes[i])
            cut[i] += take
            bins[n] = (free - sizes[i] * take, cut)
            left -= take
        while left > 0:
            take = min(left, room // sizes[i])
            cut = [0] * len(sizes)
            cut[i] = take
            bins.append((room - sizes[i] * take, cut))
            left -= take
    return [tuple(cut) for _, cut in bins]


def _of_two(sizes: Sequence[int], numbers: Numbers, room: int, half: int) -> tuple[list[Numbers], list[Numbers]] | None:
    """The fewest strip units for two kinds of segment, whole ones and at most one of half strips: strip unit by strip
    unit, the most of the narrow kind that goes with each number of the wide one. None for other kinds, or very many
    segments."""
    if len(sizes) != 2:
        return None
    wide, narrow = (0, 1) if sizes[0] >= sizes[1] else (1, 0)
    a, b = numbers[wide], numbers[narrow]
    least = -(-sum(size * n for size, n in zip(sizes, numbers, strict=True)) // room)
    if 3 * (least + 2) * (a + 1) * (room // sizes[wide] + 1) > PAIRS:
        return None
    none = [0] + [-1] * a
    rooms: list[list[int]] = [[], [half]]
    most = [[none], [none, _grown(none, half, sizes[wide], sizes[narrow])]]
    while True:
        for with_half, tables in enumerate(most):
            if tables[-1][a] >= b:
                bins = _read_back(tables, rooms[with_half], sizes, numbers, wide)
                return (bins[1:], bins[:1]) if with_half else (bins, [])
            rooms[with_half].append(room)
            tables.append(_grown(tables[-1], room, sizes[wide], sizes[narrow]))


def _grown(most: Sequence[int], room: int, wide: int, narrow: int) -> list[int]:
    """How many narrow segments go with each number of wide ones, once there is one strip unit more; -1 where the wide
    ones do not go in."""
    found = [-1] * len(most)
    for x in range(len(most)):
        for k in range(min(x, room // wide) + 1):
            if most[x - k] >= 0:
                found[x] = max(found[x], most[x - k] + (room - k * wide) // narrow)
    return found


def _read_back(
    tables: Sequence[Sequence[int]], rooms: Sequence[int], sizes: Sequence[int], numbers: Numbers, wide: int
) -> list[Numbers]:
    """The strip units, one for each of `rooms`, that the tables of `_of_two` were made from."""
    x, left, bins = numbers[wide], numbers[1 - wide], []
    for at in range(len(rooms), 0, -1):
        before, after, room = tables[at - 1], tables[at], rooms[at - 1]
        for k in range(min(x, room // sizes[wide]), -1, -1):
            more = (room - k * sizes[wide]) // sizes[1 - wide]
            if before[x - k] >= 0 and before[x - k] + more == after[x]:
                break
        cut = [0, 0]
        cut[wide], cut[1 - wide] = k, min(left, more)
        x, left = x - k, left - cut[1 - wide]
        bins.append(tuple(cut))
    return bins[::-1]


def _searched(sizes: Sequence[int], numbers: Numbers, room: int, half_room: int) -> tuple[list[Numbers], list[Numbers]]:
    """The fewest strip units that a search finds: whole ones, and the one of half strips if there is one."""
    search = _Search(sizes, STEPS // len(sizes))
    bins = search.least(numbers, room)
    half = search.with_half(numbers, room, half_room, len(bins) - 1)
    return (half[:-1], half[-1:]) if half else (bins, [])


def _tidied(sizes: Sequence[int], bins: Sequence[Numbers], room: int) -> list[Numbers]:
    """The same segments from as many strip units, more of them cut alike: those of fewest kinds are filled up with
    segments of these kinds from those of more."""
    cuts = [list(cut) for cut in sorted(bins, key=lambda cut: (sum(map(bool, cut)), cut))]
    for at, cut in enumerate(cuts):
        for i in sorted((i for i, n in enumerate(cut) if n), key=lambda i: -sizes[i]):
            for other in cuts[:at:-1]:
                free = room - sum(size * n for size, n in zip(sizes, cut, strict=True))
                take = min(other[i], free // sizes[i])
                cut[i], other[i] = cut[i] + take, other[i] - take
    return [tuple(cut) for cut in cuts]


class _Search:
    """A search for fewer strip units than first fit takes, of so many steps in all."""

    def __init__(self, sizes: Sequence[int], steps: int) -> None:
        self.sizes, self.steps = sizes, steps
        self._order = sorted(range(len(sizes)), key=lambda i: (-sizes[i], i))
        self._failed: dict[Numbers, int] = {}  # what is known not to go into so many strip units

    def least(self, numbers: Numbers, room: int) -> list[Numbers]:
        """The fewest whole strip units found."""
        best = _first_fit(self.sizes, numbers, room)
        while len(best) > -(-self._length(numbers) // room):
            found = self._into(numbers, room, len(best) - 1)
            if found is None:
                break
            best = found
        return best

    def fits(self, numbers: Numbers, room: int, bins: int) -> bool | None:
        """Whether all go into so many strip units; None where the steps did not do."""
        found = self._into(numbers, room, bins)
        return True if found is not None else False if self.steps > 0 else None

    def with_half(self, numbers: Numbers, room: int, half_room: int, whole: int) -> list[Numbers]:
        """The same in so many whole strip units and one of half strips, which stands last; nothing where none is
        found."""
        if self._length(numbers) > whole * room + half_room:
            return []
        rooms = [room] * whole
        last_first, last_last = ([half_room, *rooms], [*rooms, half_room])
        for order, at in ((last_last, whole), (last_first, 0)):
            found = _first_fit(self.sizes, numbers, room, order)
            if len(found) == whole + 1:
                return [way for way in (*found[:at], *found[at + 1 :], found[at]) if any(way)]
        for half in self._fillings(numbers, half_room, None):
            rest = tuple(n - h for n, h in zip(numbers, half, strict=True))
            into = self._into(rest, room, whole) if any(half) else None
            if into is not None:
                return [*into, half]
        return []

    def _length(self, numbers: Numbers) -> int:
        return sum(size * n for size, n in zip(self.sizes, numbers, strict=True))

    def _into(self, numbers: Numbers, room: int, bins: int) -> list[Numbers] | None:
        """All of the segments cut from so many strip units; None where that cannot be, or no way was found."""
        if not any(numbers):
            return []
        if self._length(numbers) > bins * room or self._failed.get(numbers, -1) >= bins:
            return None
        first = next(i for i in self._order if numbers[i])
        for way in self._fillings(numbers, room, first):
            rest = self._into(tuple(n - w for n, w in zip(numbers, way, strict=True)), room, bins - 1)
            if rest is not None:
                return [way, *rest]
        if self.steps > 0:
            self._failed[numbers] = bins
        return None

    def _fillings(self, numbers: Numbers, room: int, first: int | None) -> Iterator[Numbers]:
        """Every way of filling one strip unit that has no room for one segment more, the most of the widest first;
        where `first` is given, with at least one of that kind, which some strip unit must hold."""
        chosen = [0] * len(numbers)

        def fill(at: int, free: int) -> Iterator[Numbers]:
            self.steps -= 1
            if self.steps <= 0:
                return
            if at == len(self._order):
                if all(self.sizes[i] > free or chosen[i] == numbers[i] for i in self._order):
                    yield tuple(chosen)
                return
            i = self._order[at]
            for n in range(min(numbers[i], free // self.sizes[i]), (1 if i == first else 0) - 1, -1):
                chosen[i] = n
                yield from fill(at + 1, free - n * self.sizes[i])
            chosen[i] = 0

        return fill(0, room)
