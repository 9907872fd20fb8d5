"""The command line and what flows through it: patterns from standard input, exit codes, problems found by words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from msgspec import structs

from patternkit.cli import main
from patternkit.desk.explain import codes, title
from patternkit.piecing.making import Making
from patternkit.rehearsal.gaps import Gap
from patternkit.rehearsal.rehearse import Rehearsal, rehearsal
from patternkit.syntax.grammar import grammar_folder
from patternkit.work.model import Order

EXAMPLES = Path(__file__).parents[1] / "examples"
SOUND = EXAMPLES / "groyne-runner.pattern"
WRONG = EXAMPLES / "wrong-in-eight-ways.pattern"


def ask(*words: str | Path, given: bytes | None = None) -> Result:
    return CliRunner().invoke(main, [str(w) for w in words], input=given)


@pytest.mark.parametrize("command", ["check", "cuts", "press", "rehearse", "sizes"])
def test_a_pattern_from_standard_input_is_answered_as_its_file(command: str) -> None:
    by_file, given = ask(command, SOUND), ask(command, "-", given=SOUND.read_bytes())
    assert given.exit_code == by_file.exit_code == 0
    assert given.stdout == by_file.stdout.replace(str(SOUND), "standard-input.pattern")


def test_problems_of_standard_input_are_told_with_its_name() -> None:
    by_file, given = ask("check", WRONG), ask("check", "-", given=WRONG.read_bytes())
    assert given.exit_code == by_file.exit_code == 1
    assert given.stdout == by_file.stdout.replace(str(WRONG), "standard-input.pattern")


def test_a_booklet_of_standard_input_has_its_name(tmp_path: Path) -> None:
    done = ask("write", "-", "--to", tmp_path, "--as", "md", given=SOUND.read_bytes())
    assert done.exit_code == 0
    assert (tmp_path / "standard-input.md").read_text("utf-8").startswith("# ")


def test_format_passes_its_text_on() -> None:
    untidy = SOUND.read_text("utf-8").replace('tar   "Tarred', 'tar "Tarred')
    done = ask("format", "-", given=untidy.encode())
    assert (done.exit_code, done.stdout) == (0, SOUND.read_text("utf-8"))
    assert ask("format", "-", "--check", given=untidy.encode()).exit_code == 1


@pytest.mark.parametrize("given", [b"\xff\xfe\xff", b"\x80pattern", b"#" * (4 * 1024 * 1024 + 1)])
def test_standard_input_that_is_no_text_is_refused(given: bytes) -> None:
    done = ask("check", "-", given=given)
    assert done.exit_code == 2
    assert re.search(r"Standard input is (not plain text in UTF-8|far larger than any pattern)\.", done.output)


def test_marks_can_not_be_written_into_standard_input() -> None:
    done = ask("press", "-", "--write", given=SOUND.read_bytes())
    assert done.exit_code == 2
    assert "--write needs a file" in done.output


# -- exit codes --------------------------------------------------------------------------------------------
def test_the_reference_has_the_table_of_exit_codes() -> None:
    text = (grammar_folder() / "reference.md").read_text("utf-8")
    section = text.split("## What a command ends with")[1].split("\n## ")[0]
    assert re.findall(r"^\| (\d) \|", section, re.M) == ["0", "1", "2", "3"]


COMMANDS = ("check", "cuts", "press", "rehearse", "sizes", "write", "fit")


def words_for(command: str, path: str | Path, folder: Path) -> list[str | Path]:
    more = {"write": ["--to", folder, "--as", "md"], "fit": ["--to", "60x80"]}
    return [command, path, *more.get(command, [])]


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_ends_as_the_table_says(command: str, tmp_path: Path) -> None:
    assert ask(*words_for(command, SOUND, tmp_path)).exit_code == 0
    assert ask(*words_for(command, WRONG, tmp_path)).exit_code == 1
    assert ask(*words_for(command, tmp_path / "none.pattern", tmp_path)).exit_code == 2
    assert ask(*words_for(command, SOUND, tmp_path), "--set", "nothing=3").exit_code == 2


def test_what_does_not_come_out_ends_with_three(monkeypatch: pytest.MonkeyPatch) -> None:
    """A rehearsal with a gap in it; `tests/desk/test_refusing.py` has the same of a booklet."""

    def with_a_gap(order: Order, designs: Mapping[str, Making]) -> Rehearsal:
        found = rehearsal(order, designs)
        return structs.replace(found, gaps=(*found.gaps, Gap("missing")))

    monkeypatch.setattr("patternkit.desk.rehearsing.rehearsal", with_a_gap)
    assert ask("rehearse", SOUND).exit_code == 3


# -- explain -----------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("words", "code"),
    [("prints fabric", "needs-one-fabric"), ("bias edge", "bias-outside"), ("usable width", "too-long")],
)
def test_a_problem_is_found_by_words(words: str, code: str) -> None:
    done = ask("explain", *words.split())
    assert done.exit_code == 0
    assert f"{code}: {title(code)}" in done.output.splitlines()


def test_words_of_a_code_find_its_page() -> None:
    assert ask("explain", "seams", "differ").output == ask("explain", "seams-differ").output


def test_every_page_begins_with_a_sentence_of_its_own() -> None:
    assert len({title(code) for code in codes()}) == len(codes())


def test_nothing_speaks_of_it() -> None:
    done = ask("explain", "xyzzy")
    assert done.exit_code == 2
    assert "no page speaks of it" in done.output
