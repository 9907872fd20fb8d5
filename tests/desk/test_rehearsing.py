"""The order in words and as data."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from patternkit.cli import main
from patternkit.desk.order_schema import order_schema
from patternkit.desk.rehearsing import exact
from patternkit.lengths import Length, root

EXAMPLES = Path(__file__).parents[2] / "examples"
SOME = ["tide-star.pattern", "traditional/pinwheel.pattern", "traditional/log-cabin.pattern", "groyne-runner.pattern"]


def rehearse(name: str, *more: str) -> str:
    """What the command prints for an example; it must hold."""
    done = CliRunner().invoke(main, ["rehearse", str(EXAMPLES / name), *more])
    assert done.exit_code == 0, done.output
    return done.output


def test_the_schema_is_that_of_the_records() -> None:
    text = files("patternkit.desk").joinpath("order.schema.json").read_text(encoding="utf-8")
    assert json.loads(text) == order_schema()


@pytest.mark.parametrize("name", SOME)
def test_an_order_as_data_is_as_the_schema_says(name: str) -> None:
    order = json.loads(rehearse(name, "--format", "json"))
    jsonschema.Draft202012Validator(order_schema()).validate(order)
    assert order["gaps"] == []
    codes, things = order["pieces"], order["things"]
    taken = [t["item"] for step in order["steps"] for t in step["takes"]]
    assert taken and all(item in codes or item in things for item in taken)


def test_an_order_in_words_follows_the_table() -> None:
    told = rehearse("traditional/pinwheel.pattern").splitlines()
    table = [line.split(": ", 1)[1] for line in told if line.strip().startswith("on the table")]
    assert table[0] == "80 x vane"
    assert told[-1] == "Everything holds."
    assert "  A1: square of Flag red, 9 3/4 x 9 3/4 in" in told


def test_a_pattern_with_problems_is_checked_first() -> None:
    done = CliRunner().invoke(main, ["rehearse", str(EXAMPLES / "wrong-in-eight-ways.pattern")])
    assert done.exit_code == 1 and "problem" in done.output and "Step 1" not in done.output


def test_exact_lengths_as_text() -> None:
    assert exact(Length("5/2")) == "5/2"
    assert exact(root(2) * Length("3/2") + Length("1/4")) == "1/4 + 3/2 sqrt 2"


def test_what_the_quilt_is_finished_with_stands_behind_the_steps() -> None:
    told = rehearse("traditional/pinwheel.pattern").splitlines()
    finish = told[told.index("Finish") + 1 : told.index("Everything holds.") - 1]
    assert [line.split(":")[0].strip() for line in finish] == ["backing", "batting", "binding"]
    assert "strips of" in finish[-1] and "2 1/4 in wide" in finish[-1]


def test_a_piece_that_is_cut_from_a_strip_unit_is_told_from_its_unit(tmp_path: Path) -> None:
    path = tmp_path / "laid.pattern"
    path.write_text(
        "fabric night\nfabric glow\nunit bars\n    strips night 1 | glow 1 | night 1\nblock hs\n"
        "    half-square bars turned 90 laid, glow\n    finished 3\nquilt\n    across 2, down 2\n    tile\n"
        "        hs\n",
        encoding="utf-8",
    )
    told = CliRunner().invoke(main, ["rehearse", str(path)]).output.splitlines()
    assert "Step 1: hs, piece 1, 4 to make" in told and "Step 2: hs, 4 to make" in told
    assert not any("about 0 in" in line for line in told)
