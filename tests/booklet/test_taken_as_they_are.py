"""What has no step of its own is taken as it is: a row of one strip, a unit turned, a lone piece."""

from __future__ import annotations

import re

import pytest

from patternkit import api
from patternkit.checks import run
from patternkit.project import Project

HEAD = """fabric kelp "Kelp" dark
fabric milk "Milk" light

unit core
    half-square kelp, milk
    finished 6

unit aslant
    row core turned 90

"""


def steps(quilt: str, head: str = HEAD) -> dict[str, str]:
    """The steps of a booklet by their titles."""
    project = Project("kelp.pattern", head + quilt)
    assert [p.message for p in run(project, guarded=False) if not p.advice] == []
    text = api.files(project, formats=("md",))["kelp.md"].decode()
    parts = re.split(r"^### Step \d+: (.*)$", text, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


@pytest.mark.parametrize("around", ["", "    border 2 milk\n"])
def test_a_row_of_one_strip_is_taken_where_the_rows_are_joined(around: str) -> None:
    quilt = "quilt\n    layout\n        core | core | core\n        kelp 18 x 2\n        core | core | core\n"
    found = steps(quilt + around)
    assert "1 rectangle of Kelp (A), 18 1/2 x 2 1/2 in (row 2)" in found["Quilt top" if not around else "Quilt centre"]


def test_a_unit_that_is_another_one_turned_is_that_one() -> None:
    found = steps("quilt\n    layout\n        core | aslant | core\n        aslant | core | aslant\n")
    assert not any("Aslant" in title or "aslant" in text for title, text in found.items())
    assert "3 core units" in found["Row 1"] and "3 core units" in found["Row 2"]


def test_a_turned_unit_inside_a_block() -> None:
    block = "block pane\n    row aslant | core\n\n"
    found = steps(block + "quilt\n    tile\n        pane | pane\n    border 2 milk\n")
    assert "2 core units" in found["Pane: make 2"]


def test_a_lone_piece_is_taken_as_it_was_cut() -> None:
    head = HEAD + "unit slab\n    row kelp 3 x 6\n\nblock pane\n    row slab | core\n\n"
    found = steps("quilt\n    tile\n        pane | pane\n", head)
    assert "1 rectangle of Kelp (A), 3 1/2 x 6 1/2 in (slab)" in found["Pane: make 2"]


def test_texts_under_what_has_no_step_are_told() -> None:
    text = HEAD.replace("row core turned 90", 'row core turned 90\n    note "Turn it."')
    (found,) = [p for p in run(Project("k", text), guarded=False) if not p.advice]
    assert found.code == "out-of-place" and "Unit aslant is core alone" in found.message
