"""Pieced borders with corners, in several sizes: every strip has its step, in time and as often as it is needed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from patternkit import api
from patternkit.booklet.content.booklet import booklet
from patternkit.booklet.content.context import context
from patternkit.document import NumberedStep
from patternkit.project import Project

MUDFLAT = """pattern "Mudflat"
    press toward the darker

fabric mud "Mud" dark
fabric foam "Foam" light

unit tooth
    half-square mud, foam
    finished 2

block plain
    patch foam 5

quilt
    across 2, down {down}
    tile
        plain
    border foam
    border tooth, cornerstones tooth
    binding cut 2 1/2 mud
{sizes}"""
SIZES = """
sizes
    runner across 2, down 1
    square across 2, down 2
    long across 2, down 3
"""


def steps(tmp_path: Path, down: int = 2, sizes: str = "", language: str = "") -> list[NumberedStep]:
    path = tmp_path / "mudflat.pattern"
    path.write_text(MUDFLAT.format(down=down, sizes=sizes), encoding="utf-8")
    whole = api.load(path)
    sisters = [whole.in_size(row.name) for row in whole.pattern.sizes]
    told = booklet(context(whole, language=language, solver=False, sisters=sisters))
    return [b for s in told.sections for b in s.blocks if isinstance(b, NumberedStep)]


def text(step: NumberedStep) -> str:
    return repr(step.blocks)


def test_a_square_quilt_has_one_strip_for_all_four_sides(tmp_path: Path) -> None:
    """Ten inches of coping and centre are five teeth of 2 in; two of the four strips then get their corners."""
    titles = [s.title for s in steps(tmp_path)]
    assert [t for t in titles if "border 2" in t] == [
        "Strip of border 2: make 4",
        "Top and bottom of border 2: make 2",
        "Sew on border 2",
    ]


def test_an_oblong_quilt_has_its_top_strips_with_and_without_corners(tmp_path: Path) -> None:
    found = steps(tmp_path, down=3)
    titles = [s.title for s in found]
    assert [t for t in titles if "border 2" in t] == [
        "Sides of border 2: make 2",
        "Top and bottom of border 2 without corners: make 2",
        "Top and bottom of border 2: make 2",
        "Sew on border 2",
    ]
    with_corners = text(found[titles.index("Top and bottom of border 2: make 2")])
    assert "1 sewn strip (top and bottom of border 2 without corners)" in with_corners


@pytest.mark.parametrize("language", ["", "de"])
def test_what_only_some_sizes_have_is_sewn_before_it_is_needed(tmp_path: Path, language: str) -> None:
    titles = [s.title for s in steps(tmp_path, sizes=SIZES, language=language)]
    about = [t for t in titles if re.search(r"border 2|Rand 2", t)]
    assert len(about) == 5
    assert len(set(about)) == 5
    assert re.match("Sew on border 2|Rand 2 annähen", about[-1])
    assert any("ohne Ecken" in t or "without corners" in t for t in about[:-1])


def test_sizes_that_share_a_step_are_named_once(tmp_path: Path) -> None:
    found = steps(tmp_path, sizes=SIZES)
    only = [m[0] for s in found for m in re.finditer(r"Only for [^.]*\.", text(s))]
    assert "Only for square." in only
    assert "Only for runner and long." in only


def test_strips_that_are_measured_are_measured_before_corners_are_sewn_on() -> None:
    """Off the ruler a border is as long as what it is sewn to, and no line of the ruler says that."""
    ebb = (
        'pattern "Ebb"\n    units cm\n    seam 7 mm\n    ruler 1/2\n\nfabric mud\nfabric foam\n\nunit gull\n'
        "    half-rectangle mud, foam\n    finished 7.5 x 15\n\nquilt\n    across 6, down 4\n    tile\n        gull\n"
        "    border 10/3 foam\n    border 7 mud, cornerstones foam\n"
    )
    told = api.make_booklet(Project("ebb.pattern", ebb))
    numbered = [b for s in told.sections for b in s.blocks if isinstance(b, NumberedStep)]
    (corners,) = (text(step) for step in numbered if "top and bottom of border 2" in step.title.lower())
    assert corners.index("Before you sew them on, measure that") < corners.index("Sew a cornerstone to each end.")
