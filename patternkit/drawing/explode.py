"""Pulling a making apart along its seams, so that every seam shows as a gap."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import pairwise
from math import hypot

import msgspec

from patternkit.drawing.geometry import (
    SAME,
    Frame,
    after,
    apply,
    centre_of,
    floats,
    frame_of,
)
from patternkit.drawing.pieces import scaled
from patternkit.drawing.scene import Pt
from patternkit.piecing.making import Making, Part, Placed, Side
from patternkit.piecing.reflect import showing


class Member(msgspec.Struct, frozen=True):
    """A part that stays whole: where it lies (inches), its outline in points of the page, its part's index at the
    top."""

    part: Part
    frame: Frame
    outline: tuple[Pt, ...]
    top: int


class PageSeam(msgspec.Struct, frozen=True):
    """A seam on the page: its way, the members on either side, how it is pressed."""

    way: tuple[Pt, ...]
    left: frozenset[int]
    right: frozenset[int]
    pressed: Side
    in_row: bool = False  # opens to the side, or downward, however it slants

    @property
    def along(self) -> Pt:
        """The unit vector from start to end."""
        (x0, y0), (x1, y1) = self.way[0], self.way[-1]
        long = hypot(x1 - x0, y1 - y0) or 1.0
        return (x1 - x0) / long, (y1 - y0) / long

    @property
    def to_right(self) -> Pt:
        """The unit vector across the seam, from left to right."""
        x, y = self.along
        return -y, x


@lru_cache(maxsize=1024)  # patches are known by the object that they are of
def _as_shown(placed: Placed) -> Making:
    """What shows of a unit over whose corners others are flipped, in the coordinates of the whole."""
    assert isinstance(placed.what, Making)
    pieces = tuple(Placed(cloth) for cloth in showing(placed))
    return msgspec.structs.replace(placed.what, outline=placed.shown, parts=pieces, seams=())


def taken_apart(
    making: Making, scale: float, opens: Callable[[Making, int], bool]
) -> tuple[list[Member], list[PageSeam]]:
    """Members and seams of a making, opened at the top and wherever `opens(part, level)` says so, in sewing order."""
    members: list[Member] = []
    lines: list[PageSeam] = []

    def visit(m: Making, frame: Frame, level: int, top: int) -> frozenset[int]:
        groups = []
        for i, placed in enumerate(m.parts):
            inner, part, own = after(frame_of(placed.place), frame), placed.what, i if level == 0 else top
            if isinstance(part, Making) and placed.shown:  # what shows of it lies in the coordinates of the whole
                part = _as_shown(placed)
                members.append(Member(part, frame, scaled(apply(frame, floats(part.outline)), scale), own))
                groups.append(frozenset([len(members) - 1]))
            elif isinstance(part, Making) and opens(part, level + 1):
                groups.append(visit(part, inner, level + 1, own))
            else:
                members.append(Member(part, inner, scaled(apply(inner, floats(part.outline)), scale), own))
                groups.append(frozenset([len(members) - 1]))
        flips = frame[0] * frame[3] - frame[1] * frame[2] < 0
        for seam in m.seams:
            way = scaled(apply(frame, floats(seam.path or (seam.start, seam.end))), scale)
            left = frozenset[int]().union(*(groups[i] for i in seam.left))
            right = frozenset[int]().union(*(groups[i] for i in seam.right))
            in_row = m.recipe.method.in_rows
            lines.append(PageSeam(way[::-1] if flips else way, left, right, seam.pressed, in_row))
        return frozenset[int]().union(*groups) if groups else frozenset()

    visit(making, SAME, 0, 0)
    return members, lines


def touch(outline: Sequence[Pt], way: Sequence[Pt]) -> tuple[float, float] | None:
    """From where to where along the straight line from the way's start to its end the outline lies on it."""
    (x0, y0), (x1, y1) = way[0], way[-1]
    long = hypot(x1 - x0, y1 - y0)
    if long < 1e-9:
        return None
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    low, high = long, 0.0
    for a, b in zip(outline, [*outline[1:], outline[0]], strict=False):
        if abs((a[0] - x0) * uy - (a[1] - y0) * ux) > 0.05 or abs((b[0] - x0) * uy - (b[1] - y0) * ux) > 0.05:
            continue
        s, t = sorted(((a[0] - x0) * ux + (a[1] - y0) * uy, (b[0] - x0) * ux + (b[1] - y0) * uy))
        s, t = max(s, 0.0), min(t, long)
        if t - s > 0.05:
            low, high = min(low, s), max(high, t)
    return (low, high) if high > low else None


