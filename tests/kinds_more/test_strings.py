"""Strings against what follows by hand, and the rehearsal."""

from __future__ import annotations

from math import sqrt

import pytest

from patternkit.checks import run
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from tests.kinds.sewing import covers
from tests.kinds_more.test_slices import SEAMS
from tests.kinds_more.written import HEAD, made, problems_of

STRINGS = "\nblock flotsam\n    strings night 1, glow\n    finished 8\n    string cut {width}\n"


def test_the_middle_string_lies_on_the_diagonal_and_the_others_fill_both_corners() -> None:
    """From the middle of an 8 in square to a corner are 8 / root 2 = 5.657 in. Half the middle string away leaves
    5.157, in which strips that show 1 1/4 go four times, 1.289 in each."""
    unit = made(STRINGS.format(width="1 3/4"), "flotsam")
    assert covers(unit) == ""
    assert len(unit.parts) == 1 + 2 * 4
    assert [seam.pressed for seam in unit.seams] == ["right"] * 8
    step = (8 / sqrt(2) - 1 / 2) / 4
    night, *glow = unit.recipe.cuts
    assert (night.fabric, float(night.height)) == ("night", 1.5)  # 1 in and two seams
    wide = sorted({float(c.exact_height) for c in glow})
    assert wide == pytest.approx([step + 1 / 2, step + 1 / 4 + sqrt(2) / 4])  # a corner's point
    assert float(night.exact_width) == pytest.approx(8.5 * sqrt(2) + 1 / 2)  # 1/4 in more at both ends


@pytest.mark.parametrize("seam", SEAMS)
@pytest.mark.parametrize("ruler", ["1/8", "1/16"])
def test_it_comes_out_with_any_seam(seam: str, ruler: str) -> None:
    text = HEAD.format(seam=seam, ruler=ruler) + STRINGS.format(width="2") + "    make 1\n"
    project = Project("flotsam", text)
    assert [gap.kind for gap in rehearse(*order_of(project))] == []
    assert project.makings["flotsam"].recipe.method.plain_paper


def test_seams_that_meet_by_chance_are_no_joints_and_paper_holds_bias_edges() -> None:
    text = HEAD.format(seam="1/4", ruler="1/8") + STRINGS.format(width="2")
    text += "quilt\n    across 2, down 2\n    tile\n        flotsam | flotsam turned 90\n"
    project = Project("flotsam", text)
    assert {p.code for p in run(project)} == {"fabric-not-used"}


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ("    strings\n    finished 8\n", "lists no pieces"),
        ("    strings night, glow, sky\n    finished 8\n", "lists 3 pieces"),
        ("    strings night\n    finished 8\n    string\n", "behind string stands one width"),
        ("    strings night\n    finished 8\n    string cut 2, glow\n", "behind string stands one width"),
        ("    strings night\n    finished 8\n    string cut 1/2\n", "no room for one in each corner"),
        ("    strings night 12, glow\n    finished 8\n", "no room for one in each corner"),
    ],
)
def test_what_can_not_be_meant(lines: str, said: str) -> None:
    found = problems_of("\nblock flotsam\n" + lines)
    assert any(said in p.message for p in found), [p.message for p in found]
    assert all(p.causes for p in found)
