"""Sizes as sewn, reckoned by hand: seam 1/4 in, a ruler with eighths."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.lengths import Length
from patternkit.piecing.making import Making
from patternkit.piecing.workshop import Workshop
from patternkit.pressing.statements import press_making
from patternkit.project import Project
from tests.sewn.table import Table, extent, inches, likeness, project_of, sewn

CABIN = "block cabin\n    log-cabin a 2\n    round b, c\n    rounds 3\n    finished 12\n\n"
NINE = "block nine\n    rows\n        a | b | a\n        b | a | b\n        a | b | a\n    finished 5\n\n"
QUILT = "quilt\n    across {0}, down {0}\n    tile\n        {1}\n"


def cuts(making: Making) -> list[tuple[Length, Length]]:
    """Shorter side first, in the order of cutting."""
    return [(min(c.width, c.height), max(c.width, c.height)) for c in making.recipe.cuts]


def clean(project: Project) -> None:
    """It comes out as told at every level, and is what was designed."""
    assert sewn(project).faults == [] and likeness(project) == []


def size(project: Project) -> tuple[Length, Length]:
    assert project.top is not None
    return project.top.width, project.top.height


def test_log_cabin_gives_up_in_its_outer_logs() -> None:
    """Raw 2 1/6 is cut 2 1/4; two rounds are 2 + 4 x 1 3/4 = 9; the last logs show (12 - 9) / 2 and are cut 2."""
    project = project_of(CABIN + QUILT.format(2, "cabin"))
    cabin = project.makings["cabin"]
    lengths = ("2 1/2", "4 1/4", "4 1/4", "6", "6", "7 3/4", "7 3/4", "9 1/2", "9 1/2", "11", "11", "12 1/2")
    assert [long for _, long in cuts(cabin)[1:]] == [inches(x) for x in lengths]
    assert [short for short, _ in cuts(cabin)[1:]] == [inches("2 1/4")] * 8 + [inches("2")] * 4
    assert (cabin.width, cabin.height) == (12, 12) and size(project) == (24, 24)
    clean(project)


def test_courthouse_steps_do_so_too() -> None:
    project = project_of(CABIN.replace("log-cabin", "courthouse-steps"))
    assert {short for short, _ in cuts(project.makings["cabin"])[-4:]} == {Length(2)}
    assert project.makings["cabin"].width == 12
    clean(project)


def test_nine_patch_is_squared_up() -> None:
    """Three of 1 3/4 are 5 1/4; no end piece has a size of its own; 1/8 is trimmed from each side."""
    project = project_of(NINE + QUILT.format(4, "nine"))
    nine = project.makings["nine"]
    assert set(cuts(nine)) == {(inches("2 1/4"), inches("2 1/4"))}
    assert nine.recipe.sewn == (inches("5 3/4"), inches("5 3/4"))
    assert nine.recipe.trim_to == (inches("5 1/2"), inches("5 1/2"))
    assert [extent(p)[0] for p in nine.parts[:3]] == [inches(x) for x in ("1 5/8", "1 3/4", "1 5/8")]
    assert size(project) == (20, 20)
    clean(project)


def test_nine_patch_beside_joints_at_thirds_spreads() -> None:
    """The lines of the second block lie at thirds of 5 in whatever happens, and would be missed by 1/24 in or more."""
    other = "block bars\n    rows\n        hs | hs | hs\n        hs | hs | hs\n        hs | hs | hs\n\n"
    half = "unit hs\n    half-square a, b\n\n"
    grid = "quilt\n    across 2, down 2\n    tile\n        nine | bars\n        bars | nine\n"
    project = project_of(half + other + NINE + grid)
    assert project.makings["nine"].width == project.makings["bars"].width == inches("5 1/4")
    assert project.makings["nine"].recipe.trim_to is None
    assert {c.how for c in project.sewn.changes} == {"spread"}
    clean_of_slants(project)
    told = [p for p in run(project) if p.code == "off-ruler" and "lock nine" in p.message]
    assert told[0].causes[0] == "Block nine finishes 5 1/4 in wide and high instead of 5 in."
    assert {r.replacement for r in told[0].repairs} == {"4 7/8", "5 1/4"}


def clean_of_slants(project: Project) -> None:
    """Half-squares are trimmed to a size on the ruler; the blocks made of them are as large as what they hold."""
    for key, making in project.makings.items():
        if making.kind == "half-square":
            assert making.recipe.trim_to is not None, key
            assert all(side.on_grid(project.pattern.settings.ruler) for side in making.recipe.trim_to)
    assert likeness(project) == []


def test_sashing_spreads_and_the_border_gives_up() -> None:
    """Sashing and cornerstones are cut 1 7/8 and show 1 3/8; the centre is 23 1/2; the border (28 - 23 1/2) / 2."""
    four = "block four\n    rows\n        a | b\n        b | a\n    finished 6\n\n"
    frame = "    sashing 1 1/3 c, cornerstones b\n    border 2 1/3 a\n"
    project = project_of(four + QUILT.format(3, "four") + frame)
    top = project.top
    assert top is not None
    centre = top.parts[0].what
    assert isinstance(centre, Making) and (centre.width, centre.height) == (inches("23 1/2"), inches("23 1/2"))
    assert set(cuts(top)) == {(inches("2 3/4"), Length(24)), (inches("2 3/4"), inches("28 1/2"))}
    assert size(project) == (28, 28)
    clean(project)


def test_two_patches_over_one() -> None:
    """3 7/8 and 7 1/4 sew to 10 5/8; the lower piece is plain and cut 10 5/8; 1/16 is trimmed from each side."""
    mix = "block mix\n    rows\n        a 10/3 x 10/3 | b 20/3 x 10/3\n        b 10 x 20/3\n\n"
    project = project_of(mix + QUILT.format(2, "mix"))
    made = project.makings["mix"]
    assert cuts(made) == [
        (inches("3 7/8"), inches("3 7/8")),
        (inches("3 7/8"), inches("7 1/4")),
        (inches("7 1/4"), inches("10 5/8")),
    ]
    assert made.recipe.trim_to == (inches("10 1/2"), inches("10 1/2"))
    assert size(project) == (20, 20)
    clean(project)


def test_half_square_is_trimmed_to_a_line_of_the_ruler() -> None:
    """From squares of 3 1/4 it comes out 3 1/4 - root(2)/4 = 2.896; 2 5/6 is on no ruler: it is trimmed to 2 7/8."""
    project = project_of("unit half\n    half-square a, b\n    finished 7/3\n")
    half = project.makings["half"]
    assert cuts(half) == [(inches("3 1/4"), inches("3 1/4"))] * 2
    assert half.recipe.sewn is not None and float(half.recipe.sewn[0]) == pytest.approx(2.896, abs=5e-4)
    assert half.recipe.trim_to == (inches("2 7/8"), inches("2 7/8")) and half.width == inches("2 3/8")
    (told,) = [p for p in run(project) if p.code == "off-ruler"]
    assert {r.replacement for r in told.repairs} == {"2 1/4", "2 3/8"}


def test_coping_is_trimmed_to_what_the_ring_needs() -> None:
    """A centre of 8 root(2) = 11.31, raw 11.81; the coping is cut up to 7/8, sewn 12.56, and trimmed to 12 1/2."""
    text = (
        "block star\n    patch a 8\nunit goose\n    flying-geese c, b\n    finished 4 x 2\nunit post\n    patch b 2\n"
        "quilt\n    setting on point c\n    across 1, down 1\n    tile\n        star\n"
        "    border b\n    ring\n        goose\n        post\n"
    )
    project = project_of(text)
    ring = project.top
    assert ring is not None and size(project) == (16, 16)
    coping = ring.parts[0].what
    assert isinstance(coping, Making) and coping.width == 12
    assert coping.recipe.trim_to == (inches("12 1/2"), inches("12 1/2"))
    assert coping.recipe.sewn is not None and float(coping.recipe.sewn[0]) == pytest.approx(12.5637, abs=5e-4)
    assert {min(c.width, c.height) for c in coping.recipe.cuts} == {inches("7/8")}


def test_a_plain_block_beside_a_grown_one_grows_with_it() -> None:
    """A row ties them, and no seam does: the equations are solved again."""
    text = (
        "unit hs\n    half-square a, b\n\nblock star\n    rows\n        hs | hs | hs\n        hs | hs | hs\n"
        "        hs | hs | hs\n    finished 5\n\nblock stone\n    patch c\n    finished 5\n\n"
        "quilt\n    across 2, down 2\n    tile\n        star | stone\n        stone | star\n"
    )
    project = project_of(text)
    assert project.makings["stone"].width == inches("5 1/4") and size(project) == (inches("10 1/2"), inches("10 1/2"))


def test_a_size_said_of_the_quilt_is_not_overruled() -> None:
    text = (
        "unit hs\n    half-square a, b\n    finished 7/3\n\nblock star\n    rows\n        hs | hs\n        hs | hs\n\n"
        "quilt\n    layout\n        star\n    finished 14/3\n"
    )
    problems = [p for p in run(project_of(text)) if not p.advice]
    assert [p.code for p in problems] == ["cannot-round"] and problems[0].repairs


def test_on_the_ruler_nothing_is_touched() -> None:
    project = project_of(NINE.replace("finished 5", "finished 6") + QUILT.format(2, "nine"))
    assert project.sewn.as_solved and project.designed is project.makings


@pytest.mark.parametrize("block", [CABIN + QUILT.format(2, "cabin"), NINE + QUILT.format(4, "nine")])
def test_the_table_notices_cuts_that_are_rounded_by_themselves(block: str) -> None:
    """Cuts rounded up while all other sizes stay those that were solved: edges do not meet."""
    project = project_of(block)
    shop = Workshop(project.pattern, project.sizing, project.solution, press_making)
    table = Table(project)
    for making in shop.make_all().values():
        table.sew(making)
    assert table.faults
