"""How the cloth is laid out, cut cut by cut: strips across into segments, segments into rows, rows into pieces."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from patternkit.lengths import Length
from patternkit.rehearsal.gaps import Gap
from patternkit.work.model import (
    CutByTemplate,
    CutDiagonally,
    CutPieces,
    Cutting,
    KeptRest,
    LaidRow,
    LaidSegment,
    LaidStrip,
    Order,
)

ZERO = Length(0)


def layout_gaps(order: Order) -> list[Gap]:
    """Segments that are longer than the cloth is wide, rows higher than their strip, pieces larger than their row; more
    strips than a kept leftover gives, leftovers larger than what is there; and pieces that do not come out of the
    strips as often as they are cut."""
    gaps: list[Gap] = []
    given: dict[Cutting, int] = {}
    for fabric, cloth in order.layout.items():
        rests = {strip.keeps.label: strip.keeps for strip in cloth.strips if strip.keeps is not None}
        gaps += _rests(cloth.strips, rests, order.usable.get(fabric))
        for strip in cloth.strips:
            across = sum((segment.width for segment in strip.segments), start=ZERO)
            whole = rests[strip.source].width if strip.source in rests else order.usable.get(fabric)
            wide = _room(strip, whole, order.squaring.get(fabric, ZERO))
            if strip.kind == "cut" and wide is not None and across > wide:
                gaps.append(Gap("segments", stated=across, out=wide))
            for segment in strip.segments if strip.kind == "cut" else ():
                gaps += _segment(segment, strip.height)
            for piece in strip.pieces:
                one = _alike(order.cutting[piece.cutting])
                each = max(1, one.each) if isinstance(one, CutByTemplate) else 1
                given[one] = given.get(one, 0) + piece.number * strip.count * each
    wanted: dict[Cutting, int] = {}
    for cutting in order.cutting:
        if isinstance(cutting, (CutPieces, CutDiagonally)) or (isinstance(cutting, CutByTemplate) and cutting.each):
            cloths = order.layout.get(cutting.piece.fabric)
            if cloths is not None and not cloths.sheets:
                one = _alike(cutting)
                wanted[one] = wanted.get(one, 0) + cutting.count
    for one, n in wanted.items():
        if given.get(one, 0) != n and isinstance(one, (CutPieces, CutDiagonally, CutByTemplate)):
            gaps.append(Gap("laid", item=one.piece, stated=n, out=given.get(one, 0)))
    return gaps


def _rests(strips: Sequence[LaidStrip], rests: Mapping[str, KeptRest], usable: Length | None) -> Iterator[Gap]:
    """Leftovers that are not there: larger than what the pieces beside them leave, or cut up further than they
    reach."""
    for strip in strips:
        if strip.keeps is not None and usable is not None:
            across = sum((segment.width for segment in strip.segments), start=ZERO)
            if across + strip.keeps.width > usable or strip.keeps.height > strip.height:
                yield Gap("leftover", stated=strip.keeps.width, out=usable - across)
        if strip.source and strip.source not in rests:
            yield Gap("leftover", stated=strip.height)
    for label, rest in rests.items():
        taken = sum((strip.height * strip.count for strip in strips if strip.source == label), start=ZERO)
        if taken > rest.height:
            yield Gap("leftover", stated=taken, out=rest.height)


def _room(strip: LaidStrip, wide: Length | None, squaring: Length) -> Length | None:
    """How wide segments may be: what squaring up leaves of the cloth, and all of it where each row is one piece."""
    rows = [row for segment in strip.segments for row in segment.rows]
    if wide is None or (len(strip.segments) == 1 and all(sum(p.number for p in row.pieces) == 1 for row in rows)):
        return wide
    return wide - squaring


def _alike(cutting: Cutting) -> Cutting:
    """What stands for a cutting among those that a cutter cannot tell apart."""
    counted = isinstance(cutting, (CutPieces, CutDiagonally, CutByTemplate))
    return msgspec.structs.replace(cutting, count=0) if counted else cutting


def _segment(segment: LaidSegment, height: Length) -> Iterator[Gap]:
    """A segment cut from a strip of this height into its rows, from the top."""
    high = sum((row.height * row.count for row in segment.rows), start=ZERO)
    if high > height:
        yield Gap("rows", stated=high, out=height)
    for row in segment.rows:
        yield from _row(row, segment.width)


def _row(row: LaidRow, wide: Length) -> Iterator[Gap]:
    """A row cut into its pieces, each then trimmed where that is said."""
    across = sum((piece.lies[0] * piece.number for piece in row.pieces), start=ZERO)
    if across > wide:
        yield Gap("segments", stated=across, out=wide)
    for piece in row.pieces:
        if piece.lies[1] > row.height:
            yield Gap("rows", stated=piece.lies[1], out=row.height)
        if piece.lies[1] < row.height and piece.trimmed is None:
            yield Gap("untrimmed piece", stated=piece.lies[1], out=row.height)
