"""Rectangles that are cut corner to corner: along which diagonal, in the tables and in the steps."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest

from patternkit.booklet.content.cloth import cloth_cut, cutting_table
from patternkit.booklet.content.context import context
from patternkit.lengths import Length
from patternkit.piecing.making import Cloth
from patternkit.work.model import CutDiagonally

from .conftest import EXAMPLES, made, taken, text_project, told
from .test_words import example, steps, words


def test_the_triangles_of_a_leaning_rectangle_lie_along_its_diagonal() -> None:
    """From the drawing itself: the long side of a corner in the sewn unit falls or rises as its cut says."""
    for name in ("shapes-sampler", "half-rectangle", "peak-star"):
        ctx = told(example(name))
        for count in ctx.plan.counts:
            making = count.making
            ways = {c.leans for c in making.recipe.cuts} - {""}
            if not ways:
                continue
            drawn = set()
            for part in making.parts:
                if isinstance(part.what, Cloth) and len(part.what.outline) == 3:
                    shape = part.place.outline(part.what.outline)
                    sides = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(shape, (*shape[1:], shape[0]), strict=True)]
                    dx, dy = next(s for s in sides if s[0] and s[1])
                    if abs(dx) != abs(dy):
                        drawn.add("right" if dx.sign() != dy.sign() else "left")  # y runs down
            assert drawn == ways


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_no_rectangle_is_cut_in_half_without_its_diagonal(path: Path, language: str) -> None:
    ctx = told(path, language)
    for plan in ctx.plan.fabrics.values():
        for line in plan.lines:
            if line.cut.then == "half" and line.cut.width != line.cut.height:
                assert line.cut.leans


RISING, FALLING = "lower left to upper right", "upper left to lower right"


def test_tables_keep_the_two_hands_apart() -> None:
    ctx = told(example("half-rectangle"))
    cells = " ".join(row[2] for row in cutting_table("sand", ctx).rows)
    assert "each cut once corner to corner, right side up, from lower left to upper right: 30 triangles" in cells
    hands = [re.findall(rf"right side up, from {way}: (\d+) triangles", cells) for way in (RISING, FALLING)]
    assert [sum(map(int, found)) for found in hands] == [40, 40]
    assert "the first number of its size across" in str(made(example("half-rectangle")).sections)
    assert "the first number of its size across" not in str(made(example("economy")).sections)  # squares only


def test_a_border_cut_along_the_cloth_is_told_as_it_lies() -> None:
    step = next(s for s in steps(made(example("broken-dishes"))) if s.title == "Sew on border 2")
    assert "2 strips of Delft blue (A), 38 1/2 x 5 1/2 in (top and bottom of border 2)" in words(step)
    assert "2 strips of Delft blue (A), 5 1/2 x 60 1/2 in (sides of border 2)" in words(step)


def test_rows_of_one_piece_are_not_sewn_together_first() -> None:
    step = next(s for s in steps(made(example("nine-patch-on-point"))) if s.title == "Nine-patch: make 20")
    assert "one below the other" in words(step)
    assert "each row together" not in words(step)


ONE_HAND = """pattern "One hand"
    units inches
    seam 1/4
    usable width 42
fabric grass "Marram" dark
fabric sand "Sand" light
unit blade
    half-rectangle sand, grass
    finished 2 x 4
    leaning right
quilt
    across 7, down 2
    tile
        blade
"""


def test_the_diagonal_of_a_rectangle_is_told_as_it_lies_on_the_cloth() -> None:
    """Blades lie on their side in a low strip: table, step, order and drawing name the same diagonal, the other one
    than that of a blade that stands; and what is sewn of it is right."""
    ctx = context(text_project(ONE_HAND), solver=False)
    plan = ctx.plan.fabrics["grass"]
    assert all(cut.turned for strip in plan.plan.strips for cut in strip.cuts)
    table = " ".join(cutting_table("grass", ctx).rows[0])
    step = " ".join(taken(next(c for c in ctx.steps if c.making.kind == "half-rectangle"), ctx))
    for text in (table, step):
        assert "5 3/8 x 2 3/4 in" in text and "from upper left to lower right" in text
        assert "2 3/4 x 5 3/8 in" not in text and "from lower left" not in text
    halved = [a for a in ctx.order.cutting if isinstance(a, CutDiagonally)]
    assert halved and all(
        a.lies == (Length(Fraction(43, 8)), Length(Fraction(11, 4))) and a.leans == "left" for a in halved
    )
    assert {p.leans for s in cloth_cut("grass", ctx).strips for p in s.pieces} == {"left"}
    assert not ctx.rehearsed.gaps
