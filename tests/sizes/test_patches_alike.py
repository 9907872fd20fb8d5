"""Patches that are alike: columns line up, one sized patch sizes a grid, and a sum with its seams wrong is told."""

from __future__ import annotations

from fractions import Fraction

import pytest

from patternkit.checks import run
from patternkit.lengths import Length, root
from patternkit.piecing.making import Making
from patternkit.piecing.unknowns import of_piece, of_unit
from patternkit.problems import Problem
from patternkit.project import Project

HEAD = 'pattern "Groyne"\nfabric salt light\nfabric tar dark\nfabric rust medium\n\n'


def project(body: str) -> Project:
    return Project("groyne.pattern", HEAD + body)


def told(body: str) -> list[Problem]:
    return [p for p in run(project(body), guarded=False) if not p.advice]


def sizes(body: str, unit: str) -> tuple[Length, Length]:
    p = project(body)
    assert told(body) == []
    found = [p.solution.value(of_unit(unit, side)) for side in ("w", "h")]
    assert all(v is not None for v in found)
    w, h = (v.const for v in found if v is not None)
    return w, h


SQUARE = "unit sq\n    patch salt cut 4\n\n"
NINE = "block nine\n    rows\n        sq | tar | sq\n        tar | rust | tar\n        sq | tar | sq\n"


@pytest.mark.parametrize("size", ["", "    measures 11\n", "    finished 10 1/2\n"])
def test_one_sized_patch_sizes_a_nine_patch(size: str) -> None:
    assert sizes(SQUARE + NINE + size, "nine") == (Length(Fraction(21, 2)), Length(Fraction(21, 2)))


@pytest.mark.parametrize("beside", ["salt cut 3 1/2", "salt 3", "salt 3 x 3", "salt cut 3 1/2 x 3 1/2"])
def test_one_sized_patch_sizes_a_four_patch(beside: str) -> None:
    four = f"block four\n    rows\n        {beside} | tar\n        tar | salt\n"
    assert sizes(four, "four") == (Length(6), Length(6))


@pytest.mark.parametrize(
    "size, right",
    [("measures 11 1/2", "11"), ("finished 11", "10 1/2"), ("measures 10 1/2", "11"), ("finished 12", "10 1/2")],
)
def test_a_sum_with_its_seams_wrong_is_told(size: str, right: str) -> None:
    (problem,) = told(f"{SQUARE}{NINE}    {size}\n")
    assert problem.code == "patches-differ"
    (repair,) = problem.repairs
    assert repair.replacement == right and repair.span is not None
    text = f"{HEAD}{SQUARE}{NINE}    {size}\n"
    mended = text[: repair.span.start] + right + text[repair.span.end :]
    assert [p for p in run(Project("g", mended), guarded=False) if not p.advice] == []


def test_patches_that_are_meant_to_differ() -> None:
    """Corners of 2 in round a centre of 5 in: the rails take what is left. Nearer sizes are stated."""
    corner = "unit sq\n    patch salt 2\n\n"
    assert sizes(f"{corner}{NINE}    finished 9\n", "nine") == (Length(9), Length(9))
    stated = NINE.replace("tar | rust | tar", "tar | rust 4 x 4 | tar")
    assert sizes(f"{SQUARE}{stated}    measures 11 1/2\n", "nine") == (Length(11), Length(11))


def test_columns_line_up() -> None:
    """Each row has its own widths stated once; what lies below is as wide, and the rows share their height."""
    body = "block stair\n    rows\n        salt 2 | tar | salt 1\n        tar | salt | tar\n    finished 9 x 4\n"
    p = project(body)
    assert told(body) == []
    below = [p.solution.value(of_piece("stair", f"2.{n}", "w")) for n in (1, 2, 3)]
    assert [v.const for v in below if v is not None] == [Length(2), Length(6), Length(1)]


