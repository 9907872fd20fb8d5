"""Mirrored units: the same making turned where a turn gives it, otherwise a new one that is its mirror
image."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.lengths import Length
from patternkit.piecing.keys import AnyKey, Key
from patternkit.piecing.making import Making, Place
from patternkit.piecing.reflect import corner_place, mirror, patches
from tests.kinds.bench import Desk, one
from tests.kinds.sewing import covers
from tests.kinds.test_sewing_strips import sides_of


def image_of(making: Making) -> object:
    """What the making shows in a mirror, its bounding box at the origin."""
    return patches(making, Place(making.width, mirrored=True))


@pytest.mark.parametrize(
    ("kind", "line", "size", "turn"),
    [
        ("patch", "night", "3 x 4", 0),
        ("half-square", "night, glow", "3", 90),
        ("quarter-square", "night, glow", "3", 0),
        ("quarter-square", "night, night, glow, glow", "3", 270),
        ("flying-geese", "night, glow", "4 x 2", 0),
        ("square-in-a-square", "night, glow, stone", "4", 0),
        ("triangle-in-a-square", "night, glow", "4", 0),
        ("half-rectangle", "night, glow", "3", 90),
    ],
)
def test_the_same_unit_turned(kind: str, line: str, size: str, turn: int) -> None:
    making = one(kind, line, finished=size)
    assert mirror(making) == (making, turn)
    assert patches(making, corner_place(making.outline, turn)) == image_of(making)


@pytest.mark.parametrize(
    ("kind", "line", "size"),
    [
        ("half-rectangle", "night, glow", "3 x 6"),
        ("flying-geese", "night, glow, stone", "4 x 2"),
        ("three-patch", "night, glow, stone", "3"),
        ("quarter-square", "night, glow, stone, sea", "3"),
        ("triangle-in-a-square", "night, glow, stone", "4"),
    ],
)
def test_another_unit(kind: str, line: str, size: str) -> None:
    making = one(kind, line, finished=size)
    image, turn = mirror(making)
    assert turn == 0 and image is not making and image.key == Key("it", mirrored=True)
    assert patches(image) == image_of(making) != patches(making)
    assert not covers(image)
    sides_of(image)
    again, turn = mirror(image)
    assert (again.key, turn) == (Key("it"), 0) and patches(again) == patches(making)
    assert again.recipe == making.recipe and again.seams == making.seams


def test_a_mirrored_half_rectangle_leans_the_other_way() -> None:
    right = one("half-rectangle", "night, glow", finished="3 x 6", leaning="right")
    left = one("half-rectangle", "night, glow", finished="3 x 6", leaning="left")
    image, _ = mirror(right)
    assert patches(image) == patches(left)
    assert image.seams[0].start == left.seams[0].start
    assert {c.leans for c in image.recipe.cuts} == {c.leans for c in left.recipe.cuts} == {"left"}


def test_symmetrical_only_with_a_turn_of_another_fabric_is_not_the_same() -> None:
    """Shapes alone do not decide: the fabrics must come back too."""
    assert (
        mirror(one("flipped-corners", "night, glow, stone", finished="4", corner="1", at="top left, bottom right"))[1]
        == 90
    )
    image, _ = mirror(
        one("flipped-corners", "night, glow, stone", finished="4 x 6", corner="1", at="top left, bottom right")
    )
    assert image.key == Key("it", mirrored=True)


UNITS = (
    ("half", "half-square", "night, glow"),
    ("three", "three-patch", "night, glow, stone"),
    ("lean", "half-rectangle", "night, sea"),
    ("four", "quarter-square", "night, glow, stone, sea"),
)


@given(
    st.lists(
        st.lists(
            st.tuples(st.integers(0, 3), st.sampled_from((0, 90, 180, 270)), st.booleans()),
            min_size=2,
            max_size=4,
        ),
        min_size=2,
        max_size=4,
    ).filter(lambda r: len({len(x) for x in r}) == 1)
)
@settings(max_examples=30, deadline=None)
def test_mirrored_blocks(rows: list[list[tuple[int, int, bool]]]) -> None:
    """A block of turned and mirrored units, mirrored: every patch where a mirror would put it, units
    shared."""
    desk = Desk()
    for name, kind, line in UNITS:
        desk.unit(name, kind, line, finished="2")
    lines = [" | ".join(UNITS[i][0] + (" mirrored" if m else "") + f" turned {t}" for i, t, m in row) for row in rows]
    desk.unit("block", "rows", *lines)
    making = desk.made("block")
    assert not covers(making)
    known: dict[AnyKey, tuple[Making, int]] = {}
    image, turn = mirror(making, known)
    assert patches(image, corner_place(image.outline, turn)) == image_of(making)
    if image is not making:
        sides_of(image)
        inner = {id(p.what): p.what.key for p in image.parts}
        assert len(set(inner.values())) == len(inner), "every use of a mirrored unit shares one making"
        assert len(making.parts) == len(image.parts) and len(making.seams) == len(image.seams)


def test_a_mirrored_piece_in_a_row_is_its_own_making() -> None:
    desk = Desk()
    desk.unit("lean", "half-rectangle", "night, glow", finished="2 x 4")
    desk.unit("pair", "row", "lean | lean mirrored")
    pair = desk.made("pair")
    first, second = (p.what for p in pair.parts)
    assert (first.key, second.key) == (Key("lean"), Key("lean", mirrored=True))
    assert mirror(pair)[1] == 0 and mirror(pair)[0] is pair, "the pair is its own mirror image"


def test_pressing_is_mirrored() -> None:
    """Toward glow stays toward glow: the parts on either side of a seam keep their sides, and it runs the
    other way."""
    made = one("rows", "night 1 x 1 > glow 2", "stone", row_marks="<", finished="3 x 4")
    image, turn = mirror(made)
    assert turn == 0
    assert [(s.start, s.end, s.left, s.right, s.pressed) for s in image.seams] == [
        ((Length(2), Length(0)), (Length(2), Length(1)), (0,), (1,), "right"),
        ((Length(0), Length(1)), (Length(3), Length(1)), (0, 1), (2,), "left"),
    ]
    sides_of(image)


def test_a_row_turned_half_round_is_its_mirror_image() -> None:
    made = one("row", "night 1 > glow 2 < stone 3", finished="6 x 1")
    assert mirror(made) == (made, 180)
