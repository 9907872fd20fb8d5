"""The most that things side by side can be worth on a line, each kind taken so often and no more: exact."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np


class Filled(NamedTuple):
    """What the best line is worth, and how many of each entry lie on it."""

    worth: int
    numbers: tuple[tuple[int, int], ...]


def most_worth(entries: Sequence[tuple[int, int, int]], room: int) -> Filled:
    """Fill a line of length `room` from (length, worth, how many there are).

    Numbers are split into powers of two, so that each part is in or out.
    """
    parts = []
    for index, (take, worth, many) in enumerate(entries):
        left, number = min(many, room // take) if worth > 0 else 0, 1
        while left:
            number = min(number, left)
            parts.append((index, number, number * take, number * worth))
            left -= number
            number *= 2
    best = np.zeros(room + 1, dtype=np.int64)
    taken = np.zeros((len(parts), room + 1), dtype=bool)
    for at, (_, _, take, worth) in enumerate(parts):
        tried = best[: room + 1 - take] + worth
        np.greater(tried, best[take:], out=taken[at, take:])
        np.maximum(best[take:], tried, out=best[take:])
    found: dict[int, int] = {}
    left = room
    for at in range(len(parts) - 1, -1, -1):
        if taken[at, left]:
            index, number, take, _ = parts[at]
            found[index] = found.get(index, 0) + number
            left -= take
    return Filled(int(best[-1]), tuple(sorted(found.items())))
