"""Nothing that a writer states is dropped in silence: every statement of every example says something.

Of statements that start alike a few are tried; ``PATTERNKIT_SILENCE=all`` in the environment tries every one, which
takes some minutes.
"""

from __future__ import annotations

import os
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from .silence import Outcome, Statement, silent, statements

EXAMPLES = Path(__file__).parents[2] / "examples"
FILES = sorted(p for folder in (EXAMPLES, EXAMPLES / "traditional") for p in folder.glob("*.pattern"))
ALIKE = 10_000 if os.environ.get("PATTERNKIT_SILENCE") == "all" else 3


def _sort(said: Statement) -> tuple[str, ...]:
    words = said.words.split()
    return said.under, *words[: 2 if words[0] in ("press", "method", "make") else 1]


@cache
def told() -> frozenset[tuple[Path, int]]:
    """The statements that are tried: of those that start alike the first in all examples."""
    met: Counter[tuple[str, ...]] = Counter()
    found = set()
    for path in FILES:
        for said in statements(path.name, path.read_text()):
            met[_sort(said)] += 1
            if met[_sort(said)] <= ALIKE:
                found.add((path, said.first))
    return frozenset(found)


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_every_statement_of_an_example_says_something(path: Path) -> None:
    dropped = silent(path, path.read_text(), lambda said: (path, said.first) in told())
    assert [f"line {s.first + 1}: {s.words}" for s in dropped] == []


def test_a_statement_that_says_nothing_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    text = 'pattern "Pier"\n    by "A. Tern"\nfabric night\nquilt\n    tile\n        night 6 x 6\n    note "Wash it."\n'
    assert silent(Path("a.pattern"), text) == []
    monkeypatch.setattr(Outcome, "_booklet", lambda self, **_: "a booklet that forgets all texts")
    assert [s.words for s in silent(Path("a.pattern"), text)] == ['by "A. Tern"', 'note "Wash it."'], (
        "the title is data"
    )
