"""The command line: exit codes, reports, colour, what is written and what is not."""

from __future__ import annotations

import json
import os
import pty
import select
import shlex
import subprocess
import sys
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner, Result

from patternkit.cli import main
from patternkit.desk.files import write_whole
from patternkit.problems import PatternError

ROOT = Path(__file__).parents[1]
EXAMPLES = ROOT / "examples"
CLEAN = EXAMPLES / "groyne-runner.pattern"
WRONG = EXAMPLES / "wrong-in-eight-ways.pattern"
SIDE = """\
let side = 9

fabric night "Midnight" dark

block star
    patch night
    finished side
    measures 9 1/2

quilt
    across 2, down 2
    tile
        star

sizes
    small side 6
"""


def ask(*words: str | Path) -> Result:
    """Run a command inside this process."""
    return CliRunner().invoke(main, [str(w) for w in words])


def shell(*words: str | Path, **env: str) -> subprocess.CompletedProcess[str]:
    """Run a command in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "patternkit.cli", *map(str, words)],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={**_plain(), **env},
        check=False,
        timeout=60,
    )


def _plain() -> dict[str, str]:
    return {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "FORCE_COLOR")} | {"TERM": "xterm-256color"}


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "side.pattern"
    path.write_text(SIDE, encoding="utf-8")
    return path


# -- exit codes and quiet ---------------------------------------------------------------------------------
def test_a_clean_pattern_is_quiet() -> None:
    done = shell("check", CLEAN)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


def test_problems_are_told_and_end_with_one() -> None:
    done = shell("check", WRONG)
    assert done.returncode == 1 and done.stderr == ""
    assert "examples/wrong-in-eight-ways.pattern:" in done.stdout


def test_advice_alone_is_clean(tmp_path: Path) -> None:
    path = tmp_path / "advice.pattern"
    path.write_text(SIDE.replace("fabric night", 'fabric spare "Spare"\nfabric night'), encoding="utf-8")
    done = ask("check", path)
    assert done.exit_code == 0 and "advice [fabric-not-used]" in done.output


@pytest.mark.parametrize(
    "words",
    [
        ["check"],
        ["chek", "x"],
        ["check", "x.pattern", "--format", "xml"],
        ["check", "--nothing"],
        ["check", "nowhere.pattern"],
        ["write", "nowhere.pattern"],
        ["explain", "seams-fightt"],
    ],
)
def test_wrong_usage_ends_with_two(words: list[str], tmp_path: Path) -> None:
    done = ask(*words, *(["--to", str(tmp_path)] if words[0] == "write" else []))
    assert done.exit_code == 2 and "Traceback" not in done.output
    assert not list(tmp_path.iterdir())


def test_one_unreadable_file_does_not_hide_the_others(file: Path) -> None:
    done = ask("check", "nowhere.pattern", WRONG, file)
    assert done.exit_code == 2
    assert "cannot-read" in done.output and "make-differs" in done.output


@pytest.mark.parametrize(
    "data, said",
    [
        (b"\x89PNG\r\n\x1a\n\x00\xff\xfe", "not plain text in UTF-8"),
        (b"block star\n\xff", "not plain text in UTF-8"),
        (b" " * (5 * 1024 * 1024), "far larger than any pattern"),
    ],
)
def test_files_that_are_no_text_are_refused(data: bytes, said: str, tmp_path: Path) -> None:
    path = tmp_path / "odd.pattern"
    path.write_bytes(data)
    done = ask("check", path)
    assert done.exit_code == 2 and said in done.output


def test_a_folder_and_a_forbidden_file_are_refused(tmp_path: Path, file: Path) -> None:
    assert ask("check", tmp_path).exit_code == 2
    file.chmod(0)
    if not os.access(file, os.R_OK):  # root may read anything
        assert ask("check", file).exit_code == 2


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16"])
def test_marked_encodings_are_read(encoding: str, tmp_path: Path) -> None:
    path = tmp_path / "marked.pattern"
    path.write_bytes(SIDE.encode(encoding))
    assert (ask("check", path).exit_code, ask("check", path).output) == (0, "")


# -- sizes and values -------------------------------------------------------------------------------------
def test_a_size_and_a_value_can_be_asked_for(file: Path) -> None:
    assert ask("check", file, "--size", "small").exit_code == 0
    assert ask("check", file, "--set", "side=8 1/2").exit_code == 0
    off = ask("check", file, "--set", "side=8.33")
    assert off.exit_code == 0 and "off-ruler" in off.output


@pytest.mark.parametrize(
    "wish, said",
    [
        (["--size", "smal"], "Did you mean small?"),
        (["--set", "sid=8"], "Did you mean side?"),
        (["--set", "side"], "--set takes a name and a number"),
        (["--set", "side=0x8"], "--set takes a name and a number"),
        (["--set", "side=1/0"], "--set takes a name and a number"),
        (["--colourway", "blue"], "There is no colourway called blue"),
    ],
)
def test_what_the_pattern_does_not_have_is_wrong_usage(wish: list[str], said: str, file: Path) -> None:
    done = ask("check", file, *wish)
    assert done.exit_code == 2 and said in done.output


ASKS = (["check"], ["cuts"], ["press"], ["write"], ["sizes"], ["fit", "--to", "20x20"])
SLIPS = [
    (command, option, typed, meant)
    for command in ASKS
    for option, typed, meant, takes in (
        ("--size", "smal", "small", ("check", "cuts", "press", "write")),
        ("--colourway", "dusc", "dusk", ("check", "cuts", "write")),
        ("--set", "sied=8", "side", ("check", "cuts", "press", "write", "sizes", "fit")),
    )
    if command[0] in takes
]


@pytest.mark.parametrize("command, option, typed, meant", SLIPS)
def test_a_slip_after_any_command_is_told_alike(
    command: list[str], option: str, typed: str, meant: str, file: Path, tmp_path: Path
) -> None:
    """One cause, one message, one exit code, whichever command was asked; nothing is done."""
    file.write_text(SIDE + "\ncolourway dusk\n    night = night\n", encoding="utf-8")
    folder = ["--to", tmp_path / "out"] if command[0] == "write" else []
    done = ask(*command, file, option, typed, *folder)
    assert done.exit_code == 2 and f"Did you mean {meant}?" in done.output
    assert done.stdout == ask("check", file, option, typed).stdout
    assert not (tmp_path / "out").exists()


CONTRADICTS = SIDE.replace("measures 9 1/2", "measures 8 1/2")


@pytest.mark.parametrize("command", [*ASKS[1:], ["press", "--write"], ["cuts", "--format", "json"]], ids=" ".join)
def test_nothing_is_worked_out_from_sizes_that_contradict_each_other(command: list[str], tmp_path: Path) -> None:
    """The problem is what `check` says, and no cut, mark, choice or booklet is made as if it were mended."""
    path = tmp_path / "wrong.pattern"
    path.write_text(CONTRADICTS, encoding="utf-8")
    folder = ["--to", tmp_path / "out"] if command[0] == "write" else []
    done = ask(*command, path, *folder)
    like = ["--format", "json"] if "json" in command else []
    assert done.exit_code == 1 and "claim-differs" in done.stdout
    assert done.stdout == ask("check", path, *like).stdout
    assert path.read_text(encoding="utf-8") == CONTRADICTS and not (tmp_path / "out").exists()


def test_advice_stops_no_command(file: Path) -> None:
    assert "off-ruler" in ask("check", file, "--set", "side=8.33").output
    assert ask("cuts", file, "--set", "side=8.33").exit_code == 0


# -- JSON -------------------------------------------------------------------------------------------------
def schema() -> dict[str, object]:
    return json.loads(files("patternkit.desk").joinpath("report.schema.json").read_text(encoding="utf-8"))  # type: ignore[no-any-return]


def test_json_follows_its_schema_and_points_into_the_text() -> None:
    done = shell("check", WRONG, "--format", "json")
    found = json.loads(done.stdout)
    jsonschema.Draft202012Validator(schema(), format_checker=jsonschema.FormatChecker()).validate(found)
    assert len(found) == 8 and done.returncode == 1
    text = WRONG.read_text(encoding="utf-8")
    lines = text.split("\n")
    for problem in found:
        at = problem["at"]
        assert (
            text[at["start"] : at["end"]]
            == lines[at["line"] - 1][at["column"] - 1 : at["column"] - 1 + at["end"] - at["start"]]
        )
    slip = next(p for p in found if p["code"] == "unknown-word")
    assert slip["repairs"][0]["safe"] and slip["repairs"][0]["replacement"] == "method"


def test_json_of_a_clean_and_of_an_unreadable_file() -> None:
    assert json.loads(shell("check", CLEAN, "--format", "json").stdout) == []
    found = json.loads(shell("check", "nowhere.pattern", "--format", "json").stdout)
    jsonschema.validate(found, schema())
    assert [p["code"] for p in found] == ["cannot-read"]


def test_the_schema_refuses_what_is_not_a_report() -> None:
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate([{"code": "seams-differ"}], schema())


def test_the_eight_ways_are_eight() -> None:
    """One problem for each numbered comment of the example, on its line."""
    text = WRONG.read_text(encoding="utf-8").split("\n")
    marked = {
        int(line.split("# ", 1)[1].split(":")[0]): n
        for n, line in enumerate(text, 1)
        if "# " in line and line.split("# ", 1)[1].split(":")[0].isdigit()
    }
    assert sorted(marked) == list(range(1, 9))
    found = json.loads(shell("check", WRONG, "--format", "json").stdout)
    touched = [{p["at"]["line"], *(x["at"]["line"] for x in p["labels"])} for p in found]
    assert all(any(line in lines for lines in touched) for line in marked.values())
    assert len(found) == 8


# -- colour -----------------------------------------------------------------------------------------------
def on_a_terminal(*words: str | Path, **env: str) -> str:
    """What a command prints on a terminal."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "patternkit.cli", *map(str, words)],
        stdout=theirs,
        stderr=theirs,
        cwd=ROOT,
        env={**_plain(), **env},
    ) as job:
        os.close(theirs)
        found = b""
        while True:
            ready, _, _ = select.select([ours], [], [], 30)
            try:
                data = os.read(ours, 65536) if ready else b""
            except OSError:  # the other end is closed
                break
            if not data:
                break
            found += data
        job.wait(30)
    os.close(ours)
    return found.decode()


