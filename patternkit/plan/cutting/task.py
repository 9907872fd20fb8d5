"""The planner's own view of a list of pieces: equal sizes merged, each with the ways it may lie."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple, TypeAlias

import msgspec

from patternkit.plan.cutting.model import CrossCut, CuttingError, CuttingSettings, PieceDemand, StripRow, StripSegment

Size: TypeAlias = tuple[int, int]
"""Width across the strip and height along the cloth."""
Part: TypeAlias = tuple[int, int, int, int]
"""Index of the kind, width and height as it lies, how many in one strip."""


class PieceRow(NamedTuple):
    """A row of pieces in a segment; those lower than the row are trimmed once."""

    height: int
    parts: tuple[Part, ...]


class Segment(NamedTuple):
    """A length cut off a strip and then cut into rows, from the top; what the rows do not take falls away."""

    width: int
    rows: tuple[PieceRow, ...]


class Layout(NamedTuple):
    """One strip: its height, its segments in cutting order (so that equal layouts compare equal), and its cloth.

    Pieces cut straight from the strip are the first segment's single row, as high as the strip; every other segment is
    cut into two rows or more. `bed` 0 is the cloth itself; bed n is the n-th of the task's beds, cloth that is there
    anyway. Made by `layout` and `stacked`.
    """

    height: int
    segments: tuple[Segment, ...]
    bed: int = 0

    @property
    def parts(self) -> tuple[Part, ...]:
        """Give the parts of all rows, in cutting order."""
        if len(self.segments) == 1 and len(self.segments[0].rows) == 1:
            return self.segments[0].rows[0].parts
        return tuple(part for segment in self.segments for row in segment.rows for part in row.parts)

    def renumbered(self, index: Sequence[int] | Mapping[int, int]) -> Layout:
        """Give the same strip with other numbers for its kinds."""
        segments = tuple(
            Segment(
                segment.width,
                tuple(
                    PieceRow(row.height, tuple((index[kind], w, h, n) for kind, w, h, n in row.parts))
                    for row in segment.rows
                ),
            )
            for segment in self.segments
        )
        return Layout(self.height, segments, self.bed)


Layouts: TypeAlias = dict[Layout, int]
"""A plan as layouts and how many strips of each."""


class CutKind(msgspec.Struct, frozen=True):
    """All pieces of one size: the ways they may lie, how many in all, and whose they are."""

    sizes: tuple[Size, ...]
    demand: int
    owners: tuple[tuple[str, int, Size], ...]


class Task(msgspec.Struct, frozen=True):
    """Cover the demand of every kind with strips across `width`, or across the beds while they last.

    A bed (width, length) is cloth that is there anyway, such as what remains beside long borders. `more` is length that
    is cut whatever the plan is, such as whole strips. Strips that are cut into rows are no higher than `reach` (0 for
    no limit), unless a single piece is.
    """

    width: int
    trim: bool
    kinds: tuple[CutKind, ...]
    beds: tuple[Size, ...] = ()
    more: int = 0
    reach: int = 0

    def width_of(self, bed: int) -> int:
        """Give the width of the cloth (0) or of the n-th bed."""
        return self.beds[bed - 1][0] if bed else self.width

    def heights(self) -> list[int]:
        """Give every height a strip can usefully have, lowest first."""
        return sorted({height for kind in self.kinds for _, height in kind.sizes})

    def reached(self, heights: Iterable[int]) -> list[bool]:
        """Say of each height whether a strip that is cut into rows can have it."""
        single = set(self.heights())
        return [not self.reach or height <= self.reach or height in single for height in heights]

    def tallest(self, times: int) -> int:
        """Give the height of the tallest strip: so many times that of the tallest piece, as far as a ruler reaches."""
        piece = max((height for kind in self.kinds for _, height in kind.sizes), default=0)
        return max(piece, min(times * piece, self.reach)) if self.reach else times * piece


def check_input(pieces: Sequence[PieceDemand], settings: CuttingSettings) -> None:
    """Raise `CuttingError` for sizes, counts or settings that mean nothing, or a piece that cannot fit."""
    if settings.width <= 0:
        raise CuttingError(f"the usable width of the cloth must be above nothing, but is {settings.width}")
    if settings.lot <= 0:
        raise CuttingError("the step in which cloth is sold must be more than nothing")
    if not 0 <= settings.shrinkage < 1000:
        raise CuttingError("shrinkage must be between 0 and 999 thousandths")
    if settings.spare < 0:
        raise CuttingError("the spare length cannot be less than nothing")
    if not 0 <= settings.squaring < settings.width:
        raise CuttingError("squaring up must leave some of the usable width")
    seen: set[str] = set()
    for piece in pieces:
        if piece.id in seen:
            raise CuttingError(f"the piece {piece.id!r} is listed twice: give it one count", piece.id)
        seen.add(piece.id)
        if piece.height <= 0 or (piece.width <= 0 and not piece.full) or piece.count < 0:
            raise CuttingError(f"the piece {piece.id!r} needs width, height and count above nothing", piece.id)
        if not piece.full and not lies(piece, settings.width):
            raise CuttingError(
                f"the piece {piece.id!r} is {piece.width} x {piece.height}, too wide for cloth of usable "
                f"width {settings.width}: join it from strips, cut it along the length, or take wider cloth",
                piece.id,
            )


def lies(piece: PieceDemand, width: int) -> tuple[Size, ...]:
    """Give the ways a piece may lie on cloth of this width, its own way first."""
    turned = () if piece.along or not piece.may_turn else ((piece.height, piece.width),)
    return tuple(dict.fromkeys(s for s in ((piece.width, piece.height), *turned) if s[0] <= width))


def task_of(pieces: Sequence[PieceDemand], width: int, trim: bool, squaring: int = 0, reach: int = 0) -> Task:
    """Merge equal sizes into kinds, largest first; full pieces, along pieces and counts of 0 are left out.

    What squaring up leaves of the width is the task's. A piece that is wider lies in a strip by itself, and counts as
    just as wide.
    """
    groups: dict[tuple[Size, ...], list[tuple[str, int, Size]]] = {}
    for piece in pieces:
        if piece.count and not piece.full and not piece.along:
            key = tuple(sorted(lies(piece, width)))
            if not key:
                continue
            groups.setdefault(key, []).append((piece.id, piece.count, (piece.width, piece.height)))
    room = width - squaring
    kinds = [
        CutKind(tuple((min(w, room), h) for w, h in key), sum(o[1] for o in owners), tuple(owners))
        for key, owners in groups.items()
    ]
    kinds.sort(key=lambda k: (-max(max(s) for s in k.sizes), -max(min(s) for s in k.sizes), k.sizes))
    return Task(room, trim, tuple(kinds), reach=reach)


def layout(height: int, parts: Iterable[Part], bed: int = 0) -> Layout:
    """Give a strip that is cut straight into pieces: those of its own height first, then taller and wider first."""
    own = row_of(height, parts)
    return Layout(height, (Segment(across(own), (own,)),) if own.parts else (), bed)


def stacked(height: int, segments: Iterable[Iterable[PieceRow]], bed: int = 0) -> Layout:
    """Give a strip whose segments are cut into rows.

    Segments of a single row are cut straight into pieces, each trimmed where it is lower than the strip; rows lie in a
    segment, and segments in a strip, in one order.
    """
    plain: list[Part] = []
    cut: dict[tuple[int, ...], list[list[Part]]] = {}  # by the heights of their rows: segments cut alike are one
    for segment in segments:
        rows = sorted((row_of(row.height, row.parts) for row in segment if row.parts), reverse=True)
        if len(rows) < 2:
            plain += [part for row in rows for part in row.parts]
            continue
        key = tuple(row.height for row in rows)
        for own, row in zip(cut.setdefault(key, [[] for _ in rows]), rows, strict=True):
            own += row.parts
    merged = ([row_of(h, parts) for h, parts in zip(key, own, strict=True)] for key, own in cut.items())
    ends = [Segment(max(map(across, rows)), tuple(rows)) for rows in merged]
    ends.sort(key=lambda s: (-s.width, s.rows))
    return Layout(height, (*layout(height, plain).segments, *ends), bed)


def row_of(height: int, parts: Iterable[Part]) -> PieceRow:
    """Give a row with its pieces in cutting order, those that are alike as one part."""
    parts = tuple(parts)
    if len(parts) == 1 and parts[0][3]:
        return PieceRow(height, parts)
    merged: dict[tuple[int, int, int], int] = {}
    for kind, width, tall, number in parts:
        if number:
            merged[kind, width, tall] = merged.get((kind, width, tall), 0) + number
    rows = [(kind, width, tall, number) for (kind, width, tall), number in merged.items()]
    rows.sort(key=lambda p: (-p[2], -p[1], p[0]))
    return PieceRow(height, tuple(rows))


def across(row: PieceRow) -> int:
    """Give the width that the pieces of a row take side by side."""
    return sum(width * number for _, width, _, number in row.parts)


def length_of(task: Task, layouts: Layouts) -> int:
    """Add up the heights of all strips cut from the cloth itself, and the length cut in any case."""
    return task.more + sum(row.height * copies for row, copies in layouts.items() if not row.bed)


def room_left(task: Task, layouts: Layouts) -> list[int]:
    """Give the length left of each bed; less than nothing where a plan takes too much."""
    room = [length for _, length in task.beds]
    for row, copies in layouts.items():
        if row.bed:
            room[row.bed - 1] -= row.height * copies
    return room


def drop_surplus(task: Task, layouts: Layouts) -> Layouts:
    """Drop every piece beyond the demand, and lower or drop strips so freed.

    Beds are served first, then the cloth from the tallest strip down, so that what goes is the lowest strips.
    """
    left = [kind.demand for kind in task.kinds]
    out: Layouts = {}
    order = sorted(layouts.items(), key=lambda i: (not i[0].bed, i[0].bed, -i[0].height, -i[1], i[0].parts))
    for row, copies in order:
        while copies:
            take = min(copies, *(left[kind] // number for kind, number in numbers(row).items()))
            kept = row
            if not take:
                take, kept = 1, _still_owed(row, left)
            for kind, number in numbers(kept).items():
                left[kind] -= number * take
            if kept.segments:
                kept = lowered(kept)
                out[kept] = out.get(kept, 0) + take
            copies -= take
    return out


def _still_owed(row: Layout, left: Sequence[int]) -> Layout:
    """Keep of one strip what is still owed."""
    owed = list(left)

    def kept(parts: Iterable[Part]) -> Iterator[Part]:
        for kind, width, tall, number in parts:
            number = min(number, owed[kind])
            owed[kind] -= number
            yield kind, width, tall, number

    return stacked(row.height, [[row_of(r.height, kept(r.parts)) for r in s.rows] for s in row.segments], row.bed)


def lowered(row: Layout) -> Layout:
    """Give a strip only as high as its segments, and its rows only as high as their pieces."""
    segments = [[PieceRow(max(part[2] for part in r.parts), r.parts) for r in s.rows] for s in row.segments]
    height = max(sum(r.height for r in rows) for rows in segments)
    return stacked(height, segments, row.bed)


def numbers(row: Layout) -> dict[int, int]:
    """Count how many of each kind one strip gives, however they lie."""
    counts: dict[int, int] = {}
    for kind, _, _, number in row.parts:
        counts[kind] = counts.get(kind, 0) + number
    return counts


def missing(task: Task, layouts: Layouts) -> list[int]:
    """Give what each kind still lacks; negative for pieces beyond the demand."""
    left = [kind.demand for kind in task.kinds]
    for row, copies in layouts.items():
        for kind, number in numbers(row).items():
            left[kind] -= number * copies
    return left


def in_reach(task: Task, row: Layout) -> bool:
    """Say whether a strip is no higher than a ruler reaches, or a single piece of it is as high."""
    return not task.reach or row.height <= task.reach or any(part[2] == row.height for part in row.parts)


def filled(row: Layout) -> bool:
    """Say whether a strip has no trimming: rows as high as their pieces, segments as high as their rows together."""
    return all(
        sum(one.height for one in segment.rows) == row.height
        and all(part[2] == one.height for one in segment.rows for part in one.parts)
        for segment in row.segments
    )


def in_order(layouts: Layouts) -> list[tuple[Layout, int]]:
    """Give the strips as a person cuts them: tallest first, then the widest first piece, the fullest strips."""
    return sorted(
        layouts.items(),
        key=lambda i: (i[0].bed, -i[0].height, [(-p[2], -p[1], -p[3]) for p in i[0].parts], -i[1], i[0]),
    )


class Dealer:
    """Hands the pieces of each kind to their owners, in the order the owners were named."""

    def __init__(self, kinds: Sequence[CutKind]) -> None:
        """Owe every owner all of its pieces."""
        self._kinds = kinds
        self.owed = [[count for _, count, _ in kind.owners] for kind in kinds]

    def deal(self, part: Part, trimmed_to: int | None) -> list[CrossCut]:
        """Give the cuts of one part of one strip; what nobody is owed is left out."""
        kind, _, tall, number = part
        cuts = []
        for index, (name, _, size) in enumerate(self._kinds[kind].owners):
            take = min(self.owed[kind][index], number)
            if take:
                self.owed[kind][index] -= take
                number -= take
                turned = size[1] != tall
                across = size[1] if turned else size[0]  # the part's own width may be less than what fills a strip
                cuts.append(CrossCut(name, take, across, tall, turned, trimmed_to))
        return cuts


def expand(task: Task, layouts: Layouts) -> list[tuple[Layout, int, tuple[StripSegment, ...]]]:
    """Give each owner its pieces, strip by strip in cutting order: the layout, copies and segments.

    Equal strips stay together as long as the same owners take their pieces from them in the same way.
    """
    dealer = Dealer(task.kinds)
    out: list[tuple[Layout, int, tuple[StripSegment, ...]]] = []
    for strip, copies in in_order(layouts):
        for _ in range(copies):
            cut = tuple(_segment(segment, dealer) for segment in strip.segments)
            if out and out[-1][0] == strip and out[-1][2] == cut:
                out[-1] = (strip, out[-1][1] + 1, cut)
            else:
                out.append((strip, 1, cut))
    return out


def _segment(segment: Segment, dealer: Dealer) -> StripSegment:
    """Give a segment with its owners, wider than planned where a single piece has the whole width."""
    rows = tuple(_dealt(row, dealer) for row in segment.rows)
    widest = max(sum(cut.width * cut.number for cut in row.cuts) for row in rows)
    return StripSegment(max(segment.width, widest), rows)


def _dealt(row: PieceRow, dealer: Dealer) -> StripRow:
    """Give the cuts of a row with their owners."""
    cuts = (dealer.deal(part, part[2] if part[2] < row.height else None) for part in row.parts)
    return StripRow(row.height, tuple(cut for own in cuts for cut in own))
