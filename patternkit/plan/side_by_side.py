"""Shapes cut by template, laid side by side in strips instead of each in a rectangle of its own.

A strip is filled with as many as lie in it, the rest lie in one more run, shorter: the planner has each run as a
rectangle that may not be turned, so that what is left of its strip serves for other pieces.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from patternkit.lengths import Length
from patternkit.model.pattern import Pattern
from patternkit.piecing.by_angle import ruler_angle
from patternkit.piecing.making import Making, Outline, PieceCut
from patternkit.piecing.sewing.templates import Templates
from patternkit.piecing.strip_cuts import Widths
from patternkit.piecing.turns import ShapeRun, estimate, is_box, laid_in, quarter_turned
from patternkit.plan.model import CutLine

NEAR = 1e-6
HIGHER = 4
"""By how many of the ruler's steps a strip is tried higher than its shapes."""
Wanted = tuple[PieceCut, int, Making]
"""A cut, how many of it, and what for."""


def runs_of(
    wanted: Sequence[Wanted], pattern: Pattern, widths: Widths, boxed: frozenset[str] = frozenset()
) -> list[CutLine]:
    """The cutting lines of shapes cut by template: side by side where that takes less cloth than a rectangle for each,
    the shapes of one template together; otherwise, and for fabrics that are `boxed`, line by line as they are
    wanted."""
    lines: list[CutLine] = []
    templates = Templates()
    alike: dict[tuple[str, str, bool, bool], list[Wanted]] = {}
    for cut, n, making in wanted:
        directed = pattern.fabrics[cut.fabric].directional or cut.fixed_grain
        found = templates.find(cut, directed)
        alike.setdefault((cut.fabric, found.shape.name, found.reversed, directed), []).append((cut, n, making))
    for (_, _, down, directed), group in alike.items():
        cut, total = group[0][0], sum(n for _, n, _ in group)
        use = tuple(dict.fromkeys(making for *_, making in group))
        runs = None if cut.fabric in boxed else _runs(cut, total, widths, not directed)
        if runs is None:
            lines += [CutLine("", c.fabric, c, n, (m,), n, made_for=m.thing, down=down) for c, n, m in group]
            continue
        for run, times in runs:
            n = len(run.spots) * times
            one = run if len(run.spots) > 1 else None
            lines.append(CutLine("", cut.fabric, cut, n, use, n, len(run.spots) if one else 0, run=one, down=down))
    return lines


def _runs(cut: PieceCut, total: int, widths: Widths, may_turn: bool) -> list[tuple[ShapeRun, int]] | None:
    """The runs that take the least cloth, with how many of each; None where rectangles take no more."""
    if is_box(cut.shape) or total < 2:
        return None
    room = widths.across(cut.fabric)
    ruled = bool(ruler_angle(cut.shape, widths.ruler))  # in a strip just as high as it is
    ways = [cut.shape, quarter_turned(cut.shape)] if may_turn and not ruled else [cut.shape]
    least = min((_by_boxes(w, total, room, widths.ruler) for w in ways if _fits(w, room)), default=None)
    best: tuple[float, Outline, Length] | None = None
    for way in ways:
        for n in range(HIGHER + 1 if may_turn and not ruled else 1):
            higher = _up_to(way, widths.ruler) + widths.ruler * n
            taken = _takes(way, total, room, may_turn, higher)
            if taken is not None and (best is None or taken < best[0] - NEAR):
                best = taken, way, higher
    if best is None or (least is not None and least <= best[0] + NEAR):
        return None
    _, way, higher = best
    full = laid_in(way, room, may_turn, None, higher)
    assert full is not None, "one fits"
    times, rest = divmod(total, len(full.spots))
    last = laid_in(way, room, may_turn, rest, higher) if rest else None
    return [(run, n) for run, n in ((full, times), (last, 1)) if run is not None and n]


def _up_to(outline: Outline, ruler: Fraction) -> Length:
    """What a strip on the ruler's lines has more height than the shape."""
    high = max(y for _, y in outline)
    return Length(high.ceil_to(ruler)) - high


def _takes(outline: Outline, total: int, room: Length, may_turn: bool, higher: Length) -> float | None:
    """The length of cloth that shapes side by side take: all of a full strip's, as what is left of it seldom serves,
    and the rest's share of a strip. None where not even one fits."""
    full = estimate(outline, room, may_turn, None, higher)
    if full is None:
        return None
    high = float(max(y for _, y in outline) + higher)
    times, rest = divmod(total, full[0])
    last = estimate(outline, room, may_turn, rest, higher) if rest else None
    return high * (times + (last[1] / float(room) if last is not None else 0))


def _fits(outline: Outline, room: Length) -> bool:
    return max(x for x, _ in outline) <= room


def _by_boxes(outline: Outline, total: int, room: Length, ruler: Fraction) -> float:
    """The length of cloth that rectangles take, each for one shape."""
    wide, high = (Length(max(p[i] for p in outline).ceil_to(ruler)) for i in (0, 1))
    each = max(1, int((room / wide).floor_to(Fraction(1))))
    full, rest = divmod(total, each)
    return float(high) * (full + float(wide) * rest / float(room))
