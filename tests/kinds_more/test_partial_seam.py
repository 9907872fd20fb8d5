"""Four pieces round a middle against printed blocks, the sewing simulation and the rehearsal."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternkit.project import Project
from patternkit.rehearsal.rehearse import rehearse
from patternkit.work.build import order_of
from tests.kinds.sewing import covers
from tests.kinds_more.test_slices import SEAMS
from tests.kinds_more.written import HEAD, made, problems_of


def cuts(text: str, seam: str = "1/4") -> list[tuple[str, float, float, int]]:
    """What is cut for the unit twist, the shorter side first."""
    found = made(text, "twist", seam).recipe.cuts
    return sorted((c.fabric, *sorted((float(c.width), float(c.height))), c.count) for c in found)  # type: ignore[misc]


@pytest.mark.parametrize(
    ("middle", "wide", "square", "rectangle", "finished"),
    [
        ("3", "1 1/2", 3.5, (2.0, 5.0), 6),
        ("2", "2", 2.5, (2.5, 4.5), 6),
        ("3", "3", 3.5, (3.5, 6.5), 9),
    ],
)
def test_as_printed(middle: str, wide: str, square: float, rectangle: tuple[float, float], finished: int) -> None:
    """A square of 3 1/2 and four of 2 x 5 finish 6 in
    (https://www.allpeoplequilt.com/quilt-patterns/quilt-blocks/bright-hopes-quilt-block), one of 2 1/2 and four of
    2 1/2 x 4 1/2 (http://ludlowquiltandsew.blogspot.com/2012/01/partial-quilt-seams.html), one of 3 1/2 and four of
    3 1/2 x 6 1/2 make 9 in (https://www.cottoncuts.com/stashbuilderbox/block-of-the-month-bright-hopes)."""
    text = f"\nblock twist\n    partial-seam sea {middle}\n    round glow {wide}, night {wide}\n"
    found: dict[tuple[str, float, float], int] = {}
    for fabric, w, h, n in cuts(text):
        found[fabric, w, h] = found.get((fabric, w, h), 0) + n
    assert found == {("sea", square, square): 1, ("glow", *rectangle): 2, ("night", *rectangle): 2}
    unit = made(text, "twist")
    assert (unit.width, unit.height) == (finished, finished)


def rehearsed(text: str, seam: str) -> list[str]:
    """The kinds of the gaps, where a unit is made once."""
    project = Project("twist", HEAD.format(seam=seam, ruler="1/8") + text + "    make 1\n")
    return [gap.kind for gap in rehearse(*order_of(project))]


@settings(max_examples=25, deadline=None)
@given(
    st.tuples(*[st.sampled_from(["3/4", "1", "1 1/4", "2"])] * 4),
    st.sampled_from(["sea 2", "sea 2 x 3", "heart", "heart turned 90"]),
    st.booleans(),
    st.sampled_from(SEAMS),
)
def test_any_widths_round_any_middle(wide: tuple[str, ...], middle: str, other_way: bool, seam: str) -> None:
    around = ", ".join(f"{fabric} {w}" for fabric, w in zip(("glow", "night", "sky", "stone"), wide, strict=True))
    way = "    counterclockwise\n" if other_way else ""
    text = (
        "\nunit heart\n    row sky 1 | night 1\n    finished 2 x 3\n"
        f"\nblock twist\n    partial-seam {middle}\n    round {around}\n{way}"
    )
    unit = made(text, "twist", seam)
    assert covers(unit) == ""
    assert "m" in seam or rehearsed(text, seam) == []  # metric ones lie on no line of a ruler in eighths
    core = unit.parts[0]
    box = core.place.outline(core.what.outline)
    top = unit.parts[1].place.outline(unit.parts[1].what.outline)
    level = max if not other_way else min  # on that side the piece on top ends with the middle
    assert level(p[0] for p in top) == level(p[0] for p in box)


def test_widths_follow_from_the_block() -> None:
    unit = made("\nblock twist\n    partial-seam sea 2\n    round glow, night\n    finished 5\n", "twist")
    assert {float(min(c.width, c.height)) for c in unit.recipe.cuts if c.fabric != "sea"} == {2.0}


def test_units_turn_with_their_side() -> None:
    text = """
unit rail
    row glow 2 | sky 2
    finished 4 x 2

block twist
    partial-seam sea 2
    round rail
"""
    unit = made(text, "twist")
    assert [p.place.turned for p in unit.parts[1:]] == [0, 90, 180, 270]
    assert rehearsed(text, "1/4") == []


@pytest.mark.parametrize(
    ("lines", "code", "words"),
    [
        ("partial-seam sea 2", "wrong-pieces", "nothing round its middle"),
        ("partial-seam sea 2\n    round glow, night, sky", "wrong-pieces", "3 pieces"),
        ("partial-seam sea 2\n    round glow, nihgt", "unknown-name", "nihgt"),
        ("partial-seam sea 2\n    round glow 2 x 4, night 2", "not-understood", "one width"),
        ("partial-seam sea, glow\n    round night 2", "wrong-pieces", "lists 2 pieces"),
        ("partial-seam sea 2\n    round night 2\n    clockwise\n    counterclockwise", "said-twice", "one way"),
        ("partial-seam sea 2\n    round night 2\n    round glow 2", "named-twice", "round twice"),
    ],
)
def test_mistakes(lines: str, code: str, words: str) -> None:
    found = problems_of(f"\nblock twist\n    {lines}\n")
    assert any(p.code == code and words in p.message for p in found), [(p.code, p.message) for p in found]


def test_sides_that_do_not_add_up_are_told_with_their_cause() -> None:
    found = problems_of("\nblock twist\n    partial-seam sea 2\n    round glow 2, night 2\n    finished 7\n")
    assert any("2" in p.message and p.code == "does-not-add-up" for p in found)
