"""The trade's pressing rules, each with the page that states it, and the geometry behind them.

Pages: nesting and open seams https://snugglebugstitching.com/?page_id=1157 ; rows in opposite directions
https://learnhowtoquilt.com/quilting-classes/how-to-crazy-quilt/crazy-quilt-20/ and
https://blog.rileyblakedesigns.com/?p=10768 ; alternate blocks
http://grammilousgarden.blogspot.com/2015/04/the-simple-solution.html ; four-patch halves
https://katecollerandesigns.com/quilt-pressing-tip-rotate-pressing-technique ; pinwheel
https://www.allpeoplequilt.com/quilt-patterns/quilt-blocks/pinwheel-star-quilt-block and
https://katecollerandesigns.com/pressing-decisions ; half-squares for an hourglass
http://alamosaquilter.blogspot.com/2014/10/quarter-square-triangle-formula.html ; geese
https://www.sylviasquiltdepot.com/fast-flying-geese.htm ; fewest seams
https://idahobeautyquilts.blogspot.com/2006/11/step-four.html
"""

from __future__ import annotations

from math import cos, radians, sin

import pytest
from shapely.affinity import scale
from shapely.geometry import Polygon

from patternkit.piecing.keys import Key
from patternkit.piecing.making import Making, Seam, Side, rectangle
from patternkit.pressing.bulk import LIMIT, bulk, lying_badly, sectors, stack_at
from patternkit.pressing.conflicts import conflicts
from patternkit.pressing.joints import find_joints

from .builders import (
    NO_RECIPE,
    at,
    checkerboard,
    column,
    eight_point,
    geese,
    half_square,
    hourglass,
    inches,
    patch,
    pinwheel,
    point,
    quilt,
    row,
)


def verdicts(top: Making) -> dict[str, int]:
    out: dict[str, int] = {}
    for c in conflicts(top, all_verdicts=True):
        out[c.verdict] = out.get(c.verdict, 0) + c.count
    return out


@pytest.mark.parametrize(
    ("a", "b", "said"),
    [
        ("<", ">", "nest"),
        (">", "<", "nest"),
        ("<", "<", "conflict"),
        (">", ">", "conflict"),
        ("o", "o", "pin"),
        ("o", "<", "weak"),
        (">", "o", "weak"),
        (".", "<", "unstated"),
        ("o", ".", "unstated"),
    ],
)
def test_two_rows_of_two(a: str, b: str, said: str) -> None:
    top = column("both", row("one", patch("n"), patch("n"), pressed=a), row("two", patch("n"), patch("n"), pressed=b))
    assert verdicts(top) == {said: 1}


@pytest.mark.parametrize(("across", "down"), [(2, 2), (3, 5), (6, 4)])
def test_a_checkerboard_pressed_to_the_dark_always_nests(across: int, down: int) -> None:
    assert verdicts(checkerboard(across, down)) == {"nest": (across - 1) * (down - 1)}


def test_rows_in_opposite_directions_nest_and_all_the_same_way_do_not() -> None:
    rows = [row(f"r{i}", *[patch("n")] * 5, pressed=("<>"[i % 2]) * 4, role="row") for i in range(4)]
    assert verdicts(column("quilt", *rows)) == {"nest": 12}
    same = [row(f"r{i}", *[patch("n")] * 5, pressed=">>>>", role="row") for i in range(4)]
    assert verdicts(column("quilt", *same)) == {"conflict": 12}


def nine(key: str, out: bool) -> Making:
    """A nine-patch with its seams pressed outward or inward."""
    marks = "<>" if out else "><"
    middle = "><" if out else "<>"
    lines = [
        row(f"{key} {i}", patch("n"), patch("g"), patch("n"), pressed=m) for i, m in enumerate((marks, middle, marks))
    ]
    return column(key, *lines, pressed=marks, role="block")


def test_alternate_blocks_pressed_out_and_in_nest() -> None:
    out, inward = nine("out", True), nine("in", False)
    top = quilt([[out, inward, out], [inward, out, inward]])
    assert "conflict" not in verdicts(top)
    alike = quilt([[out, out, out], [out, out, out]])
    assert verdicts(alike)["conflict"] == 4 * 2 + 3 * 2


def test_equal_blocks_conflict_unless_turned_mirrored_or_versioned() -> None:
    """A seam that ends at the shared edge of two equal blocks meets itself (the reason is parity: see the
    page)."""
    block = column("block", patch("n", 2, 1), patch("g", 2, 1), pressed="<")
    assert verdicts(row("alike", block, block)) == {"conflict": 1}
    assert verdicts(row("turned", block, (block, 180))) == {"nest": 1}
    assert verdicts(row("mirrored", block, (block, 0, True))) == {"conflict": 1}  # left to right: still lies up
    assert verdicts(row("upside down", block, (block, 180, True))) == {"nest": 1}


