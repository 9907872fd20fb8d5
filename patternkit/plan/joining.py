"""How long pieces are cut from strips joined end to end: which strips stay whole, which ends are joined to others.

A piece that one strip is long enough for is not joined; what is left of its strip lengthens another piece. So there are
as few seams as can be, and none lies close to the end of a piece, where it would meet a corner.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import permutations

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.piecing.joined import JoinedStrip

MANY = 60
"""More long pieces than this are cut from one joined strip: nobody keeps so many ends apart."""
STRIPS = 200
"""In more strips than these no seam is looked for."""
ORDERS = 120
"""How many orders of the pieces are tried along one joined strip."""


class Rest(msgspec.Struct, frozen=True):
    """What is left, so `long`, at the end of a strip `of` this height that is cut into other pieces."""

    long: Length
    of: Length


class Joining(msgspec.Struct, frozen=True):
    """How strips are joined: how long a whole one is (`usable`), what a `join` takes up, how far from the end of a
    piece a seam is kept `clear`, and how much longer than they must be strips are joined (`room`), as they are cut to
    what the quilt measures."""

    usable: Length
    join: Length
    clear: Length = ZERO
    room: Length = ZERO


class _Bar:
    """A strip in the making: of what it is joined, how much of it is left, what is cut from it and kept of it."""

    def __init__(self, wholes: int, long: Length, end: Length | None = None, rest: Rest | None = None) -> None:
        self.wholes, self.end, self.left, self.rest = wholes, end, long, rest
        self.cuts: list[int] = []
        self.keeps: list[Length] = []

    def cut(self, which: int, length: Length) -> None:
        self.cuts.append(which)
        self.left = self.left - length

    def keep(self, length: Length) -> None:
        self.keeps.append(length)
        self.left = self.left - length


def joined_strips(
    lengths: Sequence[tuple[Length, int]], way: Joining, strips: int, rests: Sequence[Rest] = ()
) -> tuple[JoinedStrip, ...]:
    """Cut so many of each of the `lengths` from `strips` strips, or from fewer with what is left of others (`rests`).

    No seam lies too close to the end of a piece where that is possible without one strip more. `strips` is how many it
    takes if all are joined to one (`strips_joined`); no more are ever taken. Of the ways that take fewest whole strips,
    one that needs no rest is taken before one that does.
    """
    wanted = sum((length * n for length, n in lengths), ZERO)
    given = sum((rest.long for rest in rests), ZERO)
    least = int(((wanted - given) / way.usable).ceil_to(Fraction(1)))  # as if joins took nothing up
    best: tuple[JoinedStrip, ...] | None = None
    for found in _ways(lengths, way, strips, rests):
        if whole_strips(found) <= strips and (best is None or whole_strips(found) < whole_strips(best)):
            best = found
            if whole_strips(best) <= least:
                break
    assert best is not None, "all strips joined to one are enough"
    return best


@lru_cache(maxsize=1024)
def so_few_do(
    lengths: tuple[tuple[Length, int], ...], way: Joining, strips: int, rests: tuple[Rest, ...], few: int
) -> bool:
    """Whether no more than so `few` whole strips are taken of `strips`, given what is left of others: what
    `joined_strips` would find, without saying how they are joined."""
    if strips <= few:
        return True
    if sum(n for _, n in lengths) <= MANY:
        for room in dict.fromkeys((way.room, ZERO)):
            own = _wholes_alone(lengths, way, room)
            bars = _by_ends(lengths, way, room, rests) if own is None or own > few else []
            if bars is not None and sum(bar.wholes for bar in bars) <= few:
                return True
    wanted = sum((length * n for length, n in lengths), ZERO)
    long = (way.usable - way.join) * few + way.join
    for rest in sorted(rests, key=lambda rest: -float(rest.long)):
        if long >= wanted:
            break
        long = long + rest.long - way.join
    return few >= 0 and long >= wanted


@lru_cache(maxsize=64)
def _wholes_alone(lengths: tuple[tuple[Length, int], ...], way: Joining, room: Length) -> int | None:
    """How many whole strips are taken where ends are kept and nothing is left of others."""
    bars = _by_ends(lengths, way, room, ())
    return None if bars is None else sum(bar.wholes for bar in bars)


def _ways(
    lengths: Sequence[tuple[Length, int]], way: Joining, strips: int, rests: Sequence[Rest]
) -> Iterator[tuple[JoinedStrip, ...]]:
    """Ways of joining strips, of those that take as many the better first: a lone piece from all of them if its seams
    lie clear; kept ends, without rests and with them; all joined to one, without rests and with them."""
    if len(lengths) == 1 and lengths[0][1] == 1 and not _close(lengths, (0,), way, strips):
        yield (_in_one(lengths, way, strips),)
    if sum(n for _, n in lengths) <= MANY:
        for some in ((), rests) if rests else ((),):
            for room in dict.fromkeys((way.room, ZERO)):
                bars = _by_ends(lengths, way, room, some)
                if bars is not None:
                    yield _alike(bars)
    yield (_in_one(lengths, way, strips),)
    yield from _with_rests(lengths, way, strips, rests)


def whole_strips(joins: Iterable[JoinedStrip]) -> int:
    """How many whole strips are cut in all."""
    return sum(j.count * j.wholes for j in joins)


def _by_ends(
    lengths: Sequence[tuple[Length, int]], way: Joining, room: Length, rests: Sequence[Rest]
) -> list[_Bar] | None:
    """Short pieces from whole strips, longer ones from whole strips and the ends that are left, longest first; None
    where a join takes up all of an end."""
    usable, join, least = way.usable, way.join, way.clear + way.join
    pieces = sorted((i for i, (_, n) in enumerate(lengths) for _ in range(n)), key=lambda i: -float(lengths[i][0]))
    bars: list[_Bar] = []
    others = [_Bar(0, rest.long, rest=rest) for rest in rests]
    for i in pieces:
        length = lengths[i][0]
        if length <= usable:
            _from_one(bars, others, length, usable).cut(i, length)
    for i in pieces:
        length = lengths[i][0]
        if length <= usable:
            continue
        wholes = int(((length + room) / (usable - join)).floor_to(Fraction(1)))
        end = length + room - (usable - join) * wholes
        if end <= join:
            bar = _Bar(wholes, usable * wholes - join * (wholes - 1))
        else:
            end = max(end, least)
            if end > usable:
                return None
            _end_of(bars, others, end, usable).keep(end)
            bar = _Bar(wholes, (usable - join) * wholes + end, end)
        bar.cut(i, length)
        bars.append(bar)
    return [*(bar for bar in others if bar.cuts or bar.keeps), *bars]


def _from_one(bars: list[_Bar], others: Sequence[_Bar], length: Length, usable: Length) -> _Bar:
    """The strip from which a piece is cut that needs no seam: one that is begun, a rest, or one more."""
    found = next((b for b in (*bars, *others) if b.left >= length), None)
    if found is None:
        found = _Bar(1, usable)
        bars.append(found)
    return found


def _end_of(bars: list[_Bar], others: Sequence[_Bar], end: Length, usable: Length) -> _Bar:
    """The strip of which an end is kept: one of which none is kept yet, with least to spare; a rest; or one more."""
    for group in (bars, others):
        found = min((b for b in group if b.left >= end), key=lambda b: (len(b.keeps), float(b.left)), default=None)
        if found is not None:
            return found
    bars.append(_Bar(1, usable))
    return bars[-1]


def _alike(bars: Iterable[_Bar]) -> tuple[JoinedStrip, ...]:
    """Strips that are made alike as one; those of which ends are kept come first, as those ends are wanted then."""
    found: dict[JoinedStrip, int] = {}
    for bar in bars:
        keeps, cuts = tuple(Counter(bar.keeps).items()), tuple(Counter(bar.cuts).items())
        ends = () if bar.end is None else ((bar.end, 1),)
        one = JoinedStrip(1, bar.wholes, ends, cuts, keeps, *((bar.rest.of, bar.rest.long) if bar.rest else ()))
        found[one] = found.get(one, 0) + 1
    alike = [msgspec.structs.replace(one, count=n) for one, n in found.items()]
    return tuple(sorted(alike, key=lambda s: (bool(s.ends), not s.keeps)))


def _with_rests(
    lengths: Sequence[tuple[Length, int]], way: Joining, strips: int, rests: Sequence[Rest]
) -> Iterator[tuple[JoinedStrip, ...]]:
    """Whole strips and rests joined to one, the longest rests first: with one strip less, two less, and so on."""
    wanted = sum((length * n for length, n in lengths), ZERO)
    cuts = tuple((i, n) for i, (_, n) in enumerate(lengths))
    longest = sorted(rests, key=lambda rest: -float(rest.long))
    for wholes in range(strips - 1, -1, -1):
        long, taken = (way.usable - way.join) * wholes + way.join, 0
        while long < wanted and taken < len(longest):
            long, taken = long + longest[taken].long - way.join, taken + 1
        if long < wanted:
            return
        ends = [rest.long for rest in longest[:taken]]
        bars = _alike(_kept(rest) for rest in longest[:taken])
        yield *bars, JoinedStrip(1, wholes, tuple(Counter(ends).items()), cuts)


def _kept(rest: Rest) -> _Bar:
    bar = _Bar(0, rest.long, rest=rest)
    bar.keep(rest.long)
    return bar


def _in_one(lengths: Sequence[tuple[Length, int]], way: Joining, strips: int) -> JoinedStrip:
    """All strips joined to one, the pieces cut in the order in which fewest seams lie close to the end of one."""
    best = min(
        (order for order, _ in zip(permutations(range(len(lengths))), range(ORDERS), strict=False)),
        key=lambda order: _close(lengths, order, way, strips),
    )
    return JoinedStrip(1, strips, cuts=tuple((i, lengths[i][1]) for i in best))


def _close(lengths: Sequence[tuple[Length, int]], order: Sequence[int], way: Joining, strips: int) -> int:
    """How many seams lie closer than they should to a cut between two pieces; of more strips than anybody joins none is
    looked for."""
    if strips > STRIPS:
        return 0
    at, cuts = 0.0, []
    for i in order:
        for _ in range(lengths[i][1]):
            at += float(lengths[i][0])
            cuts.append(at)
    step, half = float(way.usable - way.join), float(way.join) / 2
    seams = (step * k + half for k in range(1, strips))
    return sum(any(abs(seam - cut) < float(way.clear) for cut in cuts) for seam in seams)
