"""The nearest of the words that would be valid: for "did you mean"."""

from __future__ import annotations

from collections.abc import Iterable

LONGEST = 60
"""Words longer than this are not compared: nobody mistypes them, and comparing them takes time."""


def distance(a: str, b: str, limit: int = LONGEST) -> int:
    """Letters to add, drop, change or swap with a neighbour to get from `a` to `b` (the restricted Damerau-Levenshtein
    distance); anything over `limit` is given as `limit` + 1."""
    if abs(len(a) - len(b)) > limit:
        return limit + 1
    before: list[int] = []
    last = list(range(len(b) + 1))
    for i, x in enumerate(a, 1):
        row = [i]
        for j, y in enumerate(b, 1):
            best = min(last[j] + 1, row[-1] + 1, last[j - 1] + (x != y))
            if i > 1 and j > 1 and x == b[j - 2] and a[i - 2] == y:
                best = min(best, before[j - 2] + 1)
            row.append(best)
        if min(row) > limit:
            return limit + 1
        before, last = last, row
    return min(last[-1], limit + 1)


def nearest(word: str, words: Iterable[str]) -> str | None:
    """The word among `words` that was most likely meant, or None when none is near: at most a third of its letters
    wrong (one, for a short word). Of several equally near, one with the same first letter, then the alphabet's
    first."""
    if not 2 <= len(word) <= LONGEST:
        return None
    small, limit = word.lower(), max(1, len(word) // 3)
    best: tuple[int, bool, str] | None = None
    for other in words:
        slips = distance(small, other.lower(), limit)
        if slips <= limit:
            key = (slips, other[:1].lower() != small[0], other)
            if best is None or key < best:
                best = key
    return best[2] if best else None
