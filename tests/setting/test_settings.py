"""Every setting, sewn from its equations, covers the quilt exactly; counts and cuts follow from the geometry."""

from __future__ import annotations

from collections import Counter

import pytest

from patternkit.checks import run
from patternkit.lengths import SQRT2, Length
from patternkit.piecing.names import CORNER_TRIANGLE, SIDE_TRIANGLE, english
from patternkit.piecing.setting.on_point import counts
from patternkit.piecing.unknowns import of_border
from patternkit.project import Project
from tests.setting.build import covers, fabrics, project, seams_meet

TILE = """quilt
    across {a}, down {d}
    tile
        nine | plain
        plain | nine
"""


def made(quilt: str):
    p = project(quilt)
    assert [x for x in run(p) if not x.advice] == []
    assert p.top is not None
    covers(p.top)
    seams_meet(p.top)
    return p


@pytest.mark.parametrize(("a", "d"), [(1, 1), (2, 3), (5, 4)])
def test_straight(a: int, d: int) -> None:
    p = made(TILE.format(a=a, d=d))
    assert (p.top.width, p.top.height) == (6 * a, 6 * d)


@pytest.mark.parametrize("words", ["", ", inner"])
@pytest.mark.parametrize("corner", ["", ", cornerstones c"])
@pytest.mark.parametrize(("a", "d"), [(1, 1), (3, 2), (2, 4)])
def test_sashing(a: int, d: int, corner: str, words: str) -> None:
    p = made(TILE.format(a=a, d=d) + f"    sashing 2 a{corner}{words}\n")
    n = -1 if words else 1
    assert (p.top.width, p.top.height) == (6 * a + 2 * (a + n), 6 * d + 2 * (d + n))


def test_sashing_counts_all_round() -> None:
    """4 rows x 5 columns: 30 cornerstones, 49 sashes.

    http://susanintexas.blogspot.com/2009/02/quilt-math-algorithms-for-cornerstones.html
    """
    p = made("quilt\n    across 5, down 4\n    tile\n        nine\n    sashing 1 a, cornerstones c\n")
    lines = {}
    for line in p.quick_plan[0].lines:
        if line.cut.name is not None:
            name = english(line.cut.name)
            lines[name] = lines.get(name, 0) + line.count
    assert lines["cornerstone"] == 30
    assert lines["sashing"] == 49


