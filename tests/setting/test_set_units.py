"""Units that are made like a quilt: sizes, pieces and steps of their own, and a second way to each of them."""

from __future__ import annotations

from collections import Counter

import pytest

from patternkit.checks import run
from patternkit.lengths import SQRT2, Length
from patternkit.piecing.making import Making
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearsal
from patternkit.work.build import order_of
from tests.setting.build import covers, seams_meet

HEAD = """fabric night dark #1b2a49
fabric glow light #f4c95d
fabric stone medium #9aa3ad

unit four
    rows
        night | glow
        glow  | night
    finished 3
"""


def project(text: str) -> Project:
    return Project("t.pattern", HEAD + text)


def codes(text: str) -> list[str]:
    return [p.code for p in run(project(text)) if not p.advice]


def sewn(text: str) -> tuple[Project, dict[str, Making]]:
    """A pattern that is sound and comes out as it is told, with its units by their keys."""
    read = project(text)
    assert [p.message for p in run(read) if not p.advice] == []
    order, designs = order_of(read)
    found = rehearsal(order, designs)
    assert ([*found.gaps], [*found.not_rehearsed]) == ([], [])
    assert read.top is not None
    covers(read.top)
    seams_meet(read.top)
    return read, {str(thing.key): made for thing, made in designs.items()}


FRAMED = """block framed
    rows
        night | glow
        glow  | night
    border 1 stone
    border 1/2 night, cornerstones glow
    finished 9
    make 4

quilt
    across 2, down 2
    tile
        framed
"""


def test_borders_go_round_a_middle_of_any_kind() -> None:
    """9 in less two borders of 1 in and 1/2 in on both sides leave 6 in, cut 3 1/2 in; 8 in is once framed."""
    read, made = sewn(FRAMED)
    assert (made["framed, middle"].width, made["framed, quilt with border 1"].width) == (6, 8)
    assert made["framed"].width == made["framed"].height == 9
    cuts: Counter[tuple[str, Length, Length]] = Counter()
    for count in read.draft[0].counts:
        for cut in count.making.recipe.cuts:
            cuts[cut.fabric, cut.width, cut.height] += cut.count * count.needed
    assert cuts["stone", Length(3) / 2, Length(13) / 2] == 8  # two sides for each of four
    assert cuts["stone", Length(17) / 2, Length(3) / 2] == 8
    assert cuts["glow", Length(1), Length(1)] == 16  # cornerstones


POINTED = """block pointed
    setting on point stone
    across 2, down 3
    tile
        four
        night
    sashing 1/2 glow

quilt
    tile
        pointed
"""


def test_a_unit_on_point_is_as_large_as_a_quilt_set_so() -> None:
    """The same lines under quilt make a centre of the same outline and the same pieces."""
    _, made = sewn(POINTED)
    lines = POINTED.split("\n\n")[0].replace("block pointed", "quilt")
    _, own = sewn(lines + "\n")
    centre = own["centre"]
    assert (made["pointed"].width, made["pointed"].height) == (centre.width, centre.height)
    assert made["pointed"].width == SQRT2 * 2 * Length(7) / 2
    assert Counter(p.what.key.part for p in made["pointed"].parts if isinstance(p.what, Making)) == Counter(
        p.what.key.part for p in centre.parts if isinstance(p.what, Making)
    )


@pytest.mark.parametrize("lies", ["mirrored", "turned 90", "mirrored turned 180"])
def test_a_unit_on_point_is_turned_and_mirrored(lies: str) -> None:
    text = POINTED.replace("        four", "        odd").replace("   pointed\n", f"   pointed | pointed {lies}\n")
    odd = "unit odd\n    half-square glow, night\n    finished 3\n\n"
    tall = text.replace("down 3", "down 2")
    _, made = sewn(odd + tall)
    assert made["pointed"].width == made["pointed"].height


STRIPPY = """unit pole
    setting zigzag stone
    across 1, down 4
    tile
        four
    border 1/2 night

quilt
    layout
        stone 2 | pole | glow | pole | stone 2
    finished 20 wide
"""


