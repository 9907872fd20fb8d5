"""Rounded corners: the length of the edge, its bias binding, its words, its rehearsal, and what is refused."""

from __future__ import annotations

from math import pi

import msgspec
import pytest

from patternkit.checks import run
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from patternkit.work.model import Bind, Order, RoundedCorners
from tests.plan.test_edges import pattern
from tests.rehearsal.table import num

ROUNDED = "    border 4 night\n    edge rounded 3\n    binding cut 2 1/4 glow, bias"


def problems(finish: str) -> list[tuple[str, bool]]:
    """Code and whether it is advice, of each problem that speaks of the edge."""
    return [
        (p.code, p.advice) for p in run(Project("edges", pattern(finish))) if p.code.startswith("edge-") or not p.advice
    ]


@pytest.fixture(scope="module")
def rounded() -> tuple[Project, Order]:
    """A quilt of 40 x 48 with corners rounded by 3."""
    project = Project("edges", pattern(ROUNDED))
    return project, order_of(project, project.quick_plan[0])[0]


def test_the_edge_is_as_long_as_its_sides_and_arcs(rounded: tuple[Project, Order]) -> None:
    binding = rounded[0].draft[0].binding
    assert binding is not None and binding.bias
    true = 2 * (40 + 48) - 8 * 3 + 2 * pi * 3
    assert true <= float(binding.perimeter) <= true + 1 / 8 + 2 * pi * 3 / 2000
    assert binding.gives >= binding.total


def test_nothing_else_is_cut_otherwise(rounded: tuple[Project, Order]) -> None:
    square = Project("edges", pattern(ROUNDED.replace("    edge rounded 3\n", ""))).draft[0]
    assert square.binding is not None and square.binding.perimeter == num(176)
    plan = rounded[0].draft[0]
    cuts = [[(c.cut.width, c.cut.height, c.count) for c in x.lines if c.fabric == "night"] for x in (plan, square)]
    assert cuts[0] == cuts[1]
    assert (plan.backing, plan.batting) == (square.backing, square.batting)


def test_the_order_is_rehearsed_and_a_wrong_one_noticed(rounded: tuple[Project, Order]) -> None:
    project, order = rounded
    assert RoundedCorners(num(3), num("3.25")) in order.finish
    designs = order_of(project, project.quick_plan[0])[1]

    def gaps(*finish: object) -> set[str]:
        return {gap.kind for gap in rehearse(msgspec.structs.replace(order, finish=finish), designs)}

    assert "edge" not in gaps(*order.finish)
    assert "edge" in gaps(RoundedCorners(num(3), num(3)))
    assert "edge" in gaps(RoundedCorners(num(22), num("22.25")))
    (bind,) = (x for x in order.finish if isinstance(x, Bind))
    short = msgspec.structs.replace(bind, perimeter=num(170))
    assert "edge" in gaps(RoundedCorners(num(3), num("3.25")), short)
    assert "edge" in gaps(RoundedCorners(num(3), num("3.25")), msgspec.structs.replace(bind, count=5))


@pytest.mark.parametrize(
    ("finish", "found"),
    [
        (ROUNDED, []),
        ("    edge rounded 3\n    border 4 night", [("edge-shape", False)]),
        ("    border 4 night\n    edge rounded 3\n    binding cut 2 1/4 glow", [("edge-shape", False)]),
        ("    border 4 night\n    edge rounded 3\n    facing cut 2 1/2 glow", [("edge-shape", False)]),
        ("    border 4 night\n    flange 1/4 glow\n    edge rounded 3", [("edge-shape", False)]),
        ("    flange 1/4 glow\n    border 4 night\n    edge rounded 3", []),
        ("    border 4 night\n    edge rounded 21", [("edge-shape", False)]),
        ("    border 4 night\n    edge rounded 0", [("edge-shape", False)]),
        ("    border 4 night\n    edge", [("not-understood", False)]),
        ("    border 4 night\n    edge 3", [("not-understood", False)]),
        ("    border 4 night\n    edge scallops 6", [("not-understood", False)]),
        ("    border 4 night\n    edge pointed", [("not-understood", False)]),
        ("    border 4 night\n    edge night, rounded 3", [("out-of-place", False)]),
    ],
)
def test_what_an_edge_can_not_do_is_told(finish: str, found: list[tuple[str, bool]]) -> None:
    assert sorted(problems(finish)) == sorted(found)


def test_the_arc_may_reach_past_the_border_as_long_as_no_piece_is_cut() -> None:
    """Behind a border b wide the corner of the blocks is cut where (R - b) root 2 is more than R: R = 3.41 b."""
    assert problems("    border 2 night\n    edge rounded 6 3/4") == []
    assert problems("    border 2 night\n    edge rounded 6 7/8") == [("edge-cuts", True)]
    assert problems("    edge rounded 2") == [("edge-cuts", True)]


def test_the_offer_puts_the_binding_on_the_bias() -> None:
    text = pattern("    border 4 night\n    edge rounded 3\n    binding cut 2 1/4 glow")
    (problem,) = (p for p in run(Project("edges", text)) if p.code == "edge-shape")
    mended = problem.repairs[0].taken(text)
    assert "binding cut 2 1/4 glow, bias" in mended
    assert not [p for p in run(Project("edges", mended)) if p.code == "edge-shape"]
