"""A unit where cloth can stand: sewn in whole, its size tied to its place; sewn on simulated cloth as it is told."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import patternkit
from patternkit.lengths import SQRT2, Length
from patternkit.piecing.making import Making
from patternkit.piecing.reflect import mirror
from patternkit.pressing.joints import find_joints
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of
from tests.kinds.sewing import covers
from tests.kinds.text import HEAD, codes, problems
from tests.setting.build import covers as all_covered
from tests.setting.build import seams_meet

NINE = """
unit nine
    rows
        night | glow  | night
        glow  | stone | glow
        night | glow  | night
    finished {}
"""
QUILT = """
quilt
    across 2, down 2
    tile
        it
    binding cut 2 1/4 night
"""


def block(body: str, *settings: str, quilt: str = QUILT) -> tuple[Project, Making]:
    """A quilt of a block `it`, which passes its check, and the block."""
    project = Project("it.pattern", HEAD.format(settings="\n    ".join(settings or ("seam 1/4",))) + body + quilt)
    assert not [p.message for p in patternkit.check(project) if not p.advice]
    return project, project.makings["it"]


def gaps(project: Project) -> list[str]:
    """What does not come out when it is sewn as it is told."""
    order, designs = order_of(project)
    found = rehearsal(order, designs)
    assert not found.not_rehearsed
    return [gap.kind for gap in found.gaps]


def test_a_nine_patch_on_its_point() -> None:
    """The block is root 2 as wide as what stands in it; the triangles are cut for the centre's raw edge."""
    project, it = block(NINE.format(6) + "\nblock it\n    square-in-a-square nine, stone\n")
    assert it.width == Length(6) * SQRT2
    (cut,) = it.recipe.cuts
    assert cut.fabric == "stone" and float(cut.exact_width) == pytest.approx(5.0962, abs=5e-5)
    assert isinstance(it.parts[0].what, Making) and it.parts[0].place.turned == 45
    assert not covers(it)
    seams_meet(it)
    assert gaps(project) == []


@pytest.mark.parametrize(
    ("lines", "said", "width"),
    [
        (("float 1/2",), 6, Length(6) * SQRT2 + 1),
        (("finished 9 1/2", "float 1/2"), 6, Length(Fraction(19, 2))),
        (("finished 10", "float"), 6, Length(10)),
    ],
)
def test_a_centre_that_floats(lines: tuple[str, ...], said: int, width: Length) -> None:
    """Its points lie so far inside, and the block is so much larger; or as far as what is said of both leaves."""
    body = NINE.format(said) + "\nblock it\n    square-in-a-square nine, stone\n" + "".join(f"    {x}\n" for x in lines)
    project, it = block(body)
    assert abs(float(it.width - width)) < 0.02
    centre = it.parts[0]
    points = centre.place.outline(centre.what.outline)
    room = min(p[1] for p in points)
    assert abs(float(room - (it.width - Length(6) * SQRT2) / 2)) < 1e-9
    assert not covers(it)
    assert gaps(project) == []


def test_a_plain_centre_floats_too() -> None:
    project, it = block("\nblock it\n    square-in-a-square night, glow\n    finished 9\n    float 1/2\n")
    assert it.width == Length(9)
    assert not covers(it)
    assert gaps(project) == []


seams = st.sampled_from(["1/4", "3/8", "1/8", "5/16"])


@given(seam=seams, size=st.integers(4, 14).map(lambda n: Fraction(3 * n, 4)), room=st.integers(0, 8))
@settings(max_examples=8, deadline=None)
def test_any_centre_by_geometry_and_by_sewing(seam: str, size: Fraction, room: int) -> None:
    line = f"    float {Fraction(room, 8)}\n" if room else ""
    body = NINE.format(size) + f"\nblock it\n    square-in-a-square nine turned 90, glow\n{line}"
    project, it = block(body, f"seam {seam}")
    assert not covers(it)
    seams_meet(it)
    assert gaps(project) == []


@pytest.mark.parametrize(
    "line",
    [
        "square-in-a-square plain, glow",
        "square-in-a-square plain, glow\n    float 1/2",
        "flipped-corners plain, glow\n    corner 2",
    ],
)
def test_a_unit_of_one_piece(line: str) -> None:
    project, it = block(f"\nunit plain\n    patch night 6\n\nblock it\n    {line}\n")
    assert not covers(it)
    assert gaps(project) == []


