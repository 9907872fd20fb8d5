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
    allowance = finish.extra.value(values) if finish.extra is not None else BINDING_ALLOWANCE
    total = perimeter + allowance
    usable = pattern.fabrics[finish.fabric].usable_width if finish.fabric else pattern.settings.usable_width
    if any("bias" in w for w in finish.words):
        return _bias(finish, wide, perimeter, allowance, usable)
    straight = any("straight join" in w or w == "joined straight" for w in finish.words)
    join = pattern.settings.seam * 2 if straight else wide
    return Binding(finish.fabric, wide, perimeter, allowance, strips_joined(total, usable, join), usable)


def _bias(finish: Finishing, wide: Length, perimeter: Length, allowance: Length, usable: Length) -> Binding:
    """Bias binding from one square cut into a continuous strip: its area is the length times the width.

    The side is rounded up to whole inches; strips of a square of side a are a root 2 long at most, and each join
    takes up one strip's width, which the area already counts.
    """
    area = (perimeter + allowance) * wide
    side = Length(0)
    n = 1
    while Length(n * n) < area:
        n += 1
    side = Length(n)
    longest = side * SQRT2
    return Binding(finish.fabric, wide, perimeter, allowance, int((side * SQRT2 / wide).floor_to(Fraction(1))),
                   longest, True, side)


def backing(finish: Finishing, width: Length, height: Length, pattern: Pattern) -> Backing:
    """Backing for a quilt of this finished size: one width of cloth where that is enough, else the fewest panels,
    with the seams the way that takes less (or as the writer says)."""
    values = pattern.parameters
    over = OVERAGE
    usable = pattern.fabrics[finish.fabric].usable_width if finish.fabric else pattern.settings.usable_width
    if finish.extra is not None:
        if any(w.startswith("wide") for w in finish.words):
            usable = finish.extra.value(values)
        else:
            over = finish.extra.value(values)
    w, h = width + over * 2, height + over * 2
    choices = []
    for seams, across, along in (("vertical", w, h), ("horizontal", h, w)):
        n = strips_joined(across, usable, BACKING_SEAM * 2)
        choices.append(Backing(finish.fabric, w, h, over, n, along, "none" if n == 1 else seams, usable, BACKING_SEAM))
    wished = next((s for s in ("vertical", "horizontal") if any(s in x for x in finish.words)), "")
    if wished:
        return choices[0] if wished == "vertical" else choices[1]
    return min(choices, key=lambda b: (b.length * b.panels, b.panels))


def batting(finish: Finishing | None, width: Length, height: Length, pattern: Pattern) -> tuple[Length, Length]:
    """Size of the batting: the quilt and its overage on every side."""
    over = finish.extra.value(pattern.parameters) if finish and finish.extra is not None else BATTING_OVERAGE
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
