"""Sashing and triangles on point, by geometry: every size covers the quilt exactly; cuts and counts follow from it."""

from __future__ import annotations

from collections import Counter

import pytest

from patternkit.checks import run
from patternkit.lengths import SQRT2, ZERO, Length
from patternkit.piecing.names import CORNER_TRIANGLE, CORNERSTONE, END_TRIANGLE, LONG_SASHING, SASHING, SIDE_TRIANGLE
from patternkit.piecing.setting.diagonals import Diagonals
from patternkit.piecing.setting.grid import BlockGrid
from patternkit.piecing.setting.on_point import counts
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of
from tests.setting.build import covers, project, seams_meet

GRIDS = [(1, 1), (3, 1), (2, 2), (3, 4)]


def made(a: int, d: int, sashing: str, triangles: str = "c") -> Project:
    p = project(
        f"quilt\n    across {a}, down {d}\n    tile\n        nine\n        plain\n"
        f"    setting on point, triangles {triangles}\n    sashing {sashing}\n"
    )
    assert [x.message for x in run(p) if not x.advice] == []
    assert p.top is not None
    covers(p.top)
    seams_meet(p.top)
    return p


def cut(p: Project) -> Counter[object]:
    """How many are cut, by name."""
    found: Counter[object] = Counter()
    for line in p.quick_plan[0].lines:
        if line.cut.name is not None:
            found[line.cut.name] += line.count
    return found


@pytest.mark.parametrize(("a", "d"), GRIDS)
@pytest.mark.parametrize("corner", ["", ", cornerstones c"])
@pytest.mark.parametrize("strip", ["1 1/2", "1/2"])
def test_edges_run_through_the_middles_of_the_outer_cornerstones(a: int, d: int, corner: str, strip: str) -> None:
    p = made(a, d, f"{strip} a{corner}")
    pitch = 6 + Length("3/2" if strip == "1 1/2" else strip)
    assert (p.top.width, p.top.height) == (SQRT2 * pitch * a, SQRT2 * pitch * d)


@pytest.mark.parametrize(("a", "d"), GRIDS)
@pytest.mark.parametrize("corner", ["", ", cornerstones c"])
@pytest.mark.parametrize("strip", ["1/2", "2 1/2"])
def test_inner_sashing_ends_on_the_edge(a: int, d: int, corner: str, strip: str) -> None:
    p = made(a, d, f"{strip} a{corner}, inner")
    s = Length("5/2" if strip == "2 1/2" else strip)
    assert (p.top.width, p.top.height) == tuple(SQRT2 * ((6 + s) * n - s) for n in (a, d))


