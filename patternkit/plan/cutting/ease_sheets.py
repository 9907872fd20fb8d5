"""Sheets cut with fewer cuts: what is left of a sheet for pieces of one size is cut into strips that run one way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from patternkit.plan.cutting.sheets import SheetBand
from patternkit.plan.cutting.task import CutKind, Size


def eased(
    size: Size, bands: Sequence[SheetBand], kinds: Sequence[CutKind], trim: bool, squaring: int
) -> list[SheetBand]:
    """The same pieces from a sheet of a width and a height: from the first strip on after which only one kind is cut,
    in as few strips as one direction allows, where these are fewer; and strips that give one piece each as one strip
    the other way. `squaring` is kept free in every strip with more than one piece, which `trim` lets be higher than its
    pieces."""
    width, height = size
    for at, band in enumerate(bands):
        rest = bands[at:]
        alone = {part[0] for one in rest for part in one.parts}
        if len(alone) == 1:
            kind = alone.pop()
            number = sum(part[3] for one in rest for part in one.parts)
            fewer = _one_way((width, height), kind, kinds[kind].sizes, number, squaring)
            if fewer is not None and len(fewer) < len(rest):
                return [*bands[:at], *fewer]
        crossed = _crossed((width, height), rest, trim, squaring)
        if crossed is not None:
            return [*bands[:at], crossed]
        width, height = (width, height - band.size) if band.across else (width - band.size, height)
    return list(bands)


def _one_way(room: Size, kind: int, sizes: Sequence[Size], number: int, squaring: int) -> list[SheetBand] | None:
    """So many pieces of one kind in strips that all run across or all run down, as few as do; None where neither has
    room."""
    found: list[list[SheetBand]] = []
    for across in (True, False):
        long, deep = room if across else (room[1], room[0])
        for w, h in sizes:
            step, size = (w, h) if across else (h, w)
            each = max((long - squaring) // step, 1 if step <= long else 0)
            if each and -(-number // each) * size <= deep:
                whole, last = divmod(number, each)
                counts = [each] * whole + ([last] if last else [])
                found.append([SheetBand(across, size, ((kind, w, h, n),)) for n in counts])
    return min(found, key=len, default=None)


def _crossed(room: Size, bands: Sequence[SheetBand], trim: bool, squaring: int) -> SheetBand | None:
    """One strip in the place of the last strips of a sheet, where each of these gives one piece; None where it has no
    room for them."""
    across = not bands[0].across
    parts = [part for band in bands for part in band.parts]
    one_each = all(band.across != across and len(band.parts) == 1 and band.parts[0][3] == 1 for band in bands)
    if len(bands) < 2 or not one_each:
        return None
    step, rise = (1, 2) if across else (2, 1)
    high = {part[rise] for part in parts}
    taken = sum(part[step] for part in parts)
    long, deep = room if across else (room[1], room[0])
    if taken + squaring > long or max(high) > deep or (len(high) > 1 and not trim):
        return None
    merged = Counter((kind, w, h) for kind, w, h, _ in parts)
    rows = sorted(merged.items(), key=lambda item: (-item[0][rise], -item[0][step], item[0][0]))
    return SheetBand(across, max(high), tuple((kind, w, h, n) for (kind, w, h), n in rows))
