"""Wrong orders: every decision of a right order changed by itself, class by class, and whether a rehearsal notices.

    python -m patternkit.bench.mutate_order [FILES]

prints for each class how many changed orders were tried and noticed, and with ``--missed`` those that were not.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Literal, NamedTuple

import msgspec

from patternkit.lengths import Length
from patternkit.piecing.batch import (
    OPEN,
    Action,
    Batch,
    CloseTube,
    Corner,
    Cut,
    CutAcross,
    CutApart,
    CutOut,
    Discard,
    Edge,
    Field,
    Item,
    Join,
    LayOn,
    LayStrip,
    Line,
    Measure,
    Open,
    OpenRing,
    Passage,
    Piece,
    Sew,
    Snip,
    TearAway,
    Thing,
    TrimBand,
    TrimBeyond,
    TrimTo,
    Use,
)
from patternkit.piecing.making import Making
from patternkit.rehearsal.rehearse import rehearsal, rehearse
from patternkit.rehearsal.table import bounds
from patternkit.work.model import CutByTemplate, CutDiagonally, CutPieces, CutStrips, Order

CLASSES = ("count", "size", "hand", "take", "sides", "press", "cut", "trim", "gives", "lay")
NOTHING = 1 / 32
"""Inches at one side by which what comes out may be off."""
EIGHTH, QUARTER = Length(Fraction(1, 8)), Length(Fraction(1, 4))
OTHER = {"left": "right", "right": "left"}
replace = msgspec.structs.replace


class Mutant(NamedTuple):
    """A changed order: the class of the change, and what was changed."""

    of: str
    text: str
    order: Order


def mutants(order: Order) -> Iterator[Mutant]:
    """Every single change of an order, each once."""
    for n, step in enumerate(order.steps):
        if not step.rehearsed:
            continue
        for b, (batch, times) in enumerate(step.batches):
            where = f"step {n + 1} ({step.thing.key}), batch {b + 1}"
            for more in (times - 1, times + 1):
                yield Mutant("count", f"{where}: {more} times", _with(order, n, b, batch, more))
            for of, text, new in _changed(batch):
                if new != batch:
                    yield Mutant(of, f"{where}: {text}", _with(order, n, b, new, times))
    yield from _cutting(order)


def _with(order: Order, n: int, b: int, batch: Batch, times: int) -> Order:
    """The order with another batch in a step."""
    step = order.steps[n]
    batches = (*step.batches[:b], (batch, times), *step.batches[b + 1 :])
    return replace(order, steps=(*order.steps[:n], replace(step, batches=batches), *order.steps[n + 1 :]))


# -- what is cut ------------------------------------------------------------------------------------------
def _cutting(order: Order) -> Iterator[Mutant]:
    over = _over_fields(order)
    for i, action in enumerate(order.cutting):
        if isinstance(action, (CutStrips, CutPieces, CutDiagonally, CutByTemplate)):
            for count in (action.count - 1, action.count + 1):
                yield Mutant("count", f"cut {i + 1}: {count} cut", _cut(order, i, replace(action, count=count)))
        if isinstance(action, (CutPieces, CutDiagonally)):
            piece = action.gives if isinstance(action, CutDiagonally) else action.piece
            for size in ((piece.width - QUARTER, piece.height), (piece.width, piece.height - QUARTER)):
                if piece in over:
                    continue
                new = replace(piece, width=size[0], height=size[1])
                yield Mutant(
                    "size", f"cut {i + 1}: {float(size[0])} x {float(size[1])}", _everywhere(order, piece, new)
                )
        if isinstance(action, CutByTemplate):
            face: Literal["up", "down"] = "up" if action.face == "down" else "down"
            yield Mutant("hand", f"cut {i + 1}: face {face}", _cut(order, i, replace(action, face=face)))
        if isinstance(action, CutDiagonally) and action.leans:
            turned = replace(action, lies=(action.lies[1], action.lies[0]))
            yield Mutant("hand", f"cut {i + 1}: lies the other way", _cut(order, i, turned))
            other = replace(action.gives, hand=OTHER[action.leans])
            yield Mutant("hand", f"cut {i + 1}: leans the other way", _everywhere(order, action.gives, other))


def _over_fields(order: Order) -> set[Item]:
    """Pieces for paper piecing: they are cut larger than they need to be."""
    return {
        batch.uses[a.part].item
        for step in order.steps
        for batch, _ in step.batches
        for passage in batch.passages
        for a in passage.actions
        if isinstance(a, Field)
    }


def _cut(order: Order, i: int, action: object) -> Order:
    return replace(order, cutting=(*order.cutting[:i], action, *order.cutting[i + 1 :]))


def _everywhere(order: Order, old: Piece, new: Piece) -> Order:
    """The order with one piece cut otherwise, and taken as it is cut: what the accounts can't notice."""
    cutting = []
    for action in order.cutting:
        if isinstance(action, CutDiagonally) and action.gives == old:
            leans = new.hand if (old.width, old.height) == action.lies else OTHER.get(new.hand, "")
            sides = (new.width, new.height) if (old.width, old.height) == action.lies else (new.height, new.width)
            action = replace(action, gives=new, piece=_rectangle(action.piece, new), leans=leans, lies=sides)
        elif isinstance(action, CutPieces) and action.piece == old:
            sides = (new.width, new.height) if (old.width, old.height) == action.lies else (new.height, new.width)
            action = replace(action, piece=new, lies=sides)
        cutting.append(action)
    steps = []
    for step in order.steps:
        batches = []
        for batch, times in step.batches:
            uses = tuple(replace(u, item=new) if u.item == old else u for u in batch.uses)
            batches.append((replace(batch, uses=uses), times))
        steps.append(replace(step, batches=tuple(batches)))
    return replace(order, cutting=tuple(cutting), steps=tuple(steps))


