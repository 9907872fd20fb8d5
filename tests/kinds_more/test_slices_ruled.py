"""Pieces of slices that a ruler cuts: rectangles, halves, corners. Numbers by hand from geometry; whether the unit
comes out is sewn."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from math import hypot

import pytest

from patternkit.checks import run
from patternkit.piecing.making import Making, PieceCut
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of

HEAD = "fabric foam light\nfabric kelp dark\nfabric gorse medium\n\nunit piece\n    slices foam\n    make 3\n"
ECONOMY = (
    "slice from middle of left to middle of top, kelp\n    slice from middle of top to middle of right, kelp\n"
    "    slice from middle of right to middle of bottom, kelp\n    slice from middle of bottom to middle of left, kelp"
)


def sewn(lines: str, seam: str = "1/4") -> Making:
    """The unit of those lines, once it is sewn and comes out as it is drawn."""
    project = Project("ruled.pattern", f'{HEAD}    {lines}\n\npattern "P"\n    seam {seam}\n')
    assert [p.message for p in run(project) if not p.advice] == []
    order, designs = order_of(project)
    done = rehearsal(order, designs)
    assert not done.gaps and not done.not_rehearsed
    return next(m for m in project.makings.values() if m.unit == "piece")


def sizes(cuts: tuple[PieceCut, ...]) -> list[tuple[str, str, Fraction, Fraction, int]]:
    """What is cut, shorter side first."""
    return sorted((c.fabric, c.then, *sorted((c.width.fraction, c.height.fraction)), c.count) for c in cuts)


def test_rectangles_are_cut_by_the_ruler() -> None:
    """4 in wide, cut at 1/4 and 3/4: 1, 2 and 1 in wide, and half an inch more in both directions."""
    unit = sewn("slice from 1/4 of top to 1/4 of bottom, kelp\n    slice from 3/4 of top to 3/4 of bottom, gorse\n"
                "    finished 4")  # fmt: skip
    half = Fraction(1, 2)
    assert sizes(unit.recipe.cuts) == [
        ("foam", "", 2 + half, 4 + half, 1), ("gorse", "", 1 + half, 4 + half, 1), ("kelp", "", 1 + half, 4 + half, 1),
    ]  # fmt: skip


def test_a_rectangle_between_the_lines_of_the_ruler_has_a_template() -> None:
    unit = sewn("slice from 1/3 of top to 1/3 of bottom, kelp\n    finished 4")
    assert {c.then for c in unit.recipe.cuts} == {"template"}


def test_a_square_cut_corner_to_corner() -> None:
    """The trade's 7/8 in: a seam at the right angle and 1 + root 2 of them at the sharp corners, 0.854 in at 1/4 in."""
    unit = sewn("slice from top left to bottom right, kelp right\n    finished 4")
    assert sizes(unit.recipe.cuts) == [
        (fabric, "half", Fraction(39, 8), Fraction(39, 8), 1) for fabric in ("foam", "kelp")
    ]
    assert unit.recipe.yields == 2


@pytest.mark.parametrize("seam", ["1/4", "3/8", "1/8"])
@pytest.mark.parametrize("lean", ["top left to bottom right", "bottom left to top right"])
def test_a_rectangle_cut_corner_to_corner(lean: str, seam: str) -> None:
    """Both legs hold the exact ones, which grow by s (1 + (long side + own leg) / other leg)."""
    unit = sewn(f"slice from {lean}, kelp right\n    finished 3 x 6", seam)
    s, long = float(Fraction(seam)), hypot(3, 6)
    exact = sorted((3 + s * (1 + (long + 3) / 6), 6 + s * (1 + (long + 6) / 3)))
    for cut in unit.recipe.cuts:
        assert cut.then == "half" and cut.leans == ("left" if lean.startswith("top") else "right")
        assert all(0 <= float(own) - leg < 0.5 for own, leg in zip(sorted((cut.width, cut.height)), exact, strict=True))


def test_corners_round_a_square_on_point() -> None:
    """Corners 2 in a side: squares of 2 7/8 in, two for four corners; the middle, 2 root 2 in a
    side, has a template."""
    unit = sewn(f"{ECONOMY}\n    finished 4")
    corners = [c for c in unit.recipe.cuts if c.then == "half"]
    assert sizes(tuple(corners)) == [("kelp", "half", Fraction(23, 8), Fraction(23, 8), 2)]
    assert [c.then for c in unit.recipe.cuts if c not in corners] == ["template"]


def test_whoever_says_templates_has_them() -> None:
    for more in ("method templates", "dog-ears kept"):
        unit = sewn(f"{ECONOMY}\n    finished 4\n    {more}")
        assert {c.then for c in unit.recipe.cuts} == {"template"}


def test_corners_that_would_lie_over_each_other_have_templates() -> None:
    """At 3/8 in a corner of 2 in takes 3.280 in, cut 3 3/8: its tips are 0.095 in too long, and lie on the next one."""
    unit = sewn(f"{ECONOMY}\n    finished 4", "3/8")
    assert {c.then for c in unit.recipe.cuts} == {"template"}


@pytest.mark.parametrize("seam", ["1/8", "1/4", "3/8", "1/2"])
def test_corners_anywhere_come_out(seam: str) -> None:
    for one, other, size in product(("1/4", "1/3", "2/5"), ("1/2", "1/3"), ("6", "5 x 7", "8 x 3")):
        second = f"slice from {other} of right to 2/3 of bottom, gorse"
        sewn(f"slice from {one} of left to {other} of top, kelp\n    {second}\n    finished {size}", seam)
