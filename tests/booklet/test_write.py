"""The command write: what it writes, and what it says when it can't."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from patternkit.cli import main

from .conftest import MARSH, ROOT, told

RUNNER = ROOT / "examples" / "groyne-runner.pattern"


def run(*words: object) -> tuple[int, str]:
    """Run the command line; its exit code and all it printed."""
    result = CliRunner().invoke(main, [str(w) for w in words])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.output


def test_the_booklet_in_all_formats(tmp_path: Path) -> None:
    code, out = run("write", RUNNER, "--to", tmp_path, "--as", "md", "--as", "html", "--as", "pdf")
    assert code == 0 and len(out.splitlines()) == 3
    assert (tmp_path / "groyne-runner.pdf").read_bytes().startswith(b"%PDF")
    text = (tmp_path / "groyne-runner.md").read_text(encoding="utf-8")
    named = {part.split(")")[0] for part in text.split("](")[1:] if part.startswith("groyne-runner-drawings/")}
    assert named
    for name in named:
        assert (tmp_path / name).is_file()


def test_only_the_cutting_and_only_the_templates(tmp_path: Path) -> None:
    assert run("write", MARSH, "--to", tmp_path, "--as", "md", "--only", "cutting")[0] == 0
    text = (tmp_path / "marsh-cutting.md").read_text(encoding="utf-8")
    assert "## Cutting" in text and "## Units" not in text and "Templates" not in text
    assert run("write", MARSH, "--to", tmp_path, "--as", "md", "--only", "templates")[0] == 0
    text = (tmp_path / "marsh-templates.md").read_text(encoding="utf-8")
    assert "### dune" in text and "## Cutting" not in text


def test_one_part_one_colourway_and_the_proof_sheet(tmp_path: Path) -> None:
    assert run("write", MARSH, "--to", tmp_path, "--as", "md", "--part", "week two")[0] == 0
    assert "Week two (9 March 2026)" in (tmp_path / "marsh-week-two.md").read_text(encoding="utf-8")
    assert run("write", MARSH, "--to", tmp_path, "--as", "md", "--colourway", "dawn")[0] == 0
    text = (tmp_path / "marsh-dawn.md").read_text(encoding="utf-8")
    assert "Rust (A)" in text and "Midnight blue" not in text
    assert run("write", MARSH, "--to", tmp_path, "--as", "md", "--proof")[0] == 0
    assert "How each cut was reached" in (tmp_path / "marsh-proof.md").read_text(encoding="utf-8")


def test_a_size_alone(tmp_path: Path) -> None:
    path = ROOT / "examples" / "lantern-walk.pattern"
    assert run("write", path, "--to", tmp_path, "--as", "md", "--size", "queen")[0] == 0
    text = (tmp_path / "lantern-walk-queen.md").read_text(encoding="utf-8")
    queen = told(path, size="queen")
    assert queen.top is not None
    assert queen.phrases.by(queen.top.width, queen.top.height) in text and "throw" not in text


def test_german_prints_centimetres(tmp_path: Path) -> None:
    assert run("write", RUNNER, "--to", tmp_path, "--as", "md", "--language", "de")[0] == 0
    text = (tmp_path / "groyne-runner.md").read_text(encoding="utf-8")
    assert "129,54 x 38,1 cm" in text and not re.search(r"\d in\b|yd", text)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--only", "cuting"], "no section cuting"),
        (["--part", "Week nine"], "no part called Week nine"),
        (["--house", "nowhere"], "not a folder of phrases"),
        (["--language", "xx"], "xx"),
    ],
)
def test_wrong_wishes_are_said_and_nothing_is_written(tmp_path: Path, words: list[str], says: str) -> None:
    code, out = run("write", MARSH, "--to", tmp_path / "out", *words)
    assert code in (1, 2) and says in out and not (tmp_path / "out").exists()


def test_a_house_speaks_in_the_booklet(tmp_path: Path) -> None:
    house = tmp_path / "house"
    house.mkdir()
    (house / "en.toml").write_text('[finish]\nlabel = "Sign your work."\n', encoding="utf-8")
    assert run("write", RUNNER, "--to", tmp_path, "--as", "md", "--house", house)[0] == 0
    assert "Sign your work." in (tmp_path / "groyne-runner.md").read_text(encoding="utf-8")


def test_a_pattern_with_problems_is_not_written(tmp_path: Path) -> None:
    code, out = run("write", ROOT / "examples" / "wrong-in-eight-ways.pattern", "--to", tmp_path / "out")
    assert code == 1 and "Nothing was written" in out and not (tmp_path / "out").exists()
