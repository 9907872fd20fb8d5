"""What several rules need to word their messages."""

from __future__ import annotations


def sentence(text: str) -> str:
    """A clause as a sentence of its own."""
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "!", "?")) else f"{text}."


def times(number: int) -> str:
    """How often, in words: ``once``, ``twice``, ``5 times``, ``nowhere``."""
    return {0: "nowhere", 1: "once", 2: "twice"}.get(number, f"{number} times")


def listed(names: list[str], most: int = 6) -> str:
    """``a, b and c``; a long list is cut short with how many more there are."""
    if len(names) > most:
        names = [*names[: most - 1], f"{len(names) - most + 1} more"]
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
