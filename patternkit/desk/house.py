"""A house's own phrases: a folder with a file for each language, holding the keys it changes."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any, Mapping

from patternkit.problems import PatternError, Problem


def house_phrases(folder: Path | None, language: str) -> Mapping[str, Any] | None:
    """The phrases of a house for one language; None without a folder. Raises PatternError when they can't be read."""
    if folder is None:
        return None
    path = folder / f"{language or 'en'}.toml"
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise PatternError([Problem("cannot-read", f"{path} can't be read: {error.strerror}.")]) from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise PatternError([Problem("bad-phrase", f"{path} is not a list of phrases: {error}.")]) from error
