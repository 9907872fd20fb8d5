"""A rehearsal that notices nothing proves nothing: right orders are changed in every single decision."""

from __future__ import annotations

from collections import Counter

import msgspec

from patternkit.bench.mutate_order import CLASSES, Tally
from patternkit.checks import run
from patternkit.lengths import Length
from patternkit.piecing.batch import Batch, Thing, Use
from patternkit.piecing.keys import Key
from patternkit.piecing.making import Making, Seam, Side
from patternkit.project import Project
from patternkit.rehearsal.compare import Level, match
from patternkit.rehearsal.drawn import Designs
from patternkit.rehearsal.outcome import outcome
from patternkit.rehearsal.rehearse import rehearse
from patternkit.rehearsal.table import OnTable
from patternkit.work.build import order_of
from patternkit.work.model import (
    CutByTemplate,
    CutDiagonally,
    CutPieces,
    CutStrips,
    Cutting,
    Order,
    Step,
)
from tests.generate import pattern
from tests.rehearsal.library import CASES, Case
from tests.rehearsal.table import num

MADE = range(200, 228)
TOP = Thing(Key("top"))


def order_of_case(case: Case) -> Order:
    """A case as an order: its pieces cut, things that it takes made beforehand, what it gives taken by a top."""
    taken = Counter(u.item for u in case.batch.uses)
    cutting: list[Cutting] = []
    first = []
    for item, n in taken.items():
        if isinstance(item, Thing):
            first.append(Step(item, ((Batch((), (), ((item, n),)), 1),), rehearsed=False))
            continue
        lies = (item.width, item.height)
        whole = msgspec.structs.replace(item, form="rectangle", hand="")
        if item.form == "strip":
            cutting.append(CutStrips(item.fabric, item.height, n))
        elif item.form == "template":
            cutting.append(CutByTemplate(item, n))
        elif item.form in ("half", "quarter"):
            each = 2 if item.form == "half" else 4
            cutting.append(CutDiagonally(whole, item, -(-n // each), 1 if each == 2 else 2, item.hand, lies))
        else:
            cutting.append(CutPieces(item, n, lies))
    leaves = []
    for c in cutting:
        if isinstance(c, CutDiagonally):
            left = c.count * 2 * c.ways - taken[c.gives]
            if left:
                leaves.append((c.gives, left))
    main = Step(next(i for i, _ in case.batch.gives if isinstance(i, Thing)), ((case.batch, 1),))
    top = Batch(tuple(Use(i) for i, n in case.batch.gives for _ in range(n)), (), ((TOP, 1),))
    steps = (*first, main, Step(TOP, ((top, 1),), rehearsed=False))
    usable = {f: num(42) for f in "abcde"}
    return Order(
        "", "", Length(num("1/4")), num("1/8"), tuple(cutting), steps, TOP, (), (), case.templates, case.papers,
        usable=usable, leaves=tuple(leaves),
    )  # fmt: skip


def pressed(case: Case) -> dict[Thing, Making]:
    """The designs with every free seam pressed as the right batch presses it, so that another way can be noticed."""
    designs = Designs(case.designs, 0.25)
    done = outcome(case.batch, case.room, designs)
    found = dict(case.designs)
    for item, _ in case.batch.gives:
        if not isinstance(item, Thing) or item not in found:
            continue
        making, drawn = found[item], designs.drawn(item)
        assert drawn is not None
        for hand in done.performance.hands:
            sides = None if hand.waste or hand.rest else _as_sewn(hand, item, case, designs, making)
            if sides is not None:
                found[item] = msgspec.structs.replace(making, seams=sides)
                break
    return found


def _as_sewn(hand: OnTable, item: Thing, case: Case, designs: Designs, making: Making) -> tuple[Seam, ...] | None:
    """The design's seams, each pressed so that the hand matches."""
    items = [u.item for u in case.batch.uses]
    rough = case.batch.rough
    if match(hand, item, items, designs, rough=rough).level > Level.PRESS:
        return None
    seams = list(making.seams)
    for i, s in enumerate(seams):
        if s.pressed != "free":
            continue
        sides: tuple[Side, ...] = ("left", "right", "open")
        for side in sides:
            seams[i] = msgspec.structs.replace(s, pressed=side)
            trial = Designs({**case.designs, item: msgspec.structs.replace(making, seams=tuple(seams))}, 0.25)
            if match(hand, item, items, trial, rough=rough).level == Level.EXACT:
                break
    return tuple(seams)


def test_changed_orders_are_noticed() -> None:
    """At least 95 of 100 in every class, over the hand-written batches of every way of sewing."""
    tally = Tally()
    for name, case in CASES.items():
        right = case()
        tally.add(name, order_of_case(right), pressed(right), most=8)
    for of in CLASSES:
        assert tally.tried[of] >= 4 or of == "lay", of  # few pieces have a hand; quilts alone have what is laid on
        missed = [m for m in tally.missed if m.startswith(of)]
        assert tally.noticed[of] >= 0.95 * tally.tried[of], missed


def test_wrong_orders_of_made_patterns_are_noticed() -> None:
    """Orders of patterns that are made up, of all kinds, methods and settings, changed in every class."""
    tally = Tally()
    for seed in MADE:
        project = Project(f"made {seed}", pattern(seed))
        if any(not p.advice for p in run(project)):
            continue
        order, designs = order_of(project)
        if not rehearse(order, designs):
            tally.add(f"made {seed}", order, designs, most=3)
    assert sum(tally.tried.values()) > 400 and tally.tried["lay"] >= 4, tally.table()
    assert all(tally.noticed[c] >= 0.95 * tally.tried[c] for c in CLASSES), (tally.table(), tally.missed)
