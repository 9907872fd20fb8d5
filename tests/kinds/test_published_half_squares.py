"""Half-squares and quarter-squares against published numbers (the page of each case stands with it)."""

from __future__ import annotations

import pytest

from tests.kinds.bench import num
from tests.kinds.text import cut_of, made, objections, problems, sewn

FOUR = "https://rainbowsbunniescupcakes.blogspot.com/2012/02/tutorial-half-square-triangle-version.html?m=0"
EIGHT = "https://www.scrapish.com/half-square-triangles-8-at-a-time.html"
RULE_2U = (
    "http://www.quiltingboard.com/blogs/fast-way-do-8-time-half-square-triangles-hst-straight-grain-edges-b10533.html"
)
PINWHEEL = "https://piecemealquilts.com/2011/10/22/tyss-pinwheel-fillers/"


@pytest.mark.parametrize(
    ("finished", "cut", "exact", "source"),
    [
        (
            "3",
            "3 7/8",
            3.8536,
            "http://www.quiltmaker.com/blogs/quiltypleasures/2013/04/quilt-blocks-easy-math-part-4/",
        ),
        ("6", "6 7/8", 6.8536, "https://ourthankfulday.com/2011/02/22/do-the-math/"),
        ("2", "2 7/8", 2.8536, PINWHEEL),
        ("4", "4 7/8", 4.8536, "http://www.allpeoplequilt.com/print/326337?page=0%2C1"),
    ],
)
def test_two_from_two_squares(finished: str, cut: str, exact: float, source: str) -> None:
    """Worked out as published, and accepted when stated."""
    making = made("half-square night, glow", f"finished {finished}")
    square = cut_of(making, "night")
    assert square.width == square.height == num(cut), source
    assert float(square.exact_width) == pytest.approx(exact, abs=5e-5)
    assert making.recipe.yields == 2
    assert made("half-square night, glow", f"finished {finished}", f"cut {cut}").recipe.sewn == making.recipe.sewn


@pytest.mark.parametrize(
    ("finished", "cut", "untrimmed", "measures", "source"),
    [
        (
            "6",
            "7",
            6.6464,
            "6 1/2",
            "https://ukqu.co.uk/blog/2022/12/16/quiltsewgo-beginners-sampler-quilt-block-6-pinwheel/",
        ),
        ("2", "3", 2.6464, "2 1/2", PINWHEEL),
        ("2", "3 1/4", 2.8964, "2 1/2", PINWHEEL),
    ],
)
def test_oversize_and_trim(finished: str, cut: str, untrimmed: float, measures: str, source: str) -> None:
    making = made("half-square night, glow", f"finished {finished}", f"cut {cut}")
    assert sewn(making) == pytest.approx(untrimmed, abs=5e-5), source
    assert making.recipe.trim_to == (num(measures), num(measures))


def test_the_usual_oversize_is_the_published_one() -> None:
    """Finished size + 1
    (https://ukqu.co.uk/blog/2022/12/16/quiltsewgo-beginners-sampler-quilt-block-6-pinwheel/)."""
    assert cut_of(made("half-square night, glow", "finished 6", "method oversize"), "glow").width == 7
    assert cut_of(made("half-square night, glow", "finished 2", "method oversize"), "glow").width == 3


@pytest.mark.parametrize(
    ("cut", "finished", "untrimmed", "source"),
    [
        ("10", "6", 6.7175, FOUR),
        ("5", "2 1/2", 3.1820, FOUR),
        (
            "10",
            "6",
            6.7175,
            "https://thedartmooryarncompany.com/2019/04/18/the-quick-and-easy-pinwheel-block-method/",
        ),
    ],
)
def test_four_at_a_time(cut: str, finished: str, untrimmed: float, source: str) -> None:
    """A 10 in square gives 6.72 (finishing 6.22), trimmed to 6 1/2; a 5 in square a little over 3."""
    making = made("half-square night, glow", f"finished {finished}", "method four at a time", f"cut {cut}")
    assert sewn(making) == pytest.approx(untrimmed, abs=5e-5), source
    assert making.recipe.yields == 4
    assert round(sewn(making) - 0.5, 2) == {10: 6.22, 5: 2.68}[int(cut)]


