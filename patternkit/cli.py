"""The command line. Exit codes: 0 clean, 1 problems in a pattern, 2 wrong usage or a file that can't be read, 3 what
would be told to a maker does not hold, which is a fault of the program."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from patternkit.problems import PatternError, Problem

if TYPE_CHECKING:
    from patternkit.lengths import Length
    from patternkit.project import Project

CLEAN, PROBLEMS, USAGE, DEFECT = 0, 1, 2, 3

FILES = click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE...")
FILE = click.argument("path", type=click.Path(path_type=Path), metavar="FILE")
SIZE = click.option("--size", default="", help="A row of the sizes table.")
COLOURWAY = click.option("--colourway", default="", help="A colourway of the pattern.")
SET = click.option(
    "--set", "values", multiple=True, metavar="NAME=VALUE", help="Set a name given by let, or across or down."
)
FORMAT = click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to report.")
COLOUR = click.option(
    "--color",
    "--colour",
    "colour",
    type=click.Choice(["auto", "always", "never"]),
    default="auto",
    help="Colour on a terminal.",
)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="patternkit", message="%(version)s")
def main() -> None:
    """Check patchwork patterns, and write their booklets."""


def paints(wish: str) -> bool:
    """Whether to use colour: the option, then NO_COLOR, then FORCE_COLOR, then a terminal that can."""
    if wish != "auto":
        return wish == "always"
    if os.environ.get("NO_COLOR"):
        return False
    if os.environ.get("FORCE_COLOR"):
        return True
    return sys.stdout.isatty() and os.environ.get("TERM", "") != "dumb"


def settings(values: tuple[str, ...]) -> dict[str, Length]:
    """``--set side=8 1/2`` as exact values; a usage error for anything else."""
    from patternkit.desk.values import read_value

    found = {}
    for item in values:
        name, mark, text = item.partition("=")
        value = read_value(text)
        if not mark or not name.strip() or value is None:
            raise click.UsageError(
                f"--set takes a name and a number, such as side=8 or side=8 1/2; {item!r} is not one."
            )
        found[name.strip()] = value
    return found


def opened(path: Path, size: str = "", colourway: str = "", values: tuple[str, ...] = ()) -> Project:
    """A project from the command line's wishes."""
    from patternkit.desk.files import open_project

    return open_project(path, size=size, colourway=colourway, overrides=settings(values))


def report(problems: Sequence[Problem], sources: Any, form: str, colour: str) -> None:
    """Print problems, on standard output."""
    if form == "text" and not problems:
        return
    from patternkit.desk import report as reports

    if form == "json":
        click.echo(reports.as_json(problems, sources).decode())
    else:
        click.echo(reports.text(problems, sources, paints(colour)), color=paints(colour))


def code_for(problems: Sequence[Problem]) -> int:
    """The exit code for what was found."""
    if not problems:
        return CLEAN
    from patternkit.desk.asked import wrong_usage

    if any(wrong_usage(p) for p in problems):
        return USAGE
    return PROBLEMS if any(not p.advice for p in problems) else CLEAN


def failed(error: PatternError, form: str = "text", colour: str = "auto") -> int:
    """Print what went wrong: where a pattern is at fault as `check` does, otherwise on standard error. Gives the exit
    code for it."""
    from patternkit.desk import report as reports

    if error.sources:
        report(error.problems, error.sources, form, colour)
    else:
        click.echo(reports.text(error.problems, {}), err=True)
    return DEFECT if any(p.code == "does-not-hold" for p in error.problems) else code_for(error.problems)


@main.command()
@FILES
@SIZE
@COLOURWAY
@SET
@FORMAT
@COLOUR
def check(paths: tuple[Path, ...], size: str, colourway: str, values: tuple[str, ...], form: str, colour: str) -> None:
    """Check patterns: every size, count, cut, amount and press that the file states or implies."""
    from patternkit import api

    found: list[Problem] = []
    sources: dict[str, Any] = {}
    unread = False
    for path in paths:
        try:
            project = opened(path, size, colourway, values)
            found += api.check(project)
            sources |= project.sources
        except PatternError as error:
            found += error.problems
            unread = True
    report(found, sources, form, colour)
    sys.exit(USAGE if unread else code_for(found))


