"""Cloth in pieces of any size: scraps at hand, fat eighths, pieces of a size of their own, strips of a roll."""

from __future__ import annotations

import json
from collections import Counter
from fractions import Fraction
from importlib.resources import files

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import patternkit
from patternkit.desk.cutting import cuts_text
from patternkit.desk.cutting_data import cuts_json
from patternkit.plan.cutting import CuttingSettings, PieceDemand
from patternkit.plan.cutting.stock import plan_stock
from patternkit.plan.cutting.stock_model import StockCloth
from tests.desk.test_cutting_data import accounted
from tests.published.desk import objection, pattern, planned, problems, sound

BODY = """
block wall
    patch night
    finished 3
quilt
    across 5, down 6
    tile
        wall
"""


def bought(night: str, *setting: str) -> str:
    """What the cuts say of 30 squares of 3 1/2 in."""
    project = pattern(BODY, *(setting or ("usable width 42", "squaring 0")), night=night)
    return cuts_text(project, planned(project))


def test_scraps_are_cut_up_before_a_length_is_bought() -> None:
    """Nine squares of 3 1/2 in from 10 1/2 x 10 1/2 in, two pieces: 18; 12 from one strip of 42 in, so just one."""
    text = bought("have 2 of 10 1/2")
    assert "2 of the pieces at hand (10 1/2 x 10 1/2 in), each:\n    3 strips 3 1/2 in" in text
    assert "1 strip 3 1/2 in: 12 of 3 1/2 x 3 1/2 (wall)" in text and "uses 3 1/2 in" in text
    assert "buy 1/8 yd" not in bought("have 2 of 10 1/2\n    have 4 of 7 x 14").replace("with 1 in spare; buy 0 yd", "")


def test_scraps_that_are_enough_leave_nothing_to_buy() -> None:
    project = pattern(BODY, night="have 4 of 10 1/2")
    plan = planned(project).fabrics["night"]
    assert plan.buy == 0 and [(x.count, n) for x, n in plan.scraps_cut] == [(4, 4)]
    text = next(iter(patternkit.files(project, formats=("md",)).values())).decode()
    assert "The pieces at hand are cut up first." in text and "4 pieces of 10 1/2 x 10 1/2 in at hand" in text
    told = next(iter(patternkit.files(project, formats=("md",), language="de", units="inches").values())).decode()
    assert "4 Stücke zu 10 1/2 x 10 1/2 in vorhanden" in told


def test_fat_eighths_have_their_published_size() -> None:
    """Usable 9 x 21 in (https://anniescatalog.com/quilting/content.html): 2 rows of 6 squares of 3 1/2 in."""
    text = bought("sold as fat-eighths")
    assert "(21 x 9 in)" in text and "3 fat eighths; cannot be done with fewer" in text
    assert "2 fat eighths" in bought("sold as fat eighths\n    have 1 of 10 1/2")


def test_pieces_have_a_width_and_a_height() -> None:
    """Across and along the cloth, as written: a print with an up and a down is not turned."""
    assert "(15 x 30 in)" in bought("sold as pieces 15 x 30") and "1 piece; cannot" in bought("sold as pieces 18 x 21")
    long = "block wall\n    patch night\n    finished 5 x 20\nquilt\n    across 2\n    tile\n        wall\n"
    across = pattern(long, night="sold as pieces 21 x 12")
    assert problems(across) == []
    head = "fabric moss directional\n    sold as pieces 21 x 12\n"
    print_of = pattern(head + long.replace("patch night", "patch moss"))
    assert "does not fit on the pieces of 21 x 12 in" in objection(print_of, "too-long")
    assert "say sold as pieces 20 x 30" in " ".join(p.message for p in problems(pattern(BODY, night="sold as pieces")))


def test_strips_of_a_roll_are_as_long_as_the_cloth_is_wide() -> None:
    body = "unit seg\n    strips night 2 | glow 2\n    finished 3 high\nquilt\n    across 4, down 6\n    tile\n"
    project = pattern(
        f"{body}        seg\n", "usable width 42", night="sold as strips 2 1/2, 40 to a pack", glow="sold as strips"
    )
    text = cuts_text(project, planned(project))
    assert "3 strips; buy 1 pack of 40" in text and "3 strips; cannot" in text and "(42 x 2 1/2 in)" in text


