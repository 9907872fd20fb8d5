"""Strip units against published figures: segments from a set, strips to cut, half strips, seams that add
up."""

from __future__ import annotations

import pytest

from patternkit.project import Project
from tests.published.desk import num, pattern, planned, sound, strips

NINE = "http://www.generations-quilt-patterns.com/nine-patch-quilt.html"
MYSTERY = "http://www.equilters.com/library/mystery_quilts/myst-9patch-part4.html"
CHAIN = "http://quilting.denisemadeit.com/2017/09/irish-chain-quilts.html"
BARGELLO = "http://jinny-gallimaufry.blogspot.com/2020/06/designing-bargello-quilt-part-3.html"
SCANT = "http://www.quiltcentric.com/2012/09/16/testing-your-scant-quarter-inch-seam/"


def segments(row: str, segment: str, number: int, *settings: str) -> Project:
    """So many segments of one strip unit, one below the other."""
    return pattern(
        f"""
    unit band
        strips {row}
        cut {segment}

    quilt
        across 1, down {number}
        tile
            band
    """,
        *settings,
    )


def test_nine_patch_of_strips_of_2() -> None:
    """Finished 4 1/2, strip 2: short strips of 3 SW + 1 = 7, 2 SW + 1 = 5 and SW + 1/2 = 2 1/2 in.

    Two segments of 2 of the outer set and one of the inner need 4 and 2 in of strip; the page adds an inch
    and a half inch
    to square up: 7 and 5 for A, 7 and 2 1/2 for B.
    """
    strip = num("2")
    assert (strip * 3 + 1, strip * 2 + 1, strip + num("1/2")) == (num("7"), num("5"), num("2 1/2")), NINE
    plan = planned(
        pattern("""
    unit outside
        strips night | glow | night
        finished 4 1/2 x 1 1/2
    unit inside
        strips glow | night | glow
        finished 4 1/2 x 1 1/2
    block nine
        rows
            outside
            inside
            outside
        measures 5
    quilt
        across 1, down 1
        tile
            nine
        finished 4 1/2
    """)
    )
    heights = {x.cut.height for x in plan.lines}
    assert heights == {strip}
    needed = {str(c.making.key): c.needed for c in plan.counts}
    assert (needed["outside"], needed["inside"]) == (2, 1)
    assert all(2 * n <= long for n, long in ((needed["outside"], 5), (needed["inside"], num("2 1/2"))))


@pytest.mark.parametrize(
    ("segment", "usable", "count", "printed"),
    [
        ("3 1/2", "40", 11, range(10, 13)),
        ("3 1/2", "42", 11, range(10, 13)),
        ("2", "40", 19, range(18, 22)),
        ("2", "42", 20, range(18, 22)),
    ],
)
def test_segments_from_a_set(segment: str, usable: str, count: int, printed: range) -> None:
    """10 to 12 of 3 1/2 in and 18 to 21 of 2 in: where the division leaves nothing to square up the end with, one
    fewer."""
    plan = planned(segments("night cut 2 | glow cut 2", segment, count, f"usable width {usable}"))
    (made,) = [c for c in plan.counts if str(c.making.key) == "band"]
    assert (made.yields, made.batches) == (count, 1), MYSTERY
    assert count in printed
    more = planned(segments("night cut 2 | glow cut 2", segment, count + 1, f"usable width {usable}"))
    assert [c.batches for c in more.counts if str(c.making.key) == "band"] == [2]


def test_seven_strips_of_2_1_2() -> None:
    """14 in finished, 14 1/2 unfinished."""
    project = segments(" | ".join(["night cut 2 1/2", "glow cut 2 1/2"] * 3 + ["night cut 2 1/2"]), "2 1/2", 7)
    band = sound(project).makings["band"]
    assert (band.width, band.recipe.strip_unit) == (14, num("14 1/2")), CHAIN


def test_bargello() -> None:
    """An edge of 48 in from strips cut 2 1/2 has 24 rows; per colour its column widths added up go into the
    usable width."""
    row = " | ".join(["night cut 2 1/2", "glow cut 2 1/2", "stone cut 2 1/2"] * 8)
    widths = ("1", "1 1/2", "2", "2 1/2")
    body = "".join(f"unit column{i}\n    strips {row}\n    cut {w}\n\n" for i, w in enumerate(widths))
    body += "quilt\n    layout\n        " + " | ".join(f"column{i} turned 90" for i in range(len(widths))) + "\n"
    plan = planned(pattern(body))
    assert plan.top is not None and plan.top.height == 48, BARGELLO
    for count in plan.counts:
        if str(count.making.key).startswith("column"):
            assert len(count.making.parts) == 24 == 48 / (num("2 1/2") - num("1/2"))
    # the widths of the columns whose seams are pressed the same way add up and go into one strip unit; half strips do,
    # eight of each cloth in a set of 24, two from each strip once its end is squared up
    shared = [c.shared for c in plan.counts if c.shared is not None and c.batches]
    assert [len(s.makings) for s in shared] == [2, 2]
    assert all(
        sum((m.recipe.segment or 0) * s.segments(m) for m in s.makings) <= num("19 1/4")
        and (s.batches, s.half) == (1, 2)
        for s in shared
    )
    assert all(x.count == 8 and x.cut.width == num("19 3/4") for x in plan.lines)
    assert strips(plan, "night") == 2 * 8 / 2


def test_half_strips_where_they_are_enough() -> None:
    """Derived: floor((U - 1/4) / segment) from a set, floor((U / 2 - 1/4) / segment) from a half, 1/4 in for squaring
    up; the last set may be of half strips."""
    for number, batches, half in ((15, 1, 0), (16, 2, 7), (22, 2, 7), (23, 2, 0), (7, 1, 7), (8, 1, 0)):
        plan = planned(segments("night cut 2 1/2 | glow cut 2 1/2 | night cut 2 1/2", "2 1/2", number))
        (made,) = [c for c in plan.counts if str(c.making.key) == "band"]
        assert (made.yields, made.batches, made.half) == (15, batches, half)
        whole = batches - (half > 0)
        assert strips(plan, "night") == 2 * whole + (half > 0)
        assert strips(plan, "glow") == batches
        assert made.made == whole * 15 + half >= number


def test_three_strips_to_test_a_seam() -> None:
    """Three strips 1 1/2 x 5: 3 1/2 wide, the centre shows 1."""
    body = """
    unit test
        row night cut 1 1/2 x 5 | glow cut 1 1/2 x 5 | stone cut 1 1/2 x 5
        measures 3 1/2 x 5
    """
    project = sound(pattern(body))
    assert project.makings["test"].parts[1].what.outline[1][0] == 1, SCANT


def test_an_eighth_lost_at_each_of_four_seams() -> None:
    """Half an inch in all: loss adds up
    (https://www.quilted-connections.com/blogs/news/what-is-a-scant-1-4-seam)."""
    row = "row " + " | ".join(["night cut 2 1/2 x 6"] * 5)
    widths = []
    for seam in ("1/4", "5/16"):
        project = sound(pattern(f"unit test\n    {row}\n", f"seam {seam}"))
        widths.append(project.makings["test"].width + num(seam) * 2)
    assert widths[0] - widths[1] == num("1/8") * 4