def test_two_rounds_stand_upright_again() -> None:
    project, it = block(NINE.format(6) + "\nblock it\n    square-in-a-square nine, stone, night\n")
    assert it.width == Length(12)
    assert gaps(project) == []


def test_sizes_that_do_not_agree_are_told() -> None:
    body = NINE.format(6) + "\nblock it\n    square-in-a-square nine, stone\n    finished 12\n"
    found = [p for p in problems(body) if not p.advice]
    assert [p.code for p in found] == ["claim-differs"]
    assert "root 2" in " ".join((found[0].message, *found[0].causes))


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("half-square nine, stone\n    finished 6", "must-be-cloth"),
        ("strips nine | stone\n    finished 9 x 6", "must-be-cloth"),
        ("patch nine", "must-be-cloth"),
    ],
)
def test_where_nobody_sews_one(line: str, code: str) -> None:
    """The message says what to write instead."""
    found = problems(NINE.format(6) + f"\nblock it\n    {line}\n")
    assert [p.code for p in found] == [code]
    assert found[0].causes


@pytest.mark.parametrize(
    "line", ["binding cut 2 1/4 nine", "backing nine", "backing night, strip nine", "sleeve 4 nine"]
)
def test_what_is_cut_from_the_bolt_is_no_unit(line: str) -> None:
    quilt = f"\nquilt\n    tile\n        nine\n    {line}\n"
    (told,) = problems(NINE.format(6) + quilt)
    assert told.code == "must-be-cloth"
    assert "border and sashing repeat it" in told.causes[0]


def test_flipping_over_a_floating_centre() -> None:
    body = "\nblock it\n    square-in-a-square night, glow\n    finished 9\n    float 1/2\n    method stitch and flip\n"
    assert codes(body) == ["method-cannot"]
    twice = body.replace("float 1/2", "float 1/2 3").replace("    method stitch and flip\n", "")
    assert codes(twice) == ["not-understood"]


# -- corners flipped onto a unit ----------------------------------------------------------------------------
CAP = "\nblock it\n    flipped-corners nine, stone\n    corner {}\n"


@pytest.mark.parametrize("corner", ["1", "2", "2 1/2", "3"])
def test_corners_flipped_onto_a_nine_patch(corner: str) -> None:
    """The nine-patch is sewn first, as large as the block; what shows of it fills what the corners leave."""
    project, it = block(NINE.format(6) + CAP.format(corner))
    assert it.width == Length(6)
    assert [(c.fabric, c.count) for c in it.recipe.cuts] == [("stone", 4)]
    base = it.parts[0]
    assert isinstance(base.what, Making) and base.what.width == Length(6) and len(base.shown) in (4, 8)
    assert not covers(it)
    seams_meet(it)
    assert gaps(project) == []


@given(seam=seams, size=st.integers(4, 10).map(lambda n: Fraction(3 * n, 4)), corner=st.integers(2, 6))
@settings(max_examples=6, deadline=None)
def test_any_flipped_corner_by_geometry_and_by_sewing(seam: str, size: Fraction, corner: int) -> None:
    line = f"    at top left, bottom right\n    corner {Fraction(corner, 4)}\n"
    body = NINE.format(size) + f"\nblock it\n    flipped-corners nine turned 90, glow, stone\n{line}"
    project, it = block(body, f"seam {seam}")
    assert not covers(it)
    seams_meet(it)
    assert gaps(project) == []


def test_a_unit_of_another_size_has_no_corners_flipped_onto_it() -> None:
    found = problems(NINE.format(6) + CAP.format(2) + "    finished 7\n")
    assert [p.code for p in found] == ["claim-differs"]


def test_a_unit_is_not_cut_larger() -> None:
    assert codes(NINE.format(6) + CAP.format(2) + "    method oversize\n") == ["method-cannot"]


def test_a_base_that_is_off_the_ruler_is_flipped_on_as_it_comes() -> None:
    project, it = block(NINE.format(5) + CAP.format(1))
    assert it.recipe.trim_to is None
    assert gaps(project) == []


