"""Squares flipped over the corners of a base that is cut larger and trimmed: half of what is trimmed from its width and
its height is taken from both sides of a corner, so that the square is so much larger."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.project import Project
from tests.generate.rehearsed import gaps
from tests.kinds.bench import num
from tests.kinds.text import cut_of, made

PATTERN = """
fabric night "Midnight" dark #1b2a49
fabric glow "Lamp" light #f4c95d

unit tide
    flipped-corners night{base}, glow{corner}
    corner 1
    finished 4 x 6
    method oversize

quilt
    tile
        tide
"""


def codes(base: str = "", corner: str = "") -> list[str]:
    text = PATTERN.format(base=f" cut {base}" if base else "", corner=f" cut {corner}" if corner else "")
    found = [p.code for p in run(Project("corners.pattern", text)) if not p.advice]
    return found or [gap.kind for gap, _ in gaps(text)]


def test_a_corner_is_larger_by_what_is_trimmed_from_it() -> None:
    making = made("flipped-corners night, glow", "corner 1", "finished 4 x 6", "method oversize")
    base, corner = cut_of(making, "night"), cut_of(making, "glow")
    taken = (base.width - num("4 1/2") + base.height - num("6 1/2")) / 2
    assert corner.width == num("1 1/2") + taken


@pytest.mark.parametrize("base", ["", "5 x 6 3/4", "4 3/4 x 6 1/2"])
def test_it_is_sewn_as_drawn(base: str) -> None:
    assert codes(base) == []


@pytest.mark.parametrize(
    ("base", "corner", "code"),
    [
        ("5 x 6 5/8", "", "cut-off-ruler"),
        ("5 x 6 3/4", "2 1/4", "cut-too-large"),
        ("5 x 6 3/4", "1 5/8", "cut-too-small"),
    ],
)
def test_what_moves_the_corner_is_refused(base: str, corner: str, code: str) -> None:
    assert codes(base, corner) == [code]


def test_overlapping_squares_of_geese_are_snipped() -> None:
    """Large W + 1 1/4, small H + 1 1/4: they overlap by 1 1/4 in the middle, and their tips would reach 0.38 in beyond
    the seams that cross there. http://bluepipdesigns.blogspot.com/2019/07/almost-no-waste-flying-geese.html"""
    unit = "    flying-geese night cut 5 1/4, glow cut 3 1/4\n    finished 4 x 2\n    method four at a time\n"
    head, tail = PATTERN.format(base="", corner="").split("    flipped-corners")
    text = head + unit + tail[tail.index("\nquilt") :]
    assert [p.code for p in run(Project("geese.pattern", text)) if not p.advice] == []
    assert [gap.kind for gap, _ in gaps(text)] == []
