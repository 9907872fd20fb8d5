"""Loads the grammar: from the installed package's ``_grammar`` folder, else from the checkout's ``grammar``.

The parser's tables are kept in the user's cache folder, under a name made from the grammar's text and the versions of
what made them. Where nothing can be written there, they are made anew each time.
"""

from __future__ import annotations

import hashlib
import os
import sys
from functools import lru_cache
from pathlib import Path
from typing import Any

import lark
from lark import Lark, UnexpectedToken

from patternkit.syntax.build import Builder
from patternkit.syntax.lexer import LineLexer, LineText, keywords_of
from patternkit.syntax.words import PLACES

STARTS = tuple(
    sorted(
        {rule for place in PLACES.values() for rule in place.values()} - {"prose"}
        | {"option", "line", "seam_line", "size_row", "swap", "counted"}
    )
)
"""The grammar's start rules: one for each sort of line."""

_HERE = Path(__file__).resolve().parent.parent


def grammar_folder() -> Path:
    """The folder of the grammar, the reference and the problem pages; raises FileNotFoundError when there is none."""
    for folder in (_HERE / "_grammar", _HERE.parent / "grammar"):
        if (folder / "patternkit.lark").is_file():
            return folder
    raise FileNotFoundError("patternkit is not installed whole: its grammar folder is missing")


def cache_folder() -> Path:
    """The user's cache folder for this program, by the custom of the system it runs on. It need not exist."""
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA") or os.path.expanduser("~\\AppData\\Local")
    elif sys.platform == "darwin":
        base = os.path.expanduser("~/Library/Caches")
    else:
        base = os.environ.get("XDG_CACHE_HOME") or os.path.expanduser("~/.cache")
    return Path(base) / "patternkit"


def cache_file(text: str) -> str | None:
    """Where the tables made from a grammar's text are kept; None when the folder cannot be made."""
    key = hashlib.sha256("\0".join((text, lark.__version__, sys.version, *STARTS)).encode()).hexdigest()[:20]
    try:
        folder = cache_folder()
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, RuntimeError):
        return None
    return str(folder / f"tables-{key}")


class LineParser:
    """lark with the project's lexer and builder."""

    def __init__(self) -> None:
        text = (grammar_folder() / "patternkit.lark").read_text(encoding="utf-8")
        self.builder = Builder()
        options: dict[str, Any] = {
            "parser": "lalr",
            "lexer": LineLexer,
            "start": list(STARTS),
            "transformer": self.builder,
            "maybe_placeholders": False,
        }
        self.lark = Lark(text, cache=cache_file(text) or False, **options)
        self.keywords = keywords_of(self.lark.lexer_conf.terminals)

    def parse(self, rule: str, line: LineText) -> Any:
        """The statement that a line says by a start rule; raises lark's UnexpectedToken, or Trouble."""
        self.builder.here = line
        return self.lark.parse(line, start=rule)


@lru_cache(maxsize=1)
def line_parser() -> LineParser:
    """The one parser, made when first wanted."""
    return LineParser()


__all__ = [
    "STARTS",
    "LineParser",
    "UnexpectedToken",
    "cache_file",
    "cache_folder",
    "grammar_folder",
    "line_parser",
]
