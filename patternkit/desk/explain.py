"""The page of a problem code, from the grammar folder; and the pages that speak of something."""

from __future__ import annotations

import re
from pathlib import Path


def pages() -> Path:
    """The folder of problem pages: in the installed package, else in the checkout."""
    inside = Path(__file__).resolve().parent.parent / "_grammar" / "problems"
    return inside if inside.is_dir() else Path(__file__).resolve().parents[2] / "grammar" / "problems"


def page(code: str) -> str | None:
    """The text of a page, or None when there is no such code."""
    path = pages() / f"{code}.md"
    if not code or "/" in code or "\\" in code or code.startswith(".") or not path.is_file():
        return None
    return path.read_text(encoding="utf-8")


def codes() -> list[str]:
    """All codes that have a page."""
    return sorted(p.stem for p in pages().glob("*.md"))


def title(code: str) -> str:
    """The first line of a page, without its mark."""
    return (page(code) or "").split("\n", 1)[0].removeprefix("# ")


def speaking_of(words: str) -> list[str]:
    """The codes of the pages that have all of these words, or words that begin so, those with them in their first line
    first. What stands in the examples is not looked at."""
    wanted = [re.compile(rf"\b{re.escape(word)}", re.IGNORECASE) for word in re.findall(r"[\w'-]+", words)]
    found = []
    for code in codes():
        text = re.sub(r"```.*?```", "", page(code) or "", flags=re.S) + "\n" + code.replace("-", " ")
        first = text.split("\n", 1)[0]
        if wanted and all(word.search(text) for word in wanted):
            found.append((not all(word.search(first) for word in wanted), code))
    return [code for _, code in sorted(found)]
