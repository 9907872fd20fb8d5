"""The squares that side and corner triangles are cut from: worked out, or as the writer states them.

A stated cut at or above the exact size is taken as it stands; the points then float by half of what is over, and the
triangles are trimmed. Print rounds in several ways (the product or the sum, to eighths or quarters); all of them that
reach the exact size are accepted.
"""

from __future__ import annotations

from fractions import Fraction

import msgspec

from patternkit.lengths import SQRT2, Length
from patternkit.model.pattern import Quilt
from patternkit.piecing.making import Cloth, PieceCut, Point
from patternkit.piecing.names import CORNER_TRIANGLE, CORNERSTONE, END_TRIANGLE, LONG_SASHING, SIDE_TRIANGLE, english
from patternkit.piecing.offset import box_size
from patternkit.piecing.templates import is_rectangle
from patternkit.piecing.workshop import Workshop
from patternkit.problems import Problem
from patternkit.units import decimal, show


def triangle_cuts(
    quilt: Quilt, cloths: tuple[str, str], edges: tuple[Length, Length], rooms: tuple[Length, Length], shop: Workshop
) -> tuple[PieceCut, ...]:
    """The squares for side triangles (others for those at top and bottom, where they float otherwise there) and for
    corner triangles; a stated cut that is too small is a problem.

    `edges` are the short edges of a side triangle and the long edge of a corner triangle, as they would be without a
    float: the side of a block, less what inner sashing takes of it. A corner triangle lies centred on its block, so it
    is cut for the larger one of two floats at both of its edges.
    """
    sides = [_chosen(quilt, "sides cut", _side_cut(cloths[0], edges[0], room, shop), shop) for room in rooms]
    corner = _chosen(quilt, "corners cut", _corner_cut(cloths[1], edges[1], max(rooms), shop), shop)
    return (*dict.fromkeys(sides), corner)


def end_cut(cloth: str, b: Length, shop: Workshop) -> PieceCut:
    """The end triangles of a column that lies half a block lower, by squares cut once: straight grain on the two short
    sides, each a block's diagonal long."""
    exact = b * SQRT2 + shop.seam * (SQRT2 + 2)
    size = Length(exact.ceil_to(shop.grid))
    return PieceCut(cloth, size, size, exact, exact, 1, "half", END_TRIANGLE)


def side_square(leg: Length, seam: Length) -> Length:
    """The exact side of the squares that give side triangles (four each) whose short edges finish `leg` long."""
    return leg * SQRT2 + seam * (SQRT2 * 2 + 2)


def reaching(cloth: Cloth, seam: Length) -> Point:
    """The exact raw size of sashing or of a cornerstone on point: of the rectangle that is trimmed when the centre is
    whole.

    A strip with a slanted end reaches (1 + root 2) seams beyond its sharp corner there, as far as the trimmed edge runs
    along it. A long strip between two rows is laid on by its middle, not by seams, so it is cut a strip's width and two
    seams longer. A cornerstone on the edge is cut whole, and halved by the trimming.
    """
    wide, high = box_size(cloth.outline)
    more, n = seam * 2, len(cloth.outline)
    if cloth.name == CORNERSTONE or is_rectangle(cloth.outline):
        return wide + more, high + more
    slants = sum(
        cloth.outline[i][0] != cloth.outline[i - 1][0] and cloth.outline[i][1] != cloth.outline[i - 1][1]
        for i in range(n)
    )
    longer = seam * SQRT2 * slants + (high + more if cloth.name == LONG_SASHING else Length(0))
    return (wide + more + longer, high + more) if wide > high else (wide + more, high + more + longer)


def _side_cut(cloth: str, b: Length, room: Length, shop: Workshop) -> PieceCut:
    """Side triangles by squares cut twice: straight grain on the long side, which lies on the quilt's edge.

    The long side finishes one block diagonal (and a float twice); each end of it grows by s cot(22.5 degrees), so the
    square is longer by (2 + 2 root 2) s.
    """
    exact = side_square(b + room * SQRT2, shop.seam)
    size = Length(exact.ceil_to(shop.grid))
    return PieceCut(cloth, size, size, exact, exact, 1, "quarter", SIDE_TRIANGLE)


def _corner_cut(cloth: str, b: Length, room: Length, shop: Workshop) -> PieceCut:
    """Corner triangles by squares cut once: straight grain on the two short sides, half a diagonal (and the float
    twice)."""
    exact = b * SQRT2 / 2 + room * 2 + shop.seam * (SQRT2 + 2)
    size = Length(exact.ceil_to(shop.grid))
    return PieceCut(cloth, size, size, exact, exact, 1, "half", CORNER_TRIANGLE)


def _chosen(quilt: Quilt, phrase: str, cut: PieceCut, shop: Workshop) -> PieceCut:
    """The cut as the writer states it, where it is enough. In other sizes than the one written it is not held to."""
    setting = quilt.setting
    if setting is None or phrase not in setting.extras or not shop.pattern.as_written:
        return cut
    stated, units = setting.extras[phrase].value(shop.pattern.parameters), shop.pattern.settings.units
    what = english(cut.name) if cut.name is not None else "triangle"
    times = "twice" if cut.then == "quarter" else "once"
    needs = decimal((cut.exact_width / units.inches).round_to(Fraction(1, 1000)), 3)
    causes = (
        f"With a seam of {show(shop.seam, units)} the {what}s need squares of {needs} {units.sign}, "
        f"cut {times} "
        f"corner to corner: {show(cut.width, units)}, rounded up to the ruler.",
    )
    if stated < cut.exact_width:
        shop.problem(
            Problem(
                "cut-too-small",
                f"Squares cut {show(stated, units)} are too small for the {what}s: at least "
                f"{show(cut.width, units)} is needed.",
                setting.span,
                causes=causes,
            )
        )
        return cut
    if stated - cut.exact_width > shop.seam * 4:
        shop.problem(
            Problem(
                "cut-much-larger",
                f"Squares cut {show(stated, units)} are much larger than the "
                f"{show(cut.width, units)} that the {what}s need.",
                setting.span,
                causes=causes,
                advice=True,
            )
        )
    return msgspec.structs.replace(cut, width=stated, height=stated, stated=setting.span)