@pytest.mark.parametrize(
    ("finished", "cut", "exact", "source"),
    [
        ("2 1/2", "6 3/4", 6.7071, "https://mesquitequiltguildinc.com/?p=923"),
        ("2", "5 3/4", 5.7071, EIGHT),
        ("3", "7 3/4", 7.7071, EIGHT),
        ("4", "9 3/4", 9.7071, EIGHT),
        ("6", "13 3/4", 13.7071, EIGHT),
        ("8", "17 3/4", 17.7071, EIGHT),
    ],
)
def test_eight_at_a_time(finished: str, cut: str, exact: float, source: str) -> None:
    making = made("half-square night, glow", f"finished {finished}", "method eight at a time")
    square = cut_of(making, "night")
    assert square.width == num(cut), source
    assert float(square.exact_width) == pytest.approx(exact, abs=5e-5)


@pytest.mark.parametrize(("measures", "cut", "untrimmed"), [("4 1/2", "10", 4.6464), ("7", "15", 7.1464)])
def test_eight_at_a_time_oversize(measures: str, cut: str, untrimmed: float) -> None:
    """Twice the unfinished size and 1 in: a cut stated, and the usual oversize."""
    stated = made("half-square night, glow", f"measures {measures}", "method eight at a time", f"cut {cut}")
    assert sewn(stated) == pytest.approx(untrimmed, abs=5e-5), RULE_2U
    usual = made("half-square night, glow", f"measures {measures}", "method eight at a time oversize")
    assert cut_of(usual, "night").width == num(cut)


def test_three_pairs_make_twenty_four() -> None:
    """https://www.quiltini.at/q40/index.php/blog/190-mystery-2021-day1: three pairs of 5 in squares, 24
    units."""
    making = made("half-square night, glow", "finished 1 1/2", "method eight at a time", "cut 5")
    assert 3 * making.recipe.yields == 24
    assert [(c.fabric, c.count) for c in making.recipe.cuts] == [("night", 1), ("glow", 1)]


def test_finished_size_2_does_not_need_a_square_of_3_3_8() -> None:
    """A published error: the 7/8 was added to the unfinished size; 2 7/8 is enough.

    https://bkkquilt.com/how-to-crochet/how-do-you-calculate-triangles-in-quilting.html
    """
    assert objections("half-square night, glow", "finished 2", "cut 3 3/8") == ["seams-added-twice"]
    assert objections("half-square night, glow", "finished 2", "cut 2 3/4") == ["cut-too-small"]
    assert objections("half-square night, glow", "finished 2", "cut 2 7/8") == []
    assert objections("half-square night, glow", "finished 2", "cut 3 3/8", "method oversize") == []


def test_the_unfinished_size_in_the_rule_of_each_method() -> None:
    """Four at a time grows by root 2, eight at a time by 2 for each inch of the unit, so that the slip is no constant:
    5.45 and 6.157 for 3 in from four, 9.707 and 10.707 for 4 in from eight. What is larger by two seams is room."""
    four, eight = "method four at a time", "method eight at a time"
    assert objections("half-square night, glow", "finished 3", four, "cut 6 1/4") == ["seams-added-twice"]
    assert objections("half-square night, glow", "finished 3", four, "cut 6") == []
    assert objections("half-square night, glow", "finished 4", eight, "cut 10 3/4") == ["seams-added-twice"]
    assert objections("half-square night, glow", "finished 4", eight, "cut 10 1/4") == []


def test_a_slip_may_be_an_oversize_that_is_not_said() -> None:
    (slip,) = problems("\nunit it\n    half-square night, glow\n    finished 3\n    method no waste\n    cut 6 1/4\n")
    assert [r.replacement for r in slip.repairs] == ["5 1/2", "method no waste oversize"]
    both = "\nunit it\n    quarter-square night cut 3 3/4, glow cut 3 3/4\n    finished 2\n"
    assert [r.replacement for p in problems(both) for r in p.repairs if p.code == "seams-added-twice"] == [None]


