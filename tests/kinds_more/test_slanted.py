"""Strip units that are cut across on the slant. Numbers without a source are derived here."""

from __future__ import annotations

from fractions import Fraction
from math import cos, radians, sin, tan

import pytest

from patternkit import api
from patternkit.lengths import ONE, SQRT2, ZERO, Length
from patternkit.piecing.kinds.slanted import Slant, staggered
from patternkit.piecing.making import Cloth
from patternkit.piecing.offset import edges, length_of
from patternkit.plan.counts import segments_from
from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of

HEAD = "fabric a dark\nfabric b medium\nfabric c light\n"
SLOPE = """unit slope
    strips a {0} | b {0} | c {0}
    slant 45
    cut {1}
"""
QUILT = """block ramp
    parallelogram slope turned 90, c
    angle 45
quilt
    across 4, down 5
    tile
        ramp | ramp mirrored
"""


def project(text: str, units: str = "inches") -> Project:
    """A pattern with these lines."""
    return Project("t.pattern", f'pattern "T"\n    units {units}\n    usable width 40\n' + HEAD + text)


def problems(made: Project) -> list[str]:
    """What is wrong."""
    return [p.message for p in api.check(made) if not p.advice]


def test_the_upper_left_corner_is_sharp_and_patches_have_equal_sides() -> None:
    """Strip 2 1/2, cut 2 1/2 apart, gives 45 degree diamonds that finish 2 in high:
    https://chrisandbarbaraquilts.wordpress.com/2015/08/27/rotary-cutting-part-7/"""
    made = project(SLOPE.format("cut 2 1/2", "2 1/2") + QUILT)
    slope, side = made.makings["slope"], SQRT2 * 2
    assert slope.outline == ((ZERO, ZERO), (Length(6), Length(6)), (Length(6), side + 6), (ZERO, side))
    for part in slope.parts:
        assert isinstance(part.what, Cloth)
        assert {length_of(edge) for edge in edges(part.what.outline)} == {side}


@pytest.mark.parametrize(("angle", "width"), [(45, 2), (60, Fraction(9, 4)), (30, Fraction(3, 2))])
def test_how_many_segments_a_strip_unit_gives(angle: int, width: Fraction) -> None:
    """Counted by laying cut after cut over staggered strips until one has no cloth."""
    made = project(f"unit s\n    strips a 1 1/2 | b 1 | c 2\n    slant {angle}\n    cut {width}\n")
    making = made.makings["s"]
    slant = making.recipe.numbers
    assert isinstance(slant, Slant)
    long, seam, raw = 40.0, 0.25, [2.0, 1.5, 2.5]
    begin, top, spans = 0.0, 0.0, []
    for high, step in zip(raw, (*slant.steps, ZERO), strict=True):
        spans.append((begin, top, top + high))
        begin, top = begin - float(step), top + high - 2 * seam
    k = 1 / tan(radians(angle))

    def covered(at: float) -> bool:
        return all(x - 1e-9 <= at - y * k <= x + long + 1e-9 for x, up, down in spans for y in (up, down))

    takes = float(width) / sin(radians(angle))
    first = next(x / 1000 for x in range(0, 40_000) if covered(x / 1000))
    fit = max(n for n in range(40) if covered(first + takes * n))
    assert segments_from(making, Length(40)) == fit
    assert float(slant.takes) == pytest.approx(takes)
    assert all(abs(float(s) - (h - 0.5) * cos(radians(angle)) / sin(radians(angle))) <= 0.125
               for s, h in zip(slant.steps, raw, strict=False))  # fmt: skip


def test_equal_strips_lose_what_the_cut_leans_over_one_of_them() -> None:
    steps, lost = staggered([Length(2)] * 4, ONE / 4, 45, Fraction(1, 8))
    assert steps == (Length(3) / 2,) * 3
    assert lost == Length(2)


@pytest.mark.parametrize("units", ["inches", "cm"])
def test_orders_hold_and_mirror_images_are_cut_the_other_way(units: str) -> None:
    sizes = ("1 1/2", "2") if units == "inches" else ("4", "5.5")
    seam = "" if units == "inches" else "    seam 0.75\n    usable width 100\n"
    text = SLOPE.format(*sizes) + QUILT
    made = Project("t.pattern", f'pattern "T"\n    units {units}\n{seam}' + HEAD + text)
    assert problems(made) == []
    order, designs = order_of(made)
    assert rehearse(order, designs) == ()
    text = api.files(made, formats=("md",))["t.md"].decode()
    assert "from lower left to upper right" in text
    assert "from upper left to lower right" in text


def test_a_diamond_of_three_segments_comes_out() -> None:
    text = SLOPE.format("1 1/2", "2") + "unit point\n    column slope | slope shifted 1 | slope shifted 2\n"
    made = project(text + QUILT.replace("slope", "point"))
    assert problems(made) == []
    assert len({length_of(edge) for edge in edges(made.makings["point"].outline)}) == 1
    order, designs = order_of(made)
    assert rehearse(order, designs) == ()


def test_a_segment_between_the_lines_of_the_ruler_is_cut_larger() -> None:
    text = SLOPE.replace("    cut {1}", "    finished 7 high").format("1 1/2") + QUILT
    made = project(text)
    assert problems(made) == []
    slope = made.makings["slope"]
    assert isinstance(slope.recipe.numbers, Slant)
    assert slope.recipe.numbers.width == Length(Fraction(19, 8))  # 2.5 in along the strips finish 1.77 in; + 1/2
    order, designs = order_of(made)
    assert rehearse(order, designs) == ()


def test_claims_know_what_the_slant_takes() -> None:
    text = SLOPE.format("1 1/2", "2") + "    strip units 2, 14 from each\n" + QUILT
    found = [p for p in api.check(project(text)) if p.code in ("strip-units-differ", "every-thread")]
    assert [p.message for p in found] == ["One strip unit of slope gives 13 segments; 14 are said to come from each."]
    assert "slanted ends take 2 in" in found[0].causes[0]


@pytest.mark.parametrize("wrong", ["slant 50", "slant", "slant steep", "slant 45 60"])
def test_other_angles_are_answered(wrong: str) -> None:
    made = project(SLOPE.format("1 1/2", "2").replace("slant 45", wrong) + QUILT)
    assert any("30, 45 or 60" in message or "slant" in message for message in problems(made))


def test_a_slanted_segment_does_not_meet_a_rectangle_in_a_row() -> None:
    made = project(SLOPE.format("1 1/2", "2") + "block bad\n    row slope | a 2\nquilt\n    tile\n        bad\n")
    assert problems(made)
