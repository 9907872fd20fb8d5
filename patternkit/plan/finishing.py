"""Binding and sleeve from the finished size of the quilt, backing and batting from what its top measures before it is
bound. Every rounding is upward."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

import msgspec

from patternkit.lengths import SQRT2, ZERO, Length
from patternkit.model.pattern import Finishing, Packet, Pattern
from patternkit.piecing.names import BACKING_STRIP, SLEEVE
from patternkit.plan.model import Backing, Binding, LongStrip, Use, Uses
from patternkit.units import INCHES_IN

if TYPE_CHECKING:
    from patternkit.piecing.making import Making
    from patternkit.plan.joining import Joining


class Usual(msgspec.Struct, frozen=True):
    """What is done where the writer does not say. Lengths in inches."""

    allowance: Length  # of binding beyond the perimeter, for corners and the closing join; 10 to 24 in are in print
    binding: Length  # raw width of double-fold binding: common practice, no source
    overage: (
        Length  # of backing on each side: 4 in is the usual request of long-arm quilters, published on several pages
    )
    batting: Length  # of batting on each side: 6 in in all is in print
    backing_seam: Length  # half an inch, pressed open, is in print
    sleeve: Length  # raw depth of a hanging sleeve: common practice, no source
    hem: Length  # what a sleeve takes besides twice its depth: common practice, no source
    clear: Length  # between a seam that joins strips and the end of a border: common practice, no source
    room: Length  # in strips joined for pieces that are cut to measure: common practice, no source


IMPERIAL = Usual(*(Length(Fraction(x)) for x in ("12", "5/2", "4", "3", "1/2", "9", "1", "4", "1")))
METRIC = Usual(*(Length(Fraction(x) * INCHES_IN["cm"]) for x in ("30", "6.5", "10", "8", "1", "22", "2", "10", "2")))
"""The same in round centimetres: common practice, no source."""


NARROWEST = Length(1)
"""Inches of a strip in a backing that show at least (chosen here, no source)."""


def measure(top: Making, pattern: Pattern) -> tuple[Length, Length]:
    """What a top measures before it is bound: its finished size and a seam allowance on every side."""
    seams = pattern.settings.seam * 2
    return top.width + seams, top.height + seams


def usual(pattern: Pattern) -> Usual:
    """The customs of the pattern's own units."""
    return METRIC if pattern.settings.units.decimals else IMPERIAL


def corner_radius(pattern: Pattern) -> Length:
    """The radius of the finished corners of the quilt; 0 where they are square."""
    edge = next((f for f in pattern.quilt.finishing if f.word == "edge"), None) if pattern.quilt is not None else None
    return edge.extras["rounded"].value(pattern.parameters) if edge is not None and "rounded" in edge.extras else ZERO


def perimeter_of(width: Length, height: Length, radius: Length, pattern: Pattern) -> Length:
    """How long the edge of a quilt is. Four corners rounded by R take 8 R off its sides and give a circle, 2 pi R; that
    is taken a little too long, and up to the next line of the ruler."""
    square = (width + height) * 2
    if radius <= ZERO:
        return square
    from patternkit.plan.edges import ROUND  # only rounded corners need it

    return Length((square - radius * 8 + radius * ROUND * 2).ceil_to(pattern.settings.ruler))


def strips_joined(total: Length, usable: Length, join: Length) -> int:
    """Fewest strips with ``n * usable - (n - 1) * join >= total``; 0 when a join takes up a whole strip."""
    if usable <= join:
        return 0
    n = (total - join) / (usable - join)
    return max(1, int(n.ceil_to(Fraction(1))))