def test_four_patch_halves_pressed_to_one_fabric_nest_when_one_is_turned() -> None:
    half = row("half", patch("n"), patch("g"), pressed="<")
    assert verdicts(column("four", half, (half, 180))) == {"nest": 1}


@pytest.mark.parametrize("side", ["left", "right"])
def test_half_squares_pressed_to_one_fabric_oppose_in_an_hourglass(side: Side) -> None:
    assert verdicts(hourglass("h", "night", "glow", 2, side, "left")) == {"nest": 1}


@pytest.mark.parametrize("blade", ["left", "right"])
@pytest.mark.parametrize("half", ["left", "right"])
def test_pinwheel_of_turned_equal_half_squares_nests(blade: Side, half: Side) -> None:
    top = pinwheel(half_square("h", "night", "glow", 2, blade), half, "left")
    assert verdicts(top) == {"nest": 5}  # two in the halves, three along the last seam


def test_half_square_pairs() -> None:
    """Mirrored neighbours meet on a diagonal that folds onto itself; both to the dark lie on each other: a
    conflict."""
    h = half_square("h", "night", "glow", 2, "left")
    assert verdicts(row("peak", h, (h, 0, True))) == {"conflict": 1}
    other = half_square("k", "night", "glow", 2, "right")
    assert verdicts(row("peak", h, (other, 0, True))) == {"nest": 1}
    zig = row("straight on", h, (half_square("m", "night", "glow", 2, "left"), 90))
    assert {j.kind for j in find_joints(zig)} <= {"lock"}


def test_straight_through_counts_by_the_side_of_the_bulk() -> None:
    """Two half-squares one above the other whose diagonals run on: one line through the join, at 45 and 135
    degrees."""
    h, k = half_square("h", "night", "glow", 2, "left"), half_square("k", "night", "glow", 2, "left")
    both = _shifted(h, k)
    (joint,) = find_joints(both)
    assert joint.kind == "through" and {round(joint.a.angle), round(joint.b.angle)} == {45, 135}
    assert verdicts(both) == {"conflict": 1}  # the bulk lies on the same side of the crossing
    assert verdicts(_shifted(h, half_square("k", "night", "glow", 2, "right"))) == {"nest": 1}


def _shifted(upper: Making, lower: Making) -> Making:
    """One square to the upper right of the other, so that the two diagonals are one line through the join."""
    four = inches(4)
    parts = (at(upper, 2, 0), at(lower, 0, 2))
    seam = Seam(point(0, 2), point(4, 2), (0,), (1,), "left")
    return Making(Key("both"), "both", "unit", "", rectangle(four, four), four, four, parts, (seam,), NO_RECIPE)


def test_geese_noses() -> None:
    """Pressed toward the sky, geese in a line have nothing to meet; nose to nose both sides clash."""
    goose = geese("goose", "night", "glow", 2, ("left", "left"))
    flock = column("flock", goose, goose, goose)
    assert find_joints(flock) == []  # the nose meets the middle of the next base, where no seam ends
    assert verdicts(column("kiss", (goose, 180), goose)) == {"conflict": 2}
    inward = geese("inward", "night", "glow", 2, ("right", "right"))
    assert verdicts(column("kiss", (goose, 180), inward)) == {"nest": 2}
    tail = verdicts(row("tails", goose, goose))
    assert tail == {"conflict": 1}  # base corners side by side fold onto each other, both pressed to the sky


def test_a_nose_on_an_upright_seam_pairs_with_neither_side() -> None:
    """Two seams from one side and one from the other, no equal angles: nothing can nest, so nothing is
    asked."""
    goose = geese("goose", "night", "glow", 2, ("left", "left"))
    pair = row("pair", patch("n", 2, 2), patch("g", 2, 2), pressed="<")
    assert find_joints(column("both", pair, goose)) == []


@pytest.mark.parametrize("side", ["left", "right"])
def test_eight_point_centre(side: Side) -> None:
    """Eight wedges turned about one point, every seam the same way round: all joints nest, in halves and in
    the whole."""
    top = eight_point("eight", "night", "glow", 2, side, side, "left")
    assert verdicts(top) == {"nest": 5}


# -- the physics behind the rule -------------------------------------------------------------------
def allowance(angle: float, ahead: bool, width: float = 0.25, length: float = 3.0) -> Polygon:
    """The allowance of a seam that leaves the line (the x axis) at an angle, folded up; y is up, the line
    runs right.

    Only what lies on the finished side of the line is kept.
    """
    a = radians(angle)
    ux, uy = cos(a), sin(a)
    nx, ny = (uy, -ux) if ahead else (-uy, ux)  # the normal that points along the line for every 0 < angle < 180
    strip = Polygon(
        [
            (-ux, -uy),
            (ux * length, uy * length),
            (ux * length + nx * width, uy * length + ny * width),
            (-ux + nx * width, -uy + ny * width),
        ]
    )
    return strip.intersection(Polygon([(-9, 0), (9, 0), (9, 9), (-9, 9)]))


