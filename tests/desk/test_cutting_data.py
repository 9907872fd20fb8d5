"""The cutting plan as data: complete, by its schema, and adding up to the quilt."""

from __future__ import annotations

import json
from collections import Counter
from fractions import Fraction
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner

from patternkit import api
from patternkit.cli import main
from patternkit.piecing.making import Cloth, Making, made_from

EXAMPLES = sorted(Path("examples").rglob("*.pattern"))
WHOLE = [p for p in EXAMPLES if "wrong" not in p.name and "shared" not in p.parts]  # those that are a quilt
FINISHES = (
    "binding",
    "bias binding",
    "hanging sleeve",
    "cushion back",
    "prairie point",
    "backing panel",
    *(f"{side} of the {what}" for side in ("sides", "top and bottom") for what in ("facing", "flange", "piping")),
)
SOLD = """pattern "Sold in all ways"
    usable width 42
    spare 2
fabric a "Ash" dark
    sold as fat-quarters 18 x 21
    have 2
fabric b "Bone" light
    sold by 1/4 yd
    sold as fat-quarters 18 x 21
    have 1
fabric c "Chalk" light
    sold as squares 10 x 10, 42 to a pack
fabric d "Dune"
    sold as strips 3 1/2 x 14
fabric e "Earth"
    usable width 108

unit half
    half-square a, b
    finished 3
unit wing
    flying-geese c, a
    finished 6 x 3
    method four at a time
unit seg
    strips b 3 | d 3
    finished 3 high

block nine
    rows
        half | seg
        half | wing
    finished 9 x 6

quilt
    across 5, down 6
    tile
        nine
    border 3 b
    binding cut 2 1/2 b, bias, from a square
    backing e
"""


@cache
def schema() -> Any:
    return json.loads(files("patternkit.desk").joinpath("cuts.schema.json").read_text(encoding="utf-8"))


def data(path: Path, *words: str) -> list[dict[str, Any]]:
    """The fabrics of what the command prints."""
    return whole(path, *words)["fabrics"]  # type: ignore[no-any-return]


def whole(path: Path, *words: str) -> dict[str, Any]:
    """What the command prints, once it follows the schema."""
    return json.loads(_printed(path, path.read_text(encoding="utf-8"), words))  # type: ignore[no-any-return]


@cache
def _printed(path: Path, text: str, words: tuple[str, ...]) -> str:
    """The same as text; a file with that text is asked once for all tests, each of which reads it for itself."""
    done = CliRunner().invoke(main, ["cuts", str(path), "--format", "json", *words])
    assert done.exit_code == 0, done.output
    jsonschema.Draft202012Validator(schema()).validate(json.loads(done.output))
    return done.output


@pytest.fixture
def sold(tmp_path: Path) -> Path:
    path = tmp_path / "sold.pattern"
    path.write_text(SOLD, encoding="utf-8")
    return path


def accounted(fabric: dict[str, Any]) -> None:
    """Every piece is cut, from the cloth or from sheets; no strip and no sheet is larger than it is."""
    cut: Counter[str] = Counter()
    for strip in fabric["strips"]:
        for c in strip["cuts"]:
            cut[c["piece"]] += c["number"] * strip["copies"]
    for sheet in fabric["sheets"]["layouts"] if fabric["sheets"] else ():
        width, height = lengths(sheet, "width", "height")
        for strip in sheet["strips"]:
            side, along = (width, "width") if strip["across"] else (height, "height")
            assert sum(Fraction(c[along]) * c["number"] for c in strip["cuts"]) <= side
            for c in strip["cuts"]:
                cut[c["piece"]] += c["number"] * strip["copies"] * sheet["copies"]
            taken = Fraction(strip["size"]) * strip["copies"]
            width, height = (width, height - taken) if strip["across"] else (width - taken, height)
        assert (width, height) == (Fraction(sheet["rest"]["width"]), Fraction(sheet["rest"]["height"]))
        assert min(width, height) >= 0
    assert dict(cut) == {p["id"]: due(p) for p in fabric["pieces"]}