def test_colour_stands_on_a_terminal_only() -> None:
    assert "\x1b[" in on_a_terminal("check", WRONG)
    assert "\x1b[" not in shell("check", WRONG).stdout
    assert "\x1b[" not in on_a_terminal("check", WRONG, NO_COLOR="1")
    assert "\x1b[" not in on_a_terminal("check", WRONG, TERM="dumb")
    assert "\x1b[" not in on_a_terminal("check", WRONG, "--color", "never")
    assert "\x1b[" in shell("check", WRONG, FORCE_COLOR="1").stdout
    assert "\x1b[" in shell("check", WRONG, "--colour", "always", NO_COLOR="1").stdout
    assert "\x1b[" not in shell("check", WRONG, "--format", "json", "--colour", "always").stdout


# -- explain ----------------------------------------------------------------------------------------------
def test_explain_prints_the_page_and_lists_the_codes() -> None:
    page = ask("explain", "seams-differ")
    assert page.exit_code == 0 and page.output.startswith("# Two sides of a seam are not equally long")
    listed = ask("explain").output.split()
    assert "seams-differ" in listed and listed == sorted(listed)


@pytest.mark.parametrize(
    "code, said",
    [
        ("seams-difer", "Did you mean seams-differ?"),
        ("../problems/bulk", "There is no problem"),
        ("zzzz", "There is no problem called zzzz"),
    ],
)
def test_explain_suggests_the_nearest_code(code: str, said: str) -> None:
    done = ask("explain", code)
    assert done.exit_code == 2 and said in done.output


