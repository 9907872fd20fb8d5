"""Claims of strips: whether they give what is cut from them."""

from __future__ import annotations

import pytest

from .desk import found, said, settled, star


def test_whole_strips_and_pieces() -> None:
    """64 squares take 4 strips of 16, 16 squares of 4 1/2 in two of 8; the binding 4 more."""
    assert found(star(night="cut 4 strips 2 1/2\n    cut 2 strips 4 1/2")) == []
    assert found(star(night="cut 8 strips 2 1/2", quilt="binding cut 2 1/2 night")) == []
    short = settled(star(night="cut 7 strips 2 1/2", quilt="binding cut 2 1/2 night"), "strips-differ")
    assert "7 strips of 2 1/2 in of Midnight are too few; 8 are enough" in short.message
    assert "4 whole ones are cut for binding." in short.causes


def test_the_message_says_how_many_the_cloth_gives() -> None:
    short = settled(star(night="cut 3 strips 2 1/2"), "strips-differ")
    assert "3 strips of 2 1/2 in of Midnight give 48 of 2 1/2 in; 64 are needed" in short.message
    more = settled(star(night="cut 5 strips 2 1/2"), "strips-more")
    assert more.advice and "1 more than needed: 4 are enough" in more.message


def test_strips_to_the_last_thread_are_advice() -> None:
    """16 squares of 2 1/2 in come from 40 in only where nothing is lost at the end; with half an inch kept, 15 do."""
    text = star(night="usable width 40\n    cut 4 strips 2 1/2")
    thread = said(text, "every-thread")
    assert thread.advice and "1/2 in of each are kept for squaring up." in thread.causes
    assert found(text.replace("cut 4", "squaring 0\n    cut 4")) == []
    assert said(text.replace("cut 4", "cut 3"), "strips-differ").repairs[0].replacement == "5"


def test_either_height_will_do() -> None:
    """Rectangles of 2 1/2 x 4 1/2 come from strips of either width, or from both."""
    assert found(star(glow="cut 4 strips 4 1/2")) == []
    assert found(star(glow="cut 8 strips 2 1/2")) == []
    assert found(star(glow="cut 2 strips 4 1/2\n    cut 4 strips 2 1/2")) == []
    assert said(star(glow="cut 3 strips 4 1/2"), "strips-differ").repairs[0].replacement == "4"


def test_pieces_named_behind_their_strips() -> None:
    assert found(star(glow="cut 4 strips 4 1/2, 64 of 2 1/2 x 4 1/2")) == []
    assert found(star(night="cut 4 strips 2 1/2, 64 of 2 1/2\n    cut 2 strips 4 1/2")) == []
    short = settled(star(glow="cut 3 strips 4 1/2, 64 of 2 1/2 x 4 1/2"), "strips-differ")
    assert "3 strips of 4 1/2 in of Lamp give 48 of 2 1/2 x 4 1/2 in; 64 are needed" in short.message


def test_ends_of_taller_strips_are_used() -> None:
    """16 squares of 4 1/2 in fill two strips; a third gives 16 of the 64 squares of 2 1/2 in, in one row."""
    assert [p.code for p in found(star(night="cut 3 strips 4 1/2\n    cut 3 strips 2 1/2"))] == []
    short = found(star(night="cut 2 strips 4 1/2\n    cut 3 strips 2 1/2"))
    assert [p.code for p in short] == ["strips-differ"]


def test_strips_that_nothing_is_cut_from() -> None:
    assert said(star(night="cut 12 strips 6"), "strips-differ").message == (
        "Nothing is cut from strips of 6 in of Midnight."
    )


@pytest.mark.parametrize(
    ("usable", "count", "size", "strips", "source"),
    [
        ("40", 12, "4 1/2", "2 strips 4 1/2", "https://patchworktimes.com/2011/11/12/calculating-yardage"),
        (
            "42",
            140,
            "2 1/2 x 4 1/2",
            "16 strips 2 1/2",
            "http://www.modernquiltingbyb.com/2015/02/single-block-quilt-tutorial-series.html",
        ),
        (
            "42",
            112,
            "3 7/8 x 7 3/4",
            "23 strips 3 7/8",
            "http://quilterscache.com/StartQuiltingPages/startquiltingtwo.html",
        ),
        (
            "42",
            40,
            "5",
            "5 strips 5",
            "https://anniescatalog.com/quilting/content.html?content_id=804&scat_id=623&type_id=S",
        ),
        (
            "42",
            16,
            "10",
            "4 strips 10",
            "https://anniescatalog.com/quilting/content.html?content_id=804&scat_id=623&type_id=S",
        ),
    ],
)
def test_published_strips_for_pieces(usable: str, count: int, size: str, strips: str, source: str) -> None:
    """What is printed is accepted; one strip fewer is noticed, and so is one more."""
    across = next(n for n in range(12, 0, -1) if count % n == 0)
    width, _, height = size.partition(" x ")
    text = f"""\
fabric night "Midnight" dark #1b2a49
    usable width {usable}
    cut {{}}

block one
    patch night
    cut {width} x {height or width}

quilt
    across {across}, down {count // across}
    tile
        one
"""
    number = int(strips.split()[0])
    assert found(text.format(strips)) == [], source
    assert found(text.format(f"{strips}, {count} of {size}")) == []
    for less, code in ((1, "strips-differ"), (-1, "strips-more")):
        changed = strips.replace(f"{number}", f"{number - less}", 1)
        assert [p.code for p in found(text.format(changed))] == [code], changed


UNITS = """\
fabric night "Midnight" dark #1b2a49
    {night}
fabric glow "Lamp" light #f4c95d

unit pair
    strips night | glow
    finished 4 x 2
    {pair}

block four
    rows
        pair
        pair turned 180

quilt
    across 4, down 8
    tile
        four
"""


def strip_units(pair: str = "", night: str = "") -> str:
    text = UNITS.format(pair=pair, night=night)
    return "\n".join(line for line in text.split("\n") if line.strip() or not line)


def test_strip_units() -> None:
    """64 segments of 2 1/2 in: 15 come from a strip unit 40 in long that is squared up, so five are sewn."""
    assert found(strip_units("strip units 5, 15 from each")) == []
    assert found(strip_units("strip units 5")) == []
    assert found(strip_units("cut 5 strips 2 1/2 night", "cut 5 strips 2 1/2")) == []
    short = settled(strip_units("strip units 3"), "strip-units-differ")
    assert "3 strip units of pair give 45 segments; 64 are needed" in short.message
    assert settled(strip_units("strip units 6"), "strip-units-more").advice
    assert "gives 15 segments; 17 are" in said(strip_units("strip units 5, 17 from each"), "strip-units-differ").message
    assert "give 56 segments" in said(strip_units("strip units 4, 14 from each"), "strip-units-differ").message
    assert "not cut from strip units" in said(star(star="strip units 3"), "strip-units-differ").message


@pytest.mark.parametrize("claim", ["strip units 4", "strip units 4, 16 from each"])
def test_what_needs_every_thread_is_advice(claim: str) -> None:
    """Four times 16 segments of 2 1/2 in come from 40 in only if nothing is lost at the end."""
    thread = settled(strip_units(claim), "every-thread")
    assert thread.advice and "16 segments from a strip unit of pair need every thread" in thread.message