@pytest.mark.parametrize(("a", "d"), GRIDS)
def test_counts_all_round(a: int, d: int) -> None:
    """Every block has four sashes; a lattice of so many squares has a cornerstone at each crossing."""
    blocks, sides, corners = counts(a, d)
    found = cut(made(a, d, "1 a, cornerstones b"))
    # each sash lies beside a block on both sides, or beside a block and a triangle
    neighbours = 2 * sides + corners
    assert found[SASHING] == (4 * blocks + neighbours) // 2
    inside = a * (d - 1) + d * (a - 1)
    assert found[CORNERSTONE] == inside + 2 * (a + d)
    assert found[SIDE_TRIANGLE] == -(-sides // 4)
    assert found[CORNER_TRIANGLE] == 2


def test_squares_for_triangles_are_those_of_blocks_without_sashing() -> None:
    """Between sashes a side triangle is half a block, as without: 6 in blocks take 9 3/4 and 5 1/4.

    http://phoebemoon.com/tutorials/on-point.htm
    """
    p = made(3, 4, "2 a, cornerstones b")
    cuts = {x.cut.name: x.cut for x in p.quick_plan[0].lines if x.cut.then}
    assert cuts[SIDE_TRIANGLE].exact_width == SQRT2 * 6 + (SQRT2 * 2 + 2) / 4
    assert cuts[CORNER_TRIANGLE].exact_width == SQRT2 * 3 + (SQRT2 + 2) / 4
    assert cuts[SIDE_TRIANGLE].width <= Length("39/4")


@pytest.mark.parametrize("inner", ["", ", inner"])
def test_long_strips_reach_beyond_the_edge_where_they_are_slanted(inner: str) -> None:
    """At 45 degrees a strip's raw edge reaches (1 + root 2) seams beyond its sharp corner."""
    p = made(2, 2, f"1 a{inner}")
    for line in p.quick_plan[0].lines:
        if line.cut.name == LONG_SASHING:
            assert line.cut.exact_width - Length(6) > (SQRT2 + 1) / 2
            assert line.cut.width >= line.cut.exact_width


@pytest.mark.parametrize(
    ("quilt", "words"),
    [
        ("sashing 3 a, inner", "leaves no corner triangle"),
        ("sashing 2 a, cornerstones post", "must be a fabric"),
        ("sashing lath", "ends at a cornerstone on both sides"),
        ("sashing lath, cornerstones c, inner", "ends at a cornerstone on both sides"),
    ],
)
def test_what_cannot_be_laid_is_told(quilt: str, words: str) -> None:
    p = project(
        "unit lath\n    column a | b | a\n    finished 2 x 6\n\nunit post\n    half-square a, b\n    finished 2\n\n"
        f"quilt\n    across 2, down 2\n    tile\n        nine\n    setting on point c\n    {quilt}\n"
    )
    found = [x for x in run(p) if not x.advice and x.code == "cannot-sew"]
    assert len(found) == 1 and words in found[0].message and found[0].causes


def test_pieced_sashing_with_cornerstones() -> None:
    p = project(
        "unit lath\n    column a | b | a\n    finished 2 x 6\n\n"
        "quilt\n    across 2, down 3\n    tile\n        nine\n    setting on point c\n"
        "    sashing lath, cornerstones c\n"
    )
    assert [x.message for x in run(p) if not x.advice] == []
    covers(p.top)
    seams_meet(p.top)


TRIANGLES = """unit rim
    slices b
    outline top left, top right, bottom left
    slice from 1/3 of top to 1/3 of edge 3, c
    finished {side}

unit level
    slices b
    outline middle of top, bottom right, bottom left
    finished root(2)*{side} x root(2)*{side}/2
    slice from 1/2 of edge 1 to 1/2 of edge 3, c

unit spike
    slices b
    outline middle of top, bottom right, bottom left
    finished {base} x {base}/2
    slice from middle of bottom to middle of top, c left

"""


@pytest.mark.parametrize(("a", "d"), GRIDS)
@pytest.mark.parametrize("unit", ["rim", "level", "rim mirrored", "c"])
@pytest.mark.parametrize(
    ("sashing", "side", "base"), [("", 6, 6), ("sashing 1 a, cornerstones c", 6, 6), ("sashing 1 a, inner", 5, 4)]
)
def test_pieced_triangles_lie_with_their_long_edge_outside(
    a: int, d: int, unit: str, sashing: str, side: int, base: int
) -> None:
    p = project(
        TRIANGLES.format(side=side, base=base)
        + f"quilt\n    across {a}, down {d}\n    tile\n        nine\n"
        + f"    setting on point, sides {unit}, corners spike\n    {sashing}\n"
    )
    assert [x.message for x in run(p) if not x.advice] == []
    covers(p.top)
    seams_meet(p.top)
    _, sides, corners = counts(a, d)
    needed = {c.making.unit: c.needed for c in p.quick_plan[0].counts}
    assert needed["spike"] == corners
    assert unit == "c" or needed.get(unit.split()[0], 0) == sides


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("sides rim, corners spike", "does not fit as a side triangle"),
        ("sides c, corners goose", "it is no triangle"),
        ("sides nine, corners c, float 1", "A whole block of 6 in"),
        ("sides level, corners spike, float 1", "does not fit"),
        ("sides c", "Nothing says which fabric"),
    ],
)
def test_what_is_no_triangle_of_its_place_is_told(said: str, words: str) -> None:
    p = project(
        TRIANGLES.format(side=6, base=6).replace("finished 6\n", "finished 5\n", 1)
        + f"quilt\n    across 2, down 2\n    tile\n        nine\n    setting on point, {said}\n"
    )
    assert any(words in " ".join((x.message, *x.causes)) and x.causes for x in run(p) if not x.advice)