def _rectangle(old: Piece, triangle: Piece) -> Piece:
    w, h = triangle.width, triangle.height
    return (
        replace(old, width=min(w, h), height=max(w, h)) if old.width <= old.height else replace(old, width=w, height=h)
    )


# -- what is done -----------------------------------------------------------------------------------------
def _changed(batch: Batch) -> Iterator[tuple[str, str, Batch]]:
    """Every single change of a batch: its class, words for it, the batch."""
    for i, (item, n) in enumerate(batch.gives):
        rest = (*batch.gives[:i], *batch.gives[i + 1 :])
        yield "gives", f"{item} left out", replace(batch, gives=rest)
        for count in (n - 1, n + 1):
            if count:
                yield (
                    "gives",
                    f"{count} {item}",
                    replace(batch, gives=(*batch.gives[:i], (item, count), *batch.gives[i + 1 :])),
                )
    yield from _taken(batch)
    for p, passage in enumerate(batch.passages):
        for a, action in enumerate(passage.actions):
            for of, text, new in _otherwise(action, batch):
                actions = (*passage.actions[:a], *(() if new is None else (new,)), *passage.actions[a + 1 :])
                passages = (*batch.passages[:p], Passage(passage.name, actions), *batch.passages[p + 1 :])
                yield of, f"action {p + 1}.{a + 1}: {text}", replace(batch, passages=passages)


def _taken(batch: Batch) -> Iterator[tuple[str, str, Batch]]:
    """Pieces exchanged with the next one, taken in place of another, and one more that nothing is done with."""
    uses = batch.uses
    for i, use in enumerate(uses):
        j = (i + 1) % len(uses)
        if uses[j].item != use.item:
            new = list(uses)
            new[i] = Use(uses[j].item, use.turned)
            yield "take", f"part {i} is {uses[j].item}", replace(batch, uses=tuple(new))
    if uses:
        yield "take", "one more", replace(batch, uses=(*uses, uses[0]))
        yield "take", "one fewer", replace(batch, uses=uses[:-1])


Otherwise = Iterator[tuple[str, str, Action | None]]


