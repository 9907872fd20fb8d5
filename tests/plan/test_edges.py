"""Facings, flanges, prairie points and the backs of cushions: sizes by geometry, counted, cut, rehearsed."""

from __future__ import annotations

from fractions import Fraction as F

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.checks import run
from patternkit.lengths import Length
from patternkit.plan.model import Edging
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from patternkit.work.model import EdgeFinish, Order
from tests.rehearsal.table import num


def pattern(finish: str, blocks: str = "across 4, down 5", seam: str = "1/4") -> str:
    """Blocks of 8 in with some finishing lines."""
    return f"""pattern "Edges"
    seam {seam}
fabric night dark
fabric glow light
fabric kelp medium
block wheel
    rows
        night | glow
        glow | night
    finished 8
quilt
    {blocks}
    tile
        wheel
{finish}
"""


def edges(text: str) -> tuple[Edging, ...]:
    """What is sewn to the edges."""
    return Project("edges", text).draft[0].edges


def wrong(text: str) -> list[Problem]:
    """The problems of a pattern."""
    return run(Project("edges", text))


def sizes(edge: Edging) -> list[tuple[Length, Length, int]]:
    """Pieces with how many."""
    return [(p.width, p.height, p.count) for p in edge.pieces]


def test_a_facing_is_as_long_as_the_sides_and_its_ends_are_turned_in() -> None:
    (facing,) = edges(pattern("    facing cut 2 1/2 night"))
    assert sizes(facing) == [(num("40.5"), num("2.5"), 2), (num(33), num("2.5"), 2)]
    assert (facing.shows, facing.turn) == (num(1), num("0.5"))


def test_a_finished_width_is_folded_and_has_its_seams() -> None:
    (facing,) = edges(pattern("    facing 1 night"))
    assert facing.raw == num("2.5")
    (flange,) = edges(pattern("    flange 1/4 kelp\n    binding cut 2 1/4 night"))
    assert (flange.raw, flange.shows) == (num(1), num("0.25"))


def test_flanges_lie_where_their_lines_stand() -> None:
    lines = "    flange 1/4 kelp\n    border 3 night\n    flange glow\n    border 2 kelp\n    flange 3/8 glow\n"
    found = edges(pattern(lines + "    binding cut 2 1/4 night"))
    assert [x.after for x in found] == [0, 1, 2]
    assert [(x.pieces[0].width, x.pieces[1].width) for x in found] == [
        (num("40.5"), num("32.5")),
        (num("46.5"), num("38.5")),
        (num("50.5"), num("42.5")),
    ]


def test_a_piping_goes_round_its_cord() -> None:
    """A strip round a cord of 1/8 in takes 22/7 of that, which is a little more than pi, and a seam on either side."""
    lines = "    piping 1/8 kelp\n    border 3 night\n    piping cut 1 1/4 glow\n    binding cut 2 1/4 night"
    inner, outer = edges(pattern(lines))
    assert (inner.raw, inner.shows, inner.after) == (num(1), num("0.125"), 0)
    assert 0.5 + 3.14159265 * 0.125 <= float(inner.raw) < 0.5 + 3.15 * 0.125 + 0.125
    assert [(x.width, x.height, x.count) for x in inner.pieces] == [(num("40.5"), num(1), 2), (num("32.5"), num(1), 2)]
    assert (outer.raw, outer.after) == (num("1.25"), 1)
    assert 3.14159265 * float(outer.shows) + 0.5 <= 1.25


def test_points_are_as_many_as_are_said_or_as_close_the_edge() -> None:
    (points,) = edges(pattern("    prairie-points cut 4 glow, across 12, 15 down"))
    assert points.along == (12, 15) and points.pieces[0].count == 54
    assert points.apart == (Length(F(32, 12)), Length(F(40, 15)))
    assert points.shows == num("1.75")
    (points,) = edges(pattern("    prairie-points 1 3/4 glow"))
    assert points.raw == num(4)
    assert points.along == (10, 12)  # 32 and 40 in, 3 1/2 in a point


def test_points_as_printed() -> None:
    """Points that reach 2 in are squares of 4 1/2 in: twice the height and half an inch
    (https://www.quiltingdaily.com/prairie-points-edging-lessons-mccalls-quilting/). 80 squares are 23 along the long
    sides and 17 along the short ones (http://sassypacks.blogspot.com/2012/04/prairie-points.html)."""
    (points,) = edges(pattern("    prairie-points 2 glow"))
    assert (points.raw, points.shows) == (num("4.5"), num(2))
    (points,) = edges(pattern("    prairie-points cut 4 glow, across 17, down 23"))
    assert points.pieces[0].count == 80


def test_the_halves_of_a_back_lie_over_each_other() -> None:
    (back,) = edges(pattern("    backing kelp, envelope, overlap 4", "across 2, down 2"))
    ((wide, high, count),) = sizes(back)
    assert (wide, high, count) == (num("11.25"), num("16.5"), 2)
    # as sewn: both hemmed by 1 in, over each other by 4 in, as wide as the top with its seams
    assert (wide - num(1)) * 2 - num(4) == num("16.5")
    project = Project("edges", pattern("    backing kelp, envelope, overlap 4", "across 2, down 2"))
    plan = project.quick_plan[0]
    assert plan.backing is None and plan.backing_buy is None and plan.batting is None
    assert "kelp" in plan.fabrics


