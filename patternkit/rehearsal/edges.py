"""What is sewn to the edges of a quilt, held against the quilt: long enough, wide enough, near enough."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import pi

from patternkit.lengths import Length
from patternkit.piecing.keys import OwnKey, Thing
from patternkit.piecing.making import Making, Part
from patternkit.piecing.names import Name, with_border
from patternkit.rehearsal.gaps import Gap
from patternkit.work.model import Bind, EdgeFinish, Order, RoundedCorners

BASTED = ("flange", "piping")
"""What is basted to the edge of what is sewn by then, before the next line outward."""


def edge_gaps(order: Order, designs: Mapping[Thing, Making]) -> Iterator[Gap]:
    """Facings, flanges and pipings that are shorter than their edge, points between which gaps are left, halves of a
    back that do not lie over each other as far as is told."""
    for edge in order.finish:
        if isinstance(edge, EdgeFinish) and order.top is not None and order.top in designs:
            top = designs[order.top]
            yield from _one(edge, _inside(edge, designs) or (top.width, top.height), order)
        elif isinstance(edge, RoundedCorners) and order.top is not None and order.top in designs:
            yield from _rounded(edge, designs[order.top], order)


def _rounded(edge: RoundedCorners, top: Making, order: Order) -> Iterator[Gap]:
    """Corners of which a seam does not leave the radius that is told, arcs that have no room beside each other, and a
    binding that does not bend or does not go round."""
    if edge.raw - order.seam != edge.radius:
        yield Gap("edge", stated=edge.radius, out=edge.raw - order.seam)
    short = min(top.width, top.height) + order.seam * 2
    if edge.raw * 2 > short:
        yield Gap("edge", stated=edge.raw * 2, out=short)
    need = 2 * (float(top.width) + float(top.height)) - (8 - 2 * pi) * float(edge.radius)
    for bind in order.finish:
        if isinstance(bind, Bind) and float(bind.perimeter) < need - 1e-9:
            yield Gap("edge", stated=need, out=bind.perimeter)
        if isinstance(bind, Bind) and bind.count:
            yield Gap("edge", stated=0, out=bind.count)


def _inside(edge: EdgeFinish, designs: Mapping[Thing, Making]) -> tuple[Length, Length] | None:
    """The finished size of what a flange is sewn to, which lies inside the border that comes next; None for the whole
    top."""
    if edge.what not in BASTED:
        return None
    keys = [OwnKey(with_border(Name(what, (edge.after + 1,)))) for what in ("border", "ring")]
    outer = next((making for thing, making in designs.items() if thing.key in keys), None)
    if outer is None:
        return None
    return max((_size(part.what) for part in outer.parts), key=lambda size: float(size[0]) * float(size[1]))


def _size(what: Part) -> tuple[Length, Length]:
    if isinstance(what, Making):
        return what.width, what.height
    xs, ys = zip(*what.outline, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def _one(edge: EdgeFinish, inside: tuple[Length, Length], order: Order) -> Iterator[Gap]:
    seam = order.seam * 2
    raw = (inside[0] + seam, inside[1] + seam)
    if edge.what in ("facing", *BASTED):
        (sides, _), (ends, _) = edge.pieces
        yield from _long(sides.width, sides.height, edge.strip, raw[1])
        wide = raw[0] if edge.what in BASTED else inside[0] + edge.turn * 2
        yield from _long(ends.width, ends.height, edge.strip, wide)
        if edge.what == "piping" and pi * float(edge.shows) + float(seam) > float(edge.strip) + 1e-9:
            yield Gap("edge", stated=edge.shows, out=(float(edge.strip) - float(seam)) / pi)
        elif edge.what != "piping" and edge.shows * 2 + seam > edge.strip:
            yield Gap("edge", stated=edge.shows, out=(edge.strip - seam) / 2)
    elif edge.what == "prairie points":
        ((square, count),) = edge.pieces
        if count != 2 * sum(edge.along):
            yield Gap("edge", item=square, stated=count, out=2 * sum(edge.along))
        for n, apart, side in zip(edge.along, edge.apart, inside, strict=True):
            if apart * n != side:
                yield Gap("edge", stated=apart * n, out=side)
        if edge.shows > edge.strip / 2 - order.seam:
            yield Gap("edge", stated=edge.shows, out=edge.strip / 2 - order.seam)
    else:
        ((half, _),) = edge.pieces
        wide, high = (half.width, half.height) if half.width == edge.strip else (half.height, half.width)
        reach = (wide - edge.turn) * 2 - edge.overlap
        if reach < raw[0]:
            yield Gap("edge", item=half, stated=raw[0], out=reach)
        if high < raw[1]:
            yield Gap("edge", item=half, stated=raw[1], out=high)


def _long(width: Length, height: Length, strip: Length, need: Length) -> Iterator[Gap]:
    """A strip must be as long as what it is sewn to."""
    have = height if width == strip else width
    if have < need:
        yield Gap("edge", stated=need, out=have)
