"""Pieces cut round the motifs of a print, wherever the first motif lies: how many a length of cloth has."""

from __future__ import annotations

from collections.abc import Iterator

from patternkit.rehearsal.gaps import Gap
from patternkit.work.model import CutPieces, Order

TRIED = 16
"""Places of the first motif that are tried in each direction, between two repeats."""
NEAR = 1e-9


def motif_gaps(order: Order) -> Iterator[Gap]:
    """Pieces that their length of cloth does not have, with the first motif at some place."""
    for cutting in order.cutting:
        if not isinstance(cutting, CutPieces) or cutting.motif is None:
            continue
        motif, usable = cutting.motif, order.usable.get(cutting.piece.fabric)
        if usable is None:
            continue
        sizes = zip((usable, motif.length), cutting.lies, motif.repeat, strict=True)
        across, down = (_fewest(*map(float, side)) for side in sizes)
        if across * down < cutting.count:
            yield Gap("count", item=cutting.piece, stated=cutting.count, out=across * down)


def _fewest(room: float, piece: float, repeat: float) -> int:
    """How many pieces in one direction are sure, none in another's way: laid one by one round every motif that is whole
    and free, for many places of the first one."""
    counts = []
    for n in range(TRIED + 1):
        at, edge, count = repeat * n / TRIED, 0.0, 0
        while at + piece <= room + NEAR:
            if at >= edge - NEAR:
                count, edge = count + 1, at + piece
            at += repeat
        counts.append(count)
    return min(counts)
