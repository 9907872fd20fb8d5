"""Filling one sheet of cloth: strip after strip off what remains, across it or along it, each cross-cut."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from patternkit.plan.cutting.task import CutKind, Part, Size

Taste = tuple[bool, bool]
"""Whether the next strip must hold the largest piece that still fits, and whether it follows a long side."""
TASTES: tuple[Taste, ...] = ((True, False), (False, False), (True, True), (False, True))


_Rank: TypeAlias = tuple[Fraction, bool, int, bool]


class SheetBand(NamedTuple):
    """A strip of one size cut off what remains of a sheet, and its parts as they lie on the cloth."""

    across: bool
    size: int
    parts: tuple[Part, ...]


def fill_sheet(
    size: Size,
    kinds: Sequence[CutKind],
    left: list[int],
    trim: bool,
    taste: Taste,
    worth: Sequence[int] | None = None,
    squaring: int = 0,
) -> list[SheetBand]:
    """Cut strips off a sheet as long as something that is still wanted fits; `left` is counted down.

    `size` is width and height of the sheet. Every strip is the one that uses most of itself, where the cloth in a piece
    of each kind counts as much as `worth` says (alike if it is not given). `squaring` is kept free in every strip with
    more than one piece.
    """
    worth = worth or [1] * len(kinds)
    width, height = size
    bands: list[SheetBand] = []
    while True:
        choices = _bands(width, height, kinds, left, trim, taste, worth, squaring)
        if not choices:
            return bands
        band = max(choices)[1]
        bands.append(band)
        for kind, _, _, number in band.parts:
            left[kind] -= number
        if band.across:
            height -= band.size
        else:
            width -= band.size


def _bands(
    width: int,
    height: int,
    kinds: Sequence[CutKind],
    left: Sequence[int],
    trim: bool,
    taste: Taste,
    worth: Sequence[int],
    squaring: int,
) -> list[tuple[_Rank, SheetBand]]:
    """Give one strip for each size and direction, with its rank."""
    lead = None
    fits = [
        (max(w, h) * min(w, h), i)
        for i, kind in enumerate(kinds)
        for w, h in kind.sizes
        if left[i] and w <= width and h <= height
    ]
    if not fits:
        return []
    if taste[0]:
        lead = max(fits)[1]
    found: list[tuple[_Rank, SheetBand]] = []
    for across in (True, False):
        room, deep = (width, height) if across else (height, width)
        turned = [[s if across else (s[1], s[0]) for s in kind.sizes] for kind in kinds]
        for size in sorted({s[1] for i, ss in enumerate(turned) if left[i] for s in ss if s[1] <= deep}):
            if lead is not None and not any(s[1] == size and s[0] <= room for s in turned[lead]):
                continue
            parts = _best_row(room, size, turned, left, trim, lead, worth, squaring)
            if parts:
                used = sum(w * h * n * worth[k] for k, w, h, n in parts)
                whole = (
                    across,
                    size,
                    tuple((k, w, h, n) if across else (k, h, w, n) for k, w, h, n in parts),
                )
                long_side = room >= deep
                rank = (Fraction(used, size * room), taste[1] == long_side, used, across)
                found.append((rank, SheetBand(*whole)))
    return found


def _best_row(
    room: int,
    size: int,
    turned: Sequence[Sequence[Size]],
    left: Sequence[int],
    trim: bool,
    lead: int | None,
    worth: Sequence[int],
    squaring: int,
) -> list[Part]:
    """Give the parts that use most of a strip, of which at least one has its full size."""
    rows = [
        (i, w, h)
        for i, sizes in enumerate(turned)
        for w, h in sizes
        if left[i] and w <= room and (h == size or (trim and h < size))
    ]
    best: list[Part] = []
    most = 0
    for first, across, deep in rows:
        if deep != size or (lead is not None and first != lead):
            continue
        parts = [(first, across, deep, 1)]
        parts += _row(max(0, room - squaring - across), rows, [n - (i == first) for i, n in enumerate(left)], worth)
        used = sum(w * h * n * worth[k] for k, w, h, n in parts)
        if used > most:
            best, most = parts, used
    merged: dict[tuple[int, int, int], int] = {}
    for kind, w, h, number in best:
        merged[kind, w, h] = merged.get((kind, w, h), 0) + number
    out = [(kind, w, h, number) for (kind, w, h), number in merged.items()]
    return sorted(out, key=lambda p: (-p[2], -p[1], p[0]))


def _row(room: int, rows: Sequence[tuple[int, int, int]], left: Sequence[int], worth: Sequence[int]) -> list[Part]:
    """Fill a length with the most cloth: a knapsack over the widths that sums can reach.

    A piece that may lie either way is taken in one way only, so that it is never counted twice.
    """
    states: dict[int, tuple[int, tuple[Part, ...]]] = {0: (0, ())}
    for kind in sorted({row[0] for row in rows}):
        fresh = dict(states)
        for _, w, h in (row for row in rows if row[0] == kind):
            for at, (value, parts) in states.items():
                for number in range(1, min(left[kind], (room - at) // w) + 1):
                    key, total = at + w * number, value + w * h * number * worth[kind]
                    if key not in fresh or total > fresh[key][0]:
                        fresh[key] = (total, (*parts, (kind, w, h, number)))
        states = fresh
    return list(max(states.items(), key=lambda item: (item[1][0], -item[0]))[1][1])
