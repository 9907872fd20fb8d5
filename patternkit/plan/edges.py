"""What is sewn to the edges of a quilt and is no binding: a facing, flanges, piping, prairie points, the back of a
cushion."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Literal

import msgspec

from patternkit.lengths import ZERO, Length
from patternkit.model.pattern import Finishing, Pattern
from patternkit.piecing.keys import OwnKey
from patternkit.piecing.making import Making, PieceCut
from patternkit.piecing.names import CENTRE, Name, with_border
from patternkit.plan.counts import Count
from patternkit.plan.model import EdgeCut, Edging
from patternkit.units import INCHES_IN

ROUND = Fraction(22, 7)
"""More than a circle is long for its width, and by no more than 1 in 2000: a strip is never too narrow for its cord,
nor a binding too short for rounded corners."""


class Custom(msgspec.Struct, frozen=True):
    """What is done where the writer does not say: lengths in inches, common practice, no source."""

    facing: Length  # raw width of a facing, which is folded in half along its length
    turn: Length  # turned in at either end of its top and bottom strips
    flange: Length  # what shows of a flange
    cord: Length  # how thick the cord of a piping is
    point: Length  # the square of a prairie point
    overlap: Length  # of the two halves of a cushion's back
    hem: Length  # taken by the hem of each, turned twice


IMPERIAL = Custom(*(Length(Fraction(x)) for x in ("5/2", "1/2", "1/4", "1/8", "4", "4", "1")))
METRIC = Custom(*(Length(Fraction(x) * INCHES_IN["cm"]) for x in ("6.5", "1", "0.6", "0.3", "10", "10", "2")))


def edgings(pattern: Pattern, top: Making, counts: Sequence[Count]) -> Iterator[Edging]:
    """What is sewn to the edges, in the order of the lines; what names no fabric is left out (a problem says so)."""
    custom = METRIC if pattern.settings.units.decimals else IMPERIAL
    for finish in pattern.quilt.finishing if pattern.quilt is not None else ():
        make = _MAKERS.get(finish.word)
        if finish.word == "backing" and "envelope" in finish.words:
            make = _cushion_back
        if make is not None and finish.fabric:
            inside = top if finish.word not in ("flange", "piping") else inside_border(finish.after, top, counts)
            yield make(finish, inside, pattern, custom)


def edge_cuts(edges: Sequence[Edging]) -> Iterator[tuple[PieceCut, int]]:
    """The pieces of all of them, each with how many."""
    for edge in edges:
        for one in edge.pieces:
            size = (one.width, one.height)
            yield PieceCut(edge.fabric, *size, *size, 1, name=one.name, stated=edge.stated), one.count


def inside_border(borders: int, top: Making, counts: Sequence[Count]) -> Making:
    """The quilt with so many borders on."""
    if borders:
        found = [c.making for c in counts if c.making.key == OwnKey(with_border(Name("border", (borders,))))]
        found += [c.making for c in counts if c.making.key == OwnKey(with_border(Name("ring", (borders,))))]
    else:
        found = [c.making for c in counts if c.making.key == OwnKey(CENTRE)]
    return found[0] if found else top


def _wide(finish: Finishing, pattern: Pattern) -> Length | None:
    return finish.width.value(pattern.parameters) if finish.width is not None else None


def _folded(finish: Finishing, usual_raw: Length, usual: Length, pattern: Pattern) -> tuple[Length, Length]:
    """Raw width of a strip that is folded in half along its length, and what shows of it beyond the seam."""
    wide, seam = _wide(finish, pattern), pattern.settings.seam
    if wide is None:
        wide = usual_raw or (usual + seam) * 2
    elif not finish.cut:
        wide = (wide + seam) * 2
    raw = wide if finish.cut else Length(wide.ceil_to(pattern.settings.ruler))
    return raw, raw / 2 - seam


def _facing(finish: Finishing, top: Making, pattern: Pattern, custom: Custom) -> Edging:
    """Two strips as long as the sides measure, then two for top and bottom, whose ends are turned in beside them."""
    raw, shows = _folded(finish, custom.facing, ZERO, pattern)
    sides = _lined(top.height + pattern.settings.seam * 2, pattern)
    ends = _lined(top.width + custom.turn * 2, pattern)
    pieces = _strips("facing", raw, (sides, ends))
    return Edging("facing", finish.fabric, pieces, raw, shows, custom.turn, finish.span)


def _flange(finish: Finishing, inside: Making, pattern: Pattern, custom: Custom) -> Edging:
    """Two strips as long as the sides measure, two as long as top and bottom do; they lie over each other at the
    corners."""
    raw, shows = _folded(finish, ZERO, custom.flange, pattern)
    seams = pattern.settings.seam * 2
    long = (_lined(inside.height + seams, pattern), _lined(inside.width + seams, pattern))
    pieces = _strips("flange", raw, long)
    return Edging("flange", finish.fabric, pieces, raw, shows, stated=finish.span, after=finish.after)


def _piping(finish: Finishing, inside: Making, pattern: Pattern, custom: Custom) -> Edging:
    """Strips as long as those of a flange, each round a cord: a strip that goes round a cord of the thickness d has
    `ROUND` d, and a seam on either side."""
    wide, seams = _wide(finish, pattern), pattern.settings.seam * 2
    if finish.cut and wide is not None:
        raw, cord = wide, (wide - seams) / ROUND
    else:
        cord = custom.cord if wide is None else wide
        raw = _lined(cord * ROUND + seams, pattern)
    long = (_lined(inside.height + seams, pattern), _lined(inside.width + seams, pattern))
    pieces = _strips("piping", raw, long)
    return Edging("piping", finish.fabric, pieces, raw, cord, stated=finish.span, after=finish.after)


def _strips(
    what: Literal["facing", "flange", "piping"], raw: Length, long: tuple[Length, Length]
) -> tuple[EdgeCut, ...]:
    sides = EdgeCut(long[0], raw, 2, Name(what, side="sides"))
    return sides, EdgeCut(long[1], raw, 2, Name(what, side="top and bottom"))


def _points(finish: Finishing, top: Making, pattern: Pattern, custom: Custom) -> Edging:
    """Squares folded in half and in half again, side by side along the edges: so many across, and so many down.

    A square S folded twice is a triangle S wide and S/2 high; a seam is taken off its foot.
    """
    seam = pattern.settings.seam
    side = _wide(finish, pattern)
    if side is None:
        side = custom.point
    elif not finish.cut:
        side = Length(((side + seam) * 2).ceil_to(pattern.settings.ruler))
    across, down = (_count(finish, word, pattern) for word in ("across", "down"))
    wide = side - seam * 2  # of a point, where the seam holds it
    across = across or max(1, int((top.width / wide).ceil_to(Fraction(1))))
    down = down or max(1, int((top.height / wide).ceil_to(Fraction(1))))
    pieces = (EdgeCut(side, side, 2 * (across + down), Name("prairie point")),)
    apart = (top.width / across, top.height / down)
    return Edging(
        "prairie points",
        finish.fabric,
        pieces,
        side,
        side / 2 - seam,
        ZERO,
        finish.span,
        0,
        ZERO,
        (across, down),
        apart,
    )


def _count(finish: Finishing, word: str, pattern: Pattern) -> int:
    if word not in finish.extras:
        return 0
    value = finish.extras[word].value(pattern.parameters) / pattern.settings.units.inches
    return int(value.fraction) if value.is_fraction and value.fraction.denominator == 1 else 0


def _cushion_back(finish: Finishing, top: Making, pattern: Pattern, custom: Custom) -> Edging:
    """Two pieces that lie over each other in the middle, each with a hem along its inner edge.

    Sewn W wide with an overlap O, each is (W + O) / 2, and a seam and its hem more.
    """
    overlap = finish.extras["overlap"].value(pattern.parameters) if "overlap" in finish.extras else custom.overlap
    seam = pattern.settings.seam
    wide = _lined((top.width + overlap) / 2 + seam + custom.hem, pattern)
    high = _lined(top.height + seam * 2, pattern)
    pieces = (EdgeCut(wide, high, 2, Name("cushion back")),)
    return Edging("cushion back", finish.fabric, pieces, wide, turn=custom.hem, stated=finish.span, overlap=overlap)


def _lined(length: Length, pattern: Pattern) -> Length:
    """A length, up to the next line of the ruler."""
    return Length(length.ceil_to(pattern.settings.ruler))


_MAKERS = {"facing": _facing, "flange": _flange, "piping": _piping, "prairie-points": _points}