def test_have_of_a_size_is_written_as_it_is_read() -> None:
    from patternkit.syntax.format import format_text

    untidy = "fabric kelp\n  have  3 of 10x12\n  have 2 of 8\n  sold as fat-eighths 9x21, 2 to a pack\n"
    tidy = "fabric kelp\n    have 3 of 10 x 12\n    have 2 of 8\n    sold as fat-eighths 9 x 21, 2 to a pack\n"
    assert format_text(untidy) == tidy == format_text(tidy)


def test_a_piece_at_hand_has_two_sides() -> None:
    assert "has two sides" in objection(pattern(BODY, night="have 3 of 0 x 12"), "too-small")
    assert "have 3 of 10 x 12" in objection(pattern(BODY, night="have 3"), "out-of-place")


def test_the_data_has_the_scraps() -> None:
    project = sound(pattern(BODY, "usable width 42", night="have 2 of 10 1/2\n    have 0 of 30\n    have 3 of 7 x 9"))
    found = json.loads(cuts_json(project, planned(project), 2))
    schema = json.loads(files("patternkit.desk").joinpath("cuts.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(schema).validate(found)
    (night,) = found["fabrics"]
    accounted(night)
    assert night["sheets"]["form"] == "" and len(night["sheets"]["scraps"]) == 3
    assert all(layout["scrap"] for layout in night["sheets"]["layouts"])


sides = st.integers(8, 40)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(sides, sides, st.integers(1, 6)), min_size=1, max_size=5),
    st.lists(st.tuples(st.integers(10, 60), st.integers(10, 60), st.integers(1, 3)), min_size=1, max_size=3),
    st.booleans(),
)
def test_no_more_scraps_than_there_are_and_a_bound_that_holds(
    wanted: list[tuple[int, int, int]], there: list[tuple[int, int, int]], alike: bool
) -> None:
    """Counted from the layouts; the bound against the area, and against what scraps that are sheets would leave."""
    pieces = [PieceDemand(f"p{i}", w, h, n) for i, (w, h, n) in enumerate(wanted)]
    scraps = [
        StockCloth(f"scrap {i}", 44, 44, n) if alike else StockCloth(f"scrap {i}", w, h, n)
        for i, (w, h, n) in enumerate(there, 1)
    ]
    sheets = [*scraps, StockCloth("squares", 44, 44)]
    done = plan_stock(pieces, sheets, CuttingSettings(44))
    used = dict(done.used)
    assert all(used[s.name] <= (s.count or 0) for s in scraps) and used["squares"] >= done.bound
    cut: Counter[str] = Counter()
    for sheet in done.sheets:
        for strip in sheet.strips:
            for c in strip.cuts:
                cut[c.piece] += c.number * strip.copies * sheet.copies
    assert cut == {p.id: p.count for p in pieces}
    if alike:  # all sheets are of one size: those at hand and those bought are as many as without any at hand, or more
        alone = plan_stock(pieces, [StockCloth("squares", 44, 44)], CuttingSettings(44))
        assert done.bound + sum(n for *_, n in there) >= alone.bound
        assert done.bound <= max(0, sum(n for _, n in alone.used) - sum(n for *_, n in there))


@pytest.mark.parametrize("width", [Fraction(42), Fraction(40)])
def test_what_fits_no_scrap_is_proved_apart(width: Fraction) -> None:
    """Four strips as wide as a sheet, three from each: two sheets, whatever the narrower scrap may hold."""
    pieces = [PieceDemand("long", 21, 5, 4, may_turn=False), PieceDemand("small", 4, 4, 16)]
    done = plan_stock(
        pieces, [StockCloth("scrap 1", 20, 20, 1), StockCloth("fat", 21, 18)], CuttingSettings(int(width))
    )
    assert (done.bound, dict(done.used)["fat"]) == (2, 2)


def test_kits_take_scraps_for_every_maker() -> None:
    """Four pieces for one are 48 for 12, in words and as data; a single pack is one pack."""
    project = pattern(BODY, night="have 4 of 10 1/2")
    plan = planned(project)
    assert "for 12 makers: 48 pieces at hand of 10 1/2 x 10 1/2 in" in cuts_text(project, plan, 12)
    (night,) = (f for f in json.loads(cuts_json(project, plan, 12))["fabrics"] if f["fabric"] == "night")
    assert night["sheets"]["kits"]["scraps"] == [{"width": "21/2", "height": "21/2", "cut": 48}]
    rolled = pattern(BODY, night="sold as strips 3 1/2, 40 to a pack")
    assert cuts_text(rolled, planned(rolled), 12).endswith("for 12 makers: 36 strips, 1 pack")
