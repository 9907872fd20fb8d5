"""The fast plans: sizes in order, each into the first strip with room, in several ways to lie."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeAlias

import msgspec

from patternkit.plan.cutting.task import (
    CutKind,
    Layout,
    Layouts,
    Part,
    PieceRow,
    Size,
    Task,
    drop_surplus,
    layout,
    length_of,
    stacked,
)

Chosen: TypeAlias = tuple[int, Size]
"""Index of a kind and the way chosen for it to lie."""
End: TypeAlias = tuple[PieceRow, ...]
"""The rows that an end of a strip is cut into."""


class _Open:
    """A strip that still has room, and how many equal ones there are."""

    __slots__ = ("copies", "ends", "height", "parts", "rest")

    def __init__(
        self, height: int, rest: int, copies: int, parts: Sequence[Part] = (), ends: Sequence[End] = ()
    ) -> None:
        self.height, self.rest, self.copies = height, rest, copies
        self.parts: list[Part] = list(parts)
        self.ends: list[End] = list(ends)

    def split(self, copies: int) -> _Open:
        """Keep so many copies and give the others as a strip of their own."""
        other = _Open(self.height, self.rest, self.copies - copies, self.parts, self.ends)
        self.copies = copies
        return other

    def laid(self) -> Layout:
        """Give the strip with its segments."""
        if not self.ends:
            return layout(self.height, self.parts)
        return stacked(self.height, [[PieceRow(self.height, tuple(self.parts))], *self.ends])


def shelf_plans(task: Task) -> Iterator[Layouts]:
    """Give one plan for every way of choosing how kinds lie and of filling strips; equal ones once.

    Where there are beds, they are filled first, with the tallest or with the lowest kinds, or left alone.
    """
    seen: set[tuple[object, ...]] = set()
    for begun, owed in _beds_filled(task):
        for choose in CHOICES:
            rows = in_fill_order((i, choose(task, kind)) for i, kind in enumerate(task.kinds))
            for way in (sized, first_fit, best_fit):
                if (key := (way, tuple(owed), *rows)) not in seen:
                    seen.add(key)
                    yield drop_surplus(task, {**begun, **way(task, rows, owed)})


def stacked_plans(task: Task) -> Iterator[Layouts]:
    """Give plans whose strips are filled with lower kinds in several rows, the ends first that leave the least."""
    begun, owed = next(_beds_filled(task))
    seen: set[tuple[object, ...]] = set()
    for choose in CHOICES:
        rows = in_fill_order((i, choose(task, kind)) for i, kind in enumerate(task.kinds))
        if tuple(rows) not in seen:
            seen.add(tuple(rows))
            for best in (False, True):
                found = fill(task, rows, owed, best=best, deep=True)[0]
                yield drop_surplus(task, {**begun, **found})


def in_fill_order(rows: Iterable[Chosen], sign: int = -1) -> list[Chosen]:
    """Give kinds as they lie in the order in which strips are filled: tallest first, or lowest with a `sign` of 1."""
    return sorted(rows, key=lambda row: (sign * row[1][1], -row[1][0], row[0]))


def quick_plan(task: Task) -> Layouts:
    """Give one good plan quickly, for a search that asks for many; beds are filled first where there are any."""
    best: Layouts = {}
    begun, owed = next(_beds_filled(task))
    for choose in (_whole_strips, _per_piece):
        rows = in_fill_order((i, choose(task, kind)) for i, kind in enumerate(task.kinds))
        found = drop_surplus(task, {**begun, **best_fit(task, rows, owed)})
        if not best or length_of(task, found) < length_of(task, best):
            best = found
    return best


def _beds_filled(task: Task) -> Iterator[tuple[Layouts, list[int]]]:
    """Give ways of filling the beds, each with what is still owed after it."""
    demand = [kind.demand for kind in task.kinds]
    for choose in CHOICES if task.beds else ():
        for sign in (-1, 1):
            begun: Layouts = {}
            owed = demand
            for bed, (width, length) in enumerate(task.beds, 1):
                kinds = tuple(msgspec.structs.replace(k, sizes=within(k.sizes, width, length)) for k in task.kinds)
                narrow = Task(width, task.trim, kinds)
                rows = in_fill_order(((i, choose(narrow, k)) for i, k in enumerate(kinds) if k.sizes), sign)
                plan, owed = fill(narrow, rows, owed, best=False, room_along=length)
                begun.update({layout(row.height, row.parts, bed): copies for row, copies in plan.items()})
            yield begun, owed
    yield {}, demand


def within(sizes: Sequence[Size], width: int, height: int) -> tuple[Size, ...]:
    """Keep the sizes that fit on cloth of this width and length."""
    return tuple(size for size in sizes if size[0] <= width and size[1] <= height)


def first_fit(task: Task, rows: Sequence[Chosen], owed: Sequence[int]) -> Layouts:
    """Lay each kind in turn into the strips already begun, then into new strips of its own height."""
    return fill(task, rows, owed, best=False)[0]


def best_fit(task: Task, rows: Sequence[Chosen], owed: Sequence[int]) -> Layouts:
    """As `first_fit`, but the strip with the least room to spare first."""
    return fill(task, rows, owed, best=True)[0]


def sized(task: Task, rows: Sequence[Chosen], owed: Sequence[int]) -> Layouts:
    """Cut whole strips of one kind only first, so that most strips have one sub-cut; mix only the rest."""
    plan: Layouts = {}
    rest = [0] * len(task.kinds)
    for index, (width, height) in rows:
        room = task.width // width
        whole, rest[index] = divmod(owed[index], room)
        if whole:
            plan[layout(height, [(index, width, height, room)])] = whole
    for key, copies in fill(task, rows, rest, best=False)[0].items():
        plan[key] = plan.get(key, 0) + copies
    return plan


def fill(
    task: Task,
    rows: Sequence[Chosen],
    owed: Sequence[int],
    best: bool,
    room_along: int | None = None,
    deep: bool = False,
) -> tuple[Layouts, list[int]]:
    """Fill strips with what is owed, in the order of the rows; give the plan and what is left over.

    Equal strips are kept as one row with copies, and split only where they come to differ. With `room_along` the
    heights of all strips together stay within it, and what finds no room is left over. Where it goes `deep`, low kinds
    lie in as many rows as a strip has room for.
    """
    strips: list[_Open] = []
    over = list(owed)
    for index, (width, height) in rows:
        left = owed[index]
        if best:
            strips.sort(key=lambda s: s.rest)
        at = 0
        while left and at < len(strips):
            strip = strips[at]
            at += 1
            size = _lies_deep(task.kinds[index], strip) if deep else _lies_in(task, task.kinds[index], strip)
            if size is None:
                continue
            deepest = strip.height // size[1] if deep else 1
            number = min(strip.rest // size[0] * deepest, left)
            copies = min(strip.copies, left // number)
            if copies < strip.copies:
                strips.insert(at, strip.split(copies))
            _put(strip, index, size, number, min(deepest, number))
            left -= number * copies
        room = task.width // width
        for number, copies in ((room, left // room), (left % room, 1)):
            if room_along is not None:
                copies = min(copies, room_along // height)
                room_along -= copies * height
            if number and copies:
                left -= number * copies
                part = (index, width, height, number)
                strips.append(_Open(height, task.width - number * width, copies, [part]))
        over[index] = left
    plan: Layouts = {}
    for strip in strips:
        key = strip.laid()
        plan[key] = plan.get(key, 0) + strip.copies
    return plan, over


def _put(strip: _Open, index: int, size: Size, number: int, deep: int) -> None:
    """Lay some pieces in the rest of a strip, in so many rows."""
    columns = -(-number // deep)
    strip.rest -= size[0] * columns
    if deep == 1:
        strip.parts.append((index, *size, number))
        return
    rows = [min(columns, number - columns * n) for n in range(deep)]
    strip.ends.append(tuple(PieceRow(size[1], ((index, *size, n),)) for n in rows if n > 0))


def _lies_deep(kind: CutKind, strip: _Open) -> Size | None:
    """Give the way of lying in which most of a kind go into the rest of a strip, in rows, or None."""
    sizes = [size for size in kind.sizes if size[0] <= strip.rest and size[1] <= strip.height]
    return max(sizes, key=lambda s: (strip.rest // s[0] * (strip.height // s[1]), s[1]), default=None)


def _lies_in(task: Task, kind: CutKind, strip: _Open) -> Size | None:
    """Give the narrowest way the kind lies in what is left of a strip, or None."""
    for size in sorted(kind.sizes):
        low_enough = size[1] <= strip.height if task.trim else size[1] == strip.height
        if size[0] <= strip.rest and low_enough:
            return size
    return None


def _upright(task: Task, kind: CutKind) -> Size:
    return min(kind.sizes)


def _flat(task: Task, kind: CutKind) -> Size:
    return max(kind.sizes)


def _whole_strips(task: Task, kind: CutKind) -> Size:
    """Take the way that needs the least cloth when the kind has strips of its own."""
    return min(kind.sizes, key=lambda s: (-(-kind.demand // (task.width // s[0])) * s[1], s[1]))


def _per_piece(task: Task, kind: CutKind) -> Size:
    """Take the way that needs the least cloth for each piece in a full strip."""
    return min(kind.sizes, key=lambda s: (s[1] / (task.width // s[0]), s[1]))


def _shared(task: Task, kind: CutKind) -> Size:
    """Take the way whose height most of the other kinds could have too."""
    return max(kind.sizes, key=lambda s: (sum(s[1] in [h for _, h in k.sizes] for k in task.kinds), -s[1]))


CHOICES: tuple[Callable[[Task, CutKind], Size], ...] = (_whole_strips, _per_piece, _flat, _upright, _shared)
