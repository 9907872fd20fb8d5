"""Cloth whose usable width lies on no line of the ruler: what is cut as wide as the cloth is cut, bought and told."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner

import patternkit
from patternkit.booklet.content.context import context
from patternkit.cli import main
from patternkit.lengths import Length
from patternkit.plan import build
from patternkit.plan.cutting import CuttingError
from patternkit.problems import PatternError
from tests.published.desk import line, pattern, planned, sound

QUILT = "quilt\n    across {across}, down 3\n    tile\n        wall\n    {finish}\n"
WIDTHS = [  # 110 cm is how cloth is labelled where it is sold by the metre
    ("110 cm", Fraction(11000, 254)),
    ("40.3 in", Fraction(403, 10)),
    ("1 m", Fraction(10000, 254)),
    ("42", Fraction(42)),
]
FINISHES = ("binding 3/8 night, bias", "binding cut 2 night", "sleeve 4 night", "border 3 night")


@pytest.mark.parametrize(("width", "inches"), WIDTHS)
@pytest.mark.parametrize("print_", ["", " directional"])
def test_a_piece_as_wide_as_the_cloth(width: str, inches: Fraction, print_: str) -> None:
    """Three pieces of the whole width and 5 in high take 15 in of cloth, with or without a direction."""
    body = f"fabric sea{print_}\nblock wall\n    rows\n        sea cut {width} x 5\n" + QUILT.format(
        across=1, finish=""
    )
    plan = planned(pattern(body, f"usable width {width}", "spare 0"))
    sea = plan.fabrics["sea"]
    assert sea.used == 15 and line(plan, "wall").cut.width == inches
    assert sum(s.copies * sum(c.number for c in s.cuts) for s in sea.plan.strips) == 3
    assert {x.fabric for x in plan.lines} == set(plan.fabrics)


@pytest.mark.parametrize(("width", "inches"), WIDTHS)
@pytest.mark.parametrize(
    "finish", ["binding 3/8 night, bias", "binding cut 2 night", "sleeve 4 night", "border 3 night"]
)
def test_whole_strips_of_such_cloth(width: str, inches: Fraction, finish: str) -> None:
    body = "block wall\n    patch night 9\n" + QUILT.format(across=2, finish=finish)
    plan = planned(pattern(body, f"usable width {width}"))
    assert {x.fabric for x in plan.lines} == set(plan.fabrics) == {"night"}
    assert all(x.cut.width == inches for x in plan.lines if x.cut.then == "strip")
    assert plan.fabrics["night"].used > 0 and plan.fabrics["night"].buy > 0


def test_the_rest_of_the_plan_keeps_to_the_ruler() -> None:
    """Two pieces of 19 7/8 in lie beside each other on 40.3 in of cloth less half an inch, and not on 40.2."""
    body = "block wall\n    patch night cut 19 7/8 x 5\n" + QUILT.format(across=2, finish="")
    wide = planned(pattern(body, "usable width 40.3 in")).fabrics["night"]
    narrow = planned(pattern(body, "usable width 40.2 in")).fabrics["night"]
    assert wide.used < narrow.used


def test_what_cannot_be_planned_is_no_booklet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A fabric that the planner gives up is never left out of a booklet: it stops `write`, and `cuts`."""
    body = "block wall\n    patch night 9\n" + QUILT.format(across=2, finish="")
    project = sound(pattern(body))

    def gives_up(pieces: object, settings: object) -> object:
        raise CuttingError("too much for one table")

    monkeypatch.setattr(build, "plan", gives_up)
    with pytest.raises(PatternError) as error:
        context(project)
    assert [p.code for p in error.value.problems] == ["too-long"] and error.value.sources
    path = tmp_path / "trial.pattern"
    path.write_text(project.sources[project.name].text, encoding="utf-8")
    for words in (["write", str(path), "--to", str(tmp_path / "out")], ["cuts", str(path)]):
        done = CliRunner().invoke(main, words)
        assert done.exit_code == 1 and "too much for one table" in done.stdout
    assert not (tmp_path / "out").exists()


def test_such_cloth_is_in_the_table_of_what_to_buy() -> None:
    body = "block wall\n    patch stone 10\n" + QUILT.format(across=2, finish="binding 3/8 night, bias")
    project = sound(pattern(body, "usable width 110 cm"))
    text = next(iter(patternkit.files(project, formats=("md",)).values())).decode()
    (row,) = (x for x in text.splitlines() if x.startswith("| Midnight") and "yd" in x)
    assert "bias binding" in row and Length(0) < planned(project).fabrics["night"].buy
