"""Kinds of units at sizes off the ruler: what is told is what comes out when it is rehearsed, or it is refused."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from patternkit.checks import run
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of

KINDS = {
    "patches": "rows\n        a | b | a\n        b | c | b\n        a | b | a",
    "strips": "strips a | b | c",
    "log-cabin": "log-cabin a 1 3/5\n    round b, c\n    rounds 1",
    "courthouse-steps": "courthouse-steps a 1 3/5\n    round b, c\n    rounds 1",
    "half-square": "half-square a, b",
    "half-square, eight": "half-square a, b\n    method eight at a time",
    "quarter-square": "quarter-square a, b",
    "three-patch": "three-patch a, b, c",
    "square in a square": "square-in-a-square a, b",
    "one ring": "square-in-a-square a, b\n    method from triangles",
    "two rings": "square-in-a-square a, b, c\n    method from triangles",
    "three rings": "square-in-a-square a, b, c, a\n    method from triangles",
    "triangle in a square": "triangle-in-a-square a, b",
    "corners": "flipped-corners a, b\n    corner 6/5",
}
HEADS = ("units inches\n    seam 1/4", "units inches\n    seam 3/8", "units cm\n    seam 7 mm", "units mm\n    seam 6")
ROUND = ("", "    border 7/3 b\n", "    border b\n    border key, cornerstones b\n")
KEY = "unit key\n    patch c 9/4\n\n"


def pattern(kind: str, head: str, size: Fraction, beside: str, frame: str) -> str:
    """A small quilt of one kind of block, alone or with plain cloth between, framed or not."""
    metric = 1 if "inches" in head else 3 if "cm" in head else 25
    body = KINDS[kind].replace("1 3/5", str(Fraction(8, 5) * metric)).replace("6/5", str(Fraction(6, 5) * metric))
    scaled = frame.replace("7/3", str(Fraction(7, 3) * metric))
    tile = f"        one | {beside}\n        {beside} | one\n" if beside else "        one\n"
    return (
        f'pattern "Off"\n    {head}\n\nfabric a dark\nfabric b light\nfabric c medium\n\n'
        f"block one\n    {body}\n    finished {size * metric}\n\n"
        + (KEY.replace("9/4", str(Fraction(9, 4) * metric)) if "key" in frame else "")
        + f"quilt\n    across 2, down 2\n    tile\n{tile}{scaled}"
    )


def sewn_or_refused(text: str) -> bool:
    """Whether a pattern is sewn, as told; one that is refused has something offered."""
    project = Project("off.pattern", text)
    problems = [p for p in run(project) if not p.advice]
    if problems:
        assert {p.code for p in problems} <= {"cannot-round", "too-small", "border-does-not-close"}, text
        assert all(p.repairs for p in problems if p.code == "cannot-round"), text
        return False
    order, designs = order_of(project)
    done = rehearsal(order, designs)
    assert done.gaps == () and done.not_rehearsed == (), text
    return True


@settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(
    st.sampled_from(sorted(KINDS)), st.sampled_from(HEADS), st.sampled_from((3, 5, 7, 8)), st.integers(4, 12),
    st.integers(0, 6), st.sampled_from(("", "c")), st.sampled_from(ROUND),
)  # fmt: skip
def test_sizes_told_come_out(kind: str, head: str, part: int, whole: int, more: int, beside: str, frame: str) -> None:
    sewn_or_refused(pattern(kind, head, whole + Fraction(more, part), beside, frame))


@pytest.mark.parametrize("rings", ["one ring", "two rings", "three rings"])
@pytest.mark.parametrize("size", [4, 7, 9, 11, Fraction(35, 3)])
def test_rings_of_triangles_come_out_at_the_size_told(rings: str, size: Fraction) -> None:
    """What the centre is cut decides it, root 2 more in every ring."""
    assert sewn_or_refused(pattern(rings, HEADS[0], Fraction(size), "", ROUND[1]))


def test_a_centre_larger_than_its_corners_can_take_is_refused() -> None:
    """The points of a centre cut 5 lie 4.5 root 2 apart, 6.36 in, and the unit is trimmed to finish 6."""
    head = "fabric a\nfabric b\n\nunit drift\n    square-in-a-square a cut {}, b\n"
    head += "    method from triangles\n    finished 6\n"
    assert [p.code for p in run(Project("d.pattern", head.format("5"))) if not p.advice] == ["cut-too-large"]
    assert not [p for p in run(Project("d.pattern", head.format("4 3/4"))) if not p.advice]


def test_of_several_tops_that_come_out_at_once_the_others_are_left() -> None:
    """One block alone, eight at a time: one is the quilt, seven are said to be left."""
    text = "fabric a\nfabric b\n\nblock one\n    half-square a, b\n    method eight at a time\n    finished 8\n\n"
    order, designs = order_of(Project("t.pattern", text + "quilt\n    tile\n        one\n"))
    assert order.top is not None and order.steps[-1].leaves == ((order.top, 7),)
    assert rehearsal(order, designs).gaps == ()
