"""Bands that are trimmed along their steps."""

from __future__ import annotations

from patternkit.piecing.batch import TrimBand
from patternkit.rehearsal.bench import Bench
from patternkit.rehearsal.gaps import slip
from patternkit.rehearsal.plane import XY, along, area, centroid, middle, minus, moved, right_of, unit
from patternkit.rehearsal.table import OnTable, kept

BARE = 1e-4
"""Square inches of a band for which there may be no cloth."""


def trim_band(bench: Bench, action: TrimBand) -> None:
    """Trim a band to a rectangle along the line through the middles of its first and last part."""
    n = next((n for n, h in enumerate(bench.hands) if not h.waste and action.first in h.parts), None)
    if n is None:
        raise slip("missing", item=bench.item(action.first))
    hand = bench.hands[n]
    if len(hand.sheets) > 1:
        raise slip("fold")
    first, last = (_middle(bench, hand, part) for part in (action.first, action.last))
    way, at = unit(minus(last, first)), middle(first, last)
    wide, high = float(action.width), float(action.height)
    rest: OnTable | None = hand
    for out, far in ((way, wide / 2), (right_of(way), high / 2)):
        for inward in ((-out[0], -out[1]), out):
            line = along(at, inward, -far)
            bench.lines.append((n, line, along(line, right_of(inward), 1.0)))
            rest = kept(rest, line, inward) if rest is not None else None
    shows = sum(area(f.ring) for f in rest.facets) if rest is not None else 0.0
    if rest is None or shows < wide * high - BARE:
        raise slip("no cloth", high, shows / wide)
    bench.hands[n] = rest


def _middle(bench: Bench, hand: OnTable, part: int) -> XY:
    """Where the middle of a part lies, as it was cut."""
    bench.item(part)
    facet = next((f for f in hand.facets if f.part == part), None)
    if facet is None:
        raise slip("missing", item=bench.item(part))
    return moved(facet.place, centroid(bench.outline(part)))
