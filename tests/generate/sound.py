"""Sound patterns: where the numbers of a seed happen to give a problem, others are tried."""

from __future__ import annotations

from functools import lru_cache

from patternkit.checks import run
from patternkit.problems import Problem
from patternkit.project import Project

from .whole import write

TRIES = 8


def problems(text: str) -> list[Problem]:
    """What keeps a pattern from being written; advice does not."""
    return [p for p in run(Project("made.pattern", text), guarded=False) if not p.advice]


@lru_cache(maxsize=512)
def tried(seed: int, features: frozenset[str] | None = None) -> tuple[str, int]:
    """The pattern of a seed that is sound, and how many attempts before it were not. Raises LookupError when none of
    so many is."""
    told: list[str] = []
    for attempt in range(TRIES):
        text = write(seed, attempt, features)
        found = problems(text)
        if not found:
            return text, attempt
        told += [p.message for p in found[:1]]
    raise LookupError(f"no numbers make the pattern of seed {seed} sound: {told}")


def pattern(seed: int, features: frozenset[str] | None = None) -> str:
    """The text of a sound pattern, always the same for a seed."""
    return tried(seed, features)[0]