@pytest.mark.parametrize("angle", [30, 45, 60, 90, 120, 135])
def test_mirror_equal_allowances_never_overlap_when_opposed(angle: float) -> None:
    """Right sides together the two seams lie on each other: opposed allowances share a line, like ones
    everything."""
    one = allowance(angle, True)
    assert one.intersection(allowance(angle, False)).area < 1e-9
    assert one.intersection(allowance(angle, True)).area == pytest.approx(one.area)


@pytest.mark.parametrize(("a", "b"), [(45, 90), (60, 120), (45, 135), (30, 75)])
def test_unequal_angles_overlap_far_less_when_opposed(a: float, b: float) -> None:
    opposed = max(
        allowance(a, True).intersection(allowance(b, False)).area,
        allowance(a, False).intersection(allowance(b, True)).area,
    )
    alike = min(allowance(a, s).intersection(allowance(b, s)).area for s in (True, False))
    at_line = Polygon([(-9, 0), (9, 0), (9, 0.02), (-9, 0.02)])
    assert opposed > 0  # a lone point: they do not lock along their length
    near = allowance(a, True).intersection(allowance(b, False)).intersection(at_line).area
    same = allowance(a, True).intersection(allowance(b, True)).intersection(at_line).area
    assert near < same / 5
    assert alike > 0
    assert scale(allowance(a, True), -1, 1, origin=(0, 0)).area == pytest.approx(allowance(180 - a, False).area)


# -- layers ----------------------------------------------------------------------------------------
def most(top: Making) -> int:
    return max(b.most for b in bulk(top, 0))


def test_layers_of_a_four_patch() -> None:
    """By hand: 1 patch, 2 for the allowance on it, and those again in the folded allowances of the last
    seam."""
    assert most(checkerboard(2, 2)) == 7
    clash = quilt([[patch("n")] * 2] * 2, pressed=">", between=">")
    assert most(clash) == 9
    assert most(quilt([[patch("n")] * 2] * 2, pressed="o", between="o")) == 4
    assert bulk(checkerboard(2, 2)) == []


def test_a_pinwheel_pressed_open_has_eight_layers_and_to_one_side_many_more() -> None:
    """Eight at the centre: https://katecollerandesigns.com/pressing-decisions"""
    top = pinwheel(half_square("h", "night", "glow", 2, "open"), "open", "open")
    assert most(top) == 8
    heavy = pinwheel(half_square("h", "night", "glow", 2, "left"), "left", "left")
    assert most(heavy) > LIMIT
    assert bulk(heavy)[0].most == most(heavy)
    flat = pinwheel(half_square("h", "night", "glow", 2, "left"), "left", "open")
    assert most(flat) < most(heavy)


@pytest.mark.parametrize(
    ("half", "long", "said"),
    [
        ("right", "right", {"nest"}),
        ("right", "left", {"nest", "conflict"}),
        ("left", "left", {"nest", "conflict"}),
    ],
)
def test_a_spun_centre_turns_one_way_round(half: Side, long: Side, said: set[str]) -> None:
    top = pinwheel(half_square("h", "night", "glow", 2, "left"), half, long, spun=True)
    assert set(verdicts(top)) == said
    assert {j.kind for j in find_joints(top)} == {"lock", "spin"}
    if said == {"nest"}:
        spun = most(top)
        flat = most(pinwheel(half_square("h", "night", "glow", 2, "left"), half, long))
        assert spun < flat


def test_spun_four_patch_is_even_all_round() -> None:
    half = row("half", patch("n"), patch("g"), pressed="<")
    import msgspec

    top = column("four", half, (half, 180), pressed="<")
    (joint,) = find_joints(top)
    sides: tuple[Side, Side] = ("left", "right")
    even = []
    for side in sides:
        spun = msgspec.structs.replace(top.seams[0], spun=joint.local, pressed=side)
        centre = msgspec.structs.replace(top, seams=(spun,))
        (lock,) = [j for j in find_joints(centre) if j.kind == "lock"]
        here = stack_at(lock.making, float(lock.local[0]), float(lock.local[1]), lock.line, {})
        layers = [n for _, _, n in sectors(here)]
        even.append((max(layers), {c.verdict for c in conflicts(centre)}))
    assert sorted(even, key=lambda e: e[0])[0][1] == set()  # the way round that spins is the flatter one
    assert sorted(even, key=lambda e: e[0])[1][1] == {"conflict"}


def test_lying_badly() -> None:
    values = {"n": "dark", "g": "light"}
    pieced = row("pieced", patch("n", 1, 2), patch("g", 1, 2), pressed=">")
    top = column("both", pieced, patch("n", 2, 2), pressed="<")
    found = {(str(x.making.key), x.why) for x in lying_badly(top, values)}
    assert found == {("pieced", "behind light"), ("both", "toward bulk"), ("both", "behind light")}
    good = column("both", row("pieced", patch("n", 1, 2), patch("g", 1, 2), pressed="<"), patch("n", 2, 2), pressed=">")
    assert lying_badly(good, values) == []
