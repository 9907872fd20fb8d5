"""Orders with groups sewn print by print: right ones hold, and slips are told."""

from __future__ import annotations

import msgspec
import pytest

from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_from
from patternkit.work.model import LaidSheet, Order, PrintBatches

from .written import FAT, MILL, mills, pattern

PLAIN = "    across 4, down 5\n    tile\n        mill(shore)\n"
LENGTHS = "fabrics shore 12\n"
RAILS = """
unit rail(print)
    strips print | cream | print
    finished 3

block two(a, b)
    rows
        rail(a) | cream   | rail(a)
        cream   | rail(b) | a
        b       | cream   | rail(b)
    finished 9

quilt
    across 4, down 5
    tile
        two(shore, shore)
    border 2 shore
    binding cut 2 1/4 shore
"""
GEESE = """
unit goose(print)
    flying-geese print, cream
    method four at a time

block flock(print)
    column goose(print) | goose(print) | goose(print)
    finished 6 x 9

quilt
    across 4, down 5
    tile
        flock(shore)
"""


def ordered(project: Project) -> tuple[Order, object]:
    """The order of a project from its cutting plan with how its cloth is laid out, and its designs."""
    worked = order_from(project.pattern, project.plan()[0], project.sewn_roots)
    return worked.order, worked.designs


@pytest.mark.parametrize("groups", [FAT, LENGTHS])
@pytest.mark.parametrize(
    "body",
    [
        MILL + "quilt\n" + PLAIN + "    border 2 shore(3)\n",
        MILL.replace("half-square cream, print", "half-square cream, print\n    method eight at a time")
        + "quilt\n"
        + PLAIN,
        MILL.replace("half-square cream, print", "half-square cream, print\n    method from triangles")
        + "quilt\n"
        + PLAIN,
        MILL.replace("cream, print\n", "cream, print\n    method from triangles\n").replace(
            "corner(print) turned 180", "cream"
        )
        + "quilt\n"
        + PLAIN,
        MILL.replace("corner(print) turned 180", "cream") + "quilt\n" + PLAIN,
        RAILS,
        GEESE,
        "block glass(print)\n    quarter-square print, cream\n    finished 6\n"
        "quilt\n    across 3, down 3\n    tile\n        glass(shore)\n",
    ],
    ids=["numbered", "eight", "triangles", "three triangles", "three corners", "rails", "geese", "hourglasses"],
)
def test_an_order_holds_print_by_print(body: str, groups: str) -> None:
    order, designs = ordered(pattern(body, groups))
    assert any(step.prints for step in order.steps)
    assert rehearse(order, designs) == ()  # type: ignore[arg-type]


def test_what_a_step_takes_of_a_print_is_what_its_batches_say() -> None:
    """Each step's batches by prints come to all of its batches."""
    order, _ = ordered(pattern(RAILS))
    for step in order.steps:
        if step.prints:
            times = [sum(t for own in step.prints for b, t in own.times if b == n) for n in range(len(step.batches))]
            assert times == [t for _, t in step.batches]


def _moved(order: Order, change: object) -> Order:
    return msgspec.structs.replace(order, **change)  # type: ignore[arg-type]


def test_a_block_of_another_print_is_noticed() -> None:
    """One block more of print 1 and one less of print 2, though only so much is cut of each."""
    order, designs = ordered(mills(PLAIN))
    steps = list(order.steps)
    n = next(n for n, s in enumerate(steps) if s.thing.key.unit == "mill")  # type: ignore[union-attr]
    first, second, *rest = steps[n].prints
    more = PrintBatches(first.prints, ((0, first.times[0][1] + 1),))
    less = PrintBatches(second.prints, ((0, second.times[0][1] - 1),))
    steps[n] = msgspec.structs.replace(steps[n], prints=(more, less, *rest))
    gaps = rehearse(_moved(order, {"steps": tuple(steps)}), designs)  # type: ignore[arg-type]
    assert {gap.kind for gap in gaps} == {"print"}


def test_sheets_of_another_print_are_noticed() -> None:
    """What is cut of eight prints twice over is cut of seven of them, and of one that gives a block only."""
    order, designs = ordered(mills(PLAIN))
    cloth = order.layout["shore"]
    few, many = sorted(cloth.sheets, key=lambda s: len(s.prints))

    def swapped(sheet: LaidSheet, out: int, into: int) -> LaidSheet:
        return msgspec.structs.replace(sheet, prints=tuple(into if p == out else p for p in sheet.prints))

    a, b = few.prints[0], many.prints[0]
    sheets = (swapped(few, a, b), swapped(many, b, a))
    layout = {**order.layout, "shore": msgspec.structs.replace(cloth, sheets=sheets)}
    gaps = rehearse(_moved(order, {"layout": layout}), designs)  # type: ignore[arg-type]
    assert {gap.kind for gap in gaps} == {"print"}


def test_pieces_that_lie_on_no_sheet_are_noticed() -> None:
    order, designs = ordered(mills(PLAIN))
    cloth = order.layout["shore"]
    fewer = tuple(msgspec.structs.replace(s, count=s.count - 1, prints=s.prints[1:]) for s in cloth.sheets)
    layout = {**order.layout, "shore": msgspec.structs.replace(cloth, sheets=fewer)}
    assert "laid" in {gap.kind for gap in rehearse(_moved(order, {"layout": layout}), designs)}  # type: ignore[arg-type]