# -- writing ----------------------------------------------------------------------------------------------
def test_a_wrong_pattern_writes_nothing(tmp_path: Path) -> None:
    done = ask("write", WRONG, "--to", tmp_path / "build")
    assert done.exit_code == 1 and "Nothing was written" in done.output
    assert not (tmp_path / "build").exists()


def test_a_booklet_is_written(tmp_path: Path) -> None:
    done = ask("write", CLEAN, "--to", tmp_path / "build", "--as", "md")
    assert done.exit_code == 0
    names = {p.suffix for p in (tmp_path / "build").rglob("*") if p.is_file()}
    assert ".md" in names and not [p for p in (tmp_path / "build").rglob(".writing-*")]


def test_a_folder_in_the_way_is_told_and_nothing_is_left(tmp_path: Path) -> None:
    (tmp_path / "build").write_text("a file in the folder's place")
    done = ask("write", CLEAN, "--to", tmp_path / "build", "--as", "md")
    assert done.exit_code == 2 and "cannot-write" in done.output
    assert [p.name for p in tmp_path.iterdir()] == ["build"]


def test_files_are_written_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a.md").write_text("old")
    (tmp_path / "b.md").mkdir()
    with pytest.raises(PatternError):
        write_whole(tmp_path, {"a.md": b"new", "b.md": b"new"})
    assert (tmp_path / "a.md").read_text() == "old"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.md", "b.md"]

    def full(*args: object) -> None:
        raise OSError(28, "No space left on device")

    (tmp_path / "b.md").rmdir()
    monkeypatch.setattr("os.fdopen", full)
    with pytest.raises(PatternError):
        write_whole(tmp_path, {"a.md": b"new", "b.md": b"new"})
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.md"] and (tmp_path / "a.md").read_text() == "old"


