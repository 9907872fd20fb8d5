"""The small change of English sentences: ``a, b and c``; A to Z and on; a clause as a sentence; how often."""

from __future__ import annotations

from collections.abc import Sequence


def listed(items: Sequence[str], most: int = 0, *, last: str = "and") -> str:
    """``a, b and c``, with `last` before the last of them; a list longer than `most` (0: any) is cut short with how
    many more there are."""
    if most and len(items) > most:
        items = [*items[: most - 1], f"{len(items) - most + 1} more"]
    return f" {last} ".join([", ".join(items[:-1]), items[-1]]) if len(items) > 1 else "".join(items)


def letters(index: int) -> str:
    """The letters of a thing at an index from 0: A to Z, then AA, AB and so on."""
    return (letters(index // 26 - 1) if index >= 26 else "") + chr(ord("A") + index % 26)


def sentence(text: str) -> str:
    """A clause as a sentence of its own."""
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "!", "?")) else f"{text}."


def times(number: int) -> str:
    """How often, in words: ``once``, ``twice``, ``5 times``, ``nowhere``."""
    return {0: "nowhere", 1: "once", 2: "twice"}.get(number, f"{number} times")
