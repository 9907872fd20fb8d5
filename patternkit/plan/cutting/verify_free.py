"""Bounds for any way of cutting, computed anew: another loop than the search's, in whole numbers throughout."""

from __future__ import annotations

from collections.abc import Iterable

from patternkit.plan.cutting.free import FreeCloth
from patternkit.plan.cutting.slices import LinesAcross, TooShort
from patternkit.plan.cutting.verify import need
from patternkit.plan.cutting.worths import Worths


def length_needed(cloth: FreeCloth, proof: LinesAcross) -> int:
    """Give the length that worths across show to be needed."""
    _well_formed(cloth, proof.across)
    total, entries = 0, []
    for kind, worths in zip(cloth.kinds, proof.across, strict=True):
        total += kind.demand * min(worth * height for worth, (_, height) in zip(worths, kind.sizes, strict=True))
        entries += [(width, worth, kind.demand) for worth, (width, _) in zip(worths, kind.sizes, strict=True)]
    most = richest_line(entries, cloth.width)
    return cloth.more + (-(-total // most) if most else 0)


def check_too_short(cloth: FreeCloth, proof: TooShort) -> None:
    """Raise `BadPlan` unless the pieces are worth more than a rectangle of the worth of both lines can hold."""
    _well_formed(cloth, proof.across)
    _well_formed(cloth, proof.along)
    room = proof.length - cloth.more
    total, across, along = 0, [], []
    for kind, wide, tall in zip(cloth.kinds, proof.across, proof.along, strict=True):
        ways = [way for way in zip(kind.sizes, wide, tall, strict=True) if way[0][1] <= room]
        if not ways:
            return  # one piece is longer than that
        total += kind.demand * min(f * g for _, f, g in ways)
        across += [(width, f, kind.demand) for (width, _), f, _ in ways]
        along += [(height, g, kind.demand) for (_, height), _, g in ways]
    need(
        total > richest_line(across, cloth.width) * richest_line(along, room),
        f"a length of {proof.length} is not shown to be too short",
    )


def richest_line(entries: Iterable[tuple[int, int, int]], room: int) -> int:
    """Give the most that pieces side by side are worth, from (length, worth, how many): one piece after another."""
    import numpy as np

    best = np.zeros(room + 1, dtype=np.int64)
    for take, worth, many in sorted(entries, reverse=True):
        for _ in range(min(many, room // take) if worth else 0):
            best[take:] = np.maximum(best[take:], best[:-take] + worth)
    return int(best[-1])


def _well_formed(cloth: FreeCloth, worths: Worths) -> None:
    need(
        [len(one) for one in worths] == [len(kind.sizes) for kind in cloth.kinds],
        "worths of other kinds than those of the list",
    )
    need(min((worth for one in worths for worth in one), default=0) >= 0, "a worth below nothing")
