"""Releases as runs: what each makes, what must be ready, its pieces and templates; together they are the order."""

from __future__ import annotations

from collections import Counter

import msgspec

from patternkit.piecing.batch import Item, Piece, Thing
from patternkit.project import Project
from patternkit.rehearsal.gaps import gap_text
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from patternkit.work.model import CutDiagonally, Order
from patternkit.work.runs import RunShare, shares_of

TEXT = """pattern "Ebb and flow"
    by "Saltmarsh Sewing Room"
fabric kelp
fabric foam
fabric rust
unit drift
    half-square kelp, foam
    finished 2
    method from triangles
unit petal
    triangle-in-a-square rust, foam
    finished 4
block eddy
    rows
        drift | drift turned 90
        drift turned 270 | drift turned 180
block lull
    row petal
    finished 4
quilt
    across 4, down 3
    tile
        eddy | lull
        lull | eddy
    border 2 kelp
    binding cut 2 1/4 rust
part "First week" 2026-03-02
    makes 9 drift
part "Second week" 2026-03-09
    makes petal
    makes drift
    makes 2 eddy
part "Third week" 2026-03-16
    makes eddy
    makes top
"""


def shared(text: str = TEXT) -> tuple[Order, dict[Thing, object], tuple[RunShare, ...]]:
    """The order of a pattern in parts, its designs, and what each part is."""
    project = Project("ebb", text)
    order, designs = order_of(project)
    assert not [gap_text(g) for g in rehearse(order, designs)]
    return order, dict(designs), shares_of(order, project.pattern.parts)


def named(order: Order, designs: dict[Thing, object], counted: tuple[tuple[Thing, int], ...]) -> dict[str, int]:
    """Counts by unit."""
    return {designs[thing].unit: n for thing, n in counted}  # type: ignore[attr-defined]


def test_each_part_makes_what_it_says() -> None:
    order, designs, (first, second, third) = shared()
    assert named(order, designs, first.makes) == {"drift": 9}
    assert named(order, designs, second.makes)["eddy"] == 2
    assert named(order, designs, second.ready) == {}  # what it takes of earlier parts it makes enough of itself
    assert named(order, designs, third.ready)["drift"] == 16
    assert named(order, designs, third.ready)["eddy"] == 2
    assert [s.finishes for s in (first, second, third)] == [False, False, True]


def test_the_parts_add_up_to_the_order() -> None:
    order, _, parts = shared()
    runs = Counter[tuple[int, int]]()
    pieces = Counter[Item]()
    squares = Counter[Piece]()
    for share in parts:
        for run in share.runs:
            for batch, times in run.batches:
                runs[run.step, batch] += times
        pieces.update(dict(share.pieces))
        for action, n in share.squares:
            squares[action.gives] += n
    assert runs == {(n, b): t for n, step in enumerate(order.steps) for b, (_, t) in enumerate(step.batches)}
    whole = Counter[Item]()
    for step in order.steps:
        whole.update({i: n for i, n in step.takes.items() if isinstance(i, Piece)})
    assert pieces == whole
    assert squares == {a.gives: a.count for a in order.cutting if isinstance(a, CutDiagonally)}


def test_templates_go_with_the_part_that_uses_them() -> None:
    order, _, (first, second, third) = shared()
    assert order.templates
    assert set(second.templates) == set(order.templates)
    assert not first.templates and not third.templates


def test_what_no_part_makes_is_a_part_of_its_own() -> None:
    _, _, parts = shared(TEXT.replace("    makes top\n", ""))
    assert len(parts) == 4 and parts[-1].finishes
    assert parts[-1].makes


def test_a_run_before_its_time_is_noticed() -> None:
    project = Project("ebb", TEXT)
    order, designs = order_of(project)
    early = tuple(msgspec.structs.replace(r, release=0) if r.release == 2 else r for r in order.runs)
    first = tuple(msgspec.structs.replace(r, release=2) if r.release == 0 else r for r in early if r not in order.runs)
    moved = msgspec.structs.replace(order, runs=(*early, *first))
    assert {g.kind for g in rehearse(moved, designs)} & {"run", "runs"}