def ran(words: list[str], tmp_path: Path, tail: str = "", **environment: str) -> subprocess.CompletedProcess[str]:
    """The command as it is run by a shell, with what stands behind it there."""
    program = "from patternkit.cli import run; run()"
    line = shlex.join([sys.executable, "-c", program, *words])
    known = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[1]), **environment}
    return subprocess.run(
        ["sh", "-c", f"{line} {tail}"], capture_output=True, encoding="utf-8", errors="replace", env=known, check=False
    )


@pytest.mark.skipif(os.name == "nt", reason="links and devices of another system")
def test_an_include_of_a_link_to_itself_and_of_a_pipe(tmp_path: Path) -> None:
    (tmp_path / "loop.pattern").symlink_to("loop.pattern")
    os.mkfifo(tmp_path / "pipe.pattern")
    for name, said in (("loop", "a link that leads to itself"), ("pipe", "not a file")):
        path = tmp_path / "first.pattern"
        path.write_text(f'include "{name}.pattern"\n', encoding="utf-8")
        done = ran(["check", str(path)], tmp_path)
        assert done.returncode == 1 and said in done.stdout and "not-worked-out" not in done.stdout, done


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device that this system does not have")
def test_an_output_that_can_not_be_written(tmp_path: Path) -> None:
    full = ran(["explain", "seams-differ"], tmp_path, "> /dev/full")
    assert full.returncode != 0 and "Traceback" not in full.stderr
    closed = ran(["explain", "seams-differ"], tmp_path, ">&-")
    assert "Traceback" not in closed.stderr


def test_a_terminal_that_does_not_have_all_letters(tmp_path: Path) -> None:
    path = tmp_path / "letters.pattern"
    path.write_text('fabric night "Nacht 夜 →"\n', encoding="utf-8")
    done = ran(["check", str(path)], tmp_path, PYTHONIOENCODING="latin-1")
    assert done.returncode == 0 and "Traceback" not in done.stderr and "never used" in done.stdout


@pytest.mark.skipif(os.name == "nt", reason="modes and links of another system")
def test_a_file_that_is_formatted_keeps_its_mode_and_its_link(tmp_path: Path) -> None:
    real, link = tmp_path / "real.pattern", tmp_path / "link.pattern"
    real.write_text("fabric   night    dark\n", encoding="utf-8")
    real.chmod(0o600)
    link.symlink_to(real.name)
    result = CliRunner().invoke(main, ["format", str(link)])
    assert result.exit_code == 0, result.output
    assert link.is_symlink() and real.read_text(encoding="utf-8") == "fabric night dark\n"
    assert real.stat().st_mode & 0o777 == 0o600


def test_what_a_run_that_was_killed_left_is_removed(tmp_path: Path) -> None:
    """Leftovers of an hour ago go with the next run; those of a run that may still be writing stay."""
    old, new = tmp_path / ".writing-old", tmp_path / ".writing-new"
    for left in (old, new):
        left.write_bytes(b"half a booklet")
    os.utime(old, (0, 0))
    done = write_whole(tmp_path, {"a.md": b"words", "a-drawings/b.svg": b"lines"})
    assert not old.exists() and new.exists()
    assert [p.name for p in done] == ["b.svg", "a.md"], "what is shown lies there before what shows it"
