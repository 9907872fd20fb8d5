"""Slips of a first pattern: where, what and why is said so that it can be settled without asking back."""

from __future__ import annotations

import pytest

from patternkit.checks import run
from patternkit.problems import Problem
from patternkit.project import Project
from patternkit.sizes.explain import nearer

HEAD = """pattern "First"
fabric night "Night" dark
fabric glow "Glow" light

"""
QUILT = """
quilt
    across 2, down 2
    tile
        star
    binding cut 2 1/4 night
"""


def told(body: str, quilt: str = QUILT, head: str = HEAD) -> list[Problem]:
    return run(Project("first.pattern", head + body + quilt), guarded=False)


def one(body: str) -> Problem:
    (found,) = (p for p in told(body) if not p.advice)
    return found


def test_braces_are_not_needed() -> None:
    found = told("block star {\n    row night 3 | glow 3\n    finished 6 x 3\n}\n")
    assert [(p.code, p.message) for p in found] == [
        ("odd-character", "`{` is not needed."),
        ("odd-character", "`}` is not needed."),
    ]
    assert all("indented under it" in p.causes[0] and p.repairs[0].replacement == "" for p in found)


def test_a_bracket_that_is_never_closed() -> None:
    found = one("block star\n    row (night 3 | glow 3\n    finished 6 x 3\n")
    assert (found.code, found.message) == ("stops-early", "This bracket is opened and never closed.")
    assert found.span.end - found.span.start == 1


@pytest.mark.parametrize("row", ["night 3 x 3 + glow 3 x 3", "night + glow 3 x 3", "night 3, glow 3 x 3"])
def test_pieces_joined_by_something_else_than_a_seam(row: str) -> None:
    found = one(f"block star\n    row {row}\n    finished 6 x 3\n")
    assert found.code == "no-mark"
    repair = found.repairs[0]
    assert repair.replacement is not None
    text = HEAD + f"block star\n    row {row}\n    finished 6 x 3\n" + QUILT
    mended = repair.taken(text)
    assert not [p for p in run(Project("first.pattern", mended)) if not p.advice]


def test_a_height_behind_by() -> None:
    found = one('block star\n    row night 3" by 3 | glow 3\n')
    assert (found.code, found.message) == ("unknown-word", "Between a width and a height stands `x`.")
    assert found.repairs[0].replacement == "x"


def test_a_length_below_nothing() -> None:
    found = one("block star\n    row night -3 x 3 | glow 3\n")
    assert (found.code, found.repairs[0].replacement) == ("not-understood", "")
    assert "more than nothing" in found.message


@pytest.mark.parametrize("size", ["-3", "0", "3 x -3", "2 - 3"])
def test_a_size_of_nothing(size: str) -> None:
    found = one(f"block star\n    patch night\n    finished {size}\n")
    assert (found.code, found.message) == ("too-small", "What finished says has to be more than nothing.")


def test_a_comma_in_a_tile_is_no_seam_either() -> None:
    found = told("block star\n    patch night 6\n", QUILT.replace("star", "star, star"))
    assert [p.code for p in found if not p.advice] == ["no-mark"]


def test_a_kind_among_pieces_needs_a_unit_of_its_own() -> None:
    found = one("block star\n    rows\n        night | column glow\n    finished 6\n")
    assert found.code == "reserved-word"
    assert "unit part" in found.causes[0]


def test_a_segment_longer_than_the_cloth_is_told_with_both_lengths() -> None:
    found = [
        p for p in told("block star\n    strips night 30 | glow 30\n    finished 60 x 60\n") if p.code == "too-long"
    ]
    assert (
        found[0].message == "A segment of star is cut 60 1/2 in long, and its strips are 40 in long, of which squaring "
        "up takes 1/2 in."
    )
    assert found[0].causes


def test_a_unit_of_two_kinds_is_told_a_way_out() -> None:
    found = told("block star\n    row night 3 | glow 3\n    half-square night, glow\n    finished 6 x 3\n")
    assert any(p.code == "named-twice" and "a unit of its own" in p.causes[0] for p in found)


WANDERING = """let side = 9

unit corner
    half-square night, glow
    finished side/3

unit goose
    flying-geese night, glow
    finished side/2 x side/4

block churn
    rows
        corner | glow side/3 | corner
        glow   | night       | glow
        corner | glow        | corner
    finished side

block geese
    rows
        goose | goose turned 90
        goose | goose
    finished side
"""


