"""A strip joined end to end: the record that plans and orders share. How strips are joined is worked out in the
plan."""

from __future__ import annotations

import msgspec

from patternkit.lengths import Length


class JoinedStrip(msgspec.Struct, frozen=True):
    """`count` joined strips made alike: of so many whole strips (`wholes`), and of kept `ends`, as (at least so long,
    how many). `cuts` are the pieces that each gives, as (which of the lengths wanted, how many); `keeps` the ends that
    are kept of it, in the same way. Of no whole strip and no end, it is what is left at the end of a strip `of` that
    height, which is cut into other pieces: so long (`left`), and cut to the height of these strips."""

    count: int
    wholes: int
    ends: tuple[tuple[Length, int], ...] = ()
    cuts: tuple[tuple[int, int], ...] = ()
    keeps: tuple[tuple[Length, int], ...] = ()
    of: Length | None = None
    left: Length | None = None

    @property
    def parts(self) -> int:
        """Of how many strips and ends each is joined."""
        return self.wholes + sum(n for _, n in self.ends)

    @property
    def joined(self) -> bool:
        """Whether there is a seam in it."""
        return self.parts > 1