def binding(finish: Finishing, width: Length, height: Length, pattern: Pattern) -> Binding | None:
    """Binding for a quilt of this finished size: double-fold strips joined on the diagonal, unless it says otherwise.

    A diagonal join of strips W wide takes up W of the length, so n strips give n U - (n - 1) W.
    """
    values = pattern.parameters
    wide = finish.width.value(values) if finish.width is not None else usual(pattern).binding
    if not finish.cut and finish.width is not None:
        wide = wide * 4 + pattern.settings.seam * 2  # a finished width: double-fold strips are four times as wide
    if not finish.cut:
        wide = Length(wide.ceil_to(pattern.settings.ruler))
    perimeter = perimeter_of(width, height, corner_radius(pattern), pattern)
    allowance = finish.extras["allowance"].value(values) if "allowance" in finish.extras else usual(pattern).allowance
    total = perimeter + allowance
    usable = pattern.fabrics[finish.fabric].usable_width if finish.fabric else pattern.settings.usable_width
    if "bias" in finish.words or "from a square" in finish.words:
        return _bias(finish, wide, perimeter, allowance, usable, pattern)
    straight = "joined straight" in finish.words
    join = pattern.settings.seam * 2 if straight else wide
    n = strips_joined(total, usable, join)
    gives = usable * n - join * (n - 1) if n else ZERO
    return Binding(finish.fabric, wide, perimeter, allowance, n, usable, join=join, gives=gives, straight=straight)


def _bias(
    finish: Finishing, wide: Length, perimeter: Length, allowance: Length, usable: Length, pattern: Pattern
) -> Binding:
    """Bias binding: strips across the shortest length of cloth that gives enough; one square where that is wanted, or
    where no length shorter than the cloth is wide does; strips from selvedge to selvedge where the cloth has no such
    square."""
    from patternkit.plan.bias import least_slanted, least_tube, long_slanted

    total, seam, grid = perimeter + allowance, pattern.settings.seam, pattern.settings.ruler
    square = "from a square" in finish.words
    strips = None if square else least_slanted(total, usable, wide, seam, grid)
    one = least_tube(total, wide, seam, grid)
    if strips is None and not square and one.side > usable:
        strips = long_slanted(total, usable, wide, seam, grid)
    if strips is not None:
        return Binding(
            finish.fabric,
            wide,
            perimeter,
            allowance,
            strips.strips,
            strips.each,
            bias=True,
            length=strips.length,
            join=SQRT2 * seam * 2,
            gives=strips.gives,
        )
    return Binding(
        finish.fabric,
        wide,
        perimeter,
        allowance,
        1,
        one.gives,
        bias=True,
        square=one.side,
        gives=one.gives,
        rounds=one.rounds,
    )


def backing(finish: Finishing, width: Length, height: Length, pattern: Pattern) -> Backing:
    """Backing for a top that measures so much: one width of cloth where that is enough, else the fewest panels, with
    the seams the way that takes less (or as the writer says, or upright for a print with an up and a down)."""
    return backing_ways(finish, width, height, pattern)[0]


def backing_ways(finish: Finishing, width: Length, height: Length, pattern: Pattern) -> list[Backing]:
    """The ways in which the seams of a backing may run, that which takes less first.

    It is bought by length: of a fabric that otherwise comes in sheets, at the usable width that holds for the pattern.
    """
    values = pattern.parameters
    over = finish.extras["overage"].value(values) if "overage" in finish.extras else usual(pattern).overage
    fabric = pattern.fabrics[finish.fabric] if finish.fabric else None
    usable = pattern.settings.usable_width if fabric is None else fabric.usable_width
    if fabric is not None and fabric.stock is not None and usable == fabric.stock.width:
        usable = pattern.settings.usable_width
    if "wide" in finish.extras:
        usable = finish.extras["wide"].value(values)
    w, h = _larger(width, over, pattern), _larger(height, over, pattern)
    choices, seam = [], usual(pattern).backing_seam
    for seams, across, along in (("vertical", w, h), ("horizontal", h, w)):
        n = strips_joined(across, usable, seam * 2)
        whole = Backing(finish.fabric, w, h, over, n, along, "none" if n == 1 else seams, usable, seam)
        choices.append(_with_strip(whole, finish.strip, across, pattern))
    for n, wish in enumerate(("seams vertical", "seams horizontal")):
        if wish in finish.words:
            return [choices[n]]
    if fabric is not None and fabric.directional:
        return choices[:1]  # turned, its print would lie on its side
    enough = [b for b in choices if b.panels == 1 and b.strip is None]
    return sorted((finish.strip and enough) or choices, key=_takes)


def _takes(back: Backing) -> tuple[Length, int]:
    """What a backing takes of both cloths, and in how many parts it lies."""
    beside = back.strip.height * back.strip.strips if back.strip is not None else ZERO
    return back.length * back.panels + beside, back.parts