def test_only_what_shows_of_a_base_meets_other_seams() -> None:
    """Seams of the base that end under a corner join nothing; those that show meet those of the next block."""
    body = NINE.format(6) + CAP.format("2 1/2")
    _, it = block(body)
    ends = {(float(j.point[0]), float(j.point[1])) for j in find_joints(it)}
    assert all(2 <= x <= 4 and 2 <= y <= 4 for x, y in ends)  # those inside the nine-patch
    tall = QUILT.replace("across 2, down 2", "across 1, down 2")
    project, _ = block(body, quilt=tall)
    assert project.top is not None
    met = {round(float(j.point[0]), 6) for j in find_joints(project.top) if float(j.point[1]) == 6}
    assert met == {2.5, 3.5}  # the corners' seams; the nine-patch's own at 2 and 4 lie under the corners


def test_the_mirror_image_shows_the_same() -> None:
    body = NINE.format(6) + CAP.format(2) + "    at top left\n"
    _, it = block(body + "\nblock pair\n    row it | it mirrored\n", quilt=QUILT.replace("it\n", "pair\n"))
    image, turn = mirror(it)
    assert turn == 90 or image is not it
    assert not covers(image)


# -- cut from a strip unit ----------------------------------------------------------------------------------
BARS = """
unit bars
    strips night {0} | glow {0} | stone {0}
"""
LAID = [
    "half-square bars laid, glow\n    finished 3",
    "half-square glow, bars turned 90 laid\n    finished 3",
    "half-square bars laid, bars turned 180 laid\n    finished 3",
    "half-square glow, bars turned 45 laid\n    finished 3",
    "quarter-square bars turned 90 laid, glow\n    finished 6",
    "quarter-square glow, night, bars turned 90 laid at 0 x 3/2, stone\n    finished 3",
    "three-patch bars laid, glow, night\n    finished 3",
    "flying-geese bars turned 90 laid, glow\n    finished 6 x 3",
    "flying-geese glow, bars laid\n    finished 6 x 3",
    "half-rectangle bars laid, glow\n    finished 3 x 6",
    "square-in-a-square glow, bars laid\n    finished 6",
    "square-in-a-square bars turned 45 laid, glow\n    finished 4",
    "flipped-corners bars laid, glow\n    corner 1\n    finished 3 x 4",
    "flipped-corners glow, bars laid\n    corner 2\n    finished 6",
    "triangle-in-a-square bars laid, glow\n    finished 3",
    "diamond bars laid, glow\n    finished 3 wide",
    "hexagon bars turned 90 laid, glow\n    finished 3 high",
    "parallelogram bars turned 90 laid, glow\n    top 3\n    finished 6 x 3",
    "eight-point-star bars turned 90 laid, glow\n    finished 6",
    "eight-point-star bars turned 45 laid, night, glow\n    finished 9",
    "slices glow\n    slice from top right to bottom left, bars turned 45 laid left\n    finished 3",
]


def stripes(making: Making) -> set[Making]:
    """The pieces that are cut from a strip unit."""
    return {p.what for p in making.parts if isinstance(p.what, Making) and p.what.recipe.numbers.from_strip_unit}


@pytest.mark.parametrize("line", LAID, ids=[line.splitlines()[0].replace(" ", "_") for line in LAID])
def test_a_piece_cut_from_a_strip_unit(line: str) -> None:
    """Its patches fill the unit, all its seams lie between the parts they name, and it comes out when it is sewn."""
    project, it = block(BARS.format(1) + f"\nblock it\n    {line}\n")
    assert stripes(it)
    assert not covers(it)
    seams_meet(it)
    assert gaps(project) == []


@given(seam=seams, wide=st.integers(3, 9).map(lambda n: Fraction(n, 4)), line=st.sampled_from(LAID[:4]))
@settings(max_examples=8, deadline=None)
def test_any_stripes_by_geometry_and_by_sewing(seam: str, wide: Fraction, line: str) -> None:
    body = BARS.format(wide) + f"\nblock it\n    {line.replace('finished 3', f'finished {wide * 3}')}\n"
    project, it = block(body, f"seam {seam}")
    assert not covers(it)
    seams_meet(it)
    assert gaps(project) == []