def _otherwise(action: Action, batch: Batch) -> Otherwise:
    """Every single change of an action; None where it is left out."""
    if isinstance(action, Sew):
        yield from _sewn(action)
    elif isinstance(action, Join):
        yield from _joined(action, batch)
    elif isinstance(action, Open):
        yield from _opened(action, batch)
    elif isinstance(action, Cut):
        yield "cut", "left out", None
        for i, line in enumerate(action.lines):
            rest = (*action.lines[:i], *action.lines[i + 1 :])
            if rest:
                yield "cut", f"line {i + 1} left out", Cut(rest)
            other = Line(line.start, line.end, -line.beside if line.beside else 1)
            yield "cut", f"line {i + 1} beside", Cut((*action.lines[:i], other, *action.lines[i + 1 :]))
    elif isinstance(action, Snip):
        yield "cut", "fewer layers", replace(action, parts=action.parts[:-1])
        yield "cut", "left out", None
    elif isinstance(action, Discard):
        yield "cut", "not put aside", None
    elif isinstance(action, (CutAcross, CloseTube, OpenRing)):
        yield from _from_strips(action, batch)
    elif isinstance(action, CutApart):
        yield from _cut_apart(action)
    elif isinstance(action, (LayOn, LayStrip)):
        yield from _laid_on(action)
    elif isinstance(action, CutOut):
        for down in (action.down - EIGHTH, action.down + EIGHTH):
            yield "cut", f"{float(down)} below the edge", replace(action, down=down)
        yield "cut", "one fewer", replace(action, count=action.count - 1)
        if action.between is not None:
            yield "cut", "none between", replace(action, between=None)
            yield "cut", "too near", replace(action, pitch=action.pitch - EIGHTH)
        yield "cut", "turned over", replace(action, reversed=not action.reversed)
        yield "cut", "left out", None
    elif isinstance(action, Field):
        yield "take", f"field {action.field + 1}", replace(action, field=action.field + 1)
        yield "cut", "left out", None
    elif isinstance(action, TearAway):
        yield "cut", "left out", None
    elif isinstance(action, TrimTo):
        yield "trim", "left out", None
        for w, h in ((-EIGHTH, Length(0)), (EIGHTH, Length(0)), (Length(0), -EIGHTH), (Length(0), EIGHTH)):
            yield "trim", "another size", replace(action, width=action.width + w, height=action.height + h)
    elif isinstance(action, TrimBand):
        yield "trim", "left out", None
        yield "trim", "lower", replace(action, height=action.height - EIGHTH)
    elif isinstance(action, TrimBeyond):
        yield "trim", "left out", None
        yield "trim", "farther out", replace(action, beyond=action.beyond * 2)
        yield "trim", "at the points", replace(action, beyond=Length(0))
    elif isinstance(action, Measure):
        for size in (action.width - EIGHTH, action.width + EIGHTH):
            yield "size", f"measures {float(size)} wide", replace(action, width=size)
        yield "size", "another height", replace(action, height=action.height + EIGHTH)
        for i, shown in enumerate(action.shows):
            shows = (*action.shows[:i], shown + EIGHTH, *action.shows[i + 1 :])
            yield "size", f"shows {float(shown + EIGHTH)}", replace(action, shows=shows)


def _from_strips(action: CutAcross | CloseTube | OpenRing, batch: Batch) -> Otherwise:
    yield "cut", "left out", None
    if isinstance(action, CutAcross):
        for width in (action.width - EIGHTH, action.width + EIGHTH):
            yield "cut", f"{float(width)} wide", replace(action, width=width)
        yield "cut", "one fewer", replace(action, count=action.count - 1)
        if action.angle != 90:
            yield "cut", "the other way", replace(action, angle=180 - action.angle)
    elif isinstance(action, OpenRing):
        n, last = len(batch.uses), action.left.part
        on = replace(action, left=Edge((last + 1) % n, 2), right=Edge((last + 2) % n, 0))
        yield "cut", "one seam on", replace(on, toward=tuple(x if x < 0 else (x + 1) % n for x in action.toward))
        yield "press", "open", replace(action, toward=(OPEN,) * len(action.toward))


def _laid_on(action: LayOn | LayStrip) -> Otherwise:
    yield "lay", "left out", None
    if isinstance(action, LayOn):
        yield "lay", "farther right", replace(action, across=action.across + EIGHTH)
        yield "lay", "farther down", replace(action, down=action.down + EIGHTH)
    else:
        (x, y), (u, v) = action.start, action.end
        yield "lay", "moved", replace(action, start=(x, y + EIGHTH), end=(u, v + EIGHTH))
        if action.about is not None:
            yield "lay", "straight", replace(action, about=None)
    yield "lay", "more turned under", replace(action, turned=action.turned + EIGHTH)


def _cut_apart(action: CutApart) -> Otherwise:
    for i, x in enumerate(action.columns):
        for at in (x - EIGHTH, x + EIGHTH):
            moved = (*action.columns[:i], at, *action.columns[i + 1 :])
            yield "cut", f"{float(at)} from the left", replace(action, columns=moved, middles=(False, False))
    for i in range(len(action.rows)):
        yield "cut", "a line left out", replace(action, rows=(*action.rows[:i], *action.rows[i + 1 :]))
    yield "cut", "left out", None


def _sewn(action: Sew) -> Otherwise:
    if len(action.sides) > 1:
        for side in action.sides:
            yield "sides", f"only side {side}", replace(action, sides=(side,))
        yield "sides", "on the line", replace(action, sides=(0,))
    elif action.sides != (0,):
        yield "sides", "on the line", replace(action, sides=(0,))
    else:
        yield "sides", "beside the line", replace(action, sides=(1,))
        yield "sides", "beside the line", replace(action, sides=(-1,))
    yield "sides", "left out", None


