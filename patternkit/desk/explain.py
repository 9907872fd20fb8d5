"""The page of a problem code, from the grammar folder."""

from __future__ import annotations

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
