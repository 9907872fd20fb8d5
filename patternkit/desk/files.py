"""Files in and out: reading a pattern with what it includes, and writing a folder whole or not at all."""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Mapping
from pathlib import Path

from patternkit.lengths import Number
from patternkit.problems import PatternError, Problem
from patternkit.project import Project
from patternkit.source import Span

LARGEST = 4 * 1024 * 1024  # bytes; the syntax room has a lower limit of its own with a better message

GIVEN = Path("-")
"""What stands for standard input on the command line."""

GIVEN_NAME = "standard-input.pattern"
"""What a pattern from standard input is called in messages, and its booklet after it."""


def open_project(
    path: Path, *, size: str = "", colourway: str = "", overrides: Mapping[str, Number] | None = None
) -> Project:
    """Read a pattern file. Raises PatternError when it can't be read as text."""
    name = GIVEN_NAME if path == GIVEN else str(path)
    return Project(name, read_text(path), size=size, colourway=colourway, overrides=overrides, reader=_reader)


def read_text(path: Path) -> str:
    """A file's text, `-` that of standard input: UTF-8, with or without a byte order mark; UTF-16 when it is marked as
    such."""
    span = Span(GIVEN_NAME if path == GIVEN else str(path), 0, 0)
    if path == GIVEN:
        return _decoded(_standard_input(span), "Standard input", span)
    try:
        if path.exists() and not (path.is_file() or path.is_dir()):
            # a pipe or a device may never end
            raise PatternError([Problem("cannot-read", f"{path} can't be read: it is not a file.", span)])
        if path.is_file() and path.stat().st_size > LARGEST:
            raise PatternError([Problem("too-large", f"{path} is far larger than any pattern.", span)])
        data = path.read_bytes()
    except OSError as error:
        reason = error.strerror or "it can't be opened"
        raise PatternError([Problem("cannot-read", f"{path} can't be read: {reason}.", span)]) from error
    return _decoded(data, str(path), span)


def _standard_input(span: Span) -> bytes:
    """All that comes in, which is read once."""
    if sys.stdin is None:
        raise PatternError([Problem("cannot-read", "There is no standard input to read.", span)])
    data = sys.stdin.buffer.read(LARGEST + 1)
    if len(data) > LARGEST:
        raise PatternError([Problem("too-large", "Standard input is far larger than any pattern.", span)])
    return data


def _decoded(data: bytes, called: str, span: Span) -> str:
    try:
        if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
            return data.decode("utf-16")
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise PatternError(
            [
                Problem(
                    "cannot-read",
                    f"{called} is not plain text in UTF-8.",
                    span,
                    causes=("Save it from the word processor as plain text with the encoding UTF-8.",),
                )
            ]
        ) from error


def _reader(including: str, path: str) -> tuple[str, str]:
    """Read an included file, named from the folder of the file that includes it and not outside that folder's tree."""
    base = Path(including).resolve().parent
    try:
        wanted = (base / path).resolve()
    except RuntimeError:  # so Python calls a link that leads to itself
        raise OSError(0, "it is a link that leads to itself") from None
    if not wanted.is_relative_to(base):
        raise ValueError("it lies outside the pattern's folder")
    if not wanted.suffix and not wanted.exists():
        wanted = wanted.with_suffix(".pattern")
    name = os.path.relpath(wanted, Path.cwd()) if not Path(including).is_absolute() else str(wanted)
    try:
        return name, read_text(wanted)
    except PatternError as error:
        reason = error.problems[0].message.rstrip(".").removeprefix(f"{wanted} ").removeprefix("can't be read: ")
        raise OSError(0, reason[:1].lower() + reason[1:]) from error


STAGED = ".writing-"
LEFT_BEHIND = 3600  # seconds after which nobody writes such a file any more


def _forget_leftovers(folder: Path) -> None:
    """Remove what a run that was killed has left beside the place of its files."""
    for left in folder.glob(f"{STAGED}*"):
        if left.is_file() and time.time() - left.stat().st_mtime > LEFT_BEHIND:
            left.unlink(missing_ok=True)


def write_whole(folder: Path, files: Mapping[str, bytes]) -> list[Path]:
    """Write files under a folder, all or none: each is written beside its place first, and moved in at the end, what
    lies in folders before what shows it. A file that is there keeps its mode, and a link its place.

    Raises PatternError when that can't be done; nothing is changed then.
    """
    staged: list[tuple[str, Path]] = []
    done: list[Path] = []
    try:
        for name, data in sorted(files.items(), key=lambda f: "/" not in f[0]):
            target = folder / name
            target.parent.mkdir(parents=True, exist_ok=True)
            if target.is_symlink():
                target = target.resolve()
            if target.is_dir():
                raise IsADirectoryError(21, "a folder of that name is in the way", str(target))
            handle, temporary = tempfile.mkstemp(prefix=STAGED, dir=target.parent)
            staged.append((temporary, target))
            with os.fdopen(handle, "wb") as out:
                out.write(data)
            os.chmod(temporary, target.stat().st_mode & 0o777 if target.exists() else 0o644)
        for parent in dict.fromkeys(target.parent for _, target in staged):
            _forget_leftovers(parent)
        for temporary, target in staged:
            os.replace(temporary, target)
            done.append(target)
    except OSError as error:
        reason = error.strerror or "it can't be written"
        raise PatternError(
            [
                Problem(
                    "cannot-write",
                    f"{folder} can't be written: {reason}. Nothing was changed."
                    if not done
                    else f"{folder} was written in part: {reason}.",
                )
            ]
        ) from error
    finally:
        for temporary, target in staged:
            if target not in done:
                Path(temporary).unlink(missing_ok=True)
    return done