def test_plain_strips_are_as_long_as_the_strips_of_blocks_and_fill_what_is_left() -> None:
    read, made = sewn(STRIPPY)
    pole, strip = made["pole"], Length(20) - 4
    assert pole.height == SQRT2 * 12 + 1
    top = read.top
    assert top is not None
    row = top.parts[0].what if isinstance(top.parts[0].what, Making) else top
    glow = next(p.what for p in row.parts if getattr(p.what, "fabric", "") == "glow")
    xs = [x for x, _ in glow.outline]
    assert max(xs) - min(xs) == strip - pole.width * 2


RINGS = """unit goose
    flying-geese glow, night
    finished 2 x 1

unit post
    patch stone 1

block heart
    tile
        four
    border night
    ring
        goose
        post
    border 1 stone, mitred
    border 1 glow, mitred

quilt
    tile
        heart | heart
"""


def test_a_coping_strip_a_ring_and_mitred_borders_in_a_unit() -> None:
    """Round 3 in a coping strip makes room for two geese of 2 in; a ring of 1 in and two borders follow."""
    _, made = sewn(RINGS)
    assert made["heart"].width == 4 + 2 + 4


@pytest.mark.parametrize(
    ("lines", "code"),
    [
        ("    border 1 stone", "no-layout"),
        ("    tile\n        four\n    method templates", "out-of-place"),
        ("    patch stone 3\n    tile\n        four", "named-twice"),
        ("    tile\n        four\n    border 1 stone, strips 2", "out-of-place"),
        ("    tile\n        four\n    binding cut 2 night", "wrong-place"),
        ("    tile\n        four\n    tile\n        four", "named-twice"),
        ("    tile\n        four\n    setting straight, float 1", "out-of-place"),
        ("    setting on point\n    tile\n        four", "no-triangles"),
        ("    tile\n        four\n    border 1 stone\n    finished 6", "claim-differs"),
        ("    cut-apart four\n    cut at middle of top\n    border 1 night", "named-twice"),
    ],
)
def test_what_can_not_be_meant_is_told(lines: str, code: str) -> None:
    assert codes(
        f"block heart\n{lines}\n\nquilt\n    layout\n        heart{'(1)' if 'cut-apart' in lines else ''}\n"
    ) == [code]


def test_without_a_quilt_what_lies_in_a_unit_is_made_for_it_alone() -> None:
    read = project("block alone\n    across 2, down 2\n    tile\n        four\n    border 1 stone\n")
    counts = read.plan()[0].counts
    assert [(c.making.key.of, c.needed) for c in counts if c.making.key.of] == [("four", 4), ("alone", 1)]


def test_a_shape_is_laid_on_the_whole_and_not_on_its_middle_too() -> None:
    read = project(
        "unit dot\n    circle glow\n    finished 3 x 3\n"
        "block spot\n    patch night\n    finished 10 x 10\n    border 1 stone\n    applique dot at 5 x 5\n"
        "quilt\n    across 2, down 2\n    tile\n        spot\n"
    )
    assert [c.needed for c in read.plan()[0].counts if c.making.key.of == "dot"] == [4]


OTHER = "quilt\n    across 2, down 2\n    tile\n        bay\n"


@pytest.mark.parametrize(
    ("lines", "code", "said"),
    [
        ("    across 2, down 2\n    tile\n        lone\n", "not-a-rectangle", "block bay joins its pieces"),
        ("    layout\n        four\n    border lone\n", "not-a-rectangle", "the border of bay joins its pieces"),
        (
            "    layout\n        four\n    border cut 1 9/16 stone\n",
            "cut-off-ruler",
            "Border 1 of bay is cut 1 9/16 in",
        ),
        (
            "    across 2, down 2\n    tile\n        leaf\n    setting on point stone\n",
            "directional-turned",
            "On point print lies cornerwise",
        ),
    ],
)
def test_what_is_told_of_a_quilt_is_told_of_what_is_set_like_one(lines: str, code: str, said: str) -> None:
    lone = "fabric print dark directional\nunit lone\n    half-square night\n    finished 3\n"
    lone += "unit leaf\n    patch print\n    finished 3\n"
    found = [p for p in run(project(f"{lone}block bay\n{lines}{OTHER}")) if p.code == code]
    assert [said in p.message for p in found] == [True], [p.message for p in found]
