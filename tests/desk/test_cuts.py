"""The cuts command in words and as data; cloth that comes in sheets."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

from click.testing import CliRunner

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
    for fabric in json.loads(run("cuts", TIDE, "--format", "json")):
        cut = {p["id"]: 0 for p in fabric["pieces"]}
        for strip in fabric["strips"]:
            assert sum(Fraction(c["width"]) * c["number"] for c in strip["cuts"]) <= Fraction(fabric["usableWidth"])
            for c in strip["cuts"]:
                cut[c["piece"]] += c["number"] * strip["copies"]
        assert cut == {p["id"]: p["count"] for p in fabric["pieces"]}
        used = sum(Fraction(s["height"]) * s["copies"] for s in fabric["strips"] if not s["from"])
        assert used == Fraction(fabric["used"]) <= Fraction(fabric["buy"])
        assert Fraction(fabric["leastToBuy"]) <= Fraction(fabric["buy"])


def test_words_and_kits() -> None:
    text = run("cuts", TIDE, "--kits", "12")
    assert "Deep water (42 in usable width)" in text and "cannot be done in less" in text
    assert "for 12 makers: 16 1/2 yd" in text  # twelve times 1 3/8 yd, a plain sum


def test_sheets_and_mixed_stock(tmp_path: Path) -> None:
    path = tmp_path / "sheets.pattern"
    path.write_text(SHEETS)
    assert CliRunner().invoke(main, ["check", str(path)]).exit_code == 0
    text = run("cuts", str(path))
    assert "6 fat quarters, 2 at hand; cannot be done with fewer" in text
    assert "8 squares; buy 1 pack of 42" in text
    assert "1 fat quarters, 1 at hand" in text and "uses 52 1/2 in; buy 1 1/2 yd" in text


def test_slanted_shapes_are_cut_one_beside_the_other() -> None:
    """60 degree triangles from one 40 in strip, end waste included: floor(2 x 40 / cut side) - 1 = 24, 17, 13 for strips
    2 3/4, 3 3/4 and 4 3/4 in high. Derived from geometry, no published table."""
    from patternkit.lengths import SQRT3, Length
    from patternkit.piecing.making import Cut
    from patternkit.plan.lines import per_strip

    for strip, count in (("11/4", 24), ("15/4", 17), ("19/4", 13)):
        side = Length(strip) * 2 / SQRT3
        cut = Cut("a", side, Length(strip), side, Length(strip), 1, "template", pitch=side / 2)
        assert per_strip(cut, Length(40)) == count


def test_a_kit_includes_its_backing(tmp_path: Path) -> None:
    """24 in square with 4 in over on every side is one width of 32 in, bought as 1 yd: 12 yd for twelve makers."""
    path = tmp_path / "kit.pattern"
    path.write_text('pattern "Kit"\nfabric a\nfabric b\nblock p\n    patch a 12\nquilt\n    across 2, down 2\n'
                    "    tile\n        p\n    backing b\n", encoding="utf-8")
    told = run("cuts", str(path), "--kits", "12")
    backing = told[told.index("Backing"):]
    assert "buy 1 yd" in backing
    assert "for 12 makers: 12 yd" in backing