def _with_strip(back: Backing, fabric: str, across: Length, pattern: Pattern) -> Backing:
    """A backing with a panel fewer and a strip of another cloth in its place, as wide as is missing; as it is where no
    strip is wanted, or one width is enough.

    Side by side lie the panels and the strip; one panel is halved, so that the strip lies between its halves. Every
    seam takes two allowances. The strip is cut across its own cloth and joined to the length of the panels.
    """
    n = back.panels - 1
    if not fabric or n < 1:
        return back
    seams = max(n, 2)
    wide = max(across - back.usable * n + back.seam * 2 * seams, back.seam * 2 + NARROWEST)
    usable, join = pattern.fabrics[fabric].usable_width, pattern.settings.seam * 2
    strip = LongStrip(
        fabric,
        (BACKING_STRIP,),
        Length(wide.ceil_to(pattern.settings.ruler)),
        ((back.length, 1, BACKING_STRIP),),
        strips_joined(back.length, usable, join),
        join,
        False,
    )
    return msgspec.structs.replace(back, panels=n, strip=strip)


def _larger(side: Length, over: Length, pattern: Pattern) -> Length:
    """A side with its overage, rounded up to the ruler: a diagonal is never a cut size."""
    return Length((side + over * 2).ceil_to(pattern.settings.ruler))


def batting(
    finish: Finishing | None, width: Length, height: Length, pattern: Pattern, behind: Backing | None = None
) -> tuple[Length, Length]:
    """Size of the batting: the top as it measures and its overage on every side. Where that is not said it is the usual
    one, but never more than that of the backing `behind` it."""
    over = usual(pattern).batting if behind is None else min(usual(pattern).batting, behind.overage)
    if finish is not None and "overage" in finish.extras:
        over = finish.extras["overage"].value(pattern.parameters)
    return _larger(width, over, pattern), _larger(height, over, pattern)


def packet(size: tuple[Length, Length], pattern: Pattern) -> Packet | None:
    """The smallest batting of those that are sold from which a piece of this size is cut, whichever way it lies; None
    where none is large enough, or none is known."""
    short, long = sorted(size)
    fits = [p for p in pattern.settings.packets if min(p.width, p.height) >= short and max(p.width, p.height) >= long]
    return min(fits, key=lambda p: p.width * p.height, default=None)


def sleeve(finish: Finishing, width: Length, pattern: Pattern) -> LongStrip:
    """A hanging sleeve: a strip as long as the quilt is wide, cut twice its depth and an inch.

    A depth of 4 in is cut 9 in wide (common practice, no source).
    """
    depth = finish.width.value(pattern.parameters) if finish.width is not None else None
    cut = usual(pattern).sleeve if depth is None else (depth if finish.cut else depth * 2 + usual(pattern).hem)
    if not finish.cut:
        cut = Length(cut.ceil_to(pattern.settings.ruler))
    usable = pattern.fabrics[finish.fabric].usable_width if finish.fabric else pattern.settings.usable_width
    return long_strip(finish.fabric, (SLEEVE,), cut, ((width, 1, SLEEVE),), usable, pattern)


def long_strip(
    fabric: str,
    use: Uses,
    height: Length,
    lengths: tuple[tuple[Length, int, Use], ...],
    usable: Length,
    pattern: Pattern,
) -> LongStrip:
    """Strips across cloth `usable` wide that are joined end to end by straight seams, and what is cut from them."""
    from patternkit.plan.joining import joined_strips, whole_strips

    join = pattern.settings.seam * 2
    most = strips_joined(sum((length * n for length, n, _ in lengths), ZERO), usable, join)
    joins = joined_strips([(length, n) for length, n, _ in lengths], joining(usable, join, pattern), most)
    return LongStrip(fabric, use, height, lengths, whole_strips(joins), join, False, joins)


def joining(usable: Length, join: Length, pattern: Pattern) -> Joining:
    """How strips of this length are joined for pieces that a quilt's sides are measured for."""
    from patternkit.plan.joining import Joining

    return Joining(usable, join, usual(pattern).clear, usual(pattern).room)