def test_a_block_that_contradicts_itself_is_told_by_its_own_lines() -> None:
    """One goose lies on its side in a row of upright ones; the churn block beside it has nothing to do with that."""
    quilt = "\nquilt\n    across 2, down 2\n    tile\n        churn | geese\n        geese | churn\n"
    project = Project("first.pattern", HEAD + WANDERING + quilt)
    found = [p for p in run(project, guarded=False) if not p.advice]
    assert 1 <= len(found) <= 2
    assert all("churn" not in " ".join([p.message, *p.causes]) for p in found)
    assert "Row 1 of block geese: goose is as high as goose turned 90, 4 1/2 in." in found[0].causes
    assert all(len(p.causes) <= 6 and len(set(r.text for r in p.repairs)) == len(p.repairs) for p in found)
    env = {name: value * project.pattern.settings.units.inches for name, value in project.pattern.parameters.items()}
    far, near = (
        [len(c.parts) for c in s.conflicts if c.open_at(env)] for s in (project.solution, nearer(project.solution, env))
    )
    assert len(near) <= len(far) and sum(near) < sum(far)


POINT = """
quilt
    setting on point glow
    across 2, down 2
    tile
        star
"""


def test_a_print_with_a_direction_on_point() -> None:
    head = HEAD.replace("dark", "dark directional")
    found = told("block star\n    patch night 6\n", POINT, head)
    assert [p.code for p in found if p.code == "directional-turned"] == ["directional-turned"]
    assert not [p for p in told("block star\n    patch glow 6\n", POINT, head) if p.code == "directional-turned"]


@pytest.mark.parametrize(
    ("border", "times"), [("border 5 night", 1), ("border 5 night, lengthwise", 0), ("border 5 glow", 0)]
)
def test_a_print_with_a_direction_along_the_sides(border: str, times: int) -> None:
    """Sides of 48 in are joined from strips across cloth that is 40 in wide."""
    quilt = f"\nquilt\n    across 4, down 4\n    tile\n        star\n    {border}\n"
    found = told("block star\n    patch glow 12\n", quilt, HEAD.replace("dark", "dark directional"))
    assert len([p for p in found if p.code == "directional-turned"]) == times


def test_short_sides_are_cut_upright() -> None:
    quilt = "\nquilt\n    across 2, down 2\n    tile\n        star\n    border 5 night\n"
    found = told("block star\n    patch glow 12\n", quilt, HEAD.replace("dark", "dark directional"))
    assert not [p for p in found if p.code == "directional-turned"]


@pytest.mark.parametrize("words", ["setter triangles", "setters", "side triangles", "corner setting triangles"])
def test_triangles_round_blocks_on_point_stand_behind_the_setting(words: str) -> None:
    quilt = f"quilt\n    across 2, down 2\n    tile\n        star\n    {words} glow\n"
    (found,) = (p for p in told("block star\n    patch night 6\n", quilt) if not p.advice)
    assert found.message.startswith(f"`{words}` starts no line here")
    assert "setting on point, sides stone, corners stone" in found.causes[0]


def test_strips_by_the_width_of_fabric() -> None:
    found = one("block star\n    half-square night, glow\n    finished 6\n    wof strips 3\n")
    assert found.message == "In block star, the width of fabric says nothing."
    assert "`cut 3 strips 2 1/2 night`" in found.causes[0]


@pytest.mark.parametrize(("word", "lay"), [("across", "bars turned 90 laid"), ("lengthwise", "bars turned 90 laid")])
def test_strips_are_laid_by_turning_their_unit(word: str, lay: str) -> None:
    found = one(
        "unit bars\n    strips night 2 | glow 2 | night 2\n    finished 6 x 6\n"
        f"block star\n    half-square bars laid {word}, glow\n    finished 6\n"
    )
    assert found.code == "not-understood" and found.repairs[0].replacement == lay


def test_a_kind_in_the_plural_of_all_its_words() -> None:
    found = one("block star\n    squares in a square night, glow\n    finished 6\n")
    assert found.repairs[0].replacement == "square-in-a-square"


def test_an_open_size_is_told_by_its_neighbour() -> None:
    found = one("unit hs\n    half-square night, glow\n    finished 3\nblock star\n    row hs | night | hs | glow\n")
    assert found.code == "size-unknown"
    told = [r.text for r in found.repairs]
    assert told[0].startswith("say how wide night, beside hs in star, is")