def due(piece: dict[str, Any]) -> int:
    """How often a piece is cut from strips and sheets: slanted shapes by the strip, motifs from one length."""
    if piece["motifs"] is not None:
        return 1
    return -(-piece["count"] // piece["perStrip"]) if piece["perStrip"] else int(piece["count"])


def shown(making: Making, times: int, found: Counter[str]) -> Counter[str]:
    """Pieces of each fabric in the quilt as it is drawn, but what comes of corners that are cut off elsewhere."""
    cut = making.recipe.apart is None and making.recipe.waste is None  # of a piece what it is cut from is counted
    for part in making.parts if cut else ():
        if isinstance(part.what, Cloth):
            found[part.what.fabric] += times
        else:
            shown(part.what, times, found)
    return found


@pytest.mark.parametrize("path", WHOLE, ids=lambda p: p.stem)
def test_pieces_come_of_the_cuts_as_the_quilt_shows_them(path: Path) -> None:
    """What the cuts give is what the drawing has, and what batches leave over."""
    project = api.load(path)
    assert project.top is not None
    plan = project.plan(solver=False)[0]
    there = shown(project.top, 1, Counter())
    wholes = {x for c in plan.counts if c.making.recipe.apart is not None for x in made_from(c.making)}
    for count in plan.counts:
        if count.making in wholes:
            shown(count.making, count.needed, there)
    gives: Counter[str] = Counter()
    quilt = project.pattern.quilt
    besides = {*FINISHES, *(also.title for also in (quilt.also if quilt is not None else ()))}
    for fabric in data(path):
        accounted(fabric)
        for p in fabric["pieces"]:
            gives[p["fabric"]] += p["gives"] if p["for"] not in besides else 0
    assert all(gives[key] >= n for key, n in there.items())
    if not any(c.spare or c.making.recipe.mirrored for c in plan.counts):
        assert gives == there


def test_sheets_backing_and_bias_are_in_it(sold: Path) -> None:
    found = {f["fabric"]: f for f in data(sold)}
    assert set(found) == {"a", "b", "c", "d", "e"}
    for fabric in found.values():
        accounted(fabric)
    assert all(found[key]["sheets"]["layouts"] for key in "abcd") and found["e"]["sheets"] is None
    assert found["c"]["sheets"]["pack"] == 42 and found["c"]["sheets"]["packsToBuy"] == 1
    assert found["a"]["sheets"]["packsToBuy"] == found["a"]["sheets"]["cut"] - 2  # two are at hand
    half = next(p for p in found["a"]["pieces"] if p["for"] == "half")
    assert (half["count"], half["gives"]) == (30, 60)  # a pair of squares makes two half-squares
    wing = next(p for p in found["c"]["pieces"] if p["for"] == "wing")
    assert wing["gives"] == 32 and wing["count"] == 8  # four geese from each large square, two of them left over
    (square,) = (p for p in found["b"]["pieces"] if p["for"] == "bias binding")
    assert square["width"] == square["height"] and square["gives"] == 1
    back = found["e"]["backing"]
    assert found["e"]["pieces"] == [] and found["e"]["buy"] == "0"
    assert (back["width"], back["height"], back["panels"], back["seams"]) == ("119/2", "101/2", 1, "none")
    assert (back["used"], back["buy"]) == ("101/2", "54")  # 50 1/2 + 2 in spare, in eighths of a yard


def test_kits_are_data_and_words_alike(sold: Path) -> None:
    """For 12 makers: lengths are plain sums, packs of sheets are opened and shared."""
    found = {f["fabric"]: f for f in data(sold, "--kits", "12")}
    words = CliRunner().invoke(main, ["cuts", str(sold), "--kits", "12"]).output
    for fabric in found.values():
        if fabric["kits"] is not None:
            assert Fraction(fabric["kits"]["bolt"]) == 12 * Fraction(fabric["buy"])
        if fabric["sheets"] is not None:
            assert fabric["sheets"]["kits"]["cut"] == 12 * fabric["sheets"]["cut"]
    packs = found["c"]["sheets"]["kits"]["packs"]
    assert packs == -(-12 * found["c"]["sheets"]["cut"] // 42)
    assert f"for 12 makers: {12 * found['c']['sheets']['cut']} squares, {packs} packs" in words
    assert f"for 12 makers: {12 * found['a']['sheets']['cut']} fat quarters" in words
    assert Fraction(found["e"]["backing"]["kits"]["bolt"]) == 12 * 54 and "for 12 makers: 18 yd" in words
    assert all(f["kits"] is None and (f["backing"] or {"kits": None})["kits"] is None for f in data(sold))


def test_the_reference_names_all_that_is_printed() -> None:
    text = Path("grammar/reference.md").read_text(encoding="utf-8")
    told = text[text.index("## The cutting plan as data") :]
    for name in {**schema()["properties"], **schema()["$defs"]["fabric"]["properties"]}:
        assert f"`{name}`" in told, name


def lengths(data: dict[str, Any], *names: str) -> tuple[Fraction, ...]:
    return tuple(Fraction(data[name]) for name in names)


@pytest.mark.parametrize("path", WHOLE, ids=lambda p: p.stem)
def test_strips_that_are_joined_reach_as_far_as_they_must(path: Path) -> None:
    """What is joined end to end, the binding and the sleeve come of strips that the fabrics' lists have."""
    found = whole(path)
    strips = {(f["fabric"], p["for"]): p["count"] for f in found["fabrics"] for p in f["pieces"]}
    widths = {f["fabric"]: Fraction(f["usableWidth"]) for f in found["fabrics"]}
    for long in [*found["joined"], *([found["sleeve"]] if found["sleeve"] else [])]:
        ends, cut = Counter[str](), Counter[str]()
        for one in long["joins"]:
            taken = sum(Fraction(x["atLeast"]) * x["number"] for x in one["keptEnds"])
            seams = one["wholeStrips"] + sum(x["number"] for x in one["keptEnds"]) - 1
            have = widths[long["fabric"]] * one["wholeStrips"] - Fraction(long["join"]) * max(seams, 0) + taken
            have += Fraction(one["endOf"]["left"]) if one["endOf"] else 0
            have -= sum(Fraction(x["atLeast"]) * x["number"] for x in one["keeps"])
            assert have >= sum(Fraction(x["length"]) * x["number"] for x in one["cuts"])
            ends.update({x["atLeast"]: x["number"] * one["count"] for x in one["keeps"]})
            ends.subtract({x["atLeast"]: x["number"] * one["count"] for x in one["keptEnds"]})
            cut.update({x["length"]: x["number"] * one["count"] for x in one["cuts"]})
        assert not any(ends.values()), "ends that are kept are those that are joined"
        assert cut == sum((Counter({x["length"]: x["count"]}) for x in long["lengths"]), Counter())
        assert long["strips"] == sum(one["count"] * one["wholeStrips"] for one in long["joins"])
    binding = found["binding"]
    if binding is not None:
        perimeter, allowance, wanted, gives = lengths(binding, "perimeter", "allowance", "wanted", "gives")
        assert perimeter + allowance == wanted <= gives
        if binding["grain"] == "straight":
            assert strips[binding["fabric"], "binding"] == binding["strips"]
            each, join = lengths(binding, "each", "join")
            if not binding["joins"]:
                assert each * binding["strips"] - join * (binding["strips"] - 1) == gives


def test_the_finishing_is_in_it(sold: Path) -> None:
    found = whole(sold)
    assert (found["version"], found["title"], found["size"], found["makers"]) == (2, "Sold in all ways", "", 0)
    assert (found["batting"]["width"], found["batting"]["height"]) == ("115/2", "97/2")  # 3 in beyond 51 1/2 x 42 1/2
    assert found["binding"]["grain"] == "bias from a square" and found["binding"]["rounds"] > 1
    (square,) = (p for f in found["fabrics"] for p in f["pieces"] if p["for"] == "bias binding")
    assert square["width"] == found["binding"]["square"] and found["sleeve"] is None
    (long,) = found["joined"]
    assert long["fabric"] == "b" and [x["for"] for x in long["lengths"]]
    text = sold.read_text(encoding="utf-8") + "    sleeve 4 e\n"
    sold.write_text(text, encoding="utf-8")
    sleeve = whole(sold)["sleeve"]
    assert (sleeve["height"], sleeve["strips"], sleeve["lengths"][0]["length"]) == ("9", 1, "51")


def test_a_size_and_a_colourway_are_named() -> None:
    path = Path("examples/harbour-chain.pattern")
    found = whole(path, "--size", "twin", "--kits", "3")
    assert (found["size"], found["makers"]) == ("twin", 3)
    assert found["fabrics"] != whole(path)["fabrics"]