def test_why_7_8_and_1_1_4() -> None:
    """7/8 = 1/2 + 3/8 and 1 1/4 = 1/2 + 3/8 + 3/8, each 3/8 being 0.3536:
    https://smartplatequilting.com/?p=447"""
    half = made("half-square night, glow", "finished 4")
    quarter = made("quarter-square night, glow", "finished 4")
    assert float(half.recipe.cuts[0].exact_width) - 4.5 == pytest.approx(0.3536, abs=5e-5)
    assert float(quarter.recipe.cuts[0].exact_width) - 4.5 == pytest.approx(2 * 0.35355, abs=5e-5)


@pytest.mark.parametrize("seam", [5, 6, 7, 8, 10])
def test_adders_as_multiples_of_the_seam(seam: int) -> None:
    """3.5 and 5 times the seam are enough in millimetres too; exactly 3.4142 and 4.8284 times.

    http://tilkkutaiwas.blogspot.com/2012/03/tilkkumatematiikkaa-patchwork.html
    """
    settings = ("units mm", f"seam {seam}", "ruler 0.5")
    for kind, multiple, exact in (("half-square", 3.5, 3.4142), ("quarter-square", 5, 4.8284)):
        stated = f"cut {60 + int(multiple * seam * 2) / 2:g}"
        making = made(f"{kind} night, glow", "finished 60", stated, settings=settings)
        adder = float(making.recipe.cuts[0].exact_width) * 25.4 - 60
        assert adder / seam == pytest.approx(exact, abs=5e-5)


# -- quarter-squares --------------------------------------------------------------------------------------
@pytest.mark.parametrize("method", ["pairs of squares", "from triangles"])
@pytest.mark.parametrize(
    ("finished", "cut", "exact", "source"),
    [
        (
            "3",
            "4 1/4",
            4.2071,
            "https://shop.perkinsdrygoods.com/blogs/perkins-dry-goods-71/easy-quarter-square-triangles",
        ),
        (
            "4",
            "5 1/4",
            5.2071,
            "http://quiltville.blogspot.com/2005/06/cutting-quarter-square-triangles.html?m=1",
        ),
    ],
)
def test_quarter_squares(method: str, finished: str, cut: str, exact: float, source: str) -> None:
    making = made("quarter-square night, glow", f"finished {finished}", f"method {method}")
    square = cut_of(making, "glow")
    assert square.width == num(cut), source
    assert float(square.exact_width) == pytest.approx(exact, abs=5e-5)
    assert square.then == ("quarter" if method == "from triangles" else "")


def test_quarter_squares_oversize() -> None:
    """Finished 2: 3 1/2 to trim, 3 3/8 also enough; before trimming 2.793.

    http://alamosaquilter.blogspot.com/2014/10/quarter-square-triangle-formula.html
    """
    making = made("quarter-square night, glow", "finished 2", "method oversize")
    assert cut_of(making, "night").width == num("3 1/2")
    assert sewn(making) == pytest.approx(2.793, abs=5e-4)
    assert objections("quarter-square night, glow", "finished 2", "cut 3 3/8") == []
    assert objections("quarter-square night, glow", "finished 2", "cut 3 1/8") == ["cut-too-small"]


def test_hourglass_of_4_unfinished_from_5() -> None:
    """http://www.opengatequilts.com/howtovideo.html: squares of 5, before trimming 4.2929."""
    making = made("quarter-square night, glow", "measures 4", "cut 5")
    assert sewn(making) == pytest.approx(4.2929, abs=5e-5)
    assert making.recipe.trim_to == (4, 4)


def test_pinwheel() -> None:
    """Finished 4: two and two squares of 2 7/8 for its four half-squares of 2 (3 or 3 1/4 to trim)."""
    making = made("half-square night, glow", "finished 2")
    batches = 4 // making.recipe.yields
    assert [(c.fabric, c.count * batches, c.width) for c in making.recipe.cuts] == [
        ("night", 2, num("2 7/8")),
        ("glow", 2, num("2 7/8")),
    ], PINWHEEL
