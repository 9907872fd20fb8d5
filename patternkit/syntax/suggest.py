"""The nearest of the words that would be valid: for "did you mean"."""

from __future__ import annotations

from typing import Iterable


def distance(a: str, b: str) -> int:
    """Letters to add, drop, change or swap with a neighbour to get from `a` to `b` (restricted Damerau-Levenshtein)."""
    before: list[int] = []
    row = list(range(len(b) + 1))
    for i, x in enumerate(a, 1):
        two_back, before, row = before, row, [i]
        for j, y in enumerate(b, 1):
            best = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (x != y))
            if i > 1 and j > 1 and x == b[j - 2] and a[i - 2] == y:
                best = min(best, two_back[j - 2] + 1)
            row.append(best)
    return row[-1]


def nearest(word: str, words: Iterable[str]) -> str | None:
    """The word among `words` that was most likely meant, or None when none is near (limit: a third of its letters)."""
    limit = max(1, len(word) // 3)
    best: tuple[int, str] | None = None
    for other in words:
        if abs(len(other) - len(word)) <= limit:
            d = distance(word.lower(), other.lower())
            if d <= limit and (best is None or (d, other) < best):
                best = (d, other)
    return best[1] if best else None
