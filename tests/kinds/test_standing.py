"""A unit where cloth can stand: sewn in whole, its size tied to its place; sewn on simulated cloth as it is told."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import patternkit
from patternkit.lengths import SQRT2, Length
from patternkit.piecing.making import Making
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of
from tests.kinds.sewing import covers
from tests.kinds.text import HEAD, codes, problems
from tests.setting.build import seams_meet

NINE = """
unit nine
    rows
        night | glow  | night
        glow  | stone | glow
        night | glow  | night
    finished {}
"""
QUILT = """
quilt
    across 2, down 2
    tile
        it
    binding cut 2 1/4 night
"""


def block(body: str, *settings: str) -> tuple[Project, Making]:
    """A quilt of a block `it`, which passes its check, and the block."""
    project = Project("it.pattern", HEAD.format(settings="\n    ".join(settings or ("seam 1/4",))) + body + QUILT)
    assert not [p.message for p in patternkit.check(project) if not p.advice]
    return project, project.makings["it"]


def gaps(project: Project) -> list[str]:
    """What does not come out when it is sewn as it is told."""
    order, designs = order_of(project)
    found = rehearsal(order, designs)
    assert not found.not_rehearsed
    return [gap.kind for gap in found.gaps]


def test_a_nine_patch_on_its_point() -> None:
    """The block is root 2 as wide as what stands in it; the triangles are cut for the centre's raw edge."""
    project, it = block(NINE.format(6) + "\nblock it\n    square-in-a-square nine, stone\n")
    assert it.width == Length(6) * SQRT2
    (cut,) = it.recipe.cuts
    assert cut.fabric == "stone" and float(cut.exact_width) == pytest.approx(5.0962, abs=5e-5)
    assert isinstance(it.parts[0].what, Making) and it.parts[0].place.turned == 45
    assert not covers(it)
    seams_meet(it)
    assert gaps(project) == []


@pytest.mark.parametrize(
    ("lines", "said", "width"),
    [
        (("float 1/2",), 6, Length(6) * SQRT2 + 1),
        (("finished 9 1/2", "float 1/2"), 6, Length(Fraction(19, 2))),
        (("finished 10", "float"), 6, Length(10)),
    ],
)
def test_a_centre_that_floats(lines: tuple[str, ...], said: int, width: Length) -> None:
    """Its points lie so far inside, and the block is so much larger; or as far as what is said of both leaves."""
    body = NINE.format(said) + "\nblock it\n    square-in-a-square nine, stone\n" + "".join(f"    {x}\n" for x in lines)
    project, it = block(body)
    assert abs(float(it.width - width)) < 0.02
    centre = it.parts[0]
    points = centre.place.outline(centre.what.outline)
    room = min(p[1] for p in points)
    assert abs(float(room - (it.width - Length(6) * SQRT2) / 2)) < 1e-9
    assert not covers(it)
    assert gaps(project) == []


def test_a_plain_centre_floats_too() -> None:
    project, it = block("\nblock it\n    square-in-a-square night, glow\n    finished 9\n    float 1/2\n")
    assert it.width == Length(9)
    assert not covers(it)
    assert gaps(project) == []


seams = st.sampled_from(["1/4", "3/8", "1/8", "5/16"])


@given(seam=seams, size=st.integers(4, 14).map(lambda n: Fraction(3 * n, 4)), room=st.integers(0, 8))
@settings(max_examples=8, deadline=None)
def test_any_centre_by_geometry_and_by_sewing(seam: str, size: Fraction, room: int) -> None:
    line = f"    float {Fraction(room, 8)}\n" if room else ""
    body = NINE.format(size) + f"\nblock it\n    square-in-a-square nine turned 90, glow\n{line}"
    project, it = block(body, f"seam {seam}")
    assert not covers(it)
    seams_meet(it)
    assert gaps(project) == []


def test_two_rounds_stand_upright_again() -> None:
    project, it = block(NINE.format(6) + "\nblock it\n    square-in-a-square nine, stone, night\n")
    assert it.width == Length(12)
    assert gaps(project) == []


def test_sizes_that_do_not_agree_are_told() -> None:
    body = NINE.format(6) + "\nblock it\n    square-in-a-square nine, stone\n    finished 12\n"
    found = [p for p in problems(body) if not p.advice]
    assert [p.code for p in found] == ["claim-differs"]
    assert "root 2" in " ".join((found[0].message, *found[0].causes))


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("half-square nine, stone\n    finished 6", "must-be-cloth"),
        ("strips nine | stone\n    finished 9 x 6", "must-be-cloth"),
        ("patch nine", "must-be-cloth"),
    ],
)
def test_where_nobody_sews_one(line: str, code: str) -> None:
    """The message says what to write instead."""
    found = problems(NINE.format(6) + f"\nblock it\n    {line}\n")
    assert [p.code for p in found] == [code]
    assert found[0].causes


def test_flipping_over_a_floating_centre() -> None:
    body = "\nblock it\n    square-in-a-square night, glow\n    finished 9\n    float 1/2\n    method stitch and flip\n"
    assert codes(body) == ["method-cannot"]
    twice = body.replace("float 1/2", "float 1/2 3").replace("    method stitch and flip\n", "")
    assert codes(twice) == ["not-understood"]
