"""Plans of strips that are cut up further, from the linear program: take what it is sure of, price the rest anew."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor, prod

import msgspec

from patternkit.plan.cutting.budget import Budget
from patternkit.plan.cutting.dive import joined, rest_of
from patternkit.plan.cutting.nested import NestedProgram
from patternkit.plan.cutting.points import CutPoints, points
from patternkit.plan.cutting.shelf import quick_plan
from patternkit.plan.cutting.task import (
    Layout,
    Layouts,
    PieceRow,
    Task,
    drop_surplus,
    filled,
    length_of,
    missing,
    numbers,
    room_left,
    stacked,
)

STATES = 16
"""Most states of kinds of which no strip may hold too many, in a dive."""
DENSE = 40_000
"""Most pairs of a width and a height that are few."""
SHORT = 12
"""Most kinds of a list that is short."""
FAR = 1 << 30
ROUNDS = 16
"""Times that strips are priced anew at most, each time that some are taken."""


def nested_dive(task: Task, strips: Sequence[Layout], longest: int, budget: Budget, begun: Layouts) -> Layouts | None:
    """Look for a plan no longer than `longest` that has the strips begun.

    The linear program starts from the strips known. Where it has no strip that is whole, the one most nearly so is
    taken.
    """
    fixed = dict(begun)
    wanted = [max(0, number) for number in missing(task, fixed)]
    while any(wanted):
        rest, index = rest_of(task, wanted, room_left(task, fixed))
        more = length_of(task, fixed)
        rest = msgspec.structs.replace(rest, more=more)
        quick = quick_plan(msgspec.structs.replace(rest, more=0))
        if more + length_of(rest, quick) - rest.more <= longest:
            return exactly(task, joined(fixed, quick, index), longest)
        if longest <= more:
            return None
        back = {kind: at for at, kind in enumerate(index)}
        known = [row.renumbered(back) for row in strips if all(wanted[kind] for kind in numbers(row))]
        places = points(rest, longest - more)
        program = NestedProgram(rest, places, [*known, *quick], _few(rest, places), longest + 1 - more, budget)
        answer = program.relax(FAR, whole=True, rounds=ROUNDS)
        if not answer.done or (answer.closed and answer.cost > longest + 1e-6):
            return None
        more_strips = taken(rest, answer.counts, program.master.columns)
        if not more_strips:
            return None
        strips = [row.renumbered(index) for row in program.master.columns]
        for row, copies in more_strips.items():
            key = row.renumbered(index)
            fixed[key] = fixed.get(key, 0) + copies
        wanted = [max(0, number) for number in missing(task, fixed)]
    return exactly(task, fixed, longest)


def exactly(task: Task, plan: Layouts | None, longest: int) -> Layouts | None:
    """Give a plan without pieces that nobody wants; None where it has some that cannot go (without trimming they may
    fill a segment), is too long, or takes more of a bed than there is."""
    if plan is None:
        return None
    plan = drop_surplus(task, plan)
    fits = length_of(task, plan) <= longest and min(room_left(task, plan), default=0) >= 0
    return plan if fits and not any(missing(task, plan)) and (task.trim or all(map(filled, plan))) else None


def _few(task: Task, places: CutPoints) -> list[int]:
    """Give the kinds that there are fewest of, as far as their states are few; none of long lists, nor where cuts can
    lie in very many places."""
    found: list[int] = []
    if len(task.kinds) > SHORT or len(places.widths) * len(places.heights) > DENSE:
        return found
    for kind in sorted(range(len(task.kinds)), key=lambda kind: task.kinds[kind].demand):
        if prod(task.kinds[one].demand + 1 for one in (*found, kind)) <= STATES:
            found.append(kind)
    return found


def taken(task: Task, counts: Sequence[float], columns: Sequence[Layout]) -> Layouts:
    """Give what the linear program is sure of, or else the one strip that is most nearly there, without what is not
    wanted."""
    pairs = [(count, row) for count, row in zip(counts, columns, strict=False) if count > 1e-6]
    room = room_left(task, {})
    sure: Layouts = {}
    left = [kind.demand for kind in task.kinds]
    for count, row in sorted(pairs, key=lambda pair: (-pair[0], pair[1])):
        copies = floor(count + 1e-6)
        for kind, number in numbers(row).items():
            copies = min(copies, left[kind] // number)
        if row.bed:
            copies = min(copies, room[row.bed - 1] // row.height)
            room[row.bed - 1] -= max(0, copies) * row.height
        if copies > 0:
            sure[row] = copies
            for kind, number in numbers(row).items():
                left[kind] -= number * copies
    if sure:
        return sure
    for _, row in sorted(pairs, key=_liking, reverse=True):
        own = within(task, row)
        if own is not None and (not own.bed or own.height <= room[own.bed - 1]):
            return {own: 1}
    return {}


def _liking(pair: tuple[float, Layout]) -> tuple[object, ...]:
    count, row = pair
    filled = sum(w * h * n for _, w, h, n in row.parts) / row.height
    return count, filled, row


def within(task: Task, row: Layout) -> Layout | None:
    """Give a strip without the pieces that are not wanted, as high as what remains; None where nothing does.

    Without trimming a segment stays as it is or goes.
    """
    left = [kind.demand for kind in task.kinds]
    segments: list[list[PieceRow]] = []
    for segment in row.segments:
        kept: list[PieceRow] = []
        for one in segment.rows:
            parts = []
            for kind, w, h, number in one.parts:
                number = min(number, left[kind])
                left[kind] -= number
                if number:
                    parts.append((kind, w, h, number))
            if parts:
                kept.append(PieceRow(max(part[2] for part in parts), tuple(parts)))
        if kept and (task.trim or sum(r.height for r in kept) == row.height):
            segments.append(kept)
    tallest = max((sum(r.height for r in segment) for segment in segments), default=0)
    return stacked(tallest, segments, row.bed) if segments else None
