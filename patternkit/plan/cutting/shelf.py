"""The fast plans: sizes in order, each into the first strip with room, in several ways to lie."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeAlias

import msgspec

from patternkit.plan.cutting.task import CutKind, Layouts, Part, Size, Task, drop_surplus, layout, length_of

Chosen: TypeAlias = tuple[int, Size]
"""Index of a kind and the way chosen for it to lie."""


class _Open:
    """A strip that still has room, and how many equal ones there are."""

    __slots__ = ("copies", "height", "parts", "rest")

    def __init__(self, height: int, rest: int, copies: int, parts: Sequence[Part] = ()) -> None:
        self.height, self.rest, self.copies = height, rest, copies
        self.parts: list[Part] = list(parts)


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
    task: Task, rows: Sequence[Chosen], owed: Sequence[int], best: bool, room_along: int | None = None
) -> tuple[Layouts, list[int]]:
    """Fill strips with what is owed, in the order of the rows; give the plan and what is left over.

    Equal strips are kept as one row with copies, and split only where they come to differ. With `room_along` the
    heights of all strips together stay within it, and what finds no room is left over.
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
            size = _lies_in(task, task.kinds[index], strip)
            if size is None:
                continue
            number = min(strip.rest // size[0], left)
            copies = min(strip.copies, left // number)
            if copies < strip.copies:
                strips.insert(at, _Open(strip.height, strip.rest, strip.copies - copies, strip.parts))
                strip.copies = copies
            strip.parts.append((index, *size, number))
            strip.rest -= size[0] * number
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
        key = layout(strip.height, strip.parts)
        plan[key] = plan.get(key, 0) + strip.copies
    return plan, over


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
