"""The planner's own check in whole numbers: a plan must fit, and give every piece once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby
from math import gcd
from typing import Any

from patternkit.plan.cutting.bounds import LineBound, Stairs
from patternkit.plan.cutting.model import CrossCut, CutPlan, CuttingSettings, PieceDemand, Strip, StripRow, StripSegment
from patternkit.plan.cutting.proof import Case, Fork, Limit, Prices, Searched, beyond, value, whole
from patternkit.plan.cutting.task import Task
from patternkit.plan.cutting.weights import Weight, weigh


class BadPlan(AssertionError):
    """A plan failed the check; this is a fault of the planner, never of what it was given."""


def check_plan(pieces: Sequence[PieceDemand], settings: CuttingSettings, plan: CutPlan) -> None:
    """Raise `BadPlan` unless every strip fits its cloth and the cuts give exactly what was asked."""
    asked = {piece.id: piece for piece in pieces}
    given: Counter[str] = Counter()
    rests = {left.label: left for left in plan.leftovers if left.serves}
    cut_from: Counter[str] = Counter()
    for strip in plan.strips:
        width = settings.width
        if strip.source:
            need(strip.source in rests, f"strips are cut from {strip.source!r}, which is no leftover")
            width = rests[strip.source].width
        cut_from[strip.source] += strip.height * strip.copies
        for name, number in check_strip(strip, width, asked, settings.trim, settings.squaring).items():
            given[name] += number * strip.copies
        rows = max(len(segment.rows) for segment in strip.segments)
        need(rows == 1 or settings.rows, f"{strip} is cut into rows")
        low = not settings.reach or strip.height <= settings.reach
        need(rows == 1 or low or any(cut.height == strip.height for cut in strip.cuts), f"{strip} is too high for rows")
    wanted = {piece.id: piece.count for piece in pieces if piece.count}
    need(dict(given) == wanted, f"the cuts give {dict(given)} where {wanted} is asked")
    need(plan.length == cut_from[""], f"the strips add up to {cut_from['']}, not {plan.length}")
    for label, rest in rests.items():
        need(rest.number == 1, f"the leftover {label!r} is cut again but there are {rest.number} of it")
        need(cut_from[label] <= rest.height, f"too much is cut from the leftover {label!r}")
        strip = plan.strips[rest.strip]
        free = settings.width - sum(cut.width * cut.number for cut in strip.cuts)
        fits = strip.kind == "along" and strip.copies == 1 and rest.width <= free and rest.height <= strip.height
        need(fits, f"the leftover {label!r} is not what its strip leaves")


def check_strip(strip: Strip, width: int, asked: dict[str, PieceDemand], trim: bool, squaring: int = 0) -> Counter[str]:
    """Check one strip on cloth of this width and count the pieces one copy of it gives; what squaring up takes is not
    theirs where the strip is cut across, unless a piece has all of the width."""
    given: Counter[str] = Counter()
    need(strip.height > 0 and strip.copies > 0 and bool(strip.cuts), "a strip without height, copies or cuts")
    room = width - (squaring if strip.kind == "cut" else 0)
    left = room
    for segment in strip.segments:
        need(strip.kind == "cut" or len(strip.segments) == len(segment.rows) == 1, f"{strip} is cut into segments")
        need(bool(segment.rows), "a segment without rows")
        left -= min(segment.width, room) if _whole_width(segment) else segment.width
        high = strip.height
        for row in segment.rows:
            high -= row.height
            for cut in row.cuts:
                need(cut.piece in asked and cut.number > 0, f"nobody asked for {cut.piece!r}")
                given[cut.piece] += cut.number
                check_cut(cut, asked[cut.piece], strip, width)
            check_row(row, segment.width, trim or strip.kind == "along")
        need(high == 0 or (trim and high > 0 and len(segment.rows) > 1), f"rows leave {high} of {strip.height}")
    need(left >= 0, f"segments are {-left} wider than the cloth")
    return given


def _whole_width(segment: StripSegment) -> bool:
    """Say whether it is as wide as a single piece in it, and so loses nothing to squaring up."""
    wide = [sum(cut.width * cut.number for cut in row.cuts) for row in segment.rows]
    alone = [sum(cut.number for cut in row.cuts) == 1 for row in segment.rows]
    return max(wide) == segment.width and all(a for a, w in zip(alone, wide, strict=True) if w == segment.width)


def check_row(row: StripRow, width: int, trim: bool) -> None:
    """Check that the pieces of a row fit its width, and have its height once what is said to be trimmed is trimmed."""
    need(row.height > 0 and bool(row.cuts), "a row without height or cuts")
    need(sum(cut.width * cut.number for cut in row.cuts) <= width, f"{row} is wider than its segment of {width}")
    for cut in row.cuts:
        need(cut.height == row.height or (trim and cut.height < row.height), f"{cut} is not of the row's height")
        need(cut.trimmed_to == (cut.height if cut.height < row.height else None), f"{cut} hides a trimming cut")


def check_cut(cut: CrossCut, piece: PieceDemand, strip: Strip, width: int) -> None:
    """Check that a cut gives the piece it names, lying as the piece allows."""
    if piece.full:
        whole = strip.kind == "full" and cut.number == 1 and not strip.source and cut.width == width
        need(whole and cut.height == piece.height, f"the whole strip {piece.id!r} is cut as {cut}")
        return
    own = (piece.height, piece.width) if cut.turned else (piece.width, piece.height)
    need((cut.width, cut.height) == own, f"{cut} is not the size of {piece}")
    need(not cut.turned or (piece.may_turn and not piece.along), f"{piece.id!r} may not be turned")
    need(piece.along == (strip.kind == "along"), f"{piece.id!r} lies in a strip of the wrong sort")


def need(holds: bool, why: str) -> None:
    """Raise `BadPlan` with the reason unless the condition holds."""
    if not holds:
        raise BadPlan(why)


def bound_of(task: Task, proof: LineBound | Stairs | Searched) -> int:
    """Compute anew the length that a proof shows to be needed."""
    if isinstance(proof, LineBound):
        return slices_value(task, proof)
    if isinstance(proof, Stairs):
        return stairs_value(task, proof)
    return whole(searched_value(task, proof))


def check_apart(task: Task, groups: Sequence[Sequence[int]]) -> None:
    """Raise `BadPlan` unless every kind is in one group, and no strip can hold kinds of two."""
    need(not task.trim and not task.beds, "kinds of different heights can share a strip")
    listed = sorted(index for group in groups for index in group)
    need(listed == list(range(len(task.kinds))), "a kind is in no group, or in two")
    heights = [{height for index in group for _, height in task.kinds[index].sizes} for group in groups]
    need(sum(map(len, heights)) == len(set().union(*heights)), "two groups share a height")


def slices_value(task: Task, proof: LineBound) -> int:
    """Compute the length that a `LineBound` proof shows to be needed."""
    cloth = task.width
    table = {w: weigh(proof.weight, w, cloth) for kind in task.kinds for w, _ in kind.sizes}
    load = sum(kind.demand * min(table[w] * h for w, h in kind.sizes) for kind in task.kinds)
    load -= sum(weigh(proof.weight, width, cloth) * length for width, length in task.beds)
    return task.more + max(0, -(-load // weigh(proof.weight, cloth, cloth)))


def stairs_value(task: Task, proof: Stairs) -> int:
    """Compute the length that a `Stairs` proof shows to be needed."""
    total, below = task.more, 0
    for limit in stairs_limits(task, proof):
        total += limit.count * (limit.height - (below if task.trim else 0))
        below = limit.height
    return total


def stairs_limits(task: Task, proof: Stairs) -> list[Limit]:
    """Count the strips that must be at least as tall as each step of the stairs; nothing with beds.

    Without trimming each step stands for itself: so many strips must have just its height.
    """
    if task.beds:
        return []
    heights = [height for height, _ in proof.steps]
    need(heights == sorted(set(heights)), "the stairs are out of order")
    return [
        Limit(height, strips_needed(task, height, weight), True, 0 if task.trim else height)
        for height, weight in proof.steps
    ]


def strips_needed(task: Task, height: int, weight: Weight) -> int:
    """Count the strips that the pieces belonging to one step of the stairs need at least."""
    load = 0
    for kind in task.kinds:
        if all(h >= height if task.trim else h == height for _, h in kind.sizes):
            load += kind.demand * min(weigh(weight, w, task.width) for w, _ in kind.sizes)
    return -(-load // weigh(weight, task.width, task.width))


def searched_value(task: Task, proof: Searched) -> Fraction:
    """Compute the least length over all sides of the forks; each counts only on what its path allows."""
    known: set[Case] = set(stairs_limits(task, proof.stairs))

    def side(node: Prices | Fork, path: frozenset[Case]) -> Fraction:
        if isinstance(node, Prices):
            for limit, price in node.limits:
                need(price >= 0 and (limit in path or limit in known), f"{limit} is taken for granted")
            need(
                len(node.kinds) == len(task.kinds) and min(node.kinds, default=0) >= 0,
                "a price below nothing",
            )
            values = [best_values(task, bed, node) for bed in range(len(task.beds) + 1)]
            return value(task, node, values[0], values[1:])
        need(not node.limit.least, "a fork begins with its limit from above")
        fewer, more = path | {node.limit}, path | {beyond(node.limit)}
        return min(side(node.fewer, fewer), side(node.more, more))

    return side(proof.root, frozenset())


def best_values(task: Task, bed: int, named: Prices) -> list[tuple[int, int]]:
    """Compute the value of the best strip of each height, one piece at a time, as often as it is wanted.

    A strip has the height of its tallest piece; `led` is the best with such a piece, `lower` without.
    """
    import numpy as np

    prices, lies = named.kinds, named.of_lies()
    holds = {} if bed else named.of_holds()
    width = task.width_of(bed)
    tallest = task.beds[bed - 1][1] if bed else None
    sizes = [(h, w, i) for i, kind in enumerate(task.kinds) for w, h in kind.sizes]
    sizes = sorted(s for s in sizes if s[1] <= width and (tallest is None or s[0] <= tallest))
    grain = gcd(width, *(w for _, w, _ in sizes))
    lower = np.zeros(width // grain + 1, dtype=np.int64)
    out: list[tuple[int, int]] = []
    for height, group in groupby(sizes, key=lambda size: size[0]):
        led = np.full_like(lower, -(1 << 60))
        for _, across, i in group:
            w, price = across // grain, prices[i] + lies.get((i, across, height), 0)
            if gains := holds.get((i, across, height), ()):
                led = _each_number(led, lower, w, price, gains, task.kinds[i].demand)
                continue
            for _ in range(min(task.kinds[i].demand, width // grain // w) if price > 0 else 1):
                led[w:] = np.maximum(led[w:], np.maximum(led, lower)[:-w] + price)
        out.append((height, int(led[-1])))
        if task.trim:
            lower = np.maximum(lower, led)
    return out


def _each_number(led: Any, lower: Any, width: int, price: int, gains: Sequence[tuple[int, int]], demand: int) -> Any:
    """Enter a kind whose worth jumps at some numbers in a strip: each number by itself, all from one start."""
    import numpy as np

    start, best = np.maximum(led, lower), led.copy()
    for number in range(1, min(demand, (len(led) - 1) // width) + 1):
        worth = price * number + sum(gain for least, gain in gains if number >= least)
        shift = width * number
        best[shift:] = np.maximum(best[shift:], start[:-shift] + worth)
    return best
