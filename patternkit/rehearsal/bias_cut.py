"""Bias strips cut and joined on the table: how long a strip comes of the square, or of the length, that is told."""

from __future__ import annotations

from math import sqrt

from patternkit.piecing.batch import Piece
from patternkit.rehearsal.gaps import Gap
from patternkit.rehearsal.plane import XY, Ring, area, clipped
from patternkit.work.model import Bind, CutBias, Order

NEAR = 1e-5
SLANT = sqrt(2) / 2


def bias_gaps(order: Order) -> list[Gap]:
    """A bias strip that comes out shorter than it is told, or than the quilt is bound with, and rounds of a tube that
    are none."""
    gaps = []
    for cutting in (c for c in order.cutting if isinstance(c, CutBias)):
        item = Piece(cutting.fabric, "strip", cutting.gives, cutting.width)
        wide, seam = float(cutting.width), float(order.seam)
        if cutting.square is not None:
            lengths = min((_tube(float(cutting.square), wide, seam, at) for at in (0.0, seam)), key=len)
            lengths = _tube(float(cutting.square), wide, seam, seam)[: len(lengths)]  # tips level, or moved by a seam
            stated = cutting.rounds
        else:
            usable = order.usable[cutting.fabric]
            lengths, stated = _slanted(float(usable), float(cutting.length or 0), wide, seam), cutting.count
        if len(lengths) < stated:
            gaps.append(Gap("count", item=item, stated=stated, out=len(lengths)))
        have = sum(lengths[:stated]) + 2 * seam * sqrt(2) - wide  # both ends keep their allowance, and are squared
        wanted = [f.length for f in order.finish if isinstance(f, Bind) and f.fabric == cutting.fabric]
        for length in (cutting.gives, *wanted):
            if float(length) > have + NEAR:
                gaps.append(Gap("strips", item=item, stated=length, out=have))
    return gaps


def _tube(side: float, wide: float, seam: float, moved: float) -> list[float]:
    """How long each whole strip of a tube is between its stitches.

    The square is cut corner to corner, the upper triangle goes below, and a leg of each is sewn, the tips moved past
    each other. Strips are marked side by side from the bias edge of the upper triangle.
    """
    lower: Ring = ((0.0, 0.0), (side, 0.0), (0.0, side))
    below = 2 * seam - side
    upper: Ring = tuple((x - moved, y + below) for x, y in ((side, 0.0), (side, side), (0.0, side)))
    shown = [_kept(lower, (0.0, seam), (0.0, 1.0)), _kept(upper, (0.0, seam), (0.0, -1.0))]
    return _strips(shown, 2 * seam - moved, wide, (0.0, side - moved), seam)


def _slanted(usable: float, length: float, wide: float, seam: float) -> list[float]:
    """The same of strips across a length of cloth, from edge to edge of its shorter side."""
    short, long = sorted((usable, length))
    cloth: Ring = ((0.0, 0.0), (short, 0.0), (short, long), (0.0, long))
    return _strips([cloth], short, wide, (0.0, short), seam)


def _strips(shown: list[Ring], first: float, wide: float, ends: tuple[float, float], seam: float) -> list[float]:
    """Strips at 45 degrees, the first from the line x + y = `first`, between two upright ends: those that are whole, as
    long as they show between the stitches."""
    found: list[float] = []
    while True:
        low, high = (first + (len(found) + n) * wide * sqrt(2) for n in (0, 1))
        whole = [_between(r, low, high, *ends) for r in shown]
        if sum(whole) < wide * (ends[1] - ends[0]) * sqrt(2) - NEAR:
            return found
        found.append(sum(_between(r, low, high, ends[0] + seam, ends[1] - seam) for r in shown) / wide)


def _between(ring: Ring, low: float, high: float, left: float, right: float) -> float:
    """How much of a shape lies between two slanted and two upright lines."""
    for point, inner in (
        ((left, 0.0), (1.0, 0.0)),
        ((right, 0.0), (-1.0, 0.0)),
        ((low, 0.0), (SLANT, SLANT)),
        ((high, 0.0), (-SLANT, -SLANT)),
    ):
        ring = _kept(ring, point, inner)
    return abs(area(ring)) if ring else 0.0


def _kept(ring: Ring, point: XY, inner: XY) -> Ring:
    """What of a shape lies on the side of the line through a point that a vector square to it points to."""
    return clipped(ring, (0,) * len(ring), point, inner, 0)[0] if ring else ()
