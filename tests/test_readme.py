"""What the README shows is what the program says."""

from __future__ import annotations

import re
from pathlib import Path

from click.testing import CliRunner

from patternkit.cli import main

README = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")


def fenced(language: str) -> str:
    found = re.search(rf"```{language}\n(.*?)```", README, re.S)
    assert found
    return found[1]


def said(tmp_path: Path, text: str) -> str:
    (tmp_path / "lantern.pattern").write_text(text, encoding="utf-8")
    return CliRunner().invoke(main, ["check", str(tmp_path / "lantern.pattern")]).output


def test_the_pattern_is_sound(tmp_path: Path) -> None:
    assert said(tmp_path, fenced("pattern")) == ""


def test_the_message_is_what_is_printed(tmp_path: Path) -> None:
    """Every line shown, in its order; the dots stand for what is left out."""
    right = fenced("pattern")
    assert right.count("measures 9 1/2 x 9 1/2") == 1
    printed = said(tmp_path, right.replace("measures 9 1/2 x 9 1/2", "measures 9 x 9 1/2"))
    at = 0
    for line in fenced("text").splitlines():
        if line.strip() != "...":
            found = printed.find(line.strip(), at)
            assert found >= 0, line
            at = found + len(line.strip())


def test_every_command_is_listed() -> None:
    named = set(re.findall(r"^\| `patternkit (\w+)", README, re.M))
    assert named == set(main.commands)  # type: ignore[attr-defined]