def test_a_star_needs_no_size_but_that_of_its_geese() -> None:
    goose = "unit goose\n    flying-geese tar, salt\n    finished 4 x 2\n\n"
    star = (
        "block star\n    rows\n        salt | goose | salt\n        goose turned 270 | rust | goose turned 90\n"
        "        salt | goose turned 180 | salt\n"
    )
    assert sizes(goose + star, "star") == (Length(8), Length(8))


def test_bricks_stay_bricks() -> None:
    body = "block bond\n    rows\n        salt 2 | tar 4\n        tar 4 | salt 2\n    finished 6 x 4\n"
    assert sizes(body, "bond") == (Length(6), Length(4))


def test_one_length_of_a_cut_in_rows_is_that_of_squares() -> None:
    """Four squares cut 3 1/4 beside a half-square of 6 in: they have to be cut 3 1/2."""
    body = (
        "unit large\n    half-square salt, tar\n    finished 6\n\nunit four\n    rows\n"
        "        salt cut {0} | tar cut {0}\n        tar cut {0} | salt cut {0}\n\n"
        "block mill\n    rows\n        large | four\n        four | large\n"
    )
    assert told(body.format("3 1/2")) == []
    assert "5 1/2 in" in told(body.format("3 1/4"))[0].message
    rails = (
        "block rails\n    rows\n        salt cut 2 | tar cut 3\n        tar cut 3 | salt cut 2\n    finished 4 x 8\n"
    )
    assert told(rails) == []


def test_half_a_hexagon_has_one_height() -> None:
    """Short edge 3, long edge 6, slanting sides 3: it is 3 root 3 / 2 high, 2.598."""
    half = "unit half\n    trapezoid salt, tar\n    top 3\n"
    w, h = sizes(half, "half")
    assert w == 6 and h * 2 == root(27)
    (problem,) = told(half + "    finished 2 1/4 high\n")
    assert "about 2 5/8 in" in problem.message and any("half a hexagon" in c for c in problem.causes)
    assert sizes(half + "    angle 60\n    finished 3 high\n", "half")[1] == 3


def test_plain_blocks_beside_others_of_one_size() -> None:
    post = "block post\n    patch salt\n    finished 5\n\n"
    body = f"{post}quilt\n    across 4, down 2\n    tile\n        post | tar | post turned 90\n"
    assert told(body) == []
    p = project(body)
    assert p.top is not None and (p.top.width, p.top.height) == (Length(20), Length(10))


RULED = [
    (
        "block nine\n    rows\n        {c} | {c} | {c}\n        tar | salt | tar\n        salt | tar | salt\n"
        "    finished 4 11/16\n".format(c="salt cut 2 1/16 x 2 1/16"),
        "nine",
    ),
    ("unit sq\n    patch salt cut 2 1/16\n\nblock nine\n    rows\n        sq | tar\n        tar | sq\n", "nine"),
    ("block nine\n    patch salt\n    cut 2 1/16\n", "nine"),
    ("block nine\n    strips salt cut 2 1/16 | tar cut 2 1/16\n    cut 2 1/16\n", "nine"),
    ("block nine\n    strips salt cut 2 1/16 | tar | salt\n    finished 4 11/16 x 3\n", "nine"),
]


@pytest.mark.parametrize("body, unit", RULED)
def test_a_stated_cut_is_a_size_and_what_is_tied_to_it_follows(body: str, unit: str) -> None:
    """A cut of 2 1/16 is on no line of an eighth ruler: the writer chose it, and her other patches are as large."""
    p = project(body)
    assert {p.code for p in run(project(body)) if not p.advice} == {"cut-off-ruler"}
    making = next(m for m in p.makings.values() if m.unit == unit)
    fine = Length(Fraction(33, 16))
    makings = [making, *(q.what for q in making.parts if isinstance(q.what, Making))]
    cuts = [side for m in makings for c in m.recipe.cuts for side in (c.width, c.height)]
    assert fine in cuts and Length(Fraction(17, 8)) not in cuts
    assert making.recipe.segment in (None, fine, Length(Fraction(7, 2)))
