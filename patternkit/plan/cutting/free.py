"""A list of pieces as it stands before anyone says how they are cut: for bounds that hold for any way of cutting."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from patternkit.plan.cutting.model import CuttingSettings, PieceDemand
from patternkit.plan.cutting.task import Size, lies


class FreeKind(msgspec.Struct, frozen=True):
    """All pieces of one size: the ways they may lie, and how many."""

    sizes: tuple[Size, ...]
    demand: int


class FreeCloth(msgspec.Struct, frozen=True):
    """Pieces to be cut from cloth of some width in any way; long pieces are pieces like others, which lie one way.

    Whole strips take the cloth's whole width, so that no line across meets another piece beside them: their length is
    `more`, and the rest of the cloth is no different for their lying between.
    """

    width: int
    kinds: tuple[FreeKind, ...]
    more: int = 0

    def tallest(self) -> int:
        """Give the length that the one piece needs that needs most."""
        return max((min(h for _, h in kind.sizes) for kind in self.kinds), default=0)


def free_cloth(pieces: Sequence[PieceDemand], settings: CuttingSettings) -> FreeCloth:
    """Merge equal sizes; whole strips are added up.

    The cloth is as wide as squaring up leaves it. A piece wider than that has nothing beside it, and counts as just as
    wide. Long pieces lose nothing to squaring up where only they lie side by side: they are narrowed in proportion, so
    that all that fit across the whole cloth fit across what is left of it.
    """
    found: dict[tuple[Size, ...], int] = {}
    room = settings.room
    for piece in pieces:
        if piece.count and not piece.full:
            lying = lies(piece, settings.width)
            sizes = {(w * room // settings.width if piece.along else min(w, room), h) for w, h in lying}
            if all(w for w, _ in sizes):  # what is narrowed to nothing is left out: less is needed then, not more
                key = tuple(sorted(sizes))
                found[key] = found.get(key, 0) + piece.count
    kinds = tuple(FreeKind(sizes, demand) for sizes, demand in sorted(found.items(), reverse=True))
    return FreeCloth(room, kinds, sum(p.height * p.count for p in pieces if p.full))