FINISHES = (
    "    flange 1/4 kelp\n    border 3 night\n    flange 1/2 glow\n    facing cut 3 night",
    "    border 3 night\n    flange glow\n    binding cut 2 1/4 night",
    "    piping 1/8 glow\n    border 3 night\n    piping 3/16 kelp\n    binding cut 2 1/4 night",
    "    prairie-points cut 4 glow, across 12, down 15",
    "    border 2 night\n    prairie-points 1 1/2 glow",
    "    backing kelp, envelope",
)


def rehearsed(text: str) -> tuple[Order, tuple[str, ...]]:
    """The order with its cloth, and the kinds of its gaps."""
    project = Project("edges", text)
    order, designs = order_of(project, project.quick_plan[0])
    return order, tuple(gap.kind for gap in rehearse(order, designs))


@pytest.mark.parametrize("finish", FINISHES)
@pytest.mark.parametrize("blocks", ["across 4, down 5", "across 1, down 1", "across 7, down 9"])
def test_what_is_told_is_what_comes_out(finish: str, blocks: str) -> None:
    assert not [p.message for p in wrong(pattern(finish, blocks)) if not p.advice]
    assert rehearsed(pattern(finish, blocks))[1] == ()


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(["1/8", "1/4", "3/8", "1/2"]),
    st.sampled_from(
        ["facing cut {} night", "flange {} night", "prairie-points cut {} night", "prairie-points {} glow"]
    ),
    st.integers(12, 40),
    st.integers(1, 6),
    st.integers(1, 6),
)
def test_for_any_seam(seam: str, line: str, eighths: int, across: int, down: int) -> None:
    text = pattern(f"    {line.format(F(eighths, 8))}", f"across {across}, down {down}", seam)
    if not [p for p in wrong(text) if not p.advice]:
        assert rehearsed(text)[1] == ()


@pytest.mark.parametrize("finish", FINISHES)
def test_wrong_orders_are_found(finish: str) -> None:
    project = Project("edges", pattern(finish))
    order, designs = order_of(project, project.quick_plan[0])
    for n, edge in enumerate(order.finish):
        if not isinstance(edge, EdgeFinish):
            continue
        (piece, count), *rest = edge.pieces
        shrunk = msgspec.structs.replace(piece, width=piece.width - num(1), height=piece.height - num(1))
        strip = edge.strip - num(1) if edge.what != "prairie points" else edge.strip
        changes = {
            "edge": {"pieces": ((shrunk, count), *rest), "strip": strip},
            "taken": {"pieces": ((piece, count + 1), *rest)},
        }
        if edge.what == "prairie points":
            changes["edge"] = {"along": (edge.along[0] - 1, edge.along[1])}
        for kind, change in changes.items():
            other = (*order.finish[:n], msgspec.structs.replace(edge, **change), *order.finish[n + 1 :])
            gaps = rehearse(msgspec.structs.replace(order, finish=other), designs)
            assert kind in {gap.kind for gap in gaps}, (edge.what, kind)


@pytest.mark.parametrize(
    ("lines", "code", "words"),
    [
        ("    facing cut 2 1/2 night\n    binding cut 2 night", "said-twice", "a facing and a binding"),
        ("    binding cut 2 night\n    prairie-points cut 4 glow", "said-twice", "prairie points"),
        ("    backing kelp, overlap 4", "out-of-place", "Without envelope"),
        ("    backing kelp, envelope, overage 4", "out-of-place", "Beside envelope, overage"),
        ("    backing envelope", "not-understood", "names no fabric"),
        ("    facing cut 2 1/2", "not-understood", "names no fabric"),
        ("    flange cut 1/2 glow\n    binding cut 2 night", "edge-gaps", "nothing of the flange"),
        ("    piping cut 1/2 glow\n    binding cut 2 night", "edge-gaps", "nothing of the piping"),
        ("    prairie-points cut 3 glow, across 6, down 20", "edge-gaps", "6 points across"),
        ("    border 2 night, mitred\n    flange kelp\n    border 2 glow, mitred", "out-of-place", "no flange"),
        ("    facing cut 2 1/3 night", "cut-off-ruler", "no line of the ruler"),
        ("    facing 1 night, bias", "unknown-word", "bias"),
    ],
)
def test_mistakes(lines: str, code: str, words: str) -> None:
    found = [p for p in wrong(pattern(lines)) if p.code == code]
    assert found and any(words in p.message for p in found)


def test_the_words_stay_free_as_names() -> None:
    text = """pattern "Free"
fabric flange dark
fabric facing light
block wheel
    rows
        flange | facing
        facing | flange
    finished 8
quilt
    tile
        wheel
    flange 1/4 flange
    facing cut 2 facing
"""
    assert [p.message for p in wrong(text) if not p.advice] == []
