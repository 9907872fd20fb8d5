"""Binding, backing, batting and sleeve from the finished size of the quilt. Every rounding is upward."""

from __future__ import annotations

from fractions import Fraction

from patternkit.lengths import SQRT2, Length
from patternkit.model.pattern import Finishing, Pattern
from patternkit.plan.model import Backing, Binding, LongStrip

# Ten to twenty-four inches beyond the perimeter are in print for corners and the closing join; 12 is used here.
BINDING_ALLOWANCE = Length(12)
BINDING_WIDTH = Length(Fraction(5, 2))  # double-fold, a usual width: common practice, no source
OVERAGE = Length(4)  # each side: the usual request of long-arm quilters, published on several pages
BATTING_OVERAGE = Length(3)  # each side; 6 in in all is in print
BACKING_SEAM = Length(Fraction(1, 2))  # pressed open; in print
SLEEVE_WIDTH = Length(9)  # cut, for a 4 in sleeve: common practice, no source
MOST_STRIPS = 10_000


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
    wide = finish.width.value(values) if finish.width is not None else BINDING_WIDTH
    if not finish.cut and finish.width is not None:
        wide = wide * 4 + pattern.settings.seam * 2  # a finished width: double-fold strips are four times as wide
    perimeter = (width + height) * 2
    allowance = finish.extras["allowance"].value(values) if "allowance" in finish.extras else BINDING_ALLOWANCE
    total = perimeter + allowance
    usable = pattern.fabrics[finish.fabric].usable_width if finish.fabric else pattern.settings.usable_width
    if "from a square" in finish.words:
        return _bias_square(finish, wide, perimeter, allowance)
    if "bias" in finish.words:
        return _bias_strips(finish, wide, perimeter, allowance, usable)
    join = pattern.settings.seam * 2 if "joined straight" in finish.words else wide
    return Binding(finish.fabric, wide, perimeter, allowance, strips_joined(total, usable, join), usable, join=join)


def _bias_square(finish: Finishing, wide: Length, perimeter: Length, allowance: Length) -> Binding:
    """Bias binding from one square sewn into a tube and cut as one continuous strip.

    The strip's length is the square's area divided by its width, so the side is the root of length times width, rounded
    up to whole inches (published: 250 in of 2 in strip need a side of 22.36, that is 23).
    """
    area = (perimeter + allowance) * wide
    side = Length(1)
    while side * side < area:
        side = side + 1
    return Binding(finish.fabric, wide, perimeter, allowance, 1, area / wide, True, side)


def _bias_strips(finish: Finishing, wide: Length, perimeter: Length, allowance: Length, usable: Length) -> Binding:
    """Bias binding from strips cut at 45 degrees across a length of cloth.

    From cloth U wide and a length h (h not above U), a strip between two lines at 45 degrees that are W root 2 apart along
    the selvedge runs from edge to edge over h root 2; from a piece U by h there are floor((U - h) / (W root 2)) whole ones,
    each giving h root 2 less one strip's width for the diagonal join (its ends lie on the straight grain, which is that
    join). The shortest h on whole inches that gives the length is taken.
    """
    total = perimeter + allowance
    pitch = wide * SQRT2
    h = Length(1)
    while h < usable:
        n = int(((usable - h) / pitch).floor_to(Fraction(1)))
        if n > 0 and (h * SQRT2) * n >= total:
            return Binding(finish.fabric, wide, perimeter, allowance, n, h * SQRT2, True, None, h)
        h = h + 1
    return _bias_square(finish, wide, perimeter, allowance)


def backing(finish: Finishing, width: Length, height: Length, pattern: Pattern) -> Backing:
    """Backing for a quilt of this finished size: one width of cloth where that is enough, else the fewest panels,
    with the seams the way that takes less (or as the writer says)."""
    values = pattern.parameters
    over = finish.extras["overage"].value(values) if "overage" in finish.extras else OVERAGE
    usable = pattern.fabrics[finish.fabric].usable_width if finish.fabric else pattern.settings.usable_width
    if "wide" in finish.extras:
        usable = finish.extras["wide"].value(values)
    w, h = width + over * 2, height + over * 2
    choices = []
    for seams, across, along in (("vertical", w, h), ("horizontal", h, w)):
        n = strips_joined(across, usable, BACKING_SEAM * 2)
        choices.append(Backing(finish.fabric, w, h, over, n, along, "none" if n == 1 else seams, usable, BACKING_SEAM))
    for n, wish in enumerate(("seams vertical", "seams horizontal")):
        if wish in finish.words:
            return choices[n]
    return min(choices, key=lambda b: (b.length * b.panels, b.panels))


def batting(finish: Finishing | None, width: Length, height: Length, pattern: Pattern) -> tuple[Length, Length]:
    """Size of the batting: the quilt and its overage on every side."""
    over = finish.extras["overage"].value(pattern.parameters) if finish and "overage" in finish.extras else BATTING_OVERAGE
    return width + over * 2, height + over * 2


def sleeve(finish: Finishing, width: Length, pattern: Pattern) -> LongStrip:
    """A hanging sleeve: a strip as long as the quilt is wide, cut twice its depth and an inch.

    A depth of 4 in is cut 9 in wide (common practice, no source).
    """
    depth = finish.width.value(pattern.parameters) if finish.width is not None else None
    cut = SLEEVE_WIDTH if depth is None else (depth if finish.cut else depth * 2 + 1)
    usable = pattern.fabrics[finish.fabric].usable_width if finish.fabric else pattern.settings.usable_width
    join = pattern.settings.seam * 2
    return LongStrip(finish.fabric, "hanging sleeve", cut, ((width, 1, "hanging sleeve"),),
                     strips_joined(width, usable, join), join, False)
