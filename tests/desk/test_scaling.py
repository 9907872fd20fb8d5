"""Size work: proofs for every value, values on the ruler, and choices that reach a size."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner

from patternkit.checks import run
from patternkit.cli import main
from patternkit.desk.files import open_project
from patternkit.desk.scaling import fit_report, size_report
from patternkit.lengths import Length

LANTERN = Path("examples/lantern-walk.pattern")


def test_seams_add_up_for_every_side_and_claims_for_one() -> None:
    found = size_report(open_project(LANTERN))
    assert found.verdict.always
    assert found.claims.fixed == {"side": Length(9)}


def test_values_on_the_ruler_are_those_that_count_out() -> None:
    """A side of three equal strips lies on eighths when it is a multiple of three eighths: counted out by hand."""
    (ruler,) = size_report(open_project(LANTERN)).rulers
    assert ruler.values is not None
    by_hand = [Fraction(n, 8) for n in range(1, 81) if Fraction(n, 24).limit_denominator() * 8 % 1 == 0]
    assert [v for v in ruler.listed if v <= 10] == by_hand


def test_pieces_off_the_ruler_at_the_value_asked_for() -> None:
    (ruler,) = size_report(open_project(LANTERN, overrides={"side": Length(8)})).rulers
    assert {o.exact for o in ruler.off} == {Length(Fraction(8, 3)) + Fraction(1, 2)}
    assert {o.cut for o in ruler.off} == {Fraction(13, 4)}


def test_a_pattern_that_adds_up_at_one_value_only(tmp_path: Path) -> None:
    path = tmp_path / "one.pattern"
    path.write_text(
        "let side = 6\nfabric a\nfabric b\n\nblock both\n    rows\n        a 2*side x side\n"
        "        b 12 x side\n\nquilt\n    layout\n        both\n"
    )
    result = CliRunner().invoke(main, ["sizes", str(path)])
    assert result.exit_code == 0 and "only when side is 6" in result.output


@pytest.mark.parametrize(("width", "height"), [(60, 80), (45, 60), (90, 108)])
def test_every_choice_reaches_what_it_says_and_passes_check(width: int, height: int) -> None:
    offered = fit_report(open_project(LANTERN), Length(width), Length(height))
    assert offered
    for choice, project in offered:
        assert project.top is not None
        assert (project.top.width, project.top.height) == (choice.width, choice.height)
        assert not [p for p in run(project, sizes=False) if not p.advice]
    misses = [choice.miss for choice, _ in offered]
    assert misses == sorted(misses)


def test_an_exact_fit_is_found() -> None:
    offered = fit_report(open_project(Path("examples/harbour-chain.pattern")), Length(60), Length(80))
    assert not offered[0][0].miss


@pytest.mark.parametrize("target", ["60", "axb", "60x", "-3x4", "60x80x9"])
def test_a_target_that_is_no_size_is_wrong_usage(target: str) -> None:
    result = CliRunner().invoke(main, ["fit", str(LANTERN), "--to", target])
    assert result.exit_code == 2 and "60x80" in result.output


def test_counts_are_counts_whatever_the_unit(tmp_path: Path) -> None:
    """In a file in centimetres two blocks of 20 cm are two blocks; a border is in centimetres."""
    path = tmp_path / "metric.pattern"
    path.write_text(
        'pattern "Metric"\n    units cm\nfabric a\nblock b\n    patch a 20\nquilt\n    across 3, down 3\n'
        "    tile\n        b\n    border 4 a\n",
        encoding="utf-8",
    )
    result = CliRunner().invoke(main, ["fit", str(path), "--to", "52x72"])
    assert result.exit_code == 0, result.output
    assert result.output.splitlines()[0] == "1. across 2, border 1 6: finishes 52 x 72 cm (exactly)"


BLOCKS = """fabric kelp dark
fabric milk light
let side = 12
block net
    rows
        kelp | milk
        milk | kelp
    finished side
quilt
    across 3, down 4
    tile
        net
    border 3 kelp
"""


def fitted(tmp_path: Path, target: str) -> list[str]:
    path = tmp_path / "net.pattern"
    path.write_text(BLOCKS, encoding="utf-8")
    result = CliRunner().invoke(main, ["fit", str(path), "--to", target])
    return result.output.splitlines() if result.exit_code == 0 else [f"exit {result.exit_code}", result.output]


def test_one_block_more_each_way_comes_before_a_border_four_times_as_wide(tmp_path: Path) -> None:
    """4 x 5 blocks of 12 with a border of 6: 60 x 72."""
    found = fitted(tmp_path, "60x72")
    assert found[0] == "1. across 4, down 5, border 1 6: finishes 60 x 72 in (exactly)"
    exact = [line.endswith("(exactly)") for line in found]
    assert exact == sorted(exact, reverse=True)


@pytest.mark.parametrize("target", ["60x72", "54x54", "61x83"])
def test_nothing_far_off_is_offered(target: str) -> None:
    for choice, _ in fit_report(open_project(LANTERN), *(Length(int(t)) for t in target.split("x"))):
        assert all(abs(o) <= Length(int(t)) / 10 for o, t in zip(choice.over, target.split("x"), strict=True))


def test_a_size_that_nothing_comes_near(tmp_path: Path) -> None:
    assert fitted(tmp_path, "1000x3")[0].startswith("No choice of counts, block size and border widths comes near")


@pytest.mark.parametrize("target", ["0x0", "0x80", "60x0"])
def test_no_quilt_is_nothing_wide(tmp_path: Path, target: str) -> None:
    code, said = fitted(tmp_path, target)
    assert code == "exit 2" and "more than nothing" in said