def _joined(action: Join, batch: Batch) -> Otherwise:
    for i, edge in enumerate(action.right):
        other = (*action.right[:i], Edge(edge.part, edge.n + 1), *action.right[i + 1 :])
        yield "take", f"edge {edge.n + 1} of part {edge.part}", replace(action, right=other)
    if action.start == "seam":
        yield "sides", "from the edge", replace(action, start="edge")
    if action.stop == "seam":
        yield "sides", "to the edge", replace(action, stop="edge")
    if action.partial:
        yield "sides", "not partial", replace(action, partial="")
    yield "sides", "left out", None
    if action.slide:
        yield "size", "slid less", replace(action, slide=action.slide - QUARTER * 2)
    left, right = action.left[-1].part, action.right[-1].part
    inside = {e.part for e in action.left}
    towards = [OPEN, right if action.toward in inside else left] if action.toward != OPEN else [left, right]
    for part in towards:
        yield "press", f"toward part {part}", replace(action, toward=part)


def _opened(action: Open, batch: Batch) -> Otherwise:
    yield "cut", "not opened", None
    yield "cut", "picked out otherwise", replace(action, picked=not action.picked)
    if isinstance(action.toward, Corner):
        yield "press", "open", replace(action, toward=OPEN)
    elif action.toward == OPEN:
        for part in action.parts[:1] or (0,):
            yield "press", f"toward part {part}", replace(action, toward=part)
    else:
        yield "press", "open", replace(action, toward=OPEN)
        others = [n for n in range(len(batch.uses)) if n != action.toward]
        if others:
            yield "press", f"toward part {others[0]}", replace(action, toward=others[0])


# -- measuring --------------------------------------------------------------------------------------------
def _as_large(right: Order, other: Order, designs: Mapping[Thing, Making]) -> bool:
    """Whether what comes out of every step is as large by either order, but for what may be off."""
    sizes = []
    for order in (right, other):
        outcomes = rehearsal(order, designs).outcomes.values()
        sizes.append(
            [size for done in outcomes for hand in done.performance.hands for size in bounds(hand, (1.0, 0.0))]
        )
    return len(sizes[0]) == len(sizes[1]) and all(abs(a - b) < NOTHING for a, b in zip(*sizes, strict=True))


class Tally:
    """How many mutants of each class were tried and noticed."""

    def __init__(self) -> None:
        self.tried = dict.fromkeys(CLASSES, 0)
        self.noticed = dict.fromkeys(CLASSES, 0)
        self.missed: list[str] = []

    def add(self, name: str, order: Order, designs: Mapping[Thing, Making], most: int | None = None) -> None:
        """Try the mutants of an order, at most so many of each class, evenly chosen."""
        right = rehearse(order, designs)
        found: dict[str, list[Mutant]] = {c: [] for c in CLASSES}
        for m in mutants(order):
            found[m.of].append(m)
        for own in found.values():
            step = 1 if most is None else max(1, len(own) // most)
            for m in own[::step]:
                noticed = rehearse(m.order, designs) != right
                if not noticed and m.of == "trim" and _as_large(order, m.order, designs):
                    continue  # it would have taken away less than may be off: nothing wrong comes of leaving it out
                self.tried[m.of] += 1
                if noticed:
                    self.noticed[m.of] += 1
                else:
                    self.missed.append(f"{m.of}: {name}, {m.text}")

    def table(self) -> str:
        """The counts, class by class."""
        rows = [f"{'class':8}{'tried':>8}{'noticed':>9}"]
        for c in CLASSES:
            share = f"{100 * self.noticed[c] / self.tried[c]:7.1f} %" if self.tried[c] else ""
            rows.append(f"{c:8}{self.tried[c]:8}{self.noticed[c]:9}{share}")
        return "\n".join(rows)


def main(arguments: list[str]) -> None:
    """Print the table for the orders of some pattern files (the examples where none is named)."""
    from patternkit.project import Project
    from patternkit.work.build import order_of

    files = [Path(a) for a in arguments if not a.startswith("--")]
    files = files or sorted((Path(__file__).parents[2] / "examples").rglob("*.pattern"))
    tally = Tally()
    for file in files:
        order, designs = order_of(Project(str(file), file.read_text(encoding="utf-8")))
        tally.add(file.stem, order, designs, most=12)
    print(tally.table())
    if "--missed" in arguments:
        print("\n".join(tally.missed))


if __name__ == "__main__":
    main(sys.argv[1:])