@pytest.mark.parametrize(("a", "d"), [(1, 1), (3, 2)])
@pytest.mark.parametrize("sashing", ["", "sashing 1 a, cornerstones c"])
@pytest.mark.parametrize("corner", ["odd turned 90", "c"])
def test_whole_blocks_are_cut_through_at_the_edge(a: int, d: int, sashing: str, corner: str) -> None:
    """Each place takes a block of its own: 2 (across + down - 2) at the sides, four in corners. The edge is where it
    is with plain triangles."""
    odd = "unit odd\n    half-square a, b\n    finished 6\n\n"
    lines = f"quilt\n    across {a}, down {d}\n    tile\n        nine\n    {sashing}\n    setting on point, "
    p = project(f"{odd}{lines}sides odd, corners {corner}\n")
    assert [x.message for x in run(p) if not x.advice] == []
    covers(p.top)
    seams_meet(p.top)
    order, designs = order_of(p)
    assert list(rehearsal(order, designs).gaps) == []
    _, sides, corners = counts(a, d)
    needed = {c.making.unit: c.needed for c in p.quick_plan[0].counts}
    assert needed.get("odd", 0) == sides + (corners if corner != "c" else 0)
    plain = project(f"{lines}triangles c\n").top
    assert plain is not None and p.top is not None
    assert (p.top.width, p.top.height) == (plain.width, plain.height)


def test_triangles_of_two_fabrics_are_cut_from_two() -> None:
    p = project("quilt\n    across 2, down 2\n    tile\n        nine\n    setting on point b, sides c\n")
    cuts = {x.cut.name: x.fabric for x in p.quick_plan[0].lines if x.cut.then}
    assert (cuts[SIDE_TRIANGLE], cuts[CORNER_TRIANGLE]) == ("c", "b")


@pytest.mark.parametrize(("a", "d"), [(1, 1), (1, 3), (2, 2), (5, 4)])
def test_zigzag_columns_cover_the_quilt(a: int, d: int) -> None:
    p = project(
        f"quilt\n    across {a}, down {d}\n    tile\n        nine | plain | nine\n    setting zigzag c, sides b\n"
    )
    assert [x.message for x in run(p) if not x.advice] == []
    covers(p.top)
    seams_meet(p.top)
    assert (p.top.width, p.top.height) == (SQRT2 * 6 * a, SQRT2 * 6 * d)
    lower, full = a // 2, a - a // 2
    needed = {c.making.unit: c.needed for c in p.quick_plan[0].counts if c.making.unit in ("nine", "plain")}
    assert sum(needed.values()) == full * d + lower * (d - 1)
    gives = Counter(line.cut.name for line in p.quick_plan[0].lines for _ in range(line.gives))
    assert gives[END_TRIANGLE] == 2 * lower
    assert gives[CORNER_TRIANGLE] == 4 * full
    assert gives[SIDE_TRIANGLE] == 2 * full * (d - 1) + 2 * lower * (d - 1)


def test_a_zigzag_of_one_block_down_has_no_lower_columns() -> None:
    p = project("quilt\n    across 3, down 1\n    tile\n        nine\n    setting zigzag c\n")
    assert any("no block is left" in x.message for x in run(p))


@pytest.mark.parametrize("line", ["setting zigzag c, float 1", "setting zigzag c\n    sashing 1 a", "setting zigzag"])
def test_what_says_nothing_in_a_zigzag_is_told(line: str) -> None:
    p = project(f"quilt\n    across 3, down 2\n    tile\n        nine\n    {line}\n")
    assert [x for x in run(p) if not x.advice and x.code in ("out-of-place", "no-triangles")]


def test_a_float_beside_sashing_says_nothing() -> None:
    p = project(
        "quilt\n    across 2, down 3\n    tile\n        nine\n    setting on point c, float 1\n    sashing 1 a\n"
    )
    assert "out-of-place" in [x.code for x in run(p)]


@pytest.mark.parametrize(("a", "d"), [(1, 1), (1, 3), (3, 1), (3, 4), (5, 3)])
@pytest.mark.parametrize("room", [0, 1, 3])
def test_ends_by_formula_are_those_that_the_edges_leave(a: int, d: int, room: int) -> None:
    grid = BlockGrid((), (), (), a, d, False)
    lies = Diagonals(grid, Length(6), ZERO, "", (Length(room), Length(room)))
    for p in lies.rows:
        cut = (
            lies.stretch(p, None, ZERO, ZERO, lies.side),
            lies.stretch(p, lies.side * len(lies.rows[p]), None, ZERO, lies.side),
        )
        for end, found in zip(lies.ends(p), cut, strict=True):
            n = end.index(found[0])
            assert (*end[n:], *end[:n]) == found
