"""How long pieces are cut from strips joined end to end: which strips stay whole, which ends are joined to others.

A piece that one strip is long enough for is not joined; what is left of its strip lengthens another piece. So there are
as few seams as can be, and none lies close to the end of a piece, where it would meet a corner.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import permutations

import msgspec

from patternkit.lengths import ZERO, Length

MANY = 60
"""More long pieces than this are cut from one joined strip: nobody keeps so many ends apart."""
ORDERS = 120
"""How many orders of the pieces are tried along one joined strip."""


class JoinedStrip(msgspec.Struct, frozen=True):
    """`count` joined strips made alike: of so many whole strips (`wholes`), and an end of another strip at least `end`
    long. `cuts` are the pieces that each gives, as (which of the lengths wanted, how many); `keeps` the ends that are
    kept of it, as (at least so long, how many)."""

    count: int
    wholes: int
    end: Length | None = None
    cuts: tuple[tuple[int, int], ...] = ()
    keeps: tuple[tuple[Length, int], ...] = ()

    @property
    def joined(self) -> bool:
        """Whether there is a seam in it."""
        return self.wholes > 1 or self.end is not None

    def long(self, usable: Length, join: Length) -> Length:
        """How long each is once joined, of strips `usable` long, where a join takes up `join`."""
        end = ZERO if self.end is None else self.end - (join if self.wholes else ZERO)
        return usable * self.wholes - join * max(0, self.wholes - 1) + end


class _Bar:
    """A strip in the making: how long it is, what is cut from it, and what is kept of it."""

    def __init__(self, wholes: int, long: Length, end: Length | None = None) -> None:
        self.wholes, self.end, self.left = wholes, end, long
        self.cuts: list[int] = []
        self.keeps: list[Length] = []

    def cut(self, which: int, length: Length) -> None:
        self.cuts.append(which)
        self.left = self.left - length

    def keep(self, length: Length) -> None:
        self.keeps.append(length)
        self.left = self.left - length


def joined_strips(
    lengths: Sequence[tuple[Length, int]],
    usable: Length,
    join: Length,
    clear: Length,
    strips: int,
    room: Length = ZERO,
) -> tuple[JoinedStrip, ...]:
    """Cut so many of each of the `lengths` from `strips` strips, `usable` long; a join takes up `join`.

    No seam lies closer than `clear` to the end of a piece where that is possible without one strip more, and strips are
    joined longer than they must be by `room`, as they are cut to what the quilt measures. `strips` is how many it takes
    if all are joined to one (`strips_joined`); no more are ever taken.
    """
    one = _in_one(lengths, usable, join, clear, strips)
    if len(lengths) == 1 and lengths[0][1] == 1 and not _close(lengths, (0,), usable, join, clear, strips):
        return (one,)
    if sum(n for _, n in lengths) <= MANY:
        ways = [_by_ends(lengths, usable, join, clear, more) for more in dict.fromkeys((room, ZERO))]
        found = [bars for bars in ways if bars is not None and sum(bar.wholes for bar in bars) <= strips]
        if found:
            return _alike(min(found, key=lambda bars: sum(bar.wholes for bar in bars)))
    return (one,)


def _by_ends(
    lengths: Sequence[tuple[Length, int]], usable: Length, join: Length, clear: Length, room: Length
) -> list[_Bar] | None:
    """Short pieces from whole strips, longer ones from whole strips and the ends that are left, longest first; None
    where a join takes up all of an end."""
    least, pieces = clear + join, [i for i, (_, n) in enumerate(lengths) for _ in range(n)]
    pieces.sort(key=lambda i: -float(lengths[i][0]))
    bars: list[_Bar] = []
    for i in pieces:
        length = lengths[i][0]
        if length <= usable:
            bar = next((b for b in bars if b.left >= length), None)
            if bar is None:
                bar = _Bar(1, usable)
                bars.append(bar)
            bar.cut(i, length)
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
            _end_of(bars, end, usable).keep(end)
            bar = _Bar(wholes, (usable - join) * wholes + end, end)
        bar.cut(i, length)
        bars.append(bar)
    return bars


def _end_of(bars: list[_Bar], end: Length, usable: Length) -> _Bar:
    """The strip of which an end is kept: one of which none is kept yet, with least to spare, or one more."""
    found = min((b for b in bars if b.left >= end), key=lambda b: (len(b.keeps), float(b.left)), default=None)
    if found is None:
        found = _Bar(1, usable)
        bars.append(found)
    return found


def _alike(bars: Iterable[_Bar]) -> tuple[JoinedStrip, ...]:
    """Strips that are made alike as one; those of which ends are kept come first, as those ends are wanted then."""
    found: dict[JoinedStrip, int] = {}
    for bar in bars:
        keeps = {length: bar.keeps.count(length) for length in bar.keeps}
        cuts = tuple((i, bar.cuts.count(i)) for i in dict.fromkeys(bar.cuts))
        one = JoinedStrip(1, bar.wholes, bar.end, cuts, tuple(keeps.items()))
        found[one] = found.get(one, 0) + 1
    alike = [msgspec.structs.replace(one, count=n) for one, n in found.items()]
    return tuple(sorted(alike, key=lambda s: (s.end is not None, not s.keeps)))


def _in_one(
    lengths: Sequence[tuple[Length, int]], usable: Length, join: Length, clear: Length, strips: int
) -> JoinedStrip:
    """All strips joined to one, the pieces cut in the order in which fewest seams lie close to the end of one."""
    best = min(
        (order for order, _ in zip(permutations(range(len(lengths))), range(ORDERS), strict=False)),
        key=lambda order: _close(lengths, order, usable, join, clear, strips),
    )
    return JoinedStrip(1, strips, cuts=tuple((i, lengths[i][1]) for i in best))


def _close(
    lengths: Sequence[tuple[Length, int]],
    order: Sequence[int],
    usable: Length,
    join: Length,
    clear: Length,
    strips: int,
) -> int:
    """How many seams lie closer than `clear` to a cut between two pieces."""
    at, cuts = 0.0, []
    for i in order:
        for _ in range(lengths[i][1]):
            at += float(lengths[i][0])
            cuts.append(at)
    seams = (float((usable - join) * k + join / 2) for k in range(1, strips))
    return sum(any(abs(seam - cut) < float(clear) for cut in cuts) for seam in seams)