@pytest.mark.parametrize(("a", "d"), [(1, 1), (1, 3), (3, 1), (2, 2), (3, 4), (5, 3)])
@pytest.mark.parametrize("room", ["", ", float 1", ", float 1 x 3"])
def test_on_point(a: int, d: int, room: str) -> None:
    p = made(
        f"quilt\n    across {a}, down {d}\n    tile\n        nine\n        plain\n"
        f"    setting on point, triangles c{room}\n"
    )
    extra = (2, 6) if "3" in room else (2, 2) if room else (0, 0)
    assert (p.top.width, p.top.height) == (SQRT2 * 6 * a + extra[0], SQRT2 * 6 * d + extra[1])
    blocks, sides, corners = counts(a, d)
    plan = p.quick_plan[0]
    needed = {str(c.making.key): c.needed for c in plan.counts}
    assert needed["nine"] == a * d
    if (a - 1) * (d - 1):
        assert needed["plain"] == (a - 1) * (d - 1)
    gives = Counter(line.cut.name for line in plan.lines for _ in range(line.gives))
    assert gives[SIDE_TRIANGLE] == sides
    assert gives[CORNER_TRIANGLE] == corners
    squares = Counter(line.cut.name for line in plan.lines for _ in range(line.count))
    apart = (2 * (d - 1), 2 * (a - 1)) if "3" in room else (sides,)  # those of each float are cut by themselves
    assert squares[SIDE_TRIANGLE] == sum(-(-n // 4) for n in apart)
    assert squares[CORNER_TRIANGLE] == 2


@pytest.mark.parametrize(
    "border",
    [
        "border 2 a",
        "border 2 a, top first",
        "border 2 a, cornerstones c",
        "border 2 a, mitred",
        "border 2 a, mitred\n    border 3 c, mitred",
        "border 2 a\n    border goose, cornerstones c\n    border 1 c",
    ],
)
def test_borders(border: str) -> None:
    grid = TILE.format(a=2, d=4)
    p = made(grid + "    border 2 b\n    " + border + "\n    binding cut 2 1/2 a\n    backing b\n")
    # every border adds its width on both sides, whatever its corners
    widths = {
        "border 2 a": 2,
        "border 2 a, mitred\n    border 3 c, mitred": 5,
        "border 2 a\n    border goose, cornerstones c\n    border 1 c": 5,
    }
    w = widths.get(border, 2) + 2
    assert (p.top.width, p.top.height) == (12 + 2 * w, 24 + 2 * w)


def test_mitred_strips_are_long_enough() -> None:
    """At least L + 2w + 1.2071 with quarter-inch seams; published strips are longer (L + 2w + 6).

    https://www.allpeoplequilt.com/how-to-quilt/finishing/mitering-borders  (length 40, border 5: 56 in,
    51.207 at least)
    """
    p = made("unit wall\n    row b 20 x 40 | b 20 x 40\n\nquilt\n    layout\n        wall\n    border 5 a, mitred\n")
    cuts = [c for m in p.quick_plan[0].counts for c in m.making.recipe.cuts if c.name and c.name.what == "border"]
    assert {c.exact_width for c in cuts} == {Length(50) + (SQRT2 + 1) / 2}
    assert all(Length(51) < c.width <= Length(56) for c in cuts)


def test_pieced_sashing() -> None:
    head_unit = "unit lath\n    column a | b | a\n    finished 2 x 6\n\n"
    p = made(head_unit + "quilt\n    across 2, down 2\n    tile\n        nine\n    sashing lath, cornerstones c\n")
    assert p.top.width == 2 * 6 + 3 * 2


def test_border_that_does_not_close_says_so() -> None:
    p = project(
        "quilt\n    across 2, down 2\n    tile\n        nine\n    border 1/2 b\n    border goose, cornerstones c\n"
    )
    codes = [x.code for x in run(p)]
    assert "border-does-not-close" in codes


@pytest.mark.parametrize(("wide", "refused"), [(3996, ""), (3998, "2,001"), (100_000, "50,002")])
def test_borders_of_more_pieces_than_can_be_worked_with_are_refused(wide: int, refused: str) -> None:
    """Two inches a piece, at top and bottom two more than the quilt is wide: 2,000 along a side, and no more."""
    lath = "unit lath\n    patch b 2 x 2\n\n"
    p = project(f"{lath}quilt\n    layout\n        a {wide} x {wide}\n    border lath\n")
    found = [x.message for x in run(p) if x.code == "too-large"]
    told = f"The top and bottom of border 1 would take {refused} pieces; a side takes at most 2,000."
    assert found == ([told] if refused else [])


def test_areas_do_not_depend_on_the_setting_of_borders() -> None:
    """Mitred or butted corners: the border's cloth shows the same area."""
    grid = TILE.format(a=2, d=2)
    one = fabrics(made(grid + "    border 3 c\n").top)
    two = fabrics(made(grid + "    border 3 c, mitred\n").top)
    assert abs(one["c"] - two["c"]) < 1e-9


def test_medallion_with_a_coping_strip_worked_out() -> None:
    """A 12 in centre and units 4 in long: with a strip of 2 in on each side four of them fit."""
    p = made(
        "quilt\n    across 2, down 2\n    tile\n        nine\n    border b\n    ring\n"
        "        goose\n        c\n    border 1 a\n"
    )
    assert p.solution.value(of_border(1, "width")).value(p.pattern.parameters) == 2
    assert p.top.width == 12 + 2 * (2 + 2 + 1)


def test_coping_of_two_widths() -> None:
    """A 13 x 6 in centre and units 4 in long: 1 1/2 in at the sides makes 16, 1 in at top and bottom makes 8."""
    p = made(
        "unit odd\n    patch b\n    finished 7 x 6\n\nquilt\n    layout\n        nine | odd\n    border b\n"
        "    border goose, cornerstones c\n"
    )
    values = [p.solution.value(of_border(1, s)).value(p.pattern.parameters) for s in ("width", "height")]
    assert values == [Length("3/2"), 1]


def test_coping_on_point() -> None:
    """Diagonals never divide evenly; the strip takes up what is over, exactly."""
    p = made(
        "quilt\n    across 3, down 4\n    tile\n        nine\n        plain\n    setting on point, triangles c\n"
        "    border a\n    border goose, cornerstones c\n    border 2 a\n"
    )
    assert (p.top.width - 8, p.top.height - 8) == (28, 36)


@pytest.mark.parametrize("words, said", [("", "lengthwise"), (", mitred", "lengthwise"), ("", "one piece")])
def test_lengthwise_borders_are_cut_in_one_piece(words: str, said: str) -> None:
    """Borders longer than the cloth is wide: joined from strips, or cut along the length without a join."""
    grid = TILE.format(a=8, d=9)
    joined = made(grid + f"    border 4 c{words}\n").quick_plan[0]
    along = made(grid + f"    border 4 c{words}, {said}\n").quick_plan[0]
    assert joined.long_strips and not along.long_strips
    pieces = [line for line in along.lines if line.cut.along]
    assert sum(line.count for line in pieces) == 4
    assert along.fabrics["c"].used >= max(line.cut.height for line in pieces)
    kinds = [s.kind for s in along.fabrics["c"].plan.strips]
    assert "along" in kinds


@pytest.mark.parametrize(
    "border", ["border 2 a", "border 2 a, top first", "border 2 a, mitred", "border 2 a, cornerstones c"]
)
def test_plain_borders_are_pressed_toward_the_border(border: str) -> None:
    """https://www.allpeoplequilt.com/how-to-quilt/finishing/mitering-borders and
    https://arbeedesigns.com/pages/mitered-corners press toward the border; a statement of the writer's comes first."""
    layer = made(TILE.format(a=2, d=2) + f"    {border}\n").pressed_top
    assert layer is not None
    assert [s.pressed for s in layer.seams[:4]] == ["right"] * 4
    said = made(TILE.format(a=2, d=2) + f"    {border}\n    press open\n").top
    assert {s.pressed for s in said.seams[:4]} == {"open"}


def test_a_pieced_border_that_no_plain_border_can_help() -> None:
    """On 12 x 15 in units of 4 in leave 0 and 3 in over: a border inside changes both by as much."""
    text = (
        "fabric a\nfabric b\nunit u\n    row a 2 | b 2\n    finished 4 x 2\n"
        "quilt\n    tile\n        a 12 x {}\n    border u, cornerstones b\n"
    )
    causes = {}
    for high in (15, 14):
        found = run(Project("t.pattern", text.format(high)))
        causes[high] = [c for p in found if p.code == "border-does-not-close" for c in p.causes]
    assert any(c.startswith("No plain border of one width inside it helps") for c in causes[15])
    assert any(c.startswith("No plain border of one width inside it helps") for c in causes[14])
    text = text.replace("a 12 x", "a 14 x")
    helped = [c for p in run(Project("t.pattern", text.format(18))) for c in p.causes]
    assert any("A plain border 1 in wide inside it would make room for 4 of them" in c for c in helped)
