"""Releases of a sew-along as runs: so many of a step's batches each, in the order in which they come out.

A step may be sewn in several releases, so a release is a list of runs and no list of steps. Its cutting, its templates
and what must be ready from before all follow from the batches that it runs.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from patternkit.model.pattern import Release
from patternkit.piecing.batch import Batch, CutOut, Field, Item, Piece, Thing
from patternkit.piecing.making import Making
from patternkit.work.model import CutDiagonally, JoinEnds, Order, Run, Step

TOP_ROLES = ("row", "centre", "quilt", "border", "border strip")
"""The roles of what a release makes that is said to make the top."""


class RunShare(msgspec.Struct, frozen=True):
    """What one release is: its runs, and what follows from them.

    `sews` is everything that its batches give, but what is left over in the end; `makes` what of it comes out and
    `ready` what must be there from earlier releases; `pieces` are the cut pieces that it takes, `squares` how many
    rectangles are cut corner to corner for those of them that are triangles, `joined` the strips that are joined end to
    end in it (in the first release that takes a piece of them); `templates` and `papers` the names of those that its
    batches use; `finishes` that the quilt is finished in it.
    """

    release: int
    runs: tuple[Run, ...]
    sews: tuple[tuple[Thing, int], ...]
    makes: tuple[tuple[Thing, int], ...]
    ready: tuple[tuple[Thing, int], ...]
    pieces: tuple[tuple[Piece, int], ...]
    squares: tuple[tuple[CutDiagonally, int], ...]
    joined: tuple[JoinEnds, ...]
    templates: tuple[str, ...]
    papers: tuple[str, ...]
    finishes: bool


def runs_of(order: Order, designs: Mapping[Thing, Making], releases: Sequence[Release]) -> tuple[Run, ...]:
    """The runs of all releases; what none of them makes runs after the last, as a release of its own."""
    if not releases:
        return ()
    done: dict[Thing, int] = {}
    left = [[times for _, times in step.batches] for step in order.steps]
    found: list[Run] = []
    for number, release in enumerate(releases):
        runs: dict[int, dict[int, int]] = {}
        for count, name, _ in release.makes:
            _make(order, designs, name, count, done, left, runs)
        found += _as_runs(number, runs)
    rest = {n: {b: t for b, t in enumerate(batches) if t} for n, batches in enumerate(left)}
    return (*found, *_as_runs(len(releases), {n: b for n, b in rest.items() if b}))


def _as_runs(number: int, runs: Mapping[int, Mapping[int, int]]) -> list[Run]:
    return [Run(number, n, tuple(sorted(batches.items()))) for n, batches in sorted(runs.items())]


def _make(
    order: Order,
    designs: Mapping[Thing, Making],
    name: str,
    count: int | None,
    done: dict[Thing, int],
    left: list[list[int]],
    runs: dict[int, dict[int, int]],
) -> None:
    """Run batches until so many more of what a release names are made (all that is left, without a number). What a unit
    is sewn together from, its rows and its middle, is made for as many of it."""
    open_now = count
    named = [(n, step, own) for n, step in enumerate(order.steps) if (own := _named(step, designs, name))]
    wholes = {n: sum(m - dict(step.leaves).get(thing, 0) for thing, m in own.items()) for n, step, own in named}
    units = [n for n, step, _ in named if designs[step.thing].key.part is None]
    total = sum(wholes[n] for n in units)
    made = sum(done.get(order.steps[n].thing, 0) for n in units) + (count or 0)
    for n, step, own in named:
        whole, before = wholes[n], done.get(step.thing, 0)
        wanted = whole - before if open_now is None else min(open_now, whole - before)
        if open_now is not None and units and n not in units:
            wanted = -(-whole * min(total, made) // total) - before
        if wanted <= 0:
            continue
        if n in units or not units:
            open_now = None if open_now is None else open_now - wanted
        done[step.thing] = before + wanted
        until = None if before + wanted == whole else before + wanted
        _run(step, n, own, until, left[n], runs)


def _named(step: Step, designs: Mapping[Thing, Making], name: str) -> dict[Thing, int]:
    """What of a step's things a release names by a unit's name, or as the top; none that are all left over."""
    found: dict[Thing, int] = {}
    for thing, n in step.gives.items():
        design = designs.get(thing) if isinstance(thing, Thing) else None
        if not isinstance(thing, Thing) or design is None or dict(step.leaves).get(thing, 0) >= n:
            continue
        if (name == "top") if design.role in TOP_ROLES else (name == design.unit):
            found[thing] = n
    return found


def _run(
    step: Step, n: int, own: Mapping[Thing, int], until: int | None, left: list[int], runs: dict[int, dict[int, int]]
) -> None:
    """Run a step's batches until `until` of what is named (`own`) are made in all, or (None) nothing is left to run.

    Batches that give none of it (the first round of a unit sewn in rounds) run with the next that does.
    """
    made = sum(_yields(batch, own) * (times - left[b]) for b, (batch, times) in enumerate(step.batches))
    for b, (batch, _) in enumerate(step.batches):
        each = _yields(batch, own)
        take = left[b] if until is None or not each else min(left[b], max(0, -(-(until - made) // each)))
        if take:
            left[b] -= take
            made += each * take
            row = runs.setdefault(n, {})
            row[b] = row.get(b, 0) + take


def _yields(batch: Batch, own: Mapping[Thing, int]) -> int:
    return sum(n for item, n in batch.gives if item in own)


def first_runs(order: Order) -> dict[Thing, int]:
    """In which release each sewn thing is first made, by its number."""
    found: dict[Thing, int] = {}
    for run in sorted(order.runs, key=lambda r: r.release):
        for item in order.steps[run.step].gives:
            if isinstance(item, Thing):
                found.setdefault(item, run.release)
    return found


def by_first_run(order: Order) -> Order:
    """The order with its steps as they come in the releases: by first run, otherwise as they stand."""
    first: dict[int, int] = {}
    for run in order.runs:
        first[run.step] = min(run.release, first.get(run.step, run.release))
    steps = sorted(range(len(order.steps)), key=lambda n: first.get(n, 0))
    at = {old: new for new, old in enumerate(steps)}
    runs = sorted((Run(r.release, at[r.step], r.batches) for r in order.runs), key=lambda r: (r.release, r.step))
    return msgspec.structs.replace(order, steps=tuple(order.steps[n] for n in steps), runs=tuple(runs))


# -- what follows -----------------------------------------------------------------------------------------
def shares_of(order: Order, releases: Sequence[Release]) -> tuple[RunShare, ...]:
    """Each release with what follows from its runs, and what none of them makes, if anything, as one more.

    Squares that are cut corner to corner are shared out so that no release lacks a triangle and the releases' squares
    add up to the order's. Where no release names the finishing it goes with the top.
    """
    named = [i for i, r in enumerate(releases) if any(name == "finishing" for _, name, _ in r.makes)]
    tops = [i for i, r in enumerate(releases) if any(name == "top" for _, name, _ in r.makes)]
    last = len(releases)
    finishing = (named or tops or [last])[0]
    cut: dict[Piece, int] = {}
    taken: dict[Piece, int] = {}
    waiting = [action for action in order.cutting if isinstance(action, JoinEnds)]
    found = []
    for number in range(last + 1):
        runs = tuple(r for r in order.runs if r.release == number)
        if not runs and number == last and finishing != last:
            continue
        share = _share(order, number, runs, number == finishing, cut, taken)
        joined = tuple(j for j in waiting if any(p in dict(share.pieces) for p, _ in j.gives))
        waiting = [j for j in waiting if j not in joined]
        found.append(msgspec.structs.replace(share, joined=joined))
    return tuple(found)


def _share(
    order: Order,
    number: int,
    runs: tuple[Run, ...],
    finishes: bool,
    cut: dict[Piece, int],
    taken: dict[Piece, int],
) -> RunShare:
    takes: dict[Item, int] = {}
    gives: dict[Item, int] = {}
    templates: dict[str, None] = {}
    papers: dict[str, None] = {}
    for run in runs:
        for b, times in run.batches:
            batch = order.steps[run.step].batches[b][0]
            for use in batch.uses:
                takes[use.item] = takes.get(use.item, 0) + times
                if isinstance(use.item, Piece) and use.item.template:
                    templates[use.item.template] = None
            for item, n in batch.gives:
                gives[item] = gives.get(item, 0) + n * times
            for passage in batch.passages:
                for action in passage.actions:
                    if isinstance(action, CutOut):
                        templates[action.template] = None
                        if action.between is not None:
                            templates[action.between.template] = None
                    elif isinstance(action, Field):
                        papers[action.paper] = None
    ready = [(i, n - gives.get(i, 0)) for i, n in takes.items() if isinstance(i, Thing) and n > gives.get(i, 0)]
    makes = [(i, n - takes.get(i, 0)) for i, n in gives.items() if isinstance(i, Thing) and n > takes.get(i, 0)]
    pieces = [(i, n) for i, n in takes.items() if isinstance(i, Piece)]
    squares = _squares(order, dict(pieces), cut, taken)
    sews = [(i, n) for i, n in (gives | _kept(order, runs, gives)).items() if isinstance(i, Thing) and n > 0]
    return RunShare(
        number,
        runs,
        tuple(sews),
        tuple(makes),
        tuple(ready),
        tuple(pieces),
        squares,
        (),
        tuple(templates),
        tuple(papers),
        finishes,
    )


def _kept(order: Order, runs: Sequence[Run], gives: Mapping[Item, int]) -> dict[Item, int]:
    """Of things that are left over in the end, so many as are kept: what is too many comes out of the last run."""
    last = {run.step: run.release for run in sorted(order.runs, key=lambda r: r.release)}
    found: dict[Item, int] = {}
    for run in runs:
        if last[run.step] == run.release:
            for item, n in order.steps[run.step].leaves:
                found[item] = gives[item] - n
    return found


def _squares(
    order: Order, pieces: Mapping[Piece, int], cut: dict[Piece, int], taken: dict[Piece, int]
) -> tuple[tuple[CutDiagonally, int], ...]:
    """How many rectangles must be cut corner to corner now, after what earlier releases have cut and taken; with the
    last triangles all the rest of them, as the order has it."""
    whole: dict[Piece, tuple[CutDiagonally, int]] = {}
    for action in order.cutting:
        if isinstance(action, CutDiagonally):
            first, n = whole.get(action.gives, (action, 0))
            whole[action.gives] = first, n + action.count
    found = []
    for piece, (action, count) in whole.items():
        if piece not in pieces:
            continue
        taken[piece] = taken.get(piece, 0) + pieces[piece]
        ended = taken[piece] == sum(step.takes.get(piece, 0) for step in order.steps)
        now = (count if ended else -(-taken[piece] // (2 * action.ways))) - cut.get(piece, 0)
        if now > 0:
            cut[piece] = cut.get(piece, 0) + now
            found.append((action, now))
    return tuple(found)
