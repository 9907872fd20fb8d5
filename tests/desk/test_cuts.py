"""The cuts command in words and as data; cloth that comes in sheets."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from patternkit import api
from patternkit.cli import main

TIDE = "examples/tide-star.pattern"

SHEETS = """pattern "Sheets"
    units inches

fabric a "Ash" dark
    sold as fat-quarters 18 x 21
    have 2
fabric b "Bone" light
    sold by 1/4 yd
    sold as fat-quarters 18 x 21
    have 1
fabric c "Charm" light
    sold as squares 10 x 10, 42 to a pack

block nine
    rows
        a | b | a
        b | c | b
        a | b | a
    finished 9

quilt
    across 5, down 6
    tile
        nine
    border 3 b
    binding cut 2 1/2 a
"""


def run(*words: str) -> str:
    result = CliRunner().invoke(main, list(words))
    assert result.exit_code == 0, result.output
    return result.output


def test_data_accounts_for_every_piece() -> None:
    for fabric in json.loads(run("cuts", TIDE, "--format", "json"))["fabrics"]:
        cut = {p["id"]: 0 for p in fabric["pieces"]}
        for strip in fabric["strips"]:
            assert sum(Fraction(s["width"]) for s in strip["segments"]) <= Fraction(fabric["usableWidth"])
            for s in strip["segments"]:
                assert sum(Fraction(r["height"]) for r in s["rows"]) <= Fraction(strip["height"])
                for r in s["rows"]:
                    assert sum(Fraction(c["width"]) * c["number"] for c in r["cuts"]) <= Fraction(s["width"])
            assert strip["cuts"] == [c for s in strip["segments"] for r in s["rows"] for c in r["cuts"]]
            for c in strip["cuts"]:
                cut[c["piece"]] += c["number"] * strip["copies"]
        assert cut == {p["id"]: p["count"] for p in fabric["pieces"]}
        used = sum(Fraction(s["height"]) * s["copies"] for s in fabric["strips"] if not s["from"])
        assert used == Fraction(fabric["used"]) <= Fraction(fabric["buy"])
        assert Fraction(fabric["leastToBuy"]) <= Fraction(fabric["buy"])


def strip_units(path: str) -> list[tuple[str, list[dict[str, Any]]]]:
    """The pieces that are strips, each by its fabric with the ways in which its strip units are cut."""
    found = json.loads(run("cuts", path, "--format", "json"))["fabrics"]
    return [(f["fabric"], p["stripUnits"]) for f in found for p in f["pieces"] if p["stripUnits"] is not None]


def test_data_says_how_shared_strip_units_are_cut() -> None:
    """18 rungs of 2 1/2 in and 3 planks of 4 1/2 in: 58 1/2 in of strip unit, from strips 40 in long. The two ways give
    each unit what it needs, none is longer than its strips, and every fabric of the strip unit says the same."""
    found = strip_units("tests/booklet/shared-strips.pattern")
    assert {fabric for fabric, _ in found} == {"night", "glow"}
    ways = found[0][1]
    assert all(other == ways for _, other in found)
    made: dict[str, int] = {}
    for way in ways:
        taken = sum(Fraction(s["width"]) * s["number"] for s in way["segments"])
        assert taken <= (20 if way["halfStrips"] else 40)
        for s in way["segments"]:
            made[s["unit"]] = made.get(s["unit"], 0) + s["number"] * way["stripUnits"]
    assert made == {"rung": 18, "plank": 3}
    assert {(s["unit"], s["width"]) for way in ways for s in way["segments"]} == {("rung", "5/2"), ("plank", "9/2")}
    assert sum(1 if way["halfStrips"] else 2 * way["stripUnits"] for way in ways) == 3  # one whole, one of half strips


@pytest.mark.parametrize("name", ["harbour-chain", "traditional/rail-fence"])
def test_data_says_how_strip_units_of_one_unit_are_cut(name: str) -> None:
    """As many strip units of a way as its strips are enough for; pieces that are not for strip units say nothing."""
    makings = api.load(f"examples/{name}.pattern").makings.values()
    titles = {m.title for m in makings if m.kind == "strips"}
    for fabric in json.loads(run("cuts", f"examples/{name}.pattern", "--format", "json"))["fabrics"]:
        for piece in fabric["pieces"]:
            if piece["then"] == "strip" and piece["stripUnits"] is not None:
                whole = [w["stripUnits"] for w in piece["stripUnits"] if not w["halfStrips"]]
                assert all(len(w["segments"]) == 1 for w in piece["stripUnits"])
                assert piece["count"] % sum(whole) == 0 and piece["count"] > 0
            assert (piece["stripUnits"] is not None) == (piece["for"] in titles)


def test_words_and_kits() -> None:
    text = run("cuts", TIDE, "--kits", "12")
    assert "Deep water (42 in usable width, 1/2 in of it for squaring up)" in text
    assert "cannot be cut from less, however it is cut" in text
    assert "for 12 makers: 16 1/2 yd" in text  # twelve times 1 3/8 yd, a plain sum


def test_sheets_and_mixed_stock(tmp_path: Path) -> None:
    path = tmp_path / "sheets.pattern"
    path.write_text(SHEETS)
    assert CliRunner().invoke(main, ["check", str(path)]).exit_code == 0
    text = run("cuts", str(path))
    assert "6 fat quarters, 2 at hand; cannot be done with fewer" in text
    assert "8 squares; buy 1 pack of 42" in text
    assert "1 fat quarter, 1 at hand" in text and "uses 52 1/2 in, with 1 in spare; buy 1 1/2 yd" in text


def test_slanted_shapes_are_cut_one_beside_the_other() -> None:
    """60 degree triangles from one 40 in strip, end waste included: floor(2 x 40 / cut side) - 1 = 24, 17, 13
    for strips 2 3/4, 3 3/4 and 4 3/4 in high. Derived from geometry, no published table.
    """
    from patternkit.lengths import SQRT3, Length
    from patternkit.piecing.turns import laid_in

    for strip, count in (("11/4", 24), ("15/4", 17), ("19/4", 13)):
        side, high, none = Length(strip) * 2 / SQRT3, Length(strip), Length(0)
        run = laid_in(((side / 2, none), (side, high), (none, high)), Length(40), True)
        assert run is not None and len(run.spots) == count


def test_a_kit_includes_its_backing(tmp_path: Path) -> None:
    """24 in square with 4 in over on every side is one width of 32 in, bought as 1 yd: 12 yd for twelve makers."""
    path = tmp_path / "kit.pattern"
    path.write_text(
        'pattern "Kit"\nfabric a\nfabric b\nblock p\n    patch a 12\nquilt\n    across 2, down 2\n'
        "    tile\n        p\n    backing b\n",
        encoding="utf-8",
    )
    told = run("cuts", str(path), "--kits", "12")
    backing = told[told.index("Backing") :]
    assert "buy 1 yd" in backing
    assert "for 12 makers: 12 yd" in backing


def test_words_say_what_is_joined_and_how_the_quilt_is_finished() -> None:
    """Published for a quilt 46 x 46 from 40 in of width: 5 strips of 2 1/2 in
    (https://www.sylviasquiltdepot.com/measuring-fabric-for-continuous-strips.htm). 5 x 40 less 4 diagonal joins of
    2 1/2 in give 190 in, 184 in are the way round: 6 in to spare, as much as is allowed here.
    """
    from patternkit.desk.cutting import cuts_text
    from tests.published.desk import plain, planned

    found = plain("40", "40", "border 3 glow", "binding cut 2 1/2 night, allowance 6", "batting", "sleeve 4 night")
    text = cuts_text(found, planned(found))
    assert (
        "5 strips 2 1/2 in, joined by diagonal seams that take 2 1/2 in each; gives 190 in, 190 in are wanted" in text
    )
    assert "(184 in round and 6 in beyond)" in text
    assert "Joined end to end, Lamp: 5 strips 3 1/2 in" in text and "1 of 46 1/2 in (border 1 top and bottom)" in text
    assert "Sleeve, Midnight: 2 strips 9 in, joined by straight seams that take 1/2 in each; cut 1 of 46 in" in text
    assert "Batting: 52 1/2 x 52 1/2 in" in text


def test_a_bolt_is_the_sum_of_what_each_maker_buys() -> None:
    """Rounded for each, it is at least what only the sum rounded would be; both are said where they differ."""
    told = run("cuts", TIDE, "--kits", "12")
    assert "for 12 makers: 16 1/2 yd (16" in told and "if only the sum is rounded)" in told


def test_the_bolt_for_many_has_the_backing_that_an_amount_covers(tmp_path: Path) -> None:
    """Where the writer's amount holds the backing as well, so do the kits: four times what one maker buys."""
    path = tmp_path / "both.pattern"
    path.write_text(
        'pattern "Both"\n    units inches\nfabric a "Ash" dark\n    buy 2 yd\nblock one\n    patch a 10\n'
        "quilt\n    across 3, down 3\n    tile\n        one\n    backing a\n"
    )
    words = run("cuts", str(path), "--kits", "4")
    assert "buy 2 yd; 1/8 yd more than needed" in words or "buy 2 yd; as the pattern says" in words
    assert "for 4 makers: 8 yd" in words