def test_stripes_lie_as_they_are_drawn() -> None:
    """Turned by 90 the first strip is at the top; the pieces of one name are one unit, turned about the middle."""
    _, it = block(BARS.format(1) + "\nblock it\n    half-square bars turned 90 laid, glow\n    finished 3\n")
    (piece,) = stripes(it)
    placed = next(p for p in it.parts if p.what is piece)
    shown = {p.what.fabric: placed.place.outline(p.place.outline(p.what.outline)) for p in piece.parts}
    assert min(y for _, y in shown["night"]) == 0 and min(y for _, y in shown["stone"]) == Length(2)
    _, star = block(BARS.format(1) + "\nblock it\n    eight-point-star bars laid, glow\n    finished 6\n")
    assert len(stripes(star)) == 1
    turns = [p.place.turned for p in star.parts if isinstance(p.what, Making)]
    assert [(turn - turns[0]) % 360 for turn in turns] == [45 * n for n in range(8)]


def test_wedges_both_ways_up_come_from_one_strip_unit() -> None:
    """Two triangles of a square that is cut across its stripes are cut by turns; turned about they are one and the
    same."""
    body = BARS.format(1) + "\nblock it\n    half-square bars laid, bars {}laid\n    finished 3\n"
    project, it = block(body.format(""), quilt=QUILT.replace("2, down 2", "5, down 5"))
    wanted = {making.thing for making in stripes(it)}
    batches = [b for step in order_of(project)[0].steps for b, _ in step.batches]
    assert len(wanted) == 2
    assert any({thing for thing, _ in b.gives} == wanted for b in batches)
    _, alike = block(body.format("turned 180 "))
    assert len(stripes(alike)) == 1


@pytest.mark.parametrize(
    ("line", "toward"),
    [("half-square bars laid, glow\n    finished 3", "bars"), ("flipped-corners nine, glow\n    corner 2", "nine")],
)
def test_pressed_toward_the_unit_that_stands_for_cloth(line: str, toward: str) -> None:
    """By the writer's own name for it, that of the strip unit for what is cut from it."""
    body = (
        BARS.format(1) if toward == "bars" else NINE.format(6)
    ) + f"\nblock it\n    {line}\n    press toward {toward}\n"
    _, it = block(body)
    where = {seam.pressed for seam in it.seams}
    assert where == {"left" if toward == "bars" else "right"}


def test_stripes_that_do_not_reach_across_are_told_with_the_number() -> None:
    found = problems(BARS.format(1) + "\nblock it\n    half-square bars laid at 1/2 x 0, glow\n    finished 3\n")
    assert [p.code for p in found] == ["does-not-add-up"]
    assert "1/2 in beyond the side" in found[0].message


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("half-square bars, glow\n    finished 3", "must-be-cloth"),
        ("row bars laid | glow 2\n    finished 5 x 3", "must-be-cloth"),
        ("log-cabin bars laid 2\n    round night, glow\n    log 1", "must-be-cloth"),
        ("quarter-circle bars laid, glow\n    radius 2\n    finished 3", "must-be-cloth"),
        ("half-square glow laid, night\n    finished 3", "out-of-place"),
        ("half-square bars laid at 1, night\n    finished 3", "not-understood"),
        ("half-square bars turned 20 laid, night\n    finished 3", "odd-turn"),
        ("half-square bars laid laid, night\n    finished 3", "said-twice"),
        ("half-square bars laid, night\n    finished 3\n    method pairs of squares", "method-cannot"),
    ],
)
def test_what_is_laid_wrongly(line: str, code: str) -> None:
    found = problems(BARS.format(1) + f"    finished 3\n\nblock it\n    {line}\n")
    assert [p.code for p in found] == [code]


def test_only_strips_are_cut_up() -> None:
    found = problems(NINE.format(6) + "\nblock it\n    half-square nine laid, stone\n    finished 6\n")
    assert [p.code for p in found] == ["must-be-cloth"]


def test_a_unit_with_flipped_corners_cut_apart() -> None:
    """Its pieces have what shows of the base, and nothing of what lies under the corners."""
    body = NINE.format(9) + (
        "\nunit cap\n    flipped-corners nine, stone\n    corner 2\n"
        "\nunit quarters\n    cut-apart cap\n    cut at middle of top\n    cut at middle of left\n"
        "\nblock it\n    rows\n        quarters(1) turned 90 | quarters(2)\n"
        "        quarters(3) | quarters(4) turned 90\n"
    )
    project, it = block(body)
    assert project.top is not None
    all_covered(project.top)
    assert gaps(project) == []
