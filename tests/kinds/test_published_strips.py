"""Strip units and joins against published numbers and check values of the trade."""

from __future__ import annotations

from tests.kinds.bench import num
from tests.kinds.text import codes, made, objections


def test_seven_strips_by_turns() -> None:
    """Common practice, no source: four strips cut 1 1/4 and three cut 1 make 5 in, each showing 3/4 and
    1/2."""
    making = made(
        "strips night cut 1 1/4 | ( glow cut 1 | night cut 1 1/4 | ) 2 times glow cut 1 | night cut 1 1/4",
        "measures 5 x 3",
    )
    assert making.recipe.strip_unit == 5
    shown = [p.what.outline[1][0] - p.what.outline[0][0] for p in making.parts]
    assert shown == [num("3/4"), num("1/2")] * 3 + [num("3/4")]
    assert objections("strips night cut 1 1/4 | glow cut 1 | night cut 1 1/4", "measures 3 1/2 x 3") == [
        "claim-differs"
    ]


def test_nine_patch() -> None:
    """Common practice, no source: strips and segments of 1 1/2 measure 3 1/2; with a 1 1/4 in strip on two
    sides, 5."""
    body = """
        unit outside
            strips night cut 1 1/2 | glow cut 1 1/2 | night cut 1 1/2
            cut 1 1/2

        unit inside
            strips glow cut 1 1/2 | night cut 1 1/2 | glow cut 1 1/2
            cut 1 1/2

        block nine
            column outside | inside | outside
            measures {nine}

        block framed
            row stone cut 1 1/4 | nine | stone cut 1 1/4
            measures {framed}
    """
    assert codes(body.format(nine="3 1/2", framed="5 x 3 1/2")) == []
    assert codes(body.format(nine="3 1/2", framed="4 3/4 x 3 1/2")) == ["claim-differs"]
    assert codes(body.format(nine="3 1/2", framed="4 1/2 x 3 1/2")) == ["finished-or-measures"]


def test_nine_patch_from_strips_of_two() -> None:
    """Finished 4 1/2 from strips cut 2: http://www.generations-quilt-patterns.com/nine-patch-quilt.html"""
    making = made("strips night | glow | night", "finished 4 1/2 x 1 1/2")
    assert {(c.fabric, c.height, c.count) for c in making.recipe.cuts} == {("night", 2, 2), ("glow", 2, 1)}
    assert (making.recipe.segment, making.recipe.strip_unit) == (2, 5)


def test_seven_strips_of_two_and_a_half() -> None:
    """14 in finished, 14 1/2 unfinished: http://quilting.denisemadeit.com/2017/09/irish-chain-quilts.html"""
    making = made("strips " + " | ".join(["night cut 2 1/2", "glow cut 2 1/2"] * 3 + ["night cut 2 1/2"]), "cut 2 1/2")
    assert (making.width, making.recipe.strip_unit) == (14, num("14 1/2"))


def test_seam_test_of_three_strips() -> None:
    """Three strips 1 1/2 x 5 measure 3 1/2, the middle shows 1.

    http://www.quiltcentric.com/2012/09/16/testing-your-scant-quarter-inch-seam/
    https://www.quilted-connections.com/blogs/news/what-is-a-scant-1-4-seam
    """
    making = made("row night cut 1 1/2 x 5 | glow cut 1 1/2 x 5 | night cut 1 1/2 x 5", "measures 3 1/2 x 5")
    middle = making.parts[1]
    assert middle.place.dx == 1 and middle.what.outline[1][0] == 1


def test_bargello_rows() -> None:
    """A 48 in edge from strips cut 2 1/2 has 24 rows:
    http://jinny-gallimaufry.blogspot.com/2020/06/designing-bargello-quilt-part-3.html"""
    making = made(
        "strips ( night cut 2 1/2 | glow cut 2 1/2 | ) 11 times night cut 2 1/2 | glow cut 2 1/2", "cut 2 1/2"
    )
    assert (len(making.parts), making.width) == (24, 48)


def test_metric_seam() -> None:
    """A seam of 7.5 mm takes 1.5 cm:
    http://lonesockproductions.blogspot.com/2010/08/how-to-plan-cot-sized-quilt-using.html"""
    settings = ("units cm", "seam 0.75")
    body = """
        unit pair
            row night cut 10 x 10 | glow cut 10 x 10
            measures {} x 10
    """
    assert codes(body.format("18.5"), *settings) == []
    assert codes(body.format("20"), *settings) == ["claim-differs"], "the seams forgotten"


def test_11_and_9_do_not_make_20() -> None:
    """A published error: 11 x 20 joined to 9 x 20 gives 19 1/2.

    http://quilton.blogspot.com/2011/09/before-i-start-today.html
    """
    line = "row night cut 11 x 20 | glow cut 9 x 20"
    assert objections(line, "measures 20") == ["claim-differs"]
    assert objections(line, "measures 19 1/2 x 20") == []


def test_an_eighth_lost_at_each_of_four_seams() -> None:
    """Loss adds up: four seams an eighth too deep lose 1/2 in.

    https://www.quilted-connections.com/blogs/news/what-is-a-scant-1-4-seam (each seam takes twice its depth)
    """
    line = "row night cut 2 x 2 | glow cut 2 x 2 | night cut 2 x 2 | glow cut 2 x 2 | night cut 2 x 2"
    good = made(line)
    deep = made(line, settings=("seam 5/16",))
    measured = [m.width + s * 2 for m, s in ((good, num("1/4")), (deep, num("5/16")))]
    assert measured[0] - measured[1] == num("1/2")