@main.command()
@FILE
@click.option("--to", "folder", default="build", type=click.Path(path_type=Path), help="The folder to write into.")
@click.option(
    "--as", "formats", multiple=True, type=click.Choice(["md", "html", "pdf"]), help="What to write (repeat)."
)
@click.option("--paper", type=click.Choice(["letter", "a4"]), default="letter", help="Paper of the PDF.")
@click.option("--language", default="", type=click.Choice(["", "en", "de"]), help="Language of the booklet.")
@click.option("--units", default="", type=click.Choice(["", "inches", "cm", "mm"]), help="Units to print.")
@click.option("--house", type=click.Path(path_type=Path), help="A folder with the house's own phrases.")
@click.option(
    "--part",
    default="",
    metavar="PART",
    help="One release only, by its number, date or title; or all: each release, and the whole.",
)
@click.option(
    "--only",
    multiple=True,
    metavar="SECTION",
    help="One section only, such as cutting or templates (repeat).",
)
@click.option("--proof", is_flag=True, help="A proof sheet instead: every number and how it was reached.")
@click.option("--unrehearsed", is_flag=True, help="Write what does not come out too, with a warning at its head.")
@SIZE
@COLOURWAY
@SET
@COLOUR
def write(
    path: Path,
    folder: Path,
    formats: tuple[str, ...],
    paper: str,
    language: str,
    units: str,
    house: Path | None,
    part: str,
    only: tuple[str, ...],
    proof: bool,
    unrehearsed: bool,
    size: str,
    colourway: str,
    values: tuple[str, ...],
    colour: str,
) -> None:
    """Write the booklet of a pattern: instructions, cutting tables, drawings. What it tells is sewn before, and where
    something does not come out, nothing is written (exit code 3)."""
    from patternkit import api
    from patternkit.desk.house import house_phrases

    try:
        project = opened(path, size, colourway, values)
        wishes: dict[str, Any] = {
            "language": language,
            "units": units,
            "part": part,
            "proof": proof,
            "unrehearsed": unrehearsed,
            "house": house_phrases(house, language or project.pattern.settings.language),
        }
        for done in api.write(project, folder, formats=formats or ("md", "html"), paper=paper, only=only, **wishes):
            if done.suffix != ".svg":
                click.echo(str(done))
    except PatternError as error:
        code = failed(error, colour=colour)
        if error.sources:
            click.echo("Nothing was written: the pattern has problems.", err=True)
        elif code == DEFECT:
            click.echo("Nothing was written. --unrehearsed writes it all the same, with a warning.", err=True)
        sys.exit(code)


@main.command()
@click.argument("words", nargs=-1, metavar="[CODE | WORDS...]")
def explain(words: tuple[str, ...]) -> None:
    """Explain a problem by its code, or find those that some words speak of; without any, list the codes."""
    from patternkit.desk.explain import codes, page, speaking_of, title
    from patternkit.syntax.suggest import nearest

    asked = " ".join(words)
    if not words:
        click.echo("\n".join(codes()))
    elif (text := page("-".join(words))) is not None:
        click.echo(text)
    elif found := speaking_of(asked):
        click.echo("\n".join(f"{code}: {title(code)}" for code in found))
    else:
        close = nearest(asked, codes())
        hint = f" Did you mean {close}?" if close else ""
        click.echo(f"There is no problem called {asked}, and no page speaks of it.{hint}", err=True)
        sys.exit(USAGE)


@main.command()
@FILE
@SET
def sizes(path: Path, values: tuple[str, ...]) -> None:
    """Say for which values of its let names a pattern adds up, and for which its cuts land on the ruler."""
    from patternkit.desk.asked import sound
    from patternkit.desk.scaling import size_report, size_text

    try:
        project = sound(opened(path, values=values))
        click.echo(size_text(project, size_report(project)))
    except PatternError as error:
        sys.exit(failed(error))


@main.command()
@FILE
@click.option("--to", "target", default="", metavar="WxH", help="The size to reach, such as 60x80.")
@click.option("--bed", default="", metavar="WxL", help="Or the mattress to cover, such as 60x80, with --drop.")
@click.option("--drop", default="", metavar="D", help="How far the quilt hangs down at both sides and the foot.")
@click.option("--foot", default="", metavar="D", help="How far it hangs down at the foot, if not as at the sides.")
@click.option("--pillow", default="", metavar="L", help="Length added to cover and tuck the pillows.")
@SET
def fit(path: Path, target: str, bed: str, drop: str, foot: str, pillow: str, values: tuple[str, ...]) -> None:
    """Offer counts, block sizes and border widths that bring the quilt to a size, or to a bed."""
    from patternkit.desk.asked import sound
    from patternkit.desk.bed import wanted_size
    from patternkit.desk.scaling import fit_report, fit_text
    from patternkit.units import show_size

    try:
        width, height = wanted_size(target, bed, drop, foot, pillow)
    except ValueError as error:
        raise click.UsageError(str(error)) from None
    try:
        project = sound(opened(path, values=values))
        units = project.pattern.settings.units
        offered = fit_report(project, width * units.inches, height * units.inches)
        if bed:
            click.echo(f"For that bed: {show_size(width * units.inches, height * units.inches, units)}.")
        click.echo(fit_text(project, offered))
    except PatternError as error:
        sys.exit(failed(error))


