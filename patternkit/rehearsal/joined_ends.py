"""Strips joined end to end, sewn strip by strip: each long enough for what is cut from it, every end there by then."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from patternkit.lengths import Length
from patternkit.piecing.batch import Piece
from patternkit.piecing.joined import JoinedStrip
from patternkit.rehearsal.gaps import Gap
from patternkit.work.model import Bind, JoinEnds, Order, Panels, Sleeve

SPARE = 1e-6


def join_gaps(order: Order) -> list[Gap]:
    """What is wrong with all that is joined end to end: the borders' strips, the binding, the sleeve, a strip in the
    backing. What is kept of strips that are cut otherwise must be left of them, once."""
    gaps: list[Gap] = []
    rests = Counter[tuple[str, Length, Length]]()
    for strip, count, join, lengths, joins in joined(order):
        gaps += _long_enough(strip, count, join, lengths, joins or _all_in_one(count, lengths))
        for one in joins:
            if one.of is not None and one.left is not None:
                rests[strip.fabric, one.of, one.left] += one.count
    for (fabric, of, left), count in rests.items():
        there = _left(order, fabric, of, left) if fabric in order.layout else count  # no layout, nothing to look in
        if there < count:
            gaps.append(Gap("strips", item=Piece(fabric, "strip", left, of), stated=count, out=there))
    return gaps


Joined = tuple[Piece, int, float, Sequence[tuple[Length, int]], tuple[JoinedStrip, ...]]


def joined(order: Order) -> Iterator[Joined]:
    """Whatever is joined: the strip, how many, what a join takes, the lengths wanted with how many, and how."""
    for cutting in order.cutting:
        if isinstance(cutting, JoinEnds):
            join = float(cutting.strip.height) if cutting.slanted else 2 * float(order.seam)
            lengths = [(length, n) for length, n, _ in cutting.lengths] or [
                (max(p.width, p.height), n) for p, n in cutting.gives
            ]
            yield cutting.strip, cutting.count, join, lengths, cutting.joins
    for finish in order.finish:
        if isinstance(finish, Panels) and finish.between is not None:
            own = finish.between
            strip = Piece(own.fabric, "strip", order.usable[own.fabric], own.strip)
            yield strip, own.count, 2 * float(order.seam), [(own.length, 1)], own.joins
        if isinstance(finish, Sleeve) and finish.along:
            continue
        if isinstance(finish, (Bind, Sleeve)) and (finish.count or finish.joins):
            slanted = isinstance(finish, Bind) and not finish.straight
            join = float(finish.strip) if slanted else 2 * float(order.seam)
            strip = Piece(finish.fabric, "strip", order.usable.get(finish.fabric, Length(0)), finish.strip)
            if finish.fabric in order.usable:
                yield strip, finish.count, join, [(finish.length, 1)], finish.joins


def _all_in_one(count: int, lengths: Sequence[tuple[Length, int]]) -> tuple[JoinedStrip, ...]:
    return (JoinedStrip(1, count, cuts=tuple((i, n) for i, (_, n) in enumerate(lengths))),)


def _long_enough(
    strip: Piece, count: int, join: float, lengths: Sequence[tuple[Length, int]], joins: Sequence[JoinedStrip]
) -> list[Gap]:
    gaps: list[Gap] = []
    cut = [0] * len(lengths)
    kept = sorted(float(x) for s in joins for x, n in s.keeps for _ in range(n * s.count))
    wanted = sorted(float(x) for s in joins for x, n in s.ends for _ in range(n * s.count))
    if len(kept) < len(wanted) or any(a < b for a, b in zip(kept[::-1], wanted[::-1], strict=False)):
        gaps.append(Gap("strips", item=strip, stated=sum(wanted), out=sum(kept)))
    for one in joins:
        have = float(strip.width) * one.wholes + sum(float(x) * n for x, n in one.ends) - join * max(0, one.parts - 1)
        if one.of is not None and one.left is not None:
            have += float(one.left)
            gaps += [Gap("strips", item=strip, stated=strip.height, out=one.of)] if one.of < strip.height else []
        need = sum(float(lengths[i][0]) * n for i, n in one.cuts) + sum(float(x) * n for x, n in one.keeps)
        gaps += [Gap("strips", item=strip, stated=need, out=have)] if need > have + SPARE else []
        for i, n in one.cuts:
            cut[i] += n * one.count
    short = [(x, n, c) for (x, n), c in zip(lengths, cut, strict=True) if c < n]
    gaps += [Gap("strips", item=strip, stated=float(x) * n, out=float(x) * c) for x, n, c in short]
    whole = sum(one.wholes * one.count for one in joins)
    return gaps + ([Gap("strips", item=strip, stated=whole, out=count)] if whole > count else [])


def _left(order: Order, fabric: str, of: Length, left: Length) -> int:
    """At the ends of how many strips of a height so much is left."""
    wide, found = order.usable[fabric], 0
    for strip in order.layout[fabric].strips:
        taken = sum((segment.width for segment in strip.segments), Length(0))
        if strip.kind == "cut" and not strip.source and strip.height == of and wide - taken >= left:
            found += strip.count
    return found
