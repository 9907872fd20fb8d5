"""Bias binding: how long a strip comes from a square sewn into a tube, and from a length cut at 45 degrees.

All sizes are raw, in inches; `wide` is the raw width of the strip, `seam` the allowance. Both constructions end on the
straight grain, 45 degrees to the strip, so that a strip with square ends is shorter than one of its long edges by its
width.
"""

from __future__ import annotations

from bisect import bisect_left
from fractions import Fraction

import msgspec

from patternkit.lengths import SQRT2, Length


class Tube(msgspec.Struct, frozen=True):
    """A square of this `side` sewn into a tube and cut into one strip: how many `rounds` of whole width it has, and the
    length of strip that it `gives`."""

    side: Length
    rounds: int
    gives: Length


class Slanted(msgspec.Struct, frozen=True):
    """Bias strips from the whole width of a `length` of cloth: how many `strips`, how long the edge of `each` is, and
    the length of strip that they give, joined. They run from cut edge to cut edge; from selvedge to selvedge where the
    length is more than the width."""

    length: Length
    strips: int
    each: Length
    gives: Length


def tube(side: Length, wide: Length, seam: Length) -> Tube:
    """What a square gives, however the tips lie in its first seam.

    The square S is cut corner to corner. Two legs of its triangles are sewn together, which makes a parallelogram with
    two bias edges. Where the tips lie level, these are (S - 2s) / root 2 apart; where they are moved past each other by
    a seam, so that the edges meet at the stitches, (S - s) / root 2. Of the distance only whole strips count: a last
    one that is narrower is cut off. Along the bias each strip crosses the parallelogram from one straight edge to the
    other: S root 2 with the tips level, (S - s) root 2 with the tips moved. The tube's seam joins the end of each strip
    to the beginning of the next, n - 1 times, and takes 2 s root 2 of the length each time. What is counted on is the
    smaller of both: the distance of level tips, the length of moved ones.
    """
    rounds = int(((side - seam * 2) / (wide * SQRT2)).floor_to(Fraction(1)))
    if rounds < 1:
        return Tube(side, 0, Length(0))
    gives = SQRT2 * ((side - seam) * rounds - seam * 2 * (rounds - 1)) - wide
    return Tube(side, rounds, max(gives, Length(0)))


def least_tube(total: Length, wide: Length, seam: Length, grid: Fraction) -> Tube:
    """The least square on a grid whose tube gives `total` of strip.

    The side of n rounds must be as large as n strips want it, and as the length wants it. The first grows with n and
    the second falls, so that the least of the larger of both lies beside the place where they cross.
    """

    def high(n: int) -> Length:
        return SQRT2 * wide * n + seam * 2

    def long(n: int) -> Length:
        return (total + wide) / (SQRT2 * n) + seam * 2 * (n - 1) / n + seam

    most = int((long(1) / wide).ceil_to(Fraction(1))) + 1  # there the strips want more than any length does
    n = bisect_left(range(1, most), True, key=lambda n: high(n) >= long(n)) + 1
    side = min(high(n), long(n - 1)) if n > 1 else high(n)
    return tube(Length(side.ceil_to(grid)), wide, seam)


def slanted(length: Length, usable: Length, wide: Length, seam: Length) -> Slanted:
    """What lines at 45 degrees across a length of cloth give.

    The lines stand W root 2 apart along the cut edge, and a strip reaches h along it from its foot to its head, so that
    floor((U - h) / (W root 2)) strips of cloth U wide run from edge to edge of a length h. The long edges of each are h
    root 2; a join along the slanted ends takes s root 2 of both strips. Of cloth longer than it is wide the same holds
    with both turned: its strips run from selvedge to selvedge.
    """
    short, long = (length, usable) if length < usable else (usable, length)
    n = max(0, int(((long - short) / (wide * SQRT2)).floor_to(Fraction(1))))
    each = short * SQRT2
    gives = each * n - SQRT2 * seam * 2 * (n - 1) - wide if n else Length(0)
    return Slanted(length, n, each, max(gives, Length(0)))


def least_slanted(total: Length, usable: Length, wide: Length, seam: Length, grid: Fraction) -> Slanted | None:
    """The least length on a grid whose slanted strips give `total`; None where no length of this width does.

    More strips want a shorter length, h = (total + W - 2s root 2) / (n root 2) + 2s, but n W root 2 of room along the
    edge: the largest number that has room is the answer. The least that h and room come to together, over all n, is
    found by the mean of both; where even that is more than the width, none has room.
    """
    row, join = wide * SQRT2, seam * 2
    rest = (total + wide) / SQRT2 - join
    if usable <= join or rest * row * 4 > (usable - join) * (usable - join):
        return None
    for n in range(int((usable / row).floor_to(Fraction(1))), 0, -1):
        found = slanted(Length(max(rest / n + join, Length(grid)).ceil_to(grid)), usable, wide, seam)
        if found.length < usable and found.strips >= n:
            return found
    return None


def long_slanted(total: Length, usable: Length, wide: Length, seam: Length, grid: Fraction) -> Slanted | None:
    """The least length on a grid, more than the width, whose strips from selvedge to selvedge give `total`; None for
    cloth narrower than its joins.

    n strips, each U root 2 long, give n (U - 2s) root 2 + 2s root 2 - W, and stand beside each other in U + n W root 2.
    """
    each = (usable - seam * 2) * SQRT2
    if each <= 0:
        return None
    n = max(1, int(((total + wide - SQRT2 * seam * 2) / each).ceil_to(Fraction(1))))
    return slanted(Length((usable + wide * SQRT2 * n).ceil_to(grid)), usable, wide, seam)