@main.command()
@FILE
@click.option("--write", "write_marks", is_flag=True, help="Write the marks into the file; nothing else is touched.")
@SIZE
@SET
def press(path: Path, write_marks: bool, size: str, values: tuple[str, ...]) -> None:
    """Plan the pressing, so that as many joints as possible lock; what the file already presses is kept."""
    from patternkit.desk.asked import sound
    from patternkit.desk.files import GIVEN, write_whole
    from patternkit.desk.pressing import marked, press_text

    if write_marks and path == GIVEN:
        raise click.UsageError("--write needs a file to write the marks into.")
    try:
        project = sound(opened(path, size, "", values))
        plan = project.pressing
        if plan is None:
            raise PatternError(
                [Problem("nothing-to-write", f"{path} has no quilt that can be pressed; check it first.")]
            )
        click.echo(press_text(project, plan))
        if write_marks:
            for file, text in marked(project, plan).items():
                write_whole(Path(file).parent, {Path(file).name: text.encode()})
                click.echo(f"Marks written: {file}")
    except PatternError as error:
        sys.exit(failed(error))


@main.command()
@FILE
@click.option(
    "--kits",
    default=0,
    type=click.IntRange(0),
    metavar="N",
    help="Also the bolt for N makers, each cutting the same list.",
)
@click.option("--effort", default=1000, metavar="STEPS", help="How long to look for a better plan, in steps.")
@SIZE
@COLOURWAY
@SET
@FORMAT
def cuts(path: Path, kits: int, effort: int, size: str, colourway: str, values: tuple[str, ...], form: str) -> None:
    """Plan the cutting of every fabric: cuts in order, length to buy, and how far from the best possible."""
    from patternkit.desk.asked import sound
    from patternkit.desk.cutting import cuts_text
    from patternkit.desk.cutting_data import cuts_json

    try:
        project = sound(opened(path, size, colourway, values))
        plan, problems = project.plan(steps=effort)
        if problems:
            raise PatternError(problems, project.sources)
        text = cuts_json(project, plan, kits).decode() if form == "json" else cuts_text(project, plan, kits)
        click.echo(text)
    except PatternError as error:
        sys.exit(failed(error, form))


@main.command()
@FILE
@SIZE
@COLOURWAY
@SET
@FORMAT
def rehearse(path: Path, size: str, colourway: str, values: tuple[str, ...], form: str) -> None:
    """Sew the pattern on paper before anyone does: the making order, what is on the table after each step, and whether
    everything that is told comes out."""
    from patternkit.desk.asked import sound
    from patternkit.desk.rehearsing import rehearsal_json, rehearsal_text, rehearse_project

    try:
        project = sound(opened(path, size, colourway, values))
        done = rehearse_project(project)
        click.echo(rehearsal_json(done, project).decode() if form == "json" else rehearsal_text(done))
        sys.exit(DEFECT if done.result.gaps else CLEAN)
    except PatternError as error:
        sys.exit(failed(error, form))


@main.command(name="format")
@FILES
@click.option("--check", "only_check", is_flag=True, help="Change nothing; exit with 1 when a file would change.")
def format_files(paths: tuple[Path, ...], only_check: bool) -> None:
    """Settle the layout of pattern files: columns, fractions and marks; comments and blank lines stay. What comes from
    standard input (-) goes to standard output."""
    from patternkit.desk.files import GIVEN, read_text, write_whole
    from patternkit.syntax.format import format_text

    code = CLEAN
    for path in paths:
        try:
            old = read_text(path)
            new = format_text(old)
            if path == GIVEN and not only_check:
                click.echo(new, nl=False)
            elif new != old:
                code = PROBLEMS if only_check else code
                click.echo(str(path))
                if not only_check:
                    write_whole(path.parent, {path.name: new.encode()})
        except PatternError as error:
            sys.exit(failed(error))
    sys.exit(code)


def run() -> None:
    """The installed command: `main`, and then out at once. What the system takes back anyway is not taken apart first,
    which is a tenth of a short check's time."""
    code: object = CLEAN
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):  # what a terminal can't show is shown by its number
            stream.reconfigure(errors="backslashreplace")
    try:
        main()
    except SystemExit as stop:
        code = stop.code
    except OSError as error:  # files are told of where they are read: this is the output that can't be written
        code = USAGE
        if sys.stderr is not None:
            sys.stderr.write(f"Error: what was found can't be shown: {error.strerror or error}.\n")
    try:
        for stream in (sys.stdout, sys.stderr):
            if stream is not None:
                stream.flush()
    except OSError:  # nobody reads any more
        code = code or PROBLEMS
    os._exit(code if isinstance(code, int) else CLEAN if code is None else USAGE)


if __name__ == "__main__":
    run()
