"""The press command: its words, and marks written into the file with nothing else touched."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from patternkit.cli import main
from patternkit.desk.files import open_project
from patternkit.desk.pressing import marked, press_text
from patternkit.pressing.conflicts import conflicts

EXAMPLES = sorted(p for p in Path("examples").glob("*.pattern") if "wrong" not in p.name)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_marks_are_all_that_changes(path: Path) -> None:
    project = open_project(path)
    plan = project.pressing
    assert plan is not None
    old = project.sources[str(path)].text
    new = marked(project, plan).get(str(path), old)
    strip = str.maketrans("", "", "|<>")
    assert new.translate(strip) == old.translate(strip)
    for a, b in zip(old.splitlines(), new.splitlines(), strict=True):
        if a != b:
            assert "|" in a


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_the_marked_file_nests_as_planned(path: Path, tmp_path: Path) -> None:
    """Written into a copy and read again, the plan's marks give no more conflicts than the plan itself has left."""
    project = open_project(path)
    plan = project.pressing
    assert plan is not None and plan.planned is not None
    copy = tmp_path / path.name
    copy.write_text(marked(project, plan).get(str(path), project.sources[str(path)].text))
    again = open_project(copy)
    assert again.top is not None
    left = sum(c.count for c in conflicts(plan.planned) if c.verdict == "conflict")
    stated = sum(c.count for c in conflicts(again.top) if c.verdict == "conflict")
    assert stated <= left


def test_the_command_writes_marks_once(tmp_path: Path) -> None:
    copy = tmp_path / "lantern.pattern"
    copy.write_bytes(Path("examples/lantern-walk.pattern").read_bytes().replace(b"\n", b"\r\n"))
    runner = CliRunner()
    first = runner.invoke(main, ["press", "--write", str(copy)])
    assert first.exit_code == 0 and "96 of 96 joints lock; proved best." in first.output
    text = copy.read_bytes()
    assert b"lantern < plain" in text and b"\r\n" in text and b"\n\n" not in text.replace(b"\r\n", b"")
    second = runner.invoke(main, ["press", "--write", str(copy)])
    assert second.exit_code == 0 and copy.read_bytes() == text
    assert runner.invoke(main, ["check", str(copy)]).exit_code == 0


def test_words_name_the_place_and_the_choices() -> None:
    project = open_project(Path("examples/shore-sampler.pattern"))
    assert project.pressing is not None
    text = press_text(project, project.pressing)
    assert "joints lock; proved best." in text
    assert "Between the second and third row" in text and "You could" in text and "Place(" not in text


def test_without_a_quilt(tmp_path: Path) -> None:
    path = tmp_path / "none.pattern"
    path.write_text('pattern "None"\n')
    result = CliRunner().invoke(main, ["press", str(path)])
    assert result.exit_code == 1 and "no quilt" in result.output


NINES = """fabric n dark
fabric g light
block nine
    rows
        n | g | n
        g | n | g
        n | g | n
    finished 6
quilt
    across 2, down 2
    tile
        nine
"""


def pressed(tmp_path: Path, text: str) -> str:
    path = tmp_path / "offers.pattern"
    path.write_text(text, encoding="utf-8")
    return str(CliRunner().invoke(main, ["press", str(path)]).output)


def test_what_is_offered_locks_as_many_joints_as_is_said(tmp_path: Path) -> None:
    """Of 25 joints 17 lock; with half of the blocks pressed the other way all do. An open seam locks nothing, and is
    offered only where others lock for it."""
    now = pressed(tmp_path, NINES)
    assert now.startswith("17 of 25 joints lock")
    offers = [line for line in now.splitlines() if "You could" in line]
    assert offers and all(
        x == "  You could press half of nine the other way (25 of 25 joints lock then)." for x in offers
    )
    taken = pressed(tmp_path, NINES.replace("finished 6", "press half of them the other way\n    finished 6"))
    assert taken.startswith("25 of 25 joints lock")


@pytest.mark.parametrize("seam", ["n <> g | n", "g <> n | g", "n | g <> n"])
def test_an_open_seam_that_would_lose_joints_is_not_offered(tmp_path: Path, seam: str) -> None:
    """Each of them loses four or more."""
    old = seam.replace("<>", "|")
    opened = pressed(tmp_path, NINES.replace(old, seam, 1))
    assert int(opened.split()[0]) < 17
    assert " open (" not in pressed(tmp_path, NINES)
