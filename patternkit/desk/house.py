"""A house's own phrases: a folder with a file for each language, holding the keys it changes."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from patternkit.problems import PatternError, Problem

LARGEST = 256 * 1024  # bytes


def house_phrases(folder: Path | None, language: str) -> Mapping[str, Any] | None:
    """The phrases of a house for one language; None without a folder. Raises PatternError when they can't be read."""
    if folder is None:
        return None
    language = language or "en"
    path = folder / f"{language}.toml"
    if not folder.is_dir():
        raise PatternError([Problem("cannot-read", f"{folder} is not a folder of phrases.")])
    if not path.is_file():
        there = sorted(p.name for p in folder.glob("*.toml"))
        raise PatternError(
            [
                Problem(
                    "cannot-read",
                    f"{folder} has no {path.name}, the phrases for the booklet's language.",
                    causes=(f"It has {', '.join(there)}." if there else "It has no phrases at all.",),
                )
            ]
        )
    try:
        if path.stat().st_size > LARGEST:
            raise PatternError([Problem("too-large", f"{path} is far larger than any list of phrases.")])
        return tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except OSError as error:
        raise PatternError([Problem("cannot-read", f"{path} can't be read: {error.strerror}.")]) from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, RecursionError) as error:
        raise PatternError([Problem("bad-phrase", f"{path} is not a list of phrases: {error}.")]) from error