def _dot(a: Pt, b: Pt) -> float:
    return a[0] * b[0] + a[1] * b[1]


def _direction(line: PageSeam, outlines: Sequence[Sequence[Pt]]) -> Pt:
    """Across the seam; for a seam round a corner from the middle of one side's pieces to the other's."""
    if line.in_row:
        x, y = line.to_right
        return ((1.0 if x > 0 else -1.0), 0.0) if abs(x) >= abs(y) else (0.0, 1.0 if y > 0 else -1.0)
    if len(line.way) <= 2:
        return line.to_right
    ends = []
    for side in (line.left, line.right):
        spots = [centre_of(outlines[i]) for i in side]
        ends.append((sum(p[0] for p in spots) / len(spots), sum(p[1] for p in spots) / len(spots)))
    dx, dy = ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]
    long = hypot(dx, dy)
    return (dx / long, dy / long) if long > 1e-9 else line.to_right


def brings_rows(line: PageSeam, outlines: Sequence[Sequence[Pt]]) -> bool:
    """True for a seam along several pieces (between rows, or a border's), false for one between two pieces in a row."""
    return any(sum(touch(outlines[i], line.way) is not None for i in side) > 1 for side in (line.left, line.right))


def shifts(outlines: Sequence[Sequence[Pt]], lines: Sequence[PageSeam], gap: Callable[[PageSeam], float]) -> list[Pt]:
    """How far each member moves so that every seam, taken in sewing order, stands open by `gap(seam)` points.

    What lies right of a seam moves away from what lies left of it, past whatever earlier gaps have taken, and keeps
    level with its neighbours along the seam. The whole stays centred on where it was.
    """
    moves = [(0.0, 0.0)] * len(outlines)
    for line in lines:
        across = _direction(line, outlines)
        along = (across[1], -across[0])
        far = max(_dot(moves[i], across) for i in _beside(line.left, line, outlines))
        near = min(_dot(moves[i], across) for i in _beside(line.right, line, outlines))
        push = gap(line) / abs(_dot(across, line.to_right) if line.in_row else 1.0) + far - near
        slide = _mean(line.left, line, outlines, moves, along) - _mean(line.right, line, outlines, moves, along)
        for i in line.right:
            x, y = moves[i]
            moves[i] = (x + across[0] * push + along[0] * slide, y + across[1] * push + along[1] * slide)
    return moves


def _mean(
    side: frozenset[int], line: PageSeam, outlines: Sequence[Sequence[Pt]], moves: Sequence[Pt], along: Pt
) -> float:
    total = weight = 0.0
    for i in side:
        for way in pairwise(line.way) if line.in_row else (line.way,):
            span = touch(outlines[i], way)
            if span:
                total += _dot(moves[i], along) * (span[1] - span[0])
                weight += span[1] - span[0]
    return total / weight if weight else 0.0


def _beside(side: frozenset[int], line: PageSeam, outlines: Sequence[Sequence[Pt]]) -> frozenset[int]:
    """The members on one side of a seam; where shapes lie in rows, those that touch it."""
    if not line.in_row:
        return side
    return frozenset(i for i in side if any(touch(outlines[i], way) for way in pairwise(line.way))) or side


def gap_line(line: PageSeam, outlines: Sequence[Sequence[Pt]], moves: Sequence[Pt]) -> tuple[tuple[Pt, ...], Pt]:
    """Where the seam shows when the parts lie apart: the middle of its gap, and the unit vector from left to right."""
    across = _direction(line, outlines)
    if len(line.way) > 2 or line.in_row:
        left, right = ([moves[i] for i in _beside(side, line, outlines)] for side in (line.left, line.right))
        dx = (sum(m[0] for m in left) / len(left) + sum(m[0] for m in right) / len(right)) / 2
        dy = (sum(m[1] for m in left) / len(left) + sum(m[1] for m in right) / len(right)) / 2
        return tuple((x + dx, y + dy) for x, y in line.way), across
    (x0, y0), along = line.way[0], line.along
    reach: list[float] = []
    offs: dict[bool, list[float]] = {True: [], False: []}
    for is_left, side in ((True, line.left), (False, line.right)):
        for i in side:
            span = touch(outlines[i], line.way)
            if span:
                slide = _dot(moves[i], along)
                reach += [span[0] + slide, span[1] + slide]
                offs[is_left].append(_dot(moves[i], across))
    if not reach or not offs[True] or not offs[False]:
        return line.way, across
    off = (max(offs[True]) + min(offs[False])) / 2
    return tuple(
        (x0 + along[0] * t + across[0] * off, y0 + along[1] * t + across[1] * off) for t in (min(reach), max(reach))
    ), across
